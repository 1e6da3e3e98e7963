//! The acceptance tests of the workspace: published examples, properties, samples, refused jobs, tidiness.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test stops where it fails")]

mod bars;
mod built_rates;
mod candidates;
mod capacity;
mod cautions;
mod cheapest;
mod checked;
mod corpus;
mod crosscheck;
mod drawings;
mod drawings_parts;
mod drawn;
mod flotation;
mod help;
mod labour;
mod lining;
mod lists;
mod nonsense;
mod page;
mod page_use;
mod papers;
mod payments;
mod profiles;
mod properties;
mod published;
mod ranks;
mod refused;
mod returned;
mod samples;
mod slab;
mod tidy;
mod tidy_docs;
mod told;
mod touching;
mod vary;
