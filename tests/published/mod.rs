//! Published examples, one file per publication; only printed figures are tested, slips are named.

mod atlas_and_griffith_w13;
mod bars_and_laps;
mod blog_septic_tank_w5;
mod cpwd_rates;
mod dry_volume;
mod ethiopian_norms;
mod masonry_counts;
mod septic_vault_w6;
mod trade_practice_2_2;
mod trade_practice_4;
mod us_navy_manuals_w12;
mod vocational_textbook_8_4;
