//! Reads what a profile says of its method beyond steps, places and limits of voids.

use tankwright_geometry::Ratio;

use super::entry::Fields;
use super::profile::{DigClass, Note, NoteKind, OfWork, Room};
use super::read_profile::{SQUARE, sourced};
use crate::source::Source;
use crate::works;

/// What becomes of working space.
pub(super) fn room(f: &Fields<'_, '_>) -> Option<Room> {
    let under = f.get("under").is_some().then(|| f.length("under"));
    let (chosen, source) = sourced(f, |f| f.choice("value", &["billed", "in-rate", "face"]))?;
    match (chosen, under) {
        (0, None) => Some(Room::Billed),
        (1, None) => Some(Room::InRate(source)),
        (2, Some(under)) => Some(Room::ByFace(under?, source)),
        _ => {
            let message = "`under` goes with working space by its face, and with that alone".into();
            f.report("P019", f.span_of("under"), message, "as: value = \"face\", under = \"600 mm\"");
            None
        }
    }
}

/// Classes of a pit by its plan.
#[expect(clippy::option_option, reason = "a part left out is different from one that is wrong")]
pub(super) fn class(top: &Fields<'_, '_>) -> Option<Option<DigClass>> {
    let Some(f) = top.part_if_any("dig_class") else { return Some(None) };
    let width = f.length("width");
    let area = f.number("area", Ratio::ZERO, Ratio::int(10_000));
    let says = [f.text("small"), f.text("large")];
    let source = f.source();
    f.done();
    let [small, large] = says;
    Some(Some(DigClass {
        width: width?,
        area: area? * Ratio::int(SQUARE),
        says: [small?, large?],
        source: source?,
    }))
}

/// Largest end that is not deducted, in square tenths of a millimetre; nothing for any size.
#[expect(clippy::option_option, reason = "any size is different from a size that is wrong")]
pub(super) fn end(f: &Fields<'_, '_>) -> Option<Option<Ratio>> {
    if f.text("value").as_deref() == Some("any") {
        return Some(None);
    }
    f.number("value", Ratio::ZERO, Ratio::int(100)).map(|m2| Some(m2 * Ratio::int(SQUARE)))
}

/// A list of entries on kinds of work; `says`: with words.
pub(super) fn of_works<'d>(top: &Fields<'_, 'd>, key: &'d str, says: bool) -> Option<Vec<OfWork>> {
    let one = |f: Fields<'_, '_>| {
        let code = f.text("code");
        let words = if says { f.text("says") } else { Some(String::new()) };
        let source = f.source();
        f.done();
        let code = code?;
        let work = code.split('/').next().unwrap_or_default();
        let all = works::all();
        if !all.iter().any(|w| w.id == work) {
            let near = crate::job::suggestion(work, all.iter().map(|w| w.id));
            let message = format!("there is no work `{work}`");
            f.report(
                "P020",
                f.span_of("code"),
                message,
                &format!("{near}`tankwright rules works` lists them"),
            );
            return None;
        }
        Some(OfWork { code, says: words?, source: source? })
    };
    top.list_if_any(key).into_iter().map(one).collect()
}

/// Everything the profile says of itself.
pub(super) fn notes(top: &Fields<'_, '_>) -> Option<Vec<Note>> {
    let mut all = Vec::new();
    for (key, kind) in NoteKind::ALL {
        for f in top.list_if_any(key) {
            let says = f.text("says");
            let source: Option<Source> = f.source();
            f.done();
            all.push(says.zip(source).map(|(says, source)| Note { kind, says, source }));
        }
    }
    all.into_iter().collect()
}
