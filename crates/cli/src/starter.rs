//! A job file to start from, written from the tables of fields: what must be given stands there, the rest as remarks.

use tankwright_quantities::job::{Fallback, Field, Kind, Presence};

/// What the file says; all else is a remark. A test reads it back.
const SAID: &[(&str, &str)] = &[
    ("format", "1"),
    ("job.title", "\"My tank\""),
    ("job.date", "\"2026-11-25\""),
    ("job.currency", "\"UGX\""),
    ("job.rates", "\"demo-ugx\""),
    ("tank.chambers", "[\"1.60 m\", \"0.80 m\"]"),
    ("tank.width", "\"1.20 m\""),
    ("tank.height", "\"1.50 m\""),
];

const HEAD: &str = "\
# A job file for Tankwright. Change the lines that are not remarks, then: tankwright estimate THIS_FILE --out out
# A line that begins with `#` is a remark; take the `#` away from what your tank has. What stands there then is
# what holds when the line is left out, or `...` where you must say it. `tankwright rules --keys` says more.
# Lengths are whole millimetres, or text with a unit: \"2.00 m\", \"150 mm\". A part in remarks is not built.
";

/// A part with its keys, as tables group them.
struct Part {
    key: &'static str,
    help: &'static str,
    built: bool,
    values: Vec<(&'static str, &'static Field, Kind)>,
}

/// Writes it.
#[must_use]
pub(crate) fn starter(tables: &[&'static [Field]]) -> String {
    let mut out = HEAD.to_owned();
    for part in parts(tables) {
        if part.key.is_empty() {
            out.push('\n');
        } else {
            // A part of a list's entry belongs to the entry before it.
            let plain = part.key.replace("[]", "");
            let head = if part.key.ends_with("[]") { format!("[[{plain}]]") } else { format!("[{plain}]") };
            out.push('\n');
            line(&mut out, &format!("{}{head}", if part.built { "" } else { "# " }), part.help);
        }
        for (name, field, kind) in part.values {
            let said = SAID.iter().find(|(key, _)| *key == field.key);
            let text = match said {
                Some((_, value)) => format!("{name} = {value}"),
                None => format!("# {name} = {}", left_out(kind, field.fallback)),
            };
            line(&mut out, &text, &help(field.help, kind));
        }
    }
    out
}

fn line(out: &mut String, text: &str, help: &str) {
    let text = if help.is_empty() { text.to_owned() } else { format!("{text:<38} # {help}") };
    out.push_str(text.trim_end());
    out.push('\n');
}

/// Parts in the order in which they first appear, those without a value left out.
fn parts(tables: &[&'static [Field]]) -> Vec<Part> {
    let mut parts: Vec<Part> = vec![Part { key: "", help: "", built: true, values: Vec::new() }];
    for field in tables.iter().copied().flatten() {
        let (home, name) = field.key.rsplit_once('.').unwrap_or(("", field.key));
        match field.kind {
            None => {
                let at = part_at(&mut parts, field.key);
                if let Some(part) = parts.get_mut(at) {
                    part.help = field.help;
                    part.built &= field.presence == Presence::Always;
                }
            }
            // A table of the user's own keys is a part of its own.
            Some(Kind::Open) => {
                let at = part_at(&mut parts, field.key);
                if let Some(part) = parts.get_mut(at) {
                    part.help = field.help;
                }
            }
            Some(kind) => {
                let at = part_at(&mut parts, home);
                if let Some(part) = parts.get_mut(at) {
                    part.values.push((name, field, kind));
                }
            }
        }
    }
    parts.retain(|p| !p.values.is_empty() || !p.help.is_empty());
    sorted(parts)
}

/// Every part after the one it stands in, else in the order of the tables.
fn sorted(parts: Vec<Part>) -> Vec<Part> {
    let keys: Vec<&str> = parts.iter().map(|p| p.key).collect();
    let place = |key: &'static str| {
        let mut path: Vec<usize> = Vec::new();
        for (end, _) in key.match_indices('.').chain([(key.len(), "")]) {
            let above = key.get(..end).unwrap_or(key);
            // A part that only its own parts speak for stands where the first of them does.
            let at = keys.iter().position(|k| *k == above);
            let first =
                || keys.iter().position(|k| k.strip_prefix(above).is_some_and(|r| r.starts_with('.')));
            path.push(at.or_else(first).unwrap_or(keys.len()));
        }
        path
    };
    let mut parts = parts;
    parts.sort_by_cached_key(|p| place(p.key));
    parts
}

fn part_at(parts: &mut Vec<Part>, key: &'static str) -> usize {
    if let Some(at) = parts.iter().position(|p| p.key == key) {
        return at;
    }
    // What stands in a part that is not built is not built either.
    let above = |p: &Part| !p.built && key.strip_prefix(p.key).is_some_and(|rest| rest.starts_with('.'));
    let built = !parts.iter().any(above);
    parts.push(Part { key, help: "", built, values: Vec::new() });
    parts.len() - 1
}

/// What holds when a key is left out, as one would write it.
fn left_out(kind: Kind, fallback: Fallback) -> String {
    let bare = matches!(kind, Kind::Count { .. } | Kind::Flag);
    match fallback {
        Fallback::Default(text, _) if bare || text.starts_with('[') => text.to_owned(),
        Fallback::Default(text, _) => format!("\"{text}\""),
        Fallback::Required => open(kind).to_owned(),
        Fallback::Nothing => match kind {
            Kind::Flag => "false".to_owned(),
            Kind::Count { least: ..=0, .. } => "0".to_owned(),
            Kind::Length { least: ..=0, .. } => "\"0 mm\"".to_owned(),
            Kind::Sizes { .. } => "[]".to_owned(),
            kind => open(kind).to_owned(),
        },
    }
}

/// What a value looks like, for the user to complete.
fn open(kind: Kind) -> &'static str {
    match kind {
        Kind::Length { .. } | Kind::LengthOr(_) => "\"... mm\"",
        Kind::Lengths { .. } => "[\"... m\"]",
        Kind::Size { .. } => "[\"... mm\", \"... mm\"]",
        Kind::Sizes { .. } => "[[\"... mm\", \"... mm\"]]",
        Kind::Count { .. } => "...",
        Kind::Flag => "true",
        Kind::Mix { parts: 2 } => "\"1:...\"",
        Kind::Mix { .. } => "\"1:...:...\"",
        Kind::Date => "\"2026-...\"",
        Kind::Texts => "[\"...\"]",
        Kind::Groups(_) => "[[\"...\", \"...\"]]",
        Kind::Bars { spaced: true } => "\"Y10@...\"",
        Kind::Bars { spaced: false } => "\"...Y12\"",
        Kind::Open => "{ }",
        Kind::Changes => "{ \"tank.height\" = \"... m\" }",
        Kind::Number { .. } | Kind::Factor { .. } | Kind::Choice(_) | Kind::Text | Kind::Lap => "\"...\"",
    }
}

fn help(help: &str, kind: Kind) -> String {
    match kind {
        Kind::Choice(words) => format!("{help}: {}", words.join(", ")),
        _ => help.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine;

    #[test]
    fn it_reads_back_without_a_word() {
        let text = starter(&engine::tables());
        let (job, problems) = engine::read_job("new.toml", &text, false);
        assert!(problems.is_empty(), "{problems:?}\n{text}");
        assert_eq!(job.text("job.title"), "My tank");
        assert!(!job.has("soak_pit"), "{text}");
    }

    #[test]
    fn every_key_stands_in_it_once() {
        let text = starter(&engine::tables());
        for field in engine::tables().into_iter().flatten() {
            let home = field.key.replace("[]", "");
            let name = home.rsplit_once('.').map_or(&*home, |(_, n)| n);
            let found = text.lines().any(|l| {
                let l = l.trim_start_matches("# ");
                l.starts_with(&format!("{name} = "))
                    || l.starts_with(&format!("[{home}]"))
                    || l.starts_with(&format!("[[{home}]]"))
            });
            assert!(found || field.help.is_empty(), "{} is missing in\n{text}", field.key);
        }
    }

    #[test]
    fn every_remark_without_dots_reads_as_it_stands() {
        let text = starter(&engine::tables());
        let bare: String = text
            .lines()
            .skip(HEAD.lines().count())
            .filter(|l| !l.contains("...") && !l.contains(" = {"))
            .map(|l| format!("{}\n", l.strip_prefix("# ").unwrap_or(l)))
            .collect();
        let (_, problems) = engine::read_job("new.toml", &bare, false);
        // What must be given and was left out with its dots is missed; nothing else is wrong.
        let wrong: Vec<_> = problems.iter().filter(|p| !["J006", "J036", "J037"].contains(&p.code)).collect();
        assert!(wrong.is_empty(), "{wrong:?}\n{bare}");
    }
}
