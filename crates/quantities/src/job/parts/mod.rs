//! The tables of the job file that belong to no element. The elements bring their own.

mod cheapest;
mod contract;
mod firm;
mod ground;
mod job;
mod materials;
mod money;
mod orders;
mod payments;
mod programme;
mod site;
mod sizing;
mod steel;
mod tank;
mod to_price;

use super::field::Field;

/// Source of a default that the trade uses without a published one.
const COMMON: &str = "common practice, no source";

/// Source of a default that is this program's own.
const OURS: &str = "our choice, printed";

/// The tables before the elements' own: the job, the ground, what lies round it, the sizing rule, the search, the
/// tank's size.
#[must_use]
pub fn before() -> Vec<&'static [Field]> {
    vec![job::FIELDS, ground::FIELDS, site::FIELDS, sizing::FIELDS, cheapest::FIELDS, tank::FIELDS]
}

/// The tables after the elements' own: steel, materials, buying, time, money and bills that others price.
#[must_use]
pub fn after() -> Vec<&'static [Field]> {
    vec![
        steel::FIELDS,
        materials::FIELDS,
        orders::FIELDS,
        programme::FIELDS,
        money::FIELDS,
        contract::FIELDS,
        payments::FIELDS,
        to_price::FIELDS,
        firm::FIELDS,
    ]
}

/// All tables of this module.
#[must_use]
pub fn tables() -> Vec<&'static [Field]> {
    [before(), after()].concat()
}

/// Who offers: the table of `firm.toml`.
#[must_use]
pub fn firm_table() -> &'static [Field] {
    firm::FIELDS
}
