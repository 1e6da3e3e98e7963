//! How a run ends.

/// The exit codes of the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// Done.
    Done = 0,
    /// A fault of the program.
    Fault = 1,
    /// The command line is wrong.
    Usage = 2,
    /// The job file is refused.
    Job = 3,
    /// The price list or other data are refused.
    Rates = 4,
    /// A balance does not close: a defect of the program, nothing is written.
    Balance = 5,
    /// A file cannot be read or written.
    File = 6,
}

impl Exit {
    /// The number the system gets.
    #[must_use]
    pub const fn code(self) -> i32 {
        self as i32
    }

    /// What `--help` says about each.
    pub(crate) const HELP: &str = "Exit codes: 0 done, 1 fault of the program, 2 wrong command line, \
        3 job file refused,\n4 rates refused, 5 a balance failed, 6 file trouble. \
        Data go to stdout, everything else to stderr.";
}
