//! The working of one figure, the card of one stage, the account of the store: the commands' texts, on the page.

use serde::{Deserialize, Serialize};
use tankwright_export::{explain::explain, text};
use tankwright_quantities::estimate::Estimate;
use tankwright_quantities::problem::Problem;
use tankwright_quantities::store::account_of;

use crate::answer::Ask;
use crate::desk::Desk;
use crate::lists::text_of;
use crate::problems::{Said, plain};

/// What is asked about.
#[derive(Debug, Deserialize)]
pub(crate) struct About {
    text: String,
    /// As `tankwright explain` takes it; of a stage its id.
    id: String,
}

/// What is said of it.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Told {
    problems: Vec<Said>,
    /// The paper of the command.
    paper: String,
    /// What else could be asked: the nearest ids, or all stages.
    others: Vec<String>,
}

/// A list of what was received and counted, with the job it is held against.
#[derive(Debug, Deserialize)]
pub(crate) struct Received {
    name: String,
    text: String,
}

impl Desk {
    /// How a figure comes about: the job read with its trail, as the command does.
    pub(crate) fn explain(&self, about: &About) -> Told {
        self.told(&about.text, true, |e| match explain(e, &about.id) {
            Ok(paper) => Ok(Told { paper, ..Told::default() }),
            Err(others) => {
                let problem =
                    Problem::error("U002", None, format!("nothing in this job is called `{}`", about.id));
                Ok(Told { problems: plain(&[problem]), paper: String::new(), others })
            }
        })
    }

    /// The card of a stage; without an id the stages.
    pub(crate) fn card(&self, about: &About) -> Told {
        self.told(&about.text, false, |e| {
            let others = tankwright_run::stage_ids(e).into_iter().map(str::to_owned).collect();
            let paper = text::stage_card(e, &about.id).unwrap_or_default();
            Ok(Told { problems: Vec::new(), paper, others })
        })
    }

    /// What is in the store, by a list of what came and was counted.
    pub(crate) fn store(&self, received: &Received, bytes: &[u8]) -> Told {
        self.told(&received.text, false, |e| {
            let list = text_of(&received.name, bytes).map_err(|p| vec![p])?;
            let account = account_of(&list, &received.name, &e.orders, &e.materials, &e.programme)?;
            let paper = text::store(e, &account);
            Ok(Told { problems: plain(&account.cautions), paper, others: Vec::new() })
        })
    }

    fn told(
        &self,
        text: &str,
        trail: bool,
        tell: impl FnOnce(&Estimate) -> Result<Told, Vec<Problem>>,
    ) -> Told {
        let read = self.read(&Ask { text: text.to_owned(), ..Ask::default() }, trail);
        let came = if trail { self.estimate(&read) } else { self.looked(&read) };
        let told = came.made().and_then(|(e, _)| tell(&e));
        told.unwrap_or_else(|problems| Told { problems: plain(&problems), ..Told::default() })
    }
}
