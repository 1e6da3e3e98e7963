//! Lines that are not written as a job file asks: the parser's findings in the user's terms.

use std::collections::BTreeSet;
use std::ops::Range;

use tankwright_geometry::parse_length;
use toml::de::Error;

use super::codes;
use super::lines::Lines;
use super::repair::starts_line;
use crate::problem::Problem;

/// What cannot be trusted because its line is broken: nothing more is said about it.
#[derive(Debug, Default)]
pub(super) struct Doubt {
    pub(super) lines: BTreeSet<usize>,
    /// Keys that stand on such lines.
    pub(super) names: BTreeSet<String>,
}

/// Turns findings into problems, one for a line, and says what they make doubtful.
pub(super) fn problems(
    file: &str,
    lines: &Lines<'_>,
    open: &[Range<usize>],
    mut errors: Vec<Error>,
) -> (Vec<Problem>, Doubt) {
    let (mut found, mut doubt) = (Vec::new(), Doubt::default());
    for span in open {
        if starts_line(lines.text, span.start) {
            let heading = lines.text[span.start..].starts_with('[');
            found.push(explain(
                file,
                lines,
                span.clone(),
                if heading { "unclosed table" } else { "key with no value" },
            ));
            doubt.broken(lines, lines.line(span.start));
            continue;
        }
        found.push(not_closed(file, lines, span));
        for line in lines.line(span.start)..=lines.line(span.end.saturating_sub(1).max(span.start)) {
            doubt.line(lines, line);
        }
    }
    errors.sort_by_key(|e| e.span().map_or((0, 0), |s| (s.start, s.end)));
    for error in &errors {
        let span = error.span().unwrap_or_else(|| dotted(lines));
        let line = lines.line(span.start);
        let twice = error.message() == "duplicate key" || error.message().starts_with("cannot extend");
        if twice {
            if !doubt.lines.contains(&line) {
                found.push(given_twice(file, lines, &span, error.message()));
            }
        } else if !doubt.lines.contains(&line) {
            found.push(explain(file, lines, span, error.message()));
            doubt.broken(lines, line);
        }
    }
    (found, doubt)
}

/// The first line with more points than any key has: the parser does not say where it gave up.
fn dotted(lines: &Lines<'_>) -> Range<usize> {
    let line = (1..=lines.count()).find(|l| lines.words(*l).matches('.').count() > 50);
    line.map_or(0..0, |l| lines.span(l))
}

impl Doubt {
    /// A broken line, and what it spoils.
    fn broken(&mut self, lines: &Lines<'_>, line: usize) {
        let words = lines.words(line).split('#').next().unwrap_or("").trim();
        if words.starts_with('[') || (words.ends_with(']') && !words.contains('=')) {
            self.heading(lines, line);
        } else {
            self.line(lines, line);
        }
    }

    /// What follows a broken heading stands under the wrong part.
    fn heading(&mut self, lines: &Lines<'_>, line: usize) {
        let words = lines.words(line).split('#').next().unwrap_or("");
        let mut names = words.split(|c: char| !c.is_ascii_alphanumeric() && !matches!(c, '_' | '-'));
        self.names.extend(names.rfind(|n| !n.is_empty()).map(str::to_owned));
        self.lines.insert(line);
        for below in (line + 1..=lines.count()).take_while(|l| !lines.words(*l).trim_start().starts_with('['))
        {
            self.line(lines, below);
        }
    }

    fn line(&mut self, lines: &Lines<'_>, line: usize) {
        self.lines.insert(line);
        let words = lines.words(line);
        let before = words.split(['=', ':', '#']).next().unwrap_or("");
        let names = before.split(|c: char| !c.is_ascii_alphanumeric() && !matches!(c, '_' | '-'));
        self.names.extend(names.filter(|n| !n.is_empty()).map(str::to_owned));
    }
}

fn not_closed(file: &str, lines: &Lines<'_>, span: &Range<usize>) -> Problem {
    let (what, closing) = match lines.text.get(span.start..).and_then(|t| t.chars().next()) {
        Some('[') => ("list", "]"),
        Some('{') => ("table in braces", "}"),
        Some('\'') => ("text", "'''"),
        _ => ("text", "\"\"\""),
    };
    Problem::error(
        codes::SYNTAX,
        Some(lines.short(file, span)),
        format!("the {what} that starts here is never closed"),
    )
    .label(format!("its {closing} is missing"))
    .hint(format!("put {closing} where it ends"))
}

fn given_twice(file: &str, lines: &Lines<'_>, span: &Range<usize>, message: &str) -> Problem {
    let name = lines.text.get(span.clone()).unwrap_or("").trim();
    let heading = lines.words(lines.line(span.start)).trim_start().starts_with('[');
    let (what, hint) = match (message == "duplicate key", heading) {
        (true, true) => (
            format!("the part {name} is given twice"),
            "put its keys together under one heading; each entry of a list of parts has a heading in [[ ]]",
        ),
        (true, false) => (format!("{name} is given twice"), "keep one of the two"),
        (false, _) => (
            format!("{name} is already complete and cannot be added to"),
            "write all its keys in one place: in its braces, or under its heading",
        ),
    };
    Problem::error(codes::TWICE, Some(lines.short(file, span)), what).label("given before").hint(hint)
}

/// One finding of the parser, in the user's terms.
fn explain(file: &str, lines: &Lines<'_>, span: Range<usize>, message: &str) -> Problem {
    let row = lines.span(lines.line(span.start));
    let words = lines.text.get(span.clone()).unwrap_or("").trim();
    let rest = lines.text.get(span.start..row.end).unwrap_or("");
    // A caret under nothing tells nothing: the whole line then.
    let line_start = row.start + lines.text[row.clone()].len()
        - lines.text[row.clone()].trim_start_matches('\u{feff}').trim_start().len();
    let code = if message.contains("recurs") { codes::DEEP } else { codes::SYNTAX };
    let is = |start: &str| message.starts_with(start);
    let (what, label, hint, at): (&str, String, String, Range<usize>) = if code == codes::DEEP {
        (
            "parts or lists are nested too deep",
            "deeper than anything a job has".into(),
            "take the extra brackets or points out".into(),
            span,
        )
    } else if is("string values must be quoted") && words.is_empty() {
        (
            "a key without a value",
            "nothing follows the =".into(),
            "write the value, or take the line out".into(),
            line_start..line_start + lines.text[line_start..span.start.max(line_start)].trim_end().len(),
        )
    } else if is("string values must be quoted") {
        let hint = match words.to_lowercase().as_str() {
            "yes" => "write true".to_owned(),
            "no" => "write false".to_owned(),
            _ => format!("write \"{}\"", words.trim_matches(['\u{201c}', '\u{201d}', '\u{201e}', '\'', '"'])),
        };
        let what = if parse_length(words).is_ok() {
            "a length with its unit stands in quotes"
        } else {
            "a text stands in quotes"
        };
        (what, "without straight quotes".into(), hint, span)
    } else if is("invalid basic string")
        || is("invalid literal string")
        || is("missing escaped")
        || is("invalid escape")
    {
        let quote = lines.text[row.clone()].find(['"', '\'']).map_or(line_start, |q| row.start + q);
        if message.contains('`') && rest.is_empty() {
            (
                "the text that starts here is not closed",
                "its closing quote is missing".into(),
                "put the quote where the text ends".into(),
                quote..row.end,
            )
        } else {
            let hint = "write \\\\ for a backslash, and no control characters".to_owned();
            (
                "a character that cannot stand in a text",
                message.to_owned(),
                hint,
                span.start.saturating_sub(1).max(row.start)..span.end.max(span.start),
            )
        }
    } else if is("key with no value") {
        let hint = "write key = value; a remark starts with #".to_owned();
        (
            "this line is neither a key with a value nor a heading",
            "no = with a value here".into(),
            hint,
            line_start..row.end,
        )
    } else if is("unexpected key or value") && rest.starts_with(',') {
        (
            "a number has no comma inside",
            "the comma ends the number".into(),
            "write no commas for thousands; decimals have a point and stand in quotes".into(),
            line_start..row.end,
        )
    } else if is("unexpected key or value") {
        (
            "something follows the value",
            "not part of it".into(),
            "put each key on a line of its own; a remark starts with #".into(),
            span.start..row.end,
        )
    } else if is("unclosed table") && lines.text[line_start..row.end].ends_with(']') {
        let joined = lines.text[line_start..row.end].split_whitespace().collect::<Vec<_>>().join(".");
        (
            "a heading of more than one word",
            "a space ends the name of a part".into(),
            format!("write {joined}: points part the names"),
            line_start..row.end,
        )
    } else if is("unclosed table") || is("unclosed array of tables") {
        (
            "the heading is not closed",
            "] is missing".into(),
            "write [part] or, for an entry of a list, [[part]]".into(),
            line_start..row.end,
        )
    } else if is("missing comma") {
        (
            "a comma is missing between two entries",
            "a comma before this".into(),
            "separate entries with commas".into(),
            span.start..row.end,
        )
    } else if is("invalid boolean") {
        (
            "true and false are written in small letters",
            message.to_owned(),
            "write true or false".into(),
            span,
        )
    } else if is("invalid date") {
        let hint = "check day and month; a date is written \"2026-11-25\"".to_owned();
        return Problem::error(
            codes::NO_SUCH_DAY,
            Some(lines.short(file, &span)),
            "the calendar has no such day",
        )
        .label(format!("\"{words}\" does not exist"))
        .hint(hint);
    } else if is("unexpected leading zero") {
        (
            "a number does not start with 0",
            "a zero too many".into(),
            "take the leading zero away".into(),
            span,
        )
    } else if is("invalid fraction") || is("invalid mantissa") || is("invalid exponent") {
        (
            "a number with a point needs digits on both sides",
            message.to_owned(),
            "write decimals in quotes, as \"0.5\"".into(),
            line_start..row.end,
        )
    } else {
        let at = if span.is_empty() { line_start..row.end } else { span };
        (
            "this is not written as a job file asks",
            message.to_owned(),
            "write key = value, [part] or [[list of parts]]; texts in straight quotes".into(),
            at,
        )
    };
    Problem::error(code, Some(lines.short(file, &at)), what).label(label).hint(hint)
}
