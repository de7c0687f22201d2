//! The `scullery` command: arguments, commands, exit codes, and the only printing.

mod arguments;
mod arrangements;
mod compare;
mod crew;
mod fit;
mod headroom;
mod house;
mod outcome;
mod over;
mod papers;
mod progress;
mod replay;
mod run;
mod searching;
mod size;
mod starter;
mod study;
mod study_arguments;
mod vary;
mod voice;
mod why;

use std::process::ExitCode;

use clap::Parser;

use crate::arguments::{Arguments, Command, RunArguments};
use crate::outcome::{Outcome, Stop};
use crate::study_arguments::From;

fn main() -> ExitCode {
    let outcome = match obey(Arguments::parse()) {
        Ok(outcome) => outcome,
        Err(stop) => {
            voice::tell(&stop.words);
            stop.outcome
        }
    };
    outcome.into()
}

fn obey(arguments: Arguments) -> Result<Outcome, Stop> {
    let command = arguments.command.unwrap_or(Command::Run(RunArguments {
        from: From::default(),
        options: arguments.options,
    }));
    let done = |()| Outcome::Done;
    match command {
        Command::Run(run) => run::run(&run),
        Command::Crew(search) => crew::crew(&search),
        Command::Size(search) => size::size(&search),
        Command::Why(search) => why::look(&search),
        Command::Check { file } => voice::say(&house::check(&file)?).map(done),
        Command::Replay(lunch) => replay::replay(&lunch),
        Command::Fit(sheet) => fit::fit(&sheet),
        Command::New { name } => starter::write_starter(&name, house::starter).map(done),
        Command::Compare(compare) => compare::compare(&compare),
        Command::Headroom(headroom) => headroom::headroom(&headroom),
        Command::Vary(vary) => vary::vary(&vary),
        Command::Schema => voice::say(&house::schema()).map(done),
        Command::Completions { shell } => papers::completions(shell).map(done),
        Command::Man => papers::man().map(done),
    }
}
