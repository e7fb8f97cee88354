//! How a block that is said to be removable comes off: whether every screw can be reached with what it carries in place, and
//! what of it stays on the wall.

use super::removal::{Crossing, removals};
use crate::layout::block_cards::BlockCard;
use crate::model::{Block, FaceId, Model};
use crate::plan::Plan;

/// How one block comes off.
#[derive(Clone, Debug, PartialEq)]
pub struct LiftOff {
    /// The face.
    pub face: FaceId,
    /// Index of the block on its face.
    pub block: usize,
    /// Steps, in order.
    pub steps: Vec<String>,
    /// Screws that lie behind something: a sentence for each.
    pub covered: Vec<String>,
    /// What it carries that cannot come out.
    pub held: Vec<String>,
    /// Facts that are missing to tell.
    pub untold: Vec<String>,
}

/// Blocks of sound faces that are said to be removable, from the cards of all blocks.
pub fn lift_offs(model: &Model, plan: &Plan, cards: &[BlockCard]) -> Vec<LiftOff> {
    let ways = if cards.is_empty() { Vec::new() } else { removals(model, plan) };
    let mut found = Vec::new();
    for card in cards {
        let Some(face) = model.face(card.face) else { continue };
        let Some(block) = face.blocks.get(card.block).filter(|block| block.removable) else { continue };
        let mut off = LiftOff {
            face: card.face,
            block: card.block,
            steps: steps(block, card),
            covered: covered(card),
            held: Vec::new(),
            untold: untold(block, card),
        };
        for way in ways.iter().filter(|way| way.face == card.face) {
            let Some(service) = face.services.get(way.service) else { continue };
            if service.block != Some(card.block) {
                continue;
            }
            match &way.crosses {
                Some(Crossing::EndsBehind(cover)) => off.held.push(format!("`{}` ends behind {cover}", service.name)),
                Some(Crossing::SealBehind(seal, cover)) => {
                    off.held.push(format!("`{}` is held by its {seal} behind {cover}", service.name));
                }
                Some(Crossing::StaysOn(_)) | None => {}
            }
        }
        found.push(off);
    }
    found
}

fn steps(block: &Block, card: &BlockCard) -> Vec<String> {
    let mut steps = Vec::new();
    if !card.holes.is_empty() {
        steps.push("free what it carries as its own steps say".to_owned());
    }
    if !card.screws.is_empty() {
        steps.push(format!("{} screws out, from the front", card.screws.len()));
    }
    let drip = block.flashing.as_ref().and_then(|cap| cap.drip);
    steps.push(match drip {
        Some(_) => "foot out first, then down from under the drip of its cap; cap, sleeves and collars stay".to_owned(),
        None => "straight out; sleeves and collars stay".to_owned(),
    });
    steps
}

fn covered(card: &BlockCard) -> Vec<String> {
    let sentence = |(at, name): &(crate::geometry::Point, String)| {
        let mm = |length: crate::units::Length| length.as_mm().round();
        format!("the screw {} mm from its left edge and {} mm up lies behind `{name}`", mm(at.x), mm(at.y))
    };
    card.covered.iter().map(sentence).collect()
}

fn untold(block: &Block, card: &BlockCard) -> Vec<String> {
    let mut untold = Vec::new();
    if block.fasten.is_none() {
        untold.push(format!("what holds block `{}` is not said (`fasten`)", block.name));
    } else if card.size.is_none() {
        untold.push(format!("the size of block `{}` is not said", block.name));
    } else if card.screws.is_empty() && card.covered.is_empty() && !marked_on_the_wall(block) {
        untold.extend(card.missing.iter().find(|fact| fact.starts_with("where its screws go")).cloned());
    }
    untold
}

/// Screws into studs or other structure are marked on the wall, clear of what the block carries, as its card says.
fn marked_on_the_wall(block: &Block) -> bool {
    let into = block.fasten.as_ref().and_then(|fasten| fasten.into);
    into.is_some_and(|into| !matches!(into, "furring" | "sheathing" | "plane"))
}
