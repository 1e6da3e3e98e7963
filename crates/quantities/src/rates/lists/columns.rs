//! Which column is which: by our own names, by words of the trade, by two rows of heads that were merged.

use super::cells::one_line;
use super::heads::{self, Column, HeadCell, Headed, Heads, head_key};
use crate::placed::PlacedRow as Row;
use crate::rates::price_read::Reader;

/// Rows in which the head is looked for.
const LOOKED_AT: usize = 60;

/// Where our columns stand in a list.
#[derive(Clone, Debug, Default)]
pub(in crate::rates) struct Columns {
    at: [Option<usize>; 10],
    /// What their heads say.
    pub(in crate::rates) heads: Vec<HeadCell>,
    /// The eight columns of our own form, under their own names, in the first row.
    pub(in crate::rates) own_form: bool,
    /// Texts of the head, to know it again.
    texts: Vec<String>,
}

impl Columns {
    /// Place of a column in a row.
    pub(in crate::rates) fn at(&self, column: Column) -> Option<usize> {
        Column::ALL.iter().position(|c| *c == column).and_then(|i| self.at.get(i).copied().flatten())
    }

    /// What the head of a column says.
    pub(in crate::rates) fn head(&self, column: Column) -> Option<&HeadCell> {
        self.heads.iter().find(|h| h.column == column)
    }

    /// How many cells the head has.
    pub(in crate::rates) fn width(&self) -> usize {
        self.texts.len()
    }

    /// Is this the head again, at the top of another page?
    pub(in crate::rates) fn again(&self, row: &Row) -> bool {
        row.cells.iter().map(str::trim).eq(self.texts.iter().map(String::as_str))
    }

    /// The first row that heads a rate and something to know it by.
    pub(in crate::rates) fn find(rows: &[Row], said: &Heads) -> Option<usize> {
        rows.iter().take(LOOKED_AT).position(|row| {
            let heads = row.cells.iter().filter_map(|c| heads::read_as(c, said));
            let seen: Vec<Column> = heads.map(|h| h.column).collect();
            seen.contains(&Column::Rate)
                && (seen.contains(&Column::Description) || seen.contains(&Column::Code))
        })
    }
}

impl Reader<'_> {
    /// The columns of a head; true where the row below belongs to it.
    pub(in crate::rates) fn columns(
        &mut self,
        head: &Row,
        below: Option<&Row>,
        first: bool,
    ) -> Option<(Columns, bool)> {
        let texts: Vec<String> = head.cells.iter().map(|c| c.trim().to_owned()).collect();
        let own = |column: Column| texts.iter().any(|t| t.to_lowercase() == column.name());
        let said = &self.reading.heads;
        let own_form = first && said.is_empty() && Column::own().all(own);
        // A cell merged over two rows reads the same in both.
        let below = below.filter(|row| {
            let pairs: Vec<(&str, &str)> =
                texts.iter().map(String::as_str).zip(row.cells.iter().map(str::trim)).collect();
            let same = pairs.iter().filter(|(a, b)| !a.is_empty() && a == b).count();
            !own_form && same > 0 && pairs.iter().any(|(a, b)| a != b)
        });
        let full: Vec<String> = match below {
            None => texts.clone(),
            Some(row) => {
                let lower = |i: usize| row.cells.get(i).unwrap_or_default().trim();
                let joined = |(i, text): (usize, &String)| {
                    if lower(i) == text { text.clone() } else { format!("{text} {}", lower(i)) }
                };
                texts.iter().enumerate().map(joined).collect()
            }
        };
        if below.is_none() {
            self.twice(head, own_form);
        }
        let mut read: Vec<Option<HeadCell>> = full.iter().map(|t| heads::read_as(t, said)).collect();
        let told: Vec<bool> = full.iter().map(|t| said.contains_key(&head_key(t))).collect();
        for column in said.values().flatten() {
            // What the user calls the rate is the only one.
            let is = |h: &Option<HeadCell>| h.as_ref().is_some_and(|h| h.column == *column);
            if read.iter().zip(&told).any(|(h, told)| *told && is(h)) {
                read.iter_mut().zip(&told).filter(|(h, told)| !**told && is(h)).for_each(|(h, _)| *h = None);
            }
        }
        let mut columns = Columns { own_form, texts, ..Columns::default() };
        for (slot, column) in Column::ALL.into_iter().enumerate() {
            let at = self.one(head, &read, column);
            if let Some(place) = columns.at.get_mut(slot) {
                *place = at;
            }
            columns.heads.extend(at.and_then(|i| read.get(i).cloned().flatten()));
        }
        let taken = |i: usize| Column::ALL.into_iter().find(|c| columns.at(*c) == Some(i));
        self.how.heads = (0..)
            .zip(full)
            .map(|(i, head)| Headed { head, column: taken(i), sample: String::new() })
            .collect();
        self.unread(head, &columns);
        if columns.at(Column::Unit).is_none() {
            let hint = "a column headed `unit` says for how much each rate is: m3, m2, m, kg, nr, item, bag";
            self.report(
                "R002",
                head,
                head.span.clone(),
                ["columns missing: unit", "the head of the list", hint],
            );
            return None;
        }
        Some((columns, below.is_some()))
    }

    /// What may head a list that no row heads: the first row with the most cells. Its cells, and what parts them.
    pub(in crate::rates) fn may_head(&mut self, parted: &[Vec<Row>]) {
        let many = |row: &Row| row.cells.iter().filter(|c| !c.trim().is_empty()).count();
        let rows = parted.iter().max_by_key(|rows| rows.iter().take(LOOKED_AT).map(many).max());
        let Some(rows) = rows else { return };
        let most = rows.iter().take(LOOKED_AT).map(many).max().unwrap_or(0);
        let Some(at) = rows.iter().position(|row| many(row) == most).filter(|_| most > 1) else { return };
        let cells = rows.get(at).map(|row| &row.cells);
        let head = |c: &str| Headed { head: c.trim().to_owned(), column: None, sample: String::new() };
        self.how.heads = cells.map(|cells| cells.iter().map(head).collect()).unwrap_or_default();
        self.samples(rows.get(at + 1..).unwrap_or_default());
    }

    /// The first cell under each head that says anything.
    pub(in crate::rates) fn samples(&mut self, table: &[Row]) {
        for (i, head) in self.how.heads.iter_mut().enumerate() {
            let mut cells = table.iter().filter_map(|row| row.cells.get(i)).map(str::trim);
            let first = cells.find(|c| !c.is_empty() && *c != head.head);
            head.sample = first.map(one_line).unwrap_or_default();
        }
    }

    /// The one cell that heads a column.
    fn one(&mut self, head: &Row, read: &[Option<HeadCell>], column: Column) -> Option<usize> {
        let of = |i: usize| read.get(i).and_then(Option::as_ref).filter(|h| h.column == column);
        let all: Vec<(usize, &HeadCell)> = (0..read.len()).filter_map(|i| Some((i, of(i)?))).collect();
        let best = all.iter().map(|(_, h)| h.rank).min()?;
        let mut left: Vec<(usize, &HeadCell)> = all.into_iter().filter(|(_, h)| h.rank == best).collect();
        // Of two rates the one without tax.
        if left.len() > 1 && left.iter().any(|(_, h)| h.tax.included == Some(false)) {
            left.retain(|(_, h)| h.tax.included == Some(false));
        }
        let (first, _) = *left.first()?;
        if let Some((again, _)) = left.get(1) {
            let cell = |i: usize| head.cells.get(i).unwrap_or_default().trim().to_owned();
            // Two of one name are told as such.
            if cell(first) != cell(*again) {
                let message = format!(
                    "two columns may be the {}: `{}` and `{}`",
                    column.name(),
                    cell(first),
                    cell(*again)
                );
                let hint = format!("call the one that counts `{}`", column.name());
                let span = self.cell_span(head, *again);
                self.report("R059", head, span, [&message, "or this one", &hint]);
            }
        }
        Some(first)
    }

    /// Two columns of one name, `all` or ours.
    pub(in crate::rates) fn twice(&mut self, head: &Row, all: bool) {
        let names: Vec<String> = head.cells.iter().map(|c| c.trim().to_lowercase()).collect();
        for (i, name) in names.iter().enumerate() {
            if (all || heads::read_as(name, &self.reading.heads).is_some())
                && names.iter().take(i).any(|n| n == name)
                && !name.is_empty()
            {
                let span = self.cell_span(head, i);
                let message = format!("two columns are called `{name}`");
                self.report("R004", head, span, [&message, "again", "keep one of the two"]);
            }
        }
    }

    /// Columns that nothing reads: each for itself in our own form, else all in one line.
    fn unread(&mut self, head: &Row, columns: &Columns) {
        // One of two that may be meant is an error already.
        let told: Vec<_> =
            self.problems.iter().filter(|p| p.code == "R059").filter_map(|p| p.place.clone()).collect();
        let of_two = |i: usize| told.iter().any(|place| place.span == self.cell_span(head, i));
        let unread: Vec<(usize, &str)> = head
            .cells
            .iter()
            .map(str::trim)
            .enumerate()
            .filter(|(i, name)| {
                !columns.at.contains(&Some(*i)) && !of_two(*i) && (columns.own_form || !name.is_empty())
            })
            .collect();
        let hint = "it may stay; a misspelt name should be mended";
        if columns.own_form {
            let names: Vec<String> = unread.iter().map(|(_, n)| n.to_lowercase()).collect();
            for ((i, _), name) in unread.iter().zip(names) {
                // A second column of one name is an error already.
                if head.cells.iter().take(*i).any(|c| c.trim().to_lowercase() == name) {
                    continue;
                }
                let span = self.cell_span(head, *i);
                self.caution("R003", head, span, [&format!("nothing reads the column `{name}`"), "", hint]);
            }
        } else if let Some((first, _)) = unread.first() {
            let names: Vec<String> = unread.iter().map(|(_, n)| format!("`{n}`")).collect();
            let span = self.cell_span(head, *first);
            let message = match names.len() {
                1 => format!("nothing reads the column {}", names.join("")),
                _ => format!("nothing reads the columns {}", names.join(", ")),
            };
            self.caution("R003", head, span, [&message, "", hint]);
        }
    }
}
