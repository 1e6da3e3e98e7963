//! The pages of the workbook, one a file. Another page: a file here, a line in `book::workbook`, a word in
//! `cells::PageId`.

pub(crate) mod additions;
pub(crate) mod analysis;
pub(crate) mod bars;
pub(crate) mod bill;
pub(crate) mod checks;
pub(crate) mod cutting;
pub(crate) mod decisions;
pub(crate) mod dimensions;
pub(crate) mod figures;
pub(crate) mod illustrations;
pub(crate) mod inputs;
pub(crate) mod materials;
pub(crate) mod net;
pub(crate) mod orders;
pub(crate) mod owners;
pub(crate) mod rates;
pub(crate) mod sources;
pub(crate) mod stages;
pub(crate) mod structure;
pub(crate) mod summary;
pub(crate) mod times;
