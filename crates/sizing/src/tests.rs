//! The built-in rules held true.

use crate::builtin;

#[test]
fn built_in_rules_read_and_every_worked_example_comes_out() {
    let (rules, problems) = builtin();
    let told: Vec<_> =
        problems.iter().map(|p| (p.place.as_ref().map(|p| (&p.file, p.line)), p.code, &p.message)).collect();
    assert!(told.is_empty(), "{told:#?}");
    assert!(rules.rules.len() > 25, "{}", rules.rules.len());
}
