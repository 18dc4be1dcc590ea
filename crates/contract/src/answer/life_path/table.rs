//! The stages in plain text: one row each.

use crate::answer::haze::words;
use crate::life_path::LifeStageRead;

/// Most characters of a name.
const NAME: usize = 24;

/// Draws the table; `placed` says of what and where.
pub(super) fn draw(stages: &[LifeStageRead], placed: &str) -> String {
    let name = |stage: &LifeStageRead| stage.name.chars().take(NAME).collect::<String>();
    let width = stages.iter().map(|stage| name(stage).chars().count()).max().unwrap_or(0).max(5);
    let mut text = format!("The life of a water ({placed})\n\n");
    text += &format!(
        "   {:width$}    °C    pH  CO2 vol  gauge bar  {:14}  {}\n",
        "stage", "verdict", "worst solid, index"
    );
    for stage in stages {
        let gauge = stage.gauge_bar.map_or(String::new(), |bar| format!("{bar:.2}"));
        let worst = match (&stage.worst_solid, stage.si) {
            (Some(solid), Some(si)) => format!("{}, {}", words(solid), format!("{si:.2}").replace('-', "−")),
            _ => String::new(),
        };
        text += format!(
            "{:>2} {:width$}  {:>4}  {:>4.2}  {:>7.2}  {gauge:>9}  {:14}  {worst}",
            stage.number,
            name(stage),
            format!("{:.0}", stage.temperature_c),
            stage.ph,
            stage.volumes,
            stage.verdict.word(),
        )
        .trim_end();
        text += "\n";
    }
    text + "\nA stage is judged as if nothing had fallen before it.\n"
}
