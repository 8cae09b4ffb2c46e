//! A command becomes a request: one arm for each intent of the grammar file.

use super::slots::Slots;
use super::{Correction, Held, OunceKind, Request, Span, Unclear, Which};
use crate::grammar::{CALLED, Command};
use crate::stock::{Change, Fact, ItemName, OwnWords, Says, Section};
use crate::talk::manner::Manner;
use crate::talk::reading::Through;
use crate::talk::steps::Step;

impl Request {
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
            "put-in" => match (slots.goods()?, slots.place()) {
                // "Put the bread in the freezer", but not "add bread to the freezer".
                (goods, Some(place)) if goods.date.is_none() && slots.says("put") => {
                    Self::PutSomewhere(goods.item, goods.quantity, place)
                }
                (goods, place) => Self::PutIn { goods, place },
            },
            "have" => Self::Has {
                goods: slots.goods()?,
                place: slots.place(),
            },
            "used-up" => match slots.choice() {
                of if of.is_any() && slots.says_of_one() => Self::Finished(slots.item_or_it()?),
                of => Self::UsedUp(slots.item_or_it()?, of),
            },
            "thrown-out" if slots.says("some") => Self::UseSome(slots.item()?),
            "thrown-out" => Self::ThrownOut(slots.item_or_it()?),
            "used-some" => Self::UseSome(slots.item_or_it()?),
            "use" => match slots.item() {
                Err(Unclear::Missing(_)) => Self::UseOfIt(slots.used()?),
                Ok(item) if slots.says_no_amount() => Self::UseSome(item),
                item => Self::Use(item?, slots.used()?, slots.choice()),
            },
            "put-somewhere" => {
                let place = slots.place().ok_or(Unclear::Missing("place"))?;
                Self::PutSomewhere(slots.item()?, None, place)
            }
            "put-back-in" => {
                let place = slots.place().ok_or(Unclear::Missing("place"))?;
                Self::PutBackIn(slots.item()?, place)
            }
            "is-there" => {
                let place = slots.place().ok_or(Unclear::Missing("place"))?;
                Self::Locate(slots.item()?, place)
            }
            "it-is-there" => Self::LocateIt(slots.place().ok_or(Unclear::Missing("place"))?),
            "opened" => slots.change(Change::Opened)?,
            "frozen" => slots.change(Change::Frozen)?,
            "thawed" => slots.change(Change::Thawed)?,
            "moved" => slots.change(Change::Moved)?,
            "list-add" => Self::List(slots.item()?, slots.quantity()?),
            "list-more" => Self::ListMore(slots.item_if_said()?, slots.needed_in_packs()?),
            "list-clear" => Self::ClearList,
            "list-drop" => match slots.quantity()? {
                Some(quantity) => Self::ListLess(slots.item()?, quantity),
                None => Self::Unlist(slots.item()?),
            },
            "list-change" => Self::ListAmount(slots.item()?, slots.needed_quantity()?),
            "list-ask" => Self::OnList(slots.item()?),
            "list-read" => Self::ReadList,
            "got" | "got-some" => Self::Got(slots.item()?, slots.quantity()?),
            "only-had" => Self::OnlyHad(slots.needed_quantity()?),
            "expires" => Self::Expires(slots.span()?),
            "expired" => Self::Expires(Span::Passed),
            "use-first" => Self::UseFirst,
            "good-ask" if slots.says("raw") => Self::Raw(slots.item()?),
            "good-ask" => Self::IsItGood(slots.item_or_it()?),
            "opened-ask" => Self::IsItOpen(slots.item_or_it()?),
            "left-out" => Self::LeftOut(slots.item()?),
            "bad-sign" => Self::BadSign,
            "have-none" => Self::HaveNone(slots.item()?),
            "thrown-out-old" => Self::ThrownOutOld(slots.item()?),
            "some-of" => Self::SoMuchOfIt(slots.needed_quantity()?),
            "old-ones" => Self::OldOnes,
            "which-year" => Self::InYear(match slots.words("which-year") {
                Some("last") => -1,
                Some("next") => 1,
                _ => 0,
            }),
            "ate-bad" => Self::AteBad,
            "low" => Self::Low,
            "keep" => Self::Keep(slots.item()?, slots.needed_quantity()?),
            "keep-end" => Self::EndKeep(slots.item()?),
            "keep-read" => Self::KeepLevels,
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
            "when" => Self::When(slots.item_or_it()?),
            "what-there-is" => Self::WhatThereIs,
            "where" => Self::Where(slots.item_or_it()?),
            "how-much" => Self::HowMuch(slots.item_or_it()?),
            "correct" | "meant" | "place-meant" | "put-right" => Self::Correct(Correction {
                item: slots.item().ok(),
                quantity: slots.quantity()?,
                place: slots.place(),
                date: slots.date()?,
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
            "kind-ask" => Self::IsMedicine(slots.item()?),
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
            "step-more" => Self::AddStep(slots.step()?),
            "make-note" => slots.own_words(Fact::Make)?,
            "helper-note" => slots.own_words(Fact::Note)?,
            "label-has" => slots.label(Says::Contains)?,
            "label-may" => slots.label(Says::MayContain)?,
            "label-lacks" => slots.label(Says::NotListed)?,
            "label-ask" => Self::HasAllergen(slots.item_or_it()?, slots.allergen()?),
            "free-ask" => Self::IsItFree(slots.item_or_it()?, slots.allergen()?),
            "allergens-ask" => Self::Allergens(slots.item()?),
            "allergen-ask" => Self::WhatHas(slots.allergen()?),
            "allergen-free-ask" => Self::WhatHasNo(slots.allergen()?),
            "directions-ask" => Self::Directions(slots.item_or_it()?),
            "take-ask" => Self::HowToTake(slots.item()?),
            "dose-ask" => Self::Dose,
            "too-much" => Self::TooMuch,
            "step-next" => Self::ReadStep(Step::Next),
            "step-back" => Self::ReadStep(Step::Back),
            "step-first" => Self::ReadStep(Step::First),
            "feel-note" => Self::Describe(slots.item()?, Fact::Feel(slots.feel()?)),
            "feel-ask" => Self::WhatFeels(slots.feel_if_said()?, slots.mark_if_said()?),
            "mark-note" => {
                let mark = slots.mark_if_said()?.ok_or(Unclear::Missing("mark"))?;
                Self::Mark(slots.item()?, mark)
            }
            "mark-ask" => Self::MarksOf(slots.item()?),
            "mark-off" => Self::Unmark(slots.item()?),
            "tag-kitchen" => Self::KitchenTag(slots.item()?, slots.needed_tag()?, slots.choice()),
            "tag-remind" => Self::Remind(slots.item()?, slots.needed_tag()?),
            "tags-take" => Self::TakeTags(slots.needed_tag()?, slots.last_tag()?),
            "tag-lost" => Self::LoseTag(slots.needed_tag()?),
            "tag-found" => Self::FindTag(slots.needed_tag()?),
            "tags-free" => Self::TagPool,
            "spent" => Self::SpentTags,
            "spent-one" => match slots.tag()? {
                Some(number) => Self::Spent(Which::Tag(number)),
                None => Self::Spent(Which::Item(slots.item_without_number()?)),
            },
            "tag-spent" => Self::Spent(Which::Tag(slots.needed_tag()?)),
            "tag-free" => Self::FreeTag(slots.needed_tag()?),
            "spent-some" => match slots.choice() {
                of if of.is_any() => Self::Use(slots.item()?, slots.used()?, of),
                of => Self::UsedUp(slots.item()?, of),
            },
            "done" | "done-shopping" => Self::Done,
            "trip-begin" => Self::BeginTrip,
            "trip-end" => Self::ComeHome,
            "next-line" => Self::NextLine,
            "got-it" => Self::GotIt,
            "none-here" => Self::NoneThere(None),
            "go-on" => Self::GoOn,
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
            "count-note" => Self::Count(slots.item()?, slots.needed_quantity()?, None),
            "made-sure" => Self::MadeSure(slots.item()?),
            "not-yet-known" => Self::NotYetKnown,
            "bought-last" => Self::BoughtLast,
            "put-back" => match slots.item_if_said()? {
                Some(item) => Self::PutBack(item),
                None => Self::PutItBack,
            },
            "how-long" => Self::HowLong(slots.item_or_it()?),
            "keeps" => Self::Keeps {
                item: slots.item_or_it()?,
                state: slots.state()?,
                place: slots.place(),
            },
            "code-is" => match slots.tag()? {
                Some(number) => Self::CodeIsTag(number),
                None => Self::CodeIs(slots.item()?),
            },
            "last-change" => Self::LastChange,
            "why-so" => Self::WhySo,
            "changed-yesterday" => Self::ChangedYesterday,
            "undo-ask" => Self::HowToUndo,
            "mistake-ask" => Self::HowToCorrect,
            "wrong" => Self::Wrong,
            "today-ask" => Self::Today,
            "meaning-ask" => Self::WhatMeans(slots.date_kind()?),
            "changed-today" => Self::ChangedToday,
            "why" => Self::Why(slots.item_or_it()?),
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
            "date-change" => {
                let date = slots.date()?.ok_or(Unclear::Missing("date"))?;
                match slots.item_if_said()? {
                    Some(item) => Self::ChangeDateOf(item, date),
                    None => Self::ChangeDate(date),
                }
            }
            "repeat" => Self::Repeat,
            "help" => Self::Help,
            "teach" => Self::Teach,
            "teach-end" => Self::StopPractising,
            "yes" | "yes-clear" => Self::Yes,
            "agreed" => Self::Agreed,
            "no-idea" => Self::NoIdea,
            "practice-end" => Self::StopPractising,
            "no" | "no-said" => Self::No,
            "never-mind" => Self::NeverMind,
            "hush" => Self::Hush,
            "meaning" => Self::Meaning(slots.date_kind()?),
            "ounces" => Self::Ounces(match slots.words("ounce-kind") {
                Some("fluid") => OunceKind::Fluid,
                _ => OunceKind::Weight,
            }),
            other => return Err(Unclear::Intent(other.to_owned())),
        })
    }
}
