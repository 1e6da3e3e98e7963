//! Between a field of the page and a value of the job file: what stands there, and what is typed.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use tankwright_export::format::{NO_BREAK, input_value};
use tankwright_quantities::flow;
use tankwright_quantities::job::edit::Edit;
use tankwright_quantities::job::spans::Span;
use tankwright_quantities::job::{Fallback, Field, Given, Job, Kind, Value};

/// Fields by key.
static FIELDS: LazyLock<BTreeMap<&'static str, &'static Field>> =
    LazyLock::new(|| flow::job_tables().into_iter().flatten().map(|f| (f.key, f)).collect());

/// The field that a path of a job file is of: `tank.chambers[1]` is of `tank.chambers`.
pub(crate) fn field_of(path: &str) -> Option<&'static Field> {
    let mut key = String::new();
    let mut rest = path;
    while let Some((before, after)) = rest.split_once('[') {
        key.push_str(before);
        key.push_str("[]");
        rest = after.split_once(']')?.1;
    }
    key.push_str(rest);
    let mut key = key.as_str();
    loop {
        if let Some(field) = FIELDS.get(key) {
            return Some(field);
        }
        // An entry of a list, or what is read out of a notation: `cover.short.spacing`.
        key = match key.strip_suffix("[]") {
            Some(list) => list,
            None => key.rsplit_once('.').map(|(above, _)| above).filter(|above| {
                FIELDS.get(above).is_some_and(|f| matches!(f.kind, Some(Kind::Bars { .. })))
            })?,
        };
    }
}

/// What stands at a path: as the user wrote it, without quotes; `None` where nothing is written.
pub(crate) fn written(job: &Job, text: &str, spans: &BTreeMap<String, Span>, path: &str) -> Option<String> {
    if let Some((Value::Text(said), Given::Here(_))) = job.values.get(path)
        && !matches!(field_of(path).and_then(|f| f.kind), Some(Kind::Bars { .. }))
    {
        return Some(said.clone());
    }
    let entry = |i: usize| spans.get(&format!("{path}[{i}]")).filter(|s| s.plain);
    let plain = |s: &Span| bare(text.get(s.value.clone()).unwrap_or_default(), path);
    let span = spans.get(path)?;
    if span.plain {
        return Some(plain(span));
    }
    let entries: Vec<String> = (0..).map_while(entry).map(plain).collect();
    (!entries.is_empty()).then(|| entries.join(", "))
}

/// Without quotes; a whole number of millimetres with its unit.
fn bare(text: &str, path: &str) -> String {
    let inside = text.trim().trim_matches('"').trim_matches('\'');
    let length = matches!(
        field_of(path).and_then(|f| f.kind),
        Some(
            Kind::Length { .. }
                | Kind::Lengths { .. }
                | Kind::Size { .. }
                | Kind::Sizes { .. }
                | Kind::LengthOr(_)
        )
    );
    if length && inside.len() == text.trim().len() && inside.chars().all(|c| c.is_ascii_digit()) {
        return format!("{inside} mm");
    }
    inside.to_owned()
}

/// What holds at a path that is not written: its default, with its source.
pub(crate) fn default(job: &Job, path: &str) -> Option<(String, String)> {
    if let Some((_, input)) = job.input(path)
        && let Given::Default(source) = input.given
    {
        return Some((input_value(input).replace(NO_BREAK, " "), source.to_owned()));
    }
    match field_of(path)?.fallback {
        Fallback::Default(text, source) => Some((text.to_owned(), source.to_owned())),
        _ => None,
    }
}

/// What is typed at a field, as a change of the job file: an empty field takes its value out.
pub(crate) fn edit(path: &str, typed: &str) -> Edit {
    let typed = typed.trim();
    let kind = field_of(path).and_then(|f| f.kind);
    if typed.is_empty() && kind.is_some() && !path.ends_with(']') {
        return Edit::Drop(path.to_owned());
    }
    Edit::set(path, toml(kind, path, typed))
}

/// A value as it stands in a job file.
fn toml(kind: Option<Kind>, path: &str, typed: &str) -> String {
    let digits = !typed.is_empty() && typed.len() < 10 && typed.chars().all(|c| c.is_ascii_digit());
    let zero_first = typed.len() > 1 && typed.starts_with('0');
    let parts = || typed.split([',', ';']).map(str::trim).filter(|p| !p.is_empty());
    let listed = |one: &dyn Fn(&str) -> String| {
        let all: Vec<String> = parts().map(one).collect();
        format!("[{}]", all.join(", "))
    };
    match kind {
        Some(Kind::Lengths { .. } | Kind::Size { .. }) if !path.ends_with(']') => listed(&|p| quoted(p)),
        Some(Kind::Texts) if !path.ends_with(']') => listed(&|p| quoted(p)),
        Some(Kind::Count { .. } | Kind::Length { .. } | Kind::Number { places: 0 })
            if digits && !zero_first =>
        {
            typed.to_owned()
        }
        Some(Kind::Flag) if matches!(typed, "true" | "false") => typed.to_owned(),
        _ => quoted(typed),
    }
}

/// A text in quotes; what would end it or move the cursor is written out.
pub(crate) fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_find_their_field() {
        for (path, key) in [
            ("tank.width", Some("tank.width")),
            ("tank.chambers[1]", Some("tank.chambers")),
            ("tank.cover.manholes[0][1]", Some("tank.cover.manholes")),
            ("tank.ring_beams[2].depth", Some("tank.ring_beams[].depth")),
            ("steel.cover.short.spacing", Some("steel.cover.short")),
            ("tank.nonsense", None),
            ("", None),
            ("[", None),
        ] {
            assert_eq!(field_of(path).map(|f| f.key), key, "{path}");
        }
    }

    #[test]
    fn what_is_typed_is_written_as_its_kind_asks() {
        let set = |path: &str, value: &str| Edit::set(path, value);
        assert_eq!(edit("tank.width", " 1.6 m "), set("tank.width", "\"1.6 m\""));
        assert_eq!(edit("tank.width", "1600"), set("tank.width", "1600"));
        assert_eq!(edit("tank.persons", "14"), set("tank.persons", "14"));
        assert_eq!(edit("tank.persons", "many"), set("tank.persons", "\"many\""));
        assert_eq!(edit("tank.chambers", "2 m; 1 m"), set("tank.chambers", "[\"2 m\", \"1 m\"]"));
        assert_eq!(edit("tank.chambers[0]", "2 m"), set("tank.chambers[0]", "\"2 m\""));
        assert_eq!(edit("job.title", "a \"b\" \\ c\n"), set("job.title", "\"a \\\"b\\\" \\\\ c\""));
        assert_eq!(edit("sizing.rule", ""), Edit::Drop("sizing.rule".to_owned()));
        assert_eq!(edit("ground.keep_dry", "true"), set("ground.keep_dry", "true"));
    }
}
