//! Product codes against published examples, and against python-stdnum and biip, whose answers stand in a table that
//! `tests/data/measure/make-gtin.py` writes, with its versions.

use proptest::prelude::*;
use tellshelf::measure::{Gtin, NotAGtin};

/// GS1 General Specifications, 7.9.1 and its calculator's example; the others are examples of reference works.
#[test]
fn published_codes_are_read() {
    for code in [
        "6291041500213",
        "036000291452",
        "96385074",
        "201234105992",
        "09506000134352",
    ] {
        assert!(Gtin::read(code).is_ok(), "{code}");
    }
    assert_eq!(Gtin::read("6291041500214"), Err(NotAGtin::CheckDigit));
    let shortened = Gtin::from_upc_e("04252614");
    assert_eq!(shortened, Gtin::read("042100005264"));
}

fn rows(read_as: &str) -> Vec<Vec<&str>> {
    let lines = include_str!("data/measure/gtin.tsv").lines();
    let rows = lines.map(|line| line.split('\t').collect::<Vec<_>>());
    let rows: Vec<_> = rows.filter(|row| row[0] == read_as).collect();
    assert!(rows.len() > 100, "{read_as}");
    rows
}

/// In 14 digits, as the libraries have it.
fn in_full(gtin: Gtin) -> String {
    format!("{:0>14}", gtin.to_string())
}

#[test]
fn numbers_are_read_and_refused_as_by_stdnum_and_biip() {
    for row in rows("number") {
        let ours = Gtin::read(row[1]);
        let as_stdnum = match ours {
            Ok(gtin) => in_full(gtin),
            Err(NotAGtin::NotDigits) => "InvalidFormat".to_owned(),
            Err(NotAGtin::WrongLength(_)) => "InvalidLength".to_owned(),
            Err(NotAGtin::CheckDigit) => "InvalidChecksum".to_owned(),
            Err(NotAGtin::NotShortened) => unreachable!("it wasn't read as UPC-E"),
        };
        assert_eq!(as_stdnum, row[2], "{}: stdnum", row[1]);
        let as_biip = ours.map_or("error".to_owned(), in_full);
        assert_eq!(as_biip, row[3], "{}: biip", row[1]);
    }
}

#[test]
fn upc_e_is_expanded_and_refused_as_by_biip() {
    for row in rows("upc-e") {
        let ours = Gtin::from_upc_e(row[1]).map_or("error".to_owned(), in_full);
        assert_eq!(ours, row[3], "{}", row[1]);
    }
}

/// biip passes over the prefix of a case's number (14 digits, the first not 0). A store number on a case would break
/// the rules; where it is met, it names a product no better.
#[test]
fn store_numbers_are_those_biip_holds_for_restricted() {
    for row in rows("number").iter().filter(|row| row[4] != "-") {
        let is_case = row[1].len() == 14 && !row[1].starts_with('0');
        let ours = Gtin::read(row[1]).unwrap().is_store_number();
        assert!(ours == (row[4] == "restricted") || is_case, "{}", row[1]);
    }
    // The same number with another figure before it and its own check digit.
    assert!(Gtin::read("00201234105992").unwrap().is_store_number());
    assert!(Gtin::read("10201234105999").unwrap().is_store_number());
}

#[test]
fn eight_digits_may_be_right_both_ways_and_mean_two_things() {
    let codes = (1_000_000..2_000_000).map(|n| format!("{n:08}"));
    let right = codes.filter_map(|code| {
        let (plain, shortened) = (Gtin::read(&code).ok()?, Gtin::from_upc_e(&code).ok()?);
        Some((plain, shortened))
    });
    let right: Vec<_> = right.collect();
    // Of a million with eight digits each check digit lets one in ten through.
    assert!(right.len() > 5_000, "{}", right.len());
    assert!(right.iter().all(|(plain, shortened)| plain != shortened));
}

#[test]
fn only_ascii_digits_are_digits() {
    for text in [
        "",
        " ",
        " 96385074",
        "96385074\n",
        "+6385074",
        "９６３８５０７４",
        "9638507٤",
        "🥫",
    ] {
        assert_eq!(Gtin::read(text), Err(NotAGtin::NotDigits), "{text:?}");
        assert_eq!(Gtin::from_upc_e(text), Err(NotAGtin::NotDigits), "{text:?}");
    }
}

#[test]
fn what_is_wrong_can_be_said() {
    let said = |code| Gtin::read(code).unwrap_err().to_string();
    assert_eq!(said("0360o0291452"), "A product code is digits alone");
    assert_eq!(
        said("3600029145"),
        "A product code has 8, 12, 13 or 14 digits, and this has 10"
    );
    assert_eq!(
        said("036000291453"),
        "The last digit doesn't fit the others, so one of them is wrong"
    );
    assert_eq!(
        Gtin::from_upc_e("24252614").unwrap_err().to_string(),
        "A shortened product code has 8 digits and begins with 0 or 1"
    );
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused(text in ".*|[0-9]{0,20}") {
        let _ = Gtin::from_upc_e(&text);
        if let Ok(gtin) = Gtin::read(&text) {
            prop_assert_eq!(Gtin::read(&gtin.to_string()), Ok(gtin));
            prop_assert!([13, 14].contains(&gtin.to_string().len()));
        }
    }

    /// Weights of 1 and 3 have no factor in common with 10.
    #[test]
    fn one_wrong_digit_is_always_noticed(payload in "[0-9]{13}", at in 0..14_usize, by in 1..10_u8) {
        let right = (0..10).map(|check| format!("{payload}{check}"));
        let right = right.filter(|code| Gtin::read(code).is_ok()).collect::<Vec<_>>();
        prop_assert_eq!(right.len(), 1);
        let mut wrong = right[0].clone().into_bytes();
        wrong[at] = b'0' + (wrong[at] - b'0' + by) % 10;
        let wrong = String::from_utf8(wrong).unwrap();
        prop_assert_eq!(Gtin::read(&wrong), Err(NotAGtin::CheckDigit));
    }
}
