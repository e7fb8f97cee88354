//! Furring that runs along the wall and holds the water.

use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::BayFlow;
use crate::model::{Assembly, Direction, Furring, Gap, Limit};
use crate::units::Length;

/// `furring.dams`
pub struct FurringDams;

static META: RuleMeta = RuleMeta {
    id: "furring.dams",
    catalogue: "DR-06",
    title: "furring along the wall dams the gap",
    grade: Grade::S1,
    before: "H3",
    limits: &["horizontal_furring.fall", "horizontal_furring.gap"],
    explain: "\
# What it checks
Horizontal furring has vertical strips behind it (`counter`) or a drainage mat, or it falls by `horizontal_furring.fall` and
leaves gaps of `horizontal_furring.gap` between its lengths.

# Why
A strip that runs along the wall, tight to the membrane, is a dam: water stands on it and air stops below it.

# Example
    furring furring.spruce 19mm x 64mm, every 600mm, horizontal

# Better
    furring furring.spruce 19mm x 64mm, every 600mm, horizontal, counter furring.spruce 19mm x 64mm

# Basis
Common practice in New Zealand and the trades: 5 degrees and 50 mm; in the United Kingdom counter-battens of 16 mm or more.

# Known gaps
A bevelled upper edge and saw kerfs are not declared and not counted. Diagonal strips are not judged.
",
};

impl Rule for FurringDams {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let in_use = context.model.assemblies.iter().filter(|assembly| !places(context, assembly).is_empty());
        let strips: Vec<_> = in_use
            .flat_map(|assembly| assembly.gaps().map(move |(_, gap)| (assembly, gap)))
            .flat_map(|(assembly, gap)| gap.furring.iter().map(move |furring| (assembly, gap, furring)))
            .collect();
        if strips.is_empty() {
            return;
        }
        let Some(fall) = context.slope_limit(&META, "horizontal_furring.fall", report) else { return };
        let Some(clear) = context.length_limit(&META, "horizontal_furring.gap", report) else { return };
        for (assembly, gap, furring) in strips {
            match furring.direction {
                Some(Direction::Horizontal) => report.extend(judge(context, assembly, gap, furring, fall, clear)),
                None => {
                    let missing = "which way the furring runs: `vertical` or `horizontal`";
                    report.push(context.unknown(&META, assembly.name.as_str(), furring.origin, missing));
                }
                Some(Direction::Vertical | Direction::Diagonal(_)) => {}
            }
        }
    }
}

/// Whether the strips of the area of a bay run along the wall without vertical ones behind.
pub fn is_dammed(context: &CheckContext<'_>, flow: &BayFlow) -> bool {
    let area = context.model.face(flow.id.face).and_then(|face| face.areas.get(flow.id.area));
    let assembly = area.and_then(|area| context.model.assembly(area.assembly));
    let mut gaps = assembly.into_iter().flat_map(Assembly::gaps);
    gaps.any(|(_, gap)| {
        let lying = |strip: &&Furring| strip.direction == Some(Direction::Horizontal);
        gap.furring.iter().filter(lying).any(|strip| !has_counter(gap, strip))
    })
}

/// Dotted names of the areas built so.
fn places(context: &CheckContext<'_>, assembly: &Assembly) -> Vec<String> {
    let faces = context.model.faces.iter();
    let areas = faces.flat_map(|face| face.areas.iter().map(move |area| (face, area)));
    let built_so = |id| context.model.assembly(id).is_some_and(|one| std::ptr::eq(one, assembly));
    areas
        .filter(|(_, area)| built_so(area.assembly))
        .map(|(face, area)| format!("`{}.{}`", face.name, area.name))
        .collect()
}

/// Whether vertical strips stand behind: as a clause of the strip, as a furring of their own further in, or a mat that
/// drains.
fn has_counter(gap: &Gap, furring: &Furring) -> bool {
    let behind = gap.furring.iter().skip_while(|one| one.origin != furring.origin).skip(1);
    furring.counter.is_some()
        || gap.mat.is_some()
        || behind.into_iter().any(|one| one.direction == Some(Direction::Vertical))
}

fn judge(
    context: &CheckContext<'_>,
    assembly: &Assembly,
    gap: &Gap,
    furring: &Furring,
    (fall_limit, fall): (&Limit, f64),
    (gap_limit, clear): (&Limit, Length),
) -> Option<Finding> {
    if has_counter(gap, furring) {
        return None;
    }
    let open = furring.cross_gap.map_or(Length::ZERO, |(open, _)| open);
    let falls = furring.falls.unwrap_or(0.0);
    if falls.abs() >= fall && open >= clear {
        return None;
    }
    let lacks_fall = falls.abs() < fall;
    let message = format!(
        "strips along the wall dam the gap in {}: they fall {} and leave gaps of {}",
        places(context, assembly).join(", "),
        context.slope_measure(falls.abs()).shown,
        context.shown(open)
    );
    let finding = context.fault(&META, assembly.name.as_str(), furring.origin, message);
    let finding = if lacks_fall {
        finding.against(fall_limit).measured(context.slope_measure(falls)).wanted(context.slope_measure(fall))
    } else {
        finding.against(gap_limit).measured(context.measure(open)).wanted(context.measure(clear))
    };
    Some(finding.help("put vertical strips behind them (`counter`), 16 mm (5/8 in) or more").help(format!(
        "or short lengths that fall {} or more, with gaps of {} between them",
        context.slope_measure(fall).shown,
        context.shown(clear)
    )))
}
