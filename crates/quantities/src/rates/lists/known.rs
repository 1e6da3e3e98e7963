//! What a row of a list prices, and by what it is known: the map, our code, our words, words and sizes.

use super::cells::one_line;
use super::heads::Column;
use super::map::{Entry, Unmatched};
use crate::rates::PriceKind;
use crate::rates::price_read::{By, Named, Reader};

impl Reader<'_> {
    /// What a row prices, in a list as people keep it; a row of no code is listed.
    pub(super) fn known(&mut self, named: &Named<'_>, unit: &str) -> Option<(PriceKind, String)> {
        let description = one_line(named.cell(Column::Description));
        let said = named.cell(Column::Kind).to_lowercase();
        let kind = PriceKind::ALL.into_iter().find(|k| said == k.id() || said == format!("{}s", k.id()));
        let kind = kind.or(self.kind);
        let code = named.cell(Column::Code);
        let of_map = self.reading.map.and_then(|m| {
            // By the unit as it stands; where that says `ditto`, by what it comes to.
            m.get(&description, named.cell(Column::Unit)).or_else(|| m.get(&description, unit))
        });
        match of_map {
            Some(Entry::Prices(kind, code)) => {
                self.how.by.insert(named.row.line, By::Map);
                return Some((*kind, code.clone()));
            }
            Some(Entry::LeftOut) => {
                let out = self.unmatched(named, description, String::new());
                self.how.left_out.push(out);
                return None;
            }
            Some(Entry::Open) | None => {}
        }
        let whole = !code.is_empty() && !code.contains(char::is_whitespace);
        let of_code = match self.reading.names.filter(|_| whole) {
            Some(names) => {
                kind.filter(|k| names.knows(*k, code)).or_else(|| names.kind_of(code, unit, &description))
            }
            None => kind.filter(|_| whole),
        };
        if let Some(kind) = of_code {
            self.how.by.insert(named.row.line, By::Code);
            return Some((kind, code.to_owned()));
        }
        let names = self.reading.names;
        if let Some(found) = names.and_then(|n| n.by_words(&description, unit, kind)) {
            self.how.by.insert(named.row.line, By::Words);
            return Some(found);
        }
        let work = kind.is_none_or(|k| k == PriceKind::Work);
        if let Some(code) = names.filter(|_| work).and_then(|n| n.by_sizes(&description, unit)) {
            self.how.by.insert(named.row.line, By::Sizes);
            self.how.sized.push((named.row.line, named.row.span.clone(), code.clone()));
            return Some((PriceKind::Work, code));
        }
        let why = match (of_map, code) {
            (Some(_), _) => "its row of the map is not filled in".to_owned(),
            (None, "") => "its words are none of ours".to_owned(),
            (None, code) if names.is_some_and(|n| n.of_two_kinds(code)) => {
                format!("`{code}` is a work and a material: a column `kind` says which")
            }
            (None, code) => format!("`{code}` is not a code of ours"),
        };
        let perhaps = names.and_then(|n| n.perhaps(&description, kind));
        let open = self.unmatched(named, description, why);
        self.how.unmatched.push(Unmatched { perhaps, ..open });
        None
    }

    fn unmatched(&self, named: &Named<'_>, description: String, why: String) -> Unmatched {
        Unmatched {
            line: named.row.line,
            span: named.row.span.clone(),
            description,
            unit: one_line(named.cell(Column::Unit)),
            rate: one_line(named.cell(Column::Rate)),
            why,
            perhaps: None,
        }
    }
}
