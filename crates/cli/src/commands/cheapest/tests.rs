//! The search over a disk in memory.
