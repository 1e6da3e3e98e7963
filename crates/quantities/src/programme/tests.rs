//! Programmes of small jobs, dates reckoned by hand.

use super::*;
use crate::bill::fixture::item;
use crate::orders::place;
use crate::orders::tests::{goods, on_site, schedule};
use crate::problem::Problem;
use crate::rates::{Wait, builtin};
use crate::sheet::Sheet;
use crate::works::{concrete, earthwork, finishes, formwork, masonry};

/// A tank with a soffit, ring beam and water test.
fn sheet() -> Sheet {
    let items = vec![
        item(&earthwork::EXCAVATION_PIT, "0-1.5", Stage::Dig, "13"),
        item(&concrete::CONCRETE_BASE, "1:2:4", Stage::Base, "1"),
        item(&masonry::BRICKWORK_WALL, "220", Stage::WallsLower, "1.9"),
        item(&concrete::CONCRETE_RING_BEAM, "1:2:4", Stage::RingBeam, "0.3"),
        item(&formwork::FORMWORK_RING_BEAM, "", Stage::RingBeam, "2"),
        item(&finishes::PLASTER_WALL, "20", Stage::Plaster, "10"),
        item(&finishes::WATER_TEST, "", Stage::Plaster, "1"),
        item(&concrete::CONCRETE_COVER, "1:2:4", Stage::Cover, "0.6"),
        item(&formwork::FORMWORK_COVER_SOFFIT, "", Stage::Cover, "3"),
        item(&earthwork::BACKFILL, "", Stage::Finish, "2"),
    ];
    Sheet { items, voids: Vec::new() }
}

fn drawn(more: &str, sheet: &Sheet) -> Result<Programme, Vec<Problem>> {
    on_site(more, |site| {
        let orders = place(site, &goods(), &schedule(), None)?;
        draw_up(site, sheet, &orders)
    })?
}

/// From and to of the entries of a kind in a stage.
fn when(programme: &Programme, kind: EventKind, stage: Stage) -> Vec<[String; 2]> {
    let of = programme.events.iter().filter(|e| e.kind == kind && e.stage == stage);
    of.map(|e| [e.from.to_string(), e.to.to_string()]).collect()
}

fn one(from: &str, to: &str) -> Vec<[String; 2]> {
    vec![[from.to_owned(), to.to_owned()]]
}

const START: &str = "[programme]\nstart = \"2026-12-01\"\ndays = { dig = 5, base = 2 }\n";

#[test]
fn stages_follow_and_wait_for_what_hardens() -> Result<(), Vec<Problem>> {
    let p = drawn(START, &sheet())?;
    let work = |stage| when(&p, EventKind::Stage, stage);
    assert_eq!(work(Stage::SetOut), one("2026-12-01", "2026-12-02")); // 2 days
    assert_eq!(work(Stage::Dig), one("2026-12-03", "2026-12-07")); // 5, the job's
    assert_eq!(work(Stage::Base), one("2026-12-08", "2026-12-09")); // 2, the job's; poured on the last
    assert_eq!(when(&p, EventKind::Pour, Stage::Base), one("2026-12-09", "2026-12-09"));
    assert_eq!(when(&p, EventKind::Curing, Stage::Base), one("2026-12-10", "2026-12-16")); // 7 days
    assert_eq!(work(Stage::WallsLower), one("2026-12-11", "2026-12-12")); // 2 days after the pour
    assert_eq!(work(Stage::RingBeam), one("2026-12-13", "2026-12-14"));
    assert_eq!(when(&p, EventKind::Strike, Stage::RingBeam), one("2026-12-15", "2026-12-15")); // 24 hours
    assert_eq!(work(Stage::Plaster), one("2026-12-16", "2026-12-18")); // 2 days after the beam's pour
    assert_eq!(when(&p, EventKind::Curing, Stage::Plaster), one("2026-12-19", "2026-12-25"));
    assert_eq!(when(&p, EventKind::WaterTest, Stage::Plaster), one("2026-12-26", "2026-12-27"));
    assert_eq!(work(Stage::Cover), one("2026-12-28", "2026-12-30"));
    // 28 days after 30 December; the soffit's other times stand beside it.
    assert_eq!(when(&p, EventKind::Strike, Stage::Cover), one("2027-01-27", "2027-01-27"));
    assert_eq!(work(Stage::Strike), one("2027-01-27", "2027-01-27"));
    assert_eq!(work(Stage::Finish), one("2027-01-28", "2027-01-29"));
    assert_eq!(work(Stage::SoakPit), Vec::<[String; 2]>::new());
    let struck = p.events.iter().find(|e| e.kind == EventKind::Strike && e.stage == Stage::Cover);
    let details = struck.map(|e| e.details.join("\n")).unwrap_or_default();
    assert!(details.contains("7 days") && details.contains("28 days") && details.contains("cl. 11.3.1"));
    assert!(p.events.windows(2).all(|w| w[0].from <= w[1].from));
    Ok(())
}

#[test]
fn deliveries_come_the_day_before_and_are_ordered_by_the_longest_lead() -> Result<(), Vec<Problem>> {
    let p = drawn(&format!("[orders]\nlead_days = {{ cement = 2, bars = 4 }}\n{START}"), &sheet())?;
    assert_eq!(when(&p, EventKind::Delivery, Stage::Base), one("2026-12-07", "2026-12-07"));
    assert_eq!(when(&p, EventKind::Order, Stage::Base), one("2026-12-03", "2026-12-03")); // 4 days: bars
    assert_eq!(when(&p, EventKind::Order, Stage::Plaster), one("2026-12-13", "2026-12-13")); // 2 days: cement
    let base = p.events.iter().find(|e| e.kind == EventKind::Delivery && e.stage == Stage::Base);
    let details = base.map(|e| e.details.clone()).unwrap_or_default();
    assert_eq!(details[0], "cement: 9 bags (50 kg bag)");
    assert_eq!(details[2], "bars/Y10: 7 bars (12 m bar)");
    Ok(())
}

#[test]
fn holds_stand_before_the_next_stage_and_before_the_pour() -> Result<(), Vec<Problem>> {
    let p = drawn(START, &sheet())?;
    assert!(
        when(&p, EventKind::Hold, Stage::Base).contains(&["2026-12-07".to_owned(), "2026-12-07".to_owned()])
    );
    assert!(
        when(&p, EventKind::Hold, Stage::Base).contains(&["2026-12-08".to_owned(), "2026-12-08".to_owned()])
    );
    // The water test is read on the last day before the cover.
    assert!(
        when(&p, EventKind::Hold, Stage::Cover).contains(&["2026-12-27".to_owned(), "2026-12-27".to_owned()])
    );
    let before: Vec<Stage> = p.holds.iter().map(|h| h.before).collect();
    assert!(before.is_sorted() && before.contains(&Stage::Strike) && !before.contains(&Stage::SoakPit));
    assert!(p.holds.iter().all(|h| !h.source.is_empty()));
    // No bars in this sheet: nothing to check of them.
    assert!(!p.holds.iter().any(|h| h.says.to_string().contains("bars by the schedule")));
    Ok(())
}

#[test]
fn real_pours_move_what_follows() -> Result<(), Vec<Problem>> {
    let late = drawn(&format!("{START}poured = {{ base = \"2026-12-20\" }}\n"), &sheet())?;
    assert_eq!(when(&late, EventKind::Stage, Stage::Base), one("2026-12-08", "2026-12-20"));
    assert_eq!(when(&late, EventKind::Stage, Stage::WallsLower), one("2026-12-22", "2026-12-23"));
    let early = drawn(&format!("{START}poured = {{ base = \"2026-12-05\" }}\n"), &sheet())?;
    assert_eq!(when(&early, EventKind::Stage, Stage::Dig), one("2026-12-03", "2026-12-04"));
    assert_eq!(when(&early, EventKind::Stage, Stage::Base), one("2026-12-04", "2026-12-05"));
    assert_eq!(when(&early, EventKind::Stage, Stage::WallsLower), one("2026-12-07", "2026-12-08"));
    // A cover poured before the water test could be over is told.
    let rash = drawn(&format!("{START}poured = {{ cover = \"2026-12-26\" }}\n"), &sheet())?;
    let told = rash.cautions.iter().find(|c| c.0 == Stage::Cover && c.1.key == "programme-too-early");
    assert!(told.is_some_and(|c| c.1.args[2] == "2026-12-28"), "{:?}", rash.cautions);
    assert_eq!(when(&rash, EventKind::Strike, Stage::Cover), one("2027-01-23", "2027-01-23"));
    Ok(())
}

#[test]
fn a_day_of_rest_is_passed_over_but_concrete_hardens_on_it() -> Result<(), Vec<Problem>> {
    // 6 December 2026 is a Sunday.
    let p = drawn(&format!("{START}rest_day = \"sunday\"\n"), &sheet())?;
    assert_eq!(when(&p, EventKind::Stage, Stage::Dig), one("2026-12-03", "2026-12-08"));
    assert_eq!(when(&p, EventKind::Stage, Stage::Base), one("2026-12-09", "2026-12-10"));
    assert_eq!(when(&p, EventKind::Stage, Stage::WallsLower), one("2026-12-12", "2026-12-14"));
    assert_eq!(when(&p, EventKind::Curing, Stage::Base), one("2026-12-11", "2026-12-17"));
    Ok(())
}

#[test]
fn without_a_start_there_are_holds_and_cautions_but_no_dates() -> Result<(), Vec<Problem>> {
    let p = drawn("", &sheet())?;
    assert!(p.events.is_empty() && !p.holds.is_empty());
    let of = |stage: Stage| p.cautions.iter().filter(|c| c.0 == stage).count();
    // What every job is told of holes and gas stands among the cautions of the job.
    assert!(of(Stage::Dig) == 0 && of(Stage::Strike) >= 3 && of(Stage::SoakPit) == 0);
    assert_eq!(p.days.iter().map(|d| d.stage).collect::<Vec<_>>().len(), 9);
    // No soffit, no striking.
    let mut open = sheet();
    open.items.retain(|i| i.work.id != "formwork-cover-soffit");
    let p = drawn("", &open)?;
    assert!(p.days.iter().all(|d| d.stage != Stage::Strike));
    Ok(())
}

#[test]
fn dates_that_contradict_each_other_are_refused() {
    let codes = |more: &str| -> Vec<&'static str> {
        drawn(more, &sheet()).map_or_else(|p| p.iter().map(|p| p.code).collect(), |_| Vec::new())
    };
    let with = |poured: &str| codes(&format!("{START}poured = {{ {poured} }}\n"));
    assert_eq!(with("base = \"2026-11-30\""), ["J120"]);
    assert_eq!(codes("[programme]\npoured = { base = \"2026-12-01\" }\n"), ["J120"]);
    assert_eq!(with("base = \"2026-12-20\", cover = \"2026-12-19\""), ["J121"]);
    assert_eq!(with("plaster = \"2026-12-20\""), ["J122"]);
    assert_eq!(with("soak-pit = \"2026-12-20\", base = \"2026-11-30\""), ["J122", "J120"]);
}

#[test]
fn the_longest_wait_for_props_is_the_one_that_counts() {
    let times = builtin().0.times;
    let props: Vec<&Wait> = times.waits.iter().filter(|w| w.kind == "props").collect();
    let used: Vec<u32> = props.iter().filter(|w| w.used).map(|w| w.days).collect();
    assert_eq!(used, [28, 28]); // the covers of tank and soak pit: common practice, no source
    assert!(props.iter().all(|w| w.days <= 28));
    let days = |id: &str| times.waits.iter().find(|w| w.id == id).map(|w| w.days);
    // IS 456:2000 cl. 11.3.1 as restated.
    assert_eq!(["soffit-slab", "soffit-beam", "props-slab", "props-beam"].map(days), [3, 7, 7, 14].map(Some));
    assert_eq!(times.days.len(), Stage::ALL.len());
}

#[test]
fn random_dates_keep_the_order_of_stages() -> Result<(), &'static str> {
    let first = Day::read("2026-12-01").ok_or("a date")?;
    let mut dice = crate::bill::fixture::Dice(11);
    for _ in 0..60 {
        let start = first.plus(i64::try_from(dice.roll(400)).unwrap_or(0));
        let mut more = format!("[programme]\nstart = \"{start}\"\nrest_day = \"sunday\"\n");
        more += &format!("days = {{ dig = {}, base = {} }}\n", dice.roll(9) + 1, dice.roll(4) + 1);
        let base = start.plus(i64::try_from(dice.roll(30)).unwrap_or(0));
        let cover = base.plus(i64::try_from(dice.roll(60)).unwrap_or(0));
        more += &format!("poured = {{ base = \"{base}\", cover = \"{cover}\" }}\n");
        let p = drawn(&more, &sheet());
        assert!(p.is_ok(), "{more} {p:?}");
        let p = p.map_err(|_| "refused")?;
        let work: Vec<&Event> = p.events.iter().filter(|e| e.kind == EventKind::Stage).collect();
        let mut by_stage = work.clone();
        by_stage.sort_by_key(|e| e.stage);
        assert!(
            by_stage.windows(2).all(|w| w[0].from <= w[1].from && w[0].to <= w[1].to),
            "{more} {work:#?}"
        );
        assert!(work.iter().all(|e| e.from <= e.to && e.from >= start), "{more}");
        let pour = when(&p, EventKind::Pour, Stage::Base);
        assert_eq!(pour, one(&base.to_string(), &base.to_string()), "{more}");
        let struck = p.events.iter().find(|e| e.kind == EventKind::Strike && e.stage == Stage::Cover);
        assert_eq!(struck.map(|e| cover.until(e.from)), Some(28), "{more}");
    }
    Ok(())
}

/// Days of a stage with so much of a work in it, and how they follow.
fn days_of(
    work: &'static crate::works::Work,
    spec: &str,
    stage: Stage,
    net: &str,
    more: &str,
) -> Result<(u32, String), Vec<Problem>> {
    let sheet = Sheet { items: vec![item(work, spec, stage, net)], voids: Vec::new() };
    let taken = drawn(more, &sheet)?.days.into_iter().find(|t| t.stage == stage);
    Ok(taken
        .map(|t| (t.days, t.why.map(|(says, _)| says.to_string()).unwrap_or_default()))
        .unwrap_or_default())
}

#[test]
fn usual_days_follow_the_work_there_is() -> Result<(), Vec<Problem>> {
    let dig = |net: &str, more: &str| days_of(&earthwork::EXCAVATION_PIT, "0-1.5", Stage::Dig, net, more);
    assert_eq!(dig("16", "")?, (7, String::new()));
    // 7 x 14 / 16 = 6.125, begun days are whole; 7 x 1.5 / 16 = 0.66.
    assert_eq!(dig("14", "")?, (7, String::new()));
    let (days, why) = dig("1.48", "")?;
    assert_eq!(days, 1);
    assert_eq!(why, "for 1.5 m3, where 7 days are usual for about 16 m3; give your own: programme.days.dig");
    // 7 + (113.4 - 16) / 4 = 7 + 24.35: 32.
    let (days, why) = dig("113.44", "")?;
    assert_eq!(days, 32);
    assert_eq!(
        why,
        "for 113.4 m3: 7 days for the first 16 m3, then 4 m3 a day; more men are quicker: give your own, programme.days.dig"
    );
    // What the job says holds.
    assert_eq!(dig("113.44", "[programme]\ndays = { dig = 12 }\n")?, (12, String::new()));
    // 2 + (18.9 - 2) / 2 = 2 + 8.45: 11.
    assert_eq!(days_of(&masonry::BRICKWORK_WALL, "330", Stage::WallsLower, "18.9", "")?.0, 11);
    // A pour stays one: it is told.
    let (days, why) = days_of(&concrete::CONCRETE_BASE, "1:2:4", Stage::Base, "7", "")?;
    assert_eq!(days, 3);
    assert_eq!(why, "3 days are usual for about 2 m3, here it is 7 m3: give your own, programme.days.base");
    assert_eq!(days_of(&concrete::CONCRETE_BASE, "1:2:4", Stage::Base, "1", "")?, (3, String::new()));
    Ok(())
}
