//! Materials of a small job, the data held together, and a balance that fails where a row is spoiled.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test stops where it fails")]

use std::collections::BTreeSet;

use super::*;
use crate::estimate::{Estimate, Failure};
use crate::rates::{Stock, builtin};
use crate::works::{MadeOf, all};

const JOB: &str = "format = 1\n[job]\ntitle = \"goods\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\nprofile = \"exact\"\n[tank]\nchambers = [\"1.60 m\", \"0.80 m\"]\nwidth = \"1.20 m\"\nheight = \"1.50 m\"\n";

fn stock() -> Stock {
    let (stock, problems) = builtin();
    assert_eq!(problems, []);
    stock
}

fn tried(more: &str) -> Result<Estimate, Failure> {
    let text = format!("{JOB}{more}");
    let (job, problems) = crate::job::read("job.toml", &text, &crate::flow::job_tables());
    assert_eq!(problems, []);
    crate::flow::estimate(&job, &stock(), None, &crate::flow::Settings::default())
}

fn ready(more: &str) -> Estimate {
    tried(more).unwrap_or_else(|f| panic!("{f:?}"))
}

fn codes(more: &str) -> Vec<&'static str> {
    match tried(more) {
        Err(Failure::Job(problems)) => problems.iter().map(|p| p.code).collect(),
        other => panic!("{more} is not refused: {:?}", other.is_ok()),
    }
}

fn sum(m: &Materials, material: &str) -> Decimal {
    m.rows.iter().filter(|r| r.material == material).map(|r| r.gross).sum()
}

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

const TIGHT: &str = "[tank.pit]\nover_break = \"20 mm\"\n[tank.base]\nhardcore = \"100 mm\"\n";

#[test]
fn every_work_has_its_recipe_and_every_recipe_its_work() {
    let stock = stock().recipes;
    let mut named = BTreeSet::new();
    for work in all() {
        match work.made_of {
            MadeOf::Recipe(id) => {
                let recipe = stock.recipes.get(id).unwrap_or_else(|| panic!("no recipe {id}"));
                assert_eq!(recipe.unit, work.unit.id(), "{id}");
                named.insert(id);
            }
            MadeOf::Coat(id) => {
                assert!(stock.coats.contains_key(id), "no coat {id}");
                named.insert(id);
            }
            _ => {}
        }
    }
    let ids = stock.recipes.keys().chain(stock.coats.keys());
    for id in ids {
        let plain = id.split('.').next().unwrap();
        assert!(named.contains(plain), "no work is made by {id}");
    }
}

#[test]
fn recipes_name_figures_and_goods_that_exist_and_none_is_idle() {
    let stock = stock().recipes;
    let in_code = [
        "dry-concrete",
        "dry-mortar",
        "cement-volume",
        "waterproofer-dose",
        "mixing-water",
        "curing-concrete",
        "curing-masonry",
        "curing-coat",
        "binding-wire",
        "block-voids",
        "packing-pieces",
        "packing-mortar",
    ];
    let mut named: BTreeSet<&str> = in_code.into();
    let goods = || stock.recipes.values().flat_map(|r| &r.goods);
    named.extend(goods().flat_map(|g| g.times.iter().chain(&g.over)).map(String::as_str));
    named.extend(stock.coats.values().flat_map(|c| &c.times).map(String::as_str));
    assert!(named.iter().copied().eq(stock.figures.keys().map(String::as_str)), "{named:?}");
    for material in goods().map(|g| &g.material).chain(stock.coats.values().map(|c| &c.sand)) {
        assert!(stock.place(material).is_some(), "{material} is not among the goods");
    }
    for goods in &stock.goods {
        assert!(stock.waste.contains_key(&goods.id), "{} has no waste", goods.id);
    }
    assert_eq!(stock.waste.len(), stock.goods.len());
}

#[test]
fn one_entry_of_a_mix_is_used() {
    let stock = stock().recipes;
    for list in [&stock.concrete, &stock.mortar] {
        for mix in list.iter().map(|m| &m.mix) {
            assert_eq!(list.iter().filter(|m| m.mix == *mix && m.used).count(), 1, "{mix}");
        }
    }
}

#[test]
fn over_break_is_packed_with_brick_and_filled_with_concrete_and_hardcore() {
    let e = ready(TIGHT);
    let over = |material: &str| -> Decimal {
        e.materials.rows.iter().filter(|r| r.material == material).map(|r| r.over_break).sum()
    };
    let area = |spec: &str| -> Ratio {
        let of = e.sheet.voids.iter().filter(|v| v.spec == spec && v.work.made_of == MadeOf::OverBreak);
        of.map(|v| decimal::ratio(v.net)).sum()
    };
    // 20 mm x area x 135/100 loose.
    let hardcore = area("hardcore-bed") * Ratio::of(2, 100) * Ratio::of(135, 100);
    assert_eq!(decimal::rounded(hardcore, 3), Some(over("hardcore/bed")));
    // 70 % pieces, 220 x 105 x 65 mm each.
    let brick = Ratio::of(220 * 105 * 65, 1_000_000_000);
    let pieces = area("packing") * Ratio::of(2, 100) * Ratio::of(7, 10) / brick;
    assert_eq!(decimal::rounded(pieces, 3), Some(over("bricks/brick-220x105x65")));
    assert!(over("cement") > Decimal::ZERO && over("bars/Y12").is_zero());
    assert!(balance(&e.materials, &e.sheet, &e.steel).holds());
}

#[test]
fn waste_acts_once_and_the_use_says_which() {
    let e = ready("[materials]\nconcrete = \"dry\"\n[waste]\ncement = \"4\"\n");
    for u in &e.materials.uses {
        assert!(!u.waste_inside || u.waste_percent.is_zero(), "{u:?}");
        if u.material == "cement" && !u.waste_inside {
            assert_eq!(u.waste_percent, Ratio::int(4));
        }
    }
    // 1.52 has waste in it: none is added.
    let more = "[materials]\nconcrete = \"dry\"\n[materials.figures]\ndry-concrete = \"1.52\"\n[waste]\naggregate-20 = \"4\"\n";
    let e = ready(more);
    assert!(
        e.materials.rows.iter().filter(|r| r.material == "aggregate-20").all(|r| r.waste_percent.is_zero())
    );
}

#[test]
fn the_most_specific_waste_wins_and_must_be_of_this_job() {
    let e = ready("[waste]\nbricks = \"3\"\n\"bricks/brick-220x105x65\" = \"7\"\n");
    let brick = e.materials.rows.iter().find(|r| r.material.starts_with("bricks/")).unwrap();
    assert_eq!(brick.waste_percent, d("7"));
    assert_eq!(codes("[waste]\n\"bricks/brick-215x102.5x65\" = \"7\"\n"), ["J100"]);
}

#[test]
fn the_job_names_a_source_a_figure_or_a_number_of_its_own() {
    let usual = ready("");
    let nigeria = ready("[materials]\nconcrete = \"nigeria\"\n");
    let base: Ratio = usual
        .sheet
        .items
        .iter()
        .filter(|i| i.work.id == "concrete-base")
        .map(|i| decimal::ratio(i.net))
        .sum();
    let cement = |e: &Estimate| -> Ratio {
        let of =
            e.materials.uses.iter().filter(|u| u.material == "cement" && u.item.starts_with("concrete-base"));
        of.map(|u| u.amount).sum()
    };
    assert_eq!(cement(&usual), base * Ratio::int(320)); // CPWD
    assert_eq!(cement(&nigeria), base * Ratio::int(307));
    let own = ready("[materials]\nconcrete = \"dry\"\n[materials.figures]\ndry-concrete = \"1.6\"\n");
    assert_eq!(cement(&own), base * Ratio::of(16, 10) / Ratio::int(7) * Ratio::int(1440));
}

const BLOCKS: &str = "[tank.walls]\nunit = \"block-400x200x200\"\nthickness = \"200 mm\"\nmortar = \"1:3\"\n";

#[test]
fn filled_cells_take_concrete_and_blocks_can_be_made() {
    let hollow = ready(BLOCKS);
    let filled = ready(&format!("{BLOCKS}cells = \"filled\"\ncells_mix = \"1:3:6\"\n"));
    let made = ready(&format!("{BLOCKS}[materials]\nblocks = \"made\"\n"));
    let blocks = "blocks/block-400x200x200";
    // 1 / (0.410 x 0.210) to a m2, 0.2 m thick
    let wall: Ratio = hollow
        .sheet
        .items
        .iter()
        .filter(|i| i.made.unit == "block-400x200x200")
        .map(|i| decimal::ratio(i.net))
        .sum();
    let count: Ratio = hollow.materials.uses.iter().filter(|u| u.material == blocks).map(|u| u.amount).sum();
    assert_eq!(count, wall / Ratio::of(2, 10) / Ratio::of(41 * 21, 10_000));
    assert_eq!(sum(&filled.materials, blocks), sum(&hollow.materials, blocks));
    assert!(sum(&filled.materials, "aggregate-20") > sum(&hollow.materials, "aggregate-20"));
    assert_eq!(sum(&made.materials, blocks), Decimal::ZERO);
    assert!(sum(&made.materials, "cement") > sum(&hollow.materials, "cement"));
    // 5 % of blocks break: 1.05 x count x 0.016 m3 x 55 % solid, 1:6 by CPWD 250 kg; waste not once more.
    let solid = count * Ratio::of(16, 1000) * Ratio::of(55, 100) * Ratio::of(105, 100);
    let of = |e: &Estimate| {
        e.materials.uses.iter().filter(|u| u.material == "cement").map(|u| u.amount).sum::<Ratio>()
    };
    assert_eq!(of(&made) - of(&hollow), solid * Ratio::int(250));
    // Of the outer walls 45 % of each block, with 216 kg to a m3 of 1:3:6; the partition keeps its cells.
    let outer = hollow.sheet.items.iter().filter(|i| i.work.id == "brickwork-wall");
    let outer: Ratio = outer.map(|i| decimal::ratio(i.net)).sum();
    let cells = outer / wall * count * Ratio::of(16, 1000) * Ratio::of(45, 100);
    assert_eq!(of(&filled) - of(&hollow), cells * Ratio::int(216));
}

#[test]
fn a_unit_of_the_jobs_own() {
    let own = "[tank.walls]\nunit = \"our-brick\"\nthickness = \"230 mm\"\n[[materials.units]]\nid = \"our-brick\"\nlength = \"230 mm\"\nbreadth = \"110 mm\"\nheight = \"70 mm\"\n";
    let e = ready(own);
    let m = e.materials.materials.iter().find(|m| m.id == "bricks/our-brick").unwrap();
    assert_eq!(m.title, "our-brick 230 x 110 x 70 mm");
    assert!(!e.cautions.iter().any(|c| c.code == "C011"));
}

#[test]
fn a_wall_drawn_otherwise_than_its_unit_makes_it() {
    let told = |mm: &str, key| {
        let e = ready(&format!("[tank.walls]\nthickness = \"{mm} mm\"\n"));
        e.materials.remarks.iter().any(|(r, _)| r.key == key)
    };
    // 105 + 10 + 105 = 220.
    assert!(told("230", "materials-drawn-thickness") && !told("230", "materials-too-thin"));
    assert!(told("215", "materials-too-thin") && !told("215", "materials-drawn-thickness"));
    assert!(!told("220", "materials-too-thin") && !told("220", "materials-drawn-thickness"));
    let thin = ready("[tank.walls]\nunit = \"block-400x200x200\"\nthickness = \"150 mm\"\n");
    assert!(thin.materials.remarks.iter().any(|(r, _)| r.key == "materials-too-thin"));
    assert!(thin.materials.rows.iter().all(|r| r.net >= Decimal::ZERO));
}

#[test]
fn what_the_job_cannot_mean_is_refused() {
    assert_eq!(codes("[waste]\nsement = \"5\"\n"), ["J100"]);
    assert_eq!(codes("[waste]\nbars = \"5\"\n"), ["J108"]);
    assert_eq!(codes("[waste]\ncement = \"5 %\"\nhardcore = \"200\"\n"), ["J101", "J101"]);
    assert_eq!(codes("[materials]\nconcrete = \"nigerian\"\n"), ["J102"]);
    assert_eq!(codes("[materials.figures]\npastes = \"2\"\n"), ["J103"]);
    assert_eq!(codes("[materials.figures]\npaste = \"much\"\n"), ["J104"]);
    let unit = |id: &str, more: &str| {
        format!(
            "[[materials.units]]\nid = \"{id}\"\nlength = \"230 mm\"\nbreadth = \"110 mm\"\nheight = \"70 mm\"\n{more}"
        )
    };
    assert_eq!(codes(&unit("brick-220x105x65", "")), ["J105"]);
    assert_eq!(codes(&unit("a", "voids = \"0.4\"\n")), ["J106"]);
}

/// Data of one's own that name what they do not hold: said, never left out.
#[test]
fn a_recipe_that_names_nothing_known_is_refused() {
    let mut stock = stock();
    let own = "[[recipe]]\nid = \"hoop-iron\"\nunit = \"m\"\nfrom = \"2026\"\nsource = \"invented\"\n[[recipe.good]]\nmaterial = \"straps\"\n[[recipe.good]]\nmaterial = \"hoop-iron\"\ntimes = [\"nothing\"]\n";
    assert_eq!(crate::rates::read_stock(&[("my/recipes.toml".into(), own.into())], &mut stock), []);
    let text = format!("{JOB}[tank.walls]\nhoop_iron_every = 4\n");
    let (job, _) = crate::job::read("job.toml", &text, &crate::flow::job_tables());
    let settings = crate::flow::Settings::default();
    let Err(Failure::Job(problems)) = crate::flow::estimate(&job, &stock, None, &settings) else {
        panic!("not refused")
    };
    let told: Vec<_> = problems.iter().map(|p| (p.code, p.message.as_str())).collect();
    let want = ["the figure nothing", "the material straps", "waste of straps"];
    assert_eq!(
        told,
        want.map(|w| ("J107", format!("no data file has {w}"))).each_ref().map(|(c, m)| (*c, m.as_str()))
    );
}

/// The boards, battens and props of a cover are there at once, whatever share of them one use wears off.
#[test]
fn what_serves_again_is_whole_on_the_site() {
    let e = ready("");
    let soffit: Ratio = e
        .sheet
        .items
        .iter()
        .filter(|i| i.work.made_of == MadeOf::Recipe("formwork-soffit"))
        .map(|i| decimal::ratio(i.net))
        .sum();
    let props = e.materials.rows.iter().find(|r| r.material == "props").unwrap();
    // A prop to 1 m2, 10 uses.
    assert_eq!(decimal::rounded(soffit, 3), Some(props.present));
    assert_eq!(decimal::rounded(soffit / Ratio::int(10), 3), Some(props.net));
    let line = e.orders.stages.iter().flat_map(|o| &o.lines).find(|l| l.material == "props").unwrap();
    assert_eq!((line.present, line.used), (props.present, props.gross));
    assert!(line.ordered + d("0.05") >= props.present);
    // What is used up is what is there: cement, nails, bars.
    let again = ["boards-formwork", "battens-formwork", "beams-formwork", "props"];
    for row in e.materials.rows.iter().filter(|r| !again.contains(&r.material.as_str())) {
        assert_eq!(row.present, row.gross, "{}", row.material);
    }
}

/// Spoiled in every way a row can be, the balance says so.
#[test]
fn the_balance_fails_where_something_is_wrong() {
    let e = ready(TIGHT);
    let breaks = |spoil: &dyn Fn(&mut Materials)| {
        let mut m = e.materials.clone();
        spoil(&mut m);
        let b = balance(&m, &e.sheet, &e.steel);
        assert_eq!(b.holds(), b.breaks.is_empty() && b.left == b.right);
        b.breaks
    };
    assert!(breaks(&|_| {}).is_empty());
    assert_eq!(breaks(&|m| m.rows[0].net += d("0.001")).len(), 1);
    assert_eq!(breaks(&|m| m.rows[0].over_break += d("0.001")).len(), 1);
    assert!(!breaks(&|m| m.rows[0].gross += d("0.001")).is_empty());
    assert_eq!(breaks(&|m| m.rows[0].present += d("0.001")).len(), 1);
    assert!(!breaks(&|m| m.rows[0].waste_percent += d("1")).is_empty());
    assert!(!breaks(&|m| drop(m.rows.pop())).is_empty());
    assert!(!breaks(&|m| m.rows.push(m.rows[0].clone())).is_empty());
    assert!(!breaks(&|m| m.uses[0].base = m.uses[0].base + Ratio::ONE).is_empty());
    assert!(!breaks(&|m| m.uses[0].steps.clear()).is_empty());
    assert!(!breaks(&|m| m.uses[0].stage = Stage::Strike).is_empty());
    // A whole item forgotten, in uses and rows alike.
    let forget = |m: &mut Materials| {
        m.uses.retain(|u| {
            !u.item.starts_with("damp-proof")
                && !u.item.starts_with("screed")
                && !u.item.starts_with("hardcore")
        });
        m.rows = super::rows::rows(&m.uses, &stock()).unwrap();
    };
    assert_eq!(breaks(&forget), ["hardcore-bed/base: no material is used for it"]);
    // Waste on what has it inside.
    let twice = |m: &mut Materials| {
        let u = m.uses.iter_mut().find(|u| u.waste_inside).unwrap();
        u.waste_percent = Ratio::int(5);
        m.rows = super::rows::rows(&m.uses, &stock()).unwrap();
    };
    assert_eq!(breaks(&twice).len(), 1);
}

/// Bars of the schedule that no use has, in uses and rows alike.
#[test]
fn the_balance_fails_where_a_bar_is_forgotten() {
    let e = ready("[steel]\nbase = { short = \"Y10@200\", long = \"Y10@200\" }\n");
    let mut m = e.materials.clone();
    m.uses.retain(|u| !u.material.starts_with("bars/"));
    m.rows = super::rows::rows(&m.uses, &stock()).unwrap();
    let breaks = balance(&m, &e.sheet, &e.steel).breaks;
    let metres: Decimal = e.materials.rows.iter().filter(|r| r.material == "bars/Y10").map(|r| r.net).sum();
    assert_eq!(breaks, [format!("bars/Y10, base: schedule less uses {} m", metres.normalize())]);
}
