//! Papers to print among those of the page: offer, stage cards, pictures; none where the program is built without them.

use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::job::Job;
use tankwright_quantities::problem::Problem;

use crate::desk::FirmText;
use crate::papers::Listed;

/// Are there any?
pub(crate) const PRINTS: bool = cfg!(feature = "papers");

#[cfg(feature = "papers")]
pub(crate) use with::{list, make, pictures};

#[cfg(feature = "papers")]
mod with {
    use tankwright_quantities::languages;
    use tankwright_quantities::words::{Phrase, look_up};
    use tankwright_run::{Appendices, Firm, no_picture, print_cards, print_offer, print_picture, unprinted};

    use super::{Estimate, FirmText, Job, Listed, Problem};
    use crate::papers::{CARDS, DRAWINGS, language, listed};

    const OFFER: &str = "offer.pdf";
    /// The same with its appendices.
    const WHOLE: &str = "offer-whole.pdf";
    /// Dots along a picture: about what an A4 sheet has at 150 an inch.
    const WIDE: u32 = 1_754;

    /// What was in order when the page began.
    fn read(firm: Option<&FirmText>) -> Option<Job> {
        firm.map(|f| Firm::read(&f.name, &f.text).0)
    }

    /// Offer and cards.
    pub(crate) fn list(e: &Estimate, job: &Job, firm: Option<&FirmText>) -> Vec<Listed> {
        let mut all = Vec::new();
        if e.bill.total.is_some() {
            let kept = read(firm);
            let firm = kept.as_ref().filter(|_| !job.given("firm")).unwrap_or(job);
            let logo = !firm.text("firm.logo").is_empty();
            // The page reads no file of the machine.
            let bare = if logo { look_up("web-paper-no-logo") } else { "" };
            all.push(listed(OFFER, format!("{}{bare}", look_up("web-paper-offer"))));
            all.push(listed(WHOLE, format!("{}{bare}", look_up("web-paper-offer-whole"))));
        }
        all.extend(languages::all().map(|l| {
            if l.id == languages::ENGLISH {
                return listed(&format!("{CARDS}.pdf"), look_up("web-paper-cards").to_owned());
            }
            let title = Phrase::with("web-paper-cards-in", &[l.name()]).to_string();
            listed(&format!("{CARDS}-{}.pdf", l.id), title)
        }));
        all
    }

    /// Drawings as pictures.
    pub(crate) fn pictures(drawings: &[(String, String)]) -> impl Iterator<Item = Listed> {
        let title = |title: &str| Phrase::with("web-paper-drawing", &[title]).to_string();
        drawings.iter().map(move |(id, name)| listed(&format!("{DRAWINGS}{id}.png"), title(name)))
    }

    /// Makes one of them, as the commands do.
    pub(crate) fn make(
        id: &str,
        e: &Estimate,
        job: &Job,
        firm: Option<&FirmText>,
    ) -> Option<Result<Vec<u8>, Vec<Problem>>> {
        if id == OFFER || id == WHOLE {
            e.bill.total?;
            let with = Appendices { bill: id == WHOLE, drawings: id == WHOLE };
            let firm = Firm { firm: read(firm), logo: None };
            return Some(print_offer(e, job, with, firm).map_err(|why| vec![unprinted(&why)]));
        }
        if let Some(drawing) = id.strip_prefix(DRAWINGS).and_then(|d| d.strip_suffix(".png")) {
            let found = tankwright_draw::drawing(e, drawing)?;
            return Some(print_picture(&found, WIDE).map_err(|why| vec![no_picture(drawing, &why)]));
        }
        let stage = id.strip_prefix(CARDS).and_then(|rest| rest.strip_prefix('/')?.strip_suffix(".pdf"));
        if let Some(stage) = stage.filter(|s| tankwright_run::stage_ids(e).contains(s)) {
            let printed = print_cards(e, Some(stage), languages::english());
            return Some(printed.map(|p| p.bytes).map_err(|why| vec![unprinted(&why)]));
        }
        list(e, job, firm).iter().any(|l| l.id == id).then(|| {
            let printed = print_cards(e, None, language(id)).map_err(|why| vec![unprinted(&why)])?;
            Ok(printed.bytes)
        })
    }
}

#[cfg(not(feature = "papers"))]
pub(crate) fn list(_: &Estimate, _: &Job, _: Option<&FirmText>) -> Vec<Listed> {
    Vec::new()
}

#[cfg(not(feature = "papers"))]
pub(crate) fn pictures(_: &[(String, String)]) -> impl Iterator<Item = Listed> {
    std::iter::empty()
}

#[cfg(not(feature = "papers"))]
pub(crate) fn make(
    _: &str,
    _: &Estimate,
    _: &Job,
    _: Option<&FirmText>,
) -> Option<Result<Vec<u8>, Vec<Problem>>> {
    None
}
