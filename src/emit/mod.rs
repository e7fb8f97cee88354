//! What leaves the compiler: drawings, tables, reports and findings. Nothing here decides anything.

pub mod drawing;
