//! What leaves the compiler: drawings, tables, reports and findings. Nothing here decides anything.

pub mod barrier;
pub mod blocks;
mod callout;
pub mod cutting;
pub mod drawing;
pub mod elevation;
pub mod figures;
pub mod findings;
pub mod folds;
pub mod footer;
mod gap_air;
mod head;
pub mod hold_points;
mod index;
pub mod kits;
pub mod layout;
pub mod order;
pub mod order_of_work;
mod papers;
pub mod plot;
pub mod quantities;
pub mod schemas;
pub mod table;
pub mod titles;
pub mod trace;
pub mod viewer;
pub mod wall_section;

pub use footer::footer_line;

use rayon::prelude::*;

use crate::session::Checked;

/// One file to write.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Output {
    /// Path inside the output folder, with `/`; the elevation of the face `north` is `elevations/north.svg`.
    pub path: String,
    /// What is in it.
    pub bytes: Vec<u8>,
    /// One line for the list of sheets: "north wall, elevation".
    pub title: String,
    /// For a file of tables, its shape in JSON Schema: the tables and columns of this project and no others.
    pub schema: Option<serde_json::Value>,
}

impl Output {
    /// A file of text.
    pub fn text(path: impl Into<String>, title: impl Into<String>, text: impl Into<String>) -> Self {
        Self { path: path.into(), bytes: text.into().into_bytes(), title: title.into(), schema: None }
    }
}

/// Makes one kind of output from a checked project. It never fails: what cannot be drawn is left out, and says so on the sheet.
pub trait Emitter: Sync {
    /// The word that asks for it, such as `elevations`.
    fn id(&self) -> &'static str;
    /// Heading in the list of sheets.
    fn title(&self) -> &'static str;
    /// The files, in the order in which they are listed.
    fn emit(&self, checked: &Checked) -> Vec<Output>;
    /// The shape of its file for programs in JSON Schema: a list of tables, unless it says otherwise; `None` if it writes none.
    fn schema(&self) -> Option<serde_json::Value> {
        Some(schemas::tables())
    }
}

/// Every emitter, in the order in which outputs are listed. The page that links them all comes after these.
pub static EMITTERS: &[&dyn Emitter] = &[
    &elevation::Elevations,
    &wall_section::WallSections,
    &quantities::Quantities,
    &order_of_work::OrderOfWork,
    &cutting::Cutting,
    &layout::LayoutSheets,
    &order::Order,
    &kits::KitSheets,
    &hold_points::HoldPoints,
    &folds::Jigs,
    &folds::Folding,
    &folds::Gaps,
    &blocks::Blocks,
    &figures::FigureSheets,
    &findings::Findings,
];

/// The word that asks for the page that links everything.
pub const INDEX: &str = "index";

/// The words that ask for outputs, in the order in which they are made.
pub fn ids() -> Vec<&'static str> {
    EMITTERS.iter().map(|emitter| emitter.id()).chain([INDEX]).collect()
}

/// Whether what is asked for needs the cut plans, which can take a while to search.
pub fn cuts_lengths(only: Option<&[String]>) -> bool {
    only.is_none_or(|only| only.iter().any(|word| matches!(word.as_str(), "cutting" | "order")))
}

/// All files to write; with `only`, those that were asked for by their words.
pub fn outputs(checked: &Checked, only: Option<&[String]>) -> Vec<Output> {
    let asked = |id: &str| only.is_none_or(|only| only.iter().any(|word| word == id));
    let chosen = EMITTERS.iter().filter(|emitter| asked(emitter.id()));
    let chosen: Vec<&'static dyn Emitter> = chosen.copied().collect();
    let made = |emitter: &&'static dyn Emitter| -> (&dyn Emitter, Vec<Output>) { (*emitter, emitter.emit(checked)) };
    // Side by side only when all of what they share is there, so that none waits for what another works out.
    let groups: Vec<(&dyn Emitter, Vec<Output>)> = if only.is_none() {
        checked.made.all(&checked.model, &checked.plan);
        chosen.par_iter().map(made).collect()
    } else {
        chosen.iter().map(made).collect()
    };
    let index = asked(INDEX).then(|| index::page(checked, &groups, index::Shown::Folder));
    let made = groups.into_iter().flat_map(|(_, outputs)| outputs);
    made.chain(index).collect()
}
