//! `tankwright completions` and `tankwright man`: what shells and readers of manuals take, from the command line itself.

use std::path::{Path, PathBuf};

use clap::{Args, Command, CommandFactory};
use clap_complete::{Shell, generate};
use clap_mangen::Man;
use tankwright_quantities::problem::Problem;

use crate::args::{Cli, said};
use crate::context::{Context, Outcome};
use crate::exit::Exit;
use crate::outputs::{Output, make_folder, write_set};

/// The program's name.
const NAME: &str = "tankwright";

/// What `--help` of `completions` says at its end.
pub(crate) const COMPLETIONS: &str = "Examples:
  tankwright completions bash > tankwright.bash
  tankwright completions zsh > _tankwright
  tankwright completions fish > tankwright.fish

Where they go: bash ~/.local/share/bash-completion/completions/tankwright, fish ~/.config/fish/completions/, zsh a folder
of its fpath; elvish and powershell read them in their start file.";

/// What `--help` of `man` says at its end.
pub(crate) const MAN: &str = "Examples:
  tankwright man > tankwright.1
  tankwright man estimate > tankwright-estimate.1
  tankwright man --out man1

Read a page with `man -l FILE`; pages for all to find lie in a folder man1 of the man path.";

/// `completions`.
#[derive(Args, Debug)]
pub(crate) struct Completions {
    /// Shell
    shell: Shell,
}

/// `man`.
#[derive(Args, Debug)]
pub(crate) struct Manual {
    /// The page of this command; left out: of the program
    #[arg(value_name = "COMMAND", value_parser = said)]
    verb: Option<String>,
    /// Writes every page into this folder; made if it is not there
    #[arg(long, value_name = "DIR", value_parser = said, conflicts_with = "verb")]
    out: Option<String>,
}

pub(super) fn completions(args: &Completions, cx: &mut Context<'_>) -> Outcome {
    let mut bytes = Vec::new();
    generate(args.shell, &mut Cli::command(), NAME, &mut bytes);
    cx.print(&String::from_utf8_lossy(&bytes))
}

pub(super) fn man(args: &Manual, cx: &mut Context<'_>) -> Outcome {
    let mut whole = Cli::command();
    whole.build();
    let verbs: Vec<Command> = whole.get_subcommands().filter(|c| c.get_name() != "help").cloned().collect();
    if let Some(folder) = &args.out {
        let folder = Path::new(folder);
        let named = verbs.iter().map(|v| (format!("{NAME}-{}", v.get_name()), v));
        let pages = std::iter::once((NAME.to_owned(), &whole)).chain(named);
        let output = |(name, command): (String, &Command)| {
            let path: PathBuf = folder.join(format!("{name}.1"));
            Output { path, bytes: page(&name, command.clone()).into_bytes() }
        };
        let outputs: Vec<_> = pages.map(output).collect();
        if let Err(problem) = make_folder(cx.files, folder).and_then(|()| write_set(cx.files, &outputs)) {
            return cx.refuse(Exit::File, &[problem]);
        }
        cx.note(&format!("{} pages are written into {}\n", outputs.len(), folder.display()));
        return Ok(());
    }
    let Some(verb) = &args.verb else { return cx.print(&page(NAME, whole)) };
    let Some(command) = verbs.iter().find(|v| v.get_name() == verb) else {
        let names: Vec<_> = verbs.iter().map(Command::get_name).collect();
        let problem = Problem::error("U088", None, format!("there is no command `{verb}`"));
        return cx.refuse(Exit::Usage, &[problem.hint(format!("one of: {}", names.join(", ")))]);
    };
    cx.print(&page(&format!("{NAME}-{verb}"), command.clone()))
}

/// A page in the language of manuals.
fn page(name: &str, command: Command) -> String {
    let mut bytes = Vec::new();
    let command = command.display_name(name.to_owned()).version(env!("CARGO_PKG_VERSION"));
    // Memory takes every page.
    drop(Man::new(command).title(name.to_uppercase()).render(&mut bytes));
    String::from_utf8_lossy(&bytes).into_owned()
}
