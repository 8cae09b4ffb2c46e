//! What is likely to run out before the next trip goes onto the list by itself, event by event.

mod stock_kitchen;

use chrono::Days;
use stock_kitchen::*;
use tellshelf::stock::{Event, Outcome, Source, Stock, Why};

/// Records what happens on a day, counted from that Wednesday.
fn on(stock: &mut Stock, n: u64, event: Event) -> Outcome {
    let at = at() + Days::new(n);
    stock
        .record(event.clone(), at, Source::Typed)
        .unwrap_or_else(|e| panic!("{event:?}: {e}"))
}

/// Milk, of which a carton is used every third day from the first on, so often.
fn used_every_third_day(cartons: &str, times: u64) -> Stock {
    let mut stock = after([put_in("milk", cartons, "fridge", "")]);
    for n in 0..times {
        on(&mut stock, 3 * n, used("milk", "1 carton"));
    }
    stock
}

fn why(stock: &Stock) -> Option<Why> {
    stock.why_listed(&item("milk")).unwrap().map(|(why, _)| why)
}

fn begun(outcome: &Outcome) -> (usize, usize) {
    match outcome {
        Outcome::TripBegun {
            lines, running_out, ..
        } => (*lines, *running_out),
        other => panic!("{other:?}"),
    }
}

#[test]
fn with_too_little_history_nothing_is_listed() {
    // Four uses, and one carton is left.
    let mut stock = used_every_third_day("5 carton", 4);
    on(&mut stock, 10, Event::TripBegun);
    assert!(list(&stock).is_empty());
}

#[test]
fn what_is_used_and_runs_out_within_a_week_is_listed() {
    let stock = used_every_third_day("7 carton", 5);
    assert_eq!(why(&stock), Some(Why::RunningOut));
    // Of twenty cartons, enough is left.
    assert_eq!(why(&used_every_third_day("20 carton", 5)), None);
}

#[test]
fn what_is_used_up_is_listed_as_that() {
    assert_eq!(why(&used_every_third_day("5 carton", 5)), Some(Why::UsedUp));
}

#[test]
fn what_is_asked_for_stays_asked_for() {
    let mut stock = after([put_in("milk", "7 carton", "", ""), listed("milk", "")]);
    for n in 0..5 {
        on(&mut stock, 3 * n, used("milk", "1 carton"));
    }
    assert_eq!(why(&stock), Some(Why::AskedFor));
}

#[test]
fn a_trip_lists_what_was_far_off_when_it_was_used() {
    // Four are left after the fifth use; by the eighth day after that, they are nearly gone.
    let mut stock = used_every_third_day("9 carton", 5);
    assert_eq!(why(&stock), None);
    let outcome = on(&mut stock, 17, Event::TripBegun);
    assert_eq!(begun(&outcome), (1, 1));
    assert_eq!(why(&stock), Some(Why::RunningOut));
    assert_eq!(undo(&mut stock), Event::TripBegun);
    assert_eq!(why(&stock), None);
}

#[test]
fn no_question_lists_anything() {
    let stock = used_every_third_day("9 carton", 5);
    let before = stock.dump().unwrap();
    let today = at().date() + Days::new(17);
    assert_eq!(stock.running_out(today).unwrap().len(), 1);
    stock.run_out(&item("milk"), today).unwrap().unwrap();
    stock.list().unwrap();
    assert_eq!(stock.dump().unwrap(), before);
}

#[test]
fn the_days_between_trips_tell_how_far_is_looked_ahead() {
    // Three trips, two weeks from one to the next.
    let mut stock = Stock::in_memory().unwrap();
    for n in [0, 14, 28] {
        for event in [Event::TripBegun, Event::CameHome] {
            on(&mut stock, n, event);
        }
    }
    on(&mut stock, 28, put_in("milk", "9 carton", "fridge", ""));
    for n in 0..5 {
        on(&mut stock, 28 + 3 * n, used("milk", "1 carton"));
    }
    // In a week it wouldn't have run out.
    assert_eq!(why(&stock), Some(Why::RunningOut));
}

#[test]
fn what_is_taken_off_stays_off_until_it_came_in() {
    let mut stock = used_every_third_day("8 carton", 6);
    on(&mut stock, 15, unlisted("milk"));
    on(&mut stock, 18, used("milk", "1 carton"));
    on(&mut stock, 18, Event::TripBegun);
    assert_eq!(why(&stock), None);

    on(&mut stock, 18, put_in("milk", "1 carton", "fridge", ""));
    assert_eq!(why(&stock), None, "it has just come in");
    on(&mut stock, 21, used("milk", "1 carton"));
    assert_eq!(why(&stock), Some(Why::RunningOut));
}

#[test]
fn what_is_taken_off_stays_off_until_a_trip_is_over() {
    let mut stock = used_every_third_day("8 carton", 6);
    on(&mut stock, 15, unlisted("milk"));
    on(&mut stock, 16, Event::TripBegun);
    on(&mut stock, 16, Event::CameHome);
    assert_eq!(why(&stock), None);
    on(&mut stock, 18, used("milk", "1 carton"));
    assert_eq!(why(&stock), Some(Why::RunningOut));
}

#[test]
fn what_was_bought_is_not_listed_again_before_it_came_in() {
    // At home, "got the milk" says that there is more, but not how much.
    let mut stock = used_every_third_day("8 carton", 6);
    on(&mut stock, 15, got("milk"));
    on(&mut stock, 18, used("milk", "1 carton"));
    assert_eq!(why(&stock), None);

    let mut stock = used_every_third_day("8 carton", 6);
    on(&mut stock, 15, Event::TripBegun);
    on(&mut stock, 15, got("milk"));
    on(&mut stock, 15, Event::CameHome);
    on(&mut stock, 15, used("milk", "1 carton"));
    assert_eq!(why(&stock), None, "it waits for its place");
}
