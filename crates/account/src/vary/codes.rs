//! Problem codes of variations. From J235 on they are cautions.

/// Code and meaning, in order.
pub const CODES: &[(&str, &str)] = &[
    (NOTHING, "a variation that does not say what it changes"),
    (SAME_ID, "two variations with one number"),
    (NOT_VARIED, "a key that no variation changes"),
    (NOT_TAKEN, "a change that the job file does not take"),
    (COVERS, "a variation that covers what is no work, or what another covers"),
    (NO_ROW, "an item that the contract does not have, or has more than once"),
    (ITEM_HOW, "an item of a variation priced in no way, in two, or in half of one"),
    (NO_RATE, "an item that neither the contract nor a star rate prices"),
    (NOT_PROVISIONAL, "a re-measured item that the contract does not have, or has priced otherwise"),
    (OTHER_TERMS, "a job file of the account that says something else of the contract's money"),
    (DAYWORK_HOW, "a daywork without a rate, or by a code that the price list does not have"),
    (BUILD_UP, "a build-up that does not add up to a rate"),
    (NO_ADDITION, "an addition to be left out that the contract does not have"),
    (SAME_STAR, "two star rates for one item"),
    (TOO_LARGE, "amounts that cannot be reckoned exactly"),
    (NO_EFFECT, "a variation that changes nothing in the bill"),
    (NOT_USED, "the account's own profile, which is not used"),
    (NOT_READ, "variations and payments of the contract's file, which are not read"),
    (IDLE_STAR, "a star rate that nothing uses"),
    (PERCENT_TWICE, "profit that may be in twice"),
    (EARLY, "a variation older than the contract"),
];

pub(super) const NOTHING: &str = "J220";
pub(super) const SAME_ID: &str = "J221";
pub(super) const NOT_VARIED: &str = "J222";
pub(super) const NOT_TAKEN: &str = "J223";
pub(super) const COVERS: &str = "J224";
pub(super) const NO_ROW: &str = "J225";
pub(super) const ITEM_HOW: &str = "J226";
pub(super) const NO_RATE: &str = "J227";
pub(super) const NOT_PROVISIONAL: &str = "J228";
pub(super) const OTHER_TERMS: &str = "J229";
pub(super) const DAYWORK_HOW: &str = "J230";
pub(super) const BUILD_UP: &str = "J231";
pub(super) const NO_ADDITION: &str = "J232";
pub(super) const SAME_STAR: &str = "J233";
pub(super) const TOO_LARGE: &str = "J234";
pub(super) const NO_EFFECT: &str = "J235";
pub(super) const NOT_USED: &str = "J236";
pub(super) const NOT_READ: &str = "J237";
pub(super) const IDLE_STAR: &str = "J238";
pub(super) const PERCENT_TWICE: &str = "J239";
pub(super) const EARLY: &str = "J240";
