//! Blanks of strips before they are cut: columns that share a place become one, and each cut piece finds its column again.

use std::collections::BTreeSet;

use super::areas::meet;
use super::places::{NEAR, tidy};
use super::{Strip, StripPurpose};
use crate::geometry::{Bounds, Point, Polygon, REACH, Region, Segment};
use crate::units::Length;

/// From below everything to above everything.
const FULL: (Length, Length) = (Length(-REACH.0), REACH);

/// A strip before it is cut.
#[derive(Clone, Copy, Debug)]
pub(super) struct Blank {
    pub bounds: Bounds,
    pub purpose: StripPurpose,
    pub horizontal: bool,
}

impl Blank {
    /// Where it lies across its run: x of a column, y of a row.
    fn key(&self) -> Length {
        if self.horizontal { self.bounds.bottom } else { self.bounds.left }
    }
}

/// A place for upright strips, and the heights at which it is taken.
struct Column {
    left: Length,
    purpose: StripPurpose,
    spans: Vec<(Length, Length)>,
}

/// Columns of one width, none of which overlap.
pub(super) struct Columns {
    width: Length,
    list: Vec<Column>,
    by_left: BTreeSet<(Length, usize)>,
}

impl Columns {
    /// None yet.
    pub fn new(width: Length) -> Self {
        Self { width, list: Vec::new(), by_left: BTreeSet::new() }
    }

    /// A special strip over the whole height.
    pub fn add_full(&mut self, left: Length, purpose: StripPurpose) {
        self.add(left, purpose, FULL);
    }

    /// A strip on each side of an opening or block, as high as it.
    pub fn add_beside(&mut self, thing: Bounds, purpose: StripPurpose) {
        for left in [thing.left - self.width, thing.right] {
            self.add(left, purpose, (thing.bottom, thing.top));
        }
    }

    /// A regular strip. Where it would overlap a special one, that one takes its place over the whole height.
    pub fn add_regular(&mut self, left: Length) {
        let Some(&special) = self.overlapping(left).first() else {
            self.add(left, StripPurpose::Regular, FULL);
            return;
        };
        let Some(place) = self.list.get(special).map(|column| column.left) else { return };
        let free = self.free(place, FULL);
        if let Some(column) = self.list.get_mut(special) {
            column.spans.extend(free);
            column.spans = joined(std::mem::take(&mut column.spans));
        }
    }

    /// Rectangles within a box.
    pub fn blanks(&self, within: Bounds) -> Vec<Blank> {
        let mut blanks = Vec::new();
        for column in &self.list {
            for &(low, high) in &column.spans {
                let bounds = Bounds {
                    left: column.left,
                    right: column.left + self.width,
                    bottom: low.max(within.bottom),
                    top: high.min(within.top),
                };
                if meet(bounds, within) && bounds.bottom < bounds.top {
                    blanks.push(Blank { bounds, purpose: column.purpose, horizontal: false });
                }
            }
        }
        blanks
    }

    fn add(&mut self, left: Length, purpose: StripPurpose, span: (Length, Length)) {
        let spans = self.free(left, span);
        if !spans.is_empty() {
            self.by_left.insert((left, self.list.len()));
            self.list.push(Column { left, purpose, spans });
        }
    }

    /// Columns that share some width with one at `left`, in order of their coming.
    fn overlapping(&self, left: Length) -> Vec<usize> {
        let from = (left - self.width + Length(1), 0);
        let mut found: Vec<usize> = self.by_left.range(from..(left + self.width, 0)).map(|&(_, at)| at).collect();
        found.sort_unstable();
        found
    }

    /// The heights of a span at which nothing overlaps a column at `left`.
    fn free(&self, left: Length, span: (Length, Length)) -> Vec<(Length, Length)> {
        let taken = self.overlapping(left).into_iter().filter_map(|at| self.list.get(at));
        let mut free = vec![span];
        for &(low, high) in taken.flat_map(|column| &column.spans) {
            free = free
                .into_iter()
                .flat_map(|(from, to)| [(from, to.min(low)), (from.max(high), to)])
                .filter(|(from, to)| from < to)
                .collect();
        }
        free
    }
}

/// Sorted, with those that touch joined.
fn joined(mut spans: Vec<(Length, Length)>) -> Vec<(Length, Length)> {
    spans.sort_unstable();
    let mut joined: Vec<(Length, Length)> = Vec::new();
    for (from, to) in spans {
        match joined.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => joined.push((from, to)),
        }
    }
    joined
}

/// Cuts blanks to what lies in the field. Strips are sorted across their run, then along it.
pub(super) fn cut(field: &Region, blanks: &[Blank], width: Length) -> Vec<Strip> {
    let mut strips: Vec<Strip> = apart(blanks, width).iter().flat_map(|set| cut_apart(field, set, width)).collect();
    strips.sort_by_key(|strip| (strip.centre, strip.axis));
    strips
}

/// Blanks of which none touch, and their keys.
type Set = (Vec<Blank>, BTreeSet<(Length, usize)>);

/// Blanks in sets within which none touch, so that pieces of two never grow together.
fn apart(blanks: &[Blank], width: Length) -> Vec<Vec<Blank>> {
    let touch = |one: Bounds, other: Bounds| {
        one.left <= other.right && other.left <= one.right && one.bottom <= other.top && other.bottom <= one.top
    };
    let mut sets: Vec<Set> = Vec::new();
    for blank in blanks {
        let key = blank.key();
        let fits = |(set, keys): &Set| {
            let near = keys.range((key - width, 0)..=(key + width, usize::MAX));
            near.filter_map(|&(_, at)| set.get(at)).all(|other| !touch(blank.bounds, other.bounds))
        };
        let at = sets.iter().position(fits).unwrap_or(sets.len());
        if at == sets.len() {
            sets.push(Default::default());
        }
        if let Some((set, keys)) = sets.get_mut(at) {
            keys.insert((key, set.len()));
            set.push(*blank);
        }
    }
    sets.into_iter().map(|(set, _)| set).collect()
}

/// Cuts blanks of which none touch.
fn cut_apart(field: &Region, blanks: &[Blank], width: Length) -> Vec<Strip> {
    let rectangle = |blank: &Blank| {
        Polygon::rectangle(blank.bounds.left, blank.bounds.bottom, blank.bounds.right, blank.bounds.top)
    };
    let keys: BTreeSet<(Length, usize)> = blanks.iter().enumerate().map(|(at, blank)| (blank.key(), at)).collect();
    let shapes: Region = blanks.iter().map(rectangle).collect();
    let pieces = tidy(field.intersection(&shapes)).into_components();
    let horizontal = blanks.first().is_some_and(|blank| blank.horizontal);
    let strip = |shape: Polygon| {
        let piece = shape.bounds();
        let key = if horizontal { piece.bottom } else { piece.left };
        let near = keys.range((key - width - NEAR, 0)..=(key + NEAR, usize::MAX));
        let blank = near.filter_map(|&(_, at)| blanks.get(at)).find(|blank| meet(blank.bounds, piece))?;
        Some(finished(shape, blank))
    };
    pieces.into_iter().filter_map(strip).collect()
}

/// A cut piece with its axis in the middle of the uncut width.
fn finished(shape: Polygon, blank: &Blank) -> Strip {
    let (bounds, piece) = (blank.bounds, shape.bounds());
    let diagonal = Segment::new(Point::new(bounds.left, bounds.bottom), Point::new(bounds.right, bounds.top));
    let middle = diagonal.midpoint();
    let ends = |spans: Vec<(Length, Length)>, otherwise: (Length, Length)| {
        let outer = spans.first().map(|span| span.0).zip(spans.last().map(|span| span.1));
        outer.unwrap_or(otherwise)
    };
    let (centre, axis) = if blank.horizontal {
        let (from, to) = ends(shape.x_intervals_at(middle.y), (piece.left, piece.right));
        (middle.y, Segment::new(Point::new(from, middle.y), Point::new(to, middle.y)))
    } else {
        let (from, to) = ends(shape.y_intervals_at(middle.x), (piece.bottom, piece.top));
        (middle.x, Segment::new(Point::new(middle.x, from), Point::new(middle.x, to)))
    };
    Strip { shape, axis, centre, purpose: blank.purpose, horizontal: blank.horizontal }
}
