//! The guide against its sources, value by value.

use chrono::NaiveDate;
use tellshelf::guide::{Kept, Source, StorageTime, find};

/// Rows of the FoodKeeper data set (USDA FSIS, data.gov "FSIS - FoodKeeper Data", CC0): name, pantry, pantry once opened,
/// fridge, fridge once opened, freezer. Written down a second time, from the data set and in other words than in the table.
const FOODKEEPER: [[&str; 6]; 52] = [
    ["ground beef", "", "", "1-2 d", "", "3-4 mo"],
    ["steak", "", "", "3-5 d", "", "4-12 mo"],
    ["whole chicken", "", "", "1-2 d", "", "12 mo"],
    ["chicken breasts", "", "", "1-2 d", "", "9 mo"],
    ["ground turkey", "", "", "1-2 d", "", "3-4 mo"],
    ["bacon", "", "", "1 wk", "1 wk", "1 mo"],
    ["hot dogs", "", "", "2 wk", "1 wk", "1-2 mo"],
    ["packaged lunch meat", "", "", "2 wk", "3-5 d", "1-2 mo"],
    ["deli meat", "", "", "3-5 d", "3-5 d", "1-2 mo"],
    ["raw sausage", "", "", "1-2 d", "", "1-2 mo"],
    ["smoked sausage", "", "", "1 wk", "", "1-2 mo"],
    ["hard sausage", "", "", "2-3 wk", "", "1-2 mo"],
    ["whole cooked ham", "", "", "1 wk", "", "1-2 mo"],
    ["ham slices", "", "", "3-4 d", "", "1-2 mo"],
    ["half ham", "", "", "3-4 d", "", "1-2 mo"],
    ["refrigerated canned ham", "", "", "6-9 mo", "", "no"],
    ["rotisserie chicken", "", "", "3-4 d", "", "4 mo"],
    ["eggs", "", "", "3-5 wk", "", "no"],
    ["egg yolks", "", "", "2-4 d", "", "12 mo"],
    ["hard boiled eggs", "", "", "1 wk", "", "no"],
    ["lactose-free milk", "", "", "", "1 wk", "no"],
    ["ultra-pasteurized milk", "", "", "1-3 mo", "7-10 d", ""],
    ["shelf-stable milk", "6-12 mo", "", "", "5-7 d", ""],
    ["butter", "", "", "1-2 mo", "", "6-9 mo"],
    ["hard cheese", "", "", "6 mo", "3-4 wk", "6 mo"],
    ["soft cheese", "", "", "1-2 wk", "", "6 mo"],
    ["cheese slices", "", "", "3-4 wk", "", "no"],
    ["shredded cheese", "", "", "1 mo", "", "3-4 mo"],
    ["cream cheese", "", "", "2 wk", "", "no"],
    ["cottage cheese", "", "", "2 wk", "1 wk", "no"],
    ["yogurt", "", "", "1-2 wk", "", "1-2 mo"],
    ["leftovers", "", "", "3-4 d", "", "2-3 mo"],
    ["leftovers without meat", "", "", "3-4 d", "", "1-2 mo"],
    ["pizza", "", "", "3-4 d", "", "1-2 mo"],
    ["stew", "", "", "3-4 d", "", "2-3 mo"],
    ["canned vegetables", "2-5 yr", "", "", "3-4 d", ""],
    ["canned tomatoes", "12-18 mo", "", "", "5-7 d", ""],
    ["canned tuna", "3 yr", "", "", "1-2 d", ""],
    ["tuna pouch", "18 mo", "", "", "3-4 d", ""],
    ["canned salmon", "1 yr", "", "", "1-2 d", ""],
    ["white rice", "2 yr", "", "", "6 mo", ""],
    ["brown rice", "1 yr", "", "", "6 mo", ""],
    ["pasta", "2 yr", "", "", "", ""],
    ["flour", "6-12 mo", "", "", "", ""],
    ["whole wheat flour", "3-6 mo", "", "", "6-8 mo", ""],
    ["ketchup", "1 yr", "", "", "6 mo", ""],
    ["mayonnaise", "3-6 mo", "", "", "2 mo", ""],
    ["honey", "2 yr", "", "", "", ""],
    ["baking powder", "6-18 mo", "3-6 mo", "", "", ""],
    ["peanut butter", "6-24 mo", "2-3 mo", "", "", ""],
    ["olive oil", "6-12 mo", "3-5 mo", "", "", ""],
    ["bread", "14-18 d", "", "", "2-3 wk", "3-5 mo"],
];

/// The cold storage chart of FoodSafety.gov and FSIS, in reprints: name, fridge, fridge once opened, freezer. Only what the
/// data set doesn't have, or has longer.
const CHART: [[&str; 4]; 10] = [
    ["pork chops", "3-5 d", "", "4-6 mo"],
    ["beef roast", "3-5 d", "", "4-12 mo"],
    ["stuffed chicken", "1 d", "", ""],
    ["stuffed pork chops", "1 d", "", ""],
    ["cooked chicken", "3-4 d", "", "2-6 mo"],
    ["chicken nuggets", "3-4 d", "", "1-3 mo"],
    ["tuna salad", "3-5 d", "", "no"],
    ["liquid eggs", "10 d", "3 d", ""],
    ["vacuum-sealed ham", "2 wk", "", ""],
    ["cooked rice", "3-4 d", "", ""],
];

/// A value in the words of the data set.
fn in_full(short: &str) -> StorageTime {
    if short == "no" {
        return "Not Recommended".parse().unwrap();
    }
    let (count, unit) = short.split_once(' ').unwrap();
    let unit = match unit {
        "d" => "Days",
        "wk" => "Weeks",
        "mo" => "Months",
        "yr" => "Years",
        other => panic!("{other}"),
    };
    format!("{} {unit}", count.replace('-', " - "))
        .parse()
        .unwrap()
}

fn check(name: &str, kept: Kept, short: &str, source: Source) {
    let found = find(name).unwrap_or_else(|| panic!("no {name}")).time(kept);
    if short.is_empty() {
        // The other source may have it.
        assert!(
            found.is_none_or(|known| known.source != source),
            "{name}, {kept:?}: {found:?}"
        );
        return;
    }
    let found = found.unwrap_or_else(|| panic!("{name}, {kept:?}"));
    assert_eq!(
        (found.time, found.source),
        (in_full(short), source),
        "{name}, {kept:?}"
    );
}

#[test]
fn foods_have_the_times_of_foodkeeper() {
    for [name, pantry, pantry_opened, fridge, opened, freezer] in FOODKEEPER {
        for (kept, short) in [
            (Kept::Pantry, pantry),
            (Kept::PantryOpened, pantry_opened),
            (Kept::Fridge, fridge),
            (Kept::FridgeOpened, opened),
            (Kept::Freezer, freezer),
        ] {
            check(name, kept, short, Source::FoodKeeper);
        }
    }
}

#[test]
fn foods_have_the_times_of_the_cold_storage_chart() {
    for [name, fridge, opened, freezer] in CHART {
        for (kept, short) in [
            (Kept::Fridge, fridge),
            (Kept::FridgeOpened, opened),
            (Kept::Freezer, freezer),
        ] {
            check(name, kept, short, Source::ColdStorageChart);
        }
    }
}

/// Source: state extension services after FSIS, thawing in the fridge: ground meat, stew meat, poultry and seafood 1 to 2
/// days, cuts of red meat 3 to 5.
#[test]
fn what_was_thawed_has_a_time_of_its_own() {
    for name in [
        "ground beef",
        "stew meat",
        "chicken",
        "whole turkey",
        "ground chicken",
        "salmon",
        "shrimp",
    ] {
        check(name, Kept::FridgeThawed, "1-2 d", Source::ThawingAdvice);
    }
    for name in ["steak", "pork chops", "beef roast"] {
        check(name, Kept::FridgeThawed, "3-5 d", Source::ThawingAdvice);
    }
    assert_eq!(find("bread").unwrap().time(Kept::FridgeThawed), None);
}

/// Where the tables differ, both are kept, and the stricter is told with its source.
#[test]
fn the_stricter_of_two_times_is_told() {
    for (name, kept, times, told) in [
        (
            "cooked rice",
            Kept::Fridge,
            &["4-6 d", "3-4 d"][..],
            Source::ColdStorageChart,
        ),
        (
            "half ham",
            Kept::Fridge,
            &["3-4 d", "1 wk", "3-5 d"],
            Source::FoodKeeper,
        ),
        (
            "leftovers",
            Kept::Freezer,
            &["2-3 mo", "2-6 mo"],
            Source::FoodKeeper,
        ),
        (
            "stuffed chicken",
            Kept::Fridge,
            &["1-2 d", "1 d"],
            Source::ColdStorageChart,
        ),
        (
            "steak",
            Kept::Freezer,
            &["4-12 mo", "6-12 mo"],
            Source::FoodKeeper,
        ),
    ] {
        let food = find(name).unwrap();
        let all: Vec<StorageTime> = food
            .published()
            .filter(|p| p.kept == kept)
            .map(|p| p.time)
            .collect();
        let times: Vec<StorageTime> = times.iter().map(|short| in_full(short)).collect();
        assert_eq!(all, times, "{name}");
        assert_eq!(food.time(kept).unwrap().source, told, "{name}");
    }
    // The date on a pack holds whatever an older chart says.
    let milk = find("milk").unwrap();
    let fridge: Vec<_> = milk
        .published()
        .filter(|p| p.kept == Kept::Fridge)
        .collect();
    assert_eq!(fridge[0].time, StorageTime::PackageDate);
    assert_eq!(milk.time(Kept::Fridge).unwrap().source, Source::OlderChart);
    assert_eq!(milk.time(Kept::FridgeOpened), None);
}

/// Every form that the values of the data set have, counted there: with "1 Yea" twice.
#[test]
fn all_forms_of_values_are_read() {
    let spoken = |text: &str| text.parse::<StorageTime>().map(|time| time.to_string());
    for (text, said) in [
        ("1 Hour", "1 hour"),
        ("2 Days", "2 days"),
        ("3 - 5 Weeks", "3 to 5 weeks"),
        ("1 - 1 Month", "1 month"),
        ("2 - 5 Years", "2 to 5 years"),
        ("1 Yea", "1 year"),
        ("Not Recommended", "not recommended"),
        ("Package use-by date", "until the use-by date on the pack"),
        ("Indefinitely", "without an end"),
        ("When Ripe", "until ripe"),
    ] {
        assert_eq!(spoken(text).as_deref(), Ok(said), "{text}");
    }
    for text in [
        "",
        "Days",
        "0 Days",
        "5 - 3 Days",
        "3 -5 Days",
        "-1 Days",
        "3 Moons",
        "99999999999 Days",
        "2 Years old",
    ] {
        assert!(spoken(text).is_err(), "{text}");
    }
}

/// The shorter end counts. The days after months: python-dateutil's relativedelta gives the same.
#[test]
fn a_time_ends_on_the_day_of_its_shorter_end() {
    let day = |y, m, d| NaiveDate::from_ymd_opt(y, m, d).unwrap();
    let end = |text: &str, from| match text.parse().unwrap() {
        StorageTime::For(span) => span.end(from),
        other => panic!("{other}"),
    };
    assert_eq!(end("2 Months", day(2026, 11, 25)), Some(day(2027, 1, 25)));
    assert_eq!(end("1 Month", day(2026, 1, 31)), Some(day(2026, 2, 28)));
    assert_eq!(end("1 Year", day(2024, 2, 29)), Some(day(2025, 2, 28)));
    assert_eq!(end("3 - 5 Days", day(2026, 12, 30)), Some(day(2027, 1, 2)));
    assert_eq!(
        end("1 - 2 Weeks", day(2026, 11, 25)),
        Some(day(2026, 12, 2))
    );
    assert_eq!(end("1 Hour", day(2026, 11, 25)), Some(day(2026, 11, 25)));
    assert_eq!(end("1 Day", NaiveDate::MAX), None);
}

#[test]
fn the_longest_name_wins_and_the_rest_is_no_guess() {
    let found = |name| find(name).map(|food| food.name());
    for (name, food) in [
        ("cream cheese", "cream cheese"),
        ("cottage cheese", "cottage cheese"),
        ("peanut butter", "peanut butter"),
        ("butter", "butter"),
        ("rotisserie chicken", "rotisserie chicken"),
        ("chicken", "poultry parts"),
        ("egg salad", "egg salad"),
        ("Mayo", "mayonnaise"),
        ("fat-free milk", "milk"),
        ("fat free  milk", "milk"),
    ] {
        assert_eq!(found(name), Some(food), "{name}");
    }
    for name in [
        "coconut milk",
        "oat milk",
        "cheese",
        "ham",
        "beef",
        "apple butter",
        "butter beans",
        "smoked salmon",
        "fish sauce",
        "bread crumbs",
        "rice vinegar",
        "ground",
        "bacon bits",
        "",
        " ",
    ] {
        assert_eq!(found(name), None, "{name}");
    }
}

/// Sources: 21 CFR 107.20(c) and FSIS, "Food Product Dating", of infant formula; FoodKeeper of baby food.
#[test]
fn only_what_is_for_babies_is_discarded_past_its_date() {
    let is_discarded = |name| find(name).unwrap().is_discarded_past_use_by();
    for name in [
        "infant formula",
        "baby formula",
        "prepared formula",
        "baby food",
        "baby food fruit",
    ] {
        assert!(is_discarded(name), "{name}");
    }
    for name in ["milk", "eggs", "ground beef", "canned fruit"] {
        assert!(!is_discarded(name), "{name}");
    }
}
