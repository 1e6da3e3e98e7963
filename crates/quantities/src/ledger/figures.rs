//! A form reckoned for inputs for which it holds. In a search one candidate is much like the one before: what hangs on
//! no input that has changed stays as it is.

use tankwright_geometry::nearest;

use crate::ledger::form::{Booked, Form, Inputs, Number, Part, Row};

/// What a form comes to.
#[derive(Debug, Default)]
pub(crate) struct Figures {
    /// The turn of `lens`, and that of all the rest; 0 for none.
    of: [u64; 2],
    pub(crate) lens: Vec<Part>,
    booked: Vec<i128>,
    rows: Vec<i128>,
    /// By group: products of booked dimensions, tenths of a millimetre.
    pub(crate) value: Vec<i128>,
    /// By group: exact products in the form's scale, by denominator.
    pub(crate) exact: Vec<Vec<Part>>,
}

/// The largest whole number not above `n / d`, `d` positive. Division of 128 bits is slow: most figures fit in 64.
fn floor(n: i128, d: i128) -> i128 {
    match (i64::try_from(n), i64::try_from(d)) {
        (Ok(n), Ok(d)) if d > 0 => n.div_euclid(d).into(),
        _ => n.div_euclid(d),
    }
}

/// Figures that stopped half way are good for nothing: all is reckoned anew the next time.
fn forget_if(done: Option<()>, at: &mut Figures) -> Option<()> {
    if done.is_none() {
        *at = Figures::default();
    }
    done
}

impl Form {
    /// Reckons every length; `None` where a number grows too large.
    pub(crate) fn lens(&self, inputs: &Inputs, at: &mut Figures) -> Option<()> {
        let done = self.take_lens(inputs, at);
        forget_if(done, at)
    }

    fn take_lens(&self, inputs: &Inputs, at: &mut Figures) -> Option<()> {
        let on = inputs.since(std::mem::replace(&mut at.of[0], inputs.turn));
        let whole = at.lens.len() != self.sums.len();
        let mut lens = std::mem::take(&mut at.lens);
        if whole {
            lens.clear();
            lens.resize(self.sums.len(), Part { n: 0, d: 1 });
        }
        for (i, sum) in self.sums.iter().enumerate().filter(|(_, sum)| whole || sum.on & on != 0) {
            lens[i] = self.added(sum, &inputs.values, &|i| lens.get(i).copied())?;
        }
        at.lens = lens;
        Some(())
    }

    /// Reckons every line for inputs for which the form [`holds`](Self::holds); `None` where a number grows too large.
    /// `exact`: exact sums too.
    pub(crate) fn figures(&self, inputs: &Inputs, at: &mut Figures, exact: bool) -> Option<()> {
        self.lens(inputs, at)?;
        let done = self.take_rows(inputs, at, exact);
        forget_if(done, at)
    }

    fn take_rows(&self, inputs: &Inputs, at: &mut Figures, exact: bool) -> Option<()> {
        let on = inputs.since(std::mem::replace(&mut at.of[1], inputs.turn));
        let whole = at.rows.len() != self.rows.len();
        if whole {
            at.booked = vec![0; self.dims.len()];
            at.rows = vec![0; self.rows.len()];
            at.value = vec![0; self.groups.len()];
        }
        let moved = |len: usize| whole || self.sums.get(len).is_none_or(|sum| sum.on & on != 0);
        for ((len, how), booked) in self.dims.iter().zip(&mut at.booked).filter(|((len, _), _)| moved(*len)) {
            *booked = self.booked(*at.lens.get(*len)?, *how)?;
        }
        for (i, row) in self.rows.iter().enumerate().filter(|(_, row)| whole || row.on & on != 0) {
            let value = self.value(row, at)?;
            let sum = at.value.get_mut(row.group)?;
            *sum = sum.checked_add(value)?.checked_sub(at.rows[i])?;
            at.rows[i] = value;
        }
        if exact {
            at.exact.iter_mut().for_each(Vec::clear);
            at.exact.resize(self.groups.len(), Vec::new());
            self.rows.iter().try_for_each(|row| self.exact(row, at))?;
        }
        Some(())
    }

    /// A dimension as it is booked.
    fn booked(&self, Part { n, d }: Part, how: Booked) -> Option<i128> {
        Some(match how {
            Booked::Nearest(step) => nearest(n, d.checked_mul(self.scale)?.checked_mul(step)?)? * step,
            Booked::Up(step) => {
                let per = d.checked_mul(self.scale)?.checked_mul(step)?;
                -floor(-n, per) * step
            }
            Booked::Dropped => 1,
        })
    }

    /// How many times a line counts.
    fn count(row: &Row, at: &Figures) -> Option<i128> {
        let mut count = row.count;
        for number in &row.numbers {
            let quotient = |a: usize, b: usize| -> Option<(i128, i128)> {
                let (a, b) = (at.lens.get(a)?, at.lens.get(b)?);
                let d = b.n.checked_mul(a.d).filter(|d| *d > 0)?;
                Some((a.n.checked_mul(b.d)?, d))
            };
            count = count.checked_mul(match number {
                Number::Strips(lift, course, every) => {
                    let (n, d) = quotient(*lift, *course)?;
                    (floor(n, d) - 1).max(0) / every
                }
                Number::Spaces(over, apart) => {
                    let (n, d) = quotient(*over, *apart)?;
                    1 - floor(-n, d)
                }
            })?;
        }
        Some(count)
    }

    /// A line's product of booked dimensions; nothing where it is left out of the quantity.
    fn value(&self, row: &Row, at: &Figures) -> Option<i128> {
        if row.kept {
            return Some(0);
        }
        let mut value = Self::count(row, at)?;
        for dim in &row.dims {
            value = value.checked_mul(*at.booked.get(*dim)?)?;
        }
        Some(value)
    }

    /// Adds a line's exact product to its group.
    fn exact(&self, row: &Row, at: &mut Figures) -> Option<()> {
        let mut exact = Part { n: Self::count(row, at)?, d: 1 };
        for dim in &row.dims {
            let ((len, how), booked) = (self.dims.get(*dim)?, at.booked.get(*dim)?);
            let Part { n, d } = match how {
                Booked::Up(_) => Part { n: booked.checked_mul(self.scale)?, d: 1 },
                _ => *at.lens.get(*len)?,
            };
            exact.n = exact.n.checked_mul(n)?;
            if d != 1 {
                exact.d = exact.d.checked_mul(d)?;
            }
        }
        let sums = at.exact.get_mut(row.group)?;
        match sums.iter_mut().find(|s| s.d == exact.d) {
            Some(sum) => sum.n = sum.n.checked_add(exact.n)?,
            None => sums.push(exact),
        }
        Some(())
    }
}
