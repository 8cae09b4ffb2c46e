//! Random days in a kitchen with few things, few tags and few marks, so that they get in each other's way.

use proptest::prelude::*;
use tellshelf::stock::{
    Allergen, Change, Comes, Container, Event, Fact, Feel, ItemKind, Lid, OwnWords, Place, Section,
};

use super::store::USUAL;
use crate::stock_kitchen::*;

#[derive(Debug, Clone)]
pub enum Step {
    Tell(Event),
    Undo,
}

/// What scanners read in these days.
pub const CODES: [&str; 3] = ["04A2B1C2", "04A2B1C3", "012345678905"];

fn one_of(texts: &'static [&'static str]) -> impl Strategy<Value = &'static str> + Clone {
    prop::sample::select(texts)
}

fn facts() -> impl Strategy<Value = Fact> {
    let words = |text: &str| OwnWords::new(text).unwrap();
    let peanuts = |contains| Fact::Allergen {
        allergen: Allergen::new("peanuts").unwrap(),
        contains,
    };
    prop::sample::select(vec![
        Fact::Kind(ItemKind::Food),
        Fact::Kind(ItemKind::Medicine),
        Fact::Kind(ItemKind::Medicine),
        Fact::Kind(ItemKind::Household),
        Fact::Section(Section::new("baking").unwrap()),
        Fact::Section(Section::new("dairy").unwrap()),
        Fact::Section(Section::new("produce").unwrap()),
        Fact::Place(Place::new("pantry").unwrap()),
        Fact::Directions(words("boil ten minutes")),
        Fact::Directions(words("stir well")),
        Fact::Step(words("let it rest")),
        Fact::Step(words("drain it")),
        Fact::Make(words("the small ones")),
        Fact::Note(words("at the back")),
        peanuts(true),
        peanuts(false),
        Fact::Feel(Feel::default().with(Container::Can)),
        Fact::Feel(Feel::default().with(Container::Jar).with(Lid::PopTop)),
    ])
}

/// What happens, but for undo.
fn events() -> impl Strategy<Value = Event> {
    let name = one_of(&["oats", "bacon", "steak"]);
    let form = one_of(&["oats", "baking", "steak"]);
    let quantity = one_of(&[
        "1 bag",
        "2 bag",
        "1/3 bag",
        "1",
        "3",
        "300 gram",
        "1 pound",
        "1/7 ounce",
        "2 kilogram",
        "0 bag",
    ]);
    let maybe = prop_oneof![1 => Just(""), 3 => quantity.clone()].boxed();
    let on = one_of(&[
        "",
        "",
        "use by 2026-12-01",
        "best by 2026-12-01, use by 2026-12-24",
        "sell by 2026-11-30, bought 2026-11-01",
        "opened 2026-11-02",
        "opened 2026-11-02, use by 2026-11-08",
        "opened 2026-11-01, frozen 2026-11-02, thawed 2026-11-20",
        "freeze by 2027-01-01, packed 2026-11-01, frozen 2026-11-03",
    ]);
    let place = one_of(&["pantry", "fridge"]);
    let somewhere = one_of(&["", "pantry", "fridge", "freezer"]);
    let where_it_is = one_of(&["pantry", "fridge", "freezer"]);
    let from = one_of(&["", "", "pantry", "fridge"]);
    let how = prop::sample::select(vec![
        Change::Opened,
        Change::Frozen,
        Change::Thawed,
        Change::Moved,
    ]);
    let (tag, band) = (1..5u32, one_of(&["1 band", "2 band lid", "2 band"]));
    let later = one_of(&[
        "use by 2026-12-01",
        "best by 2026-12-24",
        "opened 2026-11-02",
        "thawed 2026-11-20",
    ]);
    let section = || one_of(&USUAL).prop_map(|name| Section::new(name).unwrap());
    let comes = prop_oneof![
        Just(Comes::First),
        Just(Comes::Last),
        section().prop_map(Comes::Before),
        section().prop_map(Comes::After),
    ];
    let (n, q, code) = (|| name.clone(), || quantity.clone(), || one_of(&CODES));
    prop_oneof![
        18 => (n(), maybe.clone(), place.clone(), on.clone()).prop_map(|(n, q, p, d)| put_in(n, q, p, d)),
        1 => (n(), maybe.clone(), on.clone()).prop_map(|(n, q, d)| put_in(n, q, "", d)),
        3 => (tag.clone(), place.clone()).prop_map(|(t, p)| put_away(t, p)),
        3 => n().prop_map(used_up),
        6 => (n(), how.clone(), maybe.clone(), somewhere).prop_map(|(n, h, q, p)| changed(n, h, q, p)),
        2 => (n(), how, maybe.clone(), where_it_is.clone()).prop_map(|(n, h, q, p)| only(changed(n, h, q, "cellar"), p)),
        3 => (n(), q(), from.clone()).prop_map(|(n, q, f)| only(used(n, q), f)),
        3 => (n(), from).prop_map(|(n, f)| only(used_up(n), f)),
        6 => (n(), q()).prop_map(|(n, q)| used(n, q)),
        2 => (n(), maybe.clone()).prop_map(|(n, q)| listed(n, q)),
        1 => n().prop_map(unlisted),
        3 => n().prop_map(got),
        2 => (n(), q()).prop_map(|(n, q)| got_some(n, q)),
        2 => (n(), n()).prop_map(|(n, i)| got_instead(n, i)),
        2 => n().prop_map(none_there),
        2 => (n(), q()).prop_map(|(n, q)| kept_at(n, q)),
        3 => (n(), maybe, on).prop_map(|(n, q, d)| tagged(n, q, d)),
        2 => (n(), facts()).prop_map(|(n, f)| described(n, f)),
        1 => (n(), code()).prop_map(|(n, c)| coded(n, c)),
        2 => (tag.clone(), code()).prop_map(|(t, c)| tag_coded(t, c)),
        4 => (n(), tag.clone()).prop_map(|(n, t)| kitchen_tagged(n, t)),
        2 => (n(), tag.clone()).prop_map(|(n, t)| reminded(n, t)),
        2 => (tag.clone(), tag.clone()).prop_map(|(a, b)| tags_taken(a, b)),
        1 => (tag.clone(), 40..80u32).prop_map(|(a, b)| tags_taken(a, b)),
        1 => tag.clone().prop_map(tag_lost),
        1 => tag.clone().prop_map(tag_found),
        3 => tag.prop_map(tag_spent),
        2 => n().prop_map(spent),
        2 => (section(), comes).prop_map(|(section, comes)| Event::SectionPlaced { section, comes }),
        1 => Just(Event::StoreForgotten),
        2 => Just(Event::TripBegun),
        1 => Just(Event::CameHome),
        4 => (n(), band).prop_map(|(n, m)| marked(n, m)),
        3 => (n(), place, prop::bool::ANY).prop_map(|(n, p, u)| stowed(n, p, u)),
        3 => n().prop_map(made_sure),
        2 => (n(), q()).prop_map(|(n, q)| counted(n, q)),
        2 => (n(), where_it_is).prop_map(|(n, p)| located(n, p)),
        2 => (n(), later.clone()).prop_map(|(n, d)| dated(n, d)),
        2 => (n(), later).prop_map(|(n, d)| date_changed(n, d)),
        3 => n().prop_map(put_back),
        2 => (n(), n(), form.clone()).prop_map(|(n, a, b)| heard(listed(n, ""), &[a, b])),
        2 => (n(), form.clone()).prop_map(|(n, f)| heard(used_up(n), &[f])),
        1 => n().prop_map(unheard),
        1 => (n(), form.clone()).prop_map(|(n, f)| renamed(n, f)),
        1 => (form, n()).prop_map(|(n, f)| renamed(n, f)),
        1 => prop::bool::ANY.prop_map(|keep| Event::SoundsAllowed { keep }),
    ]
}

/// Some things that follow one another in a kitchen, with anything in between.
fn stories() -> impl Strategy<Value = Vec<Event>> {
    let name = || one_of(&["oats", "bacon", "steak"]);
    let (tag, much) = (1..5u32, one_of(&["", "2 bag", "1 pound"]));
    let band = one_of(&["1 band", "2 band lid", "2 band"]);
    let gone = (name(), prop::bool::ANY);
    let gone = gone.prop_map(|(n, is_read)| if is_read { spent(n) } else { used_up(n) });
    let away = prop::collection::vec(events(), 0..4);
    let how = || prop::sample::select(vec![Change::Opened, Change::Frozen, Change::Thawed]);
    let often = prop::collection::vec(prop::collection::vec(events(), 2..5), 5..8);
    let ends: Vec<fn(&'static str) -> Vec<Event>> = vec![
        |n| vec![Event::TripBegun, got(n), Event::CameHome, used(n, "1")],
        |n| {
            vec![
                unlisted(n),
                used(n, "1"),
                Event::TripBegun,
                Event::CameHome,
                used(n, "1"),
            ]
        },
        |n| {
            vec![
                got(n),
                used(n, "1"),
                put_in(n, "1", "pantry", ""),
                used(n, "1"),
            ]
        },
    ];
    let ends = prop::sample::select(ends);
    prop_oneof![
        12 => events().prop_map(|event| vec![event]),
        // In and out of the freezer.
        1 => (name(), prop::collection::vec(how(), 2..5), events()).prop_map(|(n, all, e)| {
            let changes = all.into_iter().map(|how| changed(n, how, "", if how == Change::Frozen { "freezer" } else { "fridge" }));
            [put_in(n, "", "fridge", ""), e].into_iter().chain(changes).collect()
        }),
        1 => (gone, events(), name()).prop_map(|(g, e, n)| vec![g, e, put_back(n)]),
        // The same of what gets another name in between, and maybe its own again.
        1 => (name(), one_of(&["mill", "oaks", "oat"]), events(), prop::bool::ANY).prop_map(|(n, new, e, again)| {
            let gone = [put_in(n, "1 bag", "pantry", ""), used_up(n), renamed(n, new), e];
            let end = if again { vec![renamed(new, n), put_back(n)] } else { vec![put_back(new)] };
            gone.into_iter().chain(end).collect()
        }),
        // One tag for one thing after another.
        1 => (name(), name(), tag.clone(), events()).prop_map(|(n, m, t, e)| {
            let first = [kitchen_tagged(n, t), used_up(n), e];
            let next = [kitchen_tagged(m, t), used_up(m), put_back(n)];
            first.into_iter().chain(next).collect()
        }),
        1 => (tag, events()).prop_map(|(t, e)| vec![tag_lost(t), e, tag_found(t)]),
        // One mark for a thing and for a medicine.
        1 => (name(), name(), band, events(), prop::bool::ANY).prop_map(|(n, m, b, e, is_first)| {
            let medicine = described(if is_first { n } else { m }, Fact::Kind(ItemKind::Medicine));
            let first = [put_in(n, "", "pantry", ""), marked(n, b), medicine];
            first.into_iter().chain([e, put_in(m, "", "fridge", ""), marked(m, b)]).collect()
        }),
        // A thing that is used each day, until it is told when it runs out.
        1 => (one_of(&["rice", "milk"]), one_of(&["8", "12", "40"]), often, ends).prop_map(|(n, q, e, end)| {
            let day = |e: Vec<Event>| [vec![used(n, "1")], e].concat();
            let days = e.into_iter().flat_map(day);
            [put_in(n, q, "pantry", "")].into_iter().chain(days).chain(end(n)).collect()
        }),
        // One thing from the list to its place.
        1 => (name(), much, one_of(&["", "1 bag"]), away, events(), prop::bool::ANY).prop_map(|(n, q, some, away, e, is_tagged)| {
            let away = [listed(n, q), Event::TripBegun].into_iter().chain(away);
            let tag = is_tagged.then(|| tagged(n, "", ""));
            let home = [Event::CameHome, e, stowed(n, "pantry", true)];
            away.chain([got_some(n, some)]).chain(tag).chain(home).collect()
        }),
    ]
}

/// Days, of which now and then the last of what happened is taken back.
pub fn steps() -> impl Strategy<Value = Vec<Step>> {
    let story = stories().prop_map(|events| events.into_iter().map(Step::Tell).collect());
    let undos = (1..6usize).prop_map(|n| vec![Step::Undo; n]);
    prop::collection::vec(prop_oneof![12 => story, 1 => undos], 1..60).prop_map(|s| s.concat())
}
