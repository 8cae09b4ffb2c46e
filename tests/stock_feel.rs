//! Telling things apart by hand: how they feel, their marks, and what they may be.

use std::fs;
use std::path::Path;

use proptest::prelude::*;
use proptest::sample::select;
use tellshelf::stock::{
    Asked, Build, Candidate, Container, Feel, ItemName, Lid, Mark, MarkKind, Material, Place,
    Property, Ranking, Shape, Size, Sound, Spot, Sureness, Surface, Weight, free_mark, look_alikes,
    rank,
};

fn candidate(name: &str, feel: &str, marks: &[&str]) -> Candidate {
    Candidate {
        item: ItemName::new(name).unwrap(),
        feel: feel_of(feel),
        marks: marks.iter().map(|mark| mark.parse().unwrap()).collect(),
        places: vec![],
        medicine: false,
    }
}

fn medicine(name: &str, feel: &str, marks: &[&str]) -> Candidate {
    Candidate {
        medicine: true,
        ..candidate(name, feel, marks)
    }
}

fn feel_of(said: &str) -> Feel {
    let words: Vec<&str> = said.split_whitespace().collect();
    let (feel, rest) = Feel::read(&words);
    assert_eq!(rest, Vec::<&str>::new(), "{said}");
    feel
}

/// What a description says: marks first, then how the thing feels. Other words are passed over.
fn asked(said: &str) -> Asked {
    let words: Vec<&str> = said.split_whitespace().collect();
    let (marks, rest) = Mark::read(&words);
    let (feel, _) = Feel::read(&rest);
    Asked {
        feel,
        marks,
        place: None,
    }
}

fn rows(file: &str) -> Vec<Vec<String>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/feel");
    let text = fs::read_to_string(path.join(file)).unwrap();
    let lines = text.lines().filter(|line| !line.starts_with('#'));
    lines
        .map(|line| line.split('\t').map(str::to_owned).collect())
        .collect()
}

fn kitchen() -> Vec<Candidate> {
    let things = rows("kitchen.tsv").into_iter().map(|row| {
        let [thing, feel, marks, place, sort] = row.try_into().unwrap();
        let marks: Vec<&str> = marks.split(", ").filter(|mark| *mark != "-").collect();
        Candidate {
            places: vec![Place::new(&place).unwrap()],
            medicine: sort == "medicine",
            ..candidate(&thing, &feel, &marks)
        }
    });
    things.collect()
}

fn sureness(ranking: &Ranking, name: &str) -> Option<Sureness> {
    let found = ranking.ranked.iter().find(|one| one.item.as_str() == name);
    found.unwrap().sureness
}

#[test]
fn the_right_thing_comes_first_in_an_invented_kitchen() {
    let kitchen = kitchen();
    let questions = rows("questions.tsv");
    let mut wrong = Vec::new();
    for question in &questions {
        let [said, thing, _] = &question[..] else {
            panic!("{question:?}");
        };
        let ranking = rank(&asked(said), &kitchen);
        let first = &ranking.ranked[0];
        if first.item.as_str() != thing {
            wrong.push(format!("{said}: {thing} is meant, not {}", first.item));
        }
    }
    let right = questions.len() - wrong.len();
    let all = questions.len();
    assert!(
        wrong.is_empty(),
        "{right} of {all} come first; {}",
        wrong.join("\n")
    );
}

#[test]
fn of_things_that_feel_the_same_none_is_sure() {
    let soups = ["bean soup", "pea soup", "tomato soup"]
        .map(|name| candidate(name, "can that sloshes", &[]));
    let ranking = rank(&asked("a can that sloshes"), &soups);
    for one in &ranking.ranked {
        assert_eq!(one.share, ranking.ranked[0].share);
        assert_eq!(one.sureness, Some(Sureness::Maybe));
    }
    let names: Vec<&str> = ranking.ranked.iter().map(|one| one.item.as_str()).collect();
    assert_eq!(names, ["bean soup", "pea soup", "tomato soup"]);
}

#[test]
fn a_lone_weak_match_is_no_more_than_a_maybe() {
    let only = [candidate("peas", "small can", &[])];
    assert_eq!(
        sureness(&rank(&asked("a can"), &only), "peas"),
        Some(Sureness::Maybe)
    );
    assert_eq!(
        sureness(&rank(&asked("a small one"), &only), "peas"),
        Some(Sureness::Maybe)
    );
    assert_eq!(sureness(&rank(&asked("a glass one"), &only), "peas"), None);
    assert_eq!(sureness(&rank(&Asked::default(), &only), "peas"), None);
    assert_eq!(rank(&asked("a can"), &[]), Ranking::default());
}

#[test]
fn a_mark_makes_sure_and_a_wrong_one_rules_out() {
    let cans = [
        candidate("corn", "can", &["1 band"]),
        candidate("peas", "can", &["2 band"]),
    ];
    let ranking = rank(&asked("a can with two bands"), &cans);
    assert_eq!(sureness(&ranking, "peas"), Some(Sureness::Sure));
    assert_eq!(sureness(&ranking, "corn"), None);
}

#[test]
fn another_container_is_far_down_but_not_impossible() {
    let things = [
        candidate("jam", "jar", &[]),
        candidate("peas", "can", &[]),
        candidate("rice", "", &[]),
    ];
    let ranking = rank(&asked("a can"), &things);
    let names: Vec<&str> = ranking.ranked.iter().map(|one| one.item.as_str()).collect();
    assert_eq!(names, ["peas", "rice", "jam"]);
    assert!(
        ranking.ranked[2].share > 0.0 && ranking.ranked[2].share < ranking.ranked[0].share / 50.0
    );
}

#[test]
fn where_it_stands_is_only_a_hint() {
    let milk = Candidate {
        places: vec![Place::new("fridge").unwrap(), Place::new("cellar").unwrap()],
        ..candidate("milk", "carton", &[])
    };
    let place = Some(Place::new("cellar").unwrap());
    let by_place = Asked {
        place: place.clone(),
        ..Asked::default()
    };
    assert_eq!(
        sureness(&rank(&by_place, std::slice::from_ref(&milk)), "milk"),
        Some(Sureness::Maybe)
    );
    let by_both = Asked {
        place,
        ..asked("a carton")
    };
    let hinted = rank(&by_both, std::slice::from_ref(&milk)).ranked[0].share;
    let elsewhere = Asked {
        place: Place::new("pantry").ok(),
        ..asked("a carton")
    };
    assert!(hinted > rank(&asked("a carton"), std::slice::from_ref(&milk)).ranked[0].share);
    assert!(hinted > rank(&elsewhere, &[milk]).ranked[0].share);
}

#[test]
fn a_medicine_is_never_an_answer_but_is_warned_of() {
    let things = [
        medicine("tablets", "small plastic bottle that rattles", &[]),
        candidate("sprinkles", "small plastic bottle that rattles", &[]),
        candidate("rice", "large bag", &[]),
    ];
    let ranking = rank(&asked("a small plastic bottle that rattles"), &things);
    assert!(ranking.medicine_feels_so);
    assert!(
        ranking
            .ranked
            .iter()
            .all(|one| one.item.as_str() != "tablets")
    );
    // What may be the medicine isn't left to the food.
    assert_ne!(sureness(&ranking, "sprinkles"), Some(Sureness::Sure));
    assert!(!rank(&asked("a large bag"), &things).medicine_feels_so);
    assert!(
        !rank(
            &asked("a bottle with a band"),
            &[medicine("drops", "bottle", &["1 clip"])]
        )
        .medicine_feels_so
    );
    assert!(!rank(&Asked::default(), &things).medicine_feels_so);
}

#[test]
fn a_medicine_that_was_moved_or_lost_its_mark_is_still_warned_of() {
    let tablets = Candidate {
        places: vec![Place::new("bathroom").unwrap()],
        ..medicine("tablets", "bottle", &["1 card"])
    };
    let in_kitchen = Asked {
        place: Place::new("pantry").ok(),
        ..asked("a bottle with no marks")
    };
    assert!(rank(&in_kitchen, &[tablets]).medicine_feels_so);
}

#[test]
fn look_alikes_are_those_that_nothing_known_tells_apart() {
    let soup = candidate("soup", "round can that sloshes", &[]);
    let others = [
        candidate("tuna", "flat round can", &[]),
        candidate("soup", "round can", &[]),
        candidate("pears", "square can", &[]),
        candidate("beans", "can", &["1 band"]),
        candidate("oil", "round thing", &[]),
        medicine("powder", "can", &[]),
    ];
    let names: Vec<&str> = look_alikes(&soup, &others)
        .iter()
        .map(|one| one.item.as_str())
        .collect();
    assert_eq!(names, ["powder", "tuna"]);
}

#[test]
fn a_mark_is_proposed_in_a_fixed_order() {
    let soup = candidate("soup", "can", &[]);
    let mut others: Vec<Candidate> = Vec::new();
    let mut proposed = Vec::new();
    while let Some(mark) = free_mark(&soup, &others, None) {
        proposed.push(mark.to_string());
        others.push(candidate(
            &format!("can {}", others.len()),
            "can",
            &[&mark.to_string()],
        ));
    }
    assert_eq!(
        proposed,
        [
            "1 band", "2 band", "3 band", "1 clip", "1 tape", "1 notch", "1 card", "2 clip",
            "2 tape", "2 notch", "2 card", "3 clip", "3 tape", "3 notch", "3 card"
        ]
    );
}

#[test]
fn the_preferred_kind_comes_first_and_a_mark_at_a_spot_is_in_use_everywhere() {
    let others = [candidate("beans", "can", &["1 clip lid"])];
    let soup = candidate("soup", "can", &[]);
    assert_eq!(
        free_mark(&soup, &others, Some(MarkKind::Clip)),
        "2 clip".parse().ok()
    );
    // Its own mark is its own.
    assert_eq!(
        free_mark(&others[0], &others, Some(MarkKind::Clip)),
        "1 clip".parse().ok()
    );
}

#[test]
fn medicines_share_no_kind_of_mark_with_food() {
    let kitchen = [
        candidate("beans", "can", &["1 band"]),
        medicine("tablets", "bottle", &["1 clip"]),
    ];
    let food = free_mark(
        &candidate("soup", "can", &[]),
        &kitchen,
        Some(MarkKind::Clip),
    );
    assert_eq!(food, "2 band".parse().ok());
    let other = free_mark(
        &medicine("drops", "bottle", &[]),
        &kitchen,
        Some(MarkKind::Band),
    );
    assert_eq!(other, "1 tape".parse().ok());
}

fn any_feel() -> impl Strategy<Value = Feel> {
    fn one<T: Copy + std::fmt::Debug + Into<Property> + 'static>(
        all: &'static [T],
    ) -> impl Strategy<Value = Option<Property>> {
        prop::option::of(select(all).prop_map(Into::into))
    }
    let properties = (
        one(Container::ALL),
        one(Build::ALL),
        one(Shape::ALL),
        one(Size::ALL),
        one(Weight::ALL),
        one(Lid::ALL),
        one(Surface::ALL),
        one(Material::ALL),
        one(Sound::ALL),
    );
    properties.prop_map(|(a, b, c, d, e, f, g, h, i)| {
        let said = [a, b, c, d, e, f, g, h, i].into_iter().flatten();
        said.fold(Feel::default(), Feel::with)
    })
}

fn any_mark() -> impl Strategy<Value = Mark> {
    let spot = prop::option::of(select(&Spot::ALL[..]));
    (select(&MarkKind::ALL[..]), 1..=3u8, spot).prop_map(|(kind, count, spot)| {
        let mark = Mark::new(kind, count).unwrap();
        spot.map_or(mark, |spot| mark.at(spot))
    })
}

fn any_place() -> impl Strategy<Value = Place> {
    select(&["pantry", "fridge", "cellar"][..]).prop_map(|name| Place::new(name).unwrap())
}

prop_compose! {
    fn any_asked()(
        feel in any_feel(),
        marks in prop::option::of(prop::collection::vec(any_mark(), 0..3)),
        place in prop::option::of(any_place()),
    ) -> Asked {
        Asked { feel, marks, place }
    }
}

prop_compose! {
    fn any_known()(
        feel in any_feel(),
        marks in prop::collection::vec(any_mark(), 0..3),
        places in prop::collection::vec(any_place(), 0..3),
        medicine in prop::bool::weighted(0.2),
    ) -> (Feel, Vec<Mark>, Vec<Place>, bool) {
        (feel, marks, places, medicine)
    }
}

/// Things with names of their own.
fn any_kitchen() -> impl Strategy<Value = Vec<Candidate>> {
    prop::collection::vec(any_known(), 1..12).prop_map(|known| {
        let things = known.into_iter().enumerate();
        let things = things.map(|(at, (feel, marks, places, medicine))| Candidate {
            item: ItemName::new(&format!("thing {at}")).unwrap(),
            feel,
            marks,
            places,
            medicine,
        });
        things.collect()
    })
}

fn rank_of(ranking: &Ranking, item: &ItemName) -> usize {
    ranking
        .ranked
        .iter()
        .position(|one| one.item == *item)
        .unwrap()
}

proptest! {
    #[test]
    fn what_is_spoken_is_read_back(feel in any_feel()) {
        let spoken = feel.to_string().replace(',', "");
        let words: Vec<&str> = spoken.split_whitespace().collect();
        prop_assert_eq!(Feel::read(&words), (feel, vec![]), "{}", spoken);
        let kept = serde_json::to_string(&feel).unwrap();
        prop_assert_eq!(serde_json::from_str::<Feel>(&kept).unwrap(), feel);
    }

    /// In any order of any words nothing is made up: what comes back was said, in that order.
    #[test]
    fn words_that_come_back_were_said(
        words in prop::collection::vec(
            select(&[
                "a", "not", "no", "or", "and", "is", "lid", "top", "pop", "flat", "smooth", "soft", "sound", "metal",
                "can", "label", "wide", "two", "bands", "band", "on", "the", "heavy", "medium", "weight", "green",
            ][..]),
            0..12,
        ),
    ) {
        let (_, rest) = Mark::read(&words);
        let (_, left) = Feel::read(&rest);
        let mut said = words.iter();
        prop_assert!(left.iter().all(|word| said.any(|said| said == word)), "{:?} of {:?}", left, words);
    }

    #[test]
    fn the_order_of_things_and_marks_changes_nothing(
        asked in any_asked(),
        (kitchen, mixed) in any_kitchen().prop_flat_map(|kitchen| {
            (Just(kitchen.clone()), Just(kitchen).prop_shuffle())
        }),
    ) {
        prop_assert_eq!(rank(&asked, &kitchen), rank(&asked, &mixed));
        let marks = asked.marks.clone().map(|marks| marks.into_iter().rev().collect());
        let turned = Asked { marks, ..asked.clone() };
        prop_assert_eq!(rank(&asked, &kitchen), rank(&turned, &kitchen));
    }

    #[test]
    fn one_more_agreement_never_lowers_a_thing(asked in any_asked(), kitchen in any_kitchen()) {
        let before = rank(&asked, &kitchen);
        for thing in kitchen.iter().filter(|thing| !thing.medicine) {
            for property in thing.feel.iter() {
                let feel = asked.feel.with(property);
                if feel.iter().count() == asked.feel.iter().count() {
                    continue; // It was said before, so or otherwise.
                }
                let after = rank(&Asked { feel, ..asked.clone() }, &kitchen);
                prop_assert!(rank_of(&after, &thing.item) <= rank_of(&before, &thing.item));
            }
            if asked.marks.is_none() && !thing.marks.is_empty() {
                let marks = Some(thing.marks.clone());
                let after = rank(&Asked { marks, ..asked.clone() }, &kitchen);
                prop_assert!(rank_of(&after, &thing.item) <= rank_of(&before, &thing.item));
            }
        }
    }

    #[test]
    fn shares_are_less_than_all_and_no_medicine_has_one(asked in any_asked(), kitchen in any_kitchen()) {
        let ranking = rank(&asked, &kitchen);
        let foods = kitchen.iter().filter(|thing| !thing.medicine).count();
        prop_assert_eq!(ranking.ranked.len(), foods);
        for one in &ranking.ranked {
            let thing = kitchen.iter().find(|thing| thing.item == one.item).unwrap();
            prop_assert!(!thing.medicine && one.share >= 0.0);
        }
        let all: f64 = ranking.ranked.iter().map(|one| one.share).sum();
        prop_assert!(all <= 1.0 + 1e-9, "{}", all);
        prop_assert!(ranking.ranked.is_sorted_by(|one, next| one.share >= next.share));
    }

    #[test]
    fn a_proposed_mark_is_never_in_use(
        kitchen in any_kitchen(),
        preferred in prop::option::of(select(&MarkKind::ALL[..])),
    ) {
        let (new, others) = kitchen.split_first().unwrap();
        if let Some(mark) = free_mark(new, others, preferred) {
            for other in others {
                for its in &other.marks {
                    prop_assert!((its.kind(), its.count()) != (mark.kind(), mark.count()));
                    prop_assert!(other.medicine == new.medicine || its.kind() != mark.kind());
                }
            }
        }
    }

    #[test]
    fn a_proposed_mark_ends_the_likeness(kitchen in any_kitchen()) {
        let (new, others) = kitchen.split_first().unwrap();
        if let Some(mark) = free_mark(new, others, None) {
            let marks = [&new.marks[..], &[mark]].concat();
            let marked = Candidate { marks, ..new.clone() };
            prop_assert_eq!(look_alikes(&marked, others), Vec::<&Candidate>::new());
        }
    }

    #[test]
    fn likeness_is_mutual(kitchen in any_kitchen()) {
        for one in &kitchen {
            for other in look_alikes(one, &kitchen) {
                prop_assert!(look_alikes(other, &kitchen).contains(&one));
            }
        }
    }
}
