//! The order of the demo: boards by the cut plans, spares, and sums that are told honestly.

use super::*;
use crate::quantities::Group;
use crate::session::heron_lane;

#[test]
fn what_is_cut_is_counted_from_the_cut_plans_with_spares() {
    let checked = heron_lane();
    let lines = lines(&checked);
    let plans = checked.cut_plans();
    assert!(plans.products.len() > 4);
    for plan in &plans.products {
        let product = checked.model.product(plan.product).unwrap();
        let item = crate::quantities::qualified(product);
        let own: Vec<&Line> = lines.iter().filter(|line| line.item == item).collect();
        let counted = own.iter().filter(|line| !line.spare && line.stock.is_some());
        let bought: Vec<_> = counted.map(|line| (line.stock.unwrap(), line.amount.si() as u64)).collect();
        assert_eq!(bought, plan.buy, "{item}");
        assert!(own.iter().all(|line| line.uncounted == 0), "{item}");
        let all: u64 = plan.buy.iter().map(|(_, count)| count).sum();
        let spare: u64 = own.iter().filter(|line| line.spare).map(|line| line.amount.si() as u64).sum();
        match product.kind {
            "furring" => assert_eq!(spare, 0),
            _ => assert!(spare >= 1 && spare * 1000 >= all * 20 && spare <= all * 30 / 1000 + 1, "{spare} of {all}"),
        }
    }
}

#[test]
fn nothing_of_the_take_off_is_lost_or_counted_twice() {
    let checked = heron_lane();
    let lines = lines(&checked);
    for total in crate::quantities::totals(&crate::quantities::take_off(&checked.model, &checked.plan)) {
        let own: Vec<&Line> = lines.iter().filter(|line| line.item == total.item && !line.spare).collect();
        assert!(!own.is_empty(), "{} is not ordered", total.item);
        let by_length = own.iter().filter_map(|line| Some(line.stock?.as_m() * line.amount.si())).sum::<f64>();
        let by_measure = own.iter().filter(|line| line.stock.is_none() && line.amount.unit() == "m");
        let ordered = by_length + by_measure.map(|line| line.amount.si()).sum::<f64>();
        // Cladding is measured behind casings too, and cut only to them: it says nothing here.
        let told = total.group != Group::Boards && by_length > 0.0;
        if let (crate::quantities::Amount::Length(net), true) = (total.net, told) {
            // Enough for what was measured less gaps at joints and ends, and not twice as much; one length is always whole.
            assert!(ordered >= net.as_m() * 0.97, "{}: {ordered} for {}", total.item, net.as_m());
            assert!(ordered < net.as_m() * 1.5 + 6.0, "{}: {ordered} for {}", total.item, net.as_m());
        }
    }
}

#[test]
fn lists_to_cut_are_ordered_too() {
    let text = "wythe 1\n\ncutlist angle {\n    stock 3660mm price 18.40\n    kerf 3mm\n    piece 1380mm, count 5\n}\n";
    let world = crate::source::MapWorld::new().with("list.wythe", text);
    let checked = crate::session::check(&world, &["list.wythe".to_owned()], &crate::session::Settings::default());
    let lines = lines(&checked);
    // Two of 1380 and a cut from 3660: three lengths for five.
    assert_eq!((lines.len(), lines[0].amount.si(), lines[0].group), (1, 3.0, Group::Lists));
    assert!((lines[0].cost.unwrap() - 55.2).abs() < 1e-9);
    assert!(text_is_narrow(&super::text(&checked, &lines)));
}

fn text_is_narrow(text: &str) -> bool {
    text.lines().all(|line| line.chars().count() <= 80)
}

#[test]
fn what_has_no_price_is_said() {
    let checked = heron_lane();
    let lines = lines(&checked);
    let without = lines.iter().filter(|line| line.cost.is_none()).count();
    let shown = text(&checked, &lines);
    assert_eq!(shown.matches("  no price").count(), without);
    assert!(without > 0 && without < lines.len());
    assert!(text_is_narrow(&shown), "{shown}");
    let report: serde_json::Value = serde_json::from_str(&json(&checked, &lines)).unwrap();
    assert_eq!(report["lines_without_price"], without);
    assert_eq!(report["lines"].as_array().unwrap().len(), lines.len());
}
