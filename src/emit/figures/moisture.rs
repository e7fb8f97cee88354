//! A sheet for each wall type: warmth and vapour through its wall section in the wettest month, water month by month, twelve small
//! panels, and in words where water gathers and when it dries.

use crate::emit::drawing::{Anchor, Fill, Item, Paper, Rect, Scale, Sheet, Stroke, Text, at, item, text};
use crate::emit::elevation::capital;
use crate::emit::plot::{Axis, Multiples, Plot, Unit};
use crate::emit::{titles, wall_section};
use crate::figures::MONTHS;
use crate::figures::moisture::{Monthly, dries_alone, monthly};
use crate::model::{Assembly, Model};
use crate::physics::moisture::surface::MOULD;
use crate::session::Checked;
use crate::units::{Length, Range, System, display};

/// Room for the names of layers above the section, mm.
const NAMES: f64 = 46.0;
/// Room for words beside it, mm.
const WORDS: f64 = 150.0;

/// Pages of every wall type whose months can be reckoned.
pub(super) fn pages(checked: &Checked) -> Vec<(String, String, Vec<Sheet>)> {
    let walls = checked.figures().walls.iter().filter(|wall| wall.study("moisture").is_some());
    let walls = walls.filter_map(|wall| wall.wall.assembly(&checked.model));
    walls.filter_map(|assembly| page(checked, assembly)).collect()
}

fn page(checked: &Checked, assembly: &Assembly) -> Option<(String, String, Vec<Sheet>)> {
    let monthly = monthly(&checked.model, assembly).ok()?;
    let drawn = Drawn { checked, assembly, monthly: &monthly, depths: depths(&checked.model, assembly, &monthly) };
    let name = format!("{}_moisture", super::file_name(&assembly.label));
    let title = format!("{}, moisture by month", assembly.label.replace('_', " ").replace('(', " ("));
    let mut sheets = vec![drawn.section(&name)];
    if monthly.year.peak().is_some() {
        sheets.push(drawn.year(&name));
    }
    Some((name.clone(), title, sheets))
}

/// What all parts of the sheets read.
struct Drawn<'c> {
    checked: &'c Checked,
    assembly: &'c Assembly,
    monthly: &'c Monthly,
    /// Of each place of the cut, from the outside of the wall, mm.
    depths: Vec<f64>,
}

/// How deep each place lies in the wall, mm.
fn depths(model: &Model, assembly: &Assembly, monthly: &Monthly) -> Vec<f64> {
    let slabs = wall_section::faces(model, assembly);
    let depth = |layer: usize, share: f64| {
        let (from, to) = slabs.get(monthly.first + layer).copied().unwrap_or_default();
        from.as_mm() + (to.as_mm() - from.as_mm()) * share
    };
    monthly.cut.places.iter().map(|place| depth(place.layer, place.share)).collect()
}

impl Drawn<'_> {
    fn sheet(&self, name: &str, words: &str) -> Sheet {
        let label = self.assembly.label.replace('_', " ").replace('(', " (");
        let title = titles::block(self.checked, &capital(&format!("{label}, {words}")));
        let mut sheet = Sheet::new(name, Paper::A3, title);
        sheet.description = format!("{}: {}", self.assembly.label, self.words().join(" "));
        sheet
    }

    /// The month the section is drawn for: at whose end most water is held, or January where it stays dry.
    fn month(&self) -> usize {
        self.monthly.year.peak().map_or(0, |(month, _)| month)
    }

    /// Warmth and vapour on the wall section, with the words beside them and the year below.
    fn section(&self, name: &str) -> Sheet {
        let mut sheet =
            self.sheet(name, &format!("moisture by month, {} shown", MONTHS.get(self.month()).copied().unwrap_or("")));
        let area = sheet.area();
        let slabs = wall_section::faces(&self.checked.model, self.assembly);
        let total = slabs.last().map_or(Length::ZERO, |(_, to)| *to);
        let scales = [Scale(1), Scale(2), Scale(5), Scale(10), Scale(20)];
        let scale = Scale::largest(&scales, (total, Length::ZERO), (140.0, 1.0)).unwrap_or(Scale(50));
        sheet.scale = Some(scale);
        let left = area.x + 38.0;
        let wall = Rect { x: left, y: area.y + NAMES, width: scale.paper(total).max(1.0), height: 108.0 };
        sheet.layer("section", wall_section::upright(self.checked, self.assembly, scale, wall));
        sheet.layer("names", self.names(&slabs, scale, wall));
        let half = (wall.height - 12.0) / 2.0;
        let (upper, lower) = (Rect { height: half, ..wall }, Rect { y: wall.bottom() - half, height: half, ..wall });
        let names_end = wall.right() + 48.0;
        let white = |rect: Rect| Item::rect(rect, None, Fill::White);
        sheet.layer(
            "between",
            vec![white(Rect { x: wall.x - 1.0, y: upper.bottom() + 0.4, width: wall.width + 2.0, height: 11.2 })],
        );
        sheet.push(self.warmth().draw_at(upper, names_end));
        sheet.push(self.vapour(self.month(), "").draw_at(lower, names_end));
        let words = Rect::edges((names_end + 6.0).max(area.right() - WORDS), area.y, area.right(), wall.bottom());
        sheet.layer("words", self.written(words));
        let below = Rect::edges(area.x, wall.bottom() + 6.0, area.right(), area.bottom());
        if self.monthly.year.peak().is_some() {
            sheet.push(self.water().draw(below));
        } else {
            // Nothing gathers: the months have their room here.
            sheet.push(self.months(6).draw(below));
        }
        sheet
    }

    /// Names of layers, upright above the section, each tied to its layer.
    fn names(&self, slabs: &[(Length, Length)], scale: Scale, wall: Rect) -> Vec<Item> {
        let step = item::LARGE * 1.3;
        let middle = |(from, to): &(Length, Length)| wall.x + (scale.paper(*from) + scale.paper(*to)) / 2.0;
        let wanted: Vec<f64> = slabs.iter().map(middle).collect();
        let mut places = wanted.clone();
        let mut low = wall.x;
        for place in &mut places {
            *place = place.max(low);
            low = *place + step;
        }
        let mut high = wall.right() + 2.0 * step;
        for place in places.iter_mut().rev() {
            *place = place.min(high);
            high = *place - step;
        }
        let mut items = Vec::new();
        for ((layer, place), wanted) in self.assembly.layers.iter().zip(&places).zip(&wanted) {
            let (top, foot) = (wall.y - 8.0, wall.y - 0.6);
            let name = text::cut(&layer.name, NAMES - 10.0, item::LARGE, false);
            let start = at(place + item::LARGE / 2.0, top - 1.5);
            items.push(Item::from(Text::new(start, name).size(item::LARGE).turned(-90.0)));
            items
                .push(Item::polyline(vec![at(*place, top), at(*wanted, foot), at(*wanted, foot + 3.0)], Stroke::LIGHT));
        }
        items
    }

    fn across(&self) -> Axis {
        let total = wall_section::faces(&self.checked.model, self.assembly).last().map_or(0.0, |(_, to)| to.as_mm());
        Axis::new("", 0.0, total, Vec::new())
    }

    fn warmth(&self) -> Plot {
        let state = self.monthly.year.months.get(self.month()).map(|month| &month.state);
        let degrees = state.map(|state| state.temperature.as_slice()).unwrap_or_default();
        let line: Vec<(f64, f64)> = self.depths.iter().copied().zip(degrees.iter().copied()).collect();
        let y = Axis::around("", degrees.iter().copied(), 5.0, Unit::celsius_and_fahrenheit());
        let mut plot = Plot::new("", self.across(), y).line("temperature", line);
        if plot.y.from < 0.0 && plot.y.to > 0.0 {
            plot = plot.limit("frost", 0.0);
        }
        plot
    }

    fn vapour(&self, month: usize, title: &str) -> Plot {
        let state = self.monthly.year.months.get(month).map(|month| &month.state);
        let along = |values: &[f64]| self.depths.iter().copied().zip(values.iter().copied()).collect::<Vec<_>>();
        let (most, vapour) =
            state.map_or((Vec::new(), Vec::new()), |state| (along(&state.saturation), along(&state.vapour)));
        let highest = self.monthly.year.months.iter().flat_map(|month| month.state.saturation.iter().copied());
        let highest = highest.fold(1.0, f64::max);
        let units = vec![Unit::plain("Pa"), Unit::times("inHg", 1.0 / 3386.389)];
        let y = Axis::new("", 0.0, highest * 1.25, units);
        Plot::new(title, self.across(), y).line("most it can hold", most).line("vapour pressure", vapour)
    }

    fn water(&self) -> Plot {
        let held: Vec<f64> = self.monthly.year.months.iter().map(|month| month.held() * 1e3).collect();
        let units = vec![Unit::plain("g/m²"), Unit::times("oz/ft²", 0.003_277_06)];
        let y =
            Axis::around("water in the wall at the end of each month", held.iter().copied(), 20.0, units).from_zero();
        Plot::new("", Axis::months(), y).monthly("water", &held)
    }

    /// Twelve panels of vapour against saturation, outside at the left.
    fn year(&self, name: &str) -> Sheet {
        let mut sheet = self.sheet(&format!("{name}-2"), "vapour through the wall in twelve months");
        sheet.push(self.months(4).draw(sheet.area()));
        sheet
    }

    /// The twelve panels in so many columns.
    fn months(&self, columns: usize) -> Multiples {
        let panel = |month: usize| {
            let held = self.monthly.year.months.get(month).map_or(0.0, |month| month.held() * 1e3);
            let name = MONTHS.get(month).copied().unwrap_or("");
            let water = if held >= 0.5 { format!(", {held:.0} g/m²") } else { String::new() };
            let mut plot = self.vapour(month, &format!("{name}{water}"));
            plot.x.name = "through the wall, outside at the left".to_owned();
            plot.x.units = vec![Unit::plain("mm"), Unit::times("in", 1.0 / 25.4)];
            plot.y.name = "vapour pressure".to_owned();
            // In low panels the name of the month has its room above the lines.
            if columns > 4 {
                plot.y.to *= 1.6;
            }
            plot
        };
        Multiples::new((0..12).map(panel).collect(), columns)
    }

    fn written(&self, room: Rect) -> Vec<Item> {
        let mut items = Vec::new();
        let mut y = room.y + item::LARGE;
        for sentence in self.words() {
            for line in text::wrap(&sentence, room.width, item::LARGE, false) {
                items.push(Text::new(at(room.x, y), line).size(item::LARGE).anchor(Anchor::Start).into());
                y += item::LARGE * 1.45;
            }
            y += item::LARGE * 0.8;
        }
        items
    }

    /// What the sheet says, a paragraph each.
    fn words(&self) -> Vec<String> {
        let (monthly, year) = (self.monthly, &self.monthly.year);
        let lead = self.checked.model.project.units;
        let name = |month: usize| MONTHS.get(month).copied().unwrap_or("");
        let mut words = vec![match year.peak() {
            None if monthly.gathers() => "Nothing gathers in this wall in any month as it is drawn.".to_owned(),
            None => "Nothing gathers in this wall in any month.".to_owned(),
            Some((month, water)) => {
                let wettest = year.wettest().and_then(|(place, ..)| monthly.cut.places.get(place));
                let place = wettest.map(|place| monthly.where_is(self.assembly, place)).unwrap_or_default();
                format!(
                    "Water gathers {place} from {}; most, {}, at the end of {}. It {}.",
                    name(year.start.unwrap_or(0)),
                    mass(water, lead),
                    name(month),
                    dries_alone(year)
                )
            }
        }];
        if !monthly.ends.is_empty() {
            let known = "What is known only within bounds is drawn with its middle.";
            let Range { low, high } = monthly.peak();
            let within =
                format!("the most water is {} to {}; the wall {}", mass(low, lead), mass(high, lead), monthly.dries());
            let within = if monthly.gathers() { within } else { "the wall stays dry".to_owned() };
            words.push(format!("{known} Within the bounds {within}."));
        }
        if year.start.is_some() && year.left() > 0.0 {
            words.push(format!("{} is left after a year: it gathers from year to year.", mass(year.left(), lead)));
        }
        if let Some((month, needed)) = monthly.critical(MOULD) {
            words.push(format!(
                "{} asks most of the inner surface: fRsi {needed:.2} keeps it below 80% humidity; between studs it has {}.",
                name(month),
                factors(monthly.factor)
            ));
        }
        if let Some(site) = &self.checked.model.site {
            let both = |celsius| {
                format!("{} ({})", display::temperature(celsius, lead), display::temperature(celsius, lead.other()))
            };
            let rooms = site.indoors.map(both).unwrap_or_default();
            let class = site.humidity_class.unwrap_or_default();
            let climate = site.climate.as_ref().map(|climate| climate.name.replace('_', " ")).unwrap_or_default();
            words.push(format!(
                "Rooms {rooms}, humidity class {class}; outside of the gap is outside air; climate {climate}. The section shows {}.",
                name(self.month())
            ));
        }
        words.push("By ISO 13788:2012, from memory. Sun, rain, leaks and what wood stores are not reckoned: a warning, no forecast.".to_owned());
        words
    }
}

/// `0.95`, `0.94 to 0.96`.
fn factors(factor: Range) -> String {
    let (low, high) = (format!("{:.2}", factor.low), format!("{:.2}", factor.high));
    if low == high { low } else { format!("{low} to {high}") }
}

/// Both units, the leading one first.
fn mass(water: f64, lead: System) -> String {
    let (grams, ounces) = (format!("{:.0} g/m²", water * 1e3), format!("{:.2} oz/ft²", water * 3.277_06));
    match lead {
        System::Metric => format!("{grams} ({ounces})"),
        System::Imperial => format!("{ounces} ({grams})"),
    }
}
