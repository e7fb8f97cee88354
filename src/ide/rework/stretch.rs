//! An edge built one way becomes two stretches, so that one of them can be built otherwise.

use super::super::mend::draft::Draft;
use super::super::spot::Spot;
use super::{Rework, ReworkKind};
use crate::session::Glance;
use crate::syntax::Statement;

/// Splits the edge under the cursor in its middle.
pub fn split(glance: &Glance, spot: &Spot<'_>) -> Option<Rework> {
    let at = spot.round.iter().rposition(|(_, row)| row.is_some_and(|row| row.body == "edge"))?;
    let round = spot.round.get(..=at)?.to_vec();
    let (edge, _) = *round.last()?;
    let details: Vec<&Statement> = edge.all("detail").collect();
    let [detail] = details.as_slice() else { return None };
    let [of] = detail.arguments.as_slice() else { return None };
    let name = glance.project.files.slice(of.span);
    let draft = Draft::new(glance, spot.file)?;
    let draft =
        draft.cut(detail.span, format!("detail {name} to centre")).add(&round, &format!("detail {name} from centre"));
    let title = "Split this edge into two stretches at its middle".to_owned();
    Some(Rework { title, kind: ReworkKind::Rewrite, edits: draft.edits()? })
}
