//! Published examples, one file per publication. Each gives `OF`, what it is from, and `figures()`: what is printed beside
//! ours, held here and written to `tests/PUBLISHED.md`. Only printed figures are tested, slips are named.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::LazyLock;

use tankwright_tests::figures::{Part, near, page, same, slip};

/// Every file once: as a module, and on the page.
macro_rules! files {
    ($($file:ident)*) => {
        $(mod $file;)*

        /// Worked out once.
        static PARTS: LazyLock<Vec<Part>> =
            LazyLock::new(|| vec![$((stringify!($file), $file::OF, $file::figures()),)*]);
    };
}

files! {
    ad_h2_tekneka
    atlas_and_griffith_w13
    bangladesh_pwd_brickwork
    bars_and_laps
    blog_septic_tank_w5
    brick_rate_r13_crosscheck
    bs_6297_tracey
    cesspool_w23
    civilatwork_plaster
    civiljungles_brickwork
    cpwd_rates
    doh_philippines_sheet
    dry_volume
    eng_tips_flotation
    epa_1980_pit
    ethiopian_norms
    fix_my_septic_flotation
    flows_and_loads_groups
    fossee_3683
    hp_2020_earthwork
    ipsdc_2012
    learntocivil_w14
    malaysia_brickwork
    malaysia_half_brick
    malaysia_links
    malaysia_y12
    masonry_counts
    new_jersey_pits
    one_way_slab_sheet
    onlinecivil_media
    onsite_installer_flotation
    oxfam_tbn9_w22
    ph_flow_sheet_w16
    ques10_w13
    retaining_wall_sheet
    septic_vault_w6
    sls_745_student_design
    soak_pit_blog_w3
    south_africa_mortar
    tank_wall_sheet
    trade_practice_1_3
    trade_practice_2_2
    trade_practice_4
    trade_practice_6
    trade_practice_6_crosscheck
    us_navy_14070_w11
    us_navy_manuals_w12
    us_soil_tables
    vocational_textbook_8_4
    who_1992
}

#[test]
fn every_figure_stands_as_it_says() {
    let mut wrong = Vec::new();
    for (file, of, figures) in PARTS.iter() {
        assert!(!of.title.is_empty() && !of.source.is_empty(), "{file}");
        assert!(!figures.is_empty(), "{file} has no figure");
        wrong.extend(figures.iter().filter(|f| !f.holds()).map(|f| (*file, f)));
        let cells = figures.iter().all(|f| !format!("{} {:?}", f.what, f.stands).contains('|'));
        assert!(cells, "{file}: a cell of the page is cut");
        let named: BTreeSet<_> = figures.iter().map(|f| &f.what).collect();
        assert_eq!(named.len(), figures.len(), "{file} names two figures alike");
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_figure_that_does_not_stand_so_is_found() {
    assert!(same("x", "22.50", "22.5").holds() && !same("x", "22.5", "22.504").holds());
    assert!(near("x", "22.50", "22.504").holds() && !near("x", "22.50", "22.505").holds());
    assert!(slip("x", "6.67", "6.57", "6.566", "why").holds());
    // Not as stated, no slip at all, and one without a reason.
    assert!(!slip("x", "6.67", "6.57", "6.58", "why").holds());
    assert!(!slip("x", "6.57", "6.57", "6.57", "why").holds());
    assert!(!slip("x", "6.67", "6.57", "6.57", "").holds());
    assert!(!same("x", "a", "a").holds() && !near("x", "a", "a").holds());
}

#[test]
fn the_page_is_as_committed() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("PUBLISHED.md");
    let now = page(&PARTS);
    if std::env::var_os("TANKWRIGHT_UPDATE").is_some() {
        std::fs::write(&path, &now).unwrap();
    }
    let then = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(now == then, "PUBLISHED.md differs; run with TANKWRIGHT_UPDATE=1 if it should");
}

#[test]
fn every_file_of_this_folder_is_on_the_page() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("published");
    let names = std::fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap());
    let there: BTreeSet<String> = names.filter(|n| n != "mod.rs").map(|n| n.replace(".rs", "")).collect();
    assert_eq!(PARTS.iter().map(|p| p.0.to_owned()).collect::<BTreeSet<_>>(), there);
    let page = std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("PUBLISHED.md")).unwrap();
    for (file, of, _) in PARTS.iter() {
        assert!(
            page.contains(&format!("\n## {}\n", of.title)) && page.contains(&format!("/{file}.rs`")),
            "{file}"
        );
    }
}
