//! Published examples, one file per publication; only printed figures are tested, slips are named.

mod ad_h2_tekneka;
mod blog_septic_tank_w5;
mod bs_6297_tracey;
mod doh_philippines_sheet;
mod epa_1980_pit;
mod flows_and_loads_groups;
mod ipsdc_2012;
mod new_jersey_pits;
mod onlinecivil_media;
mod sls_745_student_design;
mod trade_practice_2_2;
mod vocational_textbook_8_4;
mod who_1992;
