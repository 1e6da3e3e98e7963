//! From a length's trail to an expression over named inputs, and to words.

use std::collections::BTreeSet;

use tankwright_geometry::{Atom, InputId, Len, Ratio, Term};
use tankwright_quantities::decimal;
use tankwright_quantities::job::{Input, Scale};

use crate::expr::{Expr, exact};
use crate::format::short_name;

/// Name of the cell that holds pi.
pub const PI_NAME: &str = "pi_declared";

/// Tenths of a millimetre in a metre.
const METRE: Ratio = Ratio::int(10_000);

/// Letters, digits and underscores of a path, after `prefix`, which keeps it from looking like a cell address.
#[must_use]
pub fn cell_name(prefix: &str, path: &str) -> String {
    let mut name = prefix.to_owned();
    for c in path.chars().take(200) {
        if c.is_ascii_alphanumeric() {
            name.push(c);
        } else if !name.ends_with('_') {
            name.push('_');
        }
    }
    name.trim_end_matches('_').to_owned()
}

/// One name for each input, in order; spreadsheets do not tell capitals apart, so neither does this.
#[must_use]
pub fn input_names(inputs: &[Input]) -> Vec<String> {
    let mut taken = BTreeSet::new();
    let mut names = Vec::with_capacity(inputs.len());
    for input in inputs {
        let first = cell_name("in_", &input.path);
        let mut name = first.clone();
        let mut n = 2_u32;
        while !taken.insert(name.to_lowercase()) {
            name = format!("{first}_no{n}");
            n += 1;
        }
        names.push(name);
    }
    names
}

/// Reads trails against the job's inputs.
#[derive(Clone, Copy, Debug)]
pub struct Trail<'a> {
    /// The job's inputs; trails name them by position.
    pub inputs: &'a [Input],
    /// The name of each input's cell.
    pub names: &'a [String],
}

impl Trail<'_> {
    /// A length in metres; `None` where a number of the trail is too large to write.
    #[must_use]
    pub fn metres(&self, len: &Len) -> Option<Expr> {
        self.form(len, METRE)
    }

    /// A length in millimetres.
    #[must_use]
    pub fn millimetres(&self, len: &Len) -> Option<Expr> {
        self.form(len, Ratio::int(10))
    }

    /// The name of the input at a path, where it is not 0: a zero is structure.
    #[must_use]
    pub fn at_path(&self, path: &str) -> Option<Expr> {
        let found = self.inputs.iter().position(|i| i.path == path && !i.value.is_zero())?;
        self.names.get(found).map(|n| Expr::Name(n.clone()))
    }

    /// A length in metres for booking. Where it depends on an input that no decimal holds (a batter of 1 in 3), it is
    /// rounded far below any step first, so that a half stays a half.
    #[must_use]
    pub fn metres_to_book(&self, len: &Len) -> Option<Expr> {
        let metres = self.metres(len)?;
        Some(if self.endless(len) { metres.round(9) } else { metres })
    }

    fn endless(&self, len: &Len) -> bool {
        let input = |id: &InputId| self.inputs.get(id.0 as usize).is_some_and(|i| exact(i.value).is_none());
        len.terms().iter().any(|t| match &t.atom {
            Atom::Tenth => false,
            Atom::Input(id) => input(id),
            Atom::Share(parts, of) => parts.iter().chain(of.as_deref()).any(|l| self.endless(l)),
        })
    }

    /// The name of an input.
    #[must_use]
    pub fn name(&self, id: InputId) -> Option<Expr> {
        self.names.get(id.0 as usize).map(|n| Expr::Name(n.clone()))
    }

    /// A linear form in a unit of so many tenths of a millimetre (1 for a plain factor).
    fn form(&self, len: &Len, unit: Ratio) -> Option<Expr> {
        if len.terms().is_empty() {
            return Expr::ratio(len.value() / unit);
        }
        let terms: Option<Vec<Expr>> = len.terms().iter().map(|t| self.term(t, unit)).collect();
        terms.map(Expr::total)
    }

    fn term(&self, term: &Term, unit: Ratio) -> Option<Expr> {
        let (mut coef, mut factors, mut whole) = (term.coef, Vec::new(), None);
        match &term.atom {
            Atom::Tenth => return Expr::ratio(coef / unit),
            Atom::Input(id) => {
                // A length's cell is in metres, a plain number's as it is.
                let scale = self.inputs.get(id.0 as usize)?.scale;
                coef = coef * if scale == Scale::Length { METRE / unit } else { Ratio::ONE / unit };
                factors.push(self.name(*id)?);
            }
            Atom::Share(parts, of) => {
                let [first, part] = parts.as_ref();
                factors.push(self.form(first, unit)?);
                match of {
                    Some(of) => {
                        factors.push(self.form(part, METRE)?);
                        whole = Some(self.form(of, METRE)?);
                    }
                    None => factors.push(self.form(part, Ratio::ONE)?),
                }
            }
        }
        let (n, d) = (Ratio::int(coef.numer()), Ratio::int(coef.denom()));
        let mut expr = if n == Ratio::int(-1) {
            let last = Expr::product(factors);
            // A product keeps its sign in front: the text is the same without brackets.
            match last {
                Expr::Mul(mut of) => {
                    let first = of.remove(0);
                    of.insert(0, Expr::Neg(Box::new(first)));
                    Expr::Mul(of)
                }
                one => Expr::Neg(Box::new(one)),
            }
        } else {
            if n != Ratio::ONE {
                factors.insert(0, Expr::ratio(n)?);
            }
            Expr::product(factors)
        };
        if let Some(whole) = whole {
            expr = expr.over(whole);
        }
        if d != Ratio::ONE {
            expr = expr.over(Expr::ratio(d)?);
        }
        Some(expr)
    }

    /// The same in words: keys of the job file, as `width + 2 walls.thickness`.
    #[must_use]
    pub fn words(&self, len: &Len) -> String {
        self.say(len, METRE)
    }

    fn say(&self, len: &Len, unit: Ratio) -> String {
        if len.terms().is_empty() {
            return decimal::plain(len.value() / unit);
        }
        let mut text = String::new();
        for term in len.terms() {
            let minus = term.coef.signum() < 0;
            text.push_str(match (text.is_empty(), minus) {
                (true, true) => "-",
                (true, false) => "",
                (false, true) => " - ",
                (false, false) => " + ",
            });
            let coef = term.coef.abs();
            let atom = match &term.atom {
                Atom::Tenth => {
                    text.push_str(&decimal::plain(coef / unit));
                    continue;
                }
                Atom::Input(id) => {
                    self.inputs.get(id.0 as usize).map_or_else(|| "?".to_owned(), |i| short_name(&i.path))
                }
                Atom::Share(parts, of) => {
                    let [first, part] = parts.as_ref();
                    let whole = of.as_ref().map(|w| format!(" / {}", self.bracketed(w, METRE)));
                    let unit_of_part = if of.is_some() { METRE } else { Ratio::ONE };
                    let (first, part) = (self.bracketed(first, unit), self.bracketed(part, unit_of_part));
                    format!("{first} x {part}{}", whole.unwrap_or_default())
                }
            };
            if coef == Ratio::ONE {
                text.push_str(&atom);
            } else if coef.denom() == 1 {
                text.push_str(&format!("{} {atom}", coef.numer()));
            } else {
                text.push_str(&format!("{}/{} {atom}", coef.numer(), coef.denom()));
            }
        }
        text
    }

    fn bracketed(&self, len: &Len, unit: Ratio) -> String {
        let text = self.say(len, unit);
        if len.terms().len() > 1 { format!("({text})") } else { text }
    }
}

/// Places beyond which a dimension in metres, or a sum of lines, holds nothing but what binary reckoning adds.
pub(crate) const EXACT_PLACES: u32 = 12;
/// The same for a number of steps.
const STEP_PLACES: u32 = 9;

/// A dimension in metres as booked to a step of tenths of a millimetre.
#[must_use]
pub fn booked(metres: Expr, step: i64) -> Option<Expr> {
    let places = match step {
        1 => Some(4),
        10 => Some(3),
        100 => Some(2),
        1_000 => Some(1),
        10_000 => Some(0),
        _ => None,
    };
    if let Some(places) = places {
        return Some(metres.settle(EXACT_PLACES, places));
    }
    if step <= 0 {
        return None;
    }
    let steps = Ratio::of(10_000, step.into());
    let (n, d) = (Expr::ratio(Ratio::int(steps.numer()))?, Expr::ratio(Ratio::int(steps.denom()))?);
    if steps.denom() == 1 {
        return Some(Expr::Mul(vec![metres, n.clone()]).settle(STEP_PLACES, 0).over(n));
    }
    let steps = Expr::Mul(vec![metres, n.clone()]).over(d.clone()).settle(STEP_PLACES, 0);
    Some(Expr::Mul(vec![steps, d]).over(n))
}

/// A length in metres up to the next step of tenths of a millimetre.
#[must_use]
pub fn booked_up(metres: Expr, step: i64) -> Option<Expr> {
    if step <= 0 {
        return None;
    }
    let steps = Ratio::of(10_000, step.into());
    let (n, d) = (Expr::ratio(Ratio::int(steps.numer()))?, Expr::ratio(Ratio::int(steps.denom()))?);
    let many = Expr::Mul(vec![metres, n.clone()]);
    let many = if steps.denom() == 1 { many } else { many.over(d.clone()) };
    let whole = Expr::Up(Box::new(many.round(STEP_PLACES)));
    Some(if steps.denom() == 1 { whole.over(n) } else { Expr::Mul(vec![whole, d]).over(n) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cells::PageId;
    use tankwright_quantities::job::Given;

    fn input(path: &str, scale: Scale) -> Input {
        Input { path: path.into(), value: Ratio::int(7), scale, any_sign: false, given: Given::Nothing }
    }

    #[test]
    fn names_never_look_like_addresses_and_never_clash() {
        let paths = ["a[0].b", "a_0.b", "A[0]b", "straße"].map(|p| input(p, Scale::Length));
        assert_eq!(input_names(&paths), ["in_a_0_b", "in_a_0_b_no2", "in_A_0_b_no3", "in_stra_e"]);
        assert_eq!(cell_name("rate_", "A1"), "rate_A1");
    }

    #[test]
    fn a_trail_reads_as_formula_and_words() {
        let inputs = [
            input("fall", Scale::Length),
            input("length", Scale::Length),
            input("wall", Scale::Length),
            input("batter", Scale::Plain),
        ];
        let names = input_names(&inputs);
        let trail = Trail { inputs: &inputs, names: &names };
        let [fall, length, wall, batter] =
            [0, 1, 2, 3].map(|i| Len::input(InputId(i), Ratio::int(10 + i128::from(i)), true));
        let text = |l: &Len| trail.metres(l).map(|e| e.text(PageId::Inputs)).unwrap_or_default();
        let sum = &(&length + &wall.times(2)) - &Len::fixed(150);
        assert_eq!(text(&sum), "in_length+2*in_wall-0.015");
        assert_eq!(trail.words(&sum), "length + 2 wall - 0.015");
        let share = &wall - &Len::share(&fall, &(&length - &wall), &length);
        assert_eq!(text(&share), "in_wall-in_fall*(in_length-in_wall)/in_length");
        assert_eq!(trail.words(&share), "wall - fall x (length - wall) / length");
        assert_eq!(text(&length.half()), "in_length/2");
        assert_eq!(text(&wall.scaled(&batter).times(Ratio::of(3, 2))), "3*in_wall*in_batter/2");
        assert_eq!(trail.words(&wall.scaled(&batter)), "wall x batter");
        assert_eq!(text(&Len::ZERO), "0");
    }

    #[test]
    fn steps() {
        let text = |step| booked(Expr::Name("x".into()), step).map(|e| e.text(PageId::Inputs));
        assert_eq!(text(1).as_deref(), Some("ROUND(x,4)"));
        assert_eq!(text(100).as_deref(), Some("ROUND(x,2)"));
        assert_eq!(text(50).as_deref(), Some("ROUND(ROUND(x*200,9),0)/200"));
        assert_eq!(text(300).as_deref(), Some("ROUND(ROUND(x*100/3,9),0)*3/100"));
        assert_eq!(text(0), None);
        let up = booked_up(Expr::Name("x".into()), 250).map(|e| e.text(PageId::Inputs));
        assert_eq!(up.as_deref(), Some("ROUNDUP(ROUND(x*40,9),0)/40"));
        let sum = Expr::Add(vec![Expr::Name("x".into()), Expr::Name("y".into())]);
        let booked = booked(sum, 100).map(|e| e.text(PageId::Inputs));
        assert_eq!(booked.as_deref(), Some("ROUND(ROUND(x+y,12),2)"));
    }
}
