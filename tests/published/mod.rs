//! Published examples, one file per publication; only printed figures are tested, slips are named.

mod ad_h2_tekneka;
mod atlas_and_griffith_w13;
mod bars_and_laps;
mod blog_septic_tank_w5;
mod bs_6297_tracey;
mod cpwd_rates;
mod doh_philippines_sheet;
mod dry_volume;
mod epa_1980_pit;
mod ethiopian_norms;
mod flows_and_loads_groups;
mod ipsdc_2012;
mod masonry_counts;
mod new_jersey_pits;
mod onlinecivil_media;
mod septic_vault_w6;
mod sls_745_student_design;
mod soak_pit_blog_w3;
mod trade_practice_2_2;
mod trade_practice_4;
mod us_navy_14070_w11;
mod us_navy_manuals_w12;
mod vocational_textbook_8_4;
mod who_1992;
