//! Entries of lists as papers count them: `tank.chambers[0]` is chamber 1. Keys stay as they are written in a job file.

/// A message in which every path with a number in it stands behind its name: chamber 1, then `tank.chambers[0]`.
#[must_use]
pub fn named(message: &str) -> String {
    let mut said = String::new();
    let mut rest = message;
    while let Some(at) = rest.find('[') {
        let from = rest[..at]
            .rfind(|c: char| !in_path(c))
            .map_or(0, |i| i + rest[i..].chars().next().map_or(1, char::len_utf8));
        let to =
            rest[at..].find(|c: char| !(in_path(c) || c == '[' || c == ']')).map_or(rest.len(), |i| at + i);
        let path = rest[from..to].trim_end_matches(['.', ':']);
        let to = from + path.len();
        let Some(name) = name(path) else {
            said.push_str(&rest[..=at]);
            rest = &rest[at + 1..];
            continue;
        };
        let quoted = rest[..from].ends_with('`') && rest[to..].starts_with('`');
        said.push_str(if quoted { &rest[..from - 1] } else { &rest[..from] });
        said.push_str(&format!("{name} (`{path}`)"));
        rest = rest.get(to + usize::from(quoted)..).unwrap_or_default();
    }
    said + rest
}

fn in_path(c: char) -> bool {
    c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.' | '/')
}

/// `preliminaries[0].amount` is preliminary 1, amount; nothing where it is no such path.
fn name(path: &str) -> Option<String> {
    // A file may have brackets in its name.
    if path.contains('/') || [".csv", ".xlsx", ".toml"].iter().any(|end| path.ends_with(end)) {
        return None;
    }
    let mut parts: Vec<String> = Vec::new();
    let mut list = "";
    for part in path.split('.') {
        let (key, numbers) = part.split_once('[').map_or((part, ""), |(key, numbers)| (key, numbers));
        if key.is_empty() || !key.starts_with(|c: char| c.is_ascii_lowercase()) {
            return None;
        }
        if numbers.is_empty() {
            if !parts.is_empty() {
                parts.push(key.replace('_', " "));
            }
            list = key;
            continue;
        }
        let mut words = [one(if key == "list" { list } else { key })]
            .into_iter()
            .chain(std::iter::repeat("figure".to_owned()));
        for number in numbers.strip_suffix(']')?.split("][") {
            let number: usize = number.parse().ok()?;
            parts.push(format!("{} {}", words.next()?, number.checked_add(1)?));
        }
    }
    (!parts.is_empty()).then(|| parts.join(", "))
}

/// Lists whose key is no word for one of them.
const ONE_OF: [(&str, &str); 3] =
    [("paid", "payment"), ("provisional", "provisional item"), ("remeasured", "re-measured item")];

/// One of a list: `ring_beams` are one ring beam each.
fn one(list: &str) -> String {
    if let Some((_, one)) = ONE_OF.iter().find(|(key, _)| *key == list) {
        return (*one).to_owned();
    }
    let word = list.replace('_', " ");
    match (word.strip_suffix("ies"), word.strip_suffix('s')) {
        (Some(stem), _) => format!("{stem}y"),
        (None, Some(stem)) => stem.to_owned(),
        (None, None) => word,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_stands_behind_the_name_that_papers_have() {
        for (message, said) in [
            (
                "tank.chambers[0]: at most 100 m is wanted here",
                "chamber 1 (`tank.chambers[0]`): at most 100 m is wanted here",
            ),
            (
                "preliminaries[1].amount: a plain number is wanted",
                "preliminary 2, amount (`preliminaries[1].amount`): a plain number is wanted",
            ),
            ("paid[0] is a payment of nothing", "payment 1 (`paid[0]`) is a payment of nothing"),
            (
                "preliminaries[0] must be priced in one way",
                "preliminary 1 (`preliminaries[0]`) must be priced in one way",
            ),
            (
                "no variation changes `additions.list[0].percent`",
                "no variation changes addition 1, percent (`additions.list[0].percent`)",
            ),
            ("tank.cover.manholes[0][1]: wider", "manhole 1, figure 2 (`tank.cover.manholes[0][1]`): wider"),
            (
                "variation[0].build_up[2] is neither",
                "variation 1, build up 3 (`variation[0].build_up[2]`) is neither",
            ),
            (
                "tank.ring_beams[0].above_floor and tank.boards[1].depth.",
                "ring beam 1, above floor (`tank.ring_beams[0].above_floor`) and board 2, depth (`tank.boards[1].depth`).",
            ),
        ] {
            assert_eq!(named(message), said);
        }
    }

    #[test]
    fn what_is_no_path_stays() {
        for message in [
            "write [[remeasured]] for it",
            "`[tank]` has no height",
            "the list prices[1].csv",
            "sub/prices[1]",
            "rates[x]",
            "a [1] b",
            "caf\u{e9}[",
            "[",
            "tank.width: more",
            "list[] and chambers[99999999999999999999]",
        ] {
            assert_eq!(named(message), message);
        }
        assert_eq!(named("\u{e9}chambers[0]"), "\u{e9}chamber 1 (`chambers[0]`)");
    }
}
