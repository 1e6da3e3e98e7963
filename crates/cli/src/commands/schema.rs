//! `tankwright schema`: the JSON Schema of the job file.

use crate::context::{Context, Outcome};
use crate::engine;

/// What `--help` says at its end.
pub(crate) const HELP: &str = "Example:
  tankwright schema > job.schema.json

Editors that know TOML (with taplo: Even Better TOML, and others) complete keys and underline what is wrong where the
job file begins with the line: #:schema ./job.schema.json
`new` writes both. The schema knows keys, kinds and limits of single values; what they say together the program checks.";

pub(super) fn run(cx: &mut Context<'_>) -> Outcome {
    cx.print(&engine::schema())
}
