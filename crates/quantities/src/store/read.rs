//! Reads a list of goods received from CSV, collecting every problem with its row and cell.

use std::collections::BTreeSet;
use std::ops::Range;

use rust_decimal::Decimal;

use crate::decimal::product;
use crate::job::{date, suggestion};
use crate::orders::{Good, Orders, Size, Total, packs};
use crate::placed::{PlacedRow, cell_span, rows};
use crate::problem::{Place, Problem, Severity};
use crate::stage::Stage;

/// The longest list read, bytes.
const LONGEST: usize = 1_000_000;
/// The most rows read.
const MOST_ROWS: usize = 20_000;

const COLUMNS: [&str; 8] = ["date", "material", "quantity", "pack", "note", "rejected", "stage", "counted"];
const DATE: usize = 0;
const MATERIAL: usize = 1;
const QUANTITY: usize = 2;
const PACK: usize = 3;
const NOTE: usize = 4;
const REJECTED: usize = 5;
const STAGE: usize = 6;
const COUNTED: usize = 7;

/// A row of the list; amounts in the material's own unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// `2026-12-09`.
    pub date: String,
    /// Material, as in the orders.
    pub material: String,
    /// Came.
    pub received: Decimal,
    /// Of it sent back.
    pub rejected: Decimal,
    /// Counted in the store.
    pub counted: Option<Decimal>,
    /// After which stage, or for which, where the list says it.
    pub stage: Option<Stage>,
    /// The user's own words.
    pub note: String,
    /// The row's place in the list.
    pub place: Place,
}

/// Reads a list. Columns in any order: date, material, quantity, and what else is wanted of pack, note, rejected, stage
/// and counted. Cautions stand beside the entries.
///
/// # Errors
/// All problems of the list, codes `S001` to `S015`.
pub fn read(text: &str, file: &str, orders: &Orders) -> Result<(Vec<Entry>, Vec<Problem>), Vec<Problem>> {
    let mut reader = Reader { file, text, orders, columns: [None; 8], problems: Vec::new() };
    let entries = reader.list();
    let wrong = reader.problems.iter().any(|p| p.severity == Severity::Error);
    match entries {
        Some(entries) if !wrong => Ok((entries, reader.problems)),
        _ => Err(reader.problems),
    }
}

/// Is an amount without a pack a number of packs that was ordered? 14 bags of cement are easily written as 14.
fn may_be_packs(amount: Decimal, total: &Total) -> bool {
    let whole = amount.fract().is_zero() && !amount.is_zero();
    whole && total.pack.size > Decimal::ONE && amount <= Decimal::from(total.packs)
}

struct Reader<'a> {
    file: &'a str,
    text: &'a str,
    orders: &'a Orders,
    columns: [Option<usize>; 8],
    problems: Vec<Problem>,
}

impl Reader<'_> {
    /// `words`: what is wrong, what stands there, what to do.
    fn report(&mut self, code: &'static str, line: usize, span: Range<usize>, words: [&str; 3]) {
        let [message, label, hint] = words;
        let place = Place { file: self.file.to_owned(), span, line };
        self.problems.push(Problem::error(code, Some(place), message).label(label).hint(hint));
    }

    fn list(&mut self) -> Option<Vec<Entry>> {
        let hint = "the first row names the columns: date,material,quantity,pack,note,rejected; then a row for each delivery";
        if self.text.len() > LONGEST {
            self.report("S015", 1, 0..0, ["the list is larger than 1 MB", "", "is this the right file?"]);
            return None;
        }
        let mut records = rows(self.text);
        if records.is_empty() {
            self.report("S001", 1, 0..0, ["the list is empty", "", hint]);
            return None;
        }
        let head = records.remove(0);
        self.head(&head)?;
        if records.is_empty() {
            self.report("S001", head.line, head.span, ["the list has no rows", "only the head", hint]);
            return None;
        }
        if records.len() > MOST_ROWS {
            let words = ["the list has more than 20 000 rows", "", "is this the right file?"];
            self.report("S015", head.line, head.span, words);
            return None;
        }
        Some(records.iter().filter_map(|r| self.row(r, head.cells.len())).collect())
    }

    fn head(&mut self, head: &PlacedRow) -> Option<()> {
        let names: Vec<String> = head.cells.iter().map(|c| c.trim().to_lowercase()).collect();
        for (i, name) in names.iter().enumerate() {
            let span = cell_span(self.text, head, i);
            if !name.is_empty() && names.iter().take(i).any(|n| n == name) {
                let message = format!("two columns are called `{name}`");
                self.report("S003", head.line, span, [&message, "again", "keep one of the two"]);
            } else if !COLUMNS.contains(&name.as_str()) && names.len() > 1 {
                let message = format!("nothing reads the column `{name}`");
                let hint = "it may stay; a misspelt name should be mended";
                self.report("S004", head.line, span, [&message, "", hint]);
                if let Some(last) = self.problems.last_mut() {
                    last.severity = Severity::Caution;
                }
            }
        }
        self.columns = COLUMNS.map(|column| names.iter().position(|n| n == column));
        let has = |column: usize| self.columns.get(column).is_some_and(Option::is_some);
        let wanted = if has(COUNTED) { vec![DATE, MATERIAL] } else { vec![DATE, MATERIAL, QUANTITY] };
        let missing: Vec<&str> = wanted.into_iter().filter(|c| !has(*c)).map(|c| COLUMNS[c]).collect();
        if missing.is_empty() {
            return Some(());
        }
        let parted = names.len() == 1 && names.iter().any(|c| c.contains([';', '\t']));
        let hint = if parted {
            "cells here are parted by semicolons or tabs: save the list with commas"
        } else {
            "the first row names them: date,material,quantity,pack,note,rejected"
        };
        let message = format!("columns missing: {}", missing.join(", "));
        self.report("S002", head.line, head.span.clone(), [&message, "the head of the list", hint]);
        None
    }

    /// A cell without blanks around it; empty where the column is not there.
    fn cell<'r>(&self, row: &'r PlacedRow, column: usize) -> &'r str {
        let at = self.columns.get(column).copied().flatten();
        at.and_then(|at| row.cells.get(at)).unwrap_or_default().trim()
    }

    fn wrong(&mut self, code: &'static str, row: &PlacedRow, column: usize, words: [&str; 3]) {
        let at = self.columns.get(column).copied().flatten();
        let span = at.map_or_else(|| row.span.clone(), |at| cell_span(self.text, row, at));
        self.report(code, row.line, span, words);
    }

    fn row(&mut self, row: &PlacedRow, wide: usize) -> Option<Entry> {
        if row.cells.len() != wide {
            let message = format!("this row has {} cells, the head {wide}", row.cells.len());
            let hint = "a comma inside a text needs quotes round the text; numbers have no commas";
            self.report("S005", row.line, row.span.clone(), [&message, "", hint]);
            return None;
        }
        let day = self.cell(row, DATE);
        if date::check(day).is_err() {
            let words = ["this is no date", "year, month, day are wanted", "write it as 2026-12-09"];
            self.wrong("S007", row, DATE, words);
        }
        let stage = self.stage(row);
        let found = self.material(row);
        let [quantity, rejected, counted] = [QUANTITY, REJECTED, COUNTED].map(|c| self.amount(row, c));
        if quantity == Some(None) && counted == Some(None) {
            let words = ["nothing received and nothing counted", "no amount", "give a quantity, or a count"];
            self.wrong("S008", row, QUANTITY, words);
            return None;
        }
        let (quantity, rejected) = (quantity?.unwrap_or_default(), rejected?.unwrap_or_default());
        if rejected > quantity {
            let words = [
                "more is rejected than came",
                "more than the quantity",
                "rejected is a part of the quantity",
            ];
            self.wrong("S012", row, REJECTED, words);
        }
        let (good, total) = found?;
        let pack = self.pack(row, &good, &total)?;
        let told = quantity.max(counted.flatten().unwrap_or_default());
        if self.cell(row, PACK).is_empty() && may_be_packs(told, &total) {
            let (unit, [one, many]) = (&good.unit, &total.pack.words);
            let amount = told.normalize();
            let message = format!("{}: {amount} {unit} is read, not {amount} {many}", good.title);
            let hint = format!("write {one} in the column pack, or {unit} where {unit} are meant");
            let column = if quantity.is_zero() { COUNTED } else { QUANTITY };
            self.wrong("S016", row, column, [&message, "without a pack", &hint]);
            if let Some(last) = self.problems.last_mut() {
                last.severity = Severity::Caution;
            }
        }
        let (received, sent_back) = (product(quantity, pack), product(rejected, pack));
        let counted = counted?.map(|n| product(n, pack));
        if received.is_none() || sent_back.is_none() || counted == Some(None) {
            let words = ["this amount is too large", "", "look for a slip"];
            self.wrong("S008", row, QUANTITY, words);
            return None;
        }
        Some(Entry {
            date: day.to_owned(),
            material: good.material,
            received: received?,
            rejected: sent_back?,
            counted: counted.flatten(),
            stage: stage?,
            note: self.cell(row, NOTE).to_owned(),
            place: Place { file: self.file.to_owned(), span: row.span.clone(), line: row.line },
        })
    }

    /// The stage named; none named is none; nothing where it is not known.
    fn stage(&mut self, row: &PlacedRow) -> Option<Option<Stage>> {
        let text = self.cell(row, STAGE);
        if text.is_empty() {
            return Some(None);
        }
        let ids = || Stage::ALL.iter().map(|s| s.id());
        let found = Stage::ALL.into_iter().find(|s| s.id() == text);
        if found.is_none() {
            let near = suggestion(text, ids());
            let hint = format!("{near}stages: {}", ids().collect::<Vec<_>>().join(", "));
            self.wrong("S011", row, STAGE, ["this stage is not known", "no stage of this name", &hint]);
        }
        found.map(Some)
    }

    /// By id, by what is printed, or by its family or some of the printed words where only one material has them.
    fn material(&mut self, row: &PlacedRow) -> Option<(Good, Total)> {
        let text = self.cell(row, MATERIAL);
        let all = || self.orders.goods.iter().zip(&self.orders.totals);
        let same = |g: &Good| g.material == text || g.title.eq_ignore_ascii_case(text);
        let said = words(text);
        let some = |g: &Good| !said.is_empty() && said.is_subset(&words(&g.title));
        let of = |g: &Good| packs::names(&g.material).any(|n| n == text) || some(g);
        let family: Vec<_> = all().filter(|(g, _)| of(g)).collect();
        let found = all().find(|(g, _)| same(g)).or(match family[..] {
            [one] => Some(one),
            _ => None,
        });
        if let Some((good, total)) = found {
            return Some((good.clone(), total.clone()));
        }
        // As the stage card has them: that is what lies before whoever writes the list.
        let names: Vec<&str> = all().map(|(g, _)| g.title.as_str()).collect();
        let hint = match family.len() {
            0 => format!(
                "{}materials of this job: {}",
                suggestion(text, names.iter().copied()),
                names.join(", ")
            ),
            _ => {
                let which: Vec<&str> = family.iter().map(|(g, _)| g.title.as_str()).collect();
                format!("say which: {}", which.join(", "))
            }
        };
        let message = if family.is_empty() {
            "the job does not need this material"
        } else {
            "more than one material is meant"
        };
        self.wrong("S006", row, MATERIAL, [message, "not found", &hint]);
        None
    }

    /// An amount, nothing in an empty cell; nothing at all where it cannot be read.
    #[expect(clippy::option_option, reason = "left out and unreadable are two things")]
    fn amount(&mut self, row: &PlacedRow, column: usize) -> Option<Option<Decimal>> {
        let text = self.cell(row, column);
        if text.is_empty() {
            return Some(None);
        }
        let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
        let digits =
            |t: &str, most| !t.is_empty() && t.len() <= most && t.bytes().all(|b| b.is_ascii_digit());
        if digits(whole, 7) && digits(part, 6) {
            return text.parse().ok().map(Some);
        }
        let negative = whole.strip_prefix('-').is_some_and(|w| digits(w, 7)) && digits(part, 6);
        if negative {
            let hint = "goods sent back stand in the column rejected, on the row they came with";
            self.wrong("S009", row, column, ["an amount is not below zero", "below zero", hint]);
        } else {
            let hint = "digits and one point, no thousands separator and no unit: 8 or 0.5";
            self.wrong("S008", row, column, ["this is no plain number", "cannot be read", hint]);
        }
        None
    }

    /// What one of the row's packs holds, in the material's unit.
    fn pack(&mut self, row: &PlacedRow, good: &Good, total: &Total) -> Option<Decimal> {
        let text = self.cell(row, PACK);
        let lower = text.to_lowercase();
        if lower.is_empty() || lower == good.unit {
            return Some(Decimal::ONE);
        }
        if total.pack.words.contains(&lower) || lower == total.pack.title.to_lowercase() {
            return Some(total.pack.size);
        }
        // `bags of 50 kg`, as orders write it; `50 kg bag` and `50 kg`.
        let of = lower.split_once(" of ").filter(|(word, _)| total.pack.words.contains(&(*word).to_owned()));
        let lower = of.map_or(lower.clone(), |(_, size)| size.trim().to_owned());
        let size = total.pack.words.iter().find_map(|w| lower.strip_suffix(w.as_str())).unwrap_or(&lower);
        let read = Size::read(size).or_else(|_| Size::read(text)).ok();
        let held = read.as_ref().and_then(|s| s.in_unit(&good.unit));
        if held.is_none() {
            let label = match read {
                Some(size) => format!("in {}", size.unit),
                None => "not a pack".to_owned(),
            };
            let (unit, word) = (&good.unit, &total.pack.words[0]);
            let message = format!("{} comes in {unit}", good.title);
            let hint = format!(
                "an amount with its unit, as \"{}\"; or {word}; left empty, the quantity is in {unit}",
                total.pack.title
            );
            self.wrong("S010", row, PACK, [&message, &label, &hint]);
        }
        held
    }
}

/// The words of a text, one or many: `bricks` is `brick`.
fn words(text: &str) -> BTreeSet<String> {
    let words = text.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()).map(str::to_lowercase);
    words.map(|w| w.strip_suffix('s').map_or_else(|| w.clone(), str::to_owned)).collect()
}
