//! Problems as the user reads them: what is wrong, the user's own line, carets, what to do. No colour.

use std::collections::BTreeMap;
use std::ops::Range;

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use tankwright_quantities::problem::{Place, Problem, Severity};
use tankwright_run::sheets;

/// Texts of the run by the names that places use.
pub(crate) type Texts = BTreeMap<String, String>;

/// Width of messages.
const WIDTH: usize = 100;
/// Characters of a long line that are shown before and after the place.
const AROUND: usize = 60;

/// One problem, with a line end.
#[must_use]
pub(crate) fn problem(problem: &Problem, texts: &Texts) -> String {
    let level = match problem.severity {
        Severity::Error => Level::ERROR,
        Severity::Caution => Level::WARNING.with_name("caution"),
    };
    let title = level.primary_title(clean(&problem.message)).id(problem.code);
    let label = clean(&problem.label);
    let excerpt = problem.place.as_ref().and_then(|place| Excerpt::of(place, texts.get(&place.file)?));
    let place = problem.place.as_ref().map(|place| {
        if let Some(text) = texts.get(&place.file).filter(|_| sheets::is_sheet(&place.file)) {
            return format!("  {}, {}\n", clean(&place.file), sheets::cell_of(place, text));
        }
        let column = excerpt.as_ref().map_or_else(String::new, |it| format!(":{}", it.column));
        format!("  {}:{}{column}\n", clean(&place.file), place.line)
    });
    let line = problem.place.as_ref().map_or(1, |p| p.line);
    let render = |group| Renderer::plain().term_width(WIDTH).render(&[group]);
    let mut text = String::new();
    if let Some(it) = excerpt {
        let mark = AnnotationKind::Primary.span(it.span);
        let mark = if label.is_empty() { mark } else { mark.label(label) };
        let drawn = render(title.element(Snippet::source(it.text).line_start(line).annotation(mark)));
        let mut lines = drawn.lines().map(str::trim_end).filter(|l| has_news(l));
        push(&mut text, lines.next().unwrap_or_default());
        text.push_str(&place.unwrap_or_default());
        lines.for_each(|l| push(&mut text, l));
    } else {
        push(&mut text, render(Group::with_title(title)).trim_end());
        text.push_str(&place.unwrap_or_default());
        if !label.is_empty() {
            push(&mut text, &format!("  {label}"));
        }
    }
    if let Some(hint) = &problem.hint {
        push(&mut text, &format!("hint: {}", clean(hint)));
    }
    text
}

fn push(text: &mut String, line: &str) {
    text.push_str(line);
    text.push('\n');
}

/// Empty gutters, and the arrow before a place that we write ourselves, carry no news.
fn has_news(line: &str) -> bool {
    !["|", "-->", ":::", ""].contains(&line.trim())
}

/// All problems, a blank line between.
#[must_use]
pub(crate) fn problems(problems: &[Problem], texts: &Texts) -> String {
    let all: Vec<_> = problems.iter().map(|p| problem(p, texts)).collect();
    all.join("\n")
}

/// The line of a place, safe to print, with the place's span in it.
struct Excerpt {
    text: String,
    span: Range<usize>,
    column: usize,
}

impl Excerpt {
    /// `None` where the place is not in the text.
    fn of(place: &Place, text: &str) -> Option<Self> {
        let start = place.span.start.min(text.len());
        let start = (0..=start).rev().find(|i| text.is_char_boundary(*i))?;
        let from = text.get(..start)?.rfind('\n').map_or(0, |i| i + 1);
        let line = text.get(from..)?.split('\n').next()?;
        let line = line.strip_suffix('\r').unwrap_or(line);
        if line.trim().is_empty() {
            return None;
        }
        let (start, end) = (start - from, place.span.end.saturating_sub(from));
        let column = line.char_indices().filter(|(i, _)| *i < start).count() + 1;
        // Positions in characters from here on: what is shown differs from the bytes of the file.
        let marked: Vec<bool> =
            line.char_indices().map(|(i, _)| i >= start && i < end.max(start + 1)).collect();
        let first = marked.iter().position(|m| *m).unwrap_or(marked.len());
        let last = marked.iter().rposition(|m| *m).unwrap_or(first);
        let shown_from = first.saturating_sub(AROUND);
        let shown_to = (last + 1).min(first + AROUND).saturating_add(AROUND).min(marked.len());
        let mut out = String::new();
        let mut span = None;
        if shown_from > 0 {
            out.push_str("...");
        }
        for (i, c) in line.chars().enumerate().take(shown_to).skip(shown_from) {
            let at = out.len();
            if c == '\t' {
                out.push(c)
            } else {
                out.push(safe(c))
            }
            if marked.get(i).copied().unwrap_or_default() {
                let (from, _) = span.unwrap_or((at, at));
                span = Some((from, out.len()));
            }
        }
        let (from, to) = span.unwrap_or((out.len(), out.len()));
        if shown_to < marked.len() {
            out.push_str("...");
        }
        Some(Self { text: out, span: from..to, column })
    }
}

/// A text of one line without anything that moves the cursor or turns the writing round.
#[must_use]
pub(crate) fn clean(text: &str) -> String {
    text.chars().map(|c| if c.is_whitespace() { ' ' } else { safe(c) }).collect()
}

/// Control characters as their pictures, others that are not to be seen as a question mark in a box.
fn safe(c: char) -> char {
    match u32::from(c) {
        n @ 0..=0x1f => char::from_u32(0x2400 + n).unwrap_or('\u{fffd}'),
        0x7f => '\u{2421}',
        0x80..=0x9f | 0x200b..=0x200f | 0x2028..=0x202e | 0x2060..=0x206f | 0xfeff => '\u{fffd}',
        _ => c,
    }
}

/// A path as one types it into a shell: within quotes where it needs them.
pub(crate) fn argument(path: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || "/\\._-:".contains(c);
    let path = clean(path);
    if path.chars().all(plain) { path } else { format!("\"{path}\"") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str, span: Range<usize>, label: &str) -> String {
        let line = text.get(..span.start).map_or(0, |t| t.matches('\n').count()) + 1;
        let place = Place { file: "samples/wide.toml".into(), span, line };
        let texts = Texts::from([("samples/wide.toml".to_owned(), text.to_owned())]);
        let it = Problem::error("J021", Some(place), "the manhole is wider than the chamber it opens");
        problem(&it.label(label).hint("1.70 m at most"), &texts)
    }

    #[test]
    fn the_users_line_with_carets_and_a_hint() {
        let text = "[tank.cover]\r\nmanholes = [[\"2.40 m\", \"600 mm\"]]\r\nthickness = 1\r\n";
        let expected = r#"error[J021]: the manhole is wider than the chamber it opens
  samples/wide.toml:2:14
2 | manholes = [["2.40 m", "600 mm"]]
  |              ^^^^^^^^ chamber 1 is 2.00 m long
hint: 1.70 m at most
"#;
        assert_eq!(shown(text, 27..35, "chamber 1 is 2.00 m long"), expected);
    }

    #[test]
    fn places_at_odd_ends() {
        // Empty span, end of the text, several lines, a span outside the text, inside a character.
        let tail = |text, span| shown(text, span, "").lines().skip(1).take(3).collect::<Vec<_>>().join("\n");
        assert_eq!(tail("width = 1", 6..6), "  samples/wide.toml:1:7\n1 | width = 1\n  |       ^");
        assert_eq!(tail("width =", 7..7), "  samples/wide.toml:1:8\n1 | width =\n  |        ^");
        assert_eq!(tail("a = [\n1,\n]", 4..10), "  samples/wide.toml:1:5\n1 | a = [\n  |     ^");
        assert_eq!(tail("a = 1", 90..99), "  samples/wide.toml:1:6\n1 | a = 1\n  |      ^");
        assert_eq!(tail("a = é", 5..6), "  samples/wide.toml:1:5\n1 | a = é\n  |     ^");
        assert_eq!(tail("", 0..0), "  samples/wide.toml:1\nhint: 1.70 m at most");
    }

    #[test]
    fn tabs_controls_and_long_lines_are_safe() {
        let text = "\twidth\u{1b}[31m = \u{202e}1\n";
        let got = shown(text, 1..6, "here\u{7}");
        assert!(got.contains("1 |     width\u{241b}[31m = \u{fffd}1\n  |     ^^^^^ here\u{2407}\n"), "{got}");
        let long = format!("{}x = 1{}", "a".repeat(5_000_000), "é".repeat(5_000_000));
        let got = shown(&long, 5_000_000..5_000_005, "");
        assert!(got.contains("samples/wide.toml:1:5000001\n"), "{got}");
        assert!(got.contains("aax = 1éé"), "{got}");
        assert!(got.lines().all(|l| l.chars().count() <= 140), "{got}");
    }

    #[test]
    fn a_problem_without_a_place_or_text() {
        let it = Problem::error("F001", None, "there is no\nfile `a\tb`").label("x").hint("look");
        assert_eq!(problem(&it, &Texts::new()), "error[F001]: there is no file `a b`\n  x\nhint: look\n");
        let place = Place { file: "a.toml".into(), span: 3..4, line: 7 };
        let mut it = Problem::error("C001", Some(place), "deep");
        it.severity = Severity::Caution;
        assert_eq!(problem(&it, &Texts::new()), "caution[C001]: deep\n  a.toml:7\n");
    }
}
