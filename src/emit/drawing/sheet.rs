//! A sheet of paper at a true scale, and the map from the wall to the paper.

use super::frame::{self, TitleBlock};
use super::item::Item;
use super::shape::{Point, Rect, at};
use super::svg::{self, Page};
use crate::units::Length;

/// How many times smaller the drawing is than the wall: `Scale(50)` is 1:50.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Scale(pub u32);

impl Scale {
    /// The scales a rule on site can read, largest drawing first.
    pub const STANDARD: [Scale; 7] = [Scale(10), Scale(20), Scale(25), Scale(50), Scale(75), Scale(100), Scale(200)];
    /// For details and templates.
    pub const DETAIL: [Scale; 4] = [Scale(1), Scale(2), Scale(5), Scale(10)];

    /// The first of `scales` at which a thing of this size fits `area_mm`; `None` when it fits at none.
    pub fn largest(scales: &[Scale], size: (Length, Length), area_mm: (f64, f64)) -> Option<Scale> {
        scales
            .iter()
            .copied()
            .find(|scale| scale.paper(size.0) <= area_mm.0 + 1e-6 && scale.paper(size.1) <= area_mm.1 + 1e-6)
    }

    /// The largest standard scale that fits; beyond 1:200 it goes on with 1:500, 1:1000, 1:2000 and so forth.
    pub fn fit(size: (Length, Length), area_mm: (f64, f64)) -> Scale {
        let far: Vec<Scale> = (0..9)
            .flat_map(|power| [500, 1000, 2000].map(|base| u64::from(10_u32.pow(power)) * base))
            .map(|times| Scale(u32::try_from(times).unwrap_or(u32::MAX)))
            .collect();
        Scale::largest(&Scale::STANDARD, size, area_mm)
            .or_else(|| Scale::largest(&far, size, area_mm))
            .unwrap_or(Scale(u32::MAX))
    }

    /// A length of the wall in mm of paper.
    pub fn paper(self, length: Length) -> f64 {
        length.as_mm() / f64::from(self.0.max(1))
    }

    /// Mm of paper as a length of the wall.
    pub fn model(self, paper_mm: f64) -> Length {
        Length::snap_mm(paper_mm * f64::from(self.0.max(1)))
    }
}

impl std::fmt::Display for Scale {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "1:{}", self.0)
    }
}

/// A box on the wall: x to the right, y up.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Extent {
    /// Left edge.
    pub left: Length,
    /// Lower edge.
    pub bottom: Length,
    /// Right edge.
    pub right: Length,
    /// Upper edge.
    pub top: Length,
}

impl Extent {
    /// The box around points of the wall; nothing for none.
    pub fn around(points: impl IntoIterator<Item = (Length, Length)>) -> Extent {
        let mut points = points.into_iter();
        let Some((x, y)) = points.next() else { return Extent::default() };
        points.fold(Extent { left: x, right: x, bottom: y, top: y }, |all, (x, y)| Extent {
            left: all.left.min(x),
            right: all.right.max(x),
            bottom: all.bottom.min(y),
            top: all.top.max(y),
        })
    }

    /// Across and up.
    pub fn size(&self) -> (Length, Length) {
        (span(self.left, self.right), span(self.bottom, self.top))
    }
}

/// The distance between two marks, without overflow.
fn span(from: Length, to: Length) -> Length {
    Length(to.0.saturating_sub(from.0))
}

/// The map from the wall (x right, y up) to the paper (mm, y down).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// How much smaller.
    pub scale: Scale,
    /// The point of the wall that lies at `paper`.
    pub model: (Length, Length),
    /// Where on paper that point lies.
    pub paper: Point,
}

impl View {
    /// At a scale, with a point of the wall laid on a point of the paper.
    pub fn new(scale: Scale, model: (Length, Length), paper: Point) -> View {
        View { scale, model, paper }
    }

    /// The largest standard scale at which `extent` fits `area`, centred in it.
    pub fn fit(extent: &Extent, area: &Rect) -> View {
        View::centred(Scale::fit(extent.size(), (area.width, area.height)), extent, area)
    }

    /// At a given scale, centred in `area`.
    pub fn centred(scale: Scale, extent: &Extent, area: &Rect) -> View {
        let (width, height) = extent.size();
        let (spare_x, spare_y) = (area.width - scale.paper(width), area.height - scale.paper(height));
        let paper = at(area.x + spare_x / 2.0, area.bottom() - spare_y / 2.0);
        View { scale, model: (extent.left, extent.bottom), paper }
    }

    /// A point of the wall on paper.
    pub fn point(&self, x: Length, y: Length) -> Point {
        at(self.x(x), self.y(y))
    }

    /// A place along the wall on paper.
    pub fn x(&self, x: Length) -> f64 {
        self.paper.x + self.scale.paper(span(self.model.0, x))
    }

    /// A height on paper.
    pub fn y(&self, y: Length) -> f64 {
        self.paper.y - self.scale.paper(span(self.model.1, y))
    }

    /// A ring or line of the wall on paper.
    pub fn points(&self, points: &[(Length, Length)]) -> Vec<Point> {
        points.iter().map(|(x, y)| self.point(*x, *y)).collect()
    }

    /// A box of the wall on paper.
    pub fn rect(&self, extent: &Extent) -> Rect {
        Rect::edges(self.x(extent.left), self.y(extent.top), self.x(extent.right), self.y(extent.bottom))
    }
}

/// The sizes of paper a site printer takes, lying on the long side (ISO 216).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 297 × 210 mm.
    A4,
    /// 420 × 297 mm.
    #[default]
    A3,
}

impl Paper {
    /// Width and height in mm.
    pub const fn size_mm(self) -> (f64, f64) {
        match self {
            Paper::A4 => (297.0, 210.0),
            Paper::A3 => (420.0, 297.0),
        }
    }

    /// A4 where it gives the same scale as A3, else A3. `around_mm` is the room kept for dimensions and notes.
    pub fn for_extent(extent: &Extent, title: &TitleBlock, around_mm: f64) -> Paper {
        let scale = |paper: Paper| {
            let area = Sheet::new("", paper, title.clone()).area().grow(-around_mm);
            Scale::fit(extent.size(), (area.width, area.height))
        };
        if scale(Paper::A4) <= scale(Paper::A3) { Paper::A4 } else { Paper::A3 }
    }
}

/// A drawing on a sheet of paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// A short stable name (`n-elevation`); stands before every id in the SVG.
    pub id: String,
    /// On paper.
    pub width_mm: f64,
    /// On paper.
    pub height_mm: f64,
    /// The scale to print in the frame with its bar; `None` for a sheet that is not to scale.
    pub scale: Option<Scale>,
    /// The texts of the frame.
    pub title: TitleBlock,
    /// What the drawing shows, in a sentence, for those who cannot see it.
    pub description: String,
    /// The drawing, from back to front, in mm of paper.
    pub items: Vec<Item>,
}

impl Sheet {
    /// An empty sheet with a frame.
    pub fn new(id: &str, paper: Paper, title: TitleBlock) -> Sheet {
        let (width_mm, height_mm) = paper.size_mm();
        let (id, description) = (id.to_owned(), String::new());
        Sheet { id, width_mm, height_mm, scale: None, title, description, items: Vec::new() }
    }

    /// The room for the drawing: inside the frame, above the strip.
    pub fn area(&self) -> Rect {
        frame::area(self)
    }

    /// Puts an item in front of the others.
    pub fn push(&mut self, item: impl Into<Item>) {
        self.items.push(item.into());
    }

    /// Puts a layer, such as `courses`, in front of the others.
    pub fn layer(&mut self, class: &str, items: Vec<Item>) {
        self.items.push(Item::group(class, items));
    }

    /// Frame and drawing: what a writer writes.
    pub fn all_items(&self) -> Vec<Item> {
        let mut items = self.items.clone();
        items.push(frame::draw(self));
        items
    }

    /// As an SVG document that prints true to scale.
    pub fn to_svg(&self) -> String {
        let page = Page {
            id: &self.id,
            width_mm: self.width_mm,
            height_mm: self.height_mm,
            title: &self.title.title,
            description: &self.description,
        };
        svg::write(&page, &self.all_items())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hundred_millimetres_at_one_to_ten_are_exactly_ten_on_paper() {
        let view = View::new(Scale(10), (Length::ZERO, Length::ZERO), at(20.0, 200.0));
        let (from, to) = (view.point(Length::ZERO, Length::ZERO), view.point(Length::mm(100), Length::mm(100)));
        assert_eq!((to.x - from.x, from.y - to.y), (10.0, 10.0));
        assert_eq!(Scale(50).paper(Length::FOOT * 100), 609.6);
        assert_eq!(Scale(50).model(10.0), Length::mm(500));
    }

    #[test]
    fn the_largest_scale_that_fits_is_chosen() {
        let fit = |width, height| Scale::fit((Length::mm(width), Length::mm(height)), (400.0, 250.0));
        assert_eq!(fit(4000, 2500), Scale(10));
        assert_eq!(fit(4001, 2500), Scale(20));
        assert_eq!(fit(10_000, 2_500), Scale(25));
        assert_eq!(fit(12_000, 6_500), Scale(50));
        assert_eq!(fit(30_000, 100), Scale(75));
        assert_eq!(fit(80_000, 100), Scale(200));
        assert_eq!(fit(100_000, 100), Scale(500));
        assert_eq!(fit(i64::MAX / 1_000_000, 1), Scale(u32::MAX));
    }

    #[test]
    fn a_fitted_view_lies_in_the_middle_of_its_area() {
        let extent =
            Extent { left: Length::mm(-500), bottom: Length::mm(200), right: Length::mm(9500), top: Length::mm(5200) };
        let area = Rect::edges(10.0, 10.0, 310.0, 210.0);
        let view = View::fit(&extent, &area);
        assert_eq!(view.scale, Scale(50));
        let drawn = view.rect(&extent);
        assert_eq!((drawn.width, drawn.height), (200.0, 100.0));
        assert_eq!(drawn.centre(), area.centre());
    }

    #[test]
    fn extreme_lengths_do_not_overflow() {
        let ends = [(Length(i64::MIN), Length(i64::MIN)), (Length(i64::MAX), Length(i64::MAX))];
        let view = View::fit(&Extent::around(ends), &Rect::edges(0.0, 0.0, 100.0, 100.0));
        assert!(view.point(Length(i64::MAX), Length(i64::MIN)).x.is_finite());
    }
}
