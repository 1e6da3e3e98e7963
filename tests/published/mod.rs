//! Published examples, one file per publication; only printed figures are tested, slips are named.

mod bars_and_laps;
mod blog_septic_tank_w5;
mod trade_practice_2_2;
mod vocational_textbook_8_4;
