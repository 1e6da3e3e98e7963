//! `tankwright size`: capacity and dimensions by a named rule, soakage from a percolation test.

use tankwright_quantities::problem::Problem;
use tankwright_sizing::{Inputs, report};

use crate::args::{Format, Size};
use crate::context::{Context, Outcome};
use crate::data;
use crate::engine;
use crate::exit::Exit;
use crate::load::Found;

pub(super) fn run(args: &Size, cx: &mut Context<'_>) -> Outcome {
    let mut found = Found::default();
    let rules = data::rules(cx, &mut found);
    if let Some(exit) = found.exit {
        return cx.refuse(exit, &found.problems);
    }
    cx.say(&found.problems);
    let given = given(args);
    let inputs = Inputs::read(given.iter().map(|(name, text)| (*name, *text)));
    let mut problems = Vec::new();
    let done = report(&rules, &args.rule, inputs.as_ref().unwrap_or(&Inputs::default()));
    problems.extend(inputs.err().unwrap_or_default());
    if given.is_empty() {
        let hint = "say how many people, as --persons 14, and what else the rule asks for";
        problems.push(Problem::error("U042", None, "nothing is given to size by").hint(hint));
    }
    let done = match done {
        Ok(done) if problems.is_empty() => done,
        Ok(_) => return cx.refuse(Exit::Usage, &problems),
        Err(problem) => {
            problems.push(*problem);
            return cx.refuse(Exit::Usage, &problems);
        }
    };
    if let Some(refused) = done.refused() {
        if args.format == Format::Json {
            cx.print(&engine::size(&done, args.format))?;
        }
        let rule = &refused.about.rule;
        let told: Vec<_> = refused
            .reasons
            .iter()
            .map(|reason| {
                let problem = Problem::error("U041", None, format!("{rule} refuses: {reason}"));
                problem.hint("--rule all shows what the other rules say")
            })
            .collect();
        return cx.refuse(Exit::Usage, &told);
    }
    cx.print(&engine::size(&done, args.format))
}

/// What the command line says, by the names of the inputs.
fn given(args: &Size) -> Vec<(&'static str, &str)> {
    let all = [
        ("persons", args.persons.as_deref()),
        ("bedrooms", args.bedrooms.as_deref()),
        ("fixture-units", args.fixture_units.as_deref()),
        ("flow", args.flow.as_deref()),
        ("water-use", args.water_use.as_deref()),
        ("years", args.years.as_deref()),
        ("temperature", args.temperature.as_deref()),
        ("wastes", args.wastes.as_deref()),
        ("grinder", args.grinder.then_some("yes")),
        ("effluent", args.effluent.as_deref()),
        ("percolation", args.percolation.as_deref()),
        ("soil", args.soil.as_deref()),
        ("water-table", args.water_table.as_deref()),
        ("trench-width", args.trench_width.as_deref()),
        ("trench-depth", args.trench_depth.as_deref()),
        ("pit-diameter", args.pit_diameter.as_deref()),
        ("pit-depth", args.pit_depth.as_deref()),
        ("pit-inlet", args.pit_inlet.as_deref()),
    ];
    all.into_iter().filter_map(|(name, text)| Some((name, text?))).collect()
}
