//! Two metals that touch in the wet and eat each other.

use std::collections::BTreeSet;

use super::{Made, made_of, product_metal, stuff_metal};
use crate::checks::pieces::{Piece, called, faces, pieces_by_face, place_name, wall};
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::layout::stack;
use crate::model::{Assembly, Face, FaceId, Fasten, LayerKind};
use crate::physics::galvanic::{Contact, Exposure, Extent, by_index, contact};
use crate::source::Span;

/// `metal.pair`
pub struct MetalPair;

static META: RuleMeta = RuleMeta {
    id: "metal.pair",
    catalogue: "CO-01",
    title: "two metals that touch in the wet eat each other",
    grade: Grade::S2,
    before: "H4",
    limits: &["galvanic.outdoor", "galvanic.sheltered"],
    explain: "\
# What it checks
Every fastener against what it holds and what it holds in (those less noble than that are told by
`fastener.less_noble`), every metal trim against the metal parts of its edge, and metal parts of one detail that lap
each other. A table of pairs says: may touch, keep apart, never; by exposure (behind the cladding, in the rain, by salt)
and by which of the two is small. A metal outside the table is judged by its anodic index.

# Why
The less noble metal dissolves at the contact, faster the wetter and saltier it is.

# Example
    trim base_channel channels.solid along base           // aluminium, on a flashing of copper

# Better
    trim base_channel channels.solid along base           // aluminium, on a flashing of aluminium

# Basis
Anodic index practice: 0.15 V outdoors, 0.25 V sheltered. Taken by the letter that refuses stainless screws in
aluminium, which crews inland use every day; so the table of pairs comes first and the index is what is left.
Common practice, no code.

# Known gaps
`isolated` parts count as kept apart from other sheets, not from their own fasteners. Contact across faces, at
corners, is not seen.
",
};

/// Two metals that touch.
pub(super) struct Touch {
    face: FaceId,
    subject: String,
    at: Span,
    first: (String, Made),
    second: (String, Made),
    extent: Extent,
    sheltered: bool,
    isolated: bool,
}

impl Rule for MetalPair {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        report_all(context, &META, &touches(context), |touch| !small_base(touch), report);
    }
}

/// Every contact of two metals on sound faces.
pub(super) fn touches(context: &CheckContext<'_>) -> Vec<Touch> {
    let pieces = pieces_by_face(context);
    let mut touches = Vec::new();
    for (id, face) in faces(context.model) {
        in_walls(context, id, face, &mut touches);
        let here = pieces.get(&id).map_or(&[][..], |here| here);
        for piece in here {
            in_piece(context, piece, &mut touches);
        }
        // Parts of one run stand together.
        for group in here.chunk_by(|one, other| is_same_run(one, other)) {
            for piece in group {
                touches.extend(group.iter().filter_map(|other| lapping(context, piece, other)));
            }
        }
        on_trims(context, id, face, here, &mut touches);
    }
    touches
}

/// Whether the small one of the two, the fastener, is the less noble.
pub(super) fn small_base(touch: &Touch) -> bool {
    let indices = touch.first.1.index.zip(touch.second.1.index);
    touch.extent == Extent::FirstSmall && indices.is_some_and(|(fastener, held)| fastener > held)
}

/// Judges the contacts that a rule asks of; the same two metals at one place are told once.
pub(super) fn report_all(
    context: &CheckContext<'_>,
    meta: &'static RuleMeta,
    touches: &[Touch],
    is_asked: fn(&Touch) -> bool,
    report: &mut Vec<Finding>,
) {
    let mut seen = BTreeSet::new();
    for touch in touches.iter().filter(|touch| is_asked(touch)) {
        let finding = judge(context, meta, touch);
        let key = (touch.face, touch.at, touch.first.0.clone(), touch.second.0.clone());
        report.extend(finding.filter(|_| seen.insert(key)));
    }
}

/// Fasteners of cladding and furring, in what they hold and in what they hold in.
fn in_walls<'c>(context: &CheckContext<'c>, id: FaceId, face: &Face, touches: &mut Vec<Touch>) {
    for (at, area) in face.areas.iter().enumerate() {
        let Some(assembly) = wall(context, id, at) else { continue };
        for layer in &assembly.layers {
            let subject = format!("{}.{}.{}", face.name, area.name, layer.name);
            let (held, fasten) = match &layer.kind {
                LayerKind::Gap(gap) => {
                    let Some(furring) = gap.furring.first() else { continue };
                    (&furring.stuff, furring.fasten.as_ref())
                }
                _ => (&layer.stuff, layer.fasten.as_ref()),
            };
            let Some(fasten) = fasten else { continue };
            let sheltered = matches!(layer.kind, LayerKind::Gap(_));
            let screw = product_metal(context.model, fasten.product);
            let targets = [
                (stuff_metal(context.model, held), layer.name.clone(), sheltered),
                (target_metal(context, assembly, fasten), fasten.into.unwrap_or("").to_owned(), true),
            ];
            for (metal, name, sheltered) in targets {
                if let (Some(screw), Some(metal)) = (screw.clone(), metal) {
                    touches.push(screwed(context, (id, subject.clone()), fasten, screw, (name, metal), sheltered));
                }
            }
        }
    }
}

/// Metal of the furring or studs a fastener goes into.
fn target_metal(context: &CheckContext<'_>, assembly: &Assembly, fasten: &Fasten) -> Option<Made> {
    let layer = assembly.layers.get(stack::holds_in(context.model, assembly, fasten.into?)?)?;
    match &layer.kind {
        LayerKind::Gap(gap) => stuff_metal(context.model, &gap.furring.first()?.stuff),
        _ => stuff_metal(context.model, &layer.stuff),
    }
}

fn screwed(
    context: &CheckContext<'_>,
    (face, subject): (FaceId, String),
    fasten: &Fasten,
    screw: Made,
    held: (String, Made),
    sheltered: bool,
) -> Touch {
    let first = (context.model.product_name(fasten.product), screw);
    Touch {
        face,
        subject,
        at: fasten.origin,
        first,
        second: held,
        extent: Extent::FirstSmall,
        sheltered,
        isolated: false,
    }
}

/// The fastener of a part, in the part.
fn in_piece<'c>(context: &CheckContext<'c>, piece: &Piece<'c>, touches: &mut Vec<Touch>) {
    let Some(fasten) = &piece.spec.fasten else { return };
    let screw = product_metal(context.model, fasten.product);
    let target = piece.wall(context).and_then(|wall| target_metal(context, wall, fasten));
    let metals = [
        (stuff_metal(context.model, &piece.spec.stuff), called(piece.spec), false),
        (target, fasten.into.unwrap_or(""), true),
    ];
    for (metal, name, sheltered) in metals {
        if let (Some(screw), Some(metal)) = (screw.clone(), metal) {
            let held = (name.to_owned(), metal);
            touches.push(screwed(context, (piece.face, piece.name.clone()), fasten, screw, held, sheltered));
        }
    }
}

fn is_same_run(one: &Piece<'_>, other: &Piece<'_>) -> bool {
    match (one.run, other.run) {
        (Some(one), Some(other)) => std::ptr::eq(one, other),
        _ => false,
    }
}

/// Two metal parts of one stretch, where one laps the other.
fn lapping<'c>(context: &CheckContext<'c>, piece: &Piece<'c>, other: &Piece<'c>) -> Option<Touch> {
    let laps = piece.spec.laps.iter().any(|lap| lap.what == other.spec.kind);
    let touching = laps && piece.run.is_some() && piece.spec.origin != other.spec.origin;
    let first = stuff_metal(context.model, &piece.spec.stuff).filter(|_| touching)?;
    let second = stuff_metal(context.model, &other.spec.stuff)?;
    Some(Touch {
        face: piece.face,
        subject: piece.name.clone(),
        at: piece.spec.origin,
        first: (called(piece.spec).to_owned(), first),
        second: (called(other.spec).to_owned(), second),
        extent: Extent::Alike,
        sheltered: false,
        isolated: piece.spec.isolated.is_some() || other.spec.isolated.is_some(),
    })
}

/// Trims of the face: their fasteners, and the metal parts of the edge along which they run.
fn on_trims<'c>(context: &CheckContext<'c>, id: FaceId, face: &Face, here: &[Piece<'c>], touches: &mut Vec<Touch>) {
    for trim in &face.trims {
        let Some(metal) = made_of(context.model, context.model.product(trim.product).and_then(|product| product.of))
        else {
            continue;
        };
        let subject = format!("{}.{}", face.name, trim.name);
        if let Some(fasten) = &trim.fasten
            && let Some(screw) = product_metal(context.model, fasten.product)
        {
            let held = (trim.name.clone(), metal.clone());
            touches.push(screwed(context, (id, subject.clone()), fasten, screw, held, false));
        }
        for piece in here.iter().filter(|piece| piece.run.is_some_and(|run| place_name(run) == trim.along)) {
            let Some(second) = stuff_metal(context.model, &piece.spec.stuff) else { continue };
            touches.push(Touch {
                face: id,
                subject: subject.clone(),
                at: trim.origin,
                first: (trim.name.clone(), metal.clone()),
                second: (called(piece.spec).to_owned(), second),
                extent: Extent::Alike,
                sheltered: false,
                isolated: trim.isolated.is_some() || piece.spec.isolated.is_some(),
            });
        }
    }
}

/// Which exposures are possible here: two where the site does not say whether there is salt.
fn exposures(context: &CheckContext<'_>, sheltered: bool) -> Vec<Exposure> {
    let usual = if sheltered { Exposure::Sheltered } else { Exposure::Rain };
    match context.model.site.as_ref().and_then(|site| site.salt) {
        Some("none") => vec![usual],
        Some("road") if sheltered => vec![usual],
        Some(_) => vec![Exposure::Salt],
        None => vec![usual, Exposure::Salt],
    }
}

fn judge(context: &CheckContext<'_>, meta: &'static RuleMeta, touch: &Touch) -> Option<Finding> {
    let ((first, one), (second, other)) = (&touch.first, &touch.second);
    let unknown = |missing: String| Some(context.unknown(meta, touch.subject.clone(), touch.at, missing));
    let name = if touch.sheltered { "galvanic.sheltered" } else { "galvanic.outdoor" };
    let Some((limit, most)) = context.limit(name).and_then(|limit| Some((limit, limit.number()?))) else {
        return unknown(format!("no rule set in force has a limit `{name}`"));
    };
    let volts = one.index.zip(other.index).map(|(one, other)| (one - other).abs());
    let verdicts: Vec<Contact> = match (one.family, other.family, volts) {
        (Some(one), Some(other), _) => exposures(context, touch.sheltered)
            .into_iter()
            .map(|exposure| contact(one, other, touch.extent, exposure))
            .collect(),
        (_, _, Some(volts)) => vec![by_index(volts, most)],
        _ => {
            let silent = if one.index.is_none() { one } else { other };
            return unknown(format!("metal family or anodic index of `{}` is not said", silent.name));
        }
    };
    let breaks = |verdict: &Contact| match verdict {
        Contact::Fine => false,
        Contact::Isolate => !touch.isolated,
        Contact::Never => true,
    };
    if !verdicts.iter().any(breaks) {
        return None;
    }
    if !verdicts.iter().all(breaks) {
        return unknown(format!(
            "whether there is salt is not said (`salt`); `{first}` and `{second}` ({} and {}) touch",
            one.name, other.name
        ));
    }
    let worst = verdicts.into_iter().min().unwrap_or(Contact::Isolate);
    let what = if worst == Contact::Never { "must never touch in the wet" } else { "touch with nothing between" };
    let message = format!("`{first}` ({}) and `{second}` ({}) {what}", one.name, other.name);
    let shown = |volts: f64| Measure { value: Some(volts), shown: format!("{volts:.2} V of anodic index") };
    let finding = context.fault(meta, touch.subject.clone(), touch.at, message).against(limit).wanted(shown(most));
    let finding = finding.help(match (worst, touch.extent) {
        (Contact::Never, Extent::FirstSmall) => "change the fastener: as noble as what it holds, or nobler".to_owned(),
        (Contact::Never, Extent::Alike) => "change one of the two metals".to_owned(),
        (_, Extent::FirstSmall) => "put a washer of plastic under the head, or change the fastener".to_owned(),
        _ => "keep them apart with tape or a gasket (`isolated with …`), or change one".to_owned(),
    });
    Some(match volts {
        Some(volts) => finding.measured(shown(volts)),
        None => finding,
    })
}
