//! The tray's rows with their places on the screen, so that only those in sight need to be there.

use field::{Stack, Tray, TrayRow};

/// Height of a row with photos and of one with an entry, pixels; as in the style sheet.
const PHOTO: u32 = 104;
const ENTRY: u32 = 36;

/// The rows that are shown.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Rows {
    rows: Vec<TrayRow>,
    /// Where each begins, and behind the last where it ends.
    tops: Vec<u32>,
    /// For each stack, its row.
    stacks: Vec<usize>,
    /// For each row, how many stacks stand before it.
    before: Vec<usize>,
}

impl Rows {
    /// All rows, or those with photos to place and the entries.
    pub(super) fn of(tray: &Tray, to_place: bool) -> Self {
        let shown = |row: &&TrayRow| match row {
            TrayRow::Photos(stack) => !to_place || stack.front.point.is_none(),
            TrayRow::Entry { .. } => true,
        };
        let rows: Vec<TrayRow> = tray.rows.iter().filter(shown).cloned().collect();
        let mut top = 0;
        let mut tops = vec![0];
        let mut stacks = Vec::new();
        let mut before = Vec::new();
        for (at, row) in rows.iter().enumerate() {
            before.push(stacks.len());
            top += match row {
                TrayRow::Photos(_) => {
                    stacks.push(at);
                    PHOTO
                }
                TrayRow::Entry { .. } => ENTRY,
            };
            tops.push(top);
        }
        Self { rows, tops, stacks, before }
    }

    /// How high all of them are together.
    pub(super) fn height(&self) -> u32 {
        self.tops.last().copied().unwrap_or(0)
    }

    /// The rows that touch this part of the height, with their places.
    pub(super) fn within(&self, from: u32, to: u32) -> std::ops::Range<usize> {
        let first = self.tops.partition_point(|top| *top <= from).saturating_sub(1);
        let end = self.tops.partition_point(|top| *top < to).min(self.rows.len());
        first.min(end)..end
    }

    /// A row: where it begins, how many stacks stand before it, and what it is.
    pub(super) fn row(&self, at: usize) -> Option<(u32, usize, &TrayRow)> {
        Some((*self.tops.get(at)?, *self.before.get(at)?, self.rows.get(at)?))
    }

    /// How many stacks there are.
    pub(super) fn stacks(&self) -> usize {
        self.stacks.len()
    }

    /// The stack with this number.
    pub(super) fn stack(&self, number: usize) -> Option<&Stack> {
        match self.rows.get(*self.stacks.get(number)?)? {
            TrayRow::Photos(stack) => Some(stack.as_ref()),
            TrayRow::Entry { .. } => None,
        }
    }

    /// All stacks in order.
    pub(super) fn all_stacks(&self) -> impl Iterator<Item = &Stack> {
        (0..self.stacks()).filter_map(|number| self.stack(number))
    }

    /// From where to where the stack with this number stands.
    pub(super) fn span(&self, number: usize) -> Option<(u32, u32)> {
        let row = *self.stacks.get(number)?;
        Some((*self.tops.get(row)?, *self.tops.get(row + 1)?))
    }
}
