//! A window that is sealed to its trim instead of the air barrier.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::model::{Detail, Face, FaceId, Joint, Opening};
use crate::source::Span;

/// `opening.sealed_to_cladding`
pub struct OpeningSealedToCladding;

static META: RuleMeta = RuleMeta {
    id: "opening.sealed_to_cladding",
    catalogue: "AI-10",
    title: "an opening is sealed to the cladding, not to the air barrier",
    grade: Grade::S1,
    before: "H2",
    limits: &[],
    explain: "\
# What it checks
What the frame of each opening is sealed to: its own `seal to`, and the `air` parts of its detail.

# Why
A window caulked to its trim lets air pass behind the trim into the rough opening, and the caulk holds back the water that
should have drained there.

# Example
    window kitchen frame 1200mm x 900mm at (900mm, 900mm), detail house_window, seal to trim

# Better
    window kitchen frame 1200mm x 900mm at (900mm, 900mm), detail house_window, seal to air

# Basis
OBC 9.7.6.1.(3), as read in a public copy: windows are sealed to the air barrier.

# Known gaps
Whether the seal goes all the way round is told by `air.open_at_opening`.
",
};

impl Rule for OpeningSealedToCladding {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (index, face) in context.model.faces.iter().enumerate() {
            for opening in &face.openings {
                report.extend(judge(context, FaceId(index as u32), face, opening));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, id: FaceId, face: &Face, opening: &Opening) -> Option<Finding> {
    let subject = format!("{}.{}", face.name, opening.name);
    let detail = opening.detail.and_then(|detail| context.model.detail(detail));
    let place = |finding| {
        let top = crate::geometry::Point::new(opening.at.x + opening.width, opening.at.y + opening.height);
        Some(context.on_face(finding, id, &opening.name, opening.at, top))
    };
    if let Some((target, origin)) = wrong(opening, detail) {
        let message = format!("`{}` is sealed to the {target}, which is not the air barrier", opening.name);
        let finding = context
            .fault(&META, subject, opening.origin, message)
            .on_principle("OBC 9.7.6.1.(3), public copy: windows are sealed to the air barrier", true)
            .help("seal the frame at the barrier (`seal to air`) and leave the outer joint open to drain");
        return place(match origin {
            Some(origin) => finding.also(origin, "sealed here"),
            None => finding,
        });
    }
    let told = opening.seal.is_some() || detail.is_some_and(|detail| joints(detail).next().is_some());
    if told {
        return None;
    }
    let missing = format!("what the frame of `{}` is sealed to: add `seal to air`", opening.name);
    place(context.unknown(&META, subject, opening.origin, missing))
}

/// All air joints of a detail, of the whole and of its places.
fn joints(detail: &Detail) -> impl Iterator<Item = &Joint> {
    let places = [Some(&detail.edge), detail.head.as_ref(), detail.jamb.as_ref(), detail.sill.as_ref()];
    places.into_iter().flatten().flat_map(|place| &place.air)
}

/// The wrong target, and where the detail says so.
fn wrong(opening: &Opening, detail: Option<&Detail>) -> Option<(&'static str, Option<Span>)> {
    let is_wrong = |target: &&'static str| matches!(*target, "cladding" | "trim");
    let own = opening.seal.filter(is_wrong).map(|target| (target, None));
    let of_detail = || {
        let joint = joints(detail?).find(|joint| is_wrong(&joint.target))?;
        Some((joint.target, Some(joint.origin)))
    };
    own.or_else(of_detail)
}
