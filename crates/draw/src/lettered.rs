//! The texts of a drawing as it was written: what they say, and where they stand.

use crate::letters;
use crate::paper::{Anchor, Text};

/// Every text of a drawing of ours, in its order, in hundredths of a millimetre. Lines that are no texts are passed over.
#[must_use]
pub fn texts(svg: &str) -> Vec<Text> {
    svg.lines().filter_map(text).collect()
}

fn text(line: &str) -> Option<Text> {
    let (head, rest) = line.strip_prefix("<text ")?.split_once('>')?;
    let words = rest.strip_suffix("</text>")?;
    let of = |name: &str| Some(head.split_once(&format!(" {name}=\""))?.1.split_once('"')?.0);
    let size = match head.strip_prefix("class=\"")?.split_once('"')?.0 {
        "h" => letters::HEAD,
        "t" => letters::TITLE,
        _ => letters::NOTE,
    };
    let anchor = match of("text-anchor") {
        Some("middle") => Anchor::Middle,
        Some("end") => Anchor::End,
        _ => Anchor::Start,
    };
    let at = [hundredths(of("x")?)?, hundredths(of("y")?)?];
    let turned = of("transform").is_some();
    Some(Text { at, text: plain(words), size, anchor, turned, clear: false })
}

/// Millimetres with two places at most.
fn hundredths(text: &str) -> Option<i64> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    let digits: String = part.chars().chain("00".chars()).take(2).collect();
    let size = whole.trim_start_matches('-').parse::<i64>().ok()? * 100 + digits.parse::<i64>().ok()?;
    Some(if whole.starts_with('-') { -size } else { size })
}

fn plain(words: &str) -> String {
    [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&amp;", "&")]
        .into_iter()
        .fold(words.to_owned(), |text, (escaped, c)| text.replace(escaped, c))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::Paper;
    use crate::svg::written;

    #[test]
    fn what_is_written_is_read() {
        let text =
            |words: &str, at, anchor, turned| Text { turned, ..Text::note(at, words.to_owned(), anchor) };
        let texts = vec![
            text("1500", [1_000, -205], Anchor::Middle, true),
            text("a<b & \"c\"", [5, 20], Anchor::Start, false),
            Text { size: letters::HEAD, ..text("Job", [12_345, 50], Anchor::End, false) },
        ];
        let paper = Paper { size: [29_700, 21_000], texts: texts.clone(), ..Paper::default() };
        assert_eq!(super::texts(&written(&paper, "t", "a")), texts);
    }
}
