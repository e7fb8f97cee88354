//! A loose horizontal piece in the gap above an opening.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::geometry::Point;
use crate::model::{Face, FaceId, Limit, Nailer, Opening};
use crate::units::Length;

/// `nailer.above_head`
pub struct NailerAboveHead;

static META: RuleMeta = RuleMeta {
    id: "nailer.above_head",
    catalogue: "DR-07",
    title: "a nailer above an opening holds water",
    grade: Grade::S1,
    before: "H3",
    limits: &["nailer.clear"],
    explain: "\
# What it checks
Each nailer that lies above an opening stays `nailer.clear` above its head flashing, and leaves open gaps as wide at its ends
and between its lengths.

# Why
A strip nailed tight above the head flashing, a common habit on site, collects what runs down the membrane and leads it to
the fasteners.

# Example
    nailer blind 19mm x 64mm from (900mm, 2095mm) to 2700mm

# Better
    nailer blind 19mm x 64mm from (900mm, 2115mm) to 2700mm, gaps 25mm

# Basis
Common practice: 10 to 25 mm clear, ends open.

# Known gaps
The head flashing is taken to lie on the frame. Nailers elsewhere are told by `drain.no_exit` where they trap water.
",
};

impl Rule for NailerAboveHead {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if context.model.faces.iter().all(|face| face.nailers.is_empty()) {
            return;
        }
        let Some((limit, clear)) = context.length_limit(&META, "nailer.clear", report) else { return };
        for (index, face) in context.model.faces.iter().enumerate() {
            for nailer in &face.nailers {
                let below = face.openings.iter().filter(|opening| is_over(nailer, opening));
                if let Some(opening) = below.max_by_key(|opening| head(opening)) {
                    report.extend(judge(context, (FaceId(index as u32), face), nailer, opening, (limit, clear)));
                }
            }
        }
    }
}

/// Whether a nailer lies above an opening, so that this rule speaks about it.
pub fn is_over_opening(context: &CheckContext<'_>, face: FaceId, nailer: usize) -> bool {
    let Some(face) = context.model.face(face) else { return false };
    let Some(nailer) = face.nailers.get(nailer) else { return false };
    face.openings.iter().any(|opening| is_over(nailer, opening))
}

fn head(opening: &Opening) -> Length {
    opening.at.y + opening.height
}

fn is_over(nailer: &Nailer, opening: &Opening) -> bool {
    nailer.from.x < opening.at.x + opening.width && opening.at.x < nailer.to && nailer.from.y >= head(opening)
}

fn judge(
    context: &CheckContext<'_>,
    (id, face): (FaceId, &Face),
    nailer: &Nailer,
    opening: &Opening,
    (limit, clear): (&Limit, Length),
) -> Option<Finding> {
    let subject = format!("{}.{}", face.name, nailer.name);
    let up = nailer.from.y - head(opening);
    let (what, measured) = if up < clear {
        (format!("lies {} above the head of `{}`", context.shown(up), opening.name), up)
    } else {
        match nailer.gaps {
            Some(gaps) if gaps >= clear => return None,
            Some(gaps) => {
                (format!("above `{}` leaves gaps of {} at its ends", opening.name, context.shown(gaps)), gaps)
            }
            None => {
                let missing = format!("the open `gaps` at the ends of `{}` above `{}`", nailer.name, opening.name);
                return Some(
                    context.unknown(&META, subject, nailer.origin, missing).also(opening.origin, "the opening"),
                );
            }
        }
    };
    let tail = if measured == up && nailer.gaps.is_none() { ", without gaps at its ends" } else { "" };
    let finding = context
        .fault(&META, subject, nailer.origin, format!("`{}` {what}{tail}: water stands on it", nailer.name))
        .against(limit)
        .measured(context.measure(measured))
        .wanted(context.measure(clear))
        .also(opening.origin, "the opening below it")
        .help(format!(
            "hold it up {} or more, better 25 mm (1 in), in short lengths with open ends",
            context.shown(clear)
        ));
    Some(context.on_face(finding, id, &nailer.name, nailer.from, Point::new(nailer.to, nailer.from.y)))
}
