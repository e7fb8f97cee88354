//! One line of the take-off, and the sums of lines of one thing.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::model::{Model, Product, ProductId, Stuff};
use crate::units::{Area, Length};

/// A quantity in its own measure; exact where it comes from geometry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    /// Of surface.
    Area(Area),
    /// Of something long.
    Length(Length),
    /// Of pieces.
    Count(u64),
}

impl Amount {
    /// In m², m or pieces.
    pub fn si(self) -> f64 {
        match self {
            Amount::Area(area) => area.as_m2(),
            Amount::Length(length) => length.as_m(),
            Amount::Count(count) => count as f64,
        }
    }

    /// In ft², ft or pieces.
    pub fn imperial(self) -> f64 {
        match self {
            Amount::Area(area) => area.as_m2() / (0.3048 * 0.3048),
            Amount::Length(length) => length.as_m() / 0.3048,
            Amount::Count(count) => count as f64,
        }
    }

    /// `m2`, `m`, `pieces`.
    pub fn unit(self) -> &'static str {
        match self {
            Amount::Area(_) => "m2",
            Amount::Length(_) => "m",
            Amount::Count(_) => "pieces",
        }
    }

    /// `ft2`, `ft`, `pieces`.
    pub fn imperial_unit(self) -> &'static str {
        match self {
            Amount::Area(_) => "ft2",
            Amount::Length(_) => "ft",
            Amount::Count(_) => "pieces",
        }
    }

    /// More by a share; pieces are whole, upwards.
    pub fn with(self, waste: f64) -> Amount {
        let more = 1.0 + waste.max(0.0);
        match self {
            Amount::Area(area) => Amount::Area(Area((area.0 as f64 * more).round() as i128)),
            Amount::Length(length) => Amount::Length(Length::snap_mm(length.as_mm() * more)),
            Amount::Count(count) => Amount::Count((count as f64 * more - 1e-9).ceil() as u64),
        }
    }

    /// Whether it counts pieces.
    pub fn is_count(self) -> bool {
        matches!(self, Amount::Count(_))
    }

    fn plus(self, other: Amount) -> Option<Amount> {
        match (self, other) {
            (Amount::Area(one), Amount::Area(two)) => Some(Amount::Area(one + two)),
            (Amount::Length(one), Amount::Length(two)) => Some(Amount::Length(one + two)),
            (Amount::Count(one), Amount::Count(two)) => Some(Amount::Count(one.saturating_add(two))),
            _ => None,
        }
    }
}

/// What sort of thing a row is, in the order of a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// A measure of the wall, no goods.
    Measure,
    /// Cladding.
    Boards,
    /// Strips of the gap, blocking.
    Furring,
    /// Profiles and trims.
    Trims,
    /// Sheets and strips of membrane.
    Membranes,
    /// Tapes.
    Tapes,
    /// Screens.
    Screens,
    /// Folded metal.
    Flashings,
    /// Screws and nails.
    Fasteners,
    /// Insulation.
    Insulation,
    /// Sheathing and other sheets.
    Sheets,
    /// Collars, sleeves, gaskets, sealants.
    Seals,
    /// Anything else a detail names.
    Other,
    /// Lengths for a list to cut that comes from no wall.
    Lists,
}

impl Group {
    /// As printed.
    pub fn word(self) -> &'static str {
        match self {
            Group::Measure => "measure",
            Group::Boards => "boards",
            Group::Furring => "furring",
            Group::Trims => "trims",
            Group::Membranes => "membranes",
            Group::Tapes => "tapes",
            Group::Screens => "screens",
            Group::Flashings => "flashings",
            Group::Fasteners => "fasteners",
            Group::Insulation => "insulation",
            Group::Sheets => "sheets",
            Group::Seals => "seals",
            Group::Other => "other",
            Group::Lists => "list to cut",
        }
    }

    /// The group of a product's kind.
    pub fn of(kind: &str) -> Group {
        match kind {
            "board" | "panel" | "shingle" => Group::Boards,
            "furring" => Group::Furring,
            "membrane" | "liquid" | "mat" => Group::Membranes,
            "tape" => Group::Tapes,
            "screen" => Group::Screens,
            "channel" | "corner" | "trim" => Group::Trims,
            "flashing" => Group::Flashings,
            "fastener" => Group::Fasteners,
            "sheet" => Group::Sheets,
            "insulation" => Group::Insulation,
            "sleeve" | "collar" | "sealant" | "mortar" | "hood" | "box" | "bib" => Group::Seals,
            _ => Group::Other,
        }
    }
}

/// One line of the take-off.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What sort of thing.
    pub group: Group,
    /// What it is there: `cladding`, `head flap`.
    pub what: String,
    /// The product or material, as declared; empty for measures.
    pub item: String,
    /// The face.
    pub face: String,
    /// The area, stretch of edge, opening or hole: `north.kitchen.head`.
    pub place: String,
    /// As enumerated; `None` where a fact is missing.
    pub net: Option<Amount>,
    /// With laps, folds and ends, where they add to it.
    pub laid: Option<Amount>,
    /// Usual waste, 0…1; `None` where the product does not say.
    pub waste: Option<f64>,
    /// Pieces of stock that this is about, by measure alone, with the stock they are of.
    pub stock: Option<(u64, String)>,
    /// How it was counted, and whose rule that is.
    pub basis: String,
    /// More to know: girth, width.
    pub note: String,
    /// The missing fact.
    pub missing: Option<String>,
    /// Which order it goes on; empty if not said.
    pub supplier: Arc<str>,
}

impl Row {
    /// A row without product.
    pub(super) fn new(group: Group, what: &str, face: &str, place: &str, net: Amount, basis: &str) -> Row {
        Row {
            group,
            what: what.to_owned(),
            item: String::new(),
            face: face.to_owned(),
            place: place.to_owned(),
            net: Some(net),
            laid: None,
            waste: None,
            stock: None,
            basis: basis.to_owned(),
            note: String::new(),
            missing: None,
            supplier: Arc::from(""),
        }
    }

    /// Of a product, with its waste and supplier.
    pub(super) fn of(mut self, product: Option<&Product>) -> Row {
        if let Some(product) = product {
            self.item = qualified(product);
            // A share of one collar is no collar: only what comes by the box has waste by the piece.
            let by_share = self.group == Group::Fasteners || !self.net.is_some_and(Amount::is_count);
            self.waste = product.waste.as_ref().map(|waste| waste.value).filter(|_| by_share);
            self.supplier = product.supplier.clone().unwrap_or_else(|| Arc::from(""));
        }
        self
    }

    /// Of a product by id.
    pub(super) fn of_id(self, model: &Model, id: ProductId) -> Row {
        self.of(model.product(id))
    }

    /// Of a material or a product.
    pub(super) fn of_stuff(self, model: &Model, stuff: &Stuff) -> Row {
        match model.product_of(stuff) {
            Some(product) => self.of(Some(product)),
            None => Row { item: stuff.name.clone(), ..self },
        }
    }

    /// What cannot be counted, and why.
    pub(super) fn lacks(self, fact: &str) -> Row {
        Row { net: None, laid: None, missing: Some(fact.to_owned()), ..self }
    }

    /// With a note.
    pub(super) fn note(self, note: impl Into<String>) -> Row {
        Row { note: note.into(), ..self }
    }

    /// What is to be bought, by measure: laid or net, with the waste that was said.
    pub fn wanted(&self) -> Option<Amount> {
        Some(self.laid.or(self.net)?.with(self.waste.unwrap_or(0.0)))
    }
}

/// Rows of one thing at one place as one row, in the order of the first of each: both jambs of a window, both halves of
/// an edge that two areas share.
pub(super) fn merge(rows: Vec<Row>) -> Vec<Row> {
    let mut merged: Vec<(Row, u64)> = Vec::new();
    let mut seen: BTreeMap<(Group, String, String, String), usize> = BTreeMap::new();
    for row in rows {
        let key = (row.group, row.place.clone(), row.what.clone(), row.item.clone());
        let known = seen.get(&key).and_then(|index| merged.get_mut(*index));
        let sum = |one: Option<Amount>, two: Option<Amount>| one.zip(two).and_then(|(one, two)| one.plus(two));
        match known {
            Some((first, count)) if sum(first.net, row.net).is_some() => {
                let laid = sum(first.laid.or(first.net), row.laid.or(row.net));
                first.laid = laid.filter(|_| first.laid.is_some() || row.laid.is_some());
                first.net = sum(first.net, row.net);
                *count += 1;
            }
            _ => {
                seen.insert(key, merged.len());
                merged.push((row, 1));
            }
        }
    }
    let told = |(row, count): (Row, u64)| match count {
        1 => row,
        _ => Row { basis: format!("{}; {count} stretches", row.basis), ..row },
    };
    merged.into_iter().map(told).collect()
}

/// A product by its module and name: `boards.larch`.
pub fn qualified(product: &Product) -> String {
    let module = product.module.rsplit(['.', '/']).next().unwrap_or_default();
    if module.is_empty() { product.name.clone() } else { format!("{module}.{}", product.name) }
}

/// Rows of one item in one measure, added up.
#[derive(Clone, Debug, PartialEq)]
pub struct Total {
    /// What sort of thing.
    pub group: Group,
    /// The product or material.
    pub item: String,
    /// Which order it goes on.
    pub supplier: Arc<str>,
    /// As enumerated.
    pub net: Amount,
    /// What is to be bought, by measure, waste added row by row; pieces are rounded up once.
    pub wanted: Amount,
    /// How many rows.
    pub rows: usize,
    /// How many rows of the item could not be counted.
    pub uncounted: usize,
}

pub(super) fn totals(rows: &[Row]) -> Vec<Total> {
    let mut sums: BTreeMap<(Group, Arc<str>, String, &'static str), Total> = BTreeMap::new();
    let mut lacking: BTreeMap<&str, usize> = BTreeMap::new();
    for row in rows.iter().filter(|row| row.group != Group::Measure && !row.item.is_empty()) {
        let (Some(net), Some(laid)) = (row.net, row.laid.or(row.net)) else {
            *lacking.entry(&row.item).or_default() += 1;
            continue;
        };
        // Pieces are rounded once, when all are known; what is measured has its waste already.
        let wanted = if matches!(laid, Amount::Count(_)) { laid } else { row.wanted().unwrap_or(laid) };
        let key = (row.group, Arc::clone(&row.supplier), row.item.clone(), net.unit());
        let (group, item, supplier) = (row.group, row.item.clone(), Arc::clone(&row.supplier));
        let entry = sums.entry(key).or_insert_with(|| Total {
            group,
            item,
            supplier,
            net: zero(net),
            wanted: zero(wanted),
            rows: 0,
            uncounted: 0,
        });
        entry.net = entry.net.plus(net).unwrap_or(entry.net);
        entry.wanted = entry.wanted.plus(wanted).unwrap_or(entry.wanted);
        entry.rows += 1;
    }
    let mut totals: Vec<Total> = sums.into_values().collect();
    for total in &mut totals {
        if let Amount::Count(_) = total.wanted {
            let own = rows.iter().filter(|row| row.item == total.item && row.group == total.group);
            let waste = own.filter(|row| row.net.is_some_and(Amount::is_count)).find_map(|row| row.waste);
            total.wanted = total.wanted.with(waste.unwrap_or(0.0));
        }
        total.uncounted = lacking.get(total.item.as_str()).copied().unwrap_or(0);
    }
    totals
}

fn zero(like: Amount) -> Amount {
    match like {
        Amount::Area(_) => Amount::Area(Area(0)),
        Amount::Length(_) => Amount::Length(Length::ZERO),
        Amount::Count(_) => Amount::Count(0),
    }
}
