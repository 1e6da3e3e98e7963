//! A table of keys of the job file itself, with the values they are to get, kept as they are written.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::codes;
use super::model::Value;
use super::read::Reader;
use super::schema::join;
use super::values::{Flaw, what};

/// No key of a job file is longer.
const LONGEST: usize = 120;

/// Keeps every value under the path of the table and its own: `variation[0].set.tank.height`. A table in the table
/// counts key by key, so that `tank.height`, `"tank.height"` and `tank = { height = ... }` are one and the same.
pub(super) fn changes(reader: &mut Reader<'_>, path: &str, written: &Spanned<DeValue<'_>>) {
    let DeValue::Table(table) = written.get_ref() else {
        let flaw = Flaw::new(codes::NOT_A_PART, "keys and what they become are wanted here");
        let flaw = flaw.label(format!("this is {}", what(written.get_ref())));
        let hint = "write it as { \"tank.height\" = \"2.00 m\" }";
        return reader.flaw(path, &written.span(), flaw.hint(hint));
    };
    let mut paths = Vec::new();
    below(reader, path, "", table, &mut paths);
    let given = reader.given(&written.span());
    reader.keep(path, Value::Group(paths), given);
}

fn below(reader: &mut Reader<'_>, path: &str, above: &str, table: &DeTable<'_>, paths: &mut Vec<String>) {
    let mut keys: Vec<_> = table.iter().collect();
    keys.sort_by_key(|(key, _)| key.span().start);
    for (key, value) in keys {
        let name = join(above, key.get_ref());
        let fit = name.len() <= LONGEST
            && name.split('.').all(|part| !part.is_empty())
            && name.bytes().all(|b| b.is_ascii_alphanumeric() || b"_-.[]".contains(&b));
        if !fit {
            let flaw = Flaw::new(codes::OWN_KEY, "this cannot be a key of a job file");
            let flaw = flaw
                .label("no such key")
                .hint("write it with its part, as \"tank.height\" or \"pipes[0].length\"");
            reader.flaw(path, &key.span(), flaw);
            continue;
        }
        match value.get_ref() {
            DeValue::Table(table) if !table.is_empty() => below(reader, path, &name, table, paths),
            _ => {
                let text = reader.as_written(&value.span()).unwrap_or_default().to_owned();
                let given = reader.given(&value.span());
                let full = join(path, &name);
                if paths.contains(&full) {
                    let flaw = Flaw::new(codes::TWICE, format!("{name} is given twice"));
                    reader.flaw(path, &key.span(), flaw.label("again").hint("leave one of them"));
                    continue;
                }
                reader.keep(&full, Value::Text(text), given);
                paths.push(full);
            }
        }
    }
}
