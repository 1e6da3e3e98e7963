//! The account in figures.
