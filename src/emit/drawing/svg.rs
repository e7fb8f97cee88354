//! The SVG writer. The same items give the same bytes: no clock, no hash order, every number rounded once, here.

use std::collections::BTreeSet;
use std::fmt::Write;

use super::hatch::Hatch;
use super::item::{Anchor, Backing, Fill, Group, Ink, Item, Stroke, Text};
use super::shape::{Point, at};
use super::text::CAPITAL;

/// The typefaces asked for; all share Helvetica's widths, and nothing is embedded.
const FONTS: &str = "Helvetica, Arial, sans-serif";

/// What the document itself is called and how large it is.
#[derive(Clone, Copy, Debug)]
pub struct Page<'a> {
    /// Stands before every id, so that several drawings can live in one page of a browser.
    pub id: &'a str,
    /// On paper, mm.
    pub width_mm: f64,
    /// On paper, mm.
    pub height_mm: f64,
    /// For a screen reader.
    pub title: &'a str,
    /// For a screen reader.
    pub description: &'a str,
}

/// Writes items as one SVG document, true to scale when printed at 100 %.
pub fn write(page: &Page<'_>, items: &[Item]) -> String {
    let mut writer = Writer { out: String::new(), prefix: ident(page.id), used: BTreeSet::new(), depth: 1 };
    writer.document(page, items);
    writer.out
}

/// A number with at most three decimals, no trailing zeros, never `-0`. What is not finite becomes 0.
pub fn number(value: f64) -> String {
    if !value.is_finite() {
        return "0".to_owned();
    }
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Text made safe within an element and within a quoted attribute. Characters XML 1.0 forbids become U+FFFD.
pub fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\t' => safe.push_str("&#9;"),
            '\n' => safe.push_str("&#10;"),
            '\r' => safe.push_str("&#13;"),
            '\0'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => safe.push('\u{fffd}'),
            _ => safe.push(character),
        }
    }
    safe
}

/// A name fit for an id and a class: small letters, digits and hyphens, starting with a letter.
pub fn ident(name: &str) -> String {
    let mut id = String::new();
    for character in name.chars() {
        if character.is_ascii_alphanumeric() {
            id.push(character.to_ascii_lowercase());
        } else if !id.is_empty() && !id.ends_with('-') {
            id.push('-');
        }
    }
    let id = id.trim_end_matches('-');
    if id.starts_with(|first: char| first.is_ascii_lowercase()) { id.to_owned() } else { format!("x{id}") }
}

struct Writer {
    out: String,
    prefix: String,
    used: BTreeSet<String>,
    depth: usize,
}

impl Writer {
    fn document(&mut self, page: &Page<'_>, items: &[Item]) {
        let (width, height) = (number(page.width_mm), number(page.height_mm));
        let (title, description) = (self.unique("title"), self.unique("desc"));
        let named = if page.description.is_empty() { title.clone() } else { format!("{title} {description}") };
        self.put(&format!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}" role="img" aria-labelledby="{named}" font-family="{FONTS}" fill="none" stroke-linejoin="round">"#
        ));
        self.line(&format!(r#"<title id="{title}">{}</title>"#, escape(page.title)));
        if !page.description.is_empty() {
            self.line(&format!(r#"<desc id="{description}">{}</desc>"#, escape(page.description)));
        }
        self.line(&format!(r##"<rect width="{width}" height="{height}" fill="#fff"/>"##));
        self.items(items);
        self.put("</svg>");
    }

    fn items(&mut self, items: &[Item]) {
        for item in items {
            self.item(item);
        }
    }

    fn item(&mut self, item: &Item) {
        match item {
            Item::Line { points, stroke } => self.path(&path(points, ""), Some(*stroke), Fill::None),
            Item::Outline { rings, stroke, fill } => self.outline(rings, *stroke, *fill),
            Item::Circle { centre, radius, stroke, fill } => {
                let look = look(*stroke, *fill);
                let (x, y, r) = (number(centre.x), number(centre.y), number(*radius));
                self.line(&format!(r#"<circle cx="{x}" cy="{y}" r="{r}"{look}/>"#));
            }
            Item::Arc { centre, radius, from, sweep, stroke } => {
                self.path(&arc(*centre, *radius, *from, *sweep), Some(*stroke), Fill::None);
            }
            Item::Text(text) => self.text(text),
            Item::Group(group) => self.group(group),
        }
    }

    fn group(&mut self, group: &Group) {
        let id = group.id.as_deref().map(|name| format!(r#" id="{}""#, self.unique(&ident(name)))).unwrap_or_default();
        self.line(&format!(r#"<g class="{}"{id}>"#, ident(&group.class)));
        self.depth += 1;
        if let Some(title) = &group.title {
            self.line(&format!("<title>{}</title>", escape(title)));
        }
        self.items(&group.items);
        self.depth -= 1;
        self.line("</g>");
    }

    fn outline(&mut self, rings: &[Vec<Point>], stroke: Option<Stroke>, fill: Fill) {
        let shape: String = rings.iter().map(|ring| path(ring, "Z")).collect();
        self.path(&shape, stroke, fill);
        if let Fill::Hatch(hatch) | Fill::Over(hatch) = fill {
            self.hatch(hatch, rings);
        }
    }

    fn hatch(&mut self, hatch: Hatch, rings: &[Vec<Point>]) {
        let (points, lines): (Vec<_>, Vec<_>) = hatch.lines(rings).into_iter().partition(|[a, b]| a == b);
        let width = hatch.weight().mm();
        if !lines.is_empty() {
            let lines: String = lines.iter().map(|line| path(line, "")).collect();
            self.line(&format!(r##"<path d="{lines}" stroke="#000" stroke-width="{}"/>"##, number(width)));
        }
        if !points.is_empty() {
            let points: String = points.iter().map(|[a, _]| format!("M{} {}h0", number(a.x), number(a.y))).collect();
            let width = number(width * 2.0);
            self.line(&format!(
                r##"<path d="{points}" stroke="#000" stroke-width="{width}" stroke-linecap="round"/>"##
            ));
        }
    }

    fn path(&mut self, shape: &str, stroke: Option<Stroke>, fill: Fill) {
        if !shape.is_empty() && (stroke.is_some() || !matches!(fill, Fill::None | Fill::Over(_))) {
            self.line(&format!(r#"<path d="{shape}"{}/>"#, look(stroke, fill)));
        }
    }

    fn text(&mut self, text: &Text) {
        if text.backing == Backing::Plate {
            self.path(&path(&text.corners(), "Z"), None, Fill::White);
        }
        let (x, y) = (number(text.at.x), number(text.at.y));
        let mut with = String::new();
        match text.anchor {
            Anchor::Start => {}
            Anchor::Middle => with.push_str(r#" text-anchor="middle""#),
            Anchor::End => with.push_str(r#" text-anchor="end""#),
        }
        if text.bold {
            with.push_str(r#" font-weight="bold""#);
        }
        if text.turn != 0.0 {
            with.push_str(&format!(r#" transform="rotate({} {x} {y})""#, number(text.turn)));
        }
        if text.backing == Backing::Rim {
            with.push_str(r##" stroke="#fff" stroke-width="0.9" paint-order="stroke""##);
        }
        let (size, content) = (number(text.size / CAPITAL), escape(&text.content));
        self.line(&format!(r##"<text x="{x}" y="{y}" font-size="{size}" fill="#000"{with}>{content}</text>"##));
    }

    /// The name with the drawing's prefix, and a number behind it when it is taken.
    fn unique(&mut self, name: &str) -> String {
        let wanted = format!("{}-{name}", self.prefix);
        let mut id = wanted.clone();
        let mut count = 1;
        while !self.used.insert(id.clone()) {
            count += 1;
            id = format!("{wanted}-{count}");
        }
        id
    }

    fn line(&mut self, text: &str) {
        self.out.push_str(&"  ".repeat(self.depth));
        self.put(text);
    }

    fn put(&mut self, text: &str) {
        self.out.push_str(text);
        self.out.push('\n');
    }
}

/// Stroke and fill as attributes.
fn look(stroke: Option<Stroke>, fill: Fill) -> String {
    let mut text = String::new();
    match fill {
        Fill::None | Fill::Over(_) => {}
        Fill::White | Fill::Hatch(_) => {
            text.push_str(&format!(r#" fill="{}" fill-rule="evenodd""#, Ink::White.colour()))
        }
        Fill::Solid(ink) => text.push_str(&format!(r#" fill="{}" fill-rule="evenodd""#, ink.colour())),
    }
    let Some(stroke) = stroke else { return text };
    let (ink, width) = (stroke.ink.colour(), number(stroke.weight.mm()));
    text.push_str(&format!(r#" stroke="{ink}" stroke-width="{width}""#));
    let dashes: Vec<String> = stroke.dash.pattern().iter().map(|length| number(*length)).collect();
    if !dashes.is_empty() {
        text.push_str(&format!(r#" stroke-dasharray="{}""#, dashes.join(" ")));
    }
    text
}

/// Path data through points; `end` closes it or not.
fn path(points: &[Point], end: &str) -> String {
    let mut shape = String::new();
    for (index, point) in points.iter().enumerate() {
        let command = if index == 0 { 'M' } else { 'L' };
        // Writing to a string cannot fail.
        let _ = write!(shape, "{command}{} {}", number(point.x), number(point.y));
    }
    if !shape.is_empty() {
        shape.push_str(end);
    }
    shape
}

/// Path data of part of a circle; more than a turn is drawn as just short of one.
fn arc(centre: Point, radius: f64, from: f64, sweep: f64) -> String {
    let sweep = sweep.clamp(-359.9, 359.9);
    let place = |degrees: f64| at(centre.x + radius, centre.y).turned(centre, degrees);
    let (start, end) = (place(from), place(from + sweep));
    let (large, way) = (u8::from(sweep.abs() > 180.0), u8::from(sweep > 0.0));
    let (r, sx, sy) = (number(radius), number(start.x), number(start.y));
    format!("M{sx} {sy}A{r} {r} 0 {large} {way} {} {}", number(end.x), number(end.y))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn numbers_are_short_and_never_minus_nothing() {
        let cases = [(1.0, "1"), (-0.0, "0"), (-0.0004, "0"), (1.23456, "1.235"), (0.5, "0.5"), (f64::NAN, "0")];
        for (value, text) in cases {
            assert_eq!(number(value), text);
        }
        assert_eq!(number(1200.0), "1200");
    }

    #[test]
    fn names_become_ids_and_stay_apart() {
        assert_eq!(ident("North wall – W1"), "north-wall-w1");
        assert_eq!(ident("\"><script>"), "script");
        assert_eq!(ident("14"), "x14");
        let page = Page { id: "s", width_mm: 10.0, height_mm: 10.0, title: "t", description: "d" };
        let twice = [Item::named("a", "w", "w", vec![]), Item::named("a", "W", "w", vec![])];
        let svg = write(&page, &twice);
        assert!(svg.contains(r#"id="s-w""#) && svg.contains(r#"id="s-w-2""#), "{svg}");
    }

    fn unescape(text: &str) -> String {
        let pairs = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&#39;", "'"), ("&#9;", "\t"), ("&#10;", "\n")];
        let text = pairs.iter().fold(text.to_owned(), |text, (safe, raw)| text.replace(safe, raw));
        text.replace("&#13;", "\r").replace("&amp;", "&")
    }

    proptest! {
        #[test]
        fn escaped_text_is_inert_and_comes_back(text in any::<String>()) {
            let safe = escape(&text);
            prop_assert!(!safe.contains(['<', '>', '"', '\'', '\n', '\r', '\t', '\0']));
            prop_assert_eq!(safe.matches('&').count(), safe.matches(';').count() - text.matches(';').count());
            let allowed = |c: char| if c < ' ' && !"\t\n\r".contains(c) || "\u{fffe}\u{ffff}".contains(c) { '\u{fffd}' } else { c };
            prop_assert_eq!(unescape(&safe), text.chars().map(allowed).collect::<String>());
        }

        #[test]
        fn ids_hold_letters_digits_and_hyphens_only(text in any::<String>()) {
            let id = ident(&text);
            prop_assert!(id.starts_with(|c: char| c.is_ascii_lowercase()));
            prop_assert!(id.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'));
        }

        #[test]
        fn any_number_reads_back_close(value in -1e6..1e6f64) {
            let text = number(value);
            prop_assert!((text.parse::<f64>().unwrap() - value).abs() <= 0.000_51, "{}", text);
            prop_assert!(!text.ends_with('.') && text != "-0");
        }
    }
}
