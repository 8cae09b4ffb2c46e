//! What a command asks for, with everything it needs: a command that lacks something isn't one.

mod corrected;
mod parts;
mod read;
mod slots;
mod unclear;

use chrono::NaiveDate;

pub use self::parts::{Correction, Goods, Held, OunceKind, Since, Span, State, Used, Which};
pub use self::unclear::Unclear;
use super::manner::Manner;
use super::reading::Through;
use super::steps::Step;
use crate::measure::{DateKind, DateReading, Quantity, Share};
use crate::stock::{
    Allergen, Change, Choice, Comes, Fact, Feel, ItemName, Labelled, Mark, OwnWords, Place,
    Section, TagNumber,
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
    UsedUp(ItemName, Choice),
    /// "I finished the milk": what was opened, or else all of it.
    Finished(ItemName),
    /// "I threw out the eggs": used up, and of several lots asked about, since one of them may be meant.
    ThrownOut(ItemName),
    /// "I threw out the expired eggs": what has passed.
    ThrownOutOld(ItemName),
    /// "No, twelve", where it was asked whether all of it was thrown out.
    SoMuchOfIt(Quantity),
    /// "The expired ones", as an answer to that.
    OldOnes,
    /// "Next year", where it was asked which of two days is the date: so many years from this one.
    InYear(i32),
    /// "I used two eggs", "I used half of the milk."
    Use(ItemName, Used, Choice),
    /// "I used half of it": of what was spoken of last.
    UseOfIt(Used),
    /// "I put the bread in the freezer": it is new, or it stood somewhere else.
    PutSomewhere(ItemName, Option<Quantity>, Place),
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
        /// Since when.
        since: Since,
        /// Which of it, if that was said.
        of: Choice,
    },
    /// "Put dish soap on the list."
    List(ItemName, Option<Quantity>),
    /// "Take bread off the list."
    Unlist(ItemName),
    /// "I need two more cans": so much more than is on the list, of what was named or else spoken of last.
    ListMore(Option<ItemName>, Quantity),
    /// "Take two pounds of flour off the list": the rest stays.
    ListLess(ItemName, Quantity),
    /// "Change the apples to four pounds": of what is on the list.
    ListAmount(ItemName, Quantity),
    /// "Is milk on the list?", "do I need bread?"
    OnList(ItemName),
    /// "Clear the list."
    ClearList,
    /// "Read the list."
    ReadList,
    /// "Got the milk", "got two cans of beans".
    Got(ItemName, Option<Quantity>),
    /// "What expires this week?"
    Expires(Span),
    /// "What should I use first?"
    UseFirst,
    /// "What is running low?"
    Low,
    /// "Keep two cans of tomatoes."
    Keep(ItemName, Quantity),
    /// "Stop keeping eggs."
    EndKeep(ItemName),
    /// "What do I keep?"
    KeepLevels,
    /// "Temporary tag: two pounds of salmon, use by December third."
    Tag(Goods),
    /// "Read the tags."
    ReadTags,
    /// "Put away the salmon in the fridge."
    PutAway(Which, Place),
    /// "What is in the fridge?"
    WhatIsIn(Place),
    /// "What do I have?"
    WhatThereIs,
    /// "What is on tag two?"
    ReadTag(TagNumber),
    /// "When does the milk expire?"
    When(ItemName),
    /// "Can I eat the chicken?", "the milk smells off."
    IsItGood(ItemName),
    /// "Can I eat the chicken raw?"
    Raw(ItemName),
    /// "Is the milk open?"
    IsItOpen(ItemName),
    /// "I left the chicken out overnight."
    LeftOut(ItemName),
    /// "The can is bulging."
    BadSign,
    /// "I have no milk."
    HaveNone(ItemName),
    /// "What has no nuts?", which no label tells.
    WhatHasNo(Allergen),
    /// "I ate something bad."
    AteBad,
    /// "Is aspirin a medicine?"
    IsMedicine(ItemName),
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
    /// "What changed yesterday?"
    ChangedYesterday,
    /// "What did I just do?"
    LastChange,
    /// "Why?", right behind a change.
    WhySo,
    /// "How do I undo?"
    HowToUndo,
    /// "How do I correct a mistake?"
    HowToCorrect,
    /// "That's wrong": a no to a question; else it is told how to put it right.
    Wrong,
    /// "What is today's date?"
    Today,
    /// "What does use by mean?"
    WhatMeans(DateKind),
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
    /// "Are the cookies free of peanuts?"
    IsItFree(ItemName, Allergen),
    /// "What allergens are in the oats?"
    Allergens(ItemName),
    /// "What has peanuts in it?"
    WhatHas(Allergen),
    /// "How do I cook the oats?"
    Directions(ItemName),
    /// "How do I take the aspirin?": as it was noted, and never as a dose of ours.
    HowToTake(ItemName),
    /// "How many aspirin should I take?"
    Dose,
    /// "I took too much aspirin."
    TooMuch,
    /// "Another step: drain it": of the directions that were read or noted last.
    AddStep(OwnWords),
    /// "Next step": of the directions that were read last.
    ReadStep(Step),
    /// "What is the flat square tin with two bands?"
    WhatFeels(Feel, Option<Mark>),
    /// "I put two bands on the chickpeas."
    Mark(ItemName, Mark),
    /// "What mark is on the chickpeas?"
    MarksOf(ItemName),
    /// "I took the band off the corn."
    Unmark(ItemName),
    /// "Kitchen tag twelve on the oats."
    KitchenTag(ItemName, TagNumber, Choice),
    /// "Reminder tag thirty for birthday candles."
    Remind(ItemName, TagNumber),
    /// "I'm taking tags one to five."
    TakeTags(TagNumber, TagNumber),
    /// "I lost tag five."
    LoseTag(TagNumber),
    /// "I found tag five."
    FindTag(TagNumber),
    /// "Tag one is free": what it is on isn't there any more.
    FreeTag(TagNumber),
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
    /// "Next", where things are put away or spent tags are read: on to the next one.
    GoOn,
    /// "Got it": what was read last off the list.
    GotIt,
    /// "They only had two": of what was read last off the list.
    OnlyHad(Quantity),
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
    /// The same of one of several things.
    DateOf(Goods, Labelled),
    /// Another date of what came last: what [`Self::ChangeDate`] means of the thing spoken of.
    Redate(Goods),
    /// "There are six eggs left", wherever they are, or of those that are in a place.
    Count(ItemName, Quantity, Option<Place>),
    /// "I have six eggs in the fridge": what is there, be it known already or new.
    Has {
        /// What, how much and with which date.
        goods: Goods,
        /// Where, if it was said.
        place: Option<Place>,
    },
    /// "I froze half of the butter."
    ChangePart {
        /// Of what.
        item: ItemName,
        /// What became of it.
        how: Change,
        /// How much of all there is that it can happen to.
        share: Share,
        /// Where it went, if it was said.
        place: Option<Place>,
    },
    /// "I used some flour": nobody knows how much.
    UseSome(ItemName),
    /// "The eggs are in the fridge."
    Locate(ItemName, Place),
    /// "Put the milk back in the fridge": it was there before, or isn't used up after all.
    PutBackIn(ItemName, Place),
    /// "It's in the fridge": what was spoken of last.
    LocateIt(Place),
    /// "I'm sure of the corn."
    MadeSure(ItemName),
    /// "What is not yet known?"
    NotYetKnown,
    /// "What did I buy last time?"
    BoughtLast,
    /// "Put the milk back": it isn't used up after all.
    PutBack(ItemName),
    /// "Put it back": what was spoken of last.
    PutItBack,
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
    /// "Change the date of the milk to December fifth."
    ChangeDateOf(ItemName, DateReading),
    /// "Repeat that."
    Repeat,
    /// "What can I say?"
    Help,
    /// "Teach me."
    Teach,
    /// "Stop practising."
    StopPractising,
    /// "Never mind": no to a question, and the end of the practice round where none is open.
    NeverMind,
    /// "Be quiet."
    Hush,
    /// "Yes."
    Yes,
    /// "Okay", "sure": a yes, but to no question that can hurt.
    Agreed,
    /// "It doesn't say", "I don't know."
    NoIdea,
    /// "No."
    No,
    /// What a date means, as an answer: "use by".
    Meaning(DateKind),
    /// What ounces are meant, as an answer: "by weight".
    Ounces(OunceKind),
}

impl Request {
    /// Whether it can only be meant of a thing that the kitchen has heard of before.
    pub fn is_of_known_things(&self) -> bool {
        use Request::*;
        matches!(
            self,
            UsedUp(..)
                | Finished(_)
                | ThrownOut(_)
                | Use(..)
                | UseSome(_)
                | ChangePart { .. }
                | Change { .. }
                | Unlist(_)
                | Got(..)
                | When(_)
                | Where(_)
                | HowMuch(_)
                | ForgetNames(_)
                | PlaySound(_)
                | Why(_)
                | HasAllergen(..)
                | IsItFree(..)
                | Allergens(_)
                | IsItOpen(_)
                | HaveNone(_)
                | ThrownOutOld(_)
                | Directions(_)
                | MadeSure(_)
                | Date(_)
                | DateOf(..)
                | ChangeDateOf(..)
                | Redate(_)
                | Count(..)
                | PutBack(_)
                | HowLong(_)
                | EndKeep(_)
                | KitchenTag(..)
                | MarksOf(_)
                | Unmark(_)
                | OnList(_)
                | ListAmount(..)
                | ListLess(..)
                | NoneThere(Some(_))
                | Spent(Which::Item(_))
                | InHand(Held::Item(_) | Held::Untagged(_))
        )
    }

    /// Whether it says of a thing that it is there, and neither where nor in what.
    pub(super) fn says_only_that_it_is_there(&self) -> bool {
        match self {
            Self::Has { goods, place: None } => {
                let quantity = goods.quantity.as_ref();
                quantity.is_none_or(|quantity| quantity.bare_count().is_some())
            }
            _ => false,
        }
    }

    /// Whether it is said to a question: it answers it, or puts it right.
    pub(super) fn answers(&self) -> bool {
        use Request::*;
        matches!(
            self,
            Yes | Agreed
                | NoIdea
                | No
                | Wrong
                | NeverMind
                | Meaning(_)
                | Ounces(_)
                | Correct(_)
                | CallIt(_)
                | InYear(_)
        )
    }

    /// The item that it is about, if it names one.
    pub fn item(&self) -> Option<ItemName> {
        self.clone().item_mut().cloned()
    }

    pub(super) fn item_mut(&mut self) -> Option<&mut ItemName> {
        use Request::*;
        match self {
            PutIn { goods, .. }
            | Has { goods, .. }
            | Tag(goods)
            | Date(goods)
            | DateOf(goods, _)
            | Redate(goods) => Some(&mut goods.item),
            UsedUp(item, _)
            | Finished(item)
            | ThrownOut(item)
            | ThrownOutOld(item)
            | Raw(item)
            | IsItOpen(item)
            | LeftOut(item)
            | HaveNone(item)
            | Use(item, ..)
            | UseSome(item)
            | ChangePart { item, .. }
            | Change { item, .. }
            | PutSomewhere(item, ..)
            | List(item, _)
            | Unlist(item)
            | Got(item, _)
            | Keep(item, _)
            | EndKeep(item)
            | PutAway(Which::Item(item), _)
            | When(item)
            | Where(item)
            | HowMuch(item)
            | ForgetNames(item)
            | PlaySound(item)
            | Why(item)
            | Describe(item, _)
            | HasAllergen(item, _)
            | IsItFree(item, _)
            | Allergens(item)
            | Directions(item)
            | IsMedicine(item)
            | IsItGood(item)
            | HowToTake(item)
            | ChangeDateOf(item, _)
            | Mark(item, _)
            | MarksOf(item)
            | Unmark(item)
            | OnList(item)
            | ListAmount(item, _)
            | ListLess(item, _)
            | KitchenTag(item, ..)
            | Remind(item, _)
            | Spent(Which::Item(item))
            | NoneThere(Some(item))
            | ListMore(Some(item), _)
            | Instead { instead: item, .. }
            | Count(item, ..)
            | Locate(item, _)
            | PutBackIn(item, _)
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
            | Self::Has { goods, .. }
            | Self::Tag(goods)
            | Self::Date(goods)
            | Self::DateOf(goods, _)
            | Self::Redate(goods) => Some(goods),
            _ => None,
        }
    }

    pub(super) fn goods_mut(&mut self) -> Option<&mut Goods> {
        match self {
            Self::PutIn { goods, .. }
            | Self::Has { goods, .. }
            | Self::Tag(goods)
            | Self::Date(goods)
            | Self::DateOf(goods, _)
            | Self::Redate(goods) => Some(goods),
            _ => None,
        }
    }

    /// The day that others may mean otherwise, if it was said so.
    pub(super) fn day_to_read_back(&self) -> Option<NaiveDate> {
        let reading = self.goods()?.date.filter(|reading| reading.read_back)?;
        Some(reading.note.date)
    }

    /// Something that comes into the house, with nothing more known of it than where it is, and maybe how much.
    pub(super) fn new_at(item: ItemName, quantity: Option<Quantity>, place: Place) -> Self {
        Self::PutIn {
            goods: Goods {
                item,
                quantity,
                date: None,
            },
            place: Some(place),
        }
    }

    /// The move of so much of something, or of all that is meant.
    pub(super) fn moved_to(
        item: ItemName,
        quantity: Option<Quantity>,
        of: Choice,
        place: Place,
    ) -> Self {
        Self::Change {
            item,
            how: Change::by_moving_to(&place),
            quantity,
            place: Some(place),
            since: Since::Today,
            of,
        }
    }

    /// How much is taken of what is there, if that was said.
    pub(super) fn taken_quantity_mut(&mut self) -> Option<(&ItemName, &mut Quantity)> {
        match self {
            Self::Use(item, Used::Quantity(quantity), _)
            | Self::Change {
                item,
                quantity: Some(quantity),
                ..
            } => Some((item, quantity)),
            _ => None,
        }
    }

    /// The quantity of something that comes into the house or is to be bought or kept: what it measures isn't known from
    /// what there is.
    pub(super) fn new_quantity_mut(&mut self) -> Option<(&ItemName, &mut Quantity)> {
        match self {
            Self::PutIn { goods, .. } | Self::Has { goods, .. } | Self::Tag(goods) => {
                Some((&goods.item, goods.quantity.as_mut()?))
            }
            Self::Keep(item, quantity) | Self::Count(item, quantity, _) => Some((item, quantity)),
            Self::List(item, quantity)
            | Self::Got(item, quantity)
            | Self::PutSomewhere(item, quantity, _) => Some((item, quantity.as_mut()?)),
            _ => None,
        }
    }

    /// The same of another allergen, where it has one.
    ///
    /// ```
    /// use tellshelf::stock::{Allergen, ItemName};
    /// use tellshelf::talk::Request;
    /// let allergen = |name| Allergen::new(name).unwrap();
    /// let asked = |name| Request::HasAllergen(ItemName::new("oats").unwrap(), allergen(name));
    /// assert_eq!(asked("milk").of_allergen(allergen("wheat")), Some(asked("wheat")));
    /// assert_eq!(Request::ReadList.of_allergen(allergen("wheat")), None);
    /// ```
    #[must_use]
    pub fn of_allergen(self, allergen: Allergen) -> Option<Self> {
        match self {
            Self::HasAllergen(item, _) => Some(Self::HasAllergen(item, allergen)),
            Self::IsItFree(item, _) => Some(Self::IsItFree(item, allergen)),
            Self::Describe(item, fact) => {
                let (says, _) = fact.label()?;
                Some(Self::Describe(item, Fact::of_label(says, vec![allergen])))
            }
            _ => None,
        }
    }
}
