//! The whole solver.
