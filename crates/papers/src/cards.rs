//! Cards for the foreman: one stage a card, readable outdoors, each begins a page.

use std::collections::BTreeMap;

use tankwright_export::text::{stage_ids, stage_page};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::languages::{ENGLISH, spoken};
use tankwright_quantities::words::{Phrase, in_english, look_up};

use crate::blocks::{Block, Paper, of_page};
use crate::offer::Sheet;

/// The cards of these stages, of all where none is named; after each the drawings that show its stage.
#[must_use]
pub fn cards(e: &Estimate, only: Option<&str>, sheets: &BTreeMap<&str, Vec<Sheet>>) -> Paper {
    let ids = stage_ids(e).into_iter().filter(|id| only.is_none_or(|o| o == *id));
    let mut blocks = Vec::new();
    for (id, page) in ids.filter_map(|id| Some((id, stage_page(e, id)?))) {
        if !blocks.is_empty() {
            blocks.push(Block::NewPage);
        }
        blocks.extend(of_page(&page));
        blocks.extend(sheets.get(id).into_iter().flatten().map(Sheet::block));
    }
    Paper {
        title: Phrase::with("paper-cards-title", &[&e.title]).to_string(),
        foot: Phrase::with("paper-foot", &[&e.title, &e.date, &e.profile.0]).to_string(),
        date: e.date.clone(),
        language: spoken().to_owned(),
        mark: mark(),
        large: true,
        blocks,
    }
}

/// What stands over every page of a card that nobody has read yet who speaks its language.
fn mark() -> Option<String> {
    let say = || format!("{} \u{b7} {}", look_up("language-mark"), in_english("language-mark"));
    Some(say()).filter(|_| spoken() != ENGLISH)
}
