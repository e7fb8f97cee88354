//! Embeds the standard library: a sorted table of module path and text.
#![allow(clippy::print_stdout, reason = "a build script speaks to cargo through its output")]

use std::fmt::Write as _;
use std::{env, fs, io, path::Path};

fn main() -> io::Result<()> {
    let root = env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?;
    let folder = Path::new(&root).join("stdlib");
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut names: Vec<String> = fs::read_dir(&folder)?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".wythe"))
        .collect();
    names.sort();
    let mut table = String::from("&[\n");
    for name in names {
        let path = folder.join(&name);
        println!("cargo::rerun-if-changed={}", path.display());
        let stem = name.trim_end_matches(".wythe");
        writeln!(table, "    ({stem:?}, include_str!({:?})),", path.display().to_string()).map_err(io::Error::other)?;
    }
    table.push_str("]\n");
    let out = env::var("OUT_DIR").map_err(io::Error::other)?;
    fs::write(Path::new(&out).join("stdlib.rs"), table)
}
