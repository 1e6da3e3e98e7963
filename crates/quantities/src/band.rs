//! Shapes that several elements share: the planes of the walls, and a beam that runs round all four of them.

use tankwright_geometry::{Axis, Len, Z};

use crate::ledger::{Book, Carrier, Claim, Face, Rank, SetOut, Side, Spec, count};
use crate::site::{Site, Span};
use crate::stage::Stage;
use crate::words::Phrase;

/// A plane: extents along and across (one of them flat), its axis and the way it looks.
pub type Plane = (Span, Span, (Axis, Side));

/// The four stretches of the outer walls on plan: ends over the outer width, sides between them.
#[must_use]
pub fn around(site: &Site<'_>) -> [(Span, Span); 4] {
    let ([x0, x1], [y0, y1]) = (site.outer_x(), site.outer_y());
    let (l, w) = (site.length.clone(), site.width.clone());
    [
        ([x0, Len::ZERO], [y0.clone(), y1.clone()]),
        ([l.clone(), x1], [y0.clone(), y1.clone()]),
        ([Len::ZERO, l.clone()], [y0, Len::ZERO]),
        ([Len::ZERO, l], [w, y1]),
    ]
}

/// The four inner planes of the outer walls, looking in.
#[must_use]
pub fn inner_planes(site: &Site<'_>) -> [Plane; 4] {
    planes([Len::ZERO, site.length.clone()], [Len::ZERO, site.width.clone()], [Side::High, Side::Low])
}

/// The four outer planes, looking out.
#[must_use]
pub fn outer_planes(site: &Site<'_>) -> [Plane; 4] {
    planes(site.outer_x(), site.outer_y(), [Side::Low, Side::High])
}

/// The four vertical planes of a rectangle on plan.
#[must_use]
pub fn planes(x: Span, y: Span, looks: [Side; 2]) -> [Plane; 4] {
    let ([x0, x1], [y0, y1]) = (x.clone(), y.clone());
    [
        ([x0.clone(), x0], y.clone(), (Axis::X, looks[0])),
        ([x1.clone(), x1], y, (Axis::X, looks[1])),
        (x.clone(), [y0.clone(), y0], (Axis::Y, looks[0])),
        (x, [y1.clone(), y1], (Axis::Y, looks[1])),
    ]
}

/// A beam round the four outer walls.
#[derive(Debug)]
pub struct Band<'a> {
    /// Word key of the part.
    pub part: &'static str,
    /// Who wins.
    pub rank: Rank,
    /// Its concrete.
    pub concrete: &'a Spec,
    /// Its formwork.
    pub form: &'a Spec,
    /// Stage.
    pub stage: Stage,
    /// Underside and top.
    pub z: [Len; 2],
}

impl Band<'_> {
    fn levels(&self) -> [Z; 2] {
        self.z.clone().map(Z::flat)
    }

    /// Claims and faces.
    pub fn set_out(&self, site: &Site<'_>, out: &mut SetOut) {
        let z = self.levels();
        for (x, y) in around(site) {
            let block = Site::block([&x[0], &x[1]], [&y[0], &y[1]], [&z[0], &z[1]]);
            out.claims.push(Claim::new(self.part, self.rank, self.concrete, self.stage, block));
        }
        let inside = inner_planes(site).map(|p| (p, Some(z.clone())));
        let open = site.outside(&z);
        let outside = outer_planes(site).map(|p| (p, open.clone()));
        for ((x, y, look), z) in inside.into_iter().chain(outside) {
            let Some(z) = z else { continue };
            let block = Site::block([&x[0], &x[1]], [&y[0], &y[1]], [&z[0], &z[1]]);
            out.faces.push(Face::new(self.form, self.rank, Carrier::Formed, look, self.stage, block));
        }
    }

    /// Gross lines; `depth` as the job gives it.
    pub fn measure(&self, site: &Site<'_>, book: &mut Book<'_>, depth: &Len) {
        let (over_all, t, l) = (site.outer_width(), &site.wall, &site.length);
        let (two, s) = ([count(2)], self.stage);
        book.line(self.concrete, s, Phrase::new("end-walls"), &two, &[&over_all, t, depth]);
        book.line(self.concrete, s, Phrase::new("side-walls"), &two, &[l, t, depth]);
        book.line(self.form, s, Phrase::new("inside-across"), &two, &[&site.width, depth]);
        book.line(self.form, s, Phrase::new("inside-along"), &two, &[l, depth]);
        if let Some([low, high]) = site.outside(&self.levels()) {
            let open = &high.off - &low.off;
            book.line(self.form, s, Phrase::new("outside-across"), &two, &[&over_all, &open]);
            book.line(self.form, s, Phrase::new("outside-along"), &two, &[&site.outer_length(), &open]);
        }
    }
}
