//! Problem codes of this room.

/// Code and meaning in one line. J: the job file, U: the command line, C: cautions.
pub const CODES: &[(&str, &str)] = &[
    ("C100", "a deposit that cannot be derived: goods without a rate"),
    ("C101", "a deposit over a quarter of the total"),
    ("C102", "the client has paid more than the work is worth"),
    ("J201", "a stage more than 100 per cent done"),
    ("J202", "a stage less done than at an earlier valuation"),
    ("J203", "a stage this job does not have"),
    ("J204", "two valuations of one day"),
    ("J205", "a deposit that cannot be read"),
    ("J206", "a deposit for materials where none are bought, or where the client buys them"),
    ("J207", "a deposit larger than the total"),
    ("J208", "a retention out of its range"),
    ("J209", "provisional items valued that the bill does not have"),
    ("U060", "--at or --done names a stage this job does not have, or --done one twice"),
    ("U061", "--done gives more than 100 per cent, or less than an earlier valuation"),
];
