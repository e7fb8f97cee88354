//! Embeds the standard library: a sorted table of module path and text. A folder is one module, its files joined in order
//! of their names, so that a large module can be written in several files.
#![allow(clippy::print_stdout, reason = "a build script speaks to cargo through its output")]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    let root = env::var("CARGO_MANIFEST_DIR").map_err(io::Error::other)?;
    let folder = Path::new(&root).join("stdlib");
    let mut table = String::from("&[\n");
    for path in listed(&folder)? {
        let Some(name) = path.file_stem().and_then(|stem| stem.to_str()) else { continue };
        let text = if path.is_dir() { joined(&path)? } else { read(&path)? };
        writeln!(table, "    ({name:?}, {text:?}),").map_err(io::Error::other)?;
    }
    table.push_str("]\n");
    let out = env::var("OUT_DIR").map_err(io::Error::other)?;
    fs::write(Path::new(&out).join("stdlib.rs"), table)
}

/// Folders and library files of a folder, sorted by the name of their module.
fn listed(folder: &Path) -> io::Result<Vec<PathBuf>> {
    println!("cargo::rerun-if-changed={}", folder.display());
    let mut paths: Vec<PathBuf> = fs::read_dir(folder)?
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.is_dir() || path.extension().is_some_and(|ending| ending == "wythe"))
        .collect();
    paths.sort_by_key(|path| path.file_stem().map(ToOwned::to_owned));
    Ok(paths)
}

fn read(path: &Path) -> io::Result<String> {
    println!("cargo::rerun-if-changed={}", path.display());
    fs::read_to_string(path)
}

/// The files of a folder as one text. Its edition stands once, in the first of them.
fn joined(folder: &Path) -> io::Result<String> {
    let mut text = String::new();
    for path in listed(folder)? {
        for line in read(&path)?.lines() {
            if line != "wythe 1" || !text.contains("\nwythe 1\n") {
                text.push_str(line);
                text.push('\n');
            }
        }
        text.push('\n');
    }
    Ok(text)
}
