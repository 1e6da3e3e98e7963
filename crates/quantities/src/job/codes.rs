//! The codes of everything that can be wrong with the text of a job file: one code, one mistake.

/// Code and meaning, in order.
pub const CODES: &[(&str, &str)] = &[
    (SYNTAX, "the line is not written as a job file asks"),
    (TWICE, "a key or part given twice"),
    (DEEP, "nested too deep"),
    (UNKNOWN_KEY, "a key that does not exist"),
    (WRONG_HOME, "a key that belongs to another part"),
    (MISSING, "a key that must be given"),
    (FORMAT, "a format this program does not read"),
    (NOT_A_PART, "a part written as something else"),
    (WRONG_SHAPE, "a value of another sort than the key takes"),
    (LENGTH_FLOAT, "a length as a bare number with a point"),
    (LENGTH_NO_UNIT, "a length without its unit"),
    (LENGTH_COMMA, "a length with a comma"),
    (LENGTH_UNIT, "a length in a unit that is not known"),
    (LENGTH_FINE, "a length finer than a tenth of a millimetre"),
    (NOT_A_LENGTH, "not a length"),
    (LENGTH_LONG, "a length that is too long"),
    (LENGTH_SHORT, "a length that is too short"),
    (LIST_LENGTH, "a list with too few or too many entries"),
    (NUMBER_FLOAT, "an exact number as a bare number with a point"),
    (NUMBER_COMMA, "a number with a separator inside"),
    (NUMBER_SIGN, "a number with a sign"),
    (NOT_A_NUMBER, "not a plain number"),
    (NUMBER_PLACES, "a number with too many places"),
    (NUMBER_RANGE, "a number that is too large, or 0 where 0 means nothing"),
    (NOT_A_COUNT, "not a whole number"),
    (COUNT_RANGE, "a whole number out of range"),
    (NOT_A_FLAG, "neither true nor false"),
    (NOT_A_CHOICE, "not one of the words that may stand there"),
    (NOT_A_MIX, "not proportions by volume"),
    (MIX_PARTS, "proportions with too few or too many parts"),
    (MIX_RANGE, "proportions out of range"),
    (BAD_TEXT, "a text that is empty, too long or not of one line"),
    (NOT_A_DATE, "not a date as 2026-11-25"),
    (NO_SUCH_DAY, "a day that the calendar does not have"),
    (OWN_KEY, "a name in a table of the user's own keys that cannot be kept"),
    (PRICED_HOW, "an entry priced in no way, in two, or in half of one"),
    (ADDED_HOW, "an addition with neither or both of percent and amount"),
    (ADDED_ON, "an addition on something that is not there before it"),
    (MORE, "more problems than are shown"),
    (NOT_BARS, "not bars in the notation of the drawing office"),
    (BARS_COUNTED, "a number of bars where their spacing is wanted"),
    (BARS_SPACED, "a spacing where a number of bars is wanted"),
    (BARS_NONE, "bars at a spacing of zero, or none of them"),
    (BARS_RANGE, "bars too near, too far apart or too many"),
    (NOT_A_LAP, "not a lap"),
];

pub(super) const SYNTAX: &str = "J001";
pub(super) const TWICE: &str = "J002";
pub(super) const DEEP: &str = "J003";
pub(super) const UNKNOWN_KEY: &str = "J004";
pub(super) const WRONG_HOME: &str = "J005";
pub(crate) const MISSING: &str = "J006";
pub(super) const FORMAT: &str = "J007";
pub(super) const NOT_A_PART: &str = "J008";
pub(super) const WRONG_SHAPE: &str = "J009";
pub(super) const LENGTH_FLOAT: &str = "J010";
pub(super) const LENGTH_NO_UNIT: &str = "J011";
pub(super) const LENGTH_COMMA: &str = "J012";
pub(super) const LENGTH_UNIT: &str = "J013";
pub(super) const LENGTH_FINE: &str = "J014";
pub(super) const NOT_A_LENGTH: &str = "J015";
pub(super) const LENGTH_LONG: &str = "J016";
pub(super) const LENGTH_SHORT: &str = "J017";
pub(super) const LIST_LENGTH: &str = "J018";
pub(super) const NUMBER_FLOAT: &str = "J019";
pub(super) const NUMBER_COMMA: &str = "J020";
pub(super) const NUMBER_SIGN: &str = "J021";
pub(super) const NOT_A_NUMBER: &str = "J022";
pub(super) const NUMBER_PLACES: &str = "J023";
pub(super) const NUMBER_RANGE: &str = "J024";
pub(super) const NOT_A_COUNT: &str = "J025";
pub(super) const COUNT_RANGE: &str = "J026";
pub(super) const NOT_A_FLAG: &str = "J027";
pub(super) const NOT_A_CHOICE: &str = "J028";
pub(super) const NOT_A_MIX: &str = "J029";
pub(super) const MIX_PARTS: &str = "J030";
pub(super) const MIX_RANGE: &str = "J031";
pub(super) const BAD_TEXT: &str = "J032";
pub(super) const NOT_A_DATE: &str = "J033";
pub(super) const NO_SUCH_DAY: &str = "J034";
pub(super) const OWN_KEY: &str = "J035";
pub(super) const PRICED_HOW: &str = "J036";
pub(super) const ADDED_HOW: &str = "J037";
pub(super) const ADDED_ON: &str = "J038";
pub(super) const MORE: &str = "J039";
pub(super) const NOT_BARS: &str = "J080";
pub(super) const BARS_COUNTED: &str = "J081";
pub(super) const BARS_SPACED: &str = "J082";
pub(super) const BARS_NONE: &str = "J083";
pub(super) const BARS_RANGE: &str = "J084";
pub(super) const NOT_A_LAP: &str = "J085";
