//! Codes of what materials refuse.

/// An unknown material in `[waste]`.
pub(super) const WASTE_OF: &str = "J100";
/// Waste that is not a percentage.
pub(super) const PERCENT: &str = "J101";
/// An unknown origin of mixes.
pub(super) const ORIGIN: &str = "J102";
/// An unknown figure.
pub(super) const FIGURE: &str = "J103";
/// An unknown value of a figure.
pub(super) const VALUE: &str = "J104";
/// A unit of the job's own with a name that cannot be used.
pub(super) const UNIT_NAME: &str = "J105";
/// A unit of the job's own whose cells cannot be.
pub(super) const UNIT_CELLS: &str = "J106";
/// Data that do not hold together.
pub(super) const DATA: &str = "J107";

/// Waste of what the cutting plan buys.
pub(super) const CUT: &str = "J108";

/// Code and meaning.
pub const CODES: &[(&str, &str)] = &[
    (WASTE_OF, "waste of a material that is not known"),
    (PERCENT, "waste that is not a percentage"),
    (ORIGIN, "mixes of an origin that is not known"),
    (FIGURE, "a figure that no recipe has"),
    (VALUE, "a value that a figure does not have"),
    (UNIT_NAME, "a masonry unit of the job's own with a name that is taken or cannot be one"),
    (UNIT_CELLS, "a masonry unit of the job's own whose cells are not a share of it"),
    (DATA, "recipes that name what no data file has"),
    (CUT, "waste of bars, which are bought by the cutting plan"),
];
