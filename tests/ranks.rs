//! Who has the space: one job for each pair of ranks that can meet. A wrong rank can close every balance, so each figure
//! here is a sum by hand. The tank: 2.00 x 1.00 clear, walls 200 mm, 1.50 m from floor to cover, cover 100 mm.

use rust_decimal::Decimal;
use tankwright_quantities::decimal::round;
use tankwright_tests::{measured, net};

const HEAD: &str =
    "format = 1\n[job]\ntitle = \"ranks\"\ndate = \"2026-11-25\"\ncurrency = \"UGX\"\nprofile = \"exact\"\n";
const ONE: &str = "chambers = [\"2.00 m\"]";
const TWO: &str = "chambers = [\"0.95 m\", \"0.95 m\"]";
const COLUMNS: &str = "[tank.columns]\nsize = [200, 200]\n";
const RING: &str = "[[tank.ring_beams]]\nabove_floor = 500\ndepth = 200\n";
const BOARD: &str =
    "[[tank.boards]]\nfrom_inlet = 300\nthickness = 60\ndepth = 500\nbelow_top = 500\nbuilt_in = 100\n";
const SPAN: &str = "span_beam = { width = 200, depth = 150, bearing = 100 }\n";

fn d(text: &str) -> Decimal {
    text.parse().unwrap()
}

/// `cover`: more keys of the cover; `parts`: more parts; then works and what remains to each.
fn check(chambers: &str, cover: &str, parts: &str, works: &[(&str, Decimal)]) {
    let text = format!(
        "{HEAD}[tank]\n{chambers}\nwidth = \"1.00 m\"\nheight = \"1.50 m\"\n[tank.walls]\nthickness = 200\n\
         [tank.partitions]\nthickness = 100\n[tank.cover]\nthickness = 100\n{cover}{parts}"
    );
    let e = measured(&text, None).unwrap_or_else(|f| panic!("{f:?}\n{text}"));
    for (work, expected) in works {
        assert_eq!(net(&e, work), *expected, "{work} in\n{text}");
    }
}

/// The walls alone: two ends over the outer width, two sides between them.
fn walls(height: &str) -> Decimal {
    (d("2") * d("1.40") + d("2") * d("2.00")) * d("0.20") * d(height)
}

fn corners(height: &str) -> Decimal {
    d("4") * d("0.20") * d("0.20") * d(height)
}

#[test]
fn column_before_wall_and_ring_beam_and_wall_beam() {
    check(
        ONE,
        "",
        COLUMNS,
        &[("concrete-column", corners("1.50")), ("brickwork-wall", walls("1.50") - corners("1.50"))],
    );
    let ring = walls("0.20") - corners("0.20");
    let masonry = walls("1.30") - corners("1.30");
    let both = format!("{COLUMNS}{RING}");
    check(
        ONE,
        "",
        &both,
        &[("concrete-column", corners("1.50")), ("concrete-ring-beam", ring), ("brickwork-wall", masonry)],
    );
    check(
        ONE,
        "wall_beams = 200\n",
        COLUMNS,
        &[("concrete-column", corners("1.50")), ("concrete-wall-beam", ring), ("brickwork-wall", masonry)],
    );
}

#[test]
fn ring_beam_and_wall_beam_before_wall() {
    check(ONE, "", RING, &[("concrete-ring-beam", walls("0.20")), ("brickwork-wall", walls("1.30"))]);
    check(
        ONE,
        "wall_beams = 200\n",
        "",
        &[("concrete-wall-beam", walls("0.20")), ("brickwork-wall", walls("1.30"))],
    );
}

#[test]
fn span_beam_before_wall_and_wall_beam() {
    let span = d("2.20") * d("0.20") * d("0.15");
    let ends = d("2") * d("0.10") * d("0.20") * d("0.15");
    check(ONE, SPAN, "", &[("concrete-span-beam", span), ("brickwork-wall", walls("1.50") - ends)]);
    let cover = format!("wall_beams = 200\n{SPAN}");
    check(ONE, &cover, "", &[("concrete-span-beam", span), ("concrete-wall-beam", walls("0.20") - ends)]);
}

#[test]
fn span_beam_and_wall_beam_before_partition() {
    let span = "span_beam = { width = 200, depth = 150 }\n";
    let cut = d("0.10") * d("0.20") * d("0.15");
    let partition = d("1.00") * d("0.10") * d("1.50");
    check(
        TWO,
        span,
        "",
        &[
            ("concrete-span-beam", d("2.00") * d("0.20") * d("0.15")),
            ("brickwork-partition", partition - cut),
        ],
    );
    let on_top = d("1.00") * d("0.10") * d("0.20");
    check(
        TWO,
        "wall_beams = 200\n",
        "",
        &[("concrete-wall-beam", walls("0.20") + on_top), ("brickwork-partition", partition - on_top)],
    );
}

#[test]
fn board_before_wall_and_after_ring_beam() {
    let board = d("1.20") * d("0.06") * d("0.50");
    let ends = d("2") * d("0.10") * d("0.06") * d("0.50");
    check(ONE, "", BOARD, &[("concrete-board", board), ("brickwork-wall", walls("1.50") - ends)]);
    // The board hangs 0.50 to 1.00 above the floor, the beam lies at 0.50 to 0.70: its ends lose 0.20.
    let in_beam = d("2") * d("0.10") * d("0.06") * d("0.20");
    let both = format!("{RING}{BOARD}");
    check(ONE, "", &both, &[("concrete-ring-beam", walls("0.20")), ("concrete-board", board - in_beam)]);
}

#[test]
fn opening_before_partition_and_pipe_hole_before_wall() {
    let opening = "[tank.partitions.opening]\nwidth = 200\nheight = 200\nbelow_top = 600\n";
    check(
        TWO,
        "",
        opening,
        &[("brickwork-partition", d("1.00") * d("0.10") * d("1.50") - d("0.10") * d("0.20") * d("0.20"))],
    );
    let pipes = "[tank.pipes]\ninlet = { diameter = 100, below_top = 300 }\n";
    let hole = d("3.1415926536") * d("0.25") * d("0.10") * d("0.10") * d("0.20");
    check(ONE, "", pipes, &[("brickwork-wall", round(walls("1.50") - hole, 12))]);
}

#[test]
fn partition_and_column_before_haunch() {
    let haunch = "[tank.haunch]\nwidth = 100\nheight = 300\n";
    let run = |length: &str| d("2") * d(length) * d("0.10") * d("0.30");
    check(
        TWO,
        "",
        haunch,
        &[("brickwork-partition", d("1.00") * d("0.10") * d("1.50")), ("concrete-haunch", run("1.90"))],
    );
    // Columns of 300 stand 100 into the tank at both ends.
    let inward = format!("[tank.columns]\nsize = [300, 300]\n{haunch}");
    check(
        ONE,
        "",
        &inward,
        &[("concrete-column", d("4") * d("0.30") * d("0.30") * d("1.50")), ("concrete-haunch", run("1.80"))],
    );
}

#[test]
fn manhole_before_cover() {
    let cover = d("2.40") * d("1.40") * d("0.10") - d("0.60") * d("0.60") * d("0.10");
    check(ONE, "manholes = [[600, 600]]\n", "", &[("concrete-cover", cover)]);
}
