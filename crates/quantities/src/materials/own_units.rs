//! Bricks and blocks of the job's own, by their size, put among those of the data.

use std::borrow::Cow;

use crate::job::Job;
use crate::materials::codes;
use crate::problem::Problem;
use crate::rates::{MasonryUnit, Stock};
use crate::source::Source;
use tankwright_geometry::Ratio;

/// The stock with the job's own masonry units in it; the same stock where it has none.
///
/// # Errors
/// A name that is taken or cannot be one, cells that are not a share of the unit.
pub fn with_own_units<'a>(job: &Job, stock: &'a Stock) -> Result<Cow<'a, Stock>, Vec<Problem>> {
    let count = job.count_of("materials.units");
    if count == 0 {
        return Ok(Cow::Borrowed(stock));
    }
    let mut own = stock.clone();
    let mut problems = Vec::new();
    for i in 0..count {
        let path = format!("materials.units[{i}]");
        let id = job.text(&format!("{path}.id")).to_owned();
        let fit = id.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b"-.".contains(&b));
        let taken = own.units.contains_key(&id);
        if !fit || id.is_empty() || taken {
            let what = format!("{path}.id: `{id}` cannot be the name of a unit");
            let problem = Problem::error(codes::UNIT_NAME, job.place(&format!("{path}.id")), what);
            let label = if taken { "there is a unit of this name" } else { "not a name" };
            let hint = "lower-case letters, digits, points and hyphens, as my-brick; one name for one unit";
            problems.push(problem.label(label).hint(hint));
            continue;
        }
        let voids = job.number(&format!("{path}.voids"));
        let hollow = job.flag(&format!("{path}.hollow"));
        if voids.is_some_and(|v| !hollow || v.is_zero() || v > Ratio::of(9, 10)) {
            let what = format!("{path}.voids: a share from above 0 to 0.9 is wanted here, of a hollow unit");
            let problem = Problem::error(codes::UNIT_CELLS, job.place(&format!("{path}.voids")), what);
            let hint = "0.45 says that 45 % of it is cells; a solid unit has none: leave voids out";
            problems.push(problem.label("not a share that is cells").hint(hint));
            continue;
        }
        own.units.insert(id.clone(), unit(job, &path, id, hollow, voids));
    }
    if problems.is_empty() { Ok(Cow::Owned(own)) } else { Err(problems) }
}

fn unit(job: &Job, path: &str, id: String, hollow: bool, voids: Option<Ratio>) -> MasonryUnit {
    let tenths = |key: &str| {
        let value = job.len(&format!("{path}.{key}")).value();
        i64::try_from(value.numer()).unwrap_or(0)
    };
    let size = [tenths("length"), tenths("breadth"), tenths("height")];
    let joint = tenths("joint");
    let mm = |t: i64| crate::decimal::plain(Ratio::from(t) / Ratio::int(10));
    let walls = (1..=3).map(|n| n * size[1] + (n - 1) * joint).collect();
    MasonryUnit {
        title: format!("{id} {} x {} x {} mm", mm(size[0]), mm(size[1]), mm(size[2])),
        id,
        size,
        joint,
        walls,
        hollow,
        voids,
        filled: Ratio::ONE,
        source: Source {
            text: crate::words::look_up("materials-job-file").to_owned(),
            from: job.text("job.date").to_owned(),
            ..Source::default()
        },
    }
}
