//! The order of the demo: boards by the cut plans, spares, and sums that are told honestly.

use super::*;
use crate::quantities::Group;
use crate::session::heron_lane;

#[test]
fn boards_are_counted_from_the_cut_plans_with_spares() {
    let checked = heron_lane();
    let lines = lines(&checked);
    let pieces = crate::layout::pieces::cut(&checked.model, &checked.plan, crate::layout::trims::CUT_FOR);
    for plan in crate::layout::cut_plans::of_pieces(&checked.model, &pieces) {
        let item = crate::quantities::qualified(checked.model.product(plan.product).unwrap());
        let own: Vec<&Line> = lines.iter().filter(|line| line.item == item && line.group == Group::Boards).collect();
        let bought: Vec<_> =
            own.iter().filter(|line| !line.spare).map(|line| (line.stock.unwrap(), line.amount.si() as u64)).collect();
        assert_eq!(bought, plan.buy);
        let all: u64 = plan.buy.iter().map(|(_, count)| count).sum();
        let spare: u64 = own.iter().filter(|line| line.spare).map(|line| line.amount.si() as u64).sum();
        assert!(spare * 1000 >= all * 20 && spare <= all * 30 / 1000 + 1, "{spare} of {all}");
    }
}

#[test]
fn what_has_no_price_is_said() {
    let checked = heron_lane();
    let lines = lines(&checked);
    let without = lines.iter().filter(|line| line.cost.is_none()).count();
    let shown = text(&checked, &lines);
    assert_eq!(shown.matches("no price").count(), without);
    let report: serde_json::Value = serde_json::from_str(&json(&checked, &lines)).unwrap();
    assert_eq!(report["lines_without_price"], without);
    assert_eq!(report["lines"].as_array().unwrap().len(), lines.len());
}
