//! Papers and files made from an estimate: abstract cells first, then writers. No measuring, no pricing.

pub mod book;
pub mod cells;
pub mod check;
pub mod evaluate;
pub mod expr;
mod pages;
mod sizes;
pub mod trail;
pub mod xlsx;

#[cfg(test)]
mod fixture;
