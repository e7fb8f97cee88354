//! The language server of Wythe: protocol in, protocol out. What it knows, it asks of the library.

pub mod actor;
pub mod answers;
pub mod capabilities;
pub mod convert;
pub mod folder;
mod parent;
pub mod post;
pub mod published;
pub mod server;
pub mod settings;
pub mod state;
#[cfg(test)]
mod tests;
