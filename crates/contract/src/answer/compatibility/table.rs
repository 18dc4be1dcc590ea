//! The matrix in plain text: names down, numbers across, a sign in each cell.

use super::Told;
use crate::compatibility::CloudOutcome;

/// Salts up to which a blank parts the signs.
const WIDE: usize = 30;
/// Most characters of a name.
const NAME: usize = 38;

/// Draws the matrix; `placed` says where the salts meet.
pub(super) fn draw(told: &Told, placed: &str) -> String {
    let count = told.salts.len();
    let gap = if count <= WIDE { " " } else { "" };
    let width = told.salts.iter().map(|salt| salt.name.chars().count().min(NAME)).max().unwrap_or(0);
    let mut text = format!("What may stand together ({placed})\n\n");
    let head = |digit: &dyn Fn(u32) -> String| {
        let cells: String = told.salts.iter().map(|salt| digit(salt.number) + gap).collect();
        format!("{}{cells}", " ".repeat(width + 5)).trim_end().to_owned() + "\n"
    };
    if count > 9 {
        text += &head(&|n| if n > 9 { (n / 10).to_string() } else { " ".to_owned() });
    }
    text += &head(&|n| (n % 10).to_string());
    let mut pairs = told.pairs.iter();
    for (at, salt) in told.salts.iter().enumerate() {
        let name: String = salt.name.chars().take(NAME).collect();
        let blank = " ".repeat(width - name.chars().count());
        let row: String =
            pairs.by_ref().take(at).map(|pair| format!("{}{gap}", sign(pair.outcome))).collect();
        text += &format!("{:>2} {name}{blank}  {row}{}\n", salt.number, sign(told.alone[at].outcome));
    }
    text += &format!("\n{} all together: {}\n\n", sign(told.together.outcome), told.together.why);
    text += &legend();
    text
}

fn legend() -> String {
    use CloudOutcome as C;
    let line = |outcome, words: &str| format!("{} {words}\n", sign(outcome));
    let signs = [
        line(C::Never, "never a cloud"),
        line(C::InTime, "a cloud in time"),
        line(C::AtOnce, "a cloud at once, within hours at the latest"),
        line(C::NotJudged, "not judged: beyond the model"),
    ];
    signs.concat() + "The last sign of a row is the salt by itself.\n"
}

/// The sign of an outcome.
pub(super) fn sign(outcome: CloudOutcome) -> char {
    match outcome {
        CloudOutcome::Never => '.',
        CloudOutcome::InTime => 't',
        CloudOutcome::AtOnce => 'X',
        CloudOutcome::NotJudged => '?',
    }
}
