//! What a command asks for, with everything it needs: a command that lacks something isn't one.

use chrono::{Days, NaiveDate};

use super::manner::Manner;
use super::reading::Through;
use super::steps::Step;
use crate::grammar::{CALLED, Command, Value};
use crate::measure::{DateDoubt, DateKind, DateReading, Quantity, Share, read_quantity};
use crate::stock::{
    Allergen, Change, Comes, Dates, Fact, Feel, ItemKind, ItemName, Mark, OwnWords, Place, Section,
    TagNumber,
};

/// What is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Request {
    /// "Add two bags of lentils to the pantry."
    PutIn {
        /// What, how much, and its date.
        goods: Goods,
        /// Where to, if it was said.
        place: Option<Place>,
    },
    /// "I used up the oats."
    UsedUp(ItemName),
    /// "I used two eggs", "I used half of the milk."
    Use(ItemName, Used),
    /// "I used half of it": of what was spoken of last.
    UseOfIt(Used),
    /// "I put the bread in the freezer": it is new, or it stood somewhere else.
    PutSomewhere(ItemName, Place),
    /// "I opened the milk", "move the bread to the freezer."
    Change {
        /// What.
        item: ItemName,
        /// What becomes of it.
        how: Change,
        /// How much of it, if that was said.
        quantity: Option<Quantity>,
        /// Where it is now, if that was said.
        place: Option<Place>,
        /// Whether it was so yesterday.
        yesterday: bool,
    },
    /// "Put dish soap on the list."
    List(ItemName, Option<Quantity>),
    /// "Take bread off the list."
    Unlist(ItemName),
    /// "Read the list."
    ReadList,
    /// "Got the milk."
    Got(ItemName),
    /// "What expires this week?"
    Expires(Span),
    /// "What should I use first?"
    UseFirst,
    /// "What is running low?"
    Low,
    /// "Keep two cans of tomatoes."
    Keep(ItemName, Quantity),
    /// "Temporary tag: two pounds of salmon, use by December third."
    Tag(Goods),
    /// "Read the tags."
    ReadTags,
    /// "Put away the salmon in the fridge."
    PutAway(Which, Place),
    /// "What is in the fridge?"
    WhatIsIn(Place),
    /// "What is on tag two?"
    ReadTag(TagNumber),
    /// "When does the milk expire?"
    When(ItemName),
    /// "Where is the flour?"
    Where(ItemName),
    /// "How many eggs are left?"
    HowMuch(ItemName),
    /// "No, I said freekeh."
    Correct(Correction),
    /// "Call it freekeh", or "spell it F R E E K E H": what was spoken of last gets this name.
    CallIt(ItemName),
    /// "Spell it": the name of what was spoken of last, letter by letter.
    Spell,
    /// "What names have you learned?"
    LearnedNames,
    /// "Forget the learned names of freekeh."
    ForgetNames(ItemName),
    /// "Remember how I say new names", or no longer.
    KeepSounds(bool),
    /// "How did I say freekeh?"
    PlaySound(ItemName),
    /// "Forget how I said the names": every sound that was kept.
    LoseSounds,
    /// "Undo."
    Undo,
    /// "Undo the last three": two at least.
    UndoSeveral(usize),
    /// "What changed today?"
    ChangedToday,
    /// "Why is the milk on the list?"
    Why(ItemName),
    /// "The oats are in the cereal section."
    Describe(ItemName, Fact),
    /// "In my store, dairy comes before produce."
    PlaceSection(Section, Comes),
    /// "What is the order of my store?"
    StoreOrder,
    /// "Forget the order of my store."
    ForgetStore,
    /// "Do the cookies have peanuts?"
    HasAllergen(ItemName, Allergen),
    /// "What has peanuts in it?"
    WhatHas(Allergen),
    /// "How do I cook the oats?"
    Directions(ItemName),
    /// "Another step: drain it": of the directions that were read or noted last.
    AddStep(OwnWords),
    /// "Next step": of the directions that were read last.
    ReadStep(Step),
    /// "What is the flat square tin with two bands?"
    WhatFeels(Feel, Option<Mark>),
    /// "I put two bands on the chickpeas."
    Mark(ItemName, Mark),
    /// "Kitchen tag twelve on the oats."
    KitchenTag(ItemName, TagNumber),
    /// "Reminder tag thirty for birthday candles."
    Remind(ItemName, TagNumber),
    /// "I'm taking tags one to five."
    TakeTags(TagNumber, TagNumber),
    /// "I lost tag five."
    LoseTag(TagNumber),
    /// "I found tag five."
    FindTag(TagNumber),
    /// "Which tags are free?"
    TagPool,
    /// "Spent tags": from here on, one is read after another.
    SpentTags,
    /// "Twelve", "oats": a spent tag.
    Spent(Which),
    /// "I'm going shopping."
    BeginTrip,
    /// "I'm home."
    ComeHome,
    /// "Next."
    NextLine,
    /// "Got it": what was read last off the list.
    GotIt,
    /// "They have none", or of what.
    NoneThere(Option<ItemName>),
    /// "Instead I took rye bread."
    Instead {
        /// What was taken.
        instead: ItemName,
        /// In place of what; absent where that was read last off the list.
        of: Option<ItemName>,
    },
    /// "What's left?"
    Wanted,
    /// "Put things away": from here on, one after another gets its place.
    PutThingsAway,
    /// "In the fridge": the place of what is being put away; absent for its usual one.
    There(Option<Place>),
    /// "It gets tag twelve": the kitchen tag of what was just put away.
    WithTag(TagNumber),
    /// "Tag three": what is in hand, by its temporary tag; or the kitchen tag of what was just put away.
    ByTag(TagNumber),
    /// "The one with two bands": what is in hand, whatever its turn.
    InHand(Held),
    /// "Skip it."
    Skip,
    /// "I can't tell what it is."
    CantTell,
    /// "Done."
    Done,
    /// "The eggs are use by November thirtieth": read off what is there.
    Date(Goods),
    /// Another date of what came last: what [`Self::ChangeDate`] means of the thing spoken of.
    Redate(Goods),
    /// "There are six eggs left."
    Count(ItemName, Quantity),
    /// "The eggs are in the fridge."
    Locate(ItemName, Place),
    /// "I'm sure of the corn."
    MadeSure(ItemName),
    /// "What is not yet known?"
    NotYetKnown,
    /// "What did I buy last time?"
    BoughtLast,
    /// "Put the milk back": it isn't used up after all.
    PutBack(ItemName),
    /// "How long will the milk last?"
    HowLong(ItemName),
    /// "How long does opened mayonnaise keep in the fridge?": as is published.
    Keeps {
        /// What.
        item: ItemName,
        /// Opened or thawed, if that was said.
        state: Option<State>,
        /// Where, if that was said.
        place: Option<Place>,
    },
    /// "This is the corn": what a code stands for that was read last.
    CodeIs(ItemName),
    /// "This is tag twelve."
    CodeIsTag(TagNumber),
    /// The wake phrase by itself.
    Called,
    /// "More.": goes on in what is being read.
    Through(Through),
    /// "Slower.", "tones off."
    Manner(Manner),
    /// "What did you hear?"
    WhatHeard,
    /// "Change the date to December fifth."
    ChangeDate(DateReading),
    /// "Repeat that."
    Repeat,
    /// "What can I say?"
    Help,
    /// "Teach me."
    Teach,
    /// "Stop practising."
    StopPractising,
    /// "Yes."
    Yes,
    /// "No."
    No,
    /// What a date means, as an answer: "use by".
    Meaning(DateKind),
    /// What ounces are meant, as an answer: "by weight".
    Ounces(OunceKind),
}

/// How the person says what they hold, while things are put away.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Held {
    /// "This is tag three": its temporary tag.
    Tag(TagNumber),
    /// "The chickpeas."
    Item(ItemName),
    /// "The chickpeas without a tag", where others have one.
    Untagged(ItemName),
    /// "The flat square tin with two bands."
    Felt(Feel, Option<Mark>),
}

/// How much was used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Used {
    /// "Two."
    Quantity(Quantity),
    /// "Half of it."
    Share(Share),
}

/// What begins another time for which a thing keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// Its pack was opened.
    Opened,
    /// It was thawed.
    Thawed,
}

/// What ounces measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OunceKind {
    /// Weight.
    Weight,
    /// Volume.
    Fluid,
}

/// A thing with the facts that were said about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Goods {
    /// What it is.
    pub item: ItemName,
    /// How much, if it was said.
    pub quantity: Option<Quantity>,
    /// The date, if one was said. What it means may be missing, and the day may be in doubt: both are asked for.
    pub date: Option<DateReading>,
}

impl Goods {
    /// The dates, or the day whose meaning wasn't said.
    ///
    /// # Errors
    /// The day, where it must be asked what it means: a date is never kept under a guessed meaning.
    pub fn dates(&self) -> Result<Dates, NaiveDate> {
        let mut dates = Dates::default();
        if let Some(DateReading { note, .. }) = self.date {
            dates.insert(note.kind.ok_or(note.date)?, note.date);
        }
        Ok(dates)
    }

    /// The day that was read, and why it is to be asked about, if it is.
    pub fn doubtful_day(&self) -> Option<(NaiveDate, DateDoubt)> {
        let reading = self.date?;
        Some((reading.note.date, reading.doubt?))
    }

    /// The same on a day that isn't in doubt.
    #[must_use]
    pub fn on(mut self, day: NaiveDate) -> Self {
        if let Some(reading) = &mut self.date {
            reading.note.date = day;
            reading.doubt = None;
            // It was said in full to be asked about.
            reading.read_back = false;
        }
        self
    }
}

/// What was said of one thing is meant of something else, or of another amount of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Correction {
    /// Of what.
    pub item: Option<ItemName>,
    /// How much.
    pub quantity: Option<Quantity>,
    /// "I said", and not "I meant": the person wasn't heard right.
    pub misheard: bool,
}

/// Which of the things with temporary tags is meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Which {
    /// The one with this tag.
    Tag(TagNumber),
    /// The one of this name.
    Item(ItemName),
}

/// The days that "what expires" asks about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Span {
    /// A week from today: longer than to the end of the calendar week, so that nothing is missed.
    Week,
    /// Today.
    Today,
    /// Up to tomorrow.
    Tomorrow,
    /// Two weeks from today, for "next week".
    TwoWeeks,
    /// Thirty days from today.
    Month,
    /// Up to a day.
    Until(NaiveDate),
}

impl Span {
    /// The last day that is asked about.
    pub fn last_day(self, today: NaiveDate) -> NaiveDate {
        let ahead = |days| today.checked_add_days(Days::new(days)).unwrap_or(today);
        match self {
            Self::Today => today,
            Self::Tomorrow => ahead(1),
            Self::Week => ahead(7),
            Self::TwoWeeks => ahead(14),
            Self::Month => ahead(30),
            Self::Until(day) => day,
        }
    }
}

/// What a command lacks, in words to be spoken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unclear {
    /// A quantity that can't be read.
    #[error("How much was that? I got: {0}")]
    Quantity(String),
    /// A date that can't be read, or doesn't exist.
    #[error("{0}. Say it again with the right date")]
    Date(String),
    /// A tag number that can't be read.
    #[error("Which tag was that? I got: {0}")]
    Tag(String),
    /// Two things said as one, which would be kept as one that nobody ever asks for.
    #[error("One thing at a time. Say one, then the other")]
    Several,
    /// A slot that the command needs and the grammar let pass without.
    #[error("I didn't get the {0}. Say it all again")]
    Missing(&'static str),
    /// Words that don't tell how a thing feels or is marked.
    #[error("How does it feel? I got: {0}. Say, for example, a flat square can")]
    Feel(String),
    /// An intent of the grammar file that nothing here answers to.
    #[error("No answer is known to {0}")]
    Intent(String),
}

impl Request {
    /// Whether it can only be meant of a thing that the kitchen has heard of before.
    pub fn is_of_known_things(&self) -> bool {
        use Request::*;
        matches!(
            self,
            UsedUp(_)
                | Use(..)
                | Change { .. }
                | Unlist(_)
                | Got(_)
                | When(_)
                | Where(_)
                | HowMuch(_)
                | ForgetNames(_)
                | PlaySound(_)
                | Why(_)
                | HasAllergen(..)
                | Directions(_)
                | MadeSure(_)
                | Date(_)
                | Redate(_)
                | Count(..)
                | PutBack(_)
                | HowLong(_)
                | KitchenTag(..)
                | NoneThere(Some(_))
                | InHand(Held::Item(_) | Held::Untagged(_))
        )
    }

    /// The item that it is about, if it names one.
    pub fn item(&self) -> Option<ItemName> {
        self.clone().item_mut().cloned()
    }

    fn item_mut(&mut self) -> Option<&mut ItemName> {
        use Request::*;
        match self {
            PutIn { goods, .. } | Tag(goods) | Date(goods) | Redate(goods) => Some(&mut goods.item),
            UsedUp(item)
            | Use(item, _)
            | Change { item, .. }
            | PutSomewhere(item, _)
            | List(item, _)
            | Unlist(item)
            | Got(item)
            | Keep(item, _)
            | PutAway(Which::Item(item), _)
            | When(item)
            | Where(item)
            | HowMuch(item)
            | ForgetNames(item)
            | PlaySound(item)
            | Why(item)
            | Describe(item, _)
            | HasAllergen(item, _)
            | Directions(item)
            | Mark(item, _)
            | KitchenTag(item, _)
            | Remind(item, _)
            | Spent(Which::Item(item))
            | NoneThere(Some(item))
            | Instead { instead: item, .. }
            | Count(item, _)
            | Locate(item, _)
            | MadeSure(item)
            | PutBack(item)
            | HowLong(item)
            | Keeps { item, .. }
            | InHand(Held::Item(item) | Held::Untagged(item))
            | CodeIs(item) => Some(item),
            _ => None,
        }
    }

    /// The same on a day that isn't in doubt.
    #[must_use]
    pub(super) fn on(mut self, day: NaiveDate) -> Self {
        if let Some(goods) = self.goods_mut() {
            *goods = goods.clone().on(day);
        }
        self
    }

    /// What comes in or is told, with its date.
    pub(super) fn goods(&self) -> Option<&Goods> {
        match self {
            Self::PutIn { goods, .. }
            | Self::Tag(goods)
            | Self::Date(goods)
            | Self::Redate(goods) => Some(goods),
            _ => None,
        }
    }

    pub(super) fn goods_mut(&mut self) -> Option<&mut Goods> {
        match self {
            Self::PutIn { goods, .. }
            | Self::Tag(goods)
            | Self::Date(goods)
            | Self::Redate(goods) => Some(goods),
            _ => None,
        }
    }

    /// The day that others may mean otherwise, if it was said so.
    pub(super) fn day_to_read_back(&self) -> Option<NaiveDate> {
        let reading = self.goods()?.date.filter(|reading| reading.read_back)?;
        Some(reading.note.date)
    }

    /// Something that comes into the house, with nothing known of it but where it is.
    pub(super) fn new_at(item: ItemName, place: Place) -> Self {
        Self::PutIn {
            goods: Goods {
                item,
                quantity: None,
                date: None,
            },
            place: Some(place),
        }
    }

    /// The move of all there is of something.
    pub(super) fn moved_to(item: ItemName, place: Place) -> Self {
        Self::Change {
            item,
            how: Change::by_moving_to(&place),
            quantity: None,
            place: Some(place),
            yesterday: false,
        }
    }

    /// The quantity of something that comes into the house: said of it for the first time.
    pub(super) fn new_quantity_mut(&mut self) -> Option<(&ItemName, &mut Quantity)> {
        match self {
            Self::PutIn { goods, .. } | Self::Tag(goods) => {
                Some((&goods.item, goods.quantity.as_mut()?))
            }
            _ => None,
        }
    }

    /// The same of another item or amount, where it has these; `None` where it has no item.
    ///
    /// ```
    /// use tellshelf::stock::ItemName;
    /// use tellshelf::talk::Request;
    /// let name = |name| ItemName::new(name).unwrap();
    /// let meant = Request::UsedUp(name("soda")).corrected(Some(name("zaatar")), None);
    /// assert_eq!(meant, Some(Request::UsedUp(name("zaatar"))));
    /// assert_eq!(Request::ReadList.corrected(Some(name("zaatar")), None), None);
    /// ```
    #[must_use]
    pub fn corrected(mut self, item: Option<ItemName>, quantity: Option<Quantity>) -> Option<Self> {
        if let Some(quantity) = quantity {
            match &mut self {
                Self::PutIn { goods, .. } | Self::Tag(goods) => goods.quantity = Some(quantity),
                Self::List(_, much) => *much = Some(quantity),
                Self::Use(_, much) => *much = Used::Quantity(quantity),
                Self::Keep(_, much) => *much = quantity,
                Self::Change { quantity: much, .. } => *much = Some(quantity),
                _ => return None,
            }
        }
        let its = self.item_mut()?;
        if let Some(item) = item {
            *its = item;
        }
        Some(self)
    }

    /// Reads a command.
    ///
    /// # Errors
    /// [`Unclear`], to be asked about.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::grammar::{Grammar, Lexicon};
    /// use tellshelf::talk::Request;
    /// let grammar = Grammar::load("grammars/en.yaml".as_ref()).unwrap();
    /// let today = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap();
    /// let understood = grammar.understand(&["what is running low"], &Lexicon::default(), today);
    /// assert_eq!(Request::read(&understood.command.unwrap()), Ok(Request::Low));
    /// ```
    pub fn read(command: &Command) -> Result<Self, Unclear> {
        let slots = Slots(command);
        Ok(match command.intent.as_str() {
            "put-in" => Self::PutIn {
                goods: slots.goods()?,
                place: slots.place(),
            },
            "used-up" => Self::UsedUp(slots.item()?),
            "use" => match slots.item() {
                Err(Unclear::Missing(_)) => Self::UseOfIt(slots.used()?),
                item => Self::Use(item?, slots.used()?),
            },
            "put-somewhere" => {
                let place = slots.place().ok_or(Unclear::Missing("place"))?;
                Self::PutSomewhere(slots.item()?, place)
            }
            "opened" => slots.change(Change::Opened)?,
            "frozen" => slots.change(Change::Frozen)?,
            "thawed" => slots.change(Change::Thawed)?,
            "moved" => slots.change(Change::Moved)?,
            "list-add" => Self::List(slots.item()?, slots.quantity()?),
            "list-drop" => Self::Unlist(slots.item()?),
            "list-read" => Self::ReadList,
            "got" => Self::Got(slots.item()?),
            "expires" => Self::Expires(slots.span()?),
            "use-first" => Self::UseFirst,
            "low" => Self::Low,
            "keep" => Self::Keep(slots.item()?, slots.needed_quantity()?),
            "tag-new" => Self::Tag(slots.goods()?),
            "tags-read" => Self::ReadTags,
            "put-away" => {
                let place = slots.place().ok_or(Unclear::Missing("place"))?;
                match slots.tag()? {
                    Some(number) => Self::PutAway(Which::Tag(number), place),
                    None => Self::PutAway(Which::Item(slots.item()?), place),
                }
            }
            "place-read" => Self::WhatIsIn(slots.place().ok_or(Unclear::Missing("place"))?),
            "tag-read" => Self::ReadTag(slots.tag()?.ok_or(Unclear::Missing("number"))?),
            "when" => Self::When(slots.item()?),
            "where" => Self::Where(slots.item()?),
            "how-much" => Self::HowMuch(slots.item()?),
            "correct" | "meant" => Self::Correct(Correction {
                item: slots.item().ok(),
                quantity: slots.quantity()?,
                misheard: command.intent == "correct",
            }),
            "call-it" => Self::CallIt(slots.new_name()?),
            "spell" => Self::Spell,
            "names-read" => Self::LearnedNames,
            "names-forget" => Self::ForgetNames(slots.item()?),
            "sounds-keep" => Self::KeepSounds(true),
            "sounds-stop" => Self::KeepSounds(false),
            "sounds-lose" => Self::LoseSounds,
            "sound-play" => Self::PlaySound(slots.item()?),
            "undo" => slots.undo()?,
            "kind-note" => Self::Describe(slots.item()?, Fact::Kind(slots.kind()?)),
            "section-note" => {
                let section = slots.named("section", Section::new)?;
                Self::Describe(slots.item()?, Fact::Section(section))
            }
            "store-note" => {
                Self::PlaceSection(slots.named("section", Section::new)?, slots.comes()?)
            }
            "store-read" => Self::StoreOrder,
            "store-forget" => Self::ForgetStore,
            "place-note" => {
                let place = slots.place().ok_or(Unclear::Missing("place"))?;
                Self::Describe(slots.item()?, Fact::Place(place))
            }
            "directions-note" => slots.own_words(Fact::Directions)?,
            "step-note" => match slots.item() {
                // Of what was spoken of last.
                Err(Unclear::Missing(_)) => Self::AddStep(slots.named("text", OwnWords::new)?),
                _ => slots.own_words(Fact::Step)?,
            },
            "make-note" => slots.own_words(Fact::Make)?,
            "helper-note" => slots.own_words(Fact::Note)?,
            "label-has" => slots.label(true)?,
            "label-lacks" => slots.label(false)?,
            "label-ask" => {
                Self::HasAllergen(slots.item()?, slots.named("allergen", Allergen::new)?)
            }
            "allergen-ask" => Self::WhatHas(slots.named("allergen", Allergen::new)?),
            "directions-ask" => Self::Directions(slots.item()?),
            "step-next" => Self::ReadStep(Step::Next),
            "step-back" => Self::ReadStep(Step::Back),
            "step-first" => Self::ReadStep(Step::First),
            "feel-note" => Self::Describe(slots.item()?, Fact::Feel(slots.feel()?)),
            "feel-ask" => Self::WhatFeels(slots.feel_if_said()?, slots.mark_if_said()?),
            "mark-note" => {
                let mark = slots.mark_if_said()?.ok_or(Unclear::Missing("mark"))?;
                Self::Mark(slots.item()?, mark)
            }
            "tag-kitchen" => Self::KitchenTag(slots.item()?, slots.needed_tag()?),
            "tag-remind" => Self::Remind(slots.item()?, slots.needed_tag()?),
            "tags-take" => Self::TakeTags(slots.needed_tag()?, slots.last_tag()?),
            "tag-lost" => Self::LoseTag(slots.needed_tag()?),
            "tag-found" => Self::FindTag(slots.needed_tag()?),
            "tags-free" => Self::TagPool,
            "spent" => Self::SpentTags,
            "spent-one" => match slots.tag()? {
                Some(number) => Self::Spent(Which::Tag(number)),
                None => Self::Spent(Which::Item(slots.item()?)),
            },
            "done" => Self::Done,
            "trip-begin" => Self::BeginTrip,
            "trip-end" => Self::ComeHome,
            "next-line" => Self::NextLine,
            "got-it" => Self::GotIt,
            "none-there" => Self::NoneThere(slots.item_if_said()?),
            "instead" => {
                let instead = slots.named("instead", ItemName::new)?;
                // Where nothing else was named, the item is what was taken.
                let of = slots.item_if_said()?.filter(|item| *item != instead);
                Self::Instead { instead, of }
            }
            "wanted" => Self::Wanted,
            "put-away-all" => Self::PutThingsAway,
            "goes-there" => Self::There(slots.place()),
            "goes-with-tag" => Self::WithTag(slots.needed_tag()?),
            "in-hand" => match (slots.tag()?, slots.item_if_said()?) {
                (Some(tag), _) => Self::ByTag(tag),
                (None, Some(item)) if slots.words("untagged").is_some() => {
                    Self::InHand(Held::Untagged(item))
                }
                (None, Some(item)) => Self::InHand(Held::Item(item)),
                (None, None) => {
                    let (feel, mark) = (slots.feel_if_said()?, slots.mark_if_said()?);
                    Self::InHand(Held::Felt(feel, mark))
                }
            },
            "skip" => Self::Skip,
            "cant-tell" => Self::CantTell,
            "date-note" => Self::Date(slots.goods()?),
            "count-note" => Self::Count(slots.item()?, slots.needed_quantity()?),
            "is-there" => {
                let place = slots.place().ok_or(Unclear::Missing("place"))?;
                Self::Locate(slots.item()?, place)
            }
            "made-sure" => Self::MadeSure(slots.item()?),
            "not-yet-known" => Self::NotYetKnown,
            "bought-last" => Self::BoughtLast,
            "put-back" => Self::PutBack(slots.item()?),
            "how-long" => Self::HowLong(slots.item()?),
            "keeps" => Self::Keeps {
                item: slots.item()?,
                state: slots.state()?,
                place: slots.place(),
            },
            "code-is" => match slots.tag()? {
                Some(number) => Self::CodeIsTag(number),
                None => Self::CodeIs(slots.item()?),
            },
            "changed-today" => Self::ChangedToday,
            "why" => Self::Why(slots.item()?),
            CALLED => Self::Called,
            "more" | "page-next" => Self::Through(Through::More),
            "page-back" => Self::Through(Through::Back),
            "from-start" => Self::Through(Through::FromTheStart),
            "nth" => {
                let which = slots.words("nth-word").and_then(|n| n.parse().ok());
                Self::Through(Through::Nth(which.ok_or(Unclear::Missing("number"))?))
            }
            "manner" => {
                let manner = slots.words("manner-word").and_then(Manner::read);
                Self::Manner(manner.ok_or(Unclear::Missing("manner"))?)
            }
            "rate" => Self::Manner(Manner::At(slots.rate()?)),
            "heard-what" => Self::WhatHeard,
            "date-change" => Self::ChangeDate(slots.date()?.ok_or(Unclear::Missing("date"))?),
            "repeat" => Self::Repeat,
            "help" => Self::Help,
            "teach" => Self::Teach,
            "teach-end" => Self::StopPractising,
            "yes" => Self::Yes,
            "no" => Self::No,
            "meaning" => {
                let kind = slots.words("date-kind").and_then(|kind| kind.parse().ok());
                Self::Meaning(kind.ok_or(Unclear::Missing("meaning of the date"))?)
            }
            "ounces" => Self::Ounces(match slots.words("ounce-kind") {
                Some("fluid") => OunceKind::Fluid,
                _ => OunceKind::Weight,
            }),
            other => return Err(Unclear::Intent(other.to_owned())),
        })
    }
}

/// Whether a name that nobody knows goes on with a thing of its own: "flour and two cans of corn", "milk
/// and the eggs". Of "rice and beans" nobody can tell; it is asked about.
fn is_several(name: &str) -> bool {
    name.split(" and ").skip(1).any(|thing| {
        let words: Vec<&str> = thing.split(' ').collect();
        let begins_anew = matches!(words[0], "the" | "some" | "my" | "our");
        let quantity = |end: usize| read_quantity(&words[..end]).is_some();
        words.len() > 1 && (begins_anew || (1..words.len()).any(quantity))
    })
}

struct Slots<'c>(&'c Command);

impl Slots<'_> {
    fn words(&self, slot: &str) -> Option<&str> {
        match self.0.slot(slot)? {
            Value::Words(words) | Value::Text(words) | Value::Item { name: words, .. } => {
                Some(words)
            }
            _ => None,
        }
    }

    fn item(&self) -> Result<ItemName, Unclear> {
        if let Some(Value::Item { name, known: false }) = self.0.slot("item")
            && is_several(name)
        {
            return Err(Unclear::Several);
        }
        let name = self.words("item").and_then(|name| ItemName::new(name).ok());
        name.ok_or(Unclear::Missing("name"))
    }

    fn item_if_said(&self) -> Result<Option<ItemName>, Unclear> {
        match self.item() {
            Err(Unclear::Missing(_)) => Ok(None),
            item => item.map(Some),
        }
    }

    /// A slot that is a name of some sort.
    fn named<T, E>(
        &self,
        slot: &'static str,
        make: impl Fn(&str) -> Result<T, E>,
    ) -> Result<T, Unclear> {
        let words = self.words(slot).and_then(|words| make(words).ok());
        words.ok_or(Unclear::Missing(slot))
    }

    fn comes(&self) -> Result<Comes, Unclear> {
        let beside = || self.named("beside", Section::new);
        match (self.words("comes"), self.words("side")) {
            (Some("first"), _) => Ok(Comes::First),
            (Some("last"), _) => Ok(Comes::Last),
            (_, Some("before")) => Ok(Comes::Before(beside()?)),
            (_, Some("after")) => Ok(Comes::After(beside()?)),
            _ => Err(Unclear::Missing("place")),
        }
    }

    fn kind(&self) -> Result<ItemKind, Unclear> {
        match self.words("kind") {
            Some("medicine") => Ok(ItemKind::Medicine),
            Some("household") => Ok(ItemKind::Household),
            Some("food") => Ok(ItemKind::Food),
            _ => Err(Unclear::Missing("kind")),
        }
    }

    fn state(&self) -> Result<Option<State>, Unclear> {
        Ok(match self.words("state") {
            None => None,
            Some("opened") => Some(State::Opened),
            Some("thawed") => Some(State::Thawed),
            Some(_) => return Err(Unclear::Missing("state")),
        })
    }

    fn own_words(&self, fact: fn(OwnWords) -> Fact) -> Result<Request, Unclear> {
        let words = self.named("text", OwnWords::new)?;
        Ok(Request::Describe(self.item()?, fact(words)))
    }

    fn label(&self, contains: bool) -> Result<Request, Unclear> {
        let allergen = self.named("allergen", Allergen::new)?;
        let fact = Fact::Allergen { allergen, contains };
        Ok(Request::Describe(self.item()?, fact))
    }

    fn feel(&self) -> Result<Feel, Unclear> {
        let feel = self.feel_if_said()?;
        if feel.is_empty() {
            return Err(Unclear::Missing("feel"));
        }
        Ok(feel)
    }

    fn feel_if_said(&self) -> Result<Feel, Unclear> {
        let words = self.words("feel").unwrap_or_default();
        let (feel, rest) = Feel::read(&words.split_whitespace().collect::<Vec<_>>());
        match rest.is_empty() {
            true => Ok(feel),
            false => Err(Unclear::Feel(rest.join(" "))),
        }
    }

    fn mark_if_said(&self) -> Result<Option<Mark>, Unclear> {
        let Some(words) = self.words("mark") else {
            return Ok(None);
        };
        let said: Vec<&str> = words.split_whitespace().collect();
        match Mark::read(&said).0.as_deref() {
            Some([mark]) => Ok(Some(*mark)),
            _ => Err(Unclear::Feel(words.to_owned())),
        }
    }

    fn needed_tag(&self) -> Result<TagNumber, Unclear> {
        self.tag()?.ok_or(Unclear::Missing("number"))
    }

    /// The last of a row of tags.
    fn last_tag(&self) -> Result<TagNumber, Unclear> {
        match self.0.slot("number") {
            Some(Value::Number(number)) if number.is_integer() => {
                let number = u32::try_from(number.to_integer());
                number
                    .map(TagNumber)
                    .map_err(|e| Unclear::Tag(e.to_string()))
            }
            _ => Err(Unclear::Missing("number")),
        }
    }

    /// A name, or one that was spelled: one word of the letters.
    fn new_name(&self) -> Result<ItemName, Unclear> {
        let Some(letters) = self.words("spelling") else {
            return self.item();
        };
        ItemName::new(&letters.replace(' ', "")).map_err(|_| Unclear::Missing("name"))
    }

    fn place(&self) -> Option<Place> {
        self.words("place").and_then(|name| Place::new(name).ok())
    }

    fn quantity(&self) -> Result<Option<Quantity>, Unclear> {
        match self.0.slot("quantity") {
            None => Ok(None),
            Some(Value::Quantity(quantity)) if quantity.is_positive() => Ok(Some(quantity.clone())),
            Some(Value::Quantity(quantity)) => Err(Unclear::Quantity(quantity.spoken())),
            Some(Value::Words(words)) => Err(Unclear::Quantity(words.clone())),
            Some(_) => Err(Unclear::Missing("quantity")),
        }
    }

    fn needed_quantity(&self) -> Result<Quantity, Unclear> {
        self.quantity()?.ok_or(Unclear::Missing("quantity"))
    }

    fn used(&self) -> Result<Used, Unclear> {
        match self.0.slot("share") {
            Some(Value::Share(share)) => Ok(Used::Share(share.clone())),
            Some(other) => Err(Unclear::Quantity(other.to_json().to_string())),
            None => Ok(Used::Quantity(self.needed_quantity()?)),
        }
    }

    fn date(&self) -> Result<Option<DateReading>, Unclear> {
        match self.0.slot("date") {
            None => Ok(None),
            Some(Value::Date(Ok(reading))) => Ok(Some(*reading)),
            Some(Value::Date(Err(error))) => Err(Unclear::Date(error.to_string())),
            Some(_) => Err(Unclear::Missing("date")),
        }
    }

    fn undo(&self) -> Result<Request, Unclear> {
        match self.0.slot("number") {
            None => Ok(Request::Undo),
            Some(Value::Number(number)) if number.is_integer() => Ok(
                match usize::try_from(number.to_integer()).unwrap_or_default() {
                    0 => return Err(Unclear::Missing("number")),
                    1 => Request::Undo,
                    several => Request::UndoSeveral(several),
                },
            ),
            Some(_) => Err(Unclear::Missing("number")),
        }
    }

    fn change(&self, how: Change) -> Result<Request, Unclear> {
        let place = self.place();
        let how = match (&place, how) {
            (Some(place), Change::Moved) => Change::by_moving_to(place),
            (None, Change::Moved) => return Err(Unclear::Missing("place")),
            _ => how,
        };
        Ok(Request::Change {
            item: self.item()?,
            how,
            quantity: self.quantity()?,
            place,
            yesterday: self.words("since") == Some("yesterday"),
        })
    }

    fn tag(&self) -> Result<Option<TagNumber>, Unclear> {
        match self.0.slot("tag") {
            None => Ok(None),
            Some(Value::Number(number)) if number.is_integer() => {
                let number = u32::try_from(number.to_integer());
                Ok(Some(TagNumber(
                    number.map_err(|e| Unclear::Tag(e.to_string()))?,
                )))
            }
            Some(other) => Err(Unclear::Tag(other.to_json().to_string())),
        }
    }

    fn span(&self) -> Result<Span, Unclear> {
        match self.date()? {
            None => {}
            // The day is said back in the reply, in full; one that doesn't exist is no day to look up to.
            Some(DateReading {
                doubt: None | Some(DateDoubt::Or(_)),
                note,
                ..
            }) => {
                return Ok(Span::Until(note.date));
            }
            Some(DateReading {
                doubt: Some(doubt), ..
            }) => {
                return Err(Unclear::Date(doubt.to_string()));
            }
        }
        Ok(match self.words("span") {
            Some("today") => Span::Today,
            Some("tomorrow") => Span::Tomorrow,
            Some("next week") => Span::TwoWeeks,
            Some("this month") => Span::Month,
            _ => Span::Week,
        })
    }

    /// Words a minute; what is more than any number of them is no rate either.
    fn rate(&self) -> Result<u16, Unclear> {
        match self.0.slot("number") {
            Some(Value::Number(number)) => Ok(number.to_integer().try_into().unwrap_or(u16::MAX)),
            _ => Err(Unclear::Missing("number")),
        }
    }

    fn goods(&self) -> Result<Goods, Unclear> {
        let (quantity, date) = (self.quantity()?, self.date()?);
        Ok(Goods {
            item: self.item()?,
            quantity,
            date,
        })
    }
}
