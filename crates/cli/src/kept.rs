//! What the jobs of one run share: data and price lists, read once.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use tankwright_quantities::fingerprint::Fingerprint;
use tankwright_quantities::problem::{Place, Problem};
use tankwright_quantities::rates::{PriceList, Stock};
use tankwright_sizing::Rules;

use crate::context::Context;
use crate::exit::Exit;
use crate::price_lists::open_list;

/// A list with the texts that messages about it quote.
type Known = (Arc<PriceList>, Vec<(String, String)>);

/// A list by its name and the folder that its name counts from.
pub(crate) type Named = (String, Option<PathBuf>);

/// Data and lists of a run.
pub(crate) struct Kept<'a> {
    /// The data.
    pub(crate) stock: Arc<Stock>,
    /// The sizing rules.
    pub(crate) rules: Arc<Rules>,
    lists: Mutex<BTreeMap<Named, Option<Known>>>,
    /// Is told of every list when it is read first: which, and the print of what was found.
    first: &'a (dyn Fn(&Named, u64) + Sync),
}

impl<'a> Kept<'a> {
    /// With lists to come.
    pub(crate) fn new(stock: Arc<Stock>, rules: Arc<Rules>, first: &'a (dyn Fn(&Named, u64) + Sync)) -> Self {
        Self { stock, rules, lists: Mutex::default(), first }
    }

    /// A price list, read by whoever asks for it first. One that is refused is refused to each job anew, because the
    /// message shows that job's own line.
    pub(crate) fn list(
        &self,
        cx: &mut Context<'_>,
        name: &str,
        base: Option<&Path>,
        place: Option<Place>,
    ) -> Result<Arc<PriceList>, (Exit, Vec<Problem>)> {
        let named = (name.to_owned(), base.map(Path::to_owned));
        let mut lists = self.lists.lock().unwrap_or_else(PoisonError::into_inner);
        let known = lists.entry(named).or_insert_with_key(|named| {
            let (read, print) = look(cx, named);
            (self.first)(named, print);
            read
        });
        if let Some((list, texts)) = known {
            texts.iter().for_each(|(name, text)| cx.quote(name, text));
            return Ok(Arc::clone(list));
        }
        drop(lists);
        open_list(cx, name, base, place).map(Arc::new)
    }
}

/// Reads a list apart from any job: what it is, and the print of the texts it is read from, or of why it is refused.
pub(crate) fn look(cx: &Context<'_>, named: &Named) -> (Option<Known>, u64) {
    let (mut out, mut err) = (std::io::sink(), std::io::sink());
    let mut apart = Context::new(&mut out, &mut err, cx.files);
    (apart.data, apart.home) = (cx.data.clone(), cx.home);
    let opened = open_list(&mut apart, &named.0, named.1.as_deref(), None);
    let texts: Vec<_> = apart.texts().map(|(name, text)| (name.clone(), text.clone())).collect();
    let mut print = Print::default();
    for (name, text) in &texts {
        print.add(name.as_bytes());
        print.add(text.as_bytes());
    }
    match opened {
        Ok(list) => (Some((Arc::new(list), texts)), print.done()),
        Err((_, problems)) => {
            problems.iter().for_each(|p| print.add(p.message.as_bytes()));
            (None, print.done())
        }
    }
}

/// A number that differs where texts differ, or where one of them ends.
#[derive(Default)]
pub(crate) struct Print(Fingerprint);

impl Print {
    /// One text.
    pub(crate) fn add(&mut self, bytes: &[u8]) {
        let length = u64::try_from(bytes.len()).unwrap_or(u64::MAX).to_le_bytes();
        self.0.add(bytes.iter().chain(&length).copied());
    }

    /// The number.
    pub(crate) fn done(self) -> u64 {
        self.0.done()
    }
}
