//! A second take-off as it was written: headings, lines, "ditto", totals; nothing is dropped.

use tankwright_quantities::problem::{Place, Problem, Severity};

use crate::columns::{self, Columns};
use crate::figure::{self, Figure};
use crate::rows::Row;
use crate::wording::{Column, Makes, TheirUnit, Wording};

/// Most rows read.
const MOST_ROWS: usize = 20_000;

/// What a row of theirs is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Words over lines, or beside them.
    Words,
    /// A line with a quantity or dimensions.
    Line,
    /// A total of lines above.
    Total,
    /// A total brought from the page before.
    Brought,
}

/// A row of theirs, as read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Line of the file.
    pub line: usize,
    /// What it is.
    pub kind: Kind,
    /// Its words, "ditto" filled in.
    pub text: String,
    /// Its own words only, where it says "ditto".
    pub own: String,
    /// Headings over it, a line each.
    pub heading: String,
    /// Unit as written.
    pub unit_text: String,
    /// Unit, where it is known.
    pub unit: Option<TheirUnit>,
    /// What quantity and rate make.
    pub makes: Makes,
    /// Quantity.
    pub quantity: Option<Figure>,
    /// Rate.
    pub rate: Option<Figure>,
    /// Amount.
    pub amount: Option<Figure>,
    /// How many times.
    pub times: Option<Figure>,
    /// Dimensions, in the order length, breadth, depth, diameter.
    pub dims: Vec<(Column, Figure)>,
    /// Taken off the lines above.
    pub less: bool,
}

/// Everything that was read, and what is doubtful.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Theirs {
    /// Rows in order.
    pub entries: Vec<Entry>,
    /// Cautions.
    pub cautions: Vec<Problem>,
}

/// Reads rows.
///
/// # Errors
/// `T001` to `T003`, with the place in the file.
pub fn read(file: &str, rows: &[Row], words: &Wording) -> Result<Theirs, Vec<Problem>> {
    let place = |line: usize| Some(Place { file: file.to_owned(), span: 0..0, line });
    let refused =
        |code, message: &str, hint: &str| Err(vec![Problem::error(code, place(1), message).hint(hint)]);
    let filled = rows.iter().any(|r| r.cells.iter().any(|c| !c.is_empty()));
    if !filled {
        return refused("T001", "the second take-off is empty", "a row for each item: words, unit, quantity");
    }
    if rows.len() > MOST_ROWS {
        return refused("T003", "the second take-off has more than 20 000 rows", "is this the right file?");
    }
    let Some(columns) = columns::find(rows, words) else {
        let hint =
            "give the columns heads: description, unit, quantity, and rate and amount where there are prices";
        return refused("T002", "no column with words and none with quantities can be told", hint);
    };
    let mut reader =
        Reader { words, columns, over: [String::new(), String::new()], last: None, out: Theirs::default() };
    for (i, row) in rows.iter().enumerate() {
        if reader.columns.head.is_some_and(|head| i <= head) {
            continue;
        }
        let again = columns::heads(row, words);
        if again.len() >= 3 && again.contains_key(&Column::Description) {
            continue;
        }
        if let Some((code, message, hint)) = reader.row(row) {
            let problem = Problem::error(code, place(row.line), message).hint(hint);
            reader.out.cautions.push(Problem { severity: Severity::Caution, ..problem });
        }
    }
    Ok(reader.out)
}

struct Reader<'a> {
    words: &'a Wording,
    columns: Columns,
    /// Section in capitals, heading under it.
    over: [String; 2],
    last: Option<Entry>,
    out: Theirs,
}

impl Reader<'_> {
    fn row(&mut self, row: &Row) -> Option<(&'static str, String, &'static str)> {
        let cell = |c| self.columns.cell(row, c);
        let written = cell(Column::Description);
        let (mut quantity, mut unit_text) =
            (figure::read(cell(Column::Quantity)), cell(Column::Unit).to_owned());
        let mut caution = None;
        if quantity.is_none() && !cell(Column::Quantity).is_empty() {
            let text = cell(Column::Quantity);
            let end = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
            quantity = figure::read(&text[..end]);
            match quantity {
                Some(_) if unit_text.is_empty() => unit_text = text[end..].trim().to_owned(),
                Some(_) => {}
                None if text.chars().any(char::is_alphanumeric) => {
                    let message = format!("the quantity `{text}` is no figure");
                    caution = Some(("T008", message, "the line is listed as not compared"));
                }
                None => {}
            }
        }
        let [rate, amount, times] =
            [Column::Rate, Column::Amount, Column::Number].map(|c| figure::read(cell(c)));
        let dims: Vec<(Column, Figure)> = [Column::Length, Column::Breadth, Column::Depth, Column::Diameter]
            .into_iter()
            .filter_map(|c| Some((c, figure::read(cell(c))?)))
            .collect();
        // A unit, or words where the quantity should stand, make a line as well: it is listed as not compared.
        let said = caution.is_some() || self.words.unit(&unit_text).is_some();
        let nothing = quantity.is_none() && amount.is_none() && dims.is_empty() && !said;
        if written.is_empty() && nothing {
            return None;
        }
        let same_unit = unit_text.is_empty() || self.words.ditto(&unit_text).is_some();
        let (text, own, again) = match (&self.last, self.words.ditto(written)) {
            (Some(last), Some(rest)) => {
                (format!("{} {rest}", last.text).trim().to_owned(), rest.to_owned(), true)
            }
            (Some(last), None) if self.words.is_deduction(written) => {
                (format!("{} {written}", last.text), String::new(), true)
            }
            (Some(last), None) if written.is_empty() => (last.text.clone(), String::new(), true),
            (None, None) if written.is_empty() => (self.over[1].clone(), String::new(), true),
            _ => (written.to_owned(), written.to_owned(), false),
        };
        if let Some(last) = self.last.as_ref().filter(|_| same_unit && again) {
            unit_text = last.unit_text.clone();
        }
        let unit = self.words.unit(&unit_text).cloned();
        let makes = self.words.makes(&unit_text);
        let kind = match () {
            () if self.words.is_brought(&text) => Kind::Brought,
            () if !again && self.words.is_total(&text) => Kind::Total,
            () if !nothing && unit_text.is_empty() && self.words.ends_in_total(&text) => Kind::Total,
            () if nothing => Kind::Words,
            () => Kind::Line,
        };
        if kind == Kind::Line
            && unit.is_none()
            && !unit_text.is_empty()
            && makes == Makes::Product
            && caution.is_none()
        {
            let message = format!("the unit `{unit_text}` is not known");
            caution = Some((
                "T007",
                message,
                "known are m3, m2, m, kg, nr, item, cft, sft, rft and their usual spellings",
            ));
        }
        let less = self.words.is_deduction(written);
        let heading = self.over.join("\n").trim().to_owned();
        let entry = Entry {
            line: row.line,
            kind,
            text,
            own,
            heading,
            unit_text,
            unit,
            makes,
            quantity: quantity.map(|q| if less { q.taken_off() } else { q }),
            rate,
            amount,
            times: times.map(|t| if less { t.taken_off() } else { t }),
            dims,
            less,
        };
        match kind {
            Kind::Words => self.heading(&entry.text),
            Kind::Line if !entry.less => self.last = Some(entry.clone()),
            Kind::Line | Kind::Total | Kind::Brought => {}
        }
        self.out.entries.push(entry);
        caution
    }

    fn heading(&mut self, text: &str) {
        if text.chars().any(char::is_alphabetic) && !text.chars().any(char::is_lowercase) {
            self.over = [text.to_owned(), String::new()];
        } else {
            self.over[1] = text.to_owned();
        }
        self.last = None;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rows::of_csv;
    use crate::wording::builtin;

    fn entries(text: &str) -> Vec<Entry> {
        read("second.csv", &of_csv(text), builtin()).map(|t| t.entries).unwrap_or_default()
    }

    #[test]
    fn headings_ditto_and_totals() {
        let all = entries(
            "description,unit,quantity,rate,amount\nEARTHWORK,,,,\nExcavate pit n.e. 1.50 m,m3,10.33,10,103.30\n\
             Ditto 1.50 - 3.00 m,\"\"\"\",3.17,12,38.04\nTotal carried to summary,,,,141.34\nWalls,m2,13.65 ,,\n",
        );
        let kinds: Vec<Kind> = all.iter().map(|e| e.kind).collect();
        assert_eq!(kinds, [Kind::Words, Kind::Line, Kind::Line, Kind::Total, Kind::Line]);
        let ditto = &all[2];
        assert_eq!(
            (ditto.text.as_str(), ditto.own.as_str()),
            ("Excavate pit n.e. 1.50 m 1.50 - 3.00 m", "1.50 - 3.00 m")
        );
        assert_eq!((ditto.unit_text.as_str(), ditto.heading.as_str()), ("m3", "EARTHWORK"));
    }

    #[test]
    fn dimension_lines_under_their_heading_and_a_unit_beside_the_figure() {
        let all =
            entries("item,l,b,h,quantity\nBrick wall,,,,\n,3.70,0.3,1.2,1.332\n,1.10,0.3,1.2,0.396 m3\n");
        assert_eq!(all[1].text, "Brick wall");
        assert_eq!(all[1].dims.len(), 3);
        assert_eq!(
            (all[2].unit_text.as_str(), all[2].quantity.map(Figure::shown)),
            ("m3", Some("0.396".into()))
        );
    }

    #[test]
    fn what_cannot_be_read_is_said() {
        let codes = |rows: &[Row]| -> Vec<&str> {
            read("x.csv", rows, builtin()).err().unwrap_or_default().iter().map(|p| p.code).collect()
        };
        assert_eq!(codes(&of_csv("\n,,\n")), ["T001"]);
        assert_eq!(codes(&of_csv("walls\nand floors\n")), ["T002"]);
        let row = Row { cells: vec!["walls".into(), "m2".into(), "1".into()], line: 1 };
        assert_eq!(codes(&vec![row; MOST_ROWS + 1]), ["T003"]);
    }
}
