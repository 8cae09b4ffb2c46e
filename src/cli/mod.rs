//! The command line: one file a command. It connects the rooms, and decides nothing itself.

mod check;
mod clock;
mod conversation;
mod demo;
mod ears;
mod error;
mod hear;
mod hearing;
mod keys;
mod listener;
mod options;
mod output;
mod over_talk;
mod patience;
mod spotter;
mod stopper;
mod tags;
mod talk;
mod typed;
mod understand;

use std::process::ExitCode;

use clap::error::ErrorKind;
use clap::{CommandFactory, Parser, Subcommand};

pub use hearing::{Hearing, RecogniserName, Settled};
pub use listener::{Listener, News};

use error::CliError;
use options::{ConversationOptions, HearingOptions};

/// You tell the shelf, and the shelf tells you: an offline voice assistant for the kitchen stock.
#[derive(Debug, Parser)]
#[command(name = "tellshelf", version, about, max_term_width = 80)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Listen at the microphone, and answer aloud
    Talk(talk::Talk),
    /// Take recordings as if they were spoken, in order
    Hear(hear::Hear),
    /// Take typed lines: for quiet rooms, braille displays, and scanners that type
    Type(typed::Typed),
    /// Go through a day in an invented kitchen, from recordings, on a throw-away stock
    Demo(demo::Demo),
    /// Hear and understand, without stock and reply
    Understand(understand::Understand),
    /// Tell the tags that are on something, or write one's text as an NFC tag holds it
    Tags(tags::Tags),
    /// Say what works: microphone, speech, recognisers, stock
    Check(check::Check),
}

/// How a command ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Ending {
    /// All went well.
    Well,
    /// Something failed, and was said.
    WithFailures,
}

/// What was asked for. Who names a command that isn't there is told which there are.
fn arguments() -> Arguments {
    Arguments::try_parse().unwrap_or_else(|error| {
        if error.kind() == ErrorKind::InvalidSubcommand {
            let command = Arguments::command();
            let names: Vec<&str> = command.get_subcommands().map(|c| c.get_name()).collect();
            eprintln!("The commands are: {}.", names.join(", "));
        }
        error.exit()
    })
}

/// Runs the command that was asked for. Errors are said in one line on standard error.
///
/// The exit status is 0; 1 when something failed; 2 for wrong usage.
pub fn run() -> ExitCode {
    let result = match arguments().command {
        Command::Talk(command) => command.run(),
        Command::Hear(command) => command.run(),
        Command::Type(command) => command.run(),
        Command::Demo(command) => command.run(),
        Command::Understand(command) => command.run(),
        Command::Tags(command) => command.run(),
        Command::Check(command) => command.run(),
    };
    match result {
        Ok(Ending::Well) => ExitCode::SUCCESS,
        Ok(Ending::WithFailures) => ExitCode::FAILURE,
        // Whoever read the output has had enough: no failure of ours.
        Err(CliError::Output(error)) if error.kind() == std::io::ErrorKind::BrokenPipe => {
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("{error}.");
            ExitCode::FAILURE
        }
    }
}
