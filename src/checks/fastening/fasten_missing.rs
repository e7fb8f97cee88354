//! Something on the wall that nothing holds.

use std::collections::BTreeSet;

use super::fastenings;
use crate::checks::pieces::{area_name, called, faces, pieces, rigid, walls};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::LayerKind;
use crate::source::Span;

/// `fasten.missing`
pub struct FastenMissing;

static META: RuleMeta = RuleMeta {
    id: "fasten.missing",
    catalogue: "",
    title: "something on the wall is held by nothing",
    grade: Grade::S1,
    before: "H4",
    limits: &[],
    explain: "\
# What it checks
Cladding, furring, trims, blocks, loose nailers, fire stops, brackets, the flashings and caps of blocks and vents,
and the folded parts, trims and blocking of details each have a `fasten`; and each of these says what it goes `into`.

# Why
What the drawing does not hold is held by whatever is in the apron that day. Nothing on the wall is held by
nothing.

# Example
    layer boards boards.larch 20mm {
        controls rain
    }

# Better
    layer boards boards.larch 20mm {
        controls rain
        fasten   screws.stainless 4.5mm x 50mm, into furring
    }

# Basis
A principle of this language, and common practice.

# Known gaps
Sheathing, insulation and sheets are not asked for. Parts that only lie on others (pans, collars, tapes) are not
either.
",
};

impl Rule for FastenMissing {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut seen = BTreeSet::new();
        for loose in loose(context) {
            if seen.insert(loose.at) {
                let message = format!("nothing holds {}", loose.what);
                let finding = context
                    .fault(&META, loose.subject, loose.at, message)
                    .on_principle("nothing on the wall is held by nothing; common practice", false)
                    .help("say what holds it: `fasten screws.… size, into …`");
                report.push(finding);
            }
        }
        for fastening in fastenings(context).iter().filter(|fastening| fastening.fasten.into.is_none()) {
            let missing = format!("what the fastener of {} goes into is not said (`into …`)", fastening.what);
            report.push(context.unknown(&META, fastening.subject.clone(), fastening.fasten.origin, missing));
        }
    }
}

struct Loose {
    subject: String,
    what: String,
    at: Span,
}

/// Everything without a fastener that should have one.
fn loose(context: &CheckContext<'_>) -> Vec<Loose> {
    let mut found = Vec::new();
    for (face, area, wall) in walls(context) {
        let area = area_name(context, face, area);
        if let Some(layer) = stack::cladding(wall).and_then(|at| wall.layers.get(at))
            && layer.fasten.is_none()
            && matches!(layer.kind, LayerKind::Solid)
        {
            let (subject, what) = (format!("{area}.{}", layer.name), format!("the cladding `{}`", layer.name));
            found.push(Loose { subject, what, at: layer.origin });
        }
        for (layer, gap) in wall.gaps() {
            for furring in gap.furring.iter().filter(|furring| furring.fasten.is_none()) {
                let (subject, what) = (format!("{area}.{}", layer.name), format!("the furring of `{}`", layer.name));
                found.push(Loose { subject, what, at: furring.origin });
            }
        }
    }
    for piece in pieces(context) {
        // A flashing that is pinched by a part behind it is still fixed once, at its upstand.
        let folded = matches!(piece.spec.kind, "flashing" | "cap" | "closure" | "coping" | "apron" | "step_flashing");
        let wooden = matches!(piece.spec.kind, "trim" | "block" | "blocking" | "starter");
        if piece.spec.fasten.is_none() && (wooden || folded && rigid(context.model, &piece.spec.stuff)) {
            let what = format!("`{}`", called(piece.spec));
            found.push(Loose { subject: piece.name, what, at: piece.spec.origin });
        }
    }
    for (_, face) in faces(context.model) {
        let named = |name: &str| format!("{}.{name}", face.name);
        let trims = face.trims.iter().filter(|trim| trim.fasten.is_none()).map(|trim| (&trim.name, trim.origin));
        let blocks = face.blocks.iter().filter(|block| block.fasten.is_none()).map(|block| (&block.name, block.origin));
        let nailers =
            face.nailers.iter().filter(|nailer| nailer.fasten.is_none()).map(|nailer| (&nailer.name, nailer.origin));
        let stops = face.fire_stops.iter().filter(|stop| stop.fasten.is_none()).map(|stop| (&stop.name, stop.origin));
        let brackets = face.brackets.iter().filter(|one| one.fasten.is_none()).map(|one| (&one.name, one.origin));
        let ledgers =
            face.ledgers.iter().filter(|ledger| ledger.fasten.is_none()).map(|ledger| (&ledger.name, ledger.origin));
        let rows = face.bracket_rows.iter().filter(|row| row.fasten.is_none()).map(|row| (&row.name, row.origin));
        let carriers = brackets.chain(ledgers).chain(rows);
        for (name, at) in trims.chain(blocks).chain(nailers).chain(stops).chain(carriers) {
            found.push(Loose { subject: named(name), what: format!("`{name}`"), at });
        }
    }
    found
}
