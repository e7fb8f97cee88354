//! Areas of a face, its openings and blocks as shapes, what no area covers, and areas that overlap.

use super::places::{Scene, tidy};
use super::{AreaPlan, FacePlan};
use crate::geometry::{Bounds, Polygon, REACH, Region, check_simple};
use crate::model::{Area, Block};
use crate::units::Length;

/// Fills what of the face needs neither runs nor courses.
pub(super) fn place(scene: &Scene<'_>, plan: &mut FacePlan) {
    plan.outline = scene.outline.clone();
    plan.openings = scene
        .face
        .openings
        .iter()
        .map(|opening| {
            let at = opening.at;
            Polygon::rectangle(at.x, at.y, at.x + opening.width, at.y + opening.height)
        })
        .collect();
    let holes: Region = plan.openings.iter().cloned().collect();
    plan.areas = scene
        .face
        .areas
        .iter()
        .map(|area| {
            let whole = whole(scene, area);
            let net = tidy(whole.difference(&holes));
            AreaPlan { whole, net, ..AreaPlan::default() }
        })
        .collect();
    plan.bare = tidy(scene.outline.difference_many(plan.areas.iter().map(|area| &area.whole)));
    plan.overlaps = overlaps(&plan.areas);
}

/// Shapes of the blocks, with heights in courses of `exposure`.
pub(super) fn blocks(scene: &Scene<'_>, plan: &mut FacePlan, exposure: Option<Length>) {
    plan.blocks = scene.face.blocks.iter().map(|block| block_shape(block, exposure)).collect();
}

/// The area within the outline: its own corners, or a band; all of the face if it has no limits.
fn whole(scene: &Scene<'_>, area: &Area) -> Region {
    let mut region = scene.outline.clone();
    if !area.outline.is_empty() {
        region = check_simple(&area.outline).map_or_else(
            |_| Region::default(),
            |outline| region.intersection(&Polygon::new(outline.ring, Vec::new()).into()),
        );
    }
    if area.below.is_some() || area.above.is_some() {
        region = region.clip_y(area.above.unwrap_or(-REACH), area.below.unwrap_or(REACH));
    }
    if area.from.is_some() || area.to.is_some() {
        let (left, right) = scene.across(area.from, area.to);
        region = region.clip_x(left, right);
    }
    tidy(region)
}

/// Every two areas that share some wall.
fn overlaps(areas: &[AreaPlan]) -> Vec<(usize, usize, Region)> {
    let boxes: Vec<Option<Bounds>> = areas.iter().map(|area| area.whole.bounds()).collect();
    let mut found = Vec::new();
    for (first, (one, one_box)) in areas.iter().zip(&boxes).enumerate() {
        for (second, (other, other_box)) in areas.iter().zip(&boxes).enumerate().skip(first + 1) {
            if one_box.zip(*other_box).is_some_and(|(one, other)| meet(one, other)) {
                let shared = tidy(one.whole.intersection(&other.whole));
                if !shared.is_empty() {
                    found.push((first, second, shared));
                }
            }
        }
    }
    found
}

/// Whether two boxes share any inside.
pub(super) fn meet(one: Bounds, other: Bounds) -> bool {
    one.left < other.right && other.left < one.right && one.bottom < other.top && other.bottom < one.top
}

/// Its rectangle, if width and height can be told; a height in courses needs the exposure.
fn block_shape(block: &Block, exposure: Option<Length>) -> Option<Polygon> {
    let width = block.width.filter(|&width| width > Length::ZERO)?;
    let in_courses = || Some(exposure? * block.courses?);
    let height = block.height.or_else(in_courses).filter(|&height| height > Length::ZERO)?;
    Some(Polygon::rectangle(block.at.x, block.at.y, block.at.x + width, block.at.y + height))
}
