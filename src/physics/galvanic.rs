//! Unlike metals in contact while wet: which pairs may touch, which need a separator, which never meet.

/// Metal families of the pair table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Metal {
    /// Copper.
    Copper,
    /// Brass and bronze.
    Brass,
    /// Stainless steel.
    Stainless,
    /// Lead.
    Lead,
    /// Bare carbon steel and cast iron.
    Steel,
    /// Aluminium.
    Aluminium,
    /// Hot-dip galvanised steel.
    Galvanised,
    /// Galvanised steel with paint; its cut edges behave as galvanised.
    CoatedSteel,
    /// Zinc and zinc plating.
    Zinc,
}

impl Metal {
    /// From the schema's word.
    pub fn from_word(word: &str) -> Option<Self> {
        Some(match word {
            "aluminium" => Self::Aluminium,
            "stainless" => Self::Stainless,
            "galvanised" => Self::Galvanised,
            "zinc" => Self::Zinc,
            "copper" => Self::Copper,
            "brass" => Self::Brass,
            "steel" => Self::Steel,
            "lead" => Self::Lead,
            "coated_steel" => Self::CoatedSteel,
            _ => return None,
        })
    }

    /// Anodic index in volts, gold at 0. Copper, brass, stainless (18 % chromium) and lead as printed on a public page;
    /// steel, aluminium, galvanised and zinc from memory. Public tables differ by a tenth of a volt: this one is pinned.
    pub fn index(self) -> f64 {
        match self {
            Self::Copper => 0.35,
            Self::Brass => 0.40,
            Self::Stainless => 0.50,
            Self::Lead => 0.70,
            Self::Steel => 0.85,
            Self::Aluminium => 0.90,
            Self::Galvanised | Self::CoatedSteel => 1.20,
            Self::Zinc => 1.25,
        }
    }

    /// Galvanised and coated steel and zinc count as one in the pair table.
    fn is_zinc(self) -> bool {
        matches!(self, Self::Galvanised | Self::CoatedSteel | Self::Zinc)
    }

    /// Copper and brass count as one.
    fn is_copper(self) -> bool {
        matches!(self, Self::Copper | Self::Brass)
    }
}

/// How wet the contact gets, and with what.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exposure {
    /// Outdoors behind the cladding.
    Sheltered,
    /// Rained on.
    Rain,
    /// Rained on, near the sea or a salted road.
    Salt,
}

/// How the wetted areas stand to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extent {
    /// The first metal is a fastener or another small piece in the second.
    FirstSmall,
    /// Neither is much smaller.
    Alike,
}

/// What may be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Contact {
    /// They may touch.
    Fine,
    /// Something must keep them apart.
    Isolate,
    /// Separation does not last: change one.
    Never,
}

/// Difference of anodic index, V.
pub fn difference(one: Metal, other: Metal) -> f64 {
    (one.index() - other.index()).abs()
}

/// What the pair table says of two metals that touch. The index alone would refuse stainless screws in aluminium and
/// aluminium beside galvanised steel, which crews inland use every day; so pairs are listed, by exposure and by which one
/// is small (MIL-STD-1250A as read on a public page: make the smaller part the cathode). Made here from trade practice; no
/// standard holds this table. It is valid for building skins in temperate and cold climates, not for water pipes or the sea.
pub fn contact(first: Metal, second: Metal, extent: Extent, exposure: Exposure) -> Contact {
    let first_nobler = first.index() <= second.index();
    let (noble, base) = if first_nobler { (first, second) } else { (second, first) };
    if noble == base || (noble.is_zinc() && base.is_zinc()) || (noble.is_copper() && base.is_copper()) {
        return Contact::Fine;
    }
    let size = match (extent, first_nobler) {
        (Extent::Alike, _) => Size::Alike,
        (Extent::FirstSmall, true) => Size::SmallNoble,
        (Extent::FirstSmall, false) => Size::SmallBase,
    };
    let [sheltered, rain, salt] = row(noble, base, size);
    match exposure {
        Exposure::Sheltered => sheltered,
        Exposure::Rain => rain,
        Exposure::Salt => salt,
    }
}

/// Which of the two is small: a small base metal is eaten fast.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Size {
    SmallNoble,
    Alike,
    SmallBase,
}

/// Sheltered, rain, salt.
fn row(noble: Metal, base: Metal, size: Size) -> [Contact; 3] {
    use Contact::{Fine, Isolate, Never};
    match (noble, base, size) {
        // Copper over aluminium or zinc: even its run-off attacks.
        (Metal::Copper | Metal::Brass, Metal::Aluminium, _) => [Isolate, Never, Never],
        (Metal::Copper | Metal::Brass, _, _) if base.is_zinc() => [Isolate, Never, Never],
        (Metal::Copper | Metal::Brass, Metal::Stainless | Metal::Lead, _) => [Fine, Fine, Fine],
        (Metal::Copper | Metal::Brass, Metal::Steel, Size::SmallBase) => [Never, Never, Never],
        (Metal::Copper | Metal::Brass, Metal::Steel, _) => [Isolate, Isolate, Never],
        // Stainless: as a screw in aluminium or zinc it is daily work inland; the reverse vanishes.
        (Metal::Stainless, Metal::Aluminium, Size::SmallNoble) => [Fine, Fine, Isolate],
        (Metal::Stainless, Metal::Aluminium, Size::Alike) => [Fine, Isolate, Isolate],
        (Metal::Stainless, Metal::Aluminium, Size::SmallBase) => [Isolate, Never, Never],
        (Metal::Stainless, _, Size::SmallNoble) if base.is_zinc() => [Fine, Fine, Isolate],
        (Metal::Stainless, _, Size::Alike) if base.is_zinc() => [Fine, Isolate, Isolate],
        (Metal::Stainless, _, Size::SmallBase) if base.is_zinc() => [Isolate, Never, Never],
        (Metal::Stainless, Metal::Steel, Size::SmallNoble) => [Fine, Fine, Isolate],
        (Metal::Stainless, Metal::Steel, Size::Alike) => [Fine, Isolate, Isolate],
        (Metal::Stainless, Metal::Steel, Size::SmallBase) => [Isolate, Never, Never],
        (Metal::Stainless, Metal::Lead, _) => [Fine, Fine, Fine],
        // Lead.
        (Metal::Lead, Metal::Aluminium, _) => [Isolate, Isolate, Never],
        (Metal::Lead, _, _) => [Fine, Isolate, Isolate],
        // Bare steel, and aluminium beside zinc.
        (Metal::Steel, Metal::Aluminium, Size::SmallBase) => [Isolate, Isolate, Never],
        (Metal::Steel, Metal::Aluminium, _) => [Fine, Isolate, Isolate],
        (Metal::Steel, _, Size::SmallBase) => [Fine, Isolate, Never],
        (Metal::Steel, _, _) => [Fine, Fine, Isolate],
        (Metal::Aluminium, _, Size::SmallBase) => [Fine, Isolate, Never],
        (Metal::Aluminium, _, _) => [Fine, Fine, Isolate],
        // No other order of nobility is left.
        (_, _, _) => [Fine, Isolate, Isolate],
    }
}

/// The fall-back where a metal is in no family of the table: separate what differs by more than the limit of its exposure.
pub fn by_index(volts: f64, limit: f64) -> Contact {
    if volts.abs() > limit { Contact::Isolate } else { Contact::Fine }
}

/// Whether water that ran over the first attacks the second without contact: copper salts plate out on aluminium and zinc.
pub fn runoff_attacks(above: Metal, below: Metal) -> bool {
    above.is_copper() && (below == Metal::Aluminium || below.is_zinc())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stainless_screws_in_aluminium_are_daily_work_inland() {
        let screw = |exposure| contact(Metal::Stainless, Metal::Aluminium, Extent::FirstSmall, exposure);
        assert_eq!(screw(Exposure::Rain), Contact::Fine);
        assert_eq!(screw(Exposure::Salt), Contact::Isolate);
        let reverse = contact(Metal::Aluminium, Metal::Stainless, Extent::FirstSmall, Exposure::Rain);
        assert_eq!(reverse, Contact::Never);
    }

    #[test]
    fn a_zinc_screw_vanishes_in_copper_and_in_stainless() {
        for sheet in [Metal::Copper, Metal::Stainless] {
            assert_eq!(contact(Metal::Zinc, sheet, Extent::FirstSmall, Exposure::Rain), Contact::Never, "{sheet:?}");
        }
    }

    #[test]
    fn order_of_the_two_does_not_matter_for_like_areas() {
        let all = [
            Metal::Copper,
            Metal::Brass,
            Metal::Stainless,
            Metal::Lead,
            Metal::Steel,
            Metal::Aluminium,
            Metal::Galvanised,
            Metal::CoatedSteel,
            Metal::Zinc,
        ];
        for one in all {
            assert_eq!(contact(one, one, Extent::Alike, Exposure::Salt), Contact::Fine);
            for other in all {
                for exposure in [Exposure::Sheltered, Exposure::Rain, Exposure::Salt] {
                    let there = contact(one, other, Extent::Alike, exposure);
                    assert_eq!(there, contact(other, one, Extent::Alike, exposure), "{one:?} {other:?}");
                }
                // Wetter is never kinder.
                for extent in [Extent::Alike, Extent::FirstSmall] {
                    let [dry, rain, salt] = [Exposure::Sheltered, Exposure::Rain, Exposure::Salt]
                        .map(|exposure| contact(one, other, extent, exposure));
                    assert!(dry <= rain && rain <= salt, "{one:?} {other:?}");
                }
            }
        }
    }

    #[test]
    fn copper_runs_off_onto_aluminium_and_zinc_only() {
        assert!(runoff_attacks(Metal::Copper, Metal::Aluminium));
        assert!(runoff_attacks(Metal::Brass, Metal::CoatedSteel));
        assert!(!runoff_attacks(Metal::Aluminium, Metal::Copper));
        assert!(!runoff_attacks(Metal::Copper, Metal::Stainless));
    }
}
