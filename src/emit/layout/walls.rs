//! A wall with the mark of every piece on it.

use crate::emit::drawing::{Anchor, Extent, Fill, Item, Paper, Scale, Sheet, Stroke, Text, View, at, text};
use crate::emit::titles;
use crate::layout::pieces::Pieces;
use crate::layout::trims::Trims;
use crate::model::FaceId;
use crate::session::Checked;

/// Finer steps than elsewhere: boards must be high enough for their marks, and nothing is measured here.
pub(super) const SCALES: [Scale; 6] = [Scale(10), Scale(20), Scale(25), Scale(30), Scale(40), Scale(50)];
/// Height of a mark on a board.
const MARK: f64 = 2.5;

/// The layout elevation of a face; `None` where nothing is cut for it.
pub(super) fn sheet(checked: &Checked, cut: &Pieces, made: &Trims, id: FaceId) -> Option<Sheet> {
    let (face, placed) = (checked.model.face(id)?, checked.plan.face(id)?);
    let bounds = placed.outline.bounds()?;
    let pieces: Vec<_> = cut.list.iter().filter(|piece| piece.face == id).collect();
    let trims: Vec<_> = made.list.iter().filter(|piece| piece.face == id).collect();
    if pieces.is_empty() && trims.is_empty() {
        return None;
    }
    let name = face.name.replace('_', " ");
    let mut sheet = Sheet::new(
        &format!("layout-{}", face.name),
        Paper::A3,
        titles::block(checked, &format!("Layout, {name} wall")),
    );
    sheet.description = format!("{name} wall: every board and trim where it goes, with its mark");
    let mut area = sheet.area().grow(-9.0);
    area.height -= 6.0;
    let extent = Extent { left: bounds.left, bottom: bounds.bottom, right: bounds.right, top: bounds.top };
    let scale = Scale::largest(&SCALES, extent.size(), (area.width, area.height));
    let view = scale.map_or_else(|| View::fit(&extent, &area), |scale| View::centred(scale, &extent, &area));
    sheet.scale = Some(view.scale);
    let mut boards = Vec::new();
    let mut unmarked = 0;
    for piece in &pieces {
        let ring =
            |ring: &crate::geometry::Ring| ring.points().iter().map(|p| view.point(p.x, p.y)).collect::<Vec<_>>();
        let outline = Item::Outline {
            rings: piece.seen.rings().map(ring).collect(),
            stroke: Some(Stroke::LIGHT),
            fill: Fill::White,
        };
        let words = format!("{}{}", piece.mark, piece.hand.map_or("", |hand| hand.letter()));
        let seen = piece.seen.bounds();
        let (wide, high) = (view.scale.paper(seen.width()), view.scale.paper(seen.height()));
        let middle = at((view.x(seen.left) + view.x(seen.right)) / 2.0, (view.y(seen.bottom) + view.y(seen.top)) / 2.0);
        let room = text::width(&words, MARK, false) + 0.6;
        let label = Text::new(at(middle.x, middle.y + MARK / 2.0), words.clone()).anchor(Anchor::Middle);
        let mut items = vec![outline];
        if wide >= room && high >= MARK + 0.1 {
            items.push(label.into());
        } else if high >= room && wide >= MARK + 0.1 {
            items.push(
                Text::new(at(middle.x + MARK / 2.0, middle.y), words.clone())
                    .turned(-90.0)
                    .anchor(Anchor::Middle)
                    .into(),
            );
        } else {
            unmarked += 1;
        }
        boards.push(Item::named("piece", &piece.mark, &words, items));
    }
    sheet.layer("boards", boards);
    let lines = trims.iter().map(|piece| {
        let line = piece.segment();
        let (from, to) = (view.point(line.from.x, line.from.y), view.point(line.to.x, line.to.y));
        let middle = at((from.x + to.x) / 2.0, (from.y + to.y) / 2.0);
        let turned = if line.is_vertical() { -90.0 } else { 0.0 };
        let label = Text::new(middle, piece.mark.clone()).bold().anchor(Anchor::Middle).plate().turned(turned);
        Item::named("trim", &piece.mark, &piece.mark, vec![Item::line(from, to, Stroke::HEAVY), label.into()])
    });
    let lines: Vec<Item> = lines.collect();
    sheet.layer("trims", lines);
    let rest = if unmarked > 0 {
        format!("; too small here for their mark, see the cut list: {unmarked}")
    } else {
        String::new()
    };
    let words = format!("{} boards and {} trims, seen from outside{rest}", pieces.len(), trims.len());
    sheet.push(Text::new(at(sheet.area().x, sheet.area().y + 3.6), words).size(3.5));
    Some(sheet)
}
