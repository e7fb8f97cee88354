//! The sheet of one face with its view, its free room, and what all parts of the drawing read.

use crate::emit::drawing::{Extent, Item, Labels, Paper, Point, Rect, Scale, Sheet, View, shape};
use crate::emit::titles;
use crate::geometry::{self, Bounds};
use crate::model::{Face, FaceId};
use crate::plan::FacePlan;
use crate::session::Wall;
use crate::units::{Length, System};

/// Width of the column of words at the right of the sheet, mm.
const COLUMN: f64 = 92.0;
/// Kept free left of the wall for corners and the heights of the outline, mm.
const LEFT: f64 = 30.0;
/// Kept free right of the wall for corners and level marks, mm.
const RIGHT: f64 = 44.0;
/// Kept free above the wall, mm.
const ABOVE: f64 = 6.0;
/// Kept free below the ground for running and whole dimensions, mm.
const BELOW: f64 = 50.0;
/// How far the ground is drawn beyond both ends of the wall, and below its lowest place, mm.
pub(super) const GROUND_MARGIN: f64 = 6.0;
/// Of the height of a window, what is left on each side of the thing that is shown in it.
const ROUND: f64 = 0.17;

/// One face being drawn.
pub(super) struct Canvas<'c> {
    pub wall: Wall<'c>,
    pub id: FaceId,
    pub face: &'c Face,
    pub plan: &'c FacePlan,
    pub sheet: Sheet,
    pub view: View,
    pub labels: Labels,
    /// Of the outline.
    pub bounds: Bounds,
    /// The column of words.
    pub column: Rect,
    /// Below everything that is drawn of the ground, mm of paper.
    pub foot: f64,
    pub lead: System,
    /// What shows of the wall, on paper; all of it where there is none.
    pub window: Option<Rect>,
    /// Where things stand that are drawn with their names; everywhere where there is none.
    pub named: Option<Rect>,
}

impl<'c> Canvas<'c> {
    /// `None` for a face without outline. `what` is empty for the elevation itself, and else ends the name of the sheet.
    pub fn new(wall: Wall<'c>, id: FaceId, what: &str) -> Option<Canvas<'c>> {
        let face = wall.model.face(id)?;
        let plan = wall.plan.face(id)?;
        let bounds = face.outline.as_ref()?.bounds()?;
        let (name, words) = match what {
            "" => (face.name.clone(), "elevation".to_owned()),
            _ => (format!("{}-{what}", face.name), what.to_owned()),
        };
        let mut title = titles::block(wall.account, &format!("{} wall, {words}", face.name.replace('_', " ")));
        title.title = capital(&title.title);
        let mut sheet = Sheet::new(&name, Paper::A3, title);
        let area = sheet.area();
        let column = Rect::edges(area.right() - COLUMN, area.y, area.right(), area.bottom());
        let room = Rect::edges(area.x + LEFT, area.y + ABOVE, column.x - RIGHT, area.bottom() - BELOW);
        let ground = face.ground.iter().flat_map(|ground| ground.points.iter().map(|point| point.y));
        let low = ground.chain([bounds.bottom]).min().unwrap_or(bounds.bottom);
        let size = (bounds.width(), Length(bounds.top.0.saturating_sub(low.0)));
        let scale = Scale::fit(size, (room.width, room.height - GROUND_MARGIN));
        let extent = Extent { left: bounds.left, bottom: low, right: bounds.right, top: bounds.top };
        let view = View::centred(scale, &extent, &Rect { height: room.height - GROUND_MARGIN, ..room });
        sheet.scale = Some(scale);
        sheet.description = describe(wall, face);
        let foot = view.y(low) + GROUND_MARGIN;
        let (labels, lead, window, named) = (Labels::new(area), wall.model.project.units, None, None);
        Some(Canvas { wall, id, face, plan, sheet, view, labels, bounds, column, foot, lead, window, named })
    }

    /// What lies about a box of a face, in a window of a sheet; `None` for a face without outline.
    pub fn about(
        wall: Wall<'c>,
        id: FaceId,
        sheet: Sheet,
        (column, window): (Rect, Rect),
        about: Bounds,
    ) -> Option<Self> {
        let (face, plan) = (wall.model.face(id)?, wall.plan.face(id)?);
        let bounds = face.outline.as_ref()?.bounds()?;
        let room = window.grow(-window.height * ROUND);
        let Bounds { left, bottom, right, top } = about;
        let view = View::fit(&Extent { left, bottom, right, top }, &room);
        let ground = face.ground.iter().flat_map(|ground| ground.points.iter().map(|point| point.y));
        let low = ground.chain([bounds.bottom]).min().unwrap_or(bounds.bottom);
        let (foot, lead) = (view.y(low) + GROUND_MARGIN, wall.model.project.units);
        let sheet = Sheet { scale: Some(view.scale), description: describe(wall, face), ..sheet };
        let (labels, window) = (Labels::new(window), Some(window));
        let named = window;
        Some(Canvas { wall, id, face, plan, sheet, view, labels, bounds, column, foot, lead, window, named })
    }

    /// What shows of a straight line on paper.
    pub fn seen(&self, from: Point, to: Point) -> Option<[Point; 2]> {
        line_within(self.window, from, to)
    }

    /// What shows of a box on paper.
    pub fn shows(&self, of: Rect) -> Option<Rect> {
        box_within(self.window, of)
    }

    /// What of a line is drawn with its name.
    pub fn names_of(&self, from: Point, to: Point) -> Option<[Point; 2]> {
        line_within(self.named, from, to)
    }

    /// What of a box is drawn with its name.
    pub fn names(&self, of: Rect) -> Option<Rect> {
        box_within(self.named, of)
    }

    /// Keeps words off the column and off the edge of the wall.
    pub fn reserve(&mut self) {
        self.labels.keep_clear(self.column.grow(1.5));
        let outline = self.outline();
        self.labels.keep_outline_clear(&outline, 1.2);
    }

    /// The outline on paper.
    pub fn outline(&self) -> Vec<Point> {
        self.face.outline.iter().flat_map(|ring| ring.points()).map(|point| self.point(*point)).collect()
    }

    /// A point of the wall on paper.
    pub fn point(&self, point: geometry::Point) -> Point {
        self.view.point(point.x, point.y)
    }

    /// A stretch of the wall on paper.
    pub fn segment(&self, segment: geometry::Segment) -> [Point; 2] {
        [self.point(segment.from), self.point(segment.to)]
    }

    /// A box of the wall on paper.
    pub fn rect(&self, bounds: Bounds) -> Rect {
        let Bounds { left, bottom, right, top } = bounds;
        self.view.rect(&Extent { left, bottom, right, top })
    }

    /// All rings of a polygon on paper.
    pub fn rings(&self, polygon: &geometry::Polygon) -> Vec<Vec<Point>> {
        polygon.rings().map(|ring| ring.points().iter().map(|point| self.point(*point)).collect()).collect()
    }

    /// Adds a layer in front.
    pub fn layer(&mut self, class: &str, items: Vec<Item>) {
        self.sheet.layer(class, items);
    }
}

fn line_within(window: Option<Rect>, from: Point, to: Point) -> Option<[Point; 2]> {
    match window {
        None => Some([from, to]),
        Some(window) => shape::clip(&[window.corners().to_vec()], from, to).into_iter().next(),
    }
}

fn box_within(window: Option<Rect>, of: Rect) -> Option<Rect> {
    let Some(window) = window else { return Some(of) };
    let (left, top) = (of.x.max(window.x), of.y.max(window.y));
    let (right, bottom) = (of.right().min(window.right()), of.bottom().min(window.bottom()));
    (left < right && top < bottom).then(|| Rect::edges(left, top, right, bottom))
}

/// With a capital at its start, as titles have it.
pub(in crate::emit) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

fn describe(wall: Wall<'_>, face: &Face) -> String {
    let looks = face.looks.map(|degrees| format!(", which looks {}", compass(degrees))).unwrap_or_default();
    let names: Vec<&str> = face.openings.iter().map(|opening| opening.name.as_str()).collect();
    let openings = if names.is_empty() { "no openings".to_owned() } else { format!("openings {}", names.join(", ")) };
    let title = &wall.model.project.title;
    format!("Elevation of the face {} of {title} from outside{looks}: {openings}.", face.name)
}

/// A direction in words: `north`, `south-west`.
pub(super) fn compass(degrees: f64) -> &'static str {
    const WORDS: [&str; 8] = ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];
    let turn = (degrees.rem_euclid(360.0) / 45.0).round() as usize % 8;
    WORDS.get(turn).copied().unwrap_or("north")
}
