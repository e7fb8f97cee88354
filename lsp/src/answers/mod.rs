//! Answers to what the client asks, one file a feature group. Each asks the library and puts its words into the protocol's.

pub mod colours;
pub mod drawing;
pub mod library;
pub mod marks;
pub mod mend;
pub mod names;
pub mod shape;
pub mod values;
