//! Every code of this part, each with its meaning in one line.

/// Code and meaning. The codes below R040 belong to the reading of price lists.
pub const CODES: &[(&str, &str)] = &[
    ("R040", "a work without a rate"),
    ("R041", "the rate of a work is for another unit"),
    ("R042", "the rate of a work is left empty"),
    ("R043", "price list and job have different currencies"),
    ("R044", "a currency that is not known"),
    ("R045", "rates older than 90 days, or later than the job (caution)"),
    ("R046", "a row that comes to nothing (caution)"),
    ("R047", "an amount too large to be reckoned exactly"),
    ("R048", "an addition is taken on a title that does not stand before it, or not clearly"),
    ("R049", "an addition is taken on additions without the measured works"),
    ("R050", "an entry without an amount, or finer than the currency's smallest unit"),
    ("R051", "a preliminary covers what is not on the checklist"),
    ("R052", "labour-only: a material of the bill without a rate"),
    ("R053", "labour-only: the rate of a material is for another unit or pack"),
    ("R054", "labour-only: the rate of a material is left empty"),
    ("R055", "labour-only: the materials of a work cost more than its rate"),
];
