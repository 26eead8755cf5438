//! What is written is read back, by this reader and whatever the values are.

use std::collections::BTreeMap;
use std::fs::File;
use std::io::{Read, Seek, Write};

use parquet::data_type::ByteArray;
use proptest::prelude::*;

use super::{Table, TableWriter, Values};
use crate::error::ArchiveError;
use crate::tables::{Column, Kind, Layout};

const COLUMNS: [Column; 3] = [
    Column { name: "word", kind: Kind::Words, optional: false, what: "" },
    Column { name: "day", kind: Kind::Day, optional: true, what: "" },
    Column { name: "number", kind: Kind::Number, optional: false, what: "" },
];
const LAYOUT: Layout = Layout { name: "table", columns: &COLUMNS };

type Row = (String, Option<i32>, i32);

/// A file of these groups of rows.
fn written<'a>(groups: &'a [Vec<Row>]) -> File {
    let mut writer = TableWriter::new(tempfile::tempfile().unwrap(), &LAYOUT).unwrap();
    for rows in groups {
        let mut list: Vec<&str> = Vec::new();
        let mut known: BTreeMap<&str, u32> = BTreeMap::new();
        let place = |(word, _, _): &'a Row| {
            *known.entry(word).or_insert_with(|| {
                list.push(word);
                u32::try_from(list.len() - 1).unwrap()
            })
        };
        let numbers: Vec<u32> = rows.iter().map(place).collect();
        let words: Vec<ByteArray> = list.into_iter().map(ByteArray::from).collect();
        let days: Vec<Option<i32>> = rows.iter().map(|row| row.1).collect();
        let counts: Vec<Option<i32>> = rows.iter().map(|row| Some(row.2)).collect();
        writer
            .group(&[
                Values::Words { words: &words, numbers: &numbers },
                Values::Numbers(&days),
                Values::Numbers(&counts),
            ])
            .unwrap();
    }
    writer.finish().unwrap()
}

fn read(table: &Table) -> Result<Vec<Vec<Row>>, ArchiveError> {
    let group = |group| {
        let words = table.words(group, "word")?;
        let list = words.words.clone();
        let words = words.places()?.into_iter().map(|place| list[place].clone());
        let days = table.numbers(group, "day")?;
        let numbers = table.numbers(group, "number")?.into_iter().map(Option::unwrap);
        Ok(words.zip(days).zip(numbers).map(|((word, day), number)| (word, day, number)).collect())
    };
    (0..table.groups()).map(group).collect()
}

fn check(groups: &[Vec<Row>]) {
    let table = Table::open(written(groups), &LAYOUT).unwrap();
    assert_eq!(read(&table).unwrap(), groups);
}

proptest! {
    /// Runs, single words and both in turn; days that are all there, none or some.
    #[test]
    fn what_is_written_is_read_back(
        groups in proptest::collection::vec(
            proptest::collection::vec(
                ("[a-c]{0,2}|\\PC{0,9}", any::<Option<i32>>(), any::<i32>(), 1..20_usize),
                1..40,
            ),
            0..4,
        ),
    ) {
        let groups: Vec<Vec<Row>> = groups
            .into_iter()
            .map(|runs| {
                let run = |(word, day, number, length)| std::iter::repeat_n((word, day, number), length);
                runs.into_iter().flat_map(run).collect()
            })
            .collect();
        check(&groups);
    }
}

/// More rows than a page has, and more bytes of words than general writers put into a dictionary.
#[test]
fn many_words_stay_in_the_dictionary() {
    let long = "x".repeat(900);
    let row = |number: i32| (format!("{}{long}", number % 1_500), None, number);
    check(&[(0..70_000).map(row).collect()]);
}

#[test]
fn codes_are_read_in_blocks_in_the_place_of_words() {
    let rows = (0..100).map(|number| (["no", "yes"][number % 2].to_owned(), None, 1)).collect();
    let table = Table::open(written(&[rows]), &LAYOUT).unwrap();
    let words = table.words(0, "word").unwrap();
    assert_eq!(words.words, ["no", "yes"]);
    let mut codes = words.coded(&[-7, 9]).unwrap();
    let (mut block, mut all) = (Vec::new(), Vec::new());
    while codes.left() > 0 {
        codes.read(33, &mut block).unwrap();
        all.extend_from_slice(&block);
    }
    assert_eq!(all, [-7, 9].repeat(50));
}

#[test]
fn another_table_and_what_is_none_are_damage() {
    let rows = vec![("word".to_owned(), Some(1), 2)];
    let refused = |file: File, layout: &Layout| {
        let opened = Table::open(file, layout);
        assert!(matches!(opened, Err(ArchiveError::Damaged { .. })));
    };
    refused(
        written(std::slice::from_ref(&rows)),
        &Layout { name: "table", columns: &crate::tables::JOB_COLUMNS },
    );
    let mut bytes = Vec::new();
    let mut file = written(&[rows]);
    file.rewind().unwrap();
    file.read_to_end(&mut bytes).unwrap();
    for length in [0, 3, 8, bytes.len() / 2, bytes.len() - 1] {
        let mut cut = tempfile::tempfile().unwrap();
        cut.write_all(&bytes[..length]).unwrap();
        refused(cut, &LAYOUT);
    }
}
