//! Freezing: exits that ice shut, cladding in snow, ice on paths, films of water behind boards, raw ends.

pub mod base_ices_shut;
pub mod board_holds_film;
pub mod cladding_ends_raw;
pub mod cladding_in_snow;
pub mod exit_above_path;

use super::{CheckContext, Finding, RuleMeta};
use crate::units::Length;

/// Usual depth of snow against the wall. Where the site does not say it, that is asked for once.
fn snow(context: &CheckContext<'_>, meta: &RuleMeta, report: &mut Vec<Finding>) -> Option<Length> {
    let site = context.model.site.as_ref();
    let snow = site.and_then(|site| site.snow);
    if snow.is_none()
        && let Some(face) = context.model.faces.first()
    {
        let (subject, at) = site.map_or((&face.name, face.origin), |site| (&site.name, site.origin));
        let missing = "the usual depth of snow at the site";
        report
            .push(context.unknown(meta, subject.as_str(), at, missing).help("add it to the site: `snow 150mm`, or 0"));
    }
    snow
}
