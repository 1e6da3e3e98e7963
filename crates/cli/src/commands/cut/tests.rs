//! The verb over a disk in memory.
