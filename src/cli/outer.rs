//! What keeps the command from doing its work: always about the world outside the texts, never about a wall.

use std::io;
use std::path::PathBuf;

use miette::Diagnostic;
use thiserror::Error;

/// The command could not work; it ends with 2. Titles are lower case without a full stop, the help says what to do.
#[derive(Debug, Error, Diagnostic)]
pub enum Outer {
    /// A path that does not exist.
    #[error("there is no file or folder `{}`", .0.display())]
    #[diagnostic(code(outer::missing), help("name a project folder or one `.wythe` file, such as `heron-lane`"))]
    Missing(PathBuf),

    /// A folder without a text.
    #[error("there is no `.wythe` file in `{}`", .0.display())]
    #[diagnostic(
        code(outer::empty),
        help(
            "`wythe begin heron-lane` writes a small project to start from; hidden folders, `target` and `out` are not searched"
        )
    )]
    Empty(PathBuf),

    /// A file of another kind.
    #[error("`{}` is not a `.wythe` file", .0.display())]
    #[diagnostic(code(outer::not_wythe), help("name a project folder or a file that ends in `.wythe`"))]
    NotWythe(PathBuf),

    /// A path that the system does not let us read.
    #[error("`{}` could not be read: {error}", path.display())]
    #[diagnostic(code(outer::read), help("see who may read it"))]
    Read {
        /// The path as given.
        path: PathBuf,
        /// The words of the system.
        error: io::Error,
    },

    /// A path that the system does not let us write.
    #[error("`{}` could not be written: {error}", path.display())]
    #[diagnostic(
        code(outer::write),
        help(
            "see that the folder can be written and that there is room on the disk; what was there before is unchanged"
        )
    )]
    Write {
        /// The path.
        path: PathBuf,
        /// The words of the system.
        error: io::Error,
    },

    /// A folder was wanted.
    #[error("`{}` is not a folder", .0.display())]
    #[diagnostic(code(outer::not_folder), help("name a folder; what is there now is unchanged"))]
    NotFolder(PathBuf),

    /// A folder that holds something.
    #[error("`{}` is not empty", .0.display())]
    #[diagnostic(
        code(outer::not_empty),
        help("name a new folder, such as `wythe begin heron-lane`; nothing was changed")
    )]
    NotEmpty(PathBuf),

    /// Bytes that are no text.
    #[error("`{}` is not text: byte {at} is not UTF-8", path.display())]
    #[diagnostic(code(outer::not_text), help("save the file as UTF-8"))]
    NotText {
        /// The file.
        path: PathBuf,
        /// Offset of the first bad byte.
        at: usize,
    },

    /// A rule set that does not exist.
    #[error("there is no rule set `{name}`")]
    #[diagnostic(code(outer::unknown_limits), help("{help}"))]
    UnknownLimits {
        /// As asked for.
        name: String,
        /// What may have been meant.
        help: String,
    },

    /// A rule that does not exist.
    #[error("there is no rule `{name}`")]
    #[diagnostic(code(outer::unknown_rule), help("{help}"))]
    UnknownRule {
        /// As asked for.
        name: String,
        /// What may have been meant.
        help: String,
    },

    /// A shape of an output that does not exist.
    #[error("nothing for programs is called `{name}`")]
    #[diagnostic(code(outer::unknown_schema), help("{help}"))]
    UnknownSchema {
        /// As asked for.
        name: String,
        /// What may have been meant.
        help: String,
    },

    /// A face that does not exist.
    #[error("there is no face `{name}`")]
    #[diagnostic(code(outer::unknown_face), help("{help}"))]
    UnknownFace {
        /// As asked for.
        name: String,
        /// What may have been meant.
        help: String,
    },

    /// A place that is not written as one.
    #[error("`{given}` is not a place on a face")]
    #[diagnostic(
        code(outer::from),
        help("write the face and its x and y with units, such as `--from \"north@(3.2m, 2.4m)\"`")
    )]
    From {
        /// As asked for.
        given: String,
    },

    /// A place with a length that cannot be read.
    #[error("`{given}` is not a place on a face: {why}")]
    #[diagnostic(
        code(outer::from),
        help("write the face and its x and y with units, such as `--from \"north@(3.2m, 2.4m)\"`")
    )]
    FromLength {
        /// As asked for.
        given: String,
        /// What is wrong with the length.
        why: String,
    },

    /// A place from which no water can be followed.
    #[error("{title}")]
    #[diagnostic(code(outer::no_trace), help("{help}"))]
    NoTrace {
        /// What is wrong.
        title: String,
        /// What to do.
        help: String,
    },

    /// The folder around the output folder does not exist.
    #[error("there is no folder `{}`", .0.display())]
    #[diagnostic(code(outer::no_parent), help("make it first, or write somewhere else"))]
    NoParent(PathBuf),

    /// A file of somebody else stands in the way.
    #[error("`{}` was not written by wythe, and would be lost", .0.display())]
    #[diagnostic(
        code(outer::foreign),
        help("move it away, or write into another folder with `--into`; nothing was changed")
    )]
    Foreign(PathBuf),

    /// A date that does not exist.
    #[error("`{0}` is not a date")]
    #[diagnostic(code(outer::date), help("write year, month and day, such as `--today 2026-11-25`"))]
    Date(String),

    /// A port that cannot be listened on.
    #[error("port {port} could not be listened on: {error}")]
    #[diagnostic(code(outer::listen), help("give another one with `--port`, or leave it out to take any that is free"))]
    Listen {
        /// As asked for.
        port: u16,
        /// The words of the system.
        error: io::Error,
    },

    /// Standard output could not be written.
    #[error("the report could not be printed: {0}")]
    #[diagnostic(code(outer::print))]
    Print(io::Error),

    /// A fault of the program.
    #[error("this is a fault of Wythe itself, not of your wall")]
    #[diagnostic(code(outer::own), help("please report it, with the text that led to it"))]
    Own,
}
