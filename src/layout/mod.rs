//! Where things go: furring, courses, holes, marks, stacks of layers, order of work.

pub mod angles;
pub mod apart;
pub mod base_line;
pub mod block_cards;
pub mod courses;
pub mod coursing;
pub mod cut_plans;
pub mod cutting;
pub mod folds;
pub mod furring;
pub mod furring_map;
pub mod gaps;
pub mod ground;
pub mod holes;
pub mod jigs;
pub mod list_plans;
pub mod marks;
pub mod nesting;
pub mod order;
pub mod pieces;
pub mod sheet_plans;
pub mod stack;
pub mod story_pole;
pub mod trims;
pub mod weeps;
