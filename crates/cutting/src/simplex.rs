//! A primal revised simplex with a dense inverse. It guides the search: no claim rests on its numbers.

#![expect(clippy::float_arithmetic, reason = "a guide: bounds and plans are made and checked in integers")]

use crate::meter::Meter;

/// How a run ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum End {
    /// No column is worth entering.
    Least,
    /// Work used up, or numbers that cannot be trusted.
    Lost,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Var {
    Column(usize),
    Slack(usize),
    Artificial(usize),
}

/// A smallest-first programme over rows "at least" and "at most", columns added as they come.
pub(crate) struct Simplex {
    rows: usize,
    right: Vec<f64>,
    at_least: Vec<bool>,
    inverse: Vec<f64>,
    level: Vec<f64>,
    basis: Vec<Var>,
    columns: Vec<Vec<(usize, f64)>>,
    costs: Vec<f64>,
    inside: Vec<bool>,
    slack_inside: Vec<bool>,
    penalty: f64,
    duals: Vec<f64>,
    pivots: usize,
}

const EPS: f64 = 1e-9;
/// Levels beyond this are handed out as this.
const MOST: f64 = 1e18;
/// One part of what is handed out as whole numbers.
pub(crate) const ONE: i64 = 1 << 24;

impl Simplex {
    /// Rows: right side, and whether "at least". `penalty` is the cost of one piece that no column covers.
    pub(crate) fn new(rows: &[(i64, bool)], penalty: i64, scale: i64) -> Self {
        let n = rows.len();
        let mut seed = 0x9E37_79B9_7F4A_7C15_u64;
        // Slightly different right sides keep the pivots from going round in circles.
        let mut jitter = || {
            seed ^= seed << 13;
            seed ^= seed >> 7;
            seed ^= seed << 17;
            1e-7 * (1.0 + (seed >> 40) as f64 / (1_u64 << 24) as f64)
        };
        let right: Vec<f64> = rows.iter().map(|r| r.0 as f64 + jitter()).collect();
        let mut inverse = vec![0.0; n * n];
        (0..n).for_each(|i| inverse[i * n + i] = 1.0);
        let basis = rows.iter().enumerate();
        let basis = basis.map(|(i, r)| if r.1 { Var::Artificial(i) } else { Var::Slack(i) }).collect();
        Self {
            rows: n,
            level: right.clone(),
            right,
            at_least: rows.iter().map(|r| r.1).collect(),
            inverse,
            basis,
            columns: Vec::new(),
            costs: Vec::new(),
            inside: Vec::new(),
            slack_inside: rows.iter().map(|r| !r.1).collect(),
            penalty: penalty as f64 / scale as f64,
            duals: vec![0.0; n],
            pivots: 0,
        }
    }

    /// A column: rows with whole numbers, and its cost (over the scale).
    pub(crate) fn add(&mut self, entries: &[(usize, i64)], cost: i64, scale: i64) {
        self.columns.push(entries.iter().map(|&(r, n)| (r, n as f64)).collect());
        self.costs.push(cost as f64 / scale as f64);
        self.inside.push(false);
    }

    /// Makes pieces that no column covers dearer.
    pub(crate) fn dearer(&mut self) {
        self.penalty *= 8.0;
    }

    /// Whether something is still not covered.
    pub(crate) fn uncovered(&self) -> bool {
        self.basis.iter().zip(&self.level).any(|(v, x)| matches!(v, Var::Artificial(_)) && *x > 1e-5)
    }

    fn cost(&self, var: Var) -> f64 {
        match var {
            Var::Column(c) => self.costs[c],
            Var::Slack(_) => 0.0,
            Var::Artificial(_) => self.penalty,
        }
    }

    fn find_duals(&mut self) {
        let n = self.rows;
        let mut duals = vec![0.0; n];
        for (i, &var) in self.basis.iter().enumerate() {
            let cost = self.cost(var);
            if cost != 0.0 {
                let row = &self.inverse[i * n..(i + 1) * n];
                duals.iter_mut().zip(row).for_each(|(d, v)| *d += cost * v);
            }
        }
        self.duals = duals;
    }

    /// The best entering variable and its direction.
    fn entering(&self) -> Option<(Var, f64, Vec<f64>)> {
        let mut best = (-1e-8, None);
        for (c, entries) in self.columns.iter().enumerate() {
            if !self.inside[c] {
                let saved: f64 = entries.iter().map(|&(r, v)| self.duals[r] * v).sum();
                let reduced = self.costs[c] - saved;
                if reduced < best.0 {
                    best = (reduced, Some(Var::Column(c)));
                }
            }
        }
        for r in 0..self.rows {
            let reduced = if self.at_least[r] { self.duals[r] } else { -self.duals[r] };
            if reduced < best.0 && !self.slack_inside[r] {
                best = (reduced, Some(Var::Slack(r)));
            }
        }
        let var = best.1?;
        Some((var, best.0, self.direction(var)))
    }

    fn direction(&self, var: Var) -> Vec<f64> {
        let n = self.rows;
        let column = |row: usize| -> f64 {
            let line = &self.inverse[row * n..(row + 1) * n];
            match var {
                Var::Column(c) => self.columns[c].iter().map(|&(r, v)| line[r] * v).sum(),
                Var::Slack(r) => {
                    if self.at_least[r] {
                        -line[r]
                    } else {
                        line[r]
                    }
                }
                Var::Artificial(r) => line[r],
            }
        };
        (0..n).map(column).collect()
    }

    fn leaving(&self, direction: &[f64]) -> Option<usize> {
        let mut best: Option<(f64, usize)> = None;
        for (i, &d) in direction.iter().enumerate() {
            if d > EPS {
                let ratio = self.level[i].max(0.0) / d;
                let better =
                    best.is_none_or(|(r, j)| ratio < r - 1e-12 || (ratio < r + 1e-12 && d > direction[j]));
                if better {
                    best = Some((ratio, i));
                }
            }
        }
        best.map(|b| b.1)
    }

    /// `reduced` is what the entering variable saves, below zero.
    fn pivot(&mut self, var: Var, reduced: f64, direction: &[f64], out: usize) {
        let n = self.rows;
        let step = self.level[out].max(0.0) / direction[out];
        self.level.iter_mut().zip(direction).for_each(|(x, d)| *x -= step * d);
        self.level[out] = step;
        let by = 1.0 / direction[out];
        self.inverse[out * n..(out + 1) * n].iter_mut().for_each(|v| *v *= by);
        let line: Vec<f64> = self.inverse[out * n..(out + 1) * n].to_vec();
        for (i, &d) in direction.iter().enumerate() {
            if i != out && d != 0.0 {
                let row = &mut self.inverse[i * n..(i + 1) * n];
                row.iter_mut().zip(&line).for_each(|(v, l)| *v -= d * l);
            }
        }
        self.duals.iter_mut().zip(&line).for_each(|(d, l)| *d += reduced * l);
        self.mark(self.basis[out], false);
        self.mark(var, true);
        self.basis[out] = var;
        self.pivots += 1;
    }

    fn mark(&mut self, var: Var, inside: bool) {
        match var {
            Var::Column(c) => self.inside[c] = inside,
            Var::Slack(r) => self.slack_inside[r] = inside,
            Var::Artificial(_) => {}
        }
    }

    /// Brings these columns in first: a start from a basis that was good before.
    pub(crate) fn warm(&mut self, first: usize, meter: &mut Meter<'_>) {
        self.find_duals();
        for c in 0..first.min(self.columns.len()) {
            if meter.over() {
                return;
            }
            let saved: f64 = self.columns[c].iter().map(|&(r, v)| self.duals[r] * v).sum();
            if self.inside[c] || self.costs[c] - saved > -1e-8 {
                continue;
            }
            let direction = self.direction(Var::Column(c));
            meter.add(self.rows * self.rows);
            if let Some(out) = self.leaving(&direction) {
                self.pivot(Var::Column(c), self.costs[c] - saved, &direction, out);
            }
        }
    }

    /// Runs until no column is worth entering.
    pub(crate) fn run(&mut self, meter: &mut Meter<'_>) -> End {
        let most = 200 * (self.rows + 10);
        self.find_duals();
        for _ in 0..most {
            if meter.over() {
                return End::Lost;
            }
            if self.pivots > self.rows.max(200) / 2 {
                if !self.again(meter) {
                    return End::Lost;
                }
                self.find_duals();
            }
            meter.add(self.rows * self.rows + self.columns.len() * 4);
            let Some((var, reduced, direction)) = self.entering() else { return End::Least };
            let Some(out) = self.leaving(&direction) else { return End::Lost };
            self.pivot(var, reduced, &direction, out);
            if !self.level[out].is_finite() {
                return End::Lost;
            }
        }
        End::Lost
    }

    /// The inverse anew from the basis, so that small errors do not grow. False: not to be trusted, or out of work.
    fn again(&mut self, meter: &mut Meter<'_>) -> bool {
        let n = self.rows;
        self.pivots = 0;
        let mut a = vec![0.0; n * n];
        for (j, &var) in self.basis.iter().enumerate() {
            match var {
                Var::Column(c) => self.columns[c].iter().for_each(|&(r, v)| a[r * n + j] = v),
                Var::Slack(r) => a[r * n + j] = if self.at_least[r] { -1.0 } else { 1.0 },
                Var::Artificial(r) => a[r * n + j] = 1.0,
            }
        }
        let mut inv = vec![0.0; n * n];
        (0..n).for_each(|i| inv[i * n + i] = 1.0);
        for col in 0..n {
            meter.add(n * n);
            if meter.over() {
                return false;
            }
            let lead = (col..n).max_by(|&x, &y| a[x * n + col].abs().total_cmp(&a[y * n + col].abs()));
            let Some(lead) = lead.filter(|&r| a[r * n + col].abs() > 1e-11) else { return false };
            if lead != col {
                for k in 0..n {
                    a.swap(lead * n + k, col * n + k);
                    inv.swap(lead * n + k, col * n + k);
                }
            }
            let by = 1.0 / a[col * n + col];
            for k in 0..n {
                a[col * n + k] *= by;
                inv[col * n + k] *= by;
            }
            let (line_a, line_i) = (a[col * n..(col + 1) * n].to_vec(), inv[col * n..(col + 1) * n].to_vec());
            for r in (0..n).filter(|r| *r != col) {
                let by = a[r * n + col];
                if by != 0.0 {
                    a[r * n + col..(r + 1) * n]
                        .iter_mut()
                        .zip(&line_a[col..])
                        .for_each(|(v, l)| *v -= by * l);
                    inv[r * n..(r + 1) * n].iter_mut().zip(&line_i).for_each(|(v, l)| *v -= by * l);
                }
            }
        }
        self.inverse = inv;
        for i in 0..n {
            let line = &self.inverse[i * n..(i + 1) * n];
            self.level[i] = line.iter().zip(&self.right).map(|(v, b)| v * b).sum();
        }
        self.level.iter().all(|x| x.is_finite() && *x > -1e-4)
    }

    /// The objective in parts of [`ONE`], times the scale.
    pub(crate) fn value(&self, scale: i64) -> i128 {
        let sum: f64 = self.basis.iter().zip(&self.level).map(|(&v, x)| self.cost(v) * x).sum();
        (sum * scale as f64 * ONE as f64) as i128
    }

    /// Columns above zero with their level in parts of [`ONE`].
    pub(crate) fn levels(&self) -> Vec<(usize, i64)> {
        let of = self.basis.iter().zip(&self.level);
        let of = of.filter_map(|(v, x)| match v {
            Var::Column(c) if *x > 1e-6 => Some((*c, (x * ONE as f64).min(MOST) as i64)),
            _ => None,
        });
        let mut found: Vec<_> = of.collect();
        found.sort_unstable();
        found
    }

    /// Columns not in the basis that are far from entering, worst first.
    pub(crate) fn idle(&self) -> Vec<usize> {
        let reduced =
            |c: usize| self.costs[c] - self.columns[c].iter().map(|&(r, v)| self.duals[r] * v).sum::<f64>();
        let mut idle: Vec<_> = (0..self.columns.len()).filter(|&c| !self.inside[c]).collect();
        idle.sort_by(|&a, &b| reduced(b).total_cmp(&reduced(a)).then(a.cmp(&b)));
        idle
    }

    /// Worth of each row in parts of [`ONE`], never below zero, smoothed by `older`: six parts of ten old.
    /// Rows "at most" give what they take.
    pub(crate) fn worths(&self, older: Option<&[i64]>) -> Vec<i64> {
        let now = self.duals.iter().zip(&self.at_least).map(|(d, at_least)| {
            let d = if *at_least { *d } else { -*d };
            (d.clamp(0.0, 64.0) * ONE as f64) as i64
        });
        match older {
            None => now.collect(),
            Some(old) => now.zip(old).map(|(n, o)| (n * 4 + o * 6) / 10).collect(),
        }
    }
}
