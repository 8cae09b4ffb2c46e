//! Every reply that a broad set of conversations gets, for a person to read, and the rules that each keeps.
//!
//! To read them, by what was asked: `cargo test --test talk_all_replies -- --nocapture`.

mod round;
#[path = "common/wordings.rs"]
mod wordings;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use chrono::{Days, NaiveDate, NaiveDateTime};
use round::{Step, Story};
use tellshelf::grammar::{Grammar, GrammarFile, Verdict};
use tellshelf::stock::{Event, Source, Stock};
use tellshelf::talk::{Notice, Session};
use wordings::WORDINGS;

const FILE: &str = include_str!("../grammars/en.yaml");
static GRAMMAR: LazyLock<Grammar> = LazyLock::new(|| Grammar::from_text("en.yaml", FILE).unwrap());
static REPLIES: LazyLock<Replies> = LazyLock::new(Replies::of_all);

/// A kitchen in which most of the wordings find what they speak of.
const STOCKED: &[&str] = &[
    "add two cartons of milk to the fridge, use by December third",
    "add a dozen eggs to the fridge, best by December tenth",
    "add two bags of oats to the pantry, best by March third",
    "add three bags of rice to the pantry",
    "add four cans of beans to the pantry",
    "add two cans of tuna to the pantry",
    "add two cans of tomatoes to the pantry",
    "add a pound of butter to the fridge",
    "add two loaves of bread to the bread box",
    "add a bag of flour to the pantry",
    "add a box of salt to the pantry",
    "add four pounds of ham to the freezer",
    "add chicken to the freezer",
    "add three apples to the counter",
    "add a tub of yogurt to the fridge, use by November twentieth 2026",
    "add a jar of mayonnaise to the fridge",
    "add a box of cookies to the cupboard",
    "directions for the oats are boil ten minutes",
    "directions for the rice are rinse it first",
    "another step boil it ten minutes in two cups of water",
    "the oats contain wheat",
    "the cookies contain peanuts",
    "the rice feels like a soft bag",
    "the beans feel like a small can",
    "I put a tape on the beans",
    "ibuprofen is a medicine",
    "yes",
    "add a bottle of ibuprofen to the medicine cabinet",
    "the ibuprofen feels like a small round bottle",
    "keep six cans of beans",
    "put bread, coffee and tuna on the list",
    "no",
    "I need bread",
    "I need coffee",
    "I need two cans of tuna",
    "I need soap",
    "temporary tag two pounds of salmon, use by December third",
    "temporary tag two pounds of shrimp, use by November twentieth 2026",
    "reminder tag nine for candles",
    "kitchen tag eight on the oats",
];

/// How to come into the mode of the grammar in which an intent is said.
const INTO: [(&str, &[&str]); 8] = [
    ("spent", &["spent tags"]),
    ("store", &["I'm going shopping", "next"]),
    (
        "away",
        &[
            "I'm going shopping",
            "I'm taking tags one to five",
            "temporary tag a carton of milk, use by December ninth",
            "got the bread",
            "got the coffee",
            "got the beans",
            "I'm home",
            "put things away",
        ],
    ),
    ("code", &["6291041500213"]),
    ("reading", &["what is in the pantry"]),
    ("steps", &["how do I cook the rice"]),
    ("asked", &["clear the list"]),
    ("changed", &["add three cans of corn to the pantry"]),
];

/// What can't be, what is asked back and answered, and the rest that no wording of an intent brings about.
const CONVERSATIONS: &[&[&str]] = &[
    &[
        "forget the order of my store",
        "in my store dairy comes after dairy",
    ],
    &[
        "spent tags",
        "eight",
        "eight",
        "done",
        "add a bag of rice to the cupboard",
        "there are six bags of rice left",
    ],
    &["undo", "repeat", "yes", "no", "use by", "what did you hear"],
    &[
        "xylophone quartet",
        "xylophone quartet",
        "xylophone quartet",
        "",
    ],
    &[
        "spent tags",
        "seven",
        "five",
        "reminder tag five for soap",
        "five",
        "help",
        "done",
    ],
    &[
        "kitchen tag eight on the flour",
        "reminder tag eight for soap",
        "kitchen tag nine on the flour",
    ],
    &[
        "I lost tag one",
        "I lost tag eight",
        "I lost tag eight",
        "kitchen tag eight on the flour",
    ],
    &[
        "I found tag three",
        "I found tag eight",
        "I lost tag twenty",
        "what is tag twenty",
    ],
    &[
        "I'm taking tags eight to nine",
        "what is tag eight",
        "what is tag nine",
        "what is tag two",
    ],
    &[
        "I used two bags of sugar",
        "I opened the sugar",
        "put the sugar back",
        "I used up the zhoug",
        "yes",
    ],
    &[
        "I used twenty eggs",
        "I used three cups of oats",
        "I used half the chicken",
        "I used half of it",
    ],
    &[
        "I used a can of tuna from the cellar",
        "I finished the open milk",
        "I opened the milk",
        "I finished the milk",
        "I used two milk",
        "no",
        "I used an egg",
        "I ate a cookie",
        "no",
        "always keep two bottles of milk",
        "add a carton of eggs to the fridge",
        "I need a can of tuna",
        "I need two more cans",
        "got one can of tuna",
        "clear the list",
        "yes",
        "what do I keep",
        "stop keeping milk",
        "stop keeping milk",
        "I bought candles",
        "there are two candles left",
        "put other beans on the list",
        "no",
        "put the bread in the freezer",
        "yes",
        "it's in the freezer",
    ],
    &[
        "I froze the ham",
        "I thawed the milk",
        "I opened the milk",
        "I opened the milk",
        "I opened the milk",
    ],
    &[
        "move the milk to the fridge",
        "move the bread to the freezer",
        "undo",
        "undo the last three",
        "yes",
    ],
    &[
        "take soap off the list",
        "take soap off the list",
        "I need bread",
        "got the honey",
    ],
    &[
        "call it flour",
        "where is the flour",
        "call it rice",
        "spell it",
        "call it plain flour",
        "forget the learned names of flour",
    ],
    &[
        "add milk to the fridge, use by march third 2020",
        "no",
        "add milk to the fridge, use by November tenth",
        "no",
        "yes",
    ],
    &[
        "add milk to the fridge, December tenth",
        "sell by",
        "temporary tag milk, use by next Friday",
    ],
    &[
        "add milk to the fridge, use by February thirtieth",
        "no",
        "add zero eggs to the fridge",
    ],
    &[
        "the eggs are best by december twentieth",
        "no",
        "change the date to december twelfth",
        "yes",
    ],
    &["change the date to december twelfth"],
    &[
        "I put a tape on the tuna",
        "I put two bands on the tuna",
        "I put two bands on the ibuprofen",
        "I put three bands on the tuna",
    ],
    &[
        "I'm home",
        "they have none",
        "next",
        "got it",
        "skip it",
        "in the fridge",
        "done",
        "kitchen tag five",
    ],
    &[
        "I'm going shopping",
        "I'm going shopping",
        "help",
        "next",
        "got it",
        "next",
        "they have none",
        "next",
        "instead I took honey",
        "next",
        "next",
        "what's left",
        "I'm home",
    ],
    &[
        "does the flour contain peanuts",
        "do the cookies have peanuts in them",
        "the label of the oats lists no peanuts",
        "yes",
        "do the oats have peanuts in them",
    ],
    &[
        "vinegar is a medicine",
        "yes",
        "ibuprofen is household",
        "no",
        "what is this small round bottle",
        "what is the soft bag",
    ],
    &[
        "directions for the rice are boil it",
        "no",
        "directions for the salt",
        "next step",
        "how do I cook the rice",
        "next step",
        "next step",
        "back a step",
    ],
    &[
        "add twelve ounces of zhoug to the fridge",
        "by weight",
        "temporary tag",
        "there are six bags of rice left",
    ],
    &[
        "I put the bread in the freezer",
        "no",
        "I put the bread in the cupboard",
        "yes",
    ],
    &[
        "remember how I say new names",
        "yes",
        "how did I say the milk",
        "stop remembering how I say names",
        "forget how I said the names",
    ],
    &[
        "what expires this week",
        "more",
        "back",
        "more",
        "more",
        "more",
        "from the start",
        "the third one",
        "the ninth one",
    ],
    &[
        "what has expired",
        "what expires this month",
        "more",
        "what should I use first",
        "when does the yogurt expire",
        "how much yogurt is left",
    ],
    &[
        "read the list",
        "more",
        "back",
        "back",
        "the second one",
        "the last one",
        "read the tags",
        "which tags are free",
    ],
    &[
        "more",
        "slower",
        "faster",
        "faster",
        "faster",
        "speak at fifty words a minute",
        "softer",
        "louder",
        "brief replies",
        "full replies",
    ],
    &[
        "I used up the milk",
        "why is the milk on the list",
        "put the milk back",
        "I used up the milk",
        "read the list",
    ],
    &[
        "I opened the mayonnaise",
        "when does the mayonnaise expire",
        "I thawed the chicken",
        "I froze the bread yesterday",
    ],
    &[
        "no I said oat milk",
        "I need soy milk",
        "no I said oat milk",
        "spell it",
        "what names have you learned",
    ],
    &[
        "what changed today",
        "more",
        "undo the last ten",
        "yes",
        "what changed today",
    ],
    &[
        "temporary tag salmon",
        "put away the salmon in the freezer",
        "put away tag three in the freezer",
        "put away tag seven in the freezer",
    ],
    &[
        "6291041500214",
        "201234105992",
        "6291041500213",
        "this is the rice",
        "6291041500213",
        "6291041500213",
    ],
    &["6291041500213", "this is tag eight", "6291041500213"],
    &[
        "add six eggs to the fridge, use by December tenth",
        "add six eggs to the fridge, use by December third",
        "I threw out the eggs",
        "six of them",
        "I threw out the eggs",
        "the old ones",
        "I threw out the expired eggs",
        "we don't have any bread",
        "no",
        "is the milk open",
        "when did I open the milk",
        "the tomatoes are bulging",
        "I left the chicken out overnight",
        "is the bread nut free",
        "what has no nuts",
        "add ham to the fridge, use by November tenth",
        "this year",
    ],
    &[
        "put eggs and jam on the list",
        "no",
        "I need zhoug",
        "where is the jam and jelly",
        "where is the xyz",
    ],
    &[
        "I'm going shopping",
        "temporary tag milk, use by December ninth",
        "temporary tag milk, use by December tenth",
        "got the beans",
        "I put a tape on the beans",
        "I put two bands on the coffee",
        "got the coffee",
        "I'm home",
        "put things away",
        "help",
        "milk",
        "tag three",
        "in the fridge",
        "tag nine",
        "sugar",
        "the beans",
        "in the usual place",
        "I can't tell",
        "the heavy one",
        "what is not yet known",
        "skip it",
        "done",
    ],
    &[
        "add milk to the fridge",
        "no I said the pantry",
        "no I meant two hundred",
        "I used two eggs",
        "no I said fifty",
        "no I said two apples",
        "add ham to the fridge use by december fifth",
        "no I meant november third 2020",
        "no",
    ],
    &[
        "add milk december fifth",
        "I used up the zhoug",
        "yes",
        "add a tub of yogurt to the fridge december fifth",
        "temporary tag two pounds of salmon december sixth",
        "use by",
        "the eggs are december ninth",
        "where are the beans",
    ],
    &[
        "does it have nuts",
        "add a thing",
        "where is the rice",
        "does it have nuts",
        "how long does it keep",
        "spell it",
    ],
    &[
        "add milk eggs and butter to the pantry",
        "no",
        "add milk to the fridge and eggs to the fridge",
        "no",
    ],
    &["spent tags", "okay", "99999", "the oats", "stop"],
    &[
        "add two cans of tuna to the pantry",
        "add two cans of tuna to the garage",
        "kitchen tag three on the tuna",
        "yes",
        "the tuna contains fish",
        "two bands on the tuna",
        "what mark is on the tuna",
        "I took the bands off the tuna",
        "what mark is on the tuna",
        "tag three is in the cellar",
        "spent tags",
        "next",
        "tuna",
        "no",
        "one can of tuna",
        "the tuna in the pantry",
        "done",
        "I used up tag three",
        "temporary tag sugar",
        "in the fridge",
        "tag one is free",
        "yes",
        "tag one is free",
        "put the tag four thing in the pantry",
        "temporary tag beans with two bands",
        "temporary tag ham use by december 3 best by december 1",
        "change the rolls to four",
        "I need four pounds of flour",
        "change the flour to six pounds",
        "take two cups of flour off the list",
        "take two pounds of flour off the list",
        "is flour on the list",
        "do I need milk",
        "I'm going shopping",
        "undo",
        "no",
        "next",
        "I can't find it",
        "I'm done shopping",
        "got two cans of corn",
        "got two cans of corn",
        "got the corn",
        "what's left",
        "I'm home",
        "put things away",
        "what's left",
        "next",
    ],
    &[
        "I'm going shopping",
        "they have no bread",
        "instead I took rolls",
        "next",
        "next",
        "help",
        "back",
        "the third one",
        "the previous line",
        "I'm home",
        "put things away",
        "in the fridge",
        "tag thirty",
        "no",
        "tag two",
        "no in the pantry",
    ],
    &[
        "how do I cook the rice",
        "add a step wait ten minutes",
        "add a step stool to the list",
        "next",
        "back",
    ],
    &[
        "what do I have",
        "there's milk in the fridge",
        "I just bought sugar",
    ],
    &[
        "slower",
        "too slow",
        "quieter",
        "undo twice",
        "yes",
        "be quiet",
    ],
    &[
        "teach me",
        "xylophone quartet",
        "xylophone quartet",
        "xylophone quartet",
        "quit",
    ],
];

/// What the person asked to hear may be long. Anything else is done or answered in [`MOST`] words.
const MAY_BE_LONG: &[(&str, &str)] = &[
    ("help", "what can be said is asked for"),
    ("tag-read", "a tag is read in full"),
    (
        "tag-kitchen",
        "the same, as it goes on: nothing on it may be wrong",
    ),
    ("goes-with-tag", "the same"),
    (
        "goes-there",
        "what was done, what it feels like there, and the next thing in hand",
    ),
    ("place-meant", "the same"),
    ("directions-ask", "directions are the maker's words"),
    (
        "directions-note",
        "they are said back in the person's words",
    ),
    ("expired", "a list, as what expires, with its caution"),
    (
        "not-yet-known",
        "a list, with what has no date and no place yet",
    ),
    ("good-ask", "its dates are told, and that is no yes"),
    ("take-ask", "they are the label's words"),
    ("step-note", "the same"),
    ("step-next", "directions are the maker's words"),
    ("step-back", "the same"),
    ("step-first", "the same"),
    ("keeps", "a published time is told with its source"),
    ("names-read", "all learned names are asked for"),
    ("tags-free", "the numbers of all tags are asked for"),
    (
        "tags-read",
        "three tags, each with its date, and the caution",
    ),
    (
        "expires",
        "three things, each with its date and place, and the caution",
    ),
    ("use-first", "the same"),
    ("more", "the same"),
    ("page-back", "the same"),
    ("from-start", "the same"),
];

/// So many words are kept in mind with hands in a bowl.
const MOST: usize = 20;

/// Words that only eyes have a use for. "Look" is among a person's own words in the story, and is left to them.
const SIGHT: &[&str] = &[
    "see",
    "seen",
    "look",
    "looks",
    "screen",
    "show",
    "shows",
    "shown",
    "display",
    "displayed",
    "click",
    "press",
    "tap",
    "above",
    "below",
    "red",
    "green",
    "color",
    "icon",
    "button",
    "page",
    "highlighted",
];
const OWN_WORDS: &[&str] = &["open the carton and look"];
/// A place on a scale, and not on a page.
const NO_PLACE: &str = "below its keep level";

/// A reply begins with its thing, its number, or the one word that says what became of it: "Milk", "3 things", "Undone",
/// "No", "Already". Never with one of these, behind which the ear still waits.
const FILLERS: &[&str] = &[
    "i have",
    "i've",
    "i will",
    "i'll add",
    "i am",
    "ok",
    "okay",
    "so",
    "well",
    "sure",
    "great",
    "now",
    "please",
    "the item",
    "this item",
    "item",
    "success",
    "successfully",
    "your",
    "you have",
    "here is",
    "here are",
    "it is",
    "it looks",
    "as you",
    "just",
    "done",
    "added",
    "updated",
    "system",
    "error",
];

/// What each refusal is known by.
const REFUSALS: [(&str, &str); 29] = [
    ("NoOwnOrder", "the usual one already"),
    ("SameSection", "twice. Nothing changed."),
    ("NoneLeft", "on the shelf. Nothing changed."),
    ("NoneSuch", "is noted there. Nothing changed."),
    ("NotEnough", ": only "),
    ("OtherMeasure", "can't take"),
    ("UnknownAmount", "the amount isn't known yet"),
    ("AllSoAlready", "none is unopened"),
    ("NotListed", "Not on the list"),
    ("AlreadyListed", "Already on the list"),
    ("NoSuchTag", "There is no tag"),
    ("NothingLearned", "No other names learned"),
    ("NeverHad", "I know no"),
    ("NameTaken", "is a name already"),
    ("TagInUse", "Take another tag."),
    ("OtherTag", "is a reminder tag. Nothing changed."),
    ("TagOnNothing", "is on nothing"),
    ("TagIsLost", "is noted as lost"),
    ("TagNotLost", "isn't lost"),
    ("NoneToTake", "is free. Nothing changed."),
    ("AllTagged", "already. Nothing changed."),
    ("CodeTaken", "already. Nothing changed."),
    ("MarkTaken", "Already on the"),
    ("OnTrip", "on a trip already"),
    ("NotOnTrip", "No trip is on. Nothing"),
    ("WhichLot", "Say what was used"),
    ("KnownAlready", "that is known"),
    ("NothingToPutBack", "wasn't the last thing used up"),
    ("NothingToUndo", "Nothing is left to undo."),
];

/// The talk looks first whether the thing waits, so that this one is heard by nobody.
const FOR_NOBODY: &str = "NothingWaiting";

/// What was answered to what, under the name of the intent that was understood.
#[derive(Default)]
struct Replies(BTreeMap<String, BTreeMap<String, String>>);

impl Replies {
    /// All there are.
    fn of_all() -> Self {
        let mut replies = Self::default();
        let file = GrammarFile::parse("en.yaml", FILE).unwrap();
        for &(intent, lines) in WORDINGS {
            let modes = file.modes.iter();
            let of = |mode: &str| modes.clone().find(|one| one.name == mode);
            let has = |mode: &str| {
                of(mode).is_some_and(|one| one.intents.iter().any(|(name, _)| name == intent))
            };
            let into = INTO.iter().filter(|(mode, _)| has(mode));
            let mut ways: Vec<&[&str]> = into.map(|(_, lines)| *lines).collect();
            if ways.is_empty() {
                ways.push(&[]);
            }
            for way in ways {
                let mut mumbled = Talk::stocked();
                way.iter().for_each(|line| drop(mumbled.say(line, None)));
                replies.note(&mut mumbled, lines[0], Some(Verdict::Ask));
                for line in lines.iter().copied() {
                    let mut talk = Talk::stocked();
                    way.iter().for_each(|line| drop(talk.say(line, None)));
                    replies.note(&mut talk, line, None);
                    // What was asked is answered, and what was done is asked about again.
                    for next in ["yes", "undo"] {
                        replies.note(&mut talk, next, None);
                    }
                }
            }
        }
        for lines in CONVERSATIONS {
            // In a full kitchen, in an empty one, and where the dates of the full one have passed.
            let mut later = Talk::stocked();
            later.now = later.now + Days::new(21);
            for mut talk in [Talk::stocked(), Talk::empty(), later] {
                lines
                    .iter()
                    .for_each(|line| replies.note(&mut talk, line, None));
            }
        }
        let mut talk = Talk::empty();
        for step in Story::read().steps {
            match step {
                Step::Part(now, _) => talk.now = now,
                Step::Said(line) => replies.note(&mut talk, &line, None),
            }
        }
        let unasked = replies.0.entry("(said unasked)".to_owned()).or_default();
        for notice in Notice::ALL {
            unasked.insert(notice.words().to_owned(), format!("{notice:?}"));
        }
        replies
    }

    fn note(&mut self, talk: &mut Talk, line: &str, verdict: Option<Verdict>) {
        let (intent, reply) = talk.say(line, verdict);
        let group = self.0.entry(intent).or_default();
        group.entry(reply).or_insert_with(|| line.to_owned());
    }

    fn all(&self) -> impl Iterator<Item = (&str, &str, &str)> {
        self.0.iter().flat_map(|(intent, replies)| {
            let replies = replies.iter();
            replies.map(|(reply, line)| (intent.as_str(), line.as_str(), reply.as_str()))
        })
    }
}

fn morning() -> NaiveDateTime {
    let day = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    day.and_hms_opt(10, 0, 0).unwrap()
}

struct Talk {
    session: Session,
    now: NaiveDateTime,
}

impl Talk {
    fn empty() -> Self {
        Self::of(Stock::in_memory().unwrap())
    }

    fn of(stock: Stock) -> Self {
        Self {
            session: Session::new(stock, GRAMMAR.clone()).unwrap(),
            now: morning(),
        }
    }

    /// In a full kitchen, of which only the first takes the words.
    fn stocked() -> Self {
        static EVENTS: LazyLock<Vec<Event>> = LazyLock::new(|| {
            let mut talk = Talk::empty();
            STOCKED.iter().for_each(|line| drop(talk.say(line, None)));
            let events = talk.session.stock().events().unwrap();
            events.into_iter().map(|(.., event)| event).collect()
        });
        let mut stock = Stock::in_memory().unwrap();
        for event in EVENTS.iter() {
            stock
                .record(event.clone(), morning(), Source::Typed)
                .unwrap();
        }
        Self::of(stock)
    }

    /// The intent that was understood, and the reply.
    fn say(&mut self, line: &str, verdict: Option<Verdict>) -> (String, String) {
        if let Some(turn) = self.session.scan(line, self.now, Source::Typed) {
            return ("a code".to_owned(), turn.reply);
        }
        let mut understood = self.session.understand(&[line], self.now);
        if let (Some(verdict), Some(_)) = (verdict, &understood.command) {
            understood.verdict = verdict;
        }
        let turn = self.session.answer(understood, self.now, Source::Typed);
        let command = turn
            .understanding
            .command
            .filter(|_| turn.understanding.verdict != Verdict::Reject);
        let intent = command.map_or("not understood".to_owned(), |command| command.intent);
        (intent, turn.reply)
    }
}

/// What is wrong with a reply to such a request, if anything is.
fn faults(intent: &str, reply: &str) -> Vec<String> {
    let mut faults = Vec::new();
    let small = reply.to_lowercase();
    let mut theirs = small.replace(NO_PLACE, "");
    OWN_WORDS
        .iter()
        .for_each(|own| theirs = theirs.replace(own, ""));
    let words: Vec<&str> = theirs
        .split(|c: char| !c.is_alphanumeric() && c != '\'')
        .collect();
    if let Some(word) = SIGHT.iter().find(|word| words.contains(word)) {
        faults.push(format!("takes eyes: {word}"));
    }
    let is_said = |c: char| c.is_alphanumeric() || " .,:;?'-".contains(c);
    if let Some(symbol) = reply.chars().find(|c| !is_said(*c)) {
        faults.push(format!("a symbol: {symbol}"));
    }
    if !reply.chars().any(char::is_alphabetic) {
        faults.push("nothing but numbers".to_owned());
    }
    if !reply.ends_with(['.', '?']) {
        faults.push("no end".to_owned());
    }
    let begins = |filler: &&&str| {
        let rest = small.strip_prefix(**filler);
        rest.is_some_and(|rest| !rest.starts_with(|c: char| c.is_alphanumeric() || c == '\''))
    };
    if let Some(filler) = FILLERS.iter().find(begins) {
        faults.push(format!("begins with {filler}"));
    }
    let count = reply.split_whitespace().count();
    let may = MAY_BE_LONG.iter().any(|(asked, _)| *asked == intent);
    if count > MOST && !may {
        faults.push(format!("{count} words"));
    }
    faults
}

#[test]
fn every_reply_is_short_begins_with_what_matters_and_takes_no_eyes() {
    let replies = &*REPLIES;
    for (intent, group) in &replies.0 {
        println!("\n{intent}");
        group.keys().for_each(|reply| println!("  {reply}"));
    }
    let count = replies.all().count();
    println!("\n{count} replies");
    assert!(count > 500, "only {count}");
    let wrong: Vec<String> = replies
        .all()
        .flat_map(|(intent, line, reply)| {
            let faults = faults(intent, reply).into_iter();
            faults.map(move |fault| format!("{fault}, {intent}, to “{line}”: {reply}"))
        })
        .collect();
    assert!(wrong.is_empty(), "{}\n{}", wrong.join("\n"), wrong.len());
}

#[test]
fn every_intent_and_every_refusal_is_among_them() {
    let replies = &*REPLIES;
    let file = GrammarFile::parse("en.yaml", FILE).unwrap();
    let missing = file.intents.iter().map(|intent| intent.name.as_str());
    let missing: Vec<&str> = missing
        .filter(|intent| !replies.0.contains_key(*intent))
        .collect();
    assert!(missing.is_empty(), "{missing:?}");
    let source = include_str!("../src/stock/error.rs");
    let variants = source.split("pub enum Refusal {").nth(1).unwrap();
    let variants = variants.split("\n}").next().unwrap().lines();
    let is_variant = |line: &&str| {
        let rest = line.strip_prefix("    ");
        rest.is_some_and(|rest| rest.starts_with(char::is_uppercase))
    };
    let names = variants.filter(is_variant).map(|line| {
        let line = line.trim();
        line.split(|c: char| !c.is_alphanumeric()).next().unwrap()
    });
    let there: BTreeSet<&str> = names.collect();
    let told = REFUSALS.iter().map(|(name, _)| *name);
    let told: BTreeSet<&str> = told.chain([FOR_NOBODY]).collect();
    assert_eq!(there, told);
    let unheard: Vec<&str> = REFUSALS
        .iter()
        .filter(|(_, words)| !replies.all().any(|(.., reply)| reply.contains(words)))
        .map(|(name, _)| *name)
        .collect();
    assert!(unheard.is_empty(), "{unheard:?}");
}

#[test]
fn a_long_or_empty_or_visual_reply_is_told() {
    let long = "Milk: one carton which you have put into the fridge today and which you should use by the third of next December.";
    assert_eq!(faults("put-in", long), ["22 words"]);
    assert_eq!(
        faults("put-in", "OK, milk (1 carton)."),
        ["a symbol: (", "begins with ok"]
    );
    assert_eq!(faults("put-in", "Look at the list."), ["takes eyes: look"]);
    assert_eq!(faults("put-in", "12, 13."), ["nothing but numbers"]);
    assert!(faults("help", long).is_empty());
}
