//! `wythe begin`: writes a small project that has no fault, to start from.

use std::fs;
use std::io;
use std::path::Path;

use super::args::Begin;
use super::talk::talk;
use super::{Ending, Outer};

/// The files of the small project.
const FILES: [(&str, &str); 3] = [
    ("site.wythe", include_str!("begin/site.wythe")),
    ("wall.wythe", include_str!("begin/wall.wythe")),
    ("shed.wythe", include_str!("begin/shed.wythe")),
];

pub(super) fn run(given: &Begin) -> Result<Ending, Outer> {
    let folder = &given.folder;
    let failed = |error| Outer::Write { path: folder.clone(), error };
    match fs::read_dir(folder) {
        Ok(mut entries) => {
            if entries.next().is_some() {
                return Err(Outer::NotEmpty(folder.clone()));
            }
        }
        Err(error) if error.kind() == io::ErrorKind::NotFound => fs::create_dir_all(folder).map_err(failed)?,
        Err(error) if error.kind() == io::ErrorKind::NotADirectory => return Err(Outer::NotFolder(folder.clone())),
        Err(error) => return Err(failed(error)),
    }
    for (name, text) in FILES {
        write(&folder.join(name), text)?;
    }
    let shown = folder.display();
    talk(&format!("wrote a shed with four sides to `{shown}`; next: `wythe check {shown}`"));
    Ok(Ending::Clean)
}

fn write(path: &Path, text: &str) -> Result<(), Outer> {
    fs::write(path, text).map_err(|error| Outer::Write { path: path.to_owned(), error })
}
