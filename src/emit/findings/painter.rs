//! Gives the rendered messages Wythe's own words and, on a terminal, colour.

use std::io;

use codespan_reporting::diagnostic::{LabelStyle, Severity};
use codespan_reporting::term::WriteStyle;

/// Whether a text is for a terminal or for a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paint {
    /// No colour.
    Plain,
    /// With escape codes; the stream that leads to the terminal strips them where they are not wanted.
    Terminal,
}

/// Takes what the renderer writes. The renderer's own word before the code is left out and ours put in its place;
/// control characters of the user's text are replaced, so that a text cannot steer the terminal.
pub(super) struct Painter {
    out: Vec<u8>,
    paint: Paint,
    heading: String,
    /// Between the start of the heading and the message, where the renderer writes its own word.
    skipping: bool,
}

impl Painter {
    pub(super) fn new(paint: Paint, word: &str, code: &str) -> Self {
        Self { out: Vec::new(), paint, heading: format!("{word}[{code}]"), skipping: false }
    }

    pub(super) fn finish(self) -> String {
        String::from_utf8_lossy(&self.out).into_owned()
    }

    fn style(&mut self, code: &str) -> io::Result<()> {
        if self.paint == Paint::Terminal {
            self.out.extend_from_slice(format!("\x1b[{code}m").as_bytes());
        }
        Ok(())
    }
}

impl io::Write for Painter {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if !self.skipping {
            let is_control = |byte: u8| byte.is_ascii_control() && byte != b'\n' && byte != b'\t';
            self.out.extend(bytes.iter().map(|&byte| if is_control(byte) { b'?' } else { byte }));
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Bold red for faults, bold for the rest; nothing is told by colour alone.
fn colour(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "1;31",
        Severity::Warning => "1;33",
        Severity::Bug => "1;35",
        Severity::Note | Severity::Help => "1;36",
    }
}

impl WriteStyle for Painter {
    fn set_header(&mut self, severity: Severity) -> io::Result<()> {
        self.style(colour(severity))?;
        self.out.extend_from_slice(self.heading.as_bytes());
        self.skipping = true;
        Ok(())
    }

    fn set_header_message(&mut self) -> io::Result<()> {
        self.skipping = false;
        self.style("0;1")
    }

    fn set_line_number(&mut self) -> io::Result<()> {
        self.style("36")
    }

    fn set_note_bullet(&mut self) -> io::Result<()> {
        self.style("36")
    }

    fn set_source_border(&mut self) -> io::Result<()> {
        self.style("36")
    }

    fn set_label(&mut self, severity: Severity, style: LabelStyle) -> io::Result<()> {
        match style {
            LabelStyle::Primary => self.style(colour(severity)),
            LabelStyle::Secondary => self.style("36"),
        }
    }

    fn reset(&mut self) -> io::Result<()> {
        self.style("0")
    }
}
