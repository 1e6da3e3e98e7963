//! Contracts where the client buys: which materials belong to which row of the bill.

use std::collections::BTreeMap;

use tankwright_geometry::Ratio;

use crate::bill::{Bill, BillRow};
use crate::materials::{Materials, Use};
use crate::sheet::Sheet;
use crate::words::Phrase;

/// How much of a material.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// Material, as in `materials`.
    pub material: String,
    /// In its own unit, with waste, exact.
    pub quantity: Ratio,
}

/// Materials that no row of the bill pays for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Besides {
    /// What for, in words: over-break, a work that is in the rate of another, the material itself.
    pub says: Phrase,
    /// Materials.
    pub parts: Vec<Part>,
}

/// The uses of a job, parted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Split {
    /// Materials of each row of the bill, in its order.
    pub rows: Vec<Vec<Part>>,
    /// All others.
    pub besides: Vec<Besides>,
}

/// Parts the uses of a job: each goes to the row that bills its item, bars to the row of their kind, all others
/// are besides (over-break, works that are not billed, test water, binding wire).
#[must_use]
pub fn split(bill: &Bill, materials: &Materials, sheet: &Sheet) -> Split {
    let rows: Vec<&BillRow> = bill.sections.iter().flat_map(|s| &s.rows).collect();
    let mut split = Split { rows: vec![Vec::new(); rows.len()], besides: Vec::new() };
    let mut at: BTreeMap<String, usize> = BTreeMap::new();
    for used in &materials.uses {
        let own = rows.iter().position(|r| r.items.contains(&billed_as(used)));
        let parts = match own.and_then(|own| split.rows.get_mut(own)) {
            Some(parts) => parts,
            None => {
                let says = besides(used, materials, sheet);
                let next = split.besides.len();
                let place = *at.entry(says.to_string()).or_insert(next);
                if place == next {
                    split.besides.push(Besides { says, parts: Vec::new() });
                }
                let Some(entry) = split.besides.get_mut(place) else { continue };
                &mut entry.parts
            }
        };
        let gross = used.amount * (Ratio::int(100) + used.waste_percent) / Ratio::int(100);
        match parts.iter_mut().find(|p| p.material == used.material) {
            Some(part) => part.quantity = part.quantity + gross,
            None => parts.push(Part { material: used.material.clone(), quantity: gross }),
        }
    }
    split
}

/// The item whose row pays for a use: its own; bars are counted piece by piece, and billed by kind and stage.
fn billed_as(used: &Use) -> String {
    if used.item.is_empty() {
        return format!("{}/{}", used.material, used.stage.id());
    }
    used.item.clone()
}

fn besides(used: &Use, materials: &Materials, sheet: &Sheet) -> Phrase {
    if used.over_break {
        return Phrase::new("split-over-break");
    }
    if let Some(item) = sheet.find(&used.item) {
        return item.wording.clone();
    }
    if used.steps.iter().any(|s| s.says.key == "materials-test-water") {
        return Phrase::new("split-test-water");
    }
    let title = materials.materials.iter().find(|m| m.id == used.material).map(|m| m.title.as_str());
    Phrase::with("plain", &[title.unwrap_or(&used.material)])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bill::draw_up;
    use crate::bill::fixture::{item, job, ratio as r, sheet, stock, used};

    use crate::stage::Stage;
    use crate::works::finishes::CEMENT_PASTE;
    use crate::works::reinforcement::BARS;

    #[test]
    fn each_use_goes_to_the_row_of_its_item_and_the_rest_is_besides() {
        let mut sheet = sheet();
        sheet.items.push(item(&BARS, "Y12", Stage::Base, "71.04"));
        let mut paste = item(&CEMENT_PASTE, "", Stage::Plaster, "10");
        paste.unbilled = true;
        sheet.items.push(paste);
        let bill = draw_up(&sheet, &job(&[]), &stock());
        let mut packing = used("bricks", "over-break/packing/walls-lower", "30", "5");
        packing.over_break = true;
        let uses = vec![
            used("cement", "concrete-base/1:2:4/base", "486.4", "2.5"),
            used("sand", "concrete-base/1:2:4/base", "0.7", "0"),
            used("cement", "brickwork-wall/220/walls-lower", "400", "0"),
            used("cement", "brickwork-wall/220/walls-upper", "100", "5"),
            used("bars/Y12", "", "48", "0"),
            used("bars/Y12", "", "32", "0"),
            packing,
            used("cement", "cement-paste/plaster", "30", "0"),
            used("water", "", "2000", "0"),
        ];
        let split = split(&bill, &Materials { uses, ..Materials::default() }, &sheet);
        let row = |work: &str| {
            let at = bill.sections.iter().flat_map(|s| &s.rows).position(|r| r.work.id == work);
            at.and_then(|at| split.rows.get(at)).cloned().unwrap_or_default()
        };
        let part = |material: &str, quantity: Ratio| Part { material: material.to_owned(), quantity };
        let base = [part("cement", r("486.4") * r("1.025")), part("sand", r("0.7"))];
        assert_eq!(row("concrete-base"), base);
        assert_eq!(row("brickwork-wall"), [part("cement", r("400") + r("100") * r("1.05"))]);
        assert_eq!(row("bars"), [part("bars/Y12", r("48") + r("32"))]);
        assert_eq!(row("excavation-pit"), []);
        let rest: Vec<_> =
            split.besides.iter().map(|b| (b.parts[0].material.as_str(), b.parts[0].quantity)).collect();
        assert_eq!(rest, [("bricks", r("30") * r("1.05")), ("cement", r("30")), ("water", r("2000"))]);
    }
}
