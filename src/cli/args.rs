//! The command line, as it is read and as `--help` shows it.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::units::System;

const OVERVIEW: &str = "\
Checks walls with a drained and ventilated gap, written as text, and draws them.

Examples:
  wythe begin heron-lane              write a small project to start from
  wythe check heron-lane              say what is wrong with it, and where
  wythe emit heron-lane --into out    write drawings, tables and reports
  wythe explain gap.shallow           say what a rule checks, and why

Ends with 0 if no fault was found, 1 if there are findings, 2 if it could not work.
It never approves a wall: it says what it found in what was declared.";

/// `wythe`.
#[derive(Debug, Parser)]
#[command(name = "wythe", version, about = "Checks and draws drained and ventilated walls", after_help = OVERVIEW_EXAMPLES)]
#[command(long_about = OVERVIEW, after_long_help = "", subcommand_required = true, arg_required_else_help = true)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

const OVERVIEW_EXAMPLES: &str = "Begin with `wythe begin heron-lane`, then `wythe check heron-lane`.";

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Say what is wrong with a wall, where, how far off, and what to do
    #[command(after_help = CHECK)]
    Check(Check),
    /// Write drawings, tables and reports into a folder
    #[command(after_help = EMIT)]
    Emit(Emit),
    /// Say what to buy, supplier by supplier: boards counted from the cut plans, all else by measure
    #[command(after_help = TAKEOFF)]
    Takeoff(Takeoff),
    /// Say what the walls come to in numbers, each with its source and how sure it is
    #[command(after_help = FIGURES)]
    Figures(Figures),
    /// Follow a drop from a place behind the cladding, down and out; or go round the air barrier
    #[command(after_help = TRACE)]
    Trace(Trace),
    /// Show the drawings and what was found in a browser on this machine, again whenever a text is saved
    #[command(after_help = VIEW)]
    View(View),
    /// Say what a rule checks, why, and how to do better; without a rule, list them all
    #[command(after_help = EXPLAIN)]
    Explain(Explain),
    /// List the numbers that the rules read in a project, each with its source
    #[command(after_help = LIMITS)]
    Limits(Limits),
    /// List every rule with the numbers it reads, whose they are, and what a project changes
    #[command(after_help = RULES)]
    Rules(Rules),
    /// Print the shape of what is written for programs, as JSON Schema; without a name, list the shapes
    #[command(after_help = SCHEMA)]
    Schema(Schema),
    /// Write texts in the one way there is to write them
    #[command(after_help = FORMAT)]
    Format(Format),
    /// Write a small project to start from
    #[command(after_help = BEGIN)]
    Begin(Begin),
    /// Print a script that completes commands in a shell
    #[command(after_help = COMPLETIONS)]
    Completions(Completions),
}

const CHECK: &str = "\
Examples:
  wythe check heron-lane
  wythe check heron-lane/north.wythe
  wythe check heron-lane --report sarif > findings.sarif
  wythe check heron-lane --fail-on warning --today 2027-05-01

A folder stands for all its .wythe files; several paths are several projects.
The report goes to standard output. With several projects the JSON report is a list.
Ends with 0 if no fault was found, 1 if there are findings, 2 if it could not work.";

/// `wythe check`.
#[derive(Debug, Args)]
pub struct Check {
    /// Project folder, or one .wythe file
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// How the findings are written
    #[arg(long, value_enum, default_value_t = Report::Text)]
    pub report: Report,
    /// What was asked of the run.
    #[command(flatten)]
    pub asked: Asked,
}

const EMIT: &str = "\
Examples:
  wythe emit heron-lane --into out
  wythe emit heron-lane --into out --only elevations,index

Files in the folder that wythe did not write are kept; those it wrote before and no longer makes are removed.
A run that fails leaves the old files as they were. Faults do not keep the sheets from being written,
but the run then ends with 1.";

/// `wythe emit`.
#[derive(Debug, Args)]
pub struct Emit {
    /// Project folder, or one .wythe file
    #[arg(value_name = "PATH")]
    pub path: PathBuf,
    /// The folder to write into
    #[arg(long, value_name = "DIR")]
    pub into: PathBuf,
    /// What to write, instead of everything
    #[arg(long, value_name = "WHAT", value_delimiter = ',', value_parser = clap::builder::PossibleValuesParser::new(crate::emit::ids()))]
    pub only: Option<Vec<String>>,
    /// What was asked of the run.
    #[command(flatten)]
    pub asked: Asked,
}

const TAKEOFF: &str = "\
Examples:
  wythe takeoff heron-lane
  wythe takeoff heron-lane --report json > order.json

Boards are counted from the cut plans, all else by measure with its usual waste; spares have lines of their own.
Ends with 0; with 1 if the text has mistakes, for then something may be missing; with 2 if it could not work.";

/// `wythe takeoff`.
#[derive(Debug, Args)]
pub struct Takeoff {
    /// Project folder, or one .wythe file
    #[arg(value_name = "PATH")]
    pub path: PathBuf,
    /// How the order is written
    #[arg(long, value_enum, default_value_t = Form::Text)]
    pub report: Form,
    /// The date for which acceptances are judged; the clock's if not given
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub today: Option<String>,
    /// Units shown first, instead of the project's own
    #[arg(long, value_enum)]
    pub units: Option<Units>,
}

/// How a table is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// For people
    Text,
    /// For programs
    Json,
}

const FIGURES: &str = "\
Examples:
  wythe figures heron-lane
  wythe figures heron-lane --report json > figures.json
  wythe figures heron-lane --units imperial
  wythe figures heron-lane --all

A figure is a range where what it rests on is known only within bounds; one that cannot be told names the missing fact.
Ends with 0; with 1 if the text has mistakes, for then something may be missing; with 2 if it could not work.";

/// `wythe figures`.
#[derive(Debug, Args)]
pub struct Figures {
    /// Project folder, or one .wythe file
    #[arg(value_name = "PATH")]
    pub path: PathBuf,
    /// How the figures are written
    #[arg(long, value_enum, default_value_t = Form::Text)]
    pub report: Form,
    /// Tell every figure, not only those that matter most
    #[arg(long)]
    pub all: bool,
    /// The date for which acceptances are judged; the clock's if not given
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub today: Option<String>,
    /// Units shown first, instead of the project's own
    #[arg(long, value_enum)]
    pub units: Option<Units>,
}

const TRACE: &str = "\
Examples:
  wythe trace heron-lane --from \"north@(3.2m, 2.4m)\"
  wythe trace heron-lane --from \"west@(16ft 3in, 8ft)\" --into kitchen.svg
  wythe trace heron-lane --from \"north@(3.2m, 2.4m)\" --air
  wythe trace heron-lane --barrier
  wythe trace heron-lane --barrier --leakage

x runs to the right from the left end of the face, seen from outside; y runs up from the datum.
Where an opening or a strip stands, the nearest bay is used, and a note says so.
--barrier goes round the air barrier of the whole building and lists its holes; --leakage adds how much air it may
let through, as a range with what is assumed.
Ends with 0 if the water reaches daylight (with --air: if air moves; with --barrier: if it is continuous), 1 if not or
that cannot be told,
2 if it could not work.";

/// `wythe trace`.
#[derive(Debug, Args)]
pub struct Trace {
    /// Project folder, or one .wythe file
    #[arg(value_name = "PATH")]
    pub path: PathBuf,
    /// Where the drop gets behind the cladding
    #[arg(long, value_name = "FACE@(X,Y)", required_unless_present = "barrier")]
    pub from: Option<String>,
    /// Show the way of the air of the bay at that place instead
    #[arg(long)]
    pub air: bool,
    /// Go round the air barrier instead, and list each hole
    #[arg(long, conflicts_with_all = ["from", "air", "into"])]
    pub barrier: bool,
    /// Also say how much air the barrier may let through: a range, never judged by
    #[arg(long, requires = "barrier")]
    pub leakage: bool,
    /// Also draw the way of the water
    #[arg(long, value_name = "FILE.svg")]
    pub into: Option<PathBuf>,
    /// The date for which acceptances are judged; the clock's if not given
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub today: Option<String>,
    /// Units shown first, instead of the project's own
    #[arg(long, value_enum)]
    pub units: Option<Units>,
}

const VIEW: &str = "\
Examples:
  wythe view heron-lane
  wythe view heron-lane --port 8080

Prints the address to open. Only this machine is answered. Ctrl-C ends it.";

/// `wythe view`.
#[derive(Debug, Args)]
pub struct View {
    /// Project folder, or one .wythe file
    #[arg(value_name = "PATH")]
    pub path: PathBuf,
    /// The port to listen on; any that is free if 0
    #[arg(long, value_name = "N", default_value_t = 0)]
    pub port: u16,
    /// The date for which acceptances are judged; the clock's if not given
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub today: Option<String>,
    /// Units shown first, instead of the project's own
    #[arg(long, value_enum)]
    pub units: Option<Units>,
}

const EXPLAIN: &str = "\
Examples:
  wythe explain
  wythe explain gap.shallow
  wythe explain DR-14";

/// `wythe explain`.
#[derive(Debug, Args)]
pub struct Explain {
    /// Id of a rule, or its number in the catalogue of failures
    #[arg(value_name = "RULE")]
    pub rule: Option<String>,
}

const LIMITS: &str = "\
Examples:
  wythe limits heron-lane";

/// `wythe limits`.
#[derive(Debug, Args)]
pub struct Limits {
    /// Project folder, or one .wythe file
    #[arg(value_name = "PATH", default_value = ".")]
    pub path: PathBuf,
}

const RULES: &str = "\
Examples:
  wythe rules
  wythe rules heron-lane
  wythe rules --limits canada_part9_2020
  wythe rules heron-lane --report json

Without a path the numbers are those of common practice. With one they are those in force in the project,
with its overrides, its rules of the office, and the sides it takes where sources disagree.";

/// `wythe rules`.
#[derive(Debug, Args)]
pub struct Rules {
    /// Project folder, or one .wythe file
    #[arg(value_name = "PATH")]
    pub path: Option<PathBuf>,
    /// A rule set to read the numbers from, instead of those in force
    #[arg(long, value_name = "NAME")]
    pub limits: Option<String>,
    /// How the list is written
    #[arg(long, value_enum, default_value_t = ListReport::Text)]
    pub report: ListReport,
}

/// How a list is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ListReport {
    /// For people
    Text,
    /// For programs
    Json,
}

const SCHEMA: &str = "\
Examples:
  wythe schema
  wythe schema findings
  wythe schema layout heron-lane        with every table and column of that project

Draft 2020-12. SARIF has a published schema of its own.";

/// `wythe schema`.
#[derive(Debug, Args)]
pub struct Schema {
    /// What is written, as `wythe emit --only` names it, or as this command lists it
    #[arg(value_name = "NAME")]
    pub name: Option<String>,
    /// A project whose own tables and columns are to be named
    #[arg(value_name = "PATH")]
    pub path: Option<PathBuf>,
}

const FORMAT: &str = "\
Examples:
  wythe format heron-lane
  wythe format --check heron-lane       show what would change, end with 1 if anything would

A file that is as it should be is not written. A file with mistakes is left as it is, and they are shown.";

/// `wythe format`.
#[derive(Debug, Args)]
pub struct Format {
    /// Project folder, or one .wythe file
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// Write nothing; show what would change
    #[arg(long)]
    pub check: bool,
}

const BEGIN: &str = "\
Examples:
  wythe begin heron-lane
  wythe check heron-lane";

/// `wythe begin`.
#[derive(Debug, Args)]
pub struct Begin {
    /// A folder that is empty or does not exist yet
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
}

const COMPLETIONS: &str = "\
Examples:
  wythe completions bash > ~/.local/share/bash-completion/completions/wythe
  wythe completions fish > ~/.config/fish/completions/wythe.fish";

/// `wythe completions`.
#[derive(Debug, Args)]
pub struct Completions {
    /// The shell
    #[arg(value_enum)]
    pub shell: clap_complete::Shell,
}

/// Arguments of every command that checks a wall.
#[derive(Clone, Debug, Args)]
pub struct Asked {
    /// The least finding that makes the run end with 1
    #[arg(long, value_enum, value_name = "LEAST", default_value_t = FailOn::Violation)]
    pub fail_on: FailOn,
    /// The date for which acceptances are judged; the clock's if not given
    #[arg(long, value_name = "YYYY-MM-DD")]
    pub today: Option<String>,
    /// Units shown first, instead of the project's own
    #[arg(long, value_enum)]
    pub units: Option<Units>,
}

/// How findings are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Report {
    /// For people
    Text,
    /// For programs
    Json,
    /// SARIF 2.1.0, for services that show findings beside the text
    Sarif,
}

/// What makes a run end with 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum FailOn {
    /// A fault against a published limit, a mistake in the text, or a stop check that cannot tell
    Violation,
    /// Also a fault against a limit from memory or habit
    Warning,
    /// Also any check that cannot tell
    Unknown,
    /// Nothing
    Never,
}

/// Units shown first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Units {
    /// Millimetres
    Metric,
    /// Feet and inches
    Imperial,
}

impl From<Units> for System {
    fn from(units: Units) -> Self {
        match units {
            Units::Metric => System::Metric,
            Units::Imperial => System::Imperial,
        }
    }
}
