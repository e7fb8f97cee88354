//! Small multiples: the same plot many times on the same axes, figures only at the edges.

use super::{CLEAR, Plot, names};
use crate::emit::drawing::{Item, Rect, Text, at, text};

/// Between two panels, mm.
const GUTTER: f64 = 3.0;

/// Panels in reading order; all are read against the axes of the first.
#[derive(Clone, Debug, PartialEq)]
pub struct Multiples {
    /// Their titles stand within the panels.
    pub panels: Vec<Plot>,
    /// How many side by side.
    pub columns: usize,
}

impl Multiples {
    /// Twelve months in three rows of four take `columns` 4.
    pub fn new(panels: Vec<Plot>, columns: usize) -> Multiples {
        Multiples { panels, columns: columns.max(1) }
    }

    /// All panels within `area`. Names of lines stand at the right of the first row only, since every row has the same.
    pub fn draw(&self, area: Rect) -> Item {
        let Some(first) = self.panels.first() else { return Item::group("multiples", Vec::new()) };
        let rows = self.panels.len().div_ceil(self.columns);
        let columns = self.columns.min(self.panels.len());
        let share = (area.height / rows as f64).max(1.0);
        let right = self.panels.iter().map(|panel| names::width(panel, area.width * 0.2)).fold(0.0, f64::max);
        let unit = |unit: &super::Unit| first.size * 2.4 + text::width(&unit.name, first.size, false);
        let beside = first.x.units.iter().map(unit).fold(first.size, f64::max);
        let right = if right > 0.0 { (right + 2.0 * CLEAR).max(beside) } else { beside };
        let left = area.x + first.left(share).max(first.size);
        let top =
            area.y + if first.y.name.is_empty() && first.y.units.is_empty() { first.size } else { first.size * 2.3 };
        let (across, down) = (columns as f64, rows as f64);
        let width = (area.right() - right - left - GUTTER * (across - 1.0)) / across;
        let height = (area.bottom() - first.below() - top - GUTTER * (down - 1.0)) / down;
        let mut items = Vec::new();
        for (index, panel) in self.panels.iter().enumerate() {
            let (column, row) = (index % self.columns, index / self.columns);
            let (x, y) = (left + column as f64 * (width + GUTTER), top + row as f64 * (height + GUTTER));
            let room = Rect { x, y, width, height };
            let panel = Plot { x: first.x.clone(), y: first.y.clone(), size: first.size, ..panel.clone() };
            items.extend(panel.inside(room));
            items.extend(title(&panel, room));
            if column == 0 {
                items.extend(panel.figures_left(room, share, row == 0));
            }
            if row == 0 && column == 0 {
                items.extend(panel.name_above(room));
            }
            if index + self.columns >= self.panels.len() {
                items.extend(panel.figures_below(room, column + 1 == columns));
            }
            if row == 0 && column + 1 == columns {
                items.extend(names::draw(&panel, room, area.right()));
            }
        }
        let all = Rect::edges(left, top, area.right() - right, area.bottom() - first.below());
        items.extend(first.name_below(all));
        Item::group("multiples", items)
    }
}

/// In the upper left corner of its panel.
fn title(panel: &Plot, room: Rect) -> Option<Item> {
    let place = at(room.x + CLEAR, room.y + CLEAR + panel.size);
    (!panel.title.is_empty()).then(|| Text::new(place, panel.title.as_str()).size(panel.size).bold().halo().into())
}
