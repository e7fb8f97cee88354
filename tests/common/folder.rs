//! Reads a folder of the repository as a project.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use wythe::eval::Date;
use wythe::session::{Checked, Settings, check};
use wythe::source::{ReadError, World};

/// A folder of the repository.
pub struct Folder(PathBuf);

impl World for Folder {
    fn read(&self, path: &str) -> Result<Arc<str>, ReadError> {
        std::fs::read_to_string(self.0.join(path)).map(Arc::from).map_err(|error| ReadError::Other(error.to_string()))
    }

    fn list(&self) -> Vec<String> {
        let mut names: Vec<String> = std::fs::read_dir(&self.0)
            .map(|entries| entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok()).collect())
            .unwrap_or_default();
        names.retain(|name| name.ends_with(".wythe"));
        names.sort();
        names
    }
}

/// The folder at a path relative to the repository.
pub fn folder(name: &str) -> Folder {
    Folder(Path::new(env!("CARGO_MANIFEST_DIR")).join(name))
}

/// A project whose root is `building.wythe`, on the last day of 2026.
#[allow(dead_code, reason = "not every test file checks a whole project")]
pub fn checked(name: &str) -> Checked {
    let settings = Settings { today: Some(Date { year: 2026, month: 12, day: 31 }), ..Settings::default() };
    check(&folder(name), &["building.wythe".to_owned()], &settings)
}
