//! File trouble in plain words: codes F, exit 6.

use std::io::{Error, ErrorKind};

use tankwright_quantities::problem::{Place, Problem};

/// The longest file that is read, in bytes.
pub(crate) const LONGEST: u64 = 20_000_000;

/// Every code of this crate, each with its meaning in one line.
pub const CODES: &[(&str, &str)] = &[
    ("F001", "a file or folder that is not there"),
    ("F002", "a folder where a file is expected, or a file where a folder is"),
    ("F003", "a file larger than 20 MB"),
    ("F004", "a file that is not UTF-8 text"),
    ("F005", "no permission"),
    ("F006", "the system cannot read the file"),
    ("F007", "a file that exists already"),
    ("F008", "the system cannot write the file"),
    ("F009", "standard output cannot be written"),
    ("F010", "a port on which the page cannot be served"),
    ("F011", "a letter that papers cannot print"),
    ("F012", "a paper that cannot be made: a fault of the program"),
    ("F013", "a logo that cannot be used"),
    ("K001", "a list of pieces that is empty"),
    ("K002", "a list of pieces with more than 100 000 rows"),
    ("K003", "a list of pieces without a column for length or count"),
    ("K004", "a column of a list of pieces that nothing reads (caution)"),
    ("K005", "two columns of a list of pieces with one name"),
    ("K006", "a row of a list of pieces with more or fewer cells than the head"),
    ("K007", "a line break inside a cell of a list of pieces"),
    ("K008", "a piece whose length is not a length"),
    ("K009", "a piece whose length is finer than a millimetre"),
    ("K010", "a piece whose length is not more than 0"),
    ("K011", "a count of pieces that is not a whole number"),
    ("K012", "a count of 0 pieces"),
    ("K013", "a count of more than 1 000 000 000 pieces"),
    ("K014", "a piece longer than every stock that can be bought"),
    ("K015", "a piece of a few millimetres, written without a unit (caution)"),
    ("U001", "a measurement profile on the command line that is not known"),
    ("U002", "an id that nothing in the job has"),
    ("U003", "several stock lengths to cut from and not a price for each"),
    ("U004", "a stock length that is given twice"),
    ("U005", "no stock length that can be bought in any number"),
    ("U006", "more than 64 lengths of stock and offcuts"),
    ("U007", "a stage that the job does not have"),
    ("U008", "a drawing that the job does not have"),
    ("U009", "a language that has no catalogue of words"),
    ("U070", "contract and account both from standard input"),
    ("U080", "a folder of jobs with a base, or a list of sites without one"),
    ("U081", "a batch without jobs"),
    ("U082", "two columns of one name in a list of sites"),
    ("U083", "a row of a list of sites with more or fewer cells than the head"),
    ("U084", "a column of a list of sites that is no key of a job file"),
    ("U085", "a value of a list of sites that cannot be set as the base job is written"),
    ("U086", "a batch that was stopped, neither resumed nor begun anew"),
    ("U087", "a batch to be resumed that is asked something else"),
    ("U088", "a manual page of a command that is not there"),
    ("R090", "no built-in price list of that name"),
    ("R091", "a price is asked for and no price list is named"),
    ("R063", "two lists of different currencies are compared"),
    ("R093", "a price of a work that is not known (caution)"),
    ("R094", "a price of a work in a unit it is not measured in (caution)"),
];

/// Why a file cannot be read.
pub(crate) fn reading(name: &str, error: &Error) -> Problem {
    match error.kind() {
        ErrorKind::NotFound | ErrorKind::InvalidInput => {
            Problem::error("F001", None, format!("there is no file `{name}`"))
                .hint("paths are relative to the current folder; a price list in a job file, to that file")
        }
        ErrorKind::IsADirectory => folder(name),
        ErrorKind::NotADirectory => {
            Problem::error("F002", None, format!("`{name}`: a part of this path is a file, not a folder"))
        }
        ErrorKind::PermissionDenied => Problem::error("F005", None, format!("`{name}` may not be read"))
            .hint("ask for permission to read it, or copy it to a folder of your own"),
        _ => Problem::error("F006", None, format!("`{name}` cannot be read: {}", plain(error))),
    }
}

/// A folder where a file is expected.
pub(crate) fn folder(name: &str) -> Problem {
    let hint = format!("name the file in it, as `{}/job.toml`", name.trim_end_matches(['/', '\\']));
    Problem::error("F002", None, format!("`{name}` is a folder, not a file")).hint(hint)
}

/// Why a folder of data cannot be read.
pub(crate) fn reading_folder(name: &str, error: &Error) -> Problem {
    let hint = "name a folder with files as `tankwright rates --export DIR` writes them";
    match error.kind() {
        ErrorKind::NotFound => Problem::error("F001", None, format!("there is no folder `{name}`")),
        ErrorKind::NotADirectory => Problem::error("F002", None, format!("`{name}` is a file, not a folder")),
        _ => Problem::error("F006", None, format!("`{name}` cannot be read: {}", plain(error))),
    }
    .hint(hint)
}

/// A file that is too long.
pub(crate) fn too_large(name: &str) -> Problem {
    Problem::error("F003", None, format!("`{name}` is larger than {} MB", LONGEST / 1_000_000))
        .hint("is it the right file? Job files and price lists are short texts")
}

/// A file that is not text. `valid` bytes of it are.
pub(crate) fn not_text(name: &str, bytes: &[u8], valid: usize) -> Problem {
    let line = bytes.iter().take(valid).filter(|b| **b == b'\n').count() + 1;
    let byte = bytes.get(valid).copied().unwrap_or_default();
    let place = Place { file: name.to_owned(), span: valid..valid, line };
    let (message, hint) = match bytes {
        [b'P', b'K', 3, 4, ..] => (
            "this is a spreadsheet or zip file, not text".to_owned(),
            "a job file is text (TOML); a price list can be saved from a spreadsheet as CSV, UTF-8",
        ),
        [0xff, 0xfe, ..] | [0xfe, 0xff, ..] => {
            ("this text is UTF-16, not UTF-8".to_owned(), "save it again with the encoding UTF-8")
        }
        _ => (
            format!("this is not UTF-8 text: byte {byte:#04x} in line {line}"),
            "save it again with the encoding UTF-8",
        ),
    };
    Problem::error("F004", Some(place), message).hint(hint)
}

/// Why a file cannot be written.
pub(crate) fn writing(name: &str, error: &Error) -> Problem {
    let hint = "nothing is written; choose another place with --out, or try again";
    match error.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ResourceBusy | ErrorKind::ExecutableFileBusy => {
            Problem::error("F005", None, format!("`{name}` may not be written"))
                .hint("close it in other programs, a spreadsheet for one; or choose a folder of your own")
        }
        ErrorKind::ReadOnlyFilesystem => {
            Problem::error("F005", None, format!("`{name}` is on a disk that may only be read")).hint(hint)
        }
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            Problem::error("F008", None, format!("`{name}`: the disk is full")).hint(hint)
        }
        ErrorKind::NotFound => {
            Problem::error("F001", None, format!("`{name}`: its folder is not there")).hint("make it first")
        }
        ErrorKind::AlreadyExists | ErrorKind::NotADirectory => {
            Problem::error("F002", None, format!("`{name}`: a part of this path is a file, not a folder"))
                .hint("choose another folder, or move that file away")
        }
        _ => Problem::error("F008", None, format!("`{name}` cannot be written: {}", plain(error))).hint(hint),
    }
}

/// A file that would be overwritten.
pub(crate) fn exists(name: &str) -> Problem {
    Problem::error("F007", None, format!("`{name}` exists already"))
        .hint("choose another name, or give --force to replace it")
}

/// The system's own words without its number.
pub(crate) fn plain(error: &Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or_default().to_lowercase()
}
