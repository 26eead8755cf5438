//! How the rest of a visit is planned on a device: how many are there, and the order that was planned last.

use schedule::Task;

/// The most people that a visit is planned for.
const PEOPLE_MOST: usize = 2;

/// What a device remembers of the day. The order follows from record and plan, so that its loss costs a little thinking
/// and nothing else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Day {
    people: usize,
    /// What is left in the order last planned; empty before the first planning.
    pub(crate) order: Vec<Task>,
}

impl Default for Day {
    fn default() -> Self {
        Self { people: 1, order: Vec::new() }
    }
}

impl Day {
    /// How many work on the visit: one or two.
    #[must_use]
    pub fn people(&self) -> usize {
        self.people
    }

    /// Whether an order was planned already.
    #[must_use]
    pub fn is_planned(&self) -> bool {
        !self.order.is_empty()
    }

    /// Says how many work on the visit; another number than one or two changes nothing. With more or fewer hands
    /// another order is best, so the old one is let go.
    pub fn set_people(&mut self, people: usize) {
        if (1..=PEOPLE_MOST).contains(&people) && people != self.people {
            self.people = people;
            self.order.clear();
        }
    }

    /// The day as text, a line each.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut text = format!("people {}\n", self.people);
        for task in &self.order {
            match task {
                Task::Act(id) => text.push_str(&format!("act {id}\n")),
                Task::Change { state, to } => text.push_str(&format!("change {state} {to}\n")),
            }
        }
        text
    }

    /// The day from such a text; a line that cannot be read is left out.
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        let mut day = Self::default();
        let mut order = Vec::new();
        for line in text.lines() {
            match line.split_once(' ') {
                Some(("people", people)) => day.set_people(people.parse().unwrap_or_default()),
                Some(("act", id)) => order.push(Task::Act(id.to_owned())),
                Some(("change", rest)) => {
                    let change = rest.split_once(' ').map(|(state, to)| Task::Change {
                        state: state.to_owned(),
                        to: to.to_owned(),
                    });
                    order.extend(change);
                }
                _ => {}
            }
        }
        day.order = order;
        day
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_reads_back_as_it_was_written_and_what_is_damaged_is_left_out() {
        let mut day = Day::default();
        day.set_people(2);
        day.order = vec![
            Task::Act("gas_smell".into()),
            Task::Change { state: "unit".into(), to: "as parked".into() },
        ];
        assert_eq!(Day::from_text(&day.to_text()), day);
        assert_eq!(Day::from_text(""), Day::default());
        let damaged = Day::from_text("people 9\nact tyres\nchange gas\nnonsense\n");
        assert_eq!(damaged, Day { people: 1, order: vec![Task::Act("tyres".into())] });
    }

    #[test]
    fn another_number_of_hands_lets_the_order_go() {
        let mut day = Day { people: 1, order: vec![Task::Act("tyres".into())] };
        day.set_people(1);
        assert!(day.is_planned());
        day.set_people(3);
        assert!(day.is_planned());
        day.set_people(2);
        assert!(!day.is_planned() && day.people() == 2);
    }
}
