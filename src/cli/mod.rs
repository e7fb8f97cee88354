//! Arguments, files, the clock and the terminal: the only place with input and output.

mod args;
mod begin;
mod check;
mod clock;
mod diff;
mod disk;
mod emit;
mod explain;
mod figures;
mod folder;
mod format;
mod outer;
mod place;
mod rules;
mod schema;
mod search;
mod takeoff;
mod talk;
mod trace;
mod view;

pub use clock::today;
pub use disk::DiskWorld;
pub use outer::Outer;

use std::process::ExitCode;

use clap::{CommandFactory as _, Parser as _};

use args::{Arguments, Command};
use talk::talk;

/// How a run ended that could do its work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ending {
    /// Nothing found that is to stop the run: 0.
    Clean,
    /// Findings at or above what was asked for: 1.
    Findings,
}

/// Bytes of stack for the work; the deepest text the parser takes needs far less.
const STACK: usize = 16 << 20;

/// Runs the command with the arguments of the process.
pub fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let work = std::thread::Builder::new().stack_size(STACK).spawn(move || run(arguments));
    match work.map(|thread| thread.join()) {
        Ok(Ok(Ok(Ending::Clean))) => ExitCode::SUCCESS,
        Ok(Ok(Ok(Ending::Findings))) => ExitCode::from(1),
        // Whoever reads the report has seen enough.
        Ok(Ok(Err(Outer::Print(error)))) if error.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Ok(Ok(Err(error))) => refuse(error),
        Ok(Err(_)) => refuse(Outer::Own),
        Err(error) => refuse(Outer::Print(error)),
    }
}

fn refuse(error: Outer) -> ExitCode {
    talk(&format!("{:?}", miette::Report::new(error)));
    ExitCode::from(2)
}

fn run(arguments: Arguments) -> Result<Ending, Outer> {
    match arguments.command {
        Command::Check(given) => check::run(&given),
        Command::Emit(given) => emit::run(&given),
        Command::Takeoff(given) => takeoff::run(&given),
        Command::Figures(given) => figures::run(&given),
        Command::Trace(given) => trace::run(&given),
        Command::View(given) => view::run(&given),
        Command::Explain(given) => explain::run(&given),
        Command::Limits(given) => explain::limits(&given),
        Command::Rules(given) => rules::run(&given),
        Command::Schema(given) => schema::run(&given),
        Command::Format(given) => format::run(&given),
        Command::Begin(given) => begin::run(&given),
        Command::Completions(given) => completions(&given),
    }
}

fn completions(given: &args::Completions) -> Result<Ending, Outer> {
    let mut script = Vec::new();
    clap_complete::generate(given.shell, &mut Arguments::command(), "wythe", &mut script);
    talk::print(&String::from_utf8_lossy(&script))?;
    Ok(Ending::Clean)
}
