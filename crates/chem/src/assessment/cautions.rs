//! Cautions that a composition or a handling calls for, from a sourced table. Never medical advice.

use std::sync::LazyLock;

use crate::matter::component::Component;
use crate::sources;
use crate::table::Table;

/// A caution: what to know, and where it comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// Stable snake-case code.
    pub code: String,
    /// The caution in words, amounts in mg/L.
    pub text: String,
    /// Citation of its source.
    pub source: String,
}

/// One row of the table: a component, the amount above which it speaks, and its words.
struct Row {
    code: &'static str,
    component: Component,
    above_mg_per_l: f64,
    text: &'static str,
    source: &'static str,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    Table::read(include_str!("../../data/cautions.tsv"))
        .rows()
        .filter_map(|row| {
            Some(Row {
                code: row.text("code"),
                component: Component::read(row.text("component"))?,
                above_mg_per_l: row.number("above_mg_per_l")?,
                text: row.text("text"),
                source: row.text("source"),
            })
        })
        .collect()
});

/// Cautions on what is dissolved. `mg_per_l` gives the amount of a component that is known to be there, in mg/L.
pub fn for_composition(mg_per_l: impl Fn(Component) -> f64) -> Vec<Caution> {
    let speaks = |row: &&Row| mg_per_l(row.component) > row.above_mg_per_l;
    ROWS.iter()
        .filter(speaks)
        .map(|row| {
            let amount = mg_per_l(row.component);
            let text = row.text.replace("{x}", &whole(amount)).replace("{2x}", &whole(2.0 * amount));
            Caution { code: row.code.to_owned(), text, source: sources::citation(row.source).to_owned() }
        })
        .collect()
}

/// One row of the table of carbonation: a figure, the value above which it speaks, and its words.
struct CarbonationRow {
    code: &'static str,
    of: Figure,
    above: f64,
    text: &'static str,
    source: &'static str,
}

/// What a caution on carbonation hangs on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Figure {
    GaugeBar,
    Co2GramsPerL,
}

static CARBONATION_ROWS: LazyLock<Vec<CarbonationRow>> = LazyLock::new(|| {
    Table::read(include_str!("../../data/cautions_carbonation.tsv"))
        .rows()
        .filter_map(|row| {
            Some(CarbonationRow {
                code: row.text("code"),
                of: match row.text("of") {
                    "gauge_bar" => Figure::GaugeBar,
                    "co2_g_per_l" => Figure::Co2GramsPerL,
                    _ => return None,
                },
                above: row.number("above")?,
                text: row.text("text"),
                source: row.text("source"),
            })
        })
        .collect()
});

/// Cautions on carbon dioxide under pressure: by the highest gauge pressure that its vessel may see, bar, and by what
/// a litre of the water takes up or gives off, g.
pub fn for_carbonation(gauge_bar: f64, co2_g_per_l: f64) -> Vec<Caution> {
    let figure = |row: &CarbonationRow| match row.of {
        Figure::GaugeBar => gauge_bar,
        Figure::Co2GramsPerL => co2_g_per_l,
    };
    CARBONATION_ROWS
        .iter()
        .filter(|row| figure(row) > row.above)
        .map(|row| Caution {
            code: row.code.to_owned(),
            text: row.text.replace("{x}", &whole(figure(row))),
            source: sources::citation(row.source).to_owned(),
        })
        .collect()
}

/// The caution on a vessel that is to hold more than it is rated for, gauge pressures in bar; none where it is not.
pub fn for_rating(gauge_bar: f64, rating_bar: f64) -> Option<Caution> {
    let text = format!(
        "The gauge reads {gauge_bar:.1} bar in a vessel rated for {rating_bar:.1} bar: it may burst. Carbonate less, keep it \
         cooler or take a vessel rated for more; follow its maker, local codes and licensed practice."
    );
    let source = sources::citation("trade_practice").to_owned();
    (gauge_bar > rating_bar).then(|| Caution { code: "pressure_above_rating".to_owned(), text, source })
}

/// Cautions that stand on everything somebody makes to drink.
pub fn standing() -> Vec<Caution> {
    let practice = "common practice, no published source";
    vec![
        Caution {
            code: "food_grade_only".to_owned(),
            text:
                "Use only salts of food grade, from closed packages with a certificate, and drinking water."
                    .to_owned(),
            source: practice.to_owned(),
        },
        Caution {
            code: "local_codes".to_owned(),
            text: "Follow local codes and licensed practice; this is no medical advice.".to_owned(),
            source: practice.to_owned(),
        },
    ]
}

/// An amount for a sentence: whole above ten, else with one decimal.
fn whole(amount: f64) -> String {
    if amount >= 10.0 { format!("{amount:.0}") } else { format!("{amount:.1}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn codes(component: Component, amount: f64) -> Vec<String> {
        let found = for_composition(|c| if c == component { amount } else { 0.0 });
        found.into_iter().map(|caution| caution.code).collect()
    }

    #[test]
    fn sulfate_speaks_above_the_who_figure_and_not_at_it() {
        // WHO Guidelines, 4th edition: authorities to be told above 500 mg/L.
        assert!(!codes(Component::SO4, 500.0).contains(&"laxative_sulfate".to_owned()));
        assert!(codes(Component::SO4, 500.1).contains(&"laxative_sulfate".to_owned()));
    }

    #[test]
    fn two_litres_at_the_magnesium_row_carry_the_upper_level() {
        // EFSA 2018: 250 mg a day of readily dissociable magnesium.
        let row = ROWS.iter().find(|row| row.code == "laxative_magnesium").unwrap();
        assert!((2.0 * row.above_mg_per_l - 250.0).abs() < 1e-9);
    }

    #[test]
    fn every_row_is_read_and_its_source_resolves() {
        let lines = include_str!("../../data/cautions.tsv").lines().filter(|l| !l.starts_with('#')).count();
        assert_eq!(ROWS.len(), lines - 1);
        for row in ROWS.iter() {
            assert!(!sources::citation(row.source).is_empty(), "{}", row.source);
        }
    }

    #[test]
    fn every_row_of_carbonation_is_read_and_its_source_resolves() {
        let text = include_str!("../../data/cautions_carbonation.tsv");
        assert_eq!(CARBONATION_ROWS.len(), text.lines().filter(|l| !l.starts_with('#')).count() - 1);
        for row in CARBONATION_ROWS.iter() {
            assert!(!sources::citation(row.source).is_empty(), "{}", row.source);
        }
    }

    /// Directive 2014/68/EU, Article 1: pressure equipment is what may see more than 0.5 bar.
    #[test]
    fn the_pressure_directive_speaks_above_half_a_bar() {
        let codes = |bar| for_carbonation(bar, 0.0).into_iter().map(|one| one.code).collect::<Vec<_>>();
        assert!(!codes(0.5).contains(&"pressure_equipment".to_owned()));
        assert!(codes(0.51).contains(&"pressure_equipment".to_owned()));
    }

    #[test]
    fn pure_water_calls_for_no_caution() {
        assert!(for_composition(|_| 0.0).is_empty());
        assert!(for_carbonation(0.0, 0.0).is_empty());
    }
}
