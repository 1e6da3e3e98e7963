//! What is typed at a field, be it of the page or of a list of sites, as a value of the job file.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use tankwright_quantities::flow;
use tankwright_quantities::job::edit::Edit;
use tankwright_quantities::job::{Field, Kind};

/// Fields by key.
static FIELDS: LazyLock<BTreeMap<&'static str, &'static Field>> =
    LazyLock::new(|| flow::job_tables().into_iter().flatten().map(|f| (f.key, f)).collect());

/// The field that a path of a job file is of: `tank.chambers[1]` is of `tank.chambers`.
#[must_use]
pub fn field_of(path: &str) -> Option<&'static Field> {
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

/// What is typed at a field, as a change of the job file: an empty field takes its value out.
#[must_use]
pub fn edit(path: &str, typed: &str) -> Edit {
    let typed = typed.trim();
    let kind = field_of(path).and_then(|f| f.kind);
    if typed.is_empty() && kind.is_some() && !path.ends_with(']') {
        return Edit::Drop(path.to_owned());
    }
    Edit::set(path, toml(kind, path, typed))
}

/// Does a list stand at such a key?
#[must_use]
pub fn is_list(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Lengths { .. } | Kind::Size { .. } | Kind::Sizes { .. } | Kind::Texts | Kind::Groups(_)
    )
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
        // Spreadsheets write them in capitals.
        Some(Kind::Flag) if ["true", "false"].contains(&&*typed.to_lowercase()) => typed.to_lowercase(),
        _ => quoted(typed),
    }
}

/// A text in quotes; what would end it or move the cursor is written out.
#[must_use]
pub fn quoted(text: &str) -> String {
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
        assert_eq!(edit("ground.keep_dry", "FALSE"), set("ground.keep_dry", "false"));
    }
}
