//! Arguments, files, the clock and the terminal: the only place with input and output.

mod disk;

pub use disk::DiskWorld;
