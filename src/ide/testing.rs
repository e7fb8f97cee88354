//! Cursor markers for tests of what an editor asks: `$0` stands where the cursor is.

use crate::session::{Glance, Live, Settings, heron_lane_world};
use crate::source::{FileId, MapWorld, World};

/// A project with a cursor.
pub(crate) struct Desk {
    /// The project.
    pub glance: Glance,
    /// The file with the cursor.
    pub file: FileId,
    /// Its byte offset.
    pub offset: u32,
}

/// Files given by path; one text holds `$0`.
pub(crate) fn desk(files: &[(&str, &str)]) -> Desk {
    let world = files.iter().fold(MapWorld::new(), |world, (path, text)| world.with(path, &text.replace("$0", "")));
    let (path, text) = files.iter().find(|(_, text)| text.contains("$0")).unwrap();
    at(&world, path, text.find("$0").unwrap())
}

/// Heron Lane with the cursor in front of the first `after` behind the first `before` of a file.
pub(crate) fn heron_lane(path: &str, before: &str, after: &str) -> Desk {
    let world = heron_lane_world();
    let text = world.read(path).unwrap();
    let start = text.find(before).unwrap();
    let offset = start + text[start..].find(after).unwrap();
    at(&world, path, offset)
}

fn at(world: &MapWorld, path: &str, offset: usize) -> Desk {
    let glance = Live::default().check(world, &world.list(), &Settings::default());
    let file = glance.project.files.find(path).unwrap();
    Desk { glance, file, offset: offset as u32 }
}
