//! Breaking a paragraph into lines.

/// The lines of a paragraph: the first begins with `mark`, the others are indented to where its text begins.
/// A word longer than a line stands alone on one.
pub(super) fn hanging(mark: &str, text: &str, width: usize) -> Vec<String> {
    let indent = " ".repeat(mark.chars().count());
    let mut lines = Vec::new();
    let mut line = mark.to_owned();
    let mut empty = true;
    for word in text.split_whitespace() {
        let gap = usize::from(!empty);
        if !empty && line.chars().count() + gap + word.chars().count() > width {
            lines.push(std::mem::replace(&mut line, indent.clone()));
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    lines.push(line);
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_break_between_words_and_hang_under_the_text() {
        assert_eq!(hanging("- ", "aa bb cc", 7), ["- aa bb", "  cc"]);
        assert_eq!(hanging("- ", "a longer-than-a-line b", 7), ["- a", "  longer-than-a-line", "  b"]);
        assert_eq!(hanging("- ", "", 7), ["- "]);
    }
}
