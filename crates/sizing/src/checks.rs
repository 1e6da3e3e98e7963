//! A rule tried on its own worked examples, whenever it is read.

use tankwright_quantities::rates::entry::Fields;

use crate::inputs::Inputs;
use crate::rule::{Check, Rule};
use crate::size::size;
use crate::sized::short;

/// Reports every example that does not come out.
pub(crate) fn report(f: &Fields<'_, '_>, rule: &Rule) {
    let spans: Vec<_> = f.list_if_any("check").iter().map(|c| c.span.clone()).collect();
    for (check, span) in rule.checks.iter().zip(spans) {
        if let Err(why) = run(rule, check) {
            f.report("P037", span, format!("the worked example does not come out: {why}"), &check.source);
        }
    }
}

/// Works one example.
///
/// # Errors
/// What comes out instead.
pub fn run(rule: &Rule, check: &Check) -> Result<(), String> {
    let given = check.given.iter().map(|(name, text)| (name.as_str(), text.as_str()));
    let inputs = Inputs::read(given)
        .map_err(|p| p.iter().map(|p| p.message.clone()).collect::<Vec<_>>().join("; "))?;
    match size(rule, &inputs) {
        Err(refused) => {
            let reasons = refused.reasons.join("; ");
            let meant = !check.refused.is_empty() && reasons.contains(&check.refused);
            if meant { Ok(()) } else { Err(format!("refused: {reasons}")) }
        }
        Ok(_) if !check.refused.is_empty() => Err("it is not refused".to_owned()),
        Ok(sized) => {
            for (step, want) in &check.out {
                let found = sized.working.iter().find(|w| w.step == *step).and_then(|w| w.value.as_ref());
                let Some(found) = found else { return Err(format!("there is no {step}")) };
                let off = found.number - *want;
                if !off.is_known() || off.abs() > check.to {
                    return Err(format!("{step} is {}, not {}", short(found.number), short(*want)));
                }
            }
            Ok(())
        }
    }
}
