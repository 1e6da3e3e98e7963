//! The acceptance tests of the workspace: published examples, properties, samples, refused jobs, tidiness.
#![expect(clippy::unwrap_used, clippy::panic, reason = "a test stops where it fails")]

mod bars;
mod capacity;
mod cautions;
mod drawn;
mod labour;
mod lining;
mod nonsense;
mod properties;
mod published;
mod ranks;
mod refused;
mod samples;
mod tidy;
mod tidy_docs;
mod touching;
