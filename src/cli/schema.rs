//! `wythe schema`: the shapes of what is written for programs.

use super::args::Schema;
use super::place::Place;
use super::talk::print;
use super::{Ending, Outer, rules};
use crate::diagnose::did_you_mean;
use crate::emit::EMITTERS;
use crate::emit::schemas::{self, Named};
use crate::session::{Settings, check};

pub(super) fn run(given: &Schema) -> Result<Ending, Outer> {
    let mut shapes = schemas::all();
    shapes.push(schemas::named(
        "rules",
        "Rules and the numbers they read: `wythe rules --report json`",
        rules::schema(),
    ));
    let Some(name) = &given.name else {
        print(&list(&shapes))?;
        return Ok(Ending::Clean);
    };
    let shape = shapes.iter().find(|shape| shape.name == *name).ok_or_else(|| unknown(name, &shapes))?;
    let shape = match &given.path {
        Some(path) => of_project(shape, &Place::find(path)?),
        None => shape.clone(),
    };
    print(&(serde_json::to_string_pretty(&shape.schema).unwrap_or_default() + "\n"))?;
    Ok(Ending::Clean)
}

/// The shape of what is written for this project: its own tables where it is a file of tables, else the same as for any other.
fn of_project(shape: &Named, place: &Place) -> Named {
    let checked = check(&place.world, &place.roots, &Settings::default());
    let emitter = EMITTERS.iter().find(|emitter| emitter.id() == shape.name);
    let outputs = emitter.map(|emitter| emitter.emit(&checked)).unwrap_or_default();
    let own = outputs.into_iter().find_map(|output| output.schema);
    own.map_or_else(|| shape.clone(), |own| schemas::named(&shape.name, &shape.title, own))
}

fn list(shapes: &[Named]) -> String {
    let wide = shapes.iter().map(|shape| shape.name.len()).max().unwrap_or(0);
    shapes.iter().map(|shape| format!("{:wide$}  {}\n", shape.name, shape.title)).collect()
}

fn unknown(name: &str, shapes: &[Named]) -> Outer {
    let near = did_you_mean(name, shapes.iter().map(|shape| shape.name.as_str()));
    let help = near.unwrap_or_else(|| "`wythe schema` lists all shapes".to_owned());
    Outer::UnknownSchema { name: name.to_owned(), help }
}
