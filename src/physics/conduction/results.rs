//! Coupling, linear transmittance and temperature factor, from a flow and temperatures.

/// A plane part beside a detail, as the sum over the building counts it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flank {
    /// Its transmittance, W/(m²·K).
    pub transmittance: f64,
    /// Its length in the section, m.
    pub length: f64,
}

/// What a section with two temperatures passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coupling {
    /// Thermal coupling of the whole, L2D, W/(m·K).
    pub whole: f64,
    /// What the flanks would pass alone, W/(m·K).
    pub flanks: f64,
    /// Linear transmittance ψ: the rest, W/(m·K).
    pub psi: f64,
}

/// Coupling and ψ of a section: L2D = Φ/(θi − θe) and ψ = L2D − Σ U·l, ISO 10211:2017 (clause from memory: 10.4).
/// Nothing where the temperatures are alike.
#[must_use]
pub fn coupling(flow: f64, inside: f64, outside: f64, flanks: &[Flank]) -> Option<Coupling> {
    let difference = inside - outside;
    if difference == 0.0 || !difference.is_finite() {
        return None;
    }
    let whole = flow / difference;
    let flanks = flanks.iter().map(|flank| flank.transmittance * flank.length).sum();
    Some(Coupling { whole, flanks, psi: whole - flanks })
}

/// Temperature factor of a surface, fRsi = (θsi − θe)/(θi − θe), ISO 13788:2012. Nothing where the temperatures are alike.
#[must_use]
pub fn temperature_factor(surface: f64, inside: f64, outside: f64) -> Option<f64> {
    let difference = inside - outside;
    (difference != 0.0 && difference.is_finite()).then(|| (surface - outside) / difference)
}
