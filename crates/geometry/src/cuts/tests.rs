//! Places of planes, and areas and volumes between them, by sums.
#![expect(clippy::unwrap_used, reason = "a test stops where it fails")]

use super::*;
use crate::Len;

/// Outlet end 1000 below the datum, inlet end `fall` lower, 1000 from end to end.
fn floor(fall: i64) -> Floor {
    Floor { outlet: Len::fixed(-1000), fall: Len::fixed(fall), length: Len::fixed(1000) }
}

fn block(x: [i64; 2], y: [i64; 2], z: [Z; 2]) -> Block {
    Block { x: x.map(Len::fixed), y: y.map(Len::fixed), z }
}

fn flat(off: i64) -> Z {
    Z::flat(Len::fixed(off))
}

fn over(off: i64) -> Z {
    Z::floor(Len::fixed(off))
}

fn cuts(blocks: &[Block], levels: &[Z], fall: i64) -> Option<Cuts> {
    Cuts::of(blocks.iter(), levels.iter(), &floor(fall))
}

/// The planes across an axis.
fn planes(cuts: &Cuts, axis: usize) -> Vec<Ratio> {
    cuts.planes(axis).collect()
}

fn ints<const N: usize>(all: [i128; N]) -> Vec<Ratio> {
    all.map(Ratio::int).to_vec()
}

#[test]
fn planes_are_sorted_once_each_within_a_margin_of_a_millimetre() {
    let blocks = [
        block([200, 600], [0, 300], [over(0), flat(-100)]),
        block([600, 900], [50, 300], [over(20), flat(0)]),
    ];
    let cuts = cuts(&blocks, &[flat(-400), over(70)], 100).unwrap();
    // Both ends of the floor are planes; 10 tenths round everything; levels on the floor come first.
    assert_eq!(planes(&cuts, 0), ints([-10, 0, 200, 600, 900, 1000, 1010]));
    assert_eq!(planes(&cuts, 1), ints([-10, 0, 50, 300, 310]));
    assert_eq!(planes(&cuts, 2), ints([0, 20, 70, -400, -100, 0]));
    assert_eq!(planes(&cuts, 3), []);
    assert_eq!(cuts.size(), ([7 - 1, 5 - 1, 6 - 1], 3));
    assert_eq!((cuts.at(1, 2), cuts.at(1, 5), cuts.at(3, 0)), (Some(Ratio::int(50)), None, None));
    assert_eq!((cuts.level(&over(20)), cuts.level(&flat(20))), (Some(1), None));
    assert_eq!(
        (cuts.level(&flat(0)), cuts.level(&over(0)), cuts.level(&flat(-100))),
        (Some(5), Some(0), Some(4))
    );
    assert_eq!((cuts.slab(&[over(20), flat(-100)]), cuts.slab(&[over(21), flat(-100)])), ([1, 4], [0, 0]));
    assert_eq!(cuts.part(&blocks[1]), Some([[3, 4], [2, 3], [1, 5]]));
    assert_eq!(cuts.part(&block([200, 601], [0, 300], [over(0), flat(-100)])), None);
    // The first flat level not below; the flat level on top of a layer.
    assert_eq!([-500, -400, -399, -100, 0].map(|l| cuts.from_level(Ratio::int(l))), [3, 3, 4, 4, 5]);
    assert_eq!(cuts.from_level(Ratio::int(1)), 6);
    assert_eq!((0..6).map(|i| cuts.top(i)).collect::<Vec<_>>(), {
        let [deep, low, high] = [-400, -100, 0].map(|l| Some(Ratio::int(l)));
        [None, None, deep, low, high, None]
    });
}

#[test]
fn over_a_level_floor_every_level_is_flat() {
    let blocks = [block([200, 600], [0, 300], [over(0), flat(-100)])];
    let cuts = cuts(&blocks, &[over(70)], 0).unwrap();
    assert_eq!(planes(&cuts, 2), ints([-1000, -1000 + 70, -100]));
    assert_eq!((cuts.size().1, cuts.level(&over(70)), cuts.level(&flat(-930))), (0, Some(1), Some(1)));
    assert_eq!(cuts.top(0), Some(Ratio::int(-930)));
    let part = cuts.part(&blocks[0]).unwrap();
    assert_eq!(cuts.volume(&part), Some(2 * 400 * 300 * 900));
    assert_eq!((cuts.square(), cuts.cubic()), (Some(2), Some(2)));
}

#[test]
fn cells_wholly_within_a_rectangle() {
    let blocks = [block([200, 600], [0, 300], [over(0), flat(-100)])];
    let cuts = cuts(&blocks, &[], 100).unwrap(); // x: -10, 0, 200, 600, 1000, 1010; y: -10, 0, 300, 310
    let within = |r: [i128; 4]| cuts.within(r.map(Ratio::int));
    assert_eq!(within([0, 1000, 0, 300]), [[1, 4], [1, 2]]);
    assert_eq!(within([1, 999, -10, 310]), [[2, 3], [0, 3]]);
    assert_eq!(within([250, 500, 0, 299]), [[3, 3], [1, 1]], "no cell is empty, not turned round");
    assert_eq!(within([-500, -400, 0, 300]), [[0, 0], [1, 2]]);
}

#[test]
fn fractions_come_to_one_scale() {
    let mut one = block([0, 1000], [0, 300], [flat(-100), flat(0)]);
    one.x[1] = Len::fixed(1).half();
    one.y[1] = Len::fixed(1).times(Ratio::of(2, 3));
    let cuts = cuts(std::slice::from_ref(&one), &[flat(7)], 0).unwrap();
    let part = cuts.part(&one).unwrap();
    let volume = Ratio::of(cuts.volume(&part).unwrap(), cuts.cubic().unwrap());
    assert_eq!(volume, Ratio::of(1, 2) * Ratio::of(2, 3) * Ratio::int(100));
    assert_eq!(planes(&cuts, 0).get(2), Some(&Ratio::of(1, 2)));
    assert_eq!(
        cuts.level(&Z::flat(Len::fixed(1).times(Ratio::of(1, 7)))),
        None,
        "no such plane in this scale"
    );
    assert_eq!(cuts.level(&flat(7)), Some(2));
    assert_eq!(cuts.within([Ratio::ZERO, Ratio::of(1, 2), Ratio::ZERO, Ratio::of(2, 3)]), [[1, 2], [1, 2]]);
    let beyond = [Ratio::of(2001, 2), Ratio::int(1001), Ratio::ZERO, Ratio::of(2, 3)];
    assert_eq!(cuts.within(beyond), [[4, 4], [1, 2]]);
    assert_eq!([6, 7, 8].map(|l| cuts.from_level(Ratio::int(l))), [2, 2, 3]);
}

/// Volume and the four faces, in cubic and square tenths of a millimetre: before, beside, over.
fn measured(x: [i64; 2], z: [Z; 2], fall: i64, times: i64) -> [Ratio; 4] {
    let by = |l: &Len| l.times(times);
    let level = |z: &Z| Z { off: by(&z.off), follows: z.follows };
    let one = block(x, [10, 60], z);
    let one = Block {
        x: [by(&one.x[0]), by(&one.x[1])],
        y: [by(&one.y[0]), by(&one.y[1])],
        z: [level(&one.z[0]), level(&one.z[1])],
    };
    let f = floor(fall);
    let floor = Floor { outlet: by(&f.outlet), fall: by(&f.fall), length: by(&f.length) };
    let cuts = Cuts::of(std::iter::once(&one), std::iter::empty(), &floor).unwrap();
    let part = cuts.part(&one).unwrap();
    let [x, y, z] = part;
    let area = |face: Part, axis| Ratio::of(cuts.area(&face, axis).unwrap(), cuts.square().unwrap());
    let volume = Ratio::of(cuts.volume(&part).unwrap(), cuts.cubic().unwrap());
    let (square, cubic) = (Ratio::int(i128::from(times).pow(2)), Ratio::int(i128::from(times).pow(3)));
    [
        volume / cubic,
        area([[x[0]; 2], y, z], 0) / square,
        area([x, [y[0]; 2], z], 1) / square,
        area([x, y, [z[1]; 2]], 2) / square,
    ]
}

#[test]
fn volumes_and_faces_over_a_fall_are_those_of_its_trapezium() {
    // Name, x, levels, height at both ends: the floor lies 1000 + 100 x (1000 - x) / 1000 below the datum.
    let cases = [
        ("flat", [200, 600], [flat(-300), flat(-40)], [260, 260]),
        ("floor to flat", [200, 600], [over(30), flat(-40)], [1080 - 30 - 40, 1040 - 30 - 40]),
        ("flat to floor", [200, 600], [flat(-1400), over(30)], [1400 - 1080 + 30, 1400 - 1040 + 30]),
        ("floor to floor", [200, 600], [over(30), over(90)], [60, 60]),
        ("before the inlet end", [-700, 0], [over(0), flat(0)], [1100, 1100]),
        ("beyond the outlet end", [1000, 1400], [over(0), flat(0)], [1000, 1000]),
    ];
    for (name, x, z, [from, to]) in cases {
        let (long, wide, half) = (i128::from(x[1] - x[0]), 60 - 10, Ratio::of(1, 2));
        let side = Ratio::int(long * (from + to)) * half;
        let expected = [side * Ratio::int(wide), Ratio::int(from * wide), side, Ratio::int(long * wide)];
        assert_eq!(measured(x, z.clone(), 100, 1), expected, "{name}");
        // So large that every product is checked: the same shape.
        assert_eq!(measured(x, z, 100, 100_000), expected, "{name}, kilometres long");
    }
}

#[test]
fn what_no_whole_number_holds_is_told() {
    let huge = block([0, i64::MAX], [0, 10], [flat(0), flat(10)]);
    assert!(cuts(&[huge], &[], 0).is_none(), "the margin goes over the end");
    let mut fine = block([0, 10], [0, 10], [flat(0), flat(10)]);
    fine.x[1] = Len::fixed(1).times(Ratio::of(1, i128::from(i64::MAX)));
    assert!(cuts(&[fine], &[], 0).is_none());
    // Every plane has its place, and an area fits, but 2 x 10^39 is more than 128 bits hold.
    let far = 10_i64.pow(13);
    let wide = block([0, far], [0, far], [flat(0), flat(far)]);
    let cuts = cuts(std::slice::from_ref(&wide), &[], 0).unwrap();
    let part = cuts.part(&wide).unwrap();
    assert_eq!((cuts.volume(&part), cuts.area(&part, 2)), (None, Some(2 * 10_i128.pow(26))));
}

#[test]
fn boxes_side_by_side_become_one() {
    let cell = |x, y, z| [[x, x + 1], [y, y + 1], [z, z + 1]];
    let mut cube = Vec::new();
    for x in 0..2 {
        for y in 3..6 {
            cube.extend((7..9).map(|z| cell(x, y, z)));
        }
    }
    assert_eq!(merged(cube.clone()), [[[0, 2], [3, 6], [7, 9]]]);
    cube.reverse();
    assert_eq!(merged(cube), [[[0, 2], [3, 6], [7, 9]]]);
    // Cornerwise, or with a gap: apart. A step joins along one axis only.
    for apart in
        [[cell(0, 0, 0), cell(1, 1, 0)], [cell(0, 0, 0), cell(2, 0, 0)], [cell(0, 0, 0), cell(0, 1, 1)]]
    {
        assert_eq!(merged(apart.to_vec()).len(), 2, "{apart:?}");
    }
    assert_eq!(merged(vec![cell(0, 0, 0), cell(1, 0, 0), cell(1, 1, 0)]).len(), 2);
    // Faces across x, one behind the other: they are not one face.
    let face = |x| [[x, x], [0, 1], [0, 1]];
    assert_eq!(merged(vec![face(1), face(1), face(2)]).len(), 3);
    assert_eq!(merged(vec![cell(0, 0, 0), face(1)]).len(), 2, "nor a box and its own face");
    assert_eq!(merged(vec![face(1), cell(1, 0, 0)]).len(), 2);
    assert_eq!(merged(vec![[[1, 1], [0, 1], [0, 1]], [[1, 1], [1, 2], [0, 1]]]), [[[1, 1], [0, 2], [0, 1]]]);
}
