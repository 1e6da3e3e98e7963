//! Price lists and second take-offs that are dropped on the page.

use serde::{Deserialize, Serialize};
use tankwright_quantities::problem::Problem;
use tankwright_quantities::rates::{ReadList, Reading};
use tankwright_run::{ListText, of_bytes, price_list, sheets};

use crate::desk::Desk;
use crate::problems::{Said, plain};

/// What is said of a file besides its bytes.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Head {
    name: String,
    #[serde(default)]
    currency: String,
    #[serde(default)]
    date: String,
    #[serde(default)]
    source: String,
}

/// A file as it was taken.
#[derive(Debug, Serialize)]
pub(crate) struct Taken {
    name: String,
    taken: bool,
    rows: usize,
    /// Rows that price nothing for want of a code.
    unmatched: Vec<String>,
    problems: Vec<Said>,
    lists: Vec<String>,
}

/// A file's own name, safe to show and to write into a job file.
fn file_name(name: &str) -> String {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let plain: String =
        last.chars().filter(|c| !c.is_control() && !"\"'#<>|*?:".contains(*c)).take(80).collect();
    plain.trim().to_owned()
}

fn wrong(message: String, hint: &str) -> Problem {
    Problem::error("W003", None, message).hint(hint)
}

/// A text as it came.
pub(crate) fn text_of(name: &str, bytes: &[u8]) -> Result<String, Problem> {
    let text = std::str::from_utf8(bytes).map_err(|_| {
        let hint = "save it again with the encoding UTF-8, or as XLSX";
        wrong(format!("`{name}` is not UTF-8 text"), hint)
    })?;
    Ok(text.strip_prefix('\u{feff}').unwrap_or(text).to_owned())
}

impl Desk {
    /// Takes a price list.
    pub(crate) fn take_list(&self, head: &Head, bytes: &[u8]) -> Taken {
        let name = file_name(&head.name);
        let (rows, unmatched, problems) = match self.read_list(&name, head, bytes) {
            Ok(read) => {
                let rows = read.list.rows.len();
                let unmatched = read
                    .how
                    .unmatched
                    .iter()
                    .map(|u| format!("line {}: {} ({})", u.line, u.description, u.why))
                    .collect();
                let cautions = plain(&read.list.cautions);
                self.keep_list(name.clone(), read.list);
                (Some(rows), unmatched, cautions)
            }
            Err(problems) => (None, Vec::new(), plain(&problems)),
        };
        let (taken, rows) = (rows.is_some(), rows.unwrap_or(0));
        Taken { name, taken, rows, unmatched, problems, lists: self.list_names() }
    }

    fn read_list(&self, name: &str, head: &Head, bytes: &[u8]) -> Result<ReadList, Vec<Problem>> {
        let lower = name.to_lowercase();
        let list = if sheets::parts(&lower).is_some() {
            of_bytes(name, bytes, None).map_err(|p| vec![p])?
        } else if lower.ends_with(".csv") {
            let text = text_of(name, bytes).map_err(|p| vec![p])?;
            ListText { shown: name.to_owned(), text, numbers: Default::default(), caution: None }
        } else {
            let hint = "a price list is a CSV or XLSX file";
            return Err(vec![wrong(format!("`{name}` is no price list"), hint)]);
        };
        let said = |text: &String| Some(text.trim().to_owned()).filter(|t| !t.is_empty());
        let told = Reading {
            currency: said(&head.currency),
            date: said(&head.date),
            source: said(&head.source),
            ..Reading::default()
        };
        price_list(&list, &told, || self.given.data.stock.clone(), |_| Ok(None), |problems| problems)
    }

    /// Takes a second take-off; it is read with the job it is held against.
    pub(crate) fn take_second(&self, head: &Head, bytes: Vec<u8>) -> Taken {
        let name = file_name(&head.name);
        let lower = name.to_lowercase();
        let known = sheets::parts(&lower).is_some() || lower.ends_with(".csv");
        let problem = (!known).then(|| {
            wrong(format!("`{name}` is no take-off"), "a second take-off or bill is a CSV or XLSX file")
        });
        let problems = plain(&problem.into_iter().collect::<Vec<_>>());
        if known {
            self.keep_second(name.clone(), bytes);
        }
        Taken { name, taken: known, rows: 0, unmatched: Vec::new(), problems, lists: self.list_names() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lose_what_could_harm() {
        for (name, plain) in [
            ("prices.csv", "prices.csv"),
            ("../../etc/passwd.csv", "passwd.csv"),
            ("C:\\lists\\a b.xlsx", "a b.xlsx"),
            ("a\"b\n<i>.csv", "abi.csv"),
            ("", ""),
        ] {
            assert_eq!(file_name(name), plain, "{name}");
        }
    }
}
