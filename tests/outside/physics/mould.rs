//! Sums of the block `mould`: mould growth.

use wythe::physics::mould::{self, Class, Surface};

use super::super::sums::{Answer, Inputs, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.number(key);
    let class = match given.0.get("class").and_then(serde_json::Value::as_str) {
        Some("very sensitive") => Class::Very,
        Some("sensitive") => Class::Sensitive,
        Some("medium") => Class::Medium,
        _ => Class::Resistant,
    };
    let (celsius, humidity) = (of("temperature"), of("humidity"));
    let grown = |days: f64| Surface::clean(class, 1.0).after(days * 24.0, celsius, humidity).index;
    Some(numbers(match sum {
        "critical_humidity" => vec![mould::critical_humidity(class, celsius).unwrap() * 100.0],
        "most" => vec![mould::most(class, celsius, humidity)],
        "growth" => vec![mould::growth(class, celsius, humidity, 0.0)],
        "index" => [30.0, 60.0, 90.0, 180.0, 365.0].map(grown).to_vec(),
        "reaches_one" => {
            let hour = (0..24 * 400).find(|hour| grown(f64::from(*hour) / 24.0) >= 1.0).unwrap();
            vec![f64::from(hour) / 24.0]
        }
        "dry" => {
            let wet = Surface { index: of("index"), ..Surface::clean(class, of("decline")) };
            vec![wet.after(of("days") * 24.0, celsius, humidity).index]
        }
        _ => return None,
    }))
}
