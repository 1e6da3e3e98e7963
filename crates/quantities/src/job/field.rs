//! The table of fields: reader, key reference, `new`, forms and schema are made from it.

/// What may stand at a key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A length: whole millimetres, or text with a unit. Least and most, in tenths of a millimetre.
    Length {
        /// Least allowed.
        least: i64,
        /// Most allowed.
        most: i64,
    },
    /// A list of lengths, at least one.
    Lengths {
        /// Least allowed.
        least: i64,
        /// Most allowed.
        most: i64,
        /// How many at most.
        count: usize,
    },
    /// Two lengths: along the tank, across it.
    Size {
        /// Least allowed.
        least: i64,
        /// Most allowed.
        most: i64,
    },
    /// A list of sizes, may be empty.
    Sizes {
        /// Least allowed.
        least: i64,
        /// Most allowed.
        most: i64,
    },
    /// A whole number.
    Count {
        /// Least allowed.
        least: i64,
        /// Most allowed.
        most: i64,
    },
    /// A plain number as decimal text or whole number, not negative (a batter, a percentage, an amount).
    Number {
        /// Most places after the point.
        places: u32,
    },
    /// A plain number that lengths are multiplied by: decimal text, a whole number, or `1 in 4`; not negative.
    Factor {
        /// Most places after the point.
        places: u32,
    },
    /// A length from 0 to 100 m, or this word.
    LengthOr(&'static str),
    /// Yes or no.
    Flag,
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Proportions by volume: `1:2:4`, at most 12 of each.
    Mix {
        /// How many parts: 2 for mortar, 3 for concrete.
        parts: usize,
    },
    /// Bars in the notation of the drawing office: letter and diameter are the text at the key, how many or how far
    /// apart is an input below it, `key.number` or `key.spacing`.
    Bars {
        /// By spacing, `Y10@150`; else by number, `4Y12`.
        spaced: bool,
    },
    /// A lap: so many diameters, `40d` (a plain number), or a length.
    Lap,
    /// Free text of one line, at most 200 characters.
    Text,
    /// A calendar date, `2026-11-25`.
    Date,
    /// A list of texts, of choices or of titles; one text alone is a list of one.
    Texts,
    /// A list of lists of these words.
    Groups(&'static [&'static str]),
    /// A table whose keys are the user's words; values are text, whole numbers or lists of them (kept, read later).
    Open,
    /// A table of keys of the job file itself, with the values they are to get: the text of each as it is written.
    Changes,
}

/// When a part of the job file exists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Presence {
    /// Defaults apply though the table is left out.
    Always,
    /// Left out: not built, none of its fields exist. `required` fields are required only inside it.
    Optional,
    /// An array of tables; each one like `Optional`.
    List,
}

/// What holds when a key is left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fallback {
    /// It must be given (where its part exists).
    Required,
    /// Nothing: 0, false, empty. Not printed as a default.
    Nothing,
    /// This text, read like the user's own, printed as a default with its source.
    Default(&'static str, &'static str),
}

/// One row of the table. A row of kind [`Kind::Open`] with `presence` set stands for the part itself.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Dotted path; `[]` after the name of a list of tables: `tank.ring_beams[].depth`.
    pub key: &'static str,
    /// What may stand there; `None` for a row that declares a part (table).
    pub kind: Option<Kind>,
    /// For a part: when it exists.
    pub presence: Presence,
    /// For a value: when left out.
    pub fallback: Fallback,
    /// One line of help, for the key reference and `new`.
    pub help: &'static str,
}

impl Field {
    /// A part of the job file.
    #[must_use]
    pub const fn part(key: &'static str, presence: Presence, help: &'static str) -> Self {
        Self { key, kind: None, presence, fallback: Fallback::Nothing, help }
    }

    /// A value.
    #[must_use]
    pub const fn value(key: &'static str, kind: Kind, fallback: Fallback, help: &'static str) -> Self {
        Self { key, kind: Some(kind), presence: Presence::Always, fallback, help }
    }

    /// A length up to 100 m.
    #[must_use]
    pub const fn length(key: &'static str, least: i64, fallback: Fallback, help: &'static str) -> Self {
        Self::value(key, Kind::Length { least, most: 1_000_000 }, fallback, help)
    }
}
