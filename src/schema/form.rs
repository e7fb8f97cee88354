//! The notation for what follows a keyword: `<label:kind>` is a slot, a bare word stands for itself, `[ … ]` may be left
//! out, `( … | … )` is a choice of kinds inside a slot. Optional groups that begin with a word may come in any order.

/// What a statement takes after its keyword.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Form {
    /// In order.
    pub elements: Vec<Element>,
}

/// One piece of a form.
#[derive(Clone, Debug, PartialEq)]
pub enum Element {
    /// A word that stands for itself, such as `at`.
    Word(&'static str),
    /// A value with a label.
    Slot(&'static str, SlotKind),
    /// May be left out as a whole.
    Optional(Vec<Element>),
}

/// The kinds of value a slot takes.
#[derive(Clone, Debug, PartialEq)]
pub enum SlotKind {
    /// A new name; in a declaration it may carry parameters.
    New,
    /// One of these words.
    Choice(Vec<&'static str>),
    /// One or more of these words, joined by `and`.
    Choices(Vec<&'static str>),
    /// A declared thing of one of these kinds.
    Reference(Vec<&'static str>),
    /// One or more declared things, joined by `and`.
    References(Vec<&'static str>),
    /// A dotted name that is looked up later (a place on a face, a rule, a module).
    Path,
    /// Dotted names joined by `and`.
    Paths,
    /// Names in brackets: `(a, b)`.
    Names,
    /// An exact length.
    Length,
    /// One or more lengths joined by `and`.
    Lengths,
    /// Lengths in brackets.
    LengthTuple,
    /// A length or a range of lengths.
    Range,
    /// `a x b`, two or more lengths; `Size` also takes a single length.
    Size,
    /// `(x, y)`.
    Point,
    /// Points in brackets.
    Points,
    /// A percentage, a pitch, or an angle, kept as rise over run.
    Slope,
    /// A bare number or a percentage.
    Number,
    /// One or more numbers in brackets.
    NumberTuple,
    /// A whole number.
    Integer,
    /// A physical quantity of this named dimension, or a range of them.
    Quantity(&'static str),
    /// Quantities of one dimension in brackets.
    QuantityTuple(&'static str),
    /// `"text"`.
    Text,
    /// A date.
    Date,
    /// `left`, `right`, `start`, `centre` or a length along the edge.
    Where,
    /// A point or `start`.
    PointOrStart,
    /// Anything; the reader of the statement judges.
    Any,
}

impl Form {
    /// Reads the notation. The error names the piece that could not be read.
    pub fn parse(text: &'static str) -> Result<Form, String> {
        let mut rest = text;
        let elements = elements(&mut rest, false)?;
        Ok(Form { elements })
    }

    /// Every slot, optional ones included.
    pub fn slots(&self) -> Vec<(&'static str, &SlotKind)> {
        fn walk<'a>(elements: &'a [Element], into: &mut Vec<(&'static str, &'a SlotKind)>) {
            for element in elements {
                match element {
                    Element::Word(_) => {}
                    Element::Slot(label, kind) => into.push((label, kind)),
                    Element::Optional(inner) => walk(inner, into),
                }
            }
        }
        let mut slots = Vec::new();
        walk(&self.elements, &mut slots);
        slots
    }
}

fn elements(rest: &mut &'static str, inside: bool) -> Result<Vec<Element>, String> {
    let mut found = Vec::new();
    loop {
        *rest = rest.trim_start();
        if rest.is_empty() {
            return if inside { Err("`[` without `]`".into()) } else { Ok(found) };
        }
        if let Some(after) = rest.strip_prefix('[') {
            *rest = after;
            found.push(Element::Optional(elements(rest, true)?));
        } else if let Some(after) = rest.strip_prefix(']') {
            *rest = after;
            return if inside { Ok(found) } else { Err("`]` without `[`".into()) };
        } else if let Some(after) = rest.strip_prefix('<') {
            let (slot, after) = after.split_once('>').ok_or("`<` without `>`")?;
            let (label, kind) = slot.split_once(':').ok_or_else(|| format!("slot `{slot}` has no kind"))?;
            *rest = after;
            found.push(Element::Slot(label, kind_of(kind)?));
        } else {
            let end = rest.find([' ', ']', '[', '<']).unwrap_or(rest.len());
            let (word, after) = rest.split_at(end);
            *rest = after;
            found.push(Element::Word(word));
        }
    }
}

fn kind_of(text: &'static str) -> Result<SlotKind, String> {
    let (name, inner) = match text.strip_suffix(')').and_then(|text| text.split_once('(')) {
        Some((name, inner)) => (name, inner),
        None => (text, ""),
    };
    let list = || inner.split('|').collect();
    Ok(match name {
        "new" => SlotKind::New,
        "word" => SlotKind::Choice(list()),
        "words" => SlotKind::Choices(list()),
        "ref" => SlotKind::Reference(list()),
        "refs" => SlotKind::References(list()),
        "path" => SlotKind::Path,
        "paths" => SlotKind::Paths,
        "names" => SlotKind::Names,
        "length" => SlotKind::Length,
        "lengths" => SlotKind::Lengths,
        "length_tuple" => SlotKind::LengthTuple,
        "range" => SlotKind::Range,
        "size" => SlotKind::Size,
        "point" => SlotKind::Point,
        "points" => SlotKind::Points,
        "slope" => SlotKind::Slope,
        "number" => SlotKind::Number,
        "number_tuple" => SlotKind::NumberTuple,
        "integer" => SlotKind::Integer,
        "quantity" => SlotKind::Quantity(inner),
        "quantity_tuple" => SlotKind::QuantityTuple(inner),
        "text" => SlotKind::Text,
        "date" => SlotKind::Date,
        "where" => SlotKind::Where,
        "point_or_start" => SlotKind::PointOrStart,
        "any" => SlotKind::Any,
        _ => return Err(format!("unknown kind `{text}`")),
    })
}
