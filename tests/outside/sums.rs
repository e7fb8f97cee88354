//! What the program makes of the inputs of a case.

use std::sync::OnceLock;

use serde_json::Value;
use wythe::geometry::{Point, Polygon, Region, Ring, Segment};
use wythe::layout::angles;
use wythe::layout::courses::{Cut, cure};
use wythe::layout::coursing::{CutLine, choose, rip};
use wythe::layout::folds;
use wythe::layout::furring::{SetOut, centres};
use wythe::layout::furring_map;
use wythe::layout::holes::{Support, between_supports, both_ends, from_first, on_supports, studs};
use wythe::layout::story_pole;
use wythe::layout::trims;
use wythe::model::{Frame, Material, Model};
use wythe::physics::layers;
use wythe::physics::openings::{self, Pattern};
use wythe::quantities::arithmetic as quantity;
use wythe::session::{Settings, check};
use wythe::source::{MapWorld, Span};
use wythe::syntax::Literal;
use wythe::units::{self, Length, Unit};

/// Differences below this are the last bits of decimal fractions held as floats.
pub const HAIR: f64 = 1e-11;

/// One figure or word.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// Lengths in millimetres.
    Number(f64),
    /// As written in the case.
    Word(String),
}

/// The inputs of a case: numbers (lengths in millimetres), lengths with a unit such as `61/4in`, words, lists.
#[derive(Clone, Copy)]
pub struct Inputs<'v>(pub &'v Value);

impl<'v> Inputs<'v> {
    pub fn get(self, key: &str) -> &'v Value {
        self.0.get(key).unwrap_or_else(|| panic!("no input `{key}` in {}", self.0))
    }

    pub fn number(self, key: &str) -> f64 {
        number(self.get(key))
    }

    pub fn length(self, key: &str) -> Length {
        Length::snap_mm(self.number(key))
    }

    pub fn metres(self, key: &str) -> f64 {
        self.number(key) / 1e3
    }

    pub fn text(self, key: &str) -> &'v str {
        self.get(key).as_str().unwrap()
    }

    pub fn list(self, key: &str) -> &'v [Value] {
        self.get(key).as_array().unwrap()
    }

    /// Two numbers, the first over the second.
    pub fn slope(self, key: &str) -> (f64, f64) {
        let both = self.list(key);
        (number(&both[0]), number(&both[1]))
    }
}

/// A number as it is, or a length with a unit in millimetres.
pub fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| length(value.as_str().unwrap_or_else(|| panic!("{value} is no number"))).as_mm())
}

/// `61/4in`, read as the language reads it.
fn length(text: &str) -> Length {
    let unit = text.trim_start_matches(|mark: char| mark.is_ascii_digit() || mark == '/' || mark == '-');
    let amount = text.strip_suffix(unit).unwrap();
    let (numerator, denominator) = amount.split_once('/').unwrap_or((amount, "1"));
    let (numerator, denominator) = (numerator.parse().unwrap(), denominator.parse().unwrap());
    let literal = Literal { numerator, denominator, unit: unit.into(), unit_span: Span::default() };
    units::evaluate(&literal).unwrap().length().unwrap()
}

/// Figures as answers.
pub fn numbers(found: impl IntoIterator<Item = f64>) -> Vec<Answer> {
    found.into_iter().map(Answer::Number).collect()
}

/// Lengths as answers, in millimetres.
pub fn lengths(found: impl IntoIterator<Item = Length>) -> Vec<Answer> {
    numbers(found.into_iter().map(Length::as_mm))
}

/// A word as the one answer.
pub fn word(word: &str) -> Vec<Answer> {
    vec![Answer::Word(word.to_owned())]
}

/// All answers to one case.
pub fn ours(sum: &str, given: Inputs<'_>) -> Vec<Answer> {
    known(sum, given).unwrap_or_else(|| panic!("no sum `{sum}`"))
}

/// The same; `None` where there is no such sum here.
pub fn known(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    marks(sum, given)
        .or_else(|| areas(sum, given))
        .or_else(|| courses(sum, given))
        .or_else(|| unit(sum, given))
        .or_else(|| quantities(sum, given))
        .or_else(|| cuts(sum, given))
        .or_else(|| (sum == "cutting_stock").then(|| cutting(given)))
        .or_else(|| (sum == "material").then(|| material(given)))
}

fn supports(given: Inputs<'_>) -> Vec<Support> {
    let (every, half) = (given.length("spacing"), given.length("width") / 2);
    (0..40).map(|at| Support { centre: every * at, half }).collect()
}

fn marks(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.length(key);
    Some(match sum {
        "both_ends" => lengths(both_ends(of("piece"), of("end"), of("most"))),
        "from_first" => lengths(from_first(of("piece"), of("first"), of("spacing"), of("end"))),
        "on_supports" => lengths(on_supports(of("start"), of("piece"), &supports(given), of("end"))),
        "between_supports" => {
            let found = between_supports(of("start"), of("piece"), &supports(given), of("hole"), Length::ZERO);
            // The last space ends at the end of the piece: the crew's row goes by bays only.
            let whole = supports(given).windows(2).filter(|pair| pair[1].centre < of("start") + of("piece")).count();
            lengths(found.into_iter().take(whole))
        }
        "furring_edges" => {
            let set_out =
                SetOut { width: of("width"), spacing: Some(of("spacing")), first: Some(of("first")), marks: &[] };
            let half = of("width") / 2;
            lengths(centres(set_out, Length::ZERO, of("wall")).into_iter().map(|centre| centre - half))
        }
        "stud_edges" => {
            let frame = Frame {
                depth: Length::mm(140),
                width: of("width"),
                spacing: Some(of("spacing")),
                first: Some(of("first")),
                marks: Vec::new(),
                fill: None,
                wood_share: None,
                kind: None,
            };
            lengths(studs(&frame, Length::ZERO, of("wall")).into_iter().map(|stud| stud.centre - stud.half))
        }
        "slope_factor" => {
            let run = Length::mm(1_000_000);
            let rise = Length::snap_mm(run.as_mm() * given.number("rise") / given.number("run"));
            let line = Segment::new(Point::new(Length::ZERO, Length::ZERO), Point::new(run, rise));
            numbers([line.length().as_mm() / run.as_mm()])
        }
        "pitch_angle" => {
            let bare =
                |numerator: i128| Literal { numerator, denominator: 1, unit: "".into(), unit_span: Span::default() };
            let pitch = units::pitch(&bare(given.get("rise").as_i64()?.into()), &bare(12)).ok()?;
            numbers([pitch.slope()?.atan().to_degrees()])
        }
        "strip_step" => lengths([strip_step(given)]),
        "ends_free" => {
            let found = on_supports(of("start"), of("piece"), &supports(given), of("end"));
            lengths([*found.first()?, of("piece") - *found.last()?])
        }
        "from_mitre" => lengths([trims::from_mitre(of("across"), given.number("degrees"), of("diameter"))]),
        "insulation_ratio" => {
            numbers([layers::ratio(given.number("outside"), given.list("inside").iter().map(number).sum())?])
        }
        "screw" => {
            let each = |key: &str| -> Vec<Length> {
                given.list(key).iter().map(|length| Length::snap_mm(number(length))).collect()
            };
            lengths(furring_map::screw(&each("layers"), of("penetration"), &each("sold")))
        }
        _ => return None,
    })
}

fn areas(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.metres(key);
    // m² and m²/m to mm² and mm²/m.
    let mm2 = |found: Option<f64>| numbers(found.map(|found| found * 1e6));
    Some(match sum {
        "slot_per_metre" => {
            let long = given.0.get("length").map_or(1.0, number);
            let found = openings::slot_per_metre(of("height"), of("strip"), of("spacing"), given.number("open"));
            mm2(found.map(|found| found * long))
        }
        "round_hole" => mm2(Some(openings::round_hole(of("diameter")))),
        "holes_per_metre" => mm2(openings::holes_per_metre(of("diameter"), of("spacing"))),
        "hole_spacing" => {
            // mm²/m is 1e-6 m²/m; metres to millimetres.
            let found = openings::hole_spacing(of("diameter"), given.number("wanted") / 1e6);
            numbers(found.map(|found| found * 1e3))
        }
        "open_share" => {
            let pattern = if given.text("pattern") == "staggered" { Pattern::Staggered } else { Pattern::Square };
            let times = given.0.get("times").map_or(1.0, number);
            let share = openings::open_share(pattern, given.number("diameter"), given.number("pitch"));
            numbers(share.map(|share| share * times))
        }
        "in_series" => {
            let areas: Vec<f64> = given.list("areas").iter().map(|area| number(area) / 1e6).collect();
            mm2(openings::in_series(&areas))
        }
        _ => return None,
    })
}

/// A line by the word of the data files.
pub fn cut_line(kind: &str, height: Length) -> CutLine {
    match kind {
        "base" => CutLine::Base(height),
        "head" => CutLine::Head(height),
        "sill" => CutLine::Sill(height),
        _ => CutLine::Top(height),
    }
}

fn courses(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let lines = || -> Vec<CutLine> {
        let line = |line: &Value| cut_line(line[0].as_str().unwrap(), Length::snap_mm(number(&line[1])));
        given.list("lines").iter().map(line).collect()
    };
    let of = |key: &str| given.length(key);
    Some(match sum {
        "rips" => lengths(lines().into_iter().map(|line| rip(line, of("exposure"), of("start")))),
        "choose" => lengths(choose(&lines(), of("low"), of("high"), Some(of("start"))).map(|found| found.exposure)),
        "cure" => {
            let cut = |line: CutLine| match line {
                CutLine::Base(height) | CutLine::Head(height) => (Cut::Over, height),
                CutLine::Sill(height) | CutLine::Top(height) => (Cut::Under, height),
            };
            let lines: Vec<(Cut, Length)> = lines().into_iter().map(cut).collect();
            let least = |exposure: Length| Length::mm(50).max(exposure / 3);
            let (exposure, smallest) = cure(&lines, of("start"), (of("low"), of("high")), least)?;
            lengths([exposure, smallest])
        }
        "gable" => {
            let edges = gable(given);
            let shown = given.list("show").iter().map(|at| edges[at.as_u64().unwrap() as usize]);
            lengths(shown)
        }
        "gable_count" => numbers([gable(given).len() as f64]),
        "equal_courses" => {
            let zones = given.list("zones").iter().map(|zone| Length::snap_mm(number(zone)));
            let found = zones.filter_map(|zone| story_pole::equal(zone, of("wanted")));
            numbers(found.flat_map(|(count, height)| [count as f64, height.as_mm()]))
        }
        "gable_by_area" => {
            let (width, exposure) = (given.length("width"), given.length("exposure"));
            let height = angles::gain(width / 2, given.number("rise") / 12.0);
            numbers([width.as_mm() * height.as_mm() / 2.0 / exposure.as_mm()])
        }
        "gable_sum" => lengths([gable(given).into_iter().sum::<Length>()]),
        _ => return None,
    })
}

/// Lower edges of the courses of a gable, by cutting its triangle into bands.
fn gable(given: Inputs<'_>) -> Vec<Length> {
    let (width, exposure) = (given.length("width"), given.length("exposure"));
    let ridge = Length::snap_mm(width.as_mm() / 2.0 * given.number("rise") / 12.0);
    let corners = vec![Point::default(), Point::new(width, Length::ZERO), Point::new(width / 2, ridge)];
    let triangle: Region = std::iter::once(Polygon::new(Ring::new(corners), Vec::new())).collect();
    let band = |at: i64| triangle.clip_y(exposure * at, exposure * (at + 1)).bounds().map(|bounds| bounds.width());
    (0..100).map_while(band).collect()
}

fn unit(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let scale = |text: &str| Unit::parse(text).unwrap().scale.value();
    Some(match sum {
        "length" => lengths([length(given.text("text"))]),
        "unit" => numbers([scale(given.text("unit"))]),
        "r_value" => numbers([scale("ft2.h.degF/Btu")]),
        "perms" => numbers([given.number("ng") * scale("ng/(Pa.s.m2)") / scale("perm")]),
        "nanograms" => numbers([given.number("perms") * scale("perm") / scale("ng/(Pa.s.m2)")]),
        "temperature" => {
            let numerator = given.get("fahrenheit").as_i64()?.into();
            let literal = Literal { numerator, denominator: 1, unit: "degF".into(), unit_span: Span::default() };
            numbers([units::evaluate(&literal).ok()?.si()])
        }
        _ => return None,
    })
}

fn cuts(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.length(key);
    let slope = || given.number("rise") / given.0.get("run").map_or(12.0, number);
    let of_seven = || angles::cut_length(Length::mm(150), angles::from_square(7.0 / 12.0, false));
    Some(match sum {
        "square" => {
            let rise = given.number("rise");
            let table = angles::square(rise);
            let jack = |inches: i64| angles::jack_difference(rise, Length::INCH * inches).as_inches();
            numbers([table.common, table.hip, jack(16), jack(24), table.jack_cut, table.hip_cut])
        }
        "rake" => {
            let lost = angles::loss(of("exposure"), slope())?;
            let gained = angles::gain(of("cover"), slope());
            numbers([angles::from_square(slope(), false), lost.as_mm(), gained.as_mm()])
        }
        "grade" => numbers(angles::settings(slope()).map(|set| set.rise.as_inches())),
        "grade_error" => numbers(angles::settings(slope()).map(|set| set.error)),
        "mitres" => numbers([angles::mitre(90.0), angles::mitre(135.0), angles::mitre_to_level(7.0 / 12.0)]),
        "long_less_short" => {
            let frieze = angles::long_less_short(Length::mm(64), angles::mitre_to_level(7.0 / 12.0));
            let casing = |degrees| angles::long_less_short(Length::mm(89), degrees);
            lengths([casing(45.0), casing(22.5), frieze])
        }
        "casing" => {
            let cut = angles::casing((of("width"), of("height")), of("reveal"), of("trim"), Length::ZERO, true);
            lengths([cut.head, cut.head_short, cut.jamb, cut.jamb_short])
        }
        "casing_square" => {
            let cut = angles::casing((of("width"), of("height")), of("reveal"), of("trim"), Length::ZERO, false);
            lengths([cut.head, cut.jamb])
        }
        "losses" => {
            let lost = |rise: &Value| angles::loss(of("exposure"), number(rise) / 12.0).map(Length::as_inches);
            numbers(given.list("rises").iter().filter_map(lost))
        }
        "rise_in_12" => {
            let slopes = given.list("slopes").iter().map(|slope| number(&slope[0]) / number(&slope[1]));
            numbers(slopes.map(angles::rise_in_12))
        }
        "grade_read" => {
            let [set, ..] = angles::settings(slope());
            numbers([set.read.as_inches(), set.gives, angles::degrees(slope())])
        }
        "per_metre" => numbers([angles::per_metre(slope())]),
        "gain" => lengths([angles::gain(of("over"), slope())]),
        "gain_in_courses" => {
            let rise = angles::gain(of("over"), slope());
            numbers([rise.as_mm(), (rise.as_mm() / of("exposure").as_mm()).round()])
        }
        "bevel" => lengths([angles::gain(of("over"), angles::slope(given.number("degrees")))]),
        "corners" => numbers(given.list("pairs").iter().map(|pair| angles::corner(number(&pair[0]), number(&pair[1])))),
        "opening_cut" => lengths([of_seven(), angles::opens(of_seven(), 0.5), angles::opens(of_seven(), 0.25)]),
        _ => return None,
    })
}

/// What the plan costs, and what no plan can cost less than.
fn cutting(given: Inputs<'_>) -> Vec<Answer> {
    let found = wythe::layout::cutting::plan(&super::cutting_checked::order(given.0));
    numbers([found.cost as f64, found.bound as f64])
}

fn quantities(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.length(key);
    let girth = || quantity::girth(of("upstand"), of("ledge"), given.number("slope"), of("drip"), of("hem"));
    Some(match sum {
        "girth" => lengths([girth()]),
        "strips_of_coil" => numbers([(of("coil").0 / girth().0) as f64]),
        "coil" => {
            let (strips, left) = folds::strips(of("coil"), of("girth"))?;
            numbers([strips as f64, left.as_mm(), (of("girth") * given.get("five").as_i64()?).as_mm()])
        }
        "roll_covers" => {
            // The tallest wall, to a millimetre, that so many courses cover.
            let courses = given.get("courses").as_i64()?;
            let fits = |height: &i64| {
                quantity::roll_courses(Length::mm(*height), of("width"), of("lap"))
                    .is_some_and(|found| found <= courses)
            };
            numbers([(1..20_000).take_while(fits).last()? as f64 / 1e3])
        }
        "head_length" => lengths([quantity::head_length(of("opening"), of("trim"), of("dam"))]),
        "roll_courses" => numbers([quantity::roll_courses(of("height"), of("width"), of("lap"))? as f64]),
        "roll_area" => {
            let courses = given.get("courses").as_i64()?;
            numbers([quantity::roll_area(courses, of("width"), of("length"), of("end_lap")).as_m2()])
        }
        "sheet_seam" => numbers(quantity::sheet_seam(of("width"), of("height"))),
        "opening_tape" => lengths([quantity::opening_tape(of("width"), of("height"))]),
        "pipe_tape" => lengths([quantity::pipe_tape(of("diameter"))]),
        "fasteners_per_area" => numbers(quantity::fasteners_per_area(of("spacing"), of("exposure"))),
        "fasteners_on" => {
            let area = of("width") * of("height");
            numbers(quantity::fasteners_on(area, of("spacing"), of("exposure")).map(|count| count as f64))
        }
        _ => return None,
    })
}

/// Names of all materials that the standard library declares.
pub fn declared() -> Vec<&'static str> {
    let text = wythe::resolve::library::text("materials").unwrap();
    let name = |line: &'static str| line.strip_prefix("material ").and_then(|rest| rest.split_whitespace().next());
    text.lines().filter_map(name).collect()
}

/// The materials of the standard library, read the whole way from text to model: a wall with a layer of each.
pub fn library() -> &'static Model {
    static LIBRARY: OnceLock<Model> = OnceLock::new();
    LIBRARY.get_or_init(|| {
        let layers = declared().into_iter().map(|name| format!("    layer of_{name} {name} 10mm\n"));
        let text = format!(
            "wythe 1\n\nassembly wall {{\n{}}}\n\nface north {{\n    measured to sheathing\n    base 0 from 0 to 3000mm\n    \
             top 2400mm\n    left\n    right\n    area all wall\n}}\n",
            layers.collect::<String>()
        );
        let world = MapWorld::new().with("house.wythe", &text);
        check(&world, &["house.wythe".to_owned()], &Settings::default()).model
    })
}

fn material(given: Inputs<'_>) -> Vec<Answer> {
    let name = given.text("name");
    let material = library().materials.iter().find(|material| material.name == name);
    let material = material.unwrap_or_else(|| panic!("no material `{name}`"));
    given.list("values").iter().filter_map(|value| property(material, value.as_str()?)).map(Answer::Number).collect()
}

fn property(material: &Material, name: &str) -> Option<f64> {
    let plain = match name {
        "conductivity" => return material.conductivity.as_ref().map(|conductivity| conductivity.value.middle()),
        "density" => &material.density,
        "heat_capacity" => &material.heat_capacity,
        "moisture_movement" => &material.moisture_movement,
        "galvanic_index" => &material.galvanic_index,
        // In millionths by kelvin.
        "expansion" => return material.expansion.as_ref().map(|expansion| expansion.value * 1e6),
        "vapour_factor_dry" => return material.vapour_factor.as_ref().map(|factor| factor.value.0),
        "vapour_factor_wet" => return material.vapour_factor.as_ref().map(|factor| factor.value.1),
        _ => panic!("no property `{name}`"),
    };
    plain.as_ref().map(|plain| plain.value)
}

/// By how much the regular strips of a small wall differ from one to the next, on a sloping base or under a rake.
fn strip_step(given: Inputs<'_>) -> Length {
    let (spacing, base, top) = (given.number("spacing"), given.slope("base_rise"), given.slope("top_rise"));
    let width = 3600.0;
    let rises = width * base.0 / base.1;
    let falls = width * top.0 / top.1;
    let mm = |value: f64| format!("{}mm", (value * 1e6).round() / 1e6);
    let text = format!(
        "wythe 1\n\nuse std.boards\n\nassembly wall {{
    layer boards boards.larch 20mm, controls rain, exposure 130mm..140mm
    gap cavity 19mm ventilated {{
        furring spruce 19mm x 38mm {{
            every {} on centre
            vertical
        }}
    }}
    layer sheathing plywood 12.5mm, controls water and air
    frame studs spruce 38mm x 140mm, every 400mm on centre
}}

face north {{
    measured to sheathing
    outline from (0, 0) {{
        base to ({}, {}), keep 200mm
        right to ({}, {})
        {} to (0, 4800mm)
        left to start
    }}
    area all wall
}}
",
        mm(spacing),
        mm(width),
        mm(rises),
        mm(width),
        mm(4800.0 - falls),
        if falls > 0.0 { "rake" } else { "top" },
    );
    let world = MapWorld::new().with("house.wythe", &text);
    let checked = check(&world, &["house.wythe".to_owned()], &Settings::default());
    let titles: Vec<&str> = checked.problems.iter().map(|problem| problem.title.as_str()).collect();
    let strips = &checked.plan.faces.first().unwrap_or_else(|| panic!("{titles:?}\n{text}")).areas[0].strips;
    // The first strip is flush with the end; from the second on they are regular.
    strips[1].axis.length() - strips[2].axis.length()
}
