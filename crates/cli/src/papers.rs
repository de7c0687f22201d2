//! Completion scripts and the manual page.

use clap::CommandFactory;

use crate::arguments::Arguments;
use crate::outcome::Stop;
use crate::voice::say;

/// Prints a completion script.
///
/// # Errors
/// When standard output cannot be written.
pub(crate) fn completions(shell: clap_complete::Shell) -> Result<(), Stop> {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), "scullery", &mut script);
    say(&String::from_utf8_lossy(&script))
}

/// Prints the manual page: the command itself, then each of its commands.
///
/// # Errors
/// When the page cannot be made or written.
pub(crate) fn man() -> Result<(), Stop> {
    let mut page = Vec::new();
    let mut all = Arguments::command().disable_help_subcommand(true);
    all.build();
    let mut render = |command: clap::Command| clap_mangen::Man::new(command).render(&mut page);
    let whole = render(all.clone()).and_then(|()| {
        all.get_subcommands()
            .filter(|command| command.get_name() != "help")
            .try_for_each(|command| render(command.clone()))
    });
    whole.map_err(|why| Stop::failed(format!("the manual page: {why}")))?;
    say(&String::from_utf8_lossy(&page))
}
