//! What the schema takes each argument of a statement for. Lenient: what does not fit is passed over, so that broken text
//! still has names.

use crate::eval::{SMALL_WORDS, Value, fits};
use crate::schema::{Element, Row, SlotKind, respell};
use crate::syntax::Item;

/// What an argument is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Role {
    /// A small word or a word of the form, such as `at`.
    Word,
    /// A value, by the label of its slot and its kind.
    Slot(&'static str, &'static SlotKind),
    /// Fits nothing the statement takes.
    Lost,
}

/// The role of each argument. `is_parameter` knows the parameters that are seen where the statement stands.
pub fn roles(row: &'static Row, items: &[Item], is_parameter: &dyn Fn(&str) -> bool) -> Vec<Role> {
    let mut matcher = Matcher { items, roles: Vec::with_capacity(items.len()), is_parameter };
    matcher.elements(&row.parsed().elements);
    let lost = |item: &Item| if item.word().is_some_and(|word| is_small(&word.text)) { Role::Word } else { Role::Lost };
    let rest: Vec<Role> = items.iter().skip(matcher.roles.len()).map(lost).collect();
    matcher.roles.extend(rest);
    matcher.roles
}

struct Matcher<'t> {
    items: &'t [Item],
    /// One for each argument taken so far.
    roles: Vec<Role>,
    is_parameter: &'t dyn Fn(&str) -> bool,
}

impl Matcher<'_> {
    fn next(&self) -> Option<&Item> {
        self.items.get(self.roles.len())
    }

    fn elements(&mut self, elements: &'static [Element]) {
        let mut at = 0;
        while let Some(element) = elements.get(at) {
            let run = elements.iter().skip(at).take_while(|one| matches!(one, Element::Optional(_))).count();
            if run > 0 {
                self.optionals(elements.get(at..at + run).unwrap_or_default());
            } else {
                self.one(element);
            }
            at += run.max(1);
        }
    }

    /// Groups that may be left out, in any order.
    fn optionals(&mut self, groups: &'static [Element]) {
        let mut used = vec![false; groups.len()];
        loop {
            let next = groups.iter().zip(&used).position(|(group, used)| !used && self.begins(group));
            let Some((at, Element::Optional(inner))) = next.and_then(|at| Some((at, groups.get(at)?))) else { return };
            if let Some(flag) = used.get_mut(at) {
                *flag = true;
            }
            self.elements(inner);
        }
    }

    fn begins(&self, element: &Element) -> bool {
        let Some(item) = self.next() else { return false };
        match element {
            Element::Word(word) => is_word(item, word),
            Element::Slot(_, kind) => self.fits(kind, item),
            Element::Optional(inner) => inner.first().is_some_and(|first| self.begins(first)),
        }
    }

    fn one(&mut self, element: &'static Element) {
        if !self.begins(element) {
            return;
        }
        match element {
            Element::Word(_) => self.roles.push(Role::Word),
            Element::Slot(label, kind) => {
                self.roles.push(Role::Slot(label, kind));
                let list = matches!(
                    kind,
                    SlotKind::Choices(_) | SlotKind::References(_) | SlotKind::Paths | SlotKind::Lengths
                );
                while list && self.next().is_some_and(|item| is_word(item, "and")) {
                    self.roles.push(Role::Word);
                    if self.next().is_some() {
                        self.roles.push(Role::Slot(label, kind));
                    }
                }
            }
            Element::Optional(inner) => self.elements(inner),
        }
    }

    /// Whether an argument has the look of a slot's kind; a parameter may be anything but a word or a new name.
    fn fits(&self, kind: &SlotKind, item: &Item) -> bool {
        let parameter = item.word().is_some_and(|word| (self.is_parameter)(&word.text));
        let anything = parameter && !matches!(kind, SlotKind::New | SlotKind::Choice(_) | SlotKind::Choices(_));
        fits(kind, item, anything.then_some(&Value::Broken))
    }
}

pub(super) fn is_small(word: &str) -> bool {
    SMALL_WORDS.contains(&word)
}

fn is_word(item: &Item, wanted: &str) -> bool {
    item.word().is_some_and(|word| &*word.text == wanted || respell(&word.text) == wanted)
}
