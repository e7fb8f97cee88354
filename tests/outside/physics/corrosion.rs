//! Sums of the block `corrosion`: unlike metals.

use serde_json::Value;
use wythe::physics::galvanic::{self, Exposure, Extent, Metal};

use super::super::sums::{Answer, Inputs, numbers, word};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let metal = |key: &str| Metal::from_word(given.text(key)).unwrap();
    let told = |contact: galvanic::Contact| word(&format!("{contact:?}").to_lowercase());
    Some(match sum {
        "index_difference" => numbers([galvanic::difference(metal("one"), metal("other"))]),
        "contact" => {
            let extent = if given.get("first_small") == true { Extent::FirstSmall } else { Extent::Alike };
            let exposure = match given.text("exposure") {
                "salt" => Exposure::Salt,
                "rain" => Exposure::Rain,
                _ => Exposure::Sheltered,
            };
            told(galvanic::contact(metal("first"), metal("second"), extent, exposure))
        }
        "runoff" => {
            let told = |pair: &Value| {
                let [above, below] = [0, 1].map(|at| Metal::from_word(pair[at].as_str().unwrap()).unwrap());
                Answer::Word(if galvanic::runoff_attacks(above, below) { "yes" } else { "no" }.to_owned())
            };
            given.list("pairs").iter().map(told).collect()
        }
        "by_index" => told(galvanic::by_index(given.number("volts"), given.number("limit"))),
        _ => return None,
    })
}
