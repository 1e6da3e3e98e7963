//! Headings that name the tank and another part of the job at once, and so tell neither.

use toml::de::DeTable;

use crate::wording::{spaced, words};

/// Marks that join two names.
const MARKS: [char; 7] = ['&', '+', '/', ',', ';', '-', '\u{2013}'];

/// Words for the parts, and for what stands between them.
#[derive(Clone, Debug, Default)]
pub(crate) struct Parts {
    tank: Vec<String>,
    other: Vec<String>,
    joined: Vec<String>,
    apart: Vec<String>,
}

impl Parts {
    /// From the table `list` of the trade words.
    pub(crate) fn read(list: &DeTable<'_>) -> Self {
        let [tank, other, joined, apart] = ["tank", "other", "joined", "apart"].map(|key| words(list, key));
        Self { tank, other, joined, apart }
    }

    /// A heading without the other parts, where it names the tank beside them.
    pub(crate) fn told(&self, heading: &str) -> String {
        if !self.names_both(heading) {
            return spaced(heading);
        }
        let text = spaced(&heading.replace(MARKS, " "));
        // Longer words first, so that "soak pit" goes as a whole.
        let mut other: Vec<&String> = self.other.iter().collect();
        other.sort_by_key(|w| std::cmp::Reverse(w.len()));
        other.iter().fold(text, |t, w| t.replace(&format!(" {w} "), "  "))
    }

    /// "Tank & soak pit", "soak pit and tank"; not "soak pit for tank", "tank soak pit".
    fn names_both(&self, heading: &str) -> bool {
        let lower = heading.to_lowercase();
        let [tank, other] = [&self.tank, &self.other].map(|words| places(&lower, words));
        tank.iter().any(|t| {
            other.iter().any(|o| {
                let first = t.1 <= o.0;
                let between = if first { lower.get(t.1..o.0) } else { lower.get(o.1..t.0) };
                let Some(between) = between else { return false };
                let words = spaced(between);
                let says = |list: &[String]| list.iter().any(|w| words.contains(&format!(" {w} ")));
                let joined = says(&self.joined) || between.contains(MARKS);
                // "Tank overflow to soak pit" is under the tank as well as under the pit.
                let more = self.tank.iter().fold(words.clone(), |t, w| t.replace(&format!(" {w} "), " "));
                if first { joined || !more.trim().is_empty() } else { joined && !says(&self.apart) }
            })
        })
    }
}

/// Where words stand by themselves: start and end.
fn places(text: &str, words: &[String]) -> Vec<(usize, usize)> {
    let edge = |c: Option<char>| c.is_none_or(|c| !c.is_alphanumeric());
    let mut all = Vec::new();
    for word in words {
        for (at, found) in text.match_indices(word.as_str()) {
            let end = at + found.len();
            let before = text.get(..at).and_then(|t| t.chars().next_back());
            let after = text.get(end..).and_then(|t| t.chars().next());
            if edge(before) && edge(after) {
                all.push((at, end));
            }
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use crate::wording::builtin;

    #[test]
    fn which_headings_name_both() {
        for both in [
            "SEPTIC TANK AND SOAK PIT",
            "Tank & soak pit",
            "Tank/soakaway",
            "Septic tank, soak pit and drains",
            "Soakaway + septic tank",
            "TANK WITH SOAKAWAY",
            "Septic tank - soak pit",
            "Tank, pipes and inspection chambers",
            "Tank overflow to soak pit",
        ] {
            let told = builtin().heading(both);
            assert!(
                !told.contains("soak") && !told.contains("drain") && !told.contains("inspection"),
                "{both}: {told}"
            );
            assert!(told.contains("tank"), "{both}: {told}");
        }
        for one in [
            "SOAK PIT",
            "Soak pit for septic tank",
            "Septic tank soak pit",
            "Soak pit and drains",
            "Soakaway to tank",
        ] {
            assert!(builtin().heading(one).contains("soak"), "{one}");
        }
        // A heading under one of both tells it.
        assert!(builtin().heading("TANK & SOAK PIT\nSoak pit").contains("soak"));
    }
}
