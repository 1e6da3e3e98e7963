//! Tests of the job reader.

use super::*;

/// Numbers that look random and are the same in every run.
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap_or(0) % n.max(1)
    }
}

fn sound(text: &str) {
    let (job, problems) = run(text);
    let given = job
        .values
        .values()
        .filter_map(|(_, g)| if let crate::job::Given::Here(p) = g { Some(p) } else { None });
    for place in given.chain(problems.iter().filter_map(|p| p.place.as_ref())) {
        assert!(text.get(place.span.clone()).is_some(), "{place:?}");
        assert_eq!(place.line, crate::job::line_of(text, place.span.start));
    }
    for problem in &problems {
        assert!(
            problem.hint.is_some() && !problem.label.is_empty() && problem.place.is_some(),
            "{problem:?}"
        );
    }
}

#[test]
fn no_garbage_makes_it_stumble() {
    let pieces: Vec<&str> =
        "[|]|{|}|\"|\"\"\"|'|=|,|.|\n|\r|\0|\u{feff}|\u{e9}|\u{1f6b0}|-|9|1e9|#|[[|]]|true|nan|m| |\\|:"
            .split('|')
            .collect();
    let mut dice = Dice(20_261_125);
    for _ in 0..2_000 {
        let mut chars: Vec<char> = FULL.chars().collect();
        for _ in 0..=dice.below(4) {
            let at = dice.below(chars.len());
            let piece: Vec<char> = pieces[dice.below(pieces.len())].chars().collect();
            match dice.below(4) {
                0 => drop(chars.remove(at)),
                1 => drop(chars.splice(at..=at, piece)),
                2 => drop(chars.splice(at..at, piece)),
                _ => {
                    let end = (at + dice.below(40)).min(chars.len());
                    let cut: Vec<char> = chars.drain(at..end).collect();
                    let to = dice.below(chars.len());
                    drop(chars.splice(to..to, cut));
                }
            }
        }
        sound(&chars.into_iter().collect::<String>());
    }
}

#[test]
fn nor_do_extremes() {
    for text in ["\u{feff}", "\0", "=", "[", "[[", "[]\n[[]]", "a", "\"", "'''", "\r", "\u{feff}\u{feff}x"] {
        sound(text);
    }
    for deep in ["[", "{a=", "a.", "[[", "\"\"\""] {
        sound(&deep.repeat(20_000));
        sound(&format!("x={}", deep.repeat(20_000)));
    }
    sound(&"x = \"\n".repeat(3_000));
}
