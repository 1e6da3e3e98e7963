//! Rates that are far from the others.

use tankwright_geometry::{Ratio, parse};

/// How many times the middle of the others is far, where nothing is said: our own limit.
pub const FAR: Ratio = Ratio::of(3, 2);

/// How many times is far, as people write it: a plain number above 1.
///
/// # Errors
/// What it should be, in words.
pub fn ratio(text: &str) -> Result<Ratio, &'static str> {
    let number = parse::decimal(text).filter(|n| *n > Ratio::ONE && *n <= Ratio::int(1000));
    number.ok_or("a plain number above 1, up to 1000, as 1.5")
}

/// A rate far from the others.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Far {
    /// Place in the form's rows.
    pub row: usize,
    /// Place among the copies.
    pub copy: usize,
    /// The rate.
    pub rate: Ratio,
    /// Median of the other rates.
    pub median: Ratio,
    /// How many others, ours among them where the job is priced.
    pub of: usize,
}

impl Far {
    /// Above the others?
    #[must_use]
    pub fn high(&self) -> bool {
        self.rate > self.median
    }
}

/// The middle of figures; the mean of both where two stand in the middle.
#[must_use]
pub(super) fn median(figures: &[Ratio]) -> Option<Ratio> {
    let mut sorted = figures.to_vec();
    sorted.sort_unstable();
    let half = sorted.len() / 2;
    let upper = *sorted.get(half)?;
    if sorted.len() % 2 == 1 {
        return Some(upper);
    }
    let lower = *sorted.get(half.checked_sub(1)?)?;
    Some((lower + upper) / Ratio::int(2))
}

/// The rates of one row, by copy, that are more than `ratio` times the median of the others, or less than the
/// `ratio`th part of it. Ours is one of the others; rates of nothing are none.
pub(super) fn of_row(row: usize, rates: &[Option<Ratio>], own: Option<Ratio>, ratio: Ratio) -> Vec<Far> {
    let real = |r: &Option<Ratio>| r.filter(|r| r.signum() > 0);
    let mut found = Vec::new();
    for (copy, rate) in rates.iter().enumerate().filter_map(|(i, r)| Some((i, real(r)?))) {
        let others = rates.iter().enumerate().filter(|(i, _)| *i != copy).filter_map(|(_, r)| real(r));
        let others: Vec<Ratio> = others.chain(real(&own)).collect();
        let Some(median) = median(&others) else { continue };
        if rate > median * ratio || rate * ratio < median {
            found.push(Far { row, copy, rate, median, of: others.len() });
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rates(all: &[i128]) -> Vec<Option<Ratio>> {
        all.iter().map(|n| Some(Ratio::int(*n))).collect()
    }

    #[test]
    fn the_middle() {
        let of = |all: &[i128]| median(&all.iter().map(|n| Ratio::int(*n)).collect::<Vec<_>>());
        assert_eq!(of(&[3, 1, 2]), Some(Ratio::int(2)));
        // (2 + 3) / 2
        assert_eq!(of(&[4, 3, 1, 2]), Some(Ratio::of(5, 2)));
        assert_eq!(of(&[]), None);
    }

    #[test]
    fn far_is_more_than_so_many_times_the_median_of_the_others() {
        let ratio = Ratio::of(3, 2);
        // 20 against the median of 10, 11, 12: 11 x 1.5 = 16.5
        let far = of_row(0, &rates(&[10, 11, 12, 20]), None, ratio);
        assert_eq!(far.len(), 1);
        assert_eq!((far[0].copy, far[0].median, far[0].of, far[0].high()), (3, Ratio::int(11), 3, true));
        // 15 is 10 x 1.5 exactly: not more
        assert_eq!(of_row(0, &rates(&[10, 15]), None, ratio), []);
        // two that are far from each other, and ours between them: (10 + 12) / 2 = 11, (12 + 30) / 2 = 21
        let far = of_row(0, &rates(&[10, 30]), Some(Ratio::int(12)), ratio);
        assert_eq!(far.iter().map(|f| (f.copy, f.high())).collect::<Vec<_>>(), [(0, false), (1, true)]);
        assert_eq!(of_row(0, &rates(&[10, 0]), None, ratio), []);
    }

    #[test]
    fn ratios() {
        assert_eq!(ratio("1.5"), Ok(FAR));
        assert!(["1", "0.5", "-2", "many", "1001", ""].iter().all(|t| ratio(t).is_err()));
    }
}
