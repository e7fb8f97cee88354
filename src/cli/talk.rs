//! The two streams: the report goes to standard output, the talk to standard error.

use std::io::Write as _;

use super::Outer;

/// Prints a report. Colour is stripped where it is not wanted: no terminal, or `NO_COLOR` is set.
pub(super) fn print(text: &str) -> Result<(), Outer> {
    let mut stream = anstream::stdout().lock();
    stream.write_all(text.as_bytes()).and_then(|()| stream.flush()).map_err(Outer::Print)
}

/// Says something beside the report. If nobody can hear it, nothing is lost.
pub(super) fn talk(text: &str) {
    let _ = writeln!(anstream::stderr().lock(), "{text}");
}
