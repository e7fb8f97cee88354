//! How much water a material holds at a relative humidity of the air in its pores.

/// Water beyond free saturation, kg/m³ for each unit of relative humidity beyond 1: what the pores do not take lies beside
/// them, and 100 kg/m³ of it lift the humidity by 0.01 %.
const BEYOND: f64 = 1e6;

/// Water of a material by relative humidity (0…1) at equilibrium, kg/m³. It rises everywhere; beyond 1 it holds whatever
/// comes. No hysteresis, no temperature in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Isotherm(Form);

#[derive(Clone, Debug, PartialEq)]
enum Form {
    /// Straight from point to point, from nothing at 0 to free saturation at 1.
    Points(Vec<(f64, f64)>),
    /// w_f (b − 1) φ / (b − φ).
    Bend { bend: f64, saturated: f64 },
}

impl Isotherm {
    /// Straight from nothing at 0 to `saturated` kg/m³ at 1. `None` unless that is more than nothing.
    pub fn straight(saturated: f64) -> Option<Self> {
        Self::points(&[(1.0, saturated)])
    }

    /// Straight from point to point (relative humidity, kg/m³); the first stands above 0, the last at 1 and is free saturation.
    /// `None` unless both rise from each point to the next.
    pub fn points(points: &[(f64, f64)]) -> Option<Self> {
        let mut all = vec![(0.0, 0.0)];
        all.extend_from_slice(points);
        let rises = all.windows(2).all(|two| two[0].0 < two[1].0 && two[0].1 < two[1].1);
        let ends = all.last().is_some_and(|last| last.0 == 1.0 && last.1.is_finite());
        (rises && ends).then_some(Self(Form::Points(all)))
    }

    /// The two-parameter form w_f (b − 1) φ / (b − φ), a hyperbola through nothing at 0, `at_80` kg/m³ at 0.8 and free
    /// saturation `saturated` kg/m³ at 1 (a usual form for building materials, from memory). `None` unless
    /// 0 < `at_80` < 0.8 × `saturated`, so that it bends upward.
    pub fn bent(at_80: f64, saturated: f64) -> Option<Self> {
        let bends = at_80 > 0.0 && at_80 < 0.8 * saturated && saturated.is_finite();
        let bend = 0.8 * (saturated - at_80) / (0.8 * saturated - at_80);
        (bends && bend > 1.0 && bend.is_finite()).then_some(Self(Form::Bend { bend, saturated }))
    }

    /// Water at free saturation, kg/m³.
    pub fn saturated(&self) -> f64 {
        match &self.0 {
            Form::Points(points) => points.last().map_or(0.0, |last| last.1),
            Form::Bend { saturated, .. } => *saturated,
        }
    }

    /// Water at a relative humidity, kg/m³, and its slope there, kg/m³ for each unit of relative humidity.
    pub fn water(&self, humidity: f64) -> (f64, f64) {
        if humidity >= 1.0 {
            let slope = BEYOND.max(self.below(1.0).1);
            return (self.saturated() + slope * (humidity - 1.0), slope);
        }
        self.below(humidity)
    }

    fn below(&self, humidity: f64) -> (f64, f64) {
        match &self.0 {
            Form::Bend { bend, saturated } => {
                let room = bend - humidity;
                let scale = saturated * (bend - 1.0);
                (scale * humidity / room, scale * bend / (room * room))
            }
            Form::Points(points) => {
                let after = points.partition_point(|point| point.0 <= humidity).clamp(1, points.len() - 1);
                let ((x, w), (next, above)) = (points[after - 1], points[after]);
                let slope = (above - w) / (next - x);
                (w + slope * (humidity - x), slope)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_goes_through_what_it_was_given() {
        let wood = Isotherm::bent(72.0, 550.0).unwrap();
        assert!((wood.water(0.8).0 - 72.0).abs() < 1e-12);
        assert!((wood.water(1.0).0 - 550.0).abs() < 1e-9);
        assert_eq!(wood.water(0.0).0, 0.0);
        let table = Isotherm::points(&[(0.5, 30.0), (0.8, 60.0), (1.0, 400.0)]).unwrap();
        assert_eq!(table.water(0.25), (15.0, 60.0));
        assert!((table.water(0.65).0 - 45.0).abs() < 1e-12);
        assert_eq!(table.saturated(), 400.0);
    }

    #[test]
    fn its_slope_is_that_of_its_water() {
        for isotherm in [Isotherm::bent(8.0, 400.0).unwrap(), Isotherm::points(&[(0.6, 5.0), (1.0, 9.0)]).unwrap()] {
            for at in [0.1, 0.3, 0.55, 0.79, 0.95] {
                let (low, high) = (isotherm.water(at - 1e-6).0, isotherm.water(at + 1e-6).0);
                let slope = isotherm.water(at).1;
                assert!(((high - low) / 2e-6 - slope).abs() < 1e-4 * slope, "{at}");
            }
        }
    }

    #[test]
    fn what_cannot_be_is_refused() {
        assert_eq!(Isotherm::bent(500.0, 550.0), None);
        assert_eq!(Isotherm::bent(0.0, 550.0), None);
        assert_eq!(Isotherm::bent(f64::NAN, 550.0), None);
        assert_eq!(Isotherm::straight(0.0), None);
        assert_eq!(Isotherm::points(&[(0.5, 30.0), (1.0, 20.0)]), None);
        assert_eq!(Isotherm::points(&[(0.5, 30.0), (0.9, 60.0)]), None);
    }
}
