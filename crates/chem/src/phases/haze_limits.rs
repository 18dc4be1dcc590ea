//! From which saturation index a solid hazes a drink: limits with their sources, which a caller may set otherwise.

use super::formation::place;
use super::solids::{Solid, find, solids};
use crate::table::{Row, Table};
use std::sync::LazyLock;

/// How haze is judged by one solid. Indices are divided by [`Limit::divide`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Whether the solid forms within the life of a drink; the others only tell the stable end.
    pub forms: bool,
    /// Whether haze is judged by it.
    pub judged: bool,
    /// The saturation index is divided by this before it is compared: solids of many ions.
    pub divide: f64,
    /// Lowest and highest pH at which it is judged.
    pub ph: (f64, f64),
    /// Divided index from which a water stands only for a while.
    pub metastable_from: f64,
    /// Divided index from which a cloud cannot be excluded.
    pub possible_from: f64,
    /// Divided index from which a cloud is there within hours at the latest.
    pub clouds_from: f64,
    /// V checked, C computed, M from memory; empty where the caller set the limits.
    pub confidence: &'static str,
    /// Keys into the table of sources; empty where the caller set the limits.
    pub source: &'static str,
    /// What stands behind it, in words.
    pub note: &'static str,
}

/// How long a supersaturated water stands, where a rate is published: an order of magnitude.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TimeHint {
    /// The time, in words.
    pub time: &'static str,
    /// What it was seen on.
    pub basis: &'static str,
    /// V checked, C computed, M from memory.
    pub confidence: &'static str,
    /// Key into the table of sources.
    pub source: &'static str,
}

/// The limits of every solid, and the least that an eye sees.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    of: Vec<Limit>,
    visible_mg_per_l: f64,
}

impl Default for Limits {
    fn default() -> Limits {
        Limits { of: LIMITS.clone(), visible_mg_per_l: visible_mg_per_l() }
    }
}

impl Limits {
    /// The limits of a solid.
    pub fn of(&self, solid: &'static Solid) -> &Limit {
        &self.of[place(solid)]
    }

    /// The mass of solid below which nothing is seen, mg/L.
    pub fn visible_mg_per_l(&self) -> f64 {
        self.visible_mg_per_l
    }

    /// The same with limits of one's own for a solid that is judged; nothing happens to a solid that is not.
    #[must_use]
    pub fn set(
        mut self,
        solid: &'static Solid,
        metastable_from: f64,
        possible_from: f64,
        clouds_from: f64,
    ) -> Limits {
        let limit = &mut self.of[place(solid)];
        if limit.judged {
            let own =
                Limit { metastable_from, possible_from, clouds_from, confidence: "", source: "", ..*limit };
            *limit = Limit { note: "set in the request", ..own };
        }
        self
    }

    /// The same with a visible mass of one's own, mg/L.
    #[must_use]
    pub fn seen_from(mut self, mg_per_l: f64) -> Limits {
        self.visible_mg_per_l = mg_per_l;
        self
    }
}

/// The tabulated limits of a solid.
///
/// ```
/// use springwright_chem::phases::{haze_limits, solids};
/// let apatite = solids::find("hydroxyapatite").expect("a solid of the table");
/// assert!(!haze_limits::of(apatite).judged);
/// ```
pub fn of(solid: &'static Solid) -> &'static Limit {
    &LIMITS[place(solid)]
}

/// How long a water stands at a divided index of a solid; none below the first limit or where no rate is published.
pub fn time_hint(solid: &'static Solid, divided: f64) -> Option<&'static TimeHint> {
    let at = place(solid);
    TIMES.iter().filter(|(of, from, _)| *of == at && divided >= *from).map(|(_, _, hint)| hint).next_back()
}

/// The mass of solid below which nothing is seen, mg/L.
pub fn visible_mg_per_l() -> f64 {
    *VISIBLE
}

static LIMITS: LazyLock<Vec<Limit>> = LazyLock::new(|| {
    let table = Table::read(include_str!("../../data/haze_limits.tsv"));
    let row = |solid: &Solid| {
        let row = table.rows().find(|row| row.text("solid") == solid.id);
        limit(&row.expect("haze_limits.tsv has a row for every solid"))
    };
    solids().iter().map(row).collect()
});

fn limit(row: &Row<'_>) -> Limit {
    // a solid that is not judged never reaches its limits
    let or_never = |column| row.number(column).unwrap_or(f64::INFINITY);
    Limit {
        forms: row.text("forms") == "yes",
        judged: row.text("judged") == "yes",
        divide: row.number("divide").unwrap_or(1.0),
        ph: (row.number("ph_from").unwrap_or(f64::NEG_INFINITY), or_never("ph_to")),
        metastable_from: or_never("metastable_from"),
        possible_from: or_never("possible_from"),
        clouds_from: or_never("clouds_from"),
        confidence: row.text("confidence"),
        source: row.text("source"),
        note: row.text("note"),
    }
}

/// Place of the solid, divided index from which it holds, hint; rising within a solid.
static TIMES: LazyLock<Vec<(usize, f64, TimeHint)>> = LazyLock::new(|| {
    let table = Table::read(include_str!("../../data/haze_times.tsv"));
    let read = |row: Row<'_>| {
        let solid = find(row.text("solid")).expect("haze_times.tsv names solids of the table");
        let hint = TimeHint {
            time: row.text("time"),
            basis: row.text("basis"),
            confidence: row.text("confidence"),
            source: row.text("source"),
        };
        (place(solid), row.number("from").unwrap_or(0.0), hint)
    };
    table.rows().map(read).collect()
});

static VISIBLE: LazyLock<f64> = LazyLock::new(|| {
    let table = Table::read(include_str!("../../data/haze_seen.tsv"));
    let row = table.rows().find(|row| row.text("quantity") == "visible_mass");
    row.and_then(|row| row.number("value")).expect("haze_seen.tsv tells the visible mass")
});
