//! When what is built.

use crate::job::field::{Fallback, Field, Kind, Presence};

/// Gives the ids of all stages to a macro; a test holds them to the one list of stages.
macro_rules! stages {
    ($with:ident) => {
        $with!(
            "set-out",
            "dig",
            "base",
            "walls-lower",
            "ring-beam",
            "walls-upper",
            "plaster",
            "cover",
            "soak-pit",
            "pipes",
            "strike",
            "finish"
        )
    };
}
pub(super) use stages;

macro_rules! words {
    ($($stage:literal),*) => { &[$($stage),*] };
}

/// Ids of the stages, in order.
pub(super) const STAGES: &[&str] = stages!(words);

macro_rules! programme {
    ($($stage:literal),*) => {
        &[
            Field::part("programme", Presence::Always, "when what is built"),
            Field::value("programme.start", Kind::Date, Fallback::Nothing, "first day on the site"),
            Field::value(
                "programme.rest_day",
                Kind::Choice(&["none", "friday", "saturday", "sunday"]),
                Fallback::Nothing,
                "a day of the week without work; left out: all days count",
            ),
            Field::part("programme.days", Presence::Always, "days of a stage, all counted but the day of rest; the rest from the built-in list"),
            $(Field::value(
                concat!("programme.days.", $stage),
                Kind::Count { least: 1, most: 1_000 },
                Fallback::Nothing,
                "days",
            ),)*
            Field::part("programme.poured", Presence::Always, "real dates as they happen"),
            $(Field::value(concat!("programme.poured.", $stage), Kind::Date, Fallback::Nothing, "poured on"),)*
        ]
    };
}

/// The table.
pub(super) static FIELDS: &[Field] = stages!(programme);

#[cfg(test)]
mod tests {
    use crate::stage::Stage;

    #[test]
    fn stages_are_the_one_list() {
        assert!(Stage::ALL.iter().map(|s| s.id()).eq(super::STAGES.iter().copied()));
    }
}
