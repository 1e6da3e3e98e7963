//! Lists of goods received: what comes of good ones, and every mistake once.

use super::*;
use crate::bill::fixture::{Dice, d};
use crate::job::Day;
use crate::orders::Orders;
use crate::orders::tests::{goods, placed};
use crate::problem::{Problem, Severity};
use crate::programme::{Event, EventKind, Programme};
use crate::words::Phrase;

const HEAD: &str = "date,material,quantity,pack,note,rejected,stage,counted\n";

fn orders() -> Result<Orders, Vec<Problem>> {
    placed("[packs]\nsand-building = \"3 m3\"\n", &goods(), None)
}

fn of(text: &str) -> Result<StoreAccount, Vec<Problem>> {
    account(text, "received.csv", &orders()?, &goods())
}

fn row<'a>(account: &'a StoreAccount, stage: Stage, material: &str) -> Option<&'a StoreRow> {
    account.rows.iter().find(|r| r.stage == stage && r.material == material)
}

#[test]
fn the_account_of_a_base_and_lower_walls() -> Result<(), Vec<Problem>> {
    let list = "2026-12-07,cement,9,50 kg,two torn,2,,\n\
                2026-12-08,cement,2,bag,in their place,,,\n\
                2026-12-07,sand-building,1,trip,,,,\n\
                2026-12-09,cement,,,,,base,15\n\
                2026-12-12,cement,8,50 kg bag,,,walls-lower,\n\
                2026-12-11,bricks,1500,,,,,\n";
    let account = of(&format!("{HEAD}{list}"))?;
    assert_eq!(account.until, Stage::WallsLower);
    let base = row(&account, Stage::Base, "cement").cloned();
    // 9 + 2 bags came, 2 went back; 431.65 kg should have been used.
    assert_eq!(
        base.as_ref().map(|r| [r.ordered, r.received, r.rejected, r.used, r.should_be]),
        Some([d("450"), d("550"), d("100"), d("431.65"), d("450") - d("431.65")])
    );
    assert_eq!(base.map(|r| (r.counted, r.difference)), Some((Some(d("15")), Some(d("15") - d("18.35")))));
    // The next stage begins with what was counted, and 8 bags.
    let walls = row(&account, Stage::WallsLower, "cement").cloned();
    assert_eq!(walls.map(|r| (r.opening, r.should_be)), Some((d("15"), d("15") + d("400") - d("338.5"))));
    // One brick short of the order, 0.4 short of the use.
    let bricks = row(&account, Stage::WallsLower, "bricks/brick-220x105x65").cloned();
    assert_eq!(bricks.map(|r| (r.ordered, r.should_be)), Some((d("1501"), d("-0.4"))));
    // Nothing came of the bars: the work cannot have been done.
    assert_eq!(row(&account, Stage::Base, "bars/Y10").map(|r| r.should_be), Some(d("-70")));
    assert_eq!(row(&account, Stage::Plaster, "cement"), None);
    assert_eq!(row(&account, Stage::Base, "sand-building").map(|r| r.received), Some(d("3")));
    Ok(())
}

#[test]
fn every_mistake_has_its_code_line_and_cell() {
    let told = |text: &str| -> Vec<(&'static str, usize, String)> {
        let tell = |p: &Problem| {
            let place = p.place.clone();
            let cell = place.as_ref().and_then(|p| text.get(p.span.clone())).unwrap_or("not a place");
            (p.code, place.as_ref().map_or(0, |p| p.line), cell.to_owned())
        };
        of(text).map_or_else(
            |p| p.iter().filter(|p| p.severity == Severity::Error).map(tell).collect(),
            |_| Vec::new(),
        )
    };
    let one = |row: &str| told(&format!("{HEAD}{row}\n"));
    let want = |code, cell: &str| vec![(code, 2, cell.to_owned())];
    assert_eq!(told(""), [("S001", 1, String::new())]);
    assert_eq!(told(HEAD)[0].0, "S001");
    assert_eq!(told("date,material\n2026-12-01,cement\n")[0].0, "S002");
    assert_eq!(told("date;material;quantity\n2026-12-01;cement;1\n")[0].0, "S002");
    assert_eq!(told("date,material,quantity,date\n2026-12-01,cement,1,x\n")[0].0, "S003");
    assert_eq!(one("2026-12-01,cement,1,000,bag,,,,"), want("S005", "2026-12-01,cement,1,000,bag,,,,"));
    assert_eq!(one("2026-12-01,sement,1,,,,,"), want("S006", "sement"));
    assert_eq!(one("1/12/2026,cement,1,,,,,"), want("S007", "1/12/2026"));
    assert_eq!(one("2026-12-01,cement,nine,,,,,"), want("S008", "nine"));
    assert_eq!(one("2026-12-01,cement,,,,,,"), want("S008", ""));
    assert_eq!(one("2026-12-01,cement,-9,,,,,"), want("S009", "-9"));
    assert_eq!(one("2026-12-01,cement,9,sack,,,,"), want("S010", "sack"));
    assert_eq!(one("2026-12-01,cement,9,3 m3,,,,"), want("S010", "3 m3"));
    assert_eq!(one("2026-12-01,cement,9,,,,bass,"), want("S011", "bass"));
    assert_eq!(one("2026-12-01,cement,9,,,10,,"), want("S012", "10"));
    assert_eq!(one("2026-12-01,cement,,,,,,5"), want("S013", "2026-12-01,cement,,,,,,5"));
    let twice = "2026-12-01,cement,,,,,base,5\n2026-12-02,cement,,,,,base,6";
    assert_eq!(one(twice), [("S014", 3, "2026-12-02,cement,,,,,base,6".to_owned())]);
    assert_eq!(told(&" ".repeat(1_000_001))[0].0, "S015");
    assert_eq!(told(&format!("{HEAD}{}", "2026-12-01,cement,1,,,,,\n".repeat(20_001)))[0].0, "S015");
    // All at once, in the order of the file.
    let all = one("x,sement,nine,,,,,\n2026-12-01,cement,9,sack,,,bass,");
    assert_eq!(
        all.iter().map(|t| (t.0, t.1)).collect::<Vec<_>>(),
        [("S007", 2), ("S006", 2), ("S008", 2), ("S011", 3), ("S010", 3)]
    );
}

#[test]
fn a_further_column_is_a_caution_and_suggestions_are_made() -> Result<(), Vec<Problem>> {
    let account = of("date,material,quantity,vehicle\n2026-12-07,cement,50,a lorry\n")?;
    assert_eq!(
        account.cautions.iter().map(|p| (p.code, p.severity)).collect::<Vec<_>>(),
        [("S004", Severity::Caution)]
    );
    let wrong = of(&format!("{HEAD}2026-12-01,sement,1,,,,,\n"));
    let hint = wrong.err().and_then(|p| p.first().and_then(|p| p.hint.clone())).unwrap_or_default();
    assert!(hint.starts_with("did you mean \"cement\"?"), "{hint}");
    Ok(())
}

#[test]
fn what_says_no_stage_goes_to_the_first_order_that_is_not_full() -> Result<(), Vec<Problem>> {
    // The base has ordered nine bags.
    let account = of(&format!("{HEAD}2026-12-07,cement,9,bag,,,,\n2026-12-08,cement,1,bag,,,,\n"))?;
    let received = |stage| row(&account, stage, "cement").map(|r| r.received);
    assert_eq!([Stage::Base, Stage::WallsLower].map(received), [Some(d("450")), Some(d("50"))]);
    Ok(())
}

/// Only what has begun by then counts, and only work: goods are ordered and delivered before their stage.
#[test]
fn a_count_without_a_stage_belongs_to_the_work_of_its_day() -> Result<(), Vec<Problem>> {
    let event = |kind, stage, from: &str| {
        let day = Day::read(from)?;
        let (title, details, source) = (Phrase::new("programme-sequence"), Vec::new(), String::new());
        Some(Event { from: day, to: day, kind, stage, title, details, source })
    };
    let events = [
        event(EventKind::Stage, Stage::Base, "2026-12-01"),
        event(EventKind::Delivery, Stage::Cover, "2026-12-02"),
        event(EventKind::Stage, Stage::WallsLower, "2026-12-05"),
    ];
    let events: Vec<Event> = events.into_iter().flatten().collect();
    assert_eq!(events.len(), 3);
    let programme = Programme { events, ..Programme::default() };
    let counted = |date: &str| -> Result<Vec<Stage>, Vec<Problem>> {
        let list = format!("{HEAD}{date},cement,,,,,,300\n");
        let account = account_of(&list, "received.csv", &orders()?, &goods(), &programme)?;
        Ok(account.rows.iter().filter(|r| r.counted.is_some()).map(|r| r.stage).collect())
    };
    assert_eq!(
        (counted("2026-12-04")?, counted("2026-12-05")?),
        (vec![Stage::Base], vec![Stage::WallsLower])
    );
    assert!(counted("2026-11-30").is_err());
    Ok(())
}

#[test]
fn some_words_of_a_card_do_where_they_fit_one_material() {
    let row = |what: &str| of(&format!("{HEAD}2026-12-01,{what},1,,,,,\n"));
    // The titles here are cement, sand-building, bricks/brick-220x105x65 and bars/Y10.
    for what in ["SAND", "Building sands", "brick", "bars"] {
        assert!(row(what).is_ok(), "{what}");
    }
    for what in ["s", "sand building 3", "-"] {
        let code = row(what).err().and_then(|p| p.first().map(|p| p.code));
        assert_eq!(code, Some("S006"), "{what}");
    }
}

#[test]
fn bags_written_without_the_word_are_asked_for() -> Result<(), Vec<Problem>> {
    let cautions = |row: &str| -> Result<Vec<(&'static str, String)>, Vec<Problem>> {
        let account = of(&format!("{HEAD}{row}\n"))?;
        Ok(account.cautions.iter().map(|c| (c.code, c.message.clone())).collect())
    };
    let asked = vec![("S016", "cement: 9 kg is read, not 9 bags".to_owned())];
    assert_eq!(cautions("2026-12-01,cement,9,,,,,")?, asked);
    assert_eq!(cautions("2026-12-01,cement,,,,,base,9")?, asked);
    for sure in ["2026-12-01,cement,9,bag,,,,", "2026-12-01,cement,9,kg,,,,", "2026-12-01,cement,350,,,,,"] {
        assert_eq!(cautions(sure)?, []);
    }
    Ok(())
}

#[test]
fn random_lists_account_for_every_kilogram() -> Result<(), Vec<Problem>> {
    let (orders, materials) = (orders()?, goods());
    let mut dice = Dice(5);
    for _ in 0..200 {
        let (mut text, mut came) = (HEAD.to_owned(), d("0"));
        for _ in 0..=dice.roll(12) {
            let bags = dice.roll(9);
            let back = dice.roll(bags + 1);
            came += d("50") * Decimal::from(bags - back);
            let stage = ["", "base", "walls-lower", "cover"][usize::try_from(dice.roll(4)).unwrap_or(0)];
            text += &format!("2026-12-{:02},cement,{bags},bag,,{back},{stage},\n", dice.roll(28) + 1);
        }
        let account = account(&text, "x.csv", &orders, &materials)?;
        let rows: Vec<&StoreRow> = account.rows.iter().filter(|r| r.material == "cement").collect();
        let sum = |of: fn(&StoreRow) -> Decimal| rows.iter().map(|r| of(r)).sum::<Decimal>();
        let left = rows.last().map(|r| r.should_be).unwrap_or_default();
        assert_eq!(sum(|r| r.received) - sum(|r| r.rejected), came, "{text}");
        assert_eq!(came - sum(|r| r.used), left, "{text}");
    }
    Ok(())
}
