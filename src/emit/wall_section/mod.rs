//! The wall section of an assembly, true to scale: layers from outside to inside, the unbroken lines of what each
//! controls, the gap with the way of water and air, and the furring with its fasteners.

mod build;
mod controls;
mod cuts;
mod figures;

use std::collections::BTreeMap;

use super::drawing::{Item, Paper, Rect, Scale, Sheet, View, at};
use super::{Emitter, Output, titles};
use crate::model::{Assembly, AssemblyId, Model};
use crate::session::{Account, Checked};
use crate::units::{Length, System};
use build::Slab;
pub(crate) use build::hatch;

/// Draws `sections/NAME.svg` for every assembly an area is built of.
pub struct WallSections;

impl Emitter for WallSections {
    fn id(&self) -> &'static str {
        "sections"
    }

    fn title(&self) -> &'static str {
        "Wall sections"
    }

    fn emit(&self, checked: &Checked) -> Vec<Output> {
        let output = |sheet: Sheet| {
            Output::text(format!("sections/{}.svg", sheet.id), sheet.title.title.clone(), sheet.to_svg())
        };
        sheets(checked).into_iter().map(output).collect()
    }

    fn schema(&self) -> Option<serde_json::Value> {
        None
    }
}

/// One sheet for every assembly in use, in the order of their declaration.
pub fn sheets<'w>(of: impl Into<Account<'w>>) -> Vec<Sheet> {
    let account = of.into();
    let mut names: BTreeMap<String, usize> = BTreeMap::new();
    let mut sheets = Vec::new();
    for (id, places) in in_use(account.model) {
        let Some(assembly) = account.model.assembly(id) else { continue };
        let name = file_name(&assembly.label);
        let count = names.entry(name.clone()).or_default();
        *count += 1;
        let name = if *count > 1 { format!("{name}-{count}") } else { name };
        sheets.extend(sheet(account, assembly, &name, &places));
    }
    sheets
}

/// The sheet of one assembly; `None` where no area is built so.
pub fn sheet_of<'w>(of: impl Into<Account<'w>>, id: AssemblyId) -> Option<Sheet> {
    let account = of.into();
    let (assembly, places) = (account.model.assembly(id)?, in_use(account.model).remove(&id)?);
    sheet(account, assembly, &file_name(&assembly.label), &places)
}

/// The outer and the inner face of every layer, from the outside of the wall.
pub(super) fn faces(model: &Model, assembly: &Assembly) -> Vec<(Length, Length)> {
    build::slabs(model, assembly).iter().map(|slab| (slab.from, slab.to)).collect()
}

/// The upright cut alone, outside at the left, for something drawn on it.
pub(super) fn upright(checked: &Checked, assembly: &Assembly, scale: Scale, cut: Rect) -> Vec<Item> {
    let account: Account<'_> = checked.into();
    let lead = account.model.project.units;
    let slabs = build::slabs(account.model, assembly);
    let frame = Frame { account, assembly, slabs, lead, scale, upright: cut, level: cut, names: cut, area: cut };
    cuts::cut(&frame, cut, true)
}

/// Assemblies that areas are built of, with the areas, in the order of their declaration.
fn in_use(model: &Model) -> BTreeMap<AssemblyId, Vec<String>> {
    let mut used: BTreeMap<AssemblyId, Vec<String>> = BTreeMap::new();
    for face in &model.faces {
        for area in &face.areas {
            used.entry(area.assembly).or_default().push(format!("{}.{}", face.name, area.name));
        }
    }
    used
}

/// A label as the name of a file: `panel_wall(depth = 10 mm)` is `panel_wall-depth-10-mm`.
fn file_name(label: &str) -> String {
    let safe = |letter: char| if letter.is_ascii_alphanumeric() || letter == '_' { letter } else { '-' };
    let name: String = label.chars().map(safe).collect();
    name.split('-').filter(|word| !word.is_empty()).collect::<Vec<_>>().join("-")
}

/// What all parts of the drawing read.
struct Frame<'c> {
    account: Account<'c>,
    assembly: &'c Assembly,
    slabs: Vec<Slab<'c>>,
    lead: System,
    scale: Scale,
    /// The cut through a bay, upright.
    upright: Rect,
    /// The level cut through a strip and a stud, seen from above.
    level: Rect,
    /// The room for names above.
    names: Rect,
    /// Everything.
    area: Rect,
}

impl Frame<'_> {
    /// A place through the wall on paper, in a cut that starts at `left` mm.
    fn x(&self, left: f64, depth: Length) -> f64 {
        left + self.scale.paper(depth)
    }

    /// The map from the wall to the paper for a cut; only its x is used.
    fn view(&self, cut: Rect) -> View {
        View::new(self.scale, (Length::ZERO, Length::ZERO), at(cut.x, cut.bottom()))
    }

    /// From outside to inside.
    fn total(&self) -> Length {
        self.slabs.last().map_or(Length::ZERO, |slab| slab.to)
    }
}

/// Widest a cut may be on paper, mm.
const WIDEST: f64 = 132.0;
/// Room at the left for the word outside and its arrow, mm.
const LEFT: f64 = 24.0;
/// Room below the cuts for dimensions, mm.
const BELOW: f64 = 58.0;

/// One sheet; `None` for an assembly without layers.
fn sheet(account: Account<'_>, assembly: &Assembly, name: &str, places: &[String]) -> Option<Sheet> {
    let slabs = build::slabs(account.model, assembly);
    let total = slabs.last()?.to;
    let mut title = titles::block(account, &format!("{}, wall section", assembly.label));
    title.subtitle = format!("{} · on {}", title.subtitle, places.join(", "));
    let mut sheet = Sheet::new(name, Paper::A3, title);
    sheet.description = describe(assembly, places);
    let area = sheet.area();
    let scale = Scale::largest(&[Scale(2), Scale(5), Scale(10), Scale(20)], (total, Length::ZERO), (WIDEST, 1.0));
    let scale = scale.unwrap_or_else(|| Scale::fit((total, Length::ZERO), (WIDEST, 1.0)));
    sheet.scale = Some(scale);
    let wide = scale.paper(total).max(1.0);
    let band = figures::NAME_STEP * slabs.len() as f64 + 8.0;
    let (top, bottom) = (area.y + band + 4.0, area.bottom() - BELOW);
    let upright = Rect::edges(area.x + LEFT, top, area.x + LEFT + wide, bottom);
    let start = (upright.right() + 62.0).min(area.right() - 66.0 - wide);
    let level = Rect::edges(start, top, start + wide, bottom);
    let names = Rect::edges(upright.right() + 8.0, area.y, area.right(), top - 4.0);
    let lead = account.model.project.units;
    let frame = Frame { account, assembly, slabs, lead, scale, upright, level, names, area };
    cuts::draw(&frame, &mut sheet);
    Some(sheet)
}

fn describe(assembly: &Assembly, places: &[String]) -> String {
    let layers: Vec<&str> = assembly.layers.iter().map(|layer| layer.name.as_str()).collect();
    format!(
        "Wall section of {} from outside to inside: {}; used on {}.",
        assembly.label,
        layers.join(", "),
        places.join(", ")
    )
}

#[cfg(test)]
mod tests {
    #[test]
    fn a_label_with_arguments_makes_a_plain_file_name() {
        assert_eq!(super::file_name("panel_wall(depth = 10 mm)"), "panel_wall-depth-10-mm");
        assert_eq!(super::file_name("../x y"), "x-y");
    }
}
