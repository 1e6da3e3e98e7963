//! What the tests share: random jobs, and one function per boundary.

pub mod random;
