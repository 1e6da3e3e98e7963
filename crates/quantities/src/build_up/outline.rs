//! What a row of the bill needs to be built up: its recipe's materials and its build-up's constants, without prices.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use super::{Group, Say};
use crate::bill::Bill;
use crate::decimal::ratio;
use crate::job::Job;
use crate::made::Made;
use crate::materials::{Material, Use, material, net, uses_of};
use crate::orders::{Pack, packs};
use crate::rates::{BuildLine, BuildUp, Lookup, Needs, PriceList, Stock};
use crate::sheet::{Item, Sheet, Whole};
use crate::stage::Stage;
use crate::words::{Phrase, look_up};
use crate::works::{MadeOf, Unit, Work};

/// A build-up of a row of the bill, without prices.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// Code of the build-up: `brickwork-wall/220`.
    pub code: String,
    /// The file it stands in.
    pub file: String,
    /// For so much of the work, in the unit of the bill.
    pub per: Decimal,
    /// That unit.
    pub unit: String,
    /// Lines, by group.
    pub lines: Vec<OutlineLine>,
    /// Its items are made of different things: no one rate is theirs.
    pub mixed: bool,
}

/// A line of it.
#[derive(Clone, Debug, PartialEq)]
pub struct OutlineLine {
    /// What for.
    pub group: Group,
    /// Code of a price list; of a percentage empty.
    pub code: String,
    /// As printed; empty: the price list's words.
    pub title: String,
    /// What is wanted.
    pub want: Want,
    /// The amount is said to multiples.
    pub say: Option<Say>,
    /// Who says how much.
    pub source: String,
}

/// What a line wants.
#[derive(Clone, Debug, PartialEq)]
pub enum Want {
    /// A material, bought in packs or by its own unit.
    Goods {
        /// Which.
        material: Box<Material>,
        /// What it is sold in.
        pack: Box<Pack>,
        /// In its own unit, with waste, exact.
        quantity: Ratio,
        /// What it is needed for; empty for one that the build-up itself names.
        uses: Vec<Use>,
        /// How it comes about, in words.
        working: String,
    },
    /// Hours, days, or anything that a list prices by its own unit.
    Amount {
        /// How much, exact.
        quantity: Ratio,
        /// In this unit.
        unit: String,
        /// How it comes about, in words.
        working: String,
    },
    /// Per cent of earlier lines.
    Percent(Decimal, Vec<String>),
}

/// Work, specification and makings: all that a rate hangs on.
#[derive(Clone, Copy, Debug)]
pub struct Piece<'a> {
    /// Work.
    pub work: &'static Work,
    /// Specification or empty.
    pub spec: &'a str,
    /// Makings.
    pub made: &'a Made,
    /// Stage.
    pub stage: Stage,
    /// Unit of the bill.
    pub unit: Unit,
    /// Of faces billed in m: their mean width, metres.
    pub width: Option<Ratio>,
}

/// Puts their build-ups to the rows of a bill; with a price list only to those whose work it does not know.
pub fn outlines(bill: &mut Bill, sheet: &Sheet, job: &Job, stock: &Stock, prices: Option<&PriceList>) {
    for row in bill.sections.iter_mut().flat_map(|s| &mut s.rows) {
        let find = prices.map(|p| p.find(row.work.id, &row.spec, row.unit.id()));
        if find.is_some_and(|found| found != Lookup::Missing) {
            continue;
        }
        let items: Vec<&Item> = row.items.iter().filter_map(|id| sheet.find(id)).collect();
        let Some(stage) = items.first().map(|i| i.stage) else { continue };
        let width = if row.unit == Unit::M && row.work.unit == Unit::M2 { mean_width(&items) } else { None };
        let mut outlines = items.iter().filter_map(|item| {
            let (work, spec, unit) = (row.work, row.spec.as_str(), row.unit);
            Outline::of(job, stock, Piece { work, spec, made: &item.made, stage, unit, width })
        });
        row.outline = outlines.next().map(|first| {
            let mixed = outlines.any(|other| other != first);
            Box::new(Outline { mixed, ..first })
        });
    }
}

/// Area over length of faces that are billed in m.
fn mean_width(items: &[&Item]) -> Option<Ratio> {
    let lines = || items.iter().flat_map(|i| &i.lines);
    let length: Ratio = lines().map(|l| l.exact / l.per).sum();
    (length.signum() > 0).then(|| lines().map(|l| l.exact).sum::<Ratio>() / length)
}

impl Outline {
    /// The build-up of a piece of work; nothing where the data have none for it.
    #[must_use]
    pub fn of(job: &Job, stock: &Stock, piece: Piece<'_>) -> Option<Self> {
        let Piece { work, spec, made, unit, .. } = piece;
        let turns = work.made_of == MadeOf::Masonry || piece.width.is_some();
        let found = stock.build_up(work.id, spec, unit.id(), turns)?;
        let metre = Ratio::int(10_000);
        let thick = piece.width.or_else(|| made.thickness.as_ref().map(|len| len.value() / metre));
        let turned = Turned::of(found, unit.id(), thick)?;
        let mut lines = Vec::new();
        if found.recipe {
            let per = ratio(found.per);
            let own = if work.unit == unit { per } else { per * thick? };
            lines.extend(goods(job, stock, uses_of(job, stock, item(piece, own)?)));
        }
        lines.extend(found.lines.iter().filter_map(|line| own_line(job, stock, found, line, &turned)));
        // Groups in order; own materials after the recipe's.
        lines.sort_by_key(|l| l.group);
        let (code, file) = (found.code.clone(), found.file.clone());
        Some(Self { code, file, per: found.per, unit: unit.id().to_owned(), lines, mixed: false })
    }
}

/// Constants for a cubic metre of wall turned to a square metre, or the other way; for a square metre of a face to a metre.
struct Turned {
    by: Ratio,
    says: String,
}

impl Turned {
    fn of(found: &BuildUp, unit: &str, thick: Option<Ratio>) -> Option<Self> {
        let same = Self { by: Ratio::ONE, says: String::new() };
        if found.unit == unit {
            return Some(same);
        }
        let thick = thick.filter(|t| !t.is_zero())?;
        let metres = crate::decimal::rounded(thick, 6).map_or_else(String::new, |d| d.to_string());
        Some(match unit {
            "m" | "m2" => Self { by: thick, says: format!(" x {metres}") },
            _ => Self { by: Ratio::ONE / thick, says: format!(" / {metres}") },
        })
    }
}

/// An item of so much of a piece of work, for the materials room.
fn item(piece: Piece<'_>, own: Ratio) -> Option<Item> {
    let Piece { work, spec, made, stage, unit, .. } = piece;
    let net = net(own)?;
    let id = if spec.is_empty() { work.id.to_owned() } else { format!("{}/{spec}", work.id) };
    Some(Item {
        id,
        work,
        spec: spec.to_owned(),
        stage,
        unit,
        wording: Phrase::new("plain"),
        lines: Vec::new(),
        quantity: net,
        net,
        places: 0,
        model: None,
        whole: Whole { of: 1, least: 0, by_row: false },
        decisions: Vec::new(),
        judged: Vec::new(),
        unbilled: false,
        made: made.clone(),
        kept: Vec::new(),
    })
}

/// One line a material, in the order of the goods.
fn goods(job: &Job, stock: &Stock, uses: Vec<Use>) -> Vec<OutlineLine> {
    let mut by_material: Vec<(String, Vec<Use>)> = Vec::new();
    for used in uses {
        match by_material.iter_mut().find(|(id, _)| *id == used.material) {
            Some((_, own)) => own.push(used),
            None => by_material.push((used.material.clone(), vec![used])),
        }
    }
    by_material.sort_by_key(|(id, _)| stock.recipes.place(id).unwrap_or(usize::MAX));
    let line = |(id, uses): (String, Vec<Use>)| {
        let material = material(stock, &id)?;
        let quantity = uses.iter().map(Use::gross).sum();
        let (working, source) = (says_waste(&uses), uses.first()?.source.to_string());
        let pack = packs::of_any(job, stock, &material);
        let title = material.title.clone();
        let (material, pack) = (Box::new(material), Box::new(pack));
        let want = Want::Goods { material, pack, quantity, uses, working };
        Some(OutlineLine { group: Group::Materials, code: id, title, want, say: None, source })
    };
    by_material.into_iter().filter_map(line).collect()
}

/// `with 5 % waste`, `waste is inside the recipe`, or nothing.
fn says_waste(uses: &[Use]) -> String {
    let Some(first) = uses.first() else { return String::new() };
    if uses.iter().any(|u| u.waste_percent != first.waste_percent || u.waste_inside != first.waste_inside) {
        return look_up("build-up-waste-several").to_owned();
    }
    if first.waste_inside {
        look_up("build-up-waste-inside").to_owned()
    } else if first.waste_percent.is_zero() {
        String::new()
    } else {
        Phrase::with("build-up-waste", &[&crate::decimal::plain(first.waste_percent)]).to_string()
    }
}

fn own_line(
    job: &Job,
    stock: &Stock,
    of: &BuildUp,
    line: &BuildLine,
    turned: &Turned,
) -> Option<OutlineLine> {
    let source = line.source.as_ref().unwrap_or(&of.source).to_string();
    let want = match &line.needs {
        Needs::Percent(percent, on) => Want::Percent(*percent, on.clone()),
        Needs::Quantity(working, unit) => {
            let quantity = working.value() * turned.by;
            let worked = working.is_worked() || !turned.says.is_empty();
            let text = if worked { format!("{}{}", working.text, turned.says) } else { String::new() };
            let known = if unit.is_empty() { material(stock, &line.code) } else { None };
            match known {
                Some(material) => {
                    let pack = Box::new(packs::of_any(job, stock, &material));
                    let material = Box::new(material);
                    Want::Goods { material, pack, quantity, uses: Vec::new(), working: text }
                }
                None => Want::Amount { quantity, unit: unit.clone(), working: text },
            }
        }
    };
    let title = match &want {
        Want::Goods { material, .. } if line.title.is_empty() => material.title.clone(),
        _ => line.title.clone(),
    };
    let (group, code) = (line.group, line.code.clone());
    Some(OutlineLine { group, code, title, want, say: line.say, source })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::super::tests::outlined;
    use super::*;
    use crate::bill::draw_up;
    use crate::bill::fixture::{d, item, job, stock};
    use crate::works::formwork;

    /// A face billed in m takes for a metre what its mean breadth takes of a square metre.
    #[test]
    fn an_edge_in_metres_is_built_up_by_its_breadth() {
        // 6 m of 0.15 and 4 m of 0.20: 1.7 m2 over 10 m.
        let line = |length: i128, breadth: Ratio| {
            let (value, exact) = (Ratio::int(length), Ratio::int(length) * breadth);
            let (note, times, dims) = (Phrase::new("both-lengths"), Vec::new(), Vec::new());
            crate::sheet::Line { note, times, dims, of_item: None, value, net: exact, exact, per: breadth }
        };
        let lines = vec![line(6, ratio(d("0.15"))), line(4, ratio(d("0.2")))];
        let edge = crate::sheet::Item {
            unit: Unit::M,
            lines,
            ..item(&formwork::FORMWORK_BASE_EDGE, "250", Stage::Base, "10")
        };
        let (sheet, job, stock) = (Sheet { items: vec![edge], voids: Vec::new() }, job(&[]), stock());
        let mut bill = draw_up(&sheet, &job, &stock);
        outlines(&mut bill, &sheet, &job, &stock, None);
        let of = |outline: &Outline| -> Vec<_> {
            let quantity = |l: &OutlineLine| match l.want {
                Want::Goods { quantity, .. } | Want::Amount { quantity, .. } => {
                    Some(quantity / ratio(outline.per))
                }
                Want::Percent(..) => None,
            };
            outline.lines.iter().filter_map(quantity).collect()
        };
        let made = &Made::NOTHING;
        let (work, stage) = (&formwork::FORMWORK_BASE_EDGE, Stage::Base);
        let square = Piece { work, spec: "", made, stage, unit: Unit::M2, width: None };
        let square = Outline::of(&job, &stock, square).unwrap();
        let want: Vec<_> = of(&square).into_iter().map(|q| q * ratio(d("0.17"))).collect();
        assert!(!want.is_empty());
        assert_eq!(of(&outlined(&bill, "A1")), want);
    }
}
