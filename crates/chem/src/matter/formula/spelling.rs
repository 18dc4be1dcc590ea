//! The many ways of writing the same signs, brought to a few: `·` before water, plain digits, `-` and `+`, `^`
//! before a charge.

/// Rewrites a formula with plain signs. A change from a subscript to a full-size digit, which only the eye sees
/// as a gap, becomes a space.
pub(super) fn plain(text: &str) -> Vec<char> {
    let signs: Vec<char> = text.trim().chars().collect();
    let mut plain = Vec::with_capacity(signs.len() + 4);
    let mut before = Height::Line;
    for &sign in &signs {
        let (written, height) = flatten(sign);
        if height == Height::Raised && before != Height::Raised && plain.last() != Some(&'^') {
            plain.push('^');
        }
        if before == Height::Lowered && height == Height::Line && written.is_ascii_digit() {
            plain.push(' ');
        }
        if !(written == ' ' && plain.last() == Some(&' ')) {
            plain.push(written);
        }
        before = height;
    }
    if plain.last() == Some(&' ') {
        plain.pop();
    }
    mark_separators(&mut plain);
    plain
}

#[derive(Clone, Copy, PartialEq)]
enum Height {
    Line,
    Lowered,
    Raised,
}

/// The plain sign and how high it stood.
fn flatten(sign: char) -> (char, Height) {
    const LOWERED: [char; 10] = ['₀', '₁', '₂', '₃', '₄', '₅', '₆', '₇', '₈', '₉'];
    const RAISED: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    let digit = |at: usize| char::from(b'0' + at as u8);
    if let Some(at) = LOWERED.iter().position(|&c| c == sign) {
        return (digit(at), Height::Lowered);
    }
    if let Some(at) = RAISED.iter().position(|&c| c == sign) {
        return (digit(at), Height::Raised);
    }
    match sign {
        '⁺' => ('+', Height::Raised),
        '⁻' => ('-', Height::Raised),
        '−' | '–' | '—' | '‐' | '‑' | '﹣' | '－' => ('-', Height::Line),
        '＋' => ('+', Height::Line),
        '•' | '∙' | '⋅' | '*' | '×' | '・' | '●' | '‧' => ('·', Height::Line),
        '[' | '{' => ('(', Height::Line),
        ']' | '}' => (')', Height::Line),
        '\t' | '\u{a0}' | '\u{2009}' | '\u{202f}' | '\u{2007}' | '\u{200a}' => (' ', Height::Line),
        other => (other, Height::Line),
    }
}

/// Turns two other separators into `·`: an `x` before a number (`MgSO4 x 7 H2O`) and a hyphen before `nH2O`.
fn mark_separators(plain: &mut [char]) {
    for at in 1..plain.len() {
        let rest: String = plain[at + 1..].iter().filter(|c| **c != ' ').collect();
        let numbered = rest.starts_with(|c: char| c.is_ascii_digit() || c == '½');
        let water = rest.trim_start_matches(|c: char| !c.is_ascii_alphabetic()) == "H2O";
        let follows_formula = plain[at - 1].is_ascii_digit() || matches!(plain[at - 1], ' ' | ')');
        if (plain[at] == 'x' && numbered && follows_formula) || (plain[at] == '-' && water) {
            plain[at] = '·';
        }
    }
}
