//! How far the arguments of a statement have come in the form of its row: what may stand next.

use crate::eval::{Value, fits};
use crate::schema::{Element, Form, SlotKind, respell};
use crate::syntax::Item;

/// What the form wants behind some arguments.
#[derive(Clone, Debug, Default)]
pub struct Wanted {
    /// What may stand next, the nearest first: words and slots, never groups.
    pub next: Vec<&'static Element>,
    /// The slot or word the last argument fills.
    pub last: Option<&'static Element>,
    /// Nothing that is needed is missing.
    pub whole: bool,
}

/// Follows a form as far as arguments go. `is_parameter` tells names that stand for a value of any kind.
pub fn wanted(form: &'static Form, items: &[Item], is_parameter: &dyn Fn(&str) -> bool) -> Wanted {
    let mut walk = Walk { items, at: 0, is_parameter, out: Wanted::default() };
    walk.out.whole = walk.sequence(&form.elements);
    walk.out
}

struct Walk<'a> {
    items: &'a [Item],
    at: usize,
    is_parameter: &'a dyn Fn(&str) -> bool,
    out: Wanted,
}

impl Walk<'_> {
    /// Whether everything that is needed was there.
    fn sequence(&mut self, elements: &'static [Element]) -> bool {
        let mut at = 0;
        while let Some(element) = elements.get(at) {
            if matches!(element, Element::Optional(_)) {
                let behind = elements.get(at..).unwrap_or_default();
                let run = behind.iter().take_while(|element| matches!(element, Element::Optional(_))).count();
                if !self.groups(behind.get(..run).unwrap_or_default()) {
                    return false;
                }
                at += run;
                continue;
            }
            if self.items.get(self.at).is_none() {
                self.out.next.push(element);
                return false;
            }
            if !self.take(element) {
                return false;
            }
            at += 1;
        }
        true
    }

    /// Groups that may be left out, in any order.
    fn groups(&mut self, groups: &'static [Element]) -> bool {
        let mut used = vec![false; groups.len()];
        loop {
            if self.items.get(self.at).is_none() {
                let unused = groups.iter().zip(&used).filter(|(_, used)| !**used);
                self.out.next.extend(unused.filter_map(|(group, _)| first(group)));
                return true;
            }
            let begins = |group: &'static Element| first(group).is_some_and(|element| self.stands(element));
            let Some(at) = groups.iter().zip(&used).position(|(group, used)| !used && begins(group)) else {
                return true;
            };
            if let Some(flag) = used.get_mut(at) {
                *flag = true;
            }
            if let Some(Element::Optional(inner)) = groups.get(at)
                && !self.sequence(inner)
            {
                return false;
            }
        }
    }

    fn stands(&self, element: &Element) -> bool {
        let Some(item) = self.items.get(self.at) else { return false };
        match element {
            Element::Word(word) => item.word().is_some_and(|own| &*own.text == *word || respell(&own.text) == *word),
            Element::Slot(_, kind) => {
                let broken = item.word().is_some_and(|word| (self.is_parameter)(&word.text)).then_some(&Value::Broken);
                fits(kind, item, broken)
            }
            Element::Optional(_) => false,
        }
    }

    fn take(&mut self, element: &'static Element) -> bool {
        if !self.stands(element) {
            return false;
        }
        self.at += 1;
        self.out.last = Some(element);
        let lists = matches!(
            element,
            Element::Slot(_, SlotKind::Choices(_) | SlotKind::References(_) | SlotKind::Paths | SlotKind::Lengths)
        );
        while lists && self.items.get(self.at).and_then(Item::word).is_some_and(|word| &*word.text == "and") {
            self.at += 2;
        }
        true
    }
}

/// The first word or slot of a group.
fn first(group: &'static Element) -> Option<&'static Element> {
    match group {
        Element::Optional(inner) => inner.first().and_then(first),
        other => Some(other),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema;
    use crate::source::FileId;

    fn next(within: &str, text: &str) -> (Vec<String>, bool) {
        let row = schema::find(within, text.split(' ').next().unwrap()).unwrap();
        let statement = crate::syntax::parse(FileId::default(), text).tree.statements.remove(0);
        let wanted = wanted(row.parsed(), &statement.arguments, &|_| false);
        let shown = wanted.next.iter().map(|element| match element {
            Element::Word(word) => (*word).to_owned(),
            Element::Slot(label, _) => format!("<{label}>"),
            Element::Optional(_) => unreachable!(),
        });
        (shown.collect(), wanted.whole)
    }

    #[test]
    fn what_may_stand_next_follows_the_form() {
        let told = |within, text, shown: &[&str], whole| {
            assert_eq!(next(within, text), (shown.iter().map(|one| (*one).to_owned()).collect(), whole), "{text}");
        };
        told("face", "window", &["<name>"], false);
        told("face", "window kitchen", &["<measure>", "<size>"], false);
        told("face", "window kitchen frame", &["<size>"], false);
        told("face", "window kitchen frame 4ft x 5ft", &["at", "head_at"], true);
        told("face", "window kitchen frame 4ft x 5ft at", &["<at>"], false);
        told("opening", "trims 89mm", &["on"], false);
        told("opening", "trims 89mm on", &["<plane>"], false);
        told("face", "area lower wall below 9ft", &["above", "from", "to"], true);
        told("layer", "controls water and air", &[], true);
    }
}
