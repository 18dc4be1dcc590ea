//! Answers for people to read: plain text, at most 100 columns, in the order in which somebody works: waters to pour,
//! salts to weigh, the finished water, what became of the wishes, and everything that was taken for granted.

mod blend;
mod carbonation;
mod compatibility;
mod conversion;
mod figure;
mod figures;
mod impossible;
mod life_path;
mod mixture;
mod pour;
mod precipitation;
mod reconciliation;
mod said;
mod saturation;
mod scale_up;
mod speciation;
mod table;
mod titration;
mod water;
mod weigh;
mod weighing;
mod wishes;
mod wrap;

use serde::de::DeserializeOwned;

/// Columns of a sheet.
const WIDTH: usize = 100;

/// The sheet of an answer of the calculation `name`; an answer without a sheet of its own is laid out as JSON.
///
/// # Errors
/// When the answer is not of the type that the calculation promises.
pub fn of(name: &str, answer: &str) -> Result<String, serde_json::Error> {
    match name {
        "conversion" => written(answer, conversion::write),
        "mixture" => written(answer, mixture::write),
        "speciation" => written(answer, speciation::write),
        "saturation" => written(answer, saturation::write),
        "carbonation" => written(answer, carbonation::write),
        "titration" => written(answer, titration::write),
        "precipitation" => written(answer, precipitation::write),
        "compatibility" => written(answer, compatibility::write),
        "life-path" => written(answer, life_path::write),
        "blend" => written(answer, blend::write),
        "weighing" => written(answer, weighing::write),
        "scale-up" => written(answer, scale_up::write),
        "reconciliation" => written(answer, reconciliation::write),
        _ => {
            let value: serde_json::Value = serde_json::from_str(answer)?;
            Ok(serde_json::to_string_pretty(&value)? + "\n")
        }
    }
}

fn written<T: DeserializeOwned>(
    answer: &str,
    write: fn(&mut Sheet, &T),
) -> Result<String, serde_json::Error> {
    let answer = serde_json::from_str(answer)?;
    let mut sheet = Sheet::default();
    write(&mut sheet, &answer);
    Ok(sheet.text)
}

/// A sheet in the making.
#[derive(Default)]
struct Sheet {
    text: String,
}

impl Sheet {
    /// A line as it stands.
    fn line(&mut self, text: &str) {
        self.text.push_str(text.trim_end());
        self.text.push('\n');
    }

    /// A heading, parted from what stands above.
    fn heading(&mut self, text: &str) {
        if !self.text.is_empty() {
            self.line("");
        }
        self.line(text);
    }

    /// A paragraph, wrapped; its first line begins with `mark`, the others stand under its text.
    fn paragraph(&mut self, mark: &str, text: &str) {
        for line in wrap::hanging(mark, text, WIDTH) {
            self.line(&line);
        }
    }
}
