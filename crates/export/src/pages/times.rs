//! What multiplies a line or a bar, as an expression.

use tankwright_geometry::InputId;
use tankwright_quantities::sheet::Times;

use crate::expr::Expr;
use crate::trail::{PI_NAME, Trail};

/// One multiplier; `None` where a number is too large to write.
pub(crate) fn one(trail: &Trail<'_>, times: &Times) -> Option<Expr> {
    let named = |(id, value): (InputId, i64)| if value == 0 { Some(Expr::int(0)) } else { trail.name(id) };
    match times {
        Times::Count(n) => Some(Expr::int(*n)),
        Times::Fraction(f) => {
            let (n, d) = (i64::try_from(f.numer()).ok()?, i64::try_from(f.denom()).ok()?);
            Some(if d == 1 { Expr::int(n) } else { Expr::int(n).over(Expr::int(d)) })
        }
        Times::Pi => Some(Expr::Name(PI_NAME.to_owned())),
        Times::Input(id, value) => named((*id, *value)),
        Times::MassPerMetre(kg) => Expr::ratio(*kg),
        Times::Spaces { over, at, .. } => {
            let spaces = trail.metres(over)?.over(trail.metres(at)?).round(9);
            Some(Expr::Add(vec![Expr::Up(Box::new(spaces)), Expr::int(1)]))
        }
        Times::Strips { lift, course, every, .. } => {
            // ROUND keeps a whole number of courses whole where a spreadsheet reckons in binary.
            let courses = trail.metres(lift)?.over(trail.metres(course)?).round(9);
            let less_one = Expr::Add(vec![Expr::Floor(Box::new(courses)), Expr::int(-1)]);
            let strips = Expr::Floor(Box::new(less_one.over(named(*every)?)));
            Some(Expr::Max(vec![Expr::int(0), strips]))
        }
    }
}
