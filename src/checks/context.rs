//! What a rule sees: the model, the plan, facts made once when first asked for, and the limits in force.

use std::sync::OnceLock;

use super::pieces::walls;
use super::{Basis, Finding, Measure, RuleMeta, Stretch};
use crate::continuity::{AirBarrier, AirFlow, Conditions, GapFlow, Order, RainLoads};
use crate::diagnose::Severity;
use crate::figures::moisture::{Monthly, monthly};
use crate::figures::{Scene, WallType, heat};
use crate::geometry::{Point, Segment};
use crate::model::{FaceId, Limit, Model};
use crate::plan::{Plan, Run};
use crate::source::Span;
use crate::units::{Area, Length, System, display};

/// A face and an area of it, and how they are built by the month, or the missing fact.
pub type ByMonth = (FaceId, usize, Result<Monthly, String>);

/// Model, plan and shared facts.
pub struct CheckContext<'m> {
    /// The wall as declared.
    pub model: &'m Model,
    /// Where everything lies.
    pub plan: &'m Plan,
    flow: OnceLock<GapFlow>,
    air: OnceLock<AirBarrier>,
    air_flow: OnceLock<AirFlow>,
    order: OnceLock<Order>,
    rain: OnceLock<RainLoads>,
    heat: OnceLock<Vec<(WallType, heat::Told)>>,
    months: OnceLock<Vec<ByMonth>>,
}

impl<'m> CheckContext<'m> {
    /// A context over a model and its plan.
    pub fn new(model: &'m Model, plan: &'m Plan) -> Self {
        Self {
            model,
            plan,
            flow: OnceLock::new(),
            air: OnceLock::new(),
            air_flow: OnceLock::new(),
            order: OnceLock::new(),
            rain: OnceLock::new(),
            heat: OnceLock::new(),
            months: OnceLock::new(),
        }
    }

    /// Where water and air in the gap can go.
    pub fn flow(&self) -> &GapFlow {
        self.flow.get_or_init(|| GapFlow::find(self.model, self.plan))
    }

    /// Where the air barrier runs on and where it ends.
    pub fn air(&self) -> &AirBarrier {
        self.air.get_or_init(|| AirBarrier::find(self.model, self.plan))
    }

    /// What air moves through the gap on the assumed day of [`Conditions::default`].
    pub fn air_flow(&self) -> &AirFlow {
        self.air_flow.get_or_init(|| AirFlow::find(self.model, self.plan, self.flow(), &Conditions::default()))
    }

    /// The order of work: parts and tasks, what comes before what, sections and their stop lines.
    pub fn order(&self) -> &Order {
        self.order.get_or_init(|| Order::find(self.model, self.plan))
    }

    /// What rain brings to every exit of the gap, and what each passes.
    pub fn rain(&self) -> &RainLoads {
        self.rain.get_or_init(|| RainLoads::find(self.model, self.plan, self.flow()))
    }

    /// What every wall type resists.
    pub fn heat(&self) -> &[(WallType, heat::Told)] {
        self.heat.get_or_init(|| {
            let scene = self.scene();
            scene.walls().into_iter().map(|wall| (wall.clone(), heat::sums(&scene, &wall))).collect()
        })
    }

    /// Every way of building by the month, or the missing fact, with a face and an area built so.
    pub fn months(&self) -> &[ByMonth] {
        self.months.get_or_init(|| {
            let walls = walls(self).into_iter();
            walls.map(|(face, area, wall)| (face, area, monthly(self.model, wall))).collect()
        })
    }

    /// The same wall, as studies of figures look at it.
    pub fn scene(&self) -> Scene<'_> {
        Scene::with_flow(self.model, self.plan, self.flow())
    }

    /// The limit in force under this name.
    pub fn limit(&self, name: &str) -> Option<&'m Limit> {
        self.model.limit(name)
    }

    /// The limit for the degree-days of the site, of `bands` by the degree-days from which each counts, the least first; the
    /// error is the missing fact.
    pub fn limit_by_cold(&self, bands: &[(f64, &'static str)]) -> Result<(&'m Limit, f64), String> {
        self.model.limit_by_cold(bands)
    }

    /// A limit as a length, or "cannot tell" in the report, once, at the line of the site (of the first face, without a
    /// site), where the missing rule set belongs. Nothing is reported for a project without walls.
    pub fn length_limit(&self, meta: &RuleMeta, name: &str, report: &mut Vec<Finding>) -> Option<(&'m Limit, Length)> {
        let found = self.limit(name).and_then(|limit| Some((limit, limit.length()?)));
        self.told(meta, name, found, report)
    }

    /// A limit as a number in SI units, in the same way.
    pub fn number_limit(&self, meta: &RuleMeta, name: &str, report: &mut Vec<Finding>) -> Option<(&'m Limit, f64)> {
        let found = self.limit(name).and_then(|limit| Some((limit, limit.number()?)));
        self.told(meta, name, found, report)
    }

    /// A limit as a slope, rise over run, in the same way.
    pub fn slope_limit(&self, meta: &RuleMeta, name: &str, report: &mut Vec<Finding>) -> Option<(&'m Limit, f64)> {
        let found = self.limit(name).and_then(|limit| Some((limit, limit.slope()?)));
        self.told(meta, name, found, report)
    }

    fn told<T>(&self, meta: &RuleMeta, name: &str, found: Option<T>, report: &mut Vec<Finding>) -> Option<T> {
        if found.is_none()
            && let Some(face) = self.model.first_face()
        {
            let (subject, at) = self.model.site.as_ref().map_or(face, |site| (site.name.clone(), site.origin));
            report.push(
                self.unknown(meta, subject, at, format!("a limit `{name}`"))
                    .help(format!("name a rule set that holds `{name}` under `limits` of the site")),
            );
        }
        found
    }

    /// The unit printed first.
    pub fn units(&self) -> System {
        self.model.project.units
    }

    /// A length as shown, in both units.
    pub fn shown(&self, length: Length) -> String {
        display::both(length, self.units())
    }

    /// A length as a measure.
    pub fn measure(&self, length: Length) -> Measure {
        Measure { value: Some(length.as_m()), shown: self.shown(length) }
    }

    /// A slope as a measure, in percent.
    pub fn slope_measure(&self, slope: f64) -> Measure {
        Measure { value: Some(slope), shown: display::slope_percent(slope) }
    }

    /// An area given in m², as shown, in both units.
    pub fn shown_area(&self, square_metres: f64) -> String {
        display::area_both(Area((square_metres * 1e18).round() as i128), self.units())
    }

    /// Name of a face for a sentence: "north wall".
    pub fn face_name(&self, face: FaceId) -> String {
        self.model.face(face).map_or_else(String::new, |face| format!("{} wall", face.name))
    }

    /// A fault at a place of the text. Its severity follows from the basis given with [`Finding::against`].
    pub fn fault(&self, meta: &RuleMeta, subject: impl Into<String>, at: Span, message: impl Into<String>) -> Finding {
        Finding {
            rule: meta.id,
            severity: Severity::Warning,
            grade: meta.grade,
            subject: subject.into(),
            message: message.into(),
            at,
            others: Vec::new(),
            place: String::new(),
            stretch: None,
            measured: None,
            limit: None,
            basis: Basis::default(),
            help: Vec::new(),
            remedy: None,
            fixes: Vec::new(),
            defences: None,
            behind: Vec::new(),
            before: meta.before,
            missing: None,
            path: Vec::new(),
        }
    }

    /// "Cannot tell": names the missing fact, at the place of the text where it belongs.
    pub fn unknown(
        &self,
        meta: &RuleMeta,
        subject: impl Into<String>,
        at: Span,
        missing: impl Into<String>,
    ) -> Finding {
        let missing = missing.into();
        let message = format!("cannot tell whether {}: {missing}", meta.title);
        Finding { severity: Severity::Unknown, missing: Some(missing), ..self.fault(meta, subject, at, message) }
    }

    /// "Cannot tell" where what was declared as a range breaks the rule in part of it only; found and wanted as shown.
    pub fn in_part(
        &self,
        meta: &RuleMeta,
        subject: impl Into<String>,
        at: Span,
        (found, wanted): (Measure, Measure),
    ) -> Finding {
        let missing =
            format!("a closer figure: in part of the range it is so, {} against {}", found.shown, wanted.shown);
        self.unknown(meta, subject, at, missing).measured(found).wanted(wanted)
    }

    /// The stretch of wall of a run, in words and numbers: "north wall, base, 2.1–4.3 m from the left end".
    pub fn on_run(&self, finding: Finding, run: &Run, part: Segment) -> Finding {
        let what = run.name.split_once('.').map_or(run.kind, |(_, place)| place);
        self.on_face(finding, run.face, what, part.from, part.to)
    }

    /// The same for any two points of a face; `what` names the thing there.
    pub fn on_face(&self, mut finding: Finding, face: FaceId, what: &str, from: Point, to: Point) -> Finding {
        finding.place = format!("{}, {what}, {}", self.face_name(face), self.place(face, from, to));
        finding.stretch = Some(Stretch { face, from, to });
        finding
    }

    /// "2.10 m from the left end" for one place of a face.
    pub fn from_left(&self, face: FaceId, x: Length) -> String {
        let at = Point::new(x, Length::ZERO);
        self.place(face, at, at).split(", ").next().unwrap_or_default().to_owned()
    }

    /// "2.1–4.3 m from the left end" for lying stretches, "0.4–2.1 m up" for upright ones.
    fn place(&self, face: FaceId, from: Point, to: Point) -> String {
        let left =
            self.plan.face(face).and_then(|plan| plan.outline.bounds()).map_or(Length::ZERO, |bounds| bounds.left);
        let (x0, x1) = (from.x.min(to.x) - left, from.x.max(to.x) - left);
        let (y0, y1) = (from.y.min(to.y), from.y.max(to.y));
        let across = span_words(x0, x1, self.units());
        let up = span_words(y0, y1, self.units());
        if x1 - x0 >= y1 - y0 && x1 > x0 {
            format!("{across} from the left end")
        } else {
            format!("{across} from the left end, {up} above the datum")
        }
    }
}

fn span_words(low: Length, high: Length, units: System) -> String {
    match units {
        System::Metric if low == high => format!("{:.2} m", low.as_m()),
        System::Metric => format!("{:.2}–{:.2} m", low.as_m(), high.as_m()),
        System::Imperial if low == high => display::length(low, units),
        System::Imperial => format!("{} – {}", display::length(low, units), display::length(high, units)),
    }
}

impl Finding {
    /// Moves every place of the texts in it.
    pub fn move_spans(&mut self, to: &mut dyn FnMut(Span) -> Span) {
        self.at = to(self.at);
        self.others.iter_mut().for_each(|(span, _)| *span = to(*span));
        self.basis.origin = self.basis.origin.map(&mut *to);
        self.fixes.iter_mut().flat_map(|fix| &mut fix.edits).for_each(|(span, _)| *span = to(*span));
    }

    /// Sets the limit it was judged by: a firm limit makes a violation, any other a warning.
    pub fn against(mut self, limit: &Limit) -> Self {
        self.basis = Basis { citation: limit.citation(), firm: limit.sure.is_firm(), origin: Some(limit.origin) };
        if self.severity != Severity::Unknown {
            self.severity = if self.basis.firm { Severity::Violation } else { Severity::Warning };
        }
        self
    }

    /// A principle that needs no number, such as "one continuous air barrier": `firm` if a code states it.
    pub fn on_principle(mut self, citation: &str, firm: bool) -> Self {
        self.basis = Basis { citation: citation.to_owned(), firm, origin: None };
        if self.severity != Severity::Unknown {
            self.severity = if firm { Severity::Violation } else { Severity::Warning };
        }
        self
    }

    /// What was found.
    pub fn measured(mut self, measure: Measure) -> Self {
        self.measured = Some(measure);
        self
    }

    /// What is wanted.
    pub fn wanted(mut self, measure: Measure) -> Self {
        self.limit = Some(measure);
        self
    }

    /// A line of advice.
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help.push(text.into());
        self
    }

    /// What to do, in words for people and, where it is a number or a word, as a step for edits.
    pub fn advise(mut self, text: impl Into<String>, remedy: impl Into<Option<super::Remedy>>) -> Self {
        self.remedy = remedy.into();
        self.help(text)
    }

    /// Another place in the text.
    pub fn also(mut self, at: Span, text: impl Into<String>) -> Self {
        self.others.push((at, text.into()));
        self
    }

    /// An edit of one span.
    pub fn fix(mut self, title: impl Into<String>, at: Span, replacement: impl Into<String>) -> Self {
        self.fixes.push(crate::diagnose::Fix { title: title.into(), edits: vec![(at, replacement.into())] });
        self
    }

    /// The path that fails.
    pub fn path(mut self, steps: Vec<String>) -> Self {
        self.path = steps;
        self
    }
}
