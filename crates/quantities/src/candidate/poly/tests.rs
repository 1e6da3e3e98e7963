//! Products, reciprocals and ties by hand; what is lost stays lost.
#![expect(clippy::unwrap_used, reason = "a test stops where it fails")]

use super::*;

/// `x` and `y`, the first two inputs.
fn signs() -> [Poly; 2] {
    [Poly::term(1, Ratio::ONE), Poly::term(1 << 4, Ratio::ONE)]
}

fn plus(mut poly: Poly, other: &Poly) -> Poly {
    poly.plus(other, Ratio::ONE);
    poly
}

#[test]
fn products_are_multiplied_out() {
    let ([x, y], two) = (signs(), Poly::fixed(Ratio::int(2)));
    // (x + 2)(x - 2) + 4 = x^2; (x + y)^2 - (x - y)^2 = 4xy.
    let product = plus(x.clone(), &two).times(&x.less(&two));
    assert_eq!(plus(product, &Poly::fixed(Ratio::int(4))), x.times(&x));
    let (sum, less) = (plus(x.clone(), &y), x.less(&y));
    assert_eq!(sum.times(&sum).less(&less.times(&less)), x.times(&y).scaled(Ratio::int(4)));
    // x^2 y with y + 2 for x: (y^2 + 4y + 4) y.
    let put = x.times(&x).times(&y).replaced(0, &plus(y.clone(), &two));
    let cubed = y.times(&y).times(&y);
    let rest = plus(y.times(&y).scaled(Ratio::int(4)), &y.scaled(Ratio::int(4)));
    assert_eq!(put, plus(cubed, &rest));
}

/// What cannot be held is never nothing, whatever it is put together with.
#[test]
fn what_is_lost_stays_lost() {
    let [x, y] = signs();
    let lost = Poly::LOST;
    let high = (0..15).fold(Poly::fixed(Ratio::ONE), |p, _| p.times(&x));
    assert!(!high.lost && high.times(&y).lost, "four bits hold the power 15, no more");
    for sum in [
        lost.times(&x),
        x.times(&lost),
        lost.times(&Poly::default()),
        plus(x.clone(), &lost),
        lost.less(&x),
        lost.scaled(Ratio::int(3)),
        x.replaced(0, &lost),
        lost.replaced(0, &y),
        Poly::fixed(Ratio::UNKNOWN),
    ] {
        let inputs = Inputs::default();
        let ring = Ring::of(&inputs).unwrap();
        assert!(sum.lost && sum.plain().is_none() && !ring.is_nothing(&sum), "{sum:?}");
    }
}

/// By 2x + 4, and by minus a third of it: one sign, whose products come to one.
#[test]
fn reciprocals_are_those_of_a_whole() {
    let inputs = Inputs { varied: vec![0], per: 1, values: vec![3], ..Inputs::default() };
    let mut ring = Ring::of(&inputs).unwrap();
    let [x, _] = signs();
    let whole = plus(x.scaled(Ratio::int(2)), &Poly::fixed(Ratio::int(4)));
    let other = whole.scaled(Ratio::of(-1, 3));
    let one = ring.one_by(&whole).times(&whole);
    assert!(ring.is_nothing(&one.less(&Poly::fixed(Ratio::ONE))));
    let same = ring.one_by(&other).times(&other);
    assert!(ring.is_nothing(&same.less(&Poly::fixed(Ratio::ONE))) && ring.wholes.len() == 1);
    // x / (2x + 4) + 1 at x = 3: 3 / 10 + 1.
    let quotient = plus(x.times(&ring.one_by(&whole)), &Poly::fixed(Ratio::ONE));
    assert_eq!(ring.compiled(&quotient).unwrap().value(&[3]), Some(Ratio::of(13, 10)));
    assert_eq!(ring.one_by(&Poly::default()), Poly::LOST, "nothing is divided by nothing");
}

/// x + 2y = 10 for all that are meant: then x - 10 + 2y is nothing, and x alone is not.
#[test]
fn an_input_follows_from_one_that_is_tied_to_it() {
    let inputs = Inputs { varied: vec![0, 1], per: 1, values: vec![4, 3], ..Inputs::default() };
    let mut ring = Ring::of(&inputs).unwrap();
    let [x, y] = signs();
    let nothing = plus(x.clone(), &y.scaled(Ratio::int(2))).less(&Poly::fixed(Ratio::int(10)));
    assert_eq!(ring.tie(&nothing), Some(()));
    let tied = plus(ring.input(0), &ring.input(1).scaled(Ratio::int(2)));
    assert!(ring.is_nothing(&tied.less(&Poly::fixed(Ratio::int(10)))));
    assert!(!ring.is_nothing(&ring.input(0)));
    // Three is never nothing, a product says nothing of one input.
    assert_eq!(ring.tie(&Poly::fixed(Ratio::int(3))), None);
    assert_eq!(ring.tie(&x.times(&y)), None);
}
