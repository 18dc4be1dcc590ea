//! What the pictures share: one light ground, one ink, words that are safe in a document. A picture stands alone, without
//! scripts, fonts or images from elsewhere.

use std::fmt::Write as _;

/// Ink of what stands back.
pub(super) const FAINT: &str = "fill=\"#4d5753\"";

/// Begins a picture on its own light ground, so that it reads the same on a dark page.
pub(super) fn open(svg: &mut String, (width, height): (usize, usize), title: &str, description: &str) {
    let _ = write!(
        svg,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {width} {height}\" width=\"{width}\" \
         height=\"{height}\" role=\"img\" font-family=\"system-ui, 'Segoe UI', 'DejaVu Sans', Arial, sans-serif\" \
         font-size=\"14\">\n<title>{}</title>\n<desc>{}</desc>\n\
         <rect width=\"{width}\" height=\"{height}\" rx=\"14\" fill=\"#fdfcf8\" stroke=\"#8a938f\"/>\n",
        escaped(title),
        escaped(description),
    );
}

/// What it shows, and where.
pub(super) fn heading(svg: &mut String, edge: usize, title: &str, placed: &str) {
    text(svg, (edge, edge + 22), "font-size=\"22\" font-weight=\"600\"", title);
    text(svg, (edge, edge + 44), FAINT, placed);
}

/// Lines of at most so many letters, broken between words.
pub(super) fn wrapped(words: &str, most: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in words.split(' ') {
        let at = lines.len() - 1;
        if !lines[at].is_empty() && lines[at].chars().count() + 1 + word.chars().count() > most {
            lines.push(word.to_owned());
        } else {
            let gap = if lines[at].is_empty() { "" } else { " " };
            lines[at] += gap;
            lines[at] += word;
        }
    }
    lines
}

/// Words at a place.
pub(super) fn text(svg: &mut String, (x, y): (usize, usize), style: &str, words: &str) {
    let ink = if style.contains("fill=") { "" } else { " fill=\"#1d2421\"" };
    let style = if style.is_empty() { String::new() } else { format!(" {style}") };
    let _ = writeln!(svg, "<text x=\"{x}\" y=\"{y}\"{style}{ink}>{}</text>", escaped(words));
}

/// Text that is safe between tags and in attributes; what XML does not allow is left out.
pub(super) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            control if control.is_control() => safe.push(' '),
            plain => safe.push(plain),
        }
    }
    safe
}
