//! One program for every door: `TANKWRIGHT_DOOR` names the one that the bytes are thrown at.

#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::fuzz_target;
use tankwright_tests::hard::DOORS;

static DOOR: LazyLock<fn(&[u8])> = LazyLock::new(|| {
    let wanted = std::env::var("TANKWRIGHT_DOOR").unwrap_or_default();
    let door = DOORS.iter().find(|(name, _)| *name == wanted);
    door.expect("TANKWRIGHT_DOOR names a door of tests/src/hard.rs").1
});

fuzz_target!(|bytes: &[u8]| DOOR(bytes));
