//! Concrete as a bill has it, as it stands in the work, and as it must be mixed.

use rust_decimal::Decimal;
use tankwright_geometry::Ratio;

use crate::decimal;
use crate::sheet::{Item, Sheet};
use crate::works::{self, MadeOf, Unit};

/// Three figures of the concrete, m3; the four of the earth are in [`crate::estimate::Earth`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Concrete {
    /// As billed.
    pub billed: Decimal,
    /// In the finished work, every void out.
    pub net: Decimal,
    /// To be mixed: with what fills over-break, without waste.
    pub mixed: Decimal,
}

/// The concrete of a sheet; `None` where a number grew beyond what can be held.
pub(crate) fn concrete(sheet: &Sheet) -> Option<Concrete> {
    let items = || sheet.items.iter().filter(|i| i.work.made_of == MadeOf::Concrete && i.unit == Unit::M3);
    let billed = items().filter(|i| !i.unbilled).map(|i| decimal::ratio(i.quantity)).sum();
    let net: Ratio = items().map(|i| decimal::ratio(i.net)).sum();
    let over: Ratio = sheet.voids.iter().filter_map(filled_with_concrete).sum();
    let at = |r| decimal::rounded(r, 12);
    Some(Concrete { billed: at(billed)?, net: at(net)?, mixed: at(net + over)? })
}

/// Volume of over-break beside concrete.
fn filled_with_concrete(item: &Item) -> Option<Ratio> {
    let allowance = item.made.thickness.as_ref().filter(|_| item.work.made_of == MadeOf::OverBreak)?;
    let other = item.spec == "packing" || works::all().iter().any(|w| w.id == item.spec);
    (!other).then(|| decimal::ratio(item.net) * allowance.value() / Ratio::int(10_000))
}
