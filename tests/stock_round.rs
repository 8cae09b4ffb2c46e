//! The round, event by event: tags, marks, the trip to the store, and putting away.

mod stock_kitchen;

use stock_kitchen::*;
use tellshelf::stock::{
    Coded, Event, Fact, ItemKind, Outcome, PoolTag, Refusal, Stock, TagKind, TagNumber, TagState,
};

fn tag_state(stock: &Stock, number: u32) -> Option<TagState> {
    let tag = stock.pool_tag(TagNumber(number)).unwrap();
    tag.map(|tag| tag.state)
}

/// What waits, as "tag 1: 2 bag oats, 1 band".
fn waiting(stock: &Stock) -> Vec<String> {
    let waiting = stock.waiting().unwrap().into_iter().map(|thing| {
        let tag = thing.tag.map(|tag| format!("tag {tag}: "));
        let quantity = thing.quantity.map(|quantity| format!("{quantity} "));
        let mark = thing.mark.map(|mark| format!(", {mark}"));
        let [tag, quantity, mark] = [tag, quantity, mark].map(Option::unwrap_or_default);
        format!("{tag}{quantity}{}{mark}", thing.item)
    });
    waiting.collect()
}

fn medicine() -> Fact {
    Fact::Kind(ItemKind::Medicine)
}

// What is refused, and why.

#[test]
fn a_tag_that_nobody_spoke_of_is_not_known() {
    let mut stock = after([]);
    for event in [tag_lost(7), tag_found(7), tag_spent(7)] {
        assert_eq!(refused(&mut stock, event), Refusal::NoSuchTag(TagNumber(7)));
    }
    assert_eq!(tag_state(&stock, 7), None);
}

#[test]
fn a_tag_in_use_is_on_one_thing() {
    let mut stock = after([
        put_in("oats", "", "", ""),
        kitchen_tagged("oats", 7),
        reminded("salt", 8),
        tagged("milk", "", ""),
    ]);
    for (number, on) in [(7, "oats"), (8, "salt"), (1, "milk")] {
        let in_use = Refusal::TagInUse {
            tag: TagNumber(number),
            item: item(on),
        };
        for event in [kitchen_tagged("oats", number), reminded("rice", number)] {
            assert_eq!(refused(&mut stock, event), in_use);
        }
    }
}

#[test]
fn a_tag_in_use_for_a_time_is_not_lost() {
    let mut stock = after([tagged("milk", "", "")]);
    let in_use = Refusal::TagInUse {
        tag: TagNumber(1),
        item: item("milk"),
    };
    assert_eq!(refused(&mut stock, tag_lost(1)), in_use);
}

#[test]
fn a_tag_of_another_kind_is_not_taken() {
    let mut stock = after([
        put_in("oats", "", "", ""),
        tag_coded(7, "04A2B1C2"),
        reminded("salt", 8),
        tags_taken(9, 9),
    ]);
    let other = |tag, is| Refusal::OtherTag {
        tag: TagNumber(tag),
        is,
    };
    let refusals = [
        (reminded("oats", 7), other(7, TagKind::Kitchen)),
        (kitchen_tagged("oats", 9), other(9, TagKind::Temporary)),
        // What is worn isn't spent: it comes off when the thing is bought.
        (tag_spent(8), other(8, TagKind::Reminder)),
    ];
    for (event, refusal) in refusals {
        assert_eq!(refused(&mut stock, event), refusal);
    }
}

#[test]
fn a_tag_on_nothing_is_not_spent() {
    let mut stock = after([tag_coded(7, "04A2B1C2"), tags_taken(9, 9)]);
    for number in [7, 9] {
        let refusal = Refusal::TagOnNothing(TagNumber(number));
        assert_eq!(refused(&mut stock, tag_spent(number)), refusal);
    }
}

#[test]
fn a_lost_tag_is_neither_lost_again_nor_spent() {
    let mut stock = after([
        put_in("oats", "", "pantry", ""),
        kitchen_tagged("oats", 7),
        tag_lost(7),
    ]);
    for event in [tag_lost(7), tag_spent(7)] {
        assert_eq!(refused(&mut stock, event), Refusal::TagIsLost(TagNumber(7)));
    }
    assert_eq!(lots(&stock, "oats"), ["? | pantry | "]);
    tell(&mut stock, tag_found(7));
    let refusal = Refusal::TagNotLost(TagNumber(7));
    assert_eq!(refused(&mut stock, tag_found(7)), refusal);
    assert_eq!(tag_state(&stock, 7), Some(TagState::Free));
}

#[test]
fn a_lost_tag_is_found_by_what_it_is_put_on() {
    let mut stock = after([
        put_in("oats", "", "", ""),
        kitchen_tagged("oats", 7),
        tag_lost(7),
    ]);
    tell(&mut stock, kitchen_tagged("oats", 7));
    assert_eq!(tag_state(&stock, 7), Some(TagState::On(item("oats"))));
}

#[test]
fn no_tag_is_taken_along_that_is_in_use_or_stays_at_home() {
    let mut stock = after([tagged("milk", "", ""), reminded("salt", 2)]);
    let refusal = refused(&mut stock, tags_taken(1, 2));
    let none = Refusal::NoneToTake {
        first: TagNumber(1),
        last: TagNumber(2),
    };
    assert_eq!(refusal, none);
    let outcome = tell(&mut stock, tags_taken(1, 4));
    let taken = Outcome::TagsTaken {
        tags: vec![TagNumber(3), TagNumber(4)],
        is_cut: false,
    };
    assert_eq!(outcome, taken);
}

#[test]
fn of_a_long_row_of_tags_the_first_fifty_are_taken_and_that_is_told() {
    for (last, is_cut) in [(60, false), (61, true), (u32::MAX, true)] {
        let outcome = tell(&mut after([]), tags_taken(11, last));
        let tags = (11..=60).map(TagNumber).collect();
        assert_eq!(outcome, Outcome::TagsTaken { tags, is_cut });
    }
}

#[test]
fn a_lot_has_one_kitchen_tag() {
    let mut stock = after([put_in("oats", "", "", ""), kitchen_tagged("oats", 7)]);
    let all = Refusal::AllTagged {
        item: item("oats"),
        tag: TagNumber(7),
    };
    assert_eq!(refused(&mut stock, kitchen_tagged("oats", 8)), all);
    let none = Refusal::NoneLeft { item: item("milk") };
    assert_eq!(refused(&mut stock, kitchen_tagged("milk", 8)), none);
}

#[test]
fn a_code_means_one_thing() {
    let mut stock = after([coded("oats", "012345678905"), tag_coded(7, "04A2B1C2")]);
    for (text, known) in [
        ("012345678905", Coded::Item(item("oats"))),
        ("04A2B1C2", Coded::Tag(TagNumber(7))),
    ] {
        for event in [coded("milk", text), tag_coded(8, text)] {
            let known = known.clone();
            assert_eq!(refused(&mut stock, event), Refusal::CodeTaken { known });
        }
    }
}

#[test]
fn a_mark_is_refused_where_two_things_with_it_could_meet() {
    let mut stock = after([
        put_in("oats", "", "pantry", ""),
        put_in("rice", "", "pantry", ""),
        put_in("soup", "", "fridge", ""),
        marked("oats", "1 band"),
    ]);
    let taken = Refusal::MarkTaken {
        mark: mark("1 band"),
        item: item("oats"),
    };
    assert_eq!(refused(&mut stock, marked("rice", "1 band")), taken);
    tell(&mut stock, marked("rice", "1 clip"));
    tell(&mut stock, marked("soup", "1 band"));
}

#[test]
fn what_is_not_there_is_not_marked() {
    let none = Refusal::NoneLeft { item: item("oats") };
    assert_eq!(refused(&mut after([]), marked("oats", "1 band")), none);
}

#[test]
fn a_trip_begins_and_ends_once() {
    let mut stock = after([listed("milk", "")]);
    for event in [Event::CameHome, none_there("milk")] {
        assert_eq!(refused(&mut stock, event), Refusal::NotOnTrip);
    }
    tell(&mut stock, Event::TripBegun);
    assert_eq!(refused(&mut stock, Event::TripBegun), Refusal::OnTrip);
    tell(&mut stock, Event::CameHome);
    assert!(!stock.is_on_trip().unwrap());
}

#[test]
fn only_what_is_listed_can_be_missing_or_replaced() {
    let mut stock = after([Event::TripBegun]);
    for event in [none_there("milk"), got_instead("milk", "oat milk")] {
        let refusal = Refusal::NotListed { item: item("milk") };
        assert_eq!(refused(&mut stock, event), refusal);
    }
}

#[test]
fn only_what_waits_without_a_tag_is_stowed() {
    let mut stock = after([Event::TripBegun, tagged("milk", "", "")]);
    for name in ["milk", "oats"] {
        let refusal = Refusal::NothingWaiting { item: item(name) };
        assert_eq!(refused(&mut stock, stowed(name, "fridge", false)), refusal);
    }
}

#[test]
fn what_is_known_is_not_made_sure() {
    let known = Refusal::KnownAlready { item: item("soup") };
    let mut stock = after([
        Event::TripBegun,
        got("soup"),
        stowed("soup", "pantry", true),
    ]);
    assert_eq!(stock.not_yet_known().unwrap().len(), 1);
    tell(&mut stock, made_sure("soup"));
    assert_eq!(refused(&mut stock, made_sure("soup")), known);
    assert!(!stock.lots(&item("soup")).unwrap()[0].unsure);
}

#[test]
fn only_what_was_noted_as_used_up_last_is_put_back() {
    let nothing = || Refusal::NothingToPutBack { item: item("milk") };
    let mut stock = after([put_in("milk", "", "fridge", "")]);
    assert_eq!(refused(&mut stock, put_back("milk")), nothing());
    tell(&mut stock, used_up("milk"));
    tell(&mut stock, put_in("oats", "", "", ""));
    tell(&mut stock, put_back("milk"));
    assert_eq!(lots(&stock, "milk"), ["? | fridge | "]);
    assert_eq!(refused(&mut stock, put_back("milk")), nothing());
    // Nothing of it was there: nothing comes back.
    let mut stock = after([used_up("milk")]);
    assert_eq!(refused(&mut stock, put_back("milk")), nothing());
}

// What each does.

#[test]
fn what_is_got_on_a_trip_waits_for_its_place() {
    let mut stock = after([listed("oats", "2 bag"), Event::TripBegun, got("oats")]);
    assert!(list(&stock).is_empty());
    tell(&mut stock, Event::CameHome);
    assert_eq!(waiting(&stock), ["2 bag oats"]);
    tell(&mut stock, stowed("oats", "pantry", false));
    assert_eq!(lots(&stock, "oats"), ["2 bag | pantry | "]);
    assert!(waiting(&stock).is_empty());
    let (_, bought) = stock.last_trip().unwrap().unwrap();
    assert_eq!(bought, [(item("oats"), maybe("2 bag"))]);
}

#[test]
fn what_the_store_had_none_of_is_wanted_again_next_time() {
    let mut stock = after([listed("oats", ""), Event::TripBegun, none_there("oats")]);
    assert!(stock.wanted().unwrap().is_empty());
    assert_eq!(list(&stock), ["oats"]);
    tell(&mut stock, Event::CameHome);
    tell(&mut stock, Event::TripBegun);
    assert_eq!(stock.wanted().unwrap().len(), 1);
}

#[test]
fn a_reminder_is_worn_until_its_thing_is_bought() {
    let mut stock = after([reminded("salt", 8)]);
    let worn = stock.worn().unwrap();
    assert_eq!(worn, [(TagNumber(8), item("salt"))]);
    tell(&mut stock, Event::TripBegun);
    tell(&mut stock, got("salt"));
    assert!(stock.worn().unwrap().is_empty());
    assert_eq!(tag_state(&stock, 8), Some(TagState::Free));
}

#[test]
fn tags_in_hand_are_given_out_first_and_laid_down_at_home() {
    let mut stock = after([tags_taken(4, 5), Event::TripBegun]);
    let outcome = tell(&mut stock, tagged("milk", "", ""));
    let Outcome::Tagged { tag, .. } = outcome else {
        panic!("{outcome:?}");
    };
    assert_eq!(tag.number, TagNumber(4));
    assert_eq!(tag_state(&stock, 5), Some(TagState::InHand));
    tell(&mut stock, Event::CameHome);
    assert_eq!(tag_state(&stock, 5), None);
    assert_eq!(tag_state(&stock, 4), Some(TagState::On(item("milk"))));
}

#[test]
fn the_mark_goes_with_the_thing_onto_the_shelf() {
    let mut stock = after([Event::TripBegun, marked("soup", "2 band")]);
    assert_eq!(waiting(&stock), ["soup, 2 band"]);
    tell(&mut stock, tagged("soup", "", ""));
    assert_eq!(waiting(&stock), ["tag 1: soup, 2 band"]);
    tell(&mut stock, put_away(1, "pantry"));
    let lots = stock.lots(&item("soup")).unwrap();
    assert_eq!(lots[0].mark, Some(mark("2 band")));
}

#[test]
fn the_tag_of_what_is_gone_waits_to_be_read() {
    let mut stock = after([
        put_in("oats", "1 bag", "", ""),
        kitchen_tagged("oats", 7),
        used("oats", "1 bag"),
    ]);
    assert_eq!(tag_state(&stock, 7), Some(TagState::Spent(item("oats"))));
    tell(&mut stock, tag_spent(7));
    let free = PoolTag {
        number: TagNumber(7),
        kind: TagKind::Kitchen,
        state: TagState::Free,
    };
    assert_eq!(stock.pool().unwrap(), [free]);
    assert_eq!(list(&stock), ["oats"]);
}

#[test]
fn a_kitchen_tag_that_is_read_takes_its_own_lot_off_the_shelf() {
    let mut stock = after([
        put_in("oats", "1 bag", "pantry", ""),
        put_in("oats", "2 bag", "pantry", ""),
        kitchen_tagged("oats", 7),
    ]);
    assert_eq!(
        stock.lot_of_tag(TagNumber(7)).unwrap().as_ref().map(show),
        Some("2 bag | pantry | ".to_owned())
    );
    tell(&mut stock, tag_spent(7));
    assert_eq!(lots(&stock, "oats"), ["1 bag | pantry | "]);
    assert_eq!(list(&stock), ["oats"]);
    assert_eq!(
        stock.uses(&item("oats")).unwrap(),
        [(at().date(), maybe("2 bag"))]
    );
}

#[test]
fn what_is_put_back_is_as_it_was() {
    let mut stock = after([
        put_in("milk", "2 carton", "fridge", "use by 2026-12-01"),
        kitchen_tagged("milk", 7),
        marked("milk", "1 band"),
    ]);
    let before = stock.shelf().unwrap();
    tell(&mut stock, used_up("milk"));
    tell(&mut stock, put_in("oats", "", "", ""));
    tell(&mut stock, put_back("milk"));
    let mut after = stock.shelf().unwrap();
    after.retain(|lot| lot.item == item("milk"));
    // Its number may have been given again.
    after[0].id = before[0].id;
    assert_eq!(after, before);
    assert!(list(&stock).is_empty());
    assert!(stock.uses(&item("milk")).unwrap().is_empty());
}

// Where the stock once was wrong.

#[test]
fn at_home_too_what_is_taken_instead_goes_off_the_list() {
    let stock = after([
        listed("milk", ""),
        listed("oat milk", ""),
        reminded("oat milk", 8),
        got_instead("milk", "oat milk"),
    ]);
    assert!(list(&stock).is_empty());
    assert!(stock.worn().unwrap().is_empty());
}

#[test]
fn what_is_worn_can_be_replaced_at_the_store() {
    let mut stock = after([reminded("milk", 8), Event::TripBegun]);
    tell(&mut stock, got_instead("milk", "oat milk"));
    assert!(stock.worn().unwrap().is_empty());
    assert_eq!(waiting(&stock), ["oat milk"]);
}

#[test]
fn the_tag_takes_over_how_much_is_in_the_basket() {
    let mut stock = after([
        listed("oats", "2 bag"),
        Event::TripBegun,
        got("oats"),
        tagged("oats", "", ""),
    ]);
    assert_eq!(waiting(&stock), ["tag 1: 2 bag oats"]);
    tell(&mut stock, put_away(1, "pantry"));
    assert_eq!(lots(&stock, "oats"), ["2 bag | pantry | "]);
    // What was read off the thing counts for more.
    stock = after([
        listed("oats", "2 bag"),
        Event::TripBegun,
        got("oats"),
        tagged("oats", "1 bag", ""),
    ]);
    assert_eq!(waiting(&stock), ["tag 1: 1 bag oats"]);
}

#[test]
fn what_is_bought_waits_also_beside_a_tag_from_another_trip() {
    let mut stock = after([
        Event::TripBegun,
        tagged("oats", "1 bag", ""),
        Event::CameHome,
        listed("oats", "2 bag"),
        Event::TripBegun,
        got("oats"),
    ]);
    assert_eq!(waiting(&stock), ["tag 1: 1 bag oats", "2 bag oats"]);
    // What was tagged on this trip is the thing that is got.
    stock = after([Event::TripBegun, tagged("oats", "1 bag", ""), got("oats")]);
    assert_eq!(waiting(&stock), ["tag 1: 1 bag oats"]);
}

#[test]
fn what_is_tagged_on_a_trip_is_not_what_waits_at_home() {
    let mut stock = after([
        listed("oats", "2 bag"),
        Event::TripBegun,
        got("oats"),
        Event::CameHome,
        Event::TripBegun,
        tagged("oats", "1 bag", ""),
    ]);
    assert_eq!(waiting(&stock), ["tag 1: 1 bag oats", "2 bag oats"]);
    // At home it is.
    tell(&mut stock, put_away(1, "pantry"));
    tell(&mut stock, Event::CameHome);
    tell(&mut stock, tagged("oats", "", ""));
    assert_eq!(waiting(&stock), ["tag 1: 2 bag oats"]);
}

#[test]
fn a_tag_that_is_read_frees_no_other() {
    let mut stock = after([
        put_in("oats", "", "", ""),
        kitchen_tagged("oats", 7),
        put_in("oats", "", "", ""),
        kitchen_tagged("oats", 8),
        used_up("oats"),
    ]);
    tell(&mut stock, tag_spent(7));
    assert_eq!(tag_state(&stock, 8), Some(TagState::Spent(item("oats"))));
    tell(&mut stock, tag_spent(8));
    assert_eq!(list(&stock), ["oats"]);
    // All of them at once, by name.
    let mut stock = after([
        put_in("oats", "", "", ""),
        kitchen_tagged("oats", 7),
        used_up("oats"),
        put_in("oats", "", "", ""),
        kitchen_tagged("oats", 8),
    ]);
    tell(&mut stock, spent("oats"));
    for number in [7, 8] {
        assert_eq!(tag_state(&stock, number), Some(TagState::Free));
    }
}

#[test]
fn what_a_temporary_tag_was_on_was_used() {
    let stock = after([tagged("fish", "1 pound", ""), tag_spent(1)]);
    assert!(waiting(&stock).is_empty());
    assert_eq!(
        stock.uses(&item("fish")).unwrap(),
        [(at().date(), maybe("1 pound"))]
    );
}

#[test]
fn a_temporary_tag_keeps_its_code() {
    let tag = Some(Coded::Tag(TagNumber(1)));
    let mut stock = after([
        tags_taken(1, 2),
        tag_coded(1, "04A2B1C2"),
        tag_coded(2, "04A2B1C3"),
    ]);
    for event in [
        tagged("milk", "", ""),
        Event::TripBegun,
        Event::CameHome,
        put_away(1, "fridge"),
    ] {
        tell(&mut stock, event);
        assert_eq!(stock.code(&code("04A2B1C2")).unwrap(), tag);
    }
    let other = Some(Coded::Tag(TagNumber(2)));
    assert_eq!(stock.code(&code("04A2B1C3")).unwrap(), other);
    // While it is in use, it can be told too.
    let stock = after([tagged("milk", "", ""), tag_coded(1, "04A2B1C2")]);
    assert_eq!(stock.code(&code("04A2B1C2")).unwrap(), tag);
    assert_eq!(stock.tags().unwrap().len(), 1);
}

#[test]
fn a_tag_that_was_on_something_else_since_is_not_put_back() {
    let mut stock = after([
        put_in("milk", "", "fridge", ""),
        kitchen_tagged("milk", 7),
        used_up("milk"),
        put_in("oats", "", "pantry", ""),
        kitchen_tagged("oats", 7),
        used_up("oats"),
        put_back("milk"),
    ]);
    assert_eq!(tag_state(&stock, 7), Some(TagState::Spent(item("oats"))));
    assert_eq!(stock.lots(&item("milk")).unwrap()[0].tag, None);
    stock.check().unwrap();
    tell(&mut stock, put_back("oats"));
    assert_eq!(
        stock.lots(&item("oats")).unwrap()[0].tag,
        Some(TagNumber(7))
    );
}

#[test]
fn what_is_put_back_comes_back_beside_a_tag_that_was_read_with_it() {
    let mut stock = after([
        put_in("milk", "", "fridge", ""),
        kitchen_tagged("milk", 7),
        used_up("milk"),
        put_in("milk", "1 carton", "fridge", ""),
        spent("milk"),
    ]);
    assert_eq!(tag_state(&stock, 7), Some(TagState::Free));
    tell(&mut stock, put_back("milk"));
    assert_eq!(lots(&stock, "milk"), ["1 carton | fridge | "]);
}

#[test]
fn what_is_put_back_goes_before_what_came_while_it_was_gone() {
    let later = at() + chrono::TimeDelta::hours(2);
    let mut stock = after([
        tagged("milk", "3 carton", ""),
        put_in("milk", "1 carton", "fridge", ""),
        put_in("milk", "2 carton", "fridge", ""),
        used_up("milk"),
    ]);
    stock
        .record(
            put_away(1, "fridge"),
            later,
            tellshelf::stock::Source::Typed,
        )
        .unwrap();
    tell(&mut stock, put_back("milk"));
    let all = ["1 carton", "2 carton", "3 carton"];
    assert_eq!(amounts(&stock, "milk"), all);
}

#[test]
fn what_was_renamed_meanwhile_is_put_back() {
    let mut stock = after([
        put_in("milk", "1 carton", "fridge", ""),
        used_up("milk"),
        renamed("milk", "oat milk"),
        renamed("oat milk", "oat drink"),
    ]);
    tell(&mut stock, put_back("oat drink"));
    assert_eq!(lots(&stock, "oat drink"), ["1 carton | fridge | "]);
    assert!(list(&stock).is_empty());
}

#[test]
fn what_has_the_old_name_of_something_else_is_not_that() {
    let mut stock = after([
        put_in("milk", "1 carton", "fridge", ""),
        used_up("milk"),
        renamed("milk", "oat milk"),
        put_in("milk", "2 carton", "fridge", ""),
    ]);
    for name in ["milk", "soy milk"] {
        let item = item(name);
        let refusal = Refusal::NothingToPutBack { item };
        assert_eq!(refused(&mut stock, put_back(name)), refusal);
    }
    tell(&mut stock, put_back("oat milk"));
    assert_eq!(lots(&stock, "oat milk"), ["1 carton | fridge | "]);
    // A name that was taken back was never given.
    let mut stock = after([
        put_in("milk", "1 carton", "fridge", ""),
        used_up("milk"),
        renamed("milk", "oat milk"),
    ]);
    undo(&mut stock);
    tell(&mut stock, listed("oat milk", ""));
    refused(&mut stock, put_back("oat milk"));
    tell(&mut stock, put_back("milk"));
}

#[test]
fn a_medicine_shares_no_mark_with_food() {
    let mut stock = after([
        put_in("oats", "", "pantry", ""),
        marked("oats", "1 band"),
        put_in("aspirin", "", "bathroom", ""),
        described("aspirin", medicine()),
    ]);
    let taken = Refusal::MarkTaken {
        mark: mark("1 band"),
        item: item("oats"),
    };
    assert_eq!(refused(&mut stock, marked("aspirin", "1 band")), taken);
    // Nor food with a medicine.
    tell(&mut stock, marked("aspirin", "1 clip"));
    let taken = Refusal::MarkTaken {
        mark: mark("1 clip"),
        item: item("aspirin"),
    };
    assert_eq!(refused(&mut stock, marked("oats", "1 clip")), taken);
}

#[test]
fn where_a_thing_is_can_be_said_of_what_is_nowhere_yet() {
    let mut stock = after([
        put_in("eggs", "6", "", ""),
        put_in("eggs", "2", "cellar", ""),
        put_in("eggs", "3", "", ""),
    ]);
    tell(&mut stock, located("eggs", "fridge"));
    let there = ["6 | fridge | ", "2 | cellar | ", "3 | fridge | "];
    assert_eq!(lots(&stock, "eggs"), there);
    let last = stock.facts(&item("eggs")).unwrap().last_place;
    assert_eq!(last.unwrap().as_str(), "fridge");
    let known = Refusal::KnownAlready { item: item("eggs") };
    assert_eq!(refused(&mut stock, located("eggs", "pantry")), known);
    let none = Refusal::NoneLeft { item: item("milk") };
    assert_eq!(refused(&mut stock, located("milk", "pantry")), none);
}
