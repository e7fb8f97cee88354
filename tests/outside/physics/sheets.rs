//! Sums of the block `sheets`: permeances of sheets of the library.

use wythe::session::{Settings, check};
use wythe::source::MapWorld;

use super::super::sums::{Answer, Inputs, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let text = format!(
        "wythe 1\n\nassembly wall {{\n    layer sheet std.{}\n}}\n\nface north {{\n    measured to cladding\n    base 0 from 0 to 3000mm\n    \
         top 2400mm\n    left\n    right\n    area all wall\n}}\n",
        given.text("product")
    );
    let world = MapWorld::new().with("house.wythe", &text);
    let model = check(&world, &["house.wythe".to_owned()], &Settings::default()).model;
    let product = model.products.first()?;
    Some(match sum {
        // ng/(Pa·s·m²), dry cup and wet cup.
        "permeance" => {
            let range = product.permeance.as_ref()?.value;
            numbers([range.low * 1e12, range.high * 1e12])
        }
        // Metres of still air, least and most.
        "still_air" => {
            let (least, most) = product.vapour_thickness.as_ref()?.value;
            numbers([least, most])
        }
        _ => return None,
    })
}
