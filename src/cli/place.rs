//! What a path on the command line stands for: a project folder, or one file in it.

use std::path::{Path, PathBuf};

use super::{DiskWorld, Outer};
use crate::source::World as _;

/// A project as it was asked for.
#[derive(Debug)]
pub(super) struct Place {
    /// As the user wrote it.
    pub(super) given: PathBuf,
    /// Its folder.
    pub(super) world: DiskWorld,
    /// The files to start from, relative to the folder, with `/`.
    pub(super) roots: Vec<String>,
}

impl Place {
    /// A folder stands for all its `.wythe` files; a file stands for itself in its folder.
    pub(super) fn find(given: &Path) -> Result<Self, Outer> {
        let failed = |error: std::io::Error| match error.kind() {
            std::io::ErrorKind::NotFound => Outer::Missing(given.to_owned()),
            _ => Outer::Read { path: given.to_owned(), error },
        };
        let facts = std::fs::metadata(given).map_err(failed)?;
        if facts.is_dir() {
            let world = DiskWorld::new(given);
            let roots = world.list();
            if roots.is_empty() {
                return Err(Outer::Empty(given.to_owned()));
            }
            return Ok(Self { given: given.to_owned(), world, roots });
        }
        let name = given.file_name().and_then(|name| name.to_str()).filter(|name| name.ends_with(".wythe"));
        let (Some(name), true) = (name, facts.is_file()) else {
            return Err(Outer::NotWythe(given.to_owned()));
        };
        let folder = given.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let world = DiskWorld::new(folder);
        Ok(Self { given: given.to_owned(), world, roots: vec![name.to_owned()] })
    }
}
