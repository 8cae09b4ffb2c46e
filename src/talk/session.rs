//! The session: keeps the stock, the names, the open question and the last reply.

mod answering;
mod asking;
mod at_its_end;
mod cooking;
mod counting;
mod dating;
mod listening;
mod manners;
mod naming;
mod no_name;
mod placing;
mod practising;
mod repair;
mod shopping_list;
mod whole_packs;

use std::rc::Rc;
use std::sync::Arc;

use chrono::{Datelike, Days, NaiveDate, NaiveDateTime};

use self::naming::Named;
use super::answer::Answer;
use super::attention::Attention;
use super::lesson::{self, Lesson};
use super::question::Question;
use super::reading::{ListPlace, Through};
use super::request::{Correction, Goods, Request, Which};
use super::steps::Reading;
use super::turn::Turn;
use super::walk::{Here, Walk};
use super::{help, manner, scanned, wording};
use crate::grammar::{Acceptor, Grammar, Lexicon, Understanding, Verdict, WakePhrase};
use crate::measure::{DateDoubt, DateKind, Quantity};
use crate::settings::{Replies, Settings};
use crate::stock::{
    Change, Choice, Clip, Code, Event, EventId, Fact, ItemKind, ItemName, Learned, Lot, Refusal,
    Source, Stock, StockError,
};

/// A question that waits for its answer, and how it was asked.
struct Asked {
    question: Question,
    words: String,
    /// How that sounded which is asked about, if no name took it yet.
    clip: Option<Clip>,
    /// What it puts right was taken back already: a no doesn't bring that back.
    is_behind_a_change: bool,
}

/// What was last said of a thing: what "no, I said …" puts right, and "spell it" is about.
struct Said {
    request: Request,
    /// In the words of the grammar.
    sentence: String,
    /// How its name was heard, as far as nobody knows that.
    forms: Vec<ItemName>,
    /// How it sounded, if that may be kept.
    clip: Option<Clip>,
    sure: Sure,
    stage: Stage,
    /// Whether the forms are to be names of it: it is new, or the person said what they stand for.
    teaches: bool,
}

/// The practice round, and what waits for its end.
struct Practice {
    lesson: Lesson,
    /// The conversation about one's own kitchen, as it was left.
    own: Box<Session>,
    /// The last change of one's own stock: nothing that is practised is one.
    own_last: Option<EventId>,
    /// What was just carried out.
    carried_out: Option<Request>,
}

/// What came of what was said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Stage {
    /// Nothing was changed by it.
    Open,
    /// It is the last change, and can be taken back.
    Changed,
    /// There were changes after it: it can't be put right any more, only spoken of.
    Past,
}

/// Whether what was said was understood, or only guessed at: then it is never carried out unasked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sure {
    Yes,
    No,
}

/// A conversation about one stock.
///
/// ```
/// use chrono::NaiveDate;
/// use tellshelf::grammar::Grammar;
/// use tellshelf::stock::{Source, Stock};
/// use tellshelf::talk::Session;
/// let grammar = Grammar::load("grammars/en.yaml".as_ref()).unwrap();
/// let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
/// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
/// let turn = session.hear(&["add two bags of lentils to the pantry"], now, Source::Typed);
/// assert_eq!(turn.reply, "Lentils: 2 bags, pantry.");
/// assert!(turn.changed);
/// ```
pub struct Session {
    stock: Stock,
    /// What can be said outside any walk.
    grammar: Grammar,
    phrase: Option<WakePhrase>,
    attention: Attention,
    walk: Walk,
    /// The names that any kitchen knows.
    starter: Lexicon,
    names: Arc<Lexicon>,
    /// What the names were made of; `None` once there is one more.
    known: Option<Known>,
    /// For guided hearing, with what each is for; made anew when a name is learned.
    acceptors: Vec<(Attention, Option<&'static str>, Rc<Acceptor>)>,
    open: Option<Asked>,
    said: Option<Said>,
    /// The thing that was named last, by the person or as it came up on a walk.
    spoken_of: Option<ItemName>,
    /// What the person said no to: it isn't what they are trying to say.
    declined: Vec<Request>,
    /// The directions that were read last. What is asked in between doesn't lose the place in them.
    reading: Option<Reading>,
    /// How the utterance sounded that is answered next, if that may be kept.
    clip: Option<Clip>,
    last_reply: Option<String>,
    /// What was heard last, for who wonders about the answer.
    heard_last: Option<String>,
    /// The list that is being read, and how far.
    list_place: Option<ListPlace>,
    /// What the list answers that comes with the next reply.
    listed_for: Option<Request>,
    /// Something changed since the list was read.
    list_is_old: bool,
    /// The last reply told of a change, or wasn't understood since.
    is_behind_a_change: bool,
    settings: Settings,
    /// What they were before each change by voice, the last one last.
    before: Vec<manner::Before>,
    /// Utterances in a row that weren't understood.
    misses: usize,
    /// While the person practises, all the rest is of a kitchen that is thrown away.
    practice: Option<Practice>,
}

impl Session {
    /// Begins a conversation.
    ///
    /// # Errors
    /// What the stock's file says.
    pub fn new(stock: Stock, grammar: Grammar) -> Result<Self, StockError> {
        let starter = Lexicon::starter(grammar.language());
        let known = Known::of(&stock)?;
        let names = Arc::new(known.beside(&starter));
        let walk = Walk::of(&stock)?;
        Ok(Self {
            stock,
            grammar,
            phrase: None,
            attention: Attention::Awake,
            walk,
            starter,
            names,
            known: Some(known),
            acceptors: Vec::new(),
            open: None,
            said: None,
            spoken_of: None,
            declined: Vec::new(),
            reading: None,
            clip: None,
            last_reply: None,
            heard_last: None,
            list_place: None,
            listed_for: None,
            list_is_old: false,
            is_behind_a_change: false,
            settings: Settings::default(),
            before: Vec::new(),
            misses: 0,
            practice: None,
        })
    }

    /// The stock, for looking at: one's own, also while the person practises.
    pub fn stock(&self) -> &Stock {
        let own = self.practice.as_ref().map(|practice| &practice.own.stock);
        own.unwrap_or(&self.stock)
    }

    /// Whether the talk is in the middle of something: a question is open, things are gone through one after another, or the
    /// person practises.
    pub fn is_busy(&self) -> bool {
        self.open.is_some() || self.walk.mode().is_some() || self.practice.is_some()
    }

    /// The language that is spoken, as the first part of a language tag: `en`.
    pub fn language(&self) -> &str {
        let tag = self.grammar.language();
        tag.split('-').next().unwrap_or(tag)
    }

    /// Answers a code that a scanner typed; `None` where the text is none. A code is no sentence: it is answered by what
    /// it stands for, and by where the talk is.
    pub fn scan(&mut self, text: &str, now: NaiveDateTime, source: Source) -> Option<Turn> {
        let code = scanned::code_in(text)?;
        let understanding = Understanding {
            heard: text.trim().to_owned(),
            command: None,
            verdict: Verdict::Accept,
            or: None,
            forms: Vec::new(),
            name_said: None,
        };
        self.open = None;
        let answer = self.answer_code(&code, now, source);
        Some(self.turn(answer, understanding))
    }

    fn answer_code(
        &mut self,
        code: &Code,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        if let Some(reply) = scanned::misread(code) {
            // It may have been another pack: "this is the rice" isn't said of the code before.
            self.walk.forget_code();
            return Ok(Answer::say(reply.to_owned()));
        }
        let here = Here {
            stock: &mut self.stock,
            now,
            source,
        };
        match self.walk.scanned(code, here)? {
            Ok(answer) => Ok(answer),
            Err(request) => self.carry_out(request, false, now, source),
        }
    }

    /// Understands and answers in one.
    pub fn hear(&mut self, texts: &[&str], now: NaiveDateTime, source: Source) -> Turn {
        let understanding = self.understand(texts, now);
        self.answer(understanding, now, source)
    }

    /// Whether the sound of a new name is to be kept: only then [`Session::overhear`] is of use.
    ///
    /// # Errors
    /// What the stock's file says.
    pub fn keeps_sounds(&self) -> Result<bool, StockError> {
        self.stock.keeps_sounds()
    }

    /// Takes how the utterance sounded that is answered next. If it is a name's first, it is kept with it.
    pub fn overhear(&mut self, clip: Clip) {
        self.clip = Some(clip);
    }

    /// Answers what was understood. The stock is on disk before the reply is made.
    pub fn answer(
        &mut self,
        mut understanding: Understanding,
        now: NaiveDateTime,
        source: Source,
    ) -> Turn {
        // The phrase is no part of what was said.
        if let (Some(phrase), Some(command)) = (&self.phrase, &mut understanding.command) {
            command.sentence = phrase.taken_off(&command.sentence).to_owned();
        }
        let answer = self.reply_to(&mut understanding, now, source);
        self.turn(answer, understanding)
    }

    fn turn(&mut self, answer: Result<Answer, StockError>, understanding: Understanding) -> Turn {
        let answer = match answer {
            Ok(answer) => answer,
            Err(StockError::Refused(refusal)) => Answer::say(wording::refusal(&refusal)),
            Err(error) => Answer {
                failed: true,
                ..Answer::say(format!("{error}."))
            },
        };
        let answer = self.practised(answer);
        self.clip = None;
        self.misses = if answer.missed { self.misses + 1 } else { 0 };
        let mut reply = answer.reply;
        if self.settings.speech.replies == Replies::Full {
            reply.push_str(&answer.extra);
        }
        // Who wants it again wants what was last told, and not that it wasn't understood.
        if !answer.repeated && (!answer.missed || self.last_reply.is_none()) {
            self.last_reply = Some(reply.clone());
        }
        self.list_is_old |= answer.changed;
        let listed_for = self.listed_for.take();
        if let Some(listing) = answer.listing {
            self.list_place = Some(ListPlace::begin(listing, listed_for));
            self.list_is_old = false;
        }
        self.is_behind_a_change = answer.changed || answer.missed && self.is_behind_a_change;
        if !answer.of_itself {
            self.heard_last = Some(understanding.heard.clone());
        }
        Turn {
            understanding,
            changed: answer.changed,
            reply,
            sound: answer.sound,
            effect: answer.effect,
            failed: answer.failed,
        }
    }

    /// The reply; behind it, what was left unfinished by it: an entry that waited for its answer isn't dropped unsaid.
    fn reply_to(
        &mut self,
        understanding: &mut Understanding,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let open = self.open.as_ref();
        let unfinished = open.and_then(|open| open.question.unfinished().cloned());
        let spoken_of = self.spoken_of.clone();
        let answer = self.reply_to_all(understanding, now, source);
        // What is only asked about isn't spoken of until it is meant.
        let is_a_guess = |open: &Asked| matches!(open.question, Question::DidYouMean { .. });
        if self.open.as_ref().is_some_and(is_a_guess) {
            self.spoken_of = spoken_of;
        }
        let dropped = unfinished.filter(|unfinished| self.drops(unfinished, understanding));
        let Some(words) = dropped.as_ref().and_then(wording::not_noted) else {
            return answer;
        };
        let mut answer = match answer {
            Err(StockError::Refused(refusal)) => Answer::say(wording::refusal(&refusal)),
            answer => answer?,
        };
        answer.reply = match self.open {
            // What is asked now is said last.
            Some(_) => format!("{words} {}", answer.reply),
            None => format!("{} {words}", answer.reply),
        };
        Ok(answer)
    }

    fn reply_to_all(
        &mut self,
        understanding: &mut Understanding,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let open = self.open.take();
        let is_closed = |asked: &Asked| asked.question.is_closed_by_anything_else();
        let command = match (&understanding.command, understanding.verdict) {
            (Some(command), Verdict::Accept | Verdict::Ask) => command.clone(),
            _ => return self.missed(open, understanding, now),
        };
        let command = &command;
        let request = match Request::read(command) {
            Ok(request) => request,
            Err(unclear) if open.as_ref().is_some_and(is_closed) => {
                let words = format!("{unclear}. {}", wording::ALL_AS_IT_WAS);
                return Ok(Answer::say(words));
            }
            Err(unclear) => {
                self.open = open;
                return Ok(Answer::say(format!("{unclear}.")));
            }
        };
        let (request, is_as_before) = match self.named(request, understanding.name_said.as_deref())
        {
            Named::AsSaid(request) => (request, false),
            Named::AsBefore(request) => (request, true),
            Named::Nothing(words) => {
                self.open = open;
                return Ok(Answer::say(words.to_owned()));
            }
        };
        let unknown_name = command.unknown_name().filter(|_| !is_as_before);
        if let Some(name) = unknown_name.filter(|name| ends_in_a_day(name)) {
            understanding.verdict = Verdict::Ask;
            self.open = open;
            return Ok(Answer::say(wording::no_day_there(name)));
        }
        if is_as_before {
            understanding.name_said = None;
            if source == Source::Typed {
                understanding.verdict = Verdict::Accept;
            }
        }
        let forms = names(&understanding.forms);
        let forms = if is_as_before { Vec::new() } else { forms };
        self.remember(&request, &command.sentence, forms, Sure::Yes);
        if let Some(name) = unknown_name
            && changes_something(&request)
            && let Some(words) = no_name::ask_instead(name, &self.names)
        {
            understanding.verdict = Verdict::Ask;
            self.open = open;
            return Ok(Answer::say(words));
        }
        // "I have a headache": nothing is noted of what the kitchen has never heard of.
        if let Some(name) = unknown_name
            && request.says_only_that_it_is_there()
        {
            understanding.verdict = Verdict::Ask;
            self.open = open;
            let words = match name.starts_with("no ") {
                true => help::not_understood(&understanding.heard, self.misses, self.point()),
                false => wording::unknown_to_be_added(name),
            };
            return Ok(Answer::missed(words));
        }
        // What is only a part of the name of what is there is known by that.
        if unknown_name.is_some()
            && request.is_of_known_things()
            && let Some(answer) = self.ask_whether_kind(&request)?
        {
            understanding.verdict = Verdict::Ask;
            return Ok(answer);
        }
        if let Some(name) = unknown_name
            && request.is_of_known_things()
            && !(name.contains(" and ") && changes_something(&request))
        {
            // More likely a name misheard than a thing never spoken of before.
            understanding.verdict = Verdict::Ask;
            if let Request::InHand(_) = request {
                // It is told what there is to put away.
                return self.carry_out(request, false, now, source);
            }
            return Ok(self.ask_about_unknown(name, request));
        }
        if let Some(name) = unknown_name
            && (name.contains(" and ") || no_name::is_of_known_names(name, &self.names))
            && changes_something(&request)
        {
            understanding.verdict = Verdict::Ask;
            if name.split_whitespace().count() > asking::MOST_ECHOED {
                return Ok(Answer::say(wording::TOO_LONG.to_owned()));
            }
            let words = wording::ask_whether_one(name);
            let first = command.sentence.replace(name, self.first_of(name));
            return Ok(self.ask(Question::IsOneThing { request, first }, words));
        }
        if let (true, Request::PutSomewhere(item, _, place)) = (is_as_before, &request)
            && self.is_nowhere(item)?
        {
            let words = wording::ask_whether_to_add(item, place);
            let request = Request::new_at(item.clone(), None, place.clone());
            return Ok(self.ask(Question::did_you_mean(request), words));
        }
        if let Some(name) = command.unknown_name()
            && is_hardly_a_name(name)
            && changes_something(&request)
        {
            understanding.verdict = Verdict::Ask;
            let words = wording::ask_whether_name(name);
            return Ok(self.ask(Question::did_you_mean(request), words));
        }
        // What was typed wasn't misheard. Where the thing must be there, that it isn't was told before.
        if source == Source::Typed && understanding.has_only_a_new_name() {
            understanding.verdict = Verdict::Accept;
        }
        let request = match request {
            Request::NeverMind if open.is_none() && self.practice.is_some() => {
                Request::StopPractising
            }
            Request::NeverMind => Request::No,
            request => plain_answer(request, open.as_ref()),
        };
        let in_doubt = understanding.verdict == Verdict::Ask;
        let name_said = understanding.name_said.as_deref().filter(|_| {
            let answers_unasked = in_doubt && !changes_something(&request);
            answers_unasked || is_told_of_the_very_thing(&request)
        });
        let name_said = name_said.map(str::to_owned);
        let of_the_talk = is_of_the_talk(&request)
            || matches!(request, Request::Undo) && self.changed_manner_last()?;
        Ok(match (open, request) {
            (
                None,
                Request::Yes
                | Request::Agreed
                | Request::NoIdea
                | Request::Meaning(_)
                | Request::Ounces(_),
            ) => Answer::say(wording::NO_QUESTION.to_owned()),
            // "No" behind a reply means that something went wrong.
            (None, Request::No) => Answer::say(wording::NO_TO_WHAT.to_owned()),
            (open, Request::Called) => {
                // The question waits on.
                self.open = open;
                Answer::say(wording::LISTENING.to_owned())
            }
            // What is about the talk itself leaves the question open, too.
            (Some(open), request) if of_the_talk && !(in_doubt && changes_something(&request)) => {
                self.open = Some(open);
                self.carry_out(request, false, now, source)?
            }
            (Some(open), Request::InYear(from_now)) => {
                let year = now.date().year() + from_now;
                match Self::day_in_year(&open.question, year).filter(|_| !in_doubt) {
                    Some(request) => self.carry_out(request, false, now, source)?,
                    None => self.ask_again(open),
                }
            }
            (None, Request::InYear(_)) => Answer::say(wording::NO_QUESTION.to_owned()),
            (None, Request::Repeat) => self.repeat(),
            // An answer that was badly heard is none: the question is put again.
            (Some(open), Request::Yes | Request::Meaning(_) | Request::Ounces(_)) if in_doubt => {
                self.ask_again(open)
            }
            (Some(open), Request::Repeat | Request::Agreed) => self.ask_again(open),
            (Some(open), Request::NoIdea) => self.answer_without(open, now, source)?,
            // A no that does something must be heard as well as a yes.
            (Some(open), Request::No)
                if in_doubt && open.question.answered_by(&Request::No).is_some() =>
            {
                self.ask_again(open)
            }
            (Some(open), Request::No) if open.question.answered_by(&Request::No).is_none() => {
                self.decline(open)
            }
            (Some(open), request) if open.question.answered_by(&request).is_some() => {
                let completed = open.question.answered_by(&request).unwrap_or(request);
                self.take_as_confirmed();
                self.take_as_completed(&completed);
                // The sound of the answer is no name's.
                self.clip = open.clip;
                let is_settled = open.question.is_the_last_one();
                self.carry_out(completed, is_settled, now, source)?
            }
            (Some(open), Request::Meaning(_) | Request::Ounces(_))
                if open.question.is_closed_by_anything_else() =>
            {
                self.decline(open)
            }
            // "Yes" to "use by, best by or sell by?", or "use by" to a yes-or-no.
            (Some(open), Request::Yes | Request::Meaning(_) | Request::Ounces(_)) => {
                self.ask_again(open)
            }
            // The name in a question, put right.
            (Some(_), Request::CallIt(name)) if !in_doubt => {
                let correction = Correction::of_name(name);
                self.correct(correction, &[], Sure::Yes, now, source)?
            }
            // Where nothing is to be taken back, the only doubt is in what to do instead.
            (_, Request::Correct(correction)) if !in_doubt || !self.said_changed() => {
                let sure = if in_doubt { Sure::No } else { Sure::Yes };
                let forms = names(&understanding.forms);
                self.correct(correction, &forms, sure, now, source)?
            }
            (_, request) if name_said.is_some() && request.item().is_some() => {
                understanding.verdict = Verdict::Ask;
                self.ask_whether_known(name_said.as_deref().unwrap_or_default(), request)
            }
            // Neither a question nor what another one says or will do is a command with a slip in it.
            (_, request)
                if in_doubt
                    && changes_something(&request)
                    && is_other_talk(&understanding.heard, &command.sentence) =>
            {
                let (heard, point) = (&understanding.heard, self.point());
                Answer::missed(help::not_understood(heard, self.misses, point))
            }
            (_, request) if in_doubt && changes_something(&request) => {
                self.ask_whether(command, request, understanding.or.as_ref())
            }
            (_, request) => self.carry_out(request, false, now, source)?,
        })
    }

    fn carry_out(
        &mut self,
        request: Request,
        is_settled: bool,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        if let Some(answer) = self.ask_whether_kind(&request)? {
            return Ok(answer);
        }
        self.declined.clear();
        let today = now.date();
        if let Some(goods) = request.goods() {
            // Of what isn't there, no date is asked about.
            let is_told = matches!(
                request,
                Request::Date(_) | Request::DateOf(..) | Request::Redate(_)
            );
            if is_told && self.stock.newest_dates(&goods.item)?.is_none() {
                let item = goods.item.clone();
                return Err(StockError::Refused(Refusal::NoneLeft { item }));
            }
            if let Err(day) = goods.dates() {
                let of = is_told.then_some(&goods.item);
                let words = wording::ask_what_date(of, day, today);
                return Ok(self.ask(Question::WhatDate { request, day }, words));
            }
            if let Some((day, doubt)) = goods.doubtful_day() {
                let or = match doubt {
                    DateDoubt::Or(other) => Some(other),
                    _ => None,
                };
                // What has just passed is likelier than the same day of another year, and the one that can hurt.
                let (day, or) = match or {
                    Some(other) if other <= today && day > today => (other, Some(day)),
                    or => (day, or),
                };
                let request = request.on(day);
                let words = wording::ask_whether_day(day, doubt);
                return Ok(self.ask(Question::IsThatTheDay { request, or }, words));
            }
        }
        if !is_settled && let Some(words) = long_past(&request, today) {
            return Ok(self.ask(Question::IsThatSo(request), words));
        }
        if matches!(request, Request::Undo)
            && self.changed_manner_last()?
            && let Some(answer) = self.take_manner_back()
        {
            return Ok(answer);
        }
        let mut request = request;
        if !is_settled && let Some(words) = self.unsettled_ounces(&mut request)? {
            return Ok(self.ask(Question::WhatOunces(request), words));
        }
        if !is_settled && let Some(answer) = self.loose_count(&mut request)? {
            return Ok(answer);
        }
        if let Request::Locate(item, place) = &request
            && let Some(again) = self.freezing_again(item, place)?
        {
            let lots = self.stock.lots(item)?;
            let is_placed = |lot: &Lot| !lot.is_frozen() && lot.place.is_some();
            if lots.iter().any(is_placed) {
                let words = wording::ask_whether_all_frozen(item);
                return Ok(self.ask(Question::IsThatSo(again), words));
            }
            request = again;
        }
        match request {
            Request::Correct(correction) => {
                return self.correct(correction, &[], Sure::Yes, now, source);
            }
            Request::CallIt(ref name) if !is_settled => {
                if let Some(words) = self.renamed_medicine(name)? {
                    return Ok(self.ask(Question::IsThatSo(request), words));
                }
                let name = name.clone();
                return self.call_it(&name, now, source);
            }
            Request::CallIt(name) => return self.call_it(&name, now, source),
            Request::Spell => return Ok(self.spell()),
            // The help that was asked for in between doesn't take the place of the list that is gone along.
            Request::Through(way)
                if self.list_place.as_ref().is_none_or(ListPlace::is_help)
                    // More of the help is more of the help.
                    && (way != Through::More || self.list_place.is_none())
                    && let Some(reply) = self.walk.through(way, &self.stock)? =>
            {
                return Ok(Answer::say(reply));
            }
            Request::Through(way) if self.list_is_old && self.list_place.is_some() => {
                return self.through_anew(way, now, source);
            }
            // Where no list is read, it is said of the directions.
            Request::Through(way @ (Through::More | Through::Back | Through::FromTheStart))
                if self.list_place.is_none() && self.reading.is_some() =>
            {
                return self.read_step(way.into());
            }
            Request::Through(way) => return Ok(self.through(way)),
            Request::WhySo => return self.why_so(now, source),
            Request::Help => {
                self.note_for_practice(&request);
                return Ok(self.help());
            }
            Request::Teach => return self.begin_practice(),
            Request::StopPractising => return Ok(self.end_practice(lesson::OVER)),
            Request::Done if self.is_between_steps() => {
                return Ok(self.end_practice(lesson::OVER));
            }
            Request::Skip if self.is_between_steps() => return self.skip_step(now, source),
            Request::Manner(manner) => return self.change_manner(manner),
            Request::Hush => return Ok(Answer::say(wording::HUSHED.to_owned())),
            Request::WhatHeard => return Ok(self.what_was_heard()),
            Request::ChangeDate(date) => {
                let Some(item) = self.it() else {
                    return Ok(Answer::say(wording::WHICH_DATE.to_owned()));
                };
                let date = self.as_known(&item, date)?;
                let goods = Goods {
                    item,
                    quantity: None,
                    date: Some(date),
                };
                return self.carry_out(Request::Redate(goods), is_settled, now, source);
            }
            Request::ThrownOut(item) => {
                let lots = self.stock.lots(&item)?;
                let is_one = |lot: &Lot| lot.quantity.as_ref().is_none_or(Quantity::is_one);
                let are_several = lots.len() > 1 || !lots.iter().all(is_one);
                if are_several && !is_settled {
                    let words = wording::ask_whether_all(&item, &lots, today);
                    return Ok(self.ask(Question::AllOfIt(item), words));
                }
                let request = Request::UsedUp(item, Choice::default());
                return self.carry_out(request, is_settled, now, source);
            }
            // Once it is on one of several, nobody knows which.
            Request::KitchenTag(ref item, tag, ref of) if !is_settled && of.is_any() => {
                if let Some(answer) = self.ask_which_to_tag(item, tag)? {
                    return Ok(answer);
                }
            }
            // Of what is in several places, one tag is of one of them.
            Request::Spent(Which::Item(ref item)) if !is_settled => {
                let lots = self.stock.lots(item)?;
                if lots.len() > 1 {
                    let words = wording::ask_whether_all(item, &lots, today);
                    return Ok(self.ask(Question::IsThatSo(request.clone()), words));
                }
            }
            Request::FreeTag(tag) => {
                let Some(known) = self.stock.tag(tag)? else {
                    return self.carry_out(Request::ReadTag(tag), is_settled, now, source);
                };
                let words = wording::round::ask_whether_gone(tag, &known.item);
                let spent = Request::Spent(Which::Tag(tag));
                return Ok(self.ask(Question::IsThatSo(spent), words));
            }
            // Where nothing was ticked off yet, it is seldom the trip that is meant.
            Request::Undo if !is_settled && self.walk.is_at_store() => {
                if let [Event::TripBegun] = self.stock.standing(1, None)?.as_slice() {
                    let words = wording::round::ASK_WHETHER_TO_END_TRIP.to_owned();
                    return Ok(self.ask(Question::IsThatSo(Request::Undo), words));
                }
            }
            Request::PutAway(Which::Item(ref item), ref place) => {
                if let Some(answer) = self.put_away_by_feel(item, place)? {
                    return Ok(answer);
                }
            }
            Request::ThrownOutOld(item) => {
                return match self.passed_of(item, today)? {
                    Ok(request) => self.carry_out(request, is_settled, now, source),
                    Err(words) => Ok(Answer::say(words)),
                };
            }
            Request::HaveNone(item) => return self.have_none(item),
            Request::SoMuchOfIt(_) | Request::OldOnes | Request::InYear(_) => {
                return Ok(Answer::say(wording::NO_QUESTION.to_owned()));
            }
            Request::Change {
                how: Change::Opened,
                ref item,
                ref of,
                ..
            } if of.is_any() && self.has_passed_beside_good(item, today)? => {
                return Ok(Answer::say(wording::one_has_passed(item)));
            }
            Request::ChangeDateOf(item, date) => {
                return match self.meant_by_change(item, date, today)? {
                    Ok(request) => self.carry_out(request, is_settled, now, source),
                    Err(asked) => Ok(asked),
                };
            }
            Request::Directions(item) => return self.read_directions(item, false),
            Request::HowToTake(item) => return self.read_directions(item, true),
            Request::ReadStep(step) => return self.read_step(step),
            Request::AddStep(step) => return self.add_step(step, now, source),
            Request::PutSomewhere(item, quantity, place) => {
                return self.put_somewhere(item, quantity, place, now, source);
            }
            // While things are put away, of what is in hand.
            Request::LocateIt(place) if self.walk.puts_away() => {
                let there = Request::There(Some(place));
                return self.carry_out(there, is_settled, now, source);
            }
            Request::PutBackIn(item, place) => {
                return self.put_back_in(item, place, now, source);
            }
            Request::LocateIt(place) => return self.locate_it(place, now, source),
            Request::Locate(ref item, ref place) if self.is_nowhere(item)? => {
                let words = wording::ask_whether_to_add(item, place);
                let request = Request::new_at(item.clone(), None, place.clone());
                return Ok(self.ask(Question::did_you_mean(request), words));
            }
            // A "don't" that wasn't heard would turn it round.
            Request::KeepSounds(true) if !is_settled => {
                let words = wording::ASK_WHETHER_TO_KEEP.to_owned();
                return Ok(self.ask(Question::KeepSounds, words));
            }
            Request::Date(goods) => match self.meant_by_date(&goods, today)? {
                Ok(which) => {
                    let request = Request::DateOf(goods, which);
                    return self.carry_out(request, is_settled, now, source);
                }
                Err(asked) => return Ok(asked),
            },
            Request::DateOf(ref goods, which) if !is_settled => {
                if let Some(words) = self.overwritten_date(goods, which, today)? {
                    return Ok(self.ask(Question::IsThatSo(request.clone()), words));
                }
            }
            Request::Redate(ref goods) if !is_settled => {
                if let Some(words) = self.changed_date(goods, today)? {
                    return Ok(self.ask(Question::IsThatSo(request.clone()), words));
                }
            }
            Request::Change {
                how: Change::Frozen,
                ref item,
                ref of,
                ..
            } if !is_settled => {
                if let Some(words) = self.passed_before_freezing(item, of, today)? {
                    return Ok(self.ask(Question::IsThatSo(request.clone()), words));
                }
            }
            Request::Locate(ref item, ref place) if !is_settled && place.is_freezer() => {
                let any = &Choice::default();
                if let Some(words) = self.passed_before_freezing(item, any, today)? {
                    return Ok(self.ask(Question::IsThatSo(request.clone()), words));
                }
            }
            // What could hurt if it was misheard.
            Request::Describe(ref item, ref fact) if !is_settled => {
                let known = self.stock.facts(item)?;
                let words = match (fact, known.directions.len()) {
                    (Fact::Directions(words) | Fact::Step(words), _)
                        if known.kind == ItemKind::Medicine =>
                    {
                        Some(wording::facts::ask_whether_taken_so(item, words))
                    }
                    (Fact::Directions(_), steps @ 2..) => {
                        Some(wording::facts::ask_whether_other_directions(item, steps))
                    }
                    _ => wording::facts::ask_whether(item, fact, &known),
                };
                if let Some(words) = words {
                    return Ok(self.ask(Question::IsThatSo(request.clone()), words));
                }
            }
            Request::ListMore(item, quantity) => {
                return self.list_more(item, quantity, now, source);
            }
            Request::ClearList if !is_settled => return self.ask_whether_to_clear(),
            Request::PutItBack => {
                return match self.it() {
                    Some(item) => self.carry_out(Request::PutBack(item), false, now, source),
                    None => Ok(Answer::say(wording::OF_WHAT.to_owned())),
                };
            }
            // What is left of nothing that was noted was never told.
            Request::Has { goods, place } => return self.has(goods, place, now, source),
            Request::ChangePart {
                item,
                how,
                share,
                place,
            } => {
                let request = self.change_of_part(item, how, &share, place)?;
                return self.carry_out(request, is_settled, now, source);
            }
            Request::UseSome(item) => return self.use_some(item, now, source),
            Request::Count(ref item, ref quantity, _) if self.is_nowhere(item)? => {
                let words = wording::ask_whether_to_note_so_much(item, quantity);
                let request = Request::PutIn {
                    goods: Goods {
                        item: item.clone(),
                        quantity: Some(quantity.clone()),
                        date: None,
                    },
                    place: None,
                };
                return Ok(self.ask(Question::did_you_mean(request), words));
            }
            Request::LoseSounds if !is_settled => return self.ask_whether_to_lose(),
            Request::UndoSeveral(several) if !is_settled => {
                return self.ask_whether_to_undo(several);
            }
            _ => {}
        }
        // Those of how it listens and speaks are taken back first: they were done last.
        let (mut request, mut effect, mut taken_back) = (request, None, 0);
        if let Request::UndoSeveral(several) = &mut request {
            let of_manner = self.manners_changed_last()?.min(*several);
            effect = self.take_manners_back(of_manner);
            *several -= of_manner;
            taken_back = of_manner;
            if *several == 0 {
                return Ok(Answer {
                    effect,
                    ..Answer::say(wording::undone_several(of_manner))
                });
            }
        }
        self.note_for_practice(&request);
        let said = self.said.as_mut();
        let said = said.filter(|said| said.request.item() == request.item());
        let forms = said.filter(|said| said.teaches);
        let forms = forms.map(|said| said.forms.clone()).unwrap_or_default();
        let here = Here {
            stock: &mut self.stock,
            now,
            source,
        };
        let mut answer = match self.walk.answer(&request, here)? {
            Some(answer) => {
                self.speak_of(self.walk.in_turn());
                answer
            }
            None => {
                let stock = &mut self.stock;
                let answer = super::answer::answer(stock, &request, &forms, now, source)?;
                // Only a question may be asked again.
                let listing = answer.listing.as_ref().filter(|_| !answer.changed);
                self.listed_for = listing.map(|_| request.clone());
                answer
            }
        };
        answer.effect = effect.or(answer.effect);
        if answer.changed {
            self.walk.note_read(&request, &self.stock)?;
        }
        if let (Request::UndoSeveral(several), 1..) = (&request, taken_back) {
            answer.reply = wording::undone_several(several + taken_back);
        }
        if let Some(question) = answer.question.take() {
            return Ok(self.ask(question, answer.reply));
        }
        if let Request::Describe(item, Fact::Directions(_) | Fact::Step(_)) = &request
            && self
                .reading
                .as_ref()
                .is_none_or(|reading| reading.item() != item)
        {
            self.reading = Some(Reading::of(item.clone()));
        }
        if answer.changed
            && let Some(said) = &mut self.said
        {
            let is_it = said.request.item() == request.item();
            // What was said can't be put right any more once its date is another one.
            let is_it = is_it && !matches!(request, Request::Redate(_));
            said.stage = if is_it { Stage::Changed } else { Stage::Past };
        }
        if matches!(
            request,
            Request::Undo | Request::UndoSeveral(_) | Request::ForgetNames(_)
        ) {
            self.know_names_anew()?;
            self.walk.look_again(&self.stock)?;
            self.said = None;
        } else if let Some(name) = &answer.mentioned {
            // It may be misheard: that it is new is said, so that it can be undone.
            let is_new = self.names.find(name.as_str()).is_none();
            if is_new {
                answer.reply.push_str(" A new name.");
            }
            self.learn(name, &forms);
            let said = self.said.as_mut();
            let clip = said.and_then(|said| said.clip.take().filter(|_| is_new || said.teaches));
            if let Some(clip) = clip
                && self.stock.keep_sound(name, &clip, now).is_err()
            {
                // What was said is done all the same.
                answer.reply.push_str(wording::SOUND_NOT_KEPT);
            }
        }
        if let (true, Some(day)) = (answer.changed, request.day_to_read_back()) {
            answer.reply.push_str(&wording::read_back(day));
        }
        Ok(answer)
    }
}

/// The question about a date to use something by that passed long ago: more likely misheard, or misread, than kept.
fn long_past(request: &Request, today: NaiveDate) -> Option<String> {
    let note = request.goods()?.date?.note;
    let looks_ahead = note.kind.is_some_and(DateKind::looks_ahead);
    let limit = today.checked_sub_days(LONG_PAST).unwrap_or(today);
    (looks_ahead && note.date < limit).then(|| wording::ask_whether_long_past(note.date))
}

/// From here on a date is long past.
const LONG_PAST: Days = Days::new(60);

/// What the stock calls things.
#[derive(PartialEq)]
struct Known {
    names: Vec<String>,
    learned: Vec<Learned>,
}

impl Known {
    fn of(stock: &Stock) -> Result<Self, StockError> {
        Ok(Self {
            names: stock.names()?,
            learned: stock.learned()?,
        })
    }

    /// Every name by which something is known here.
    fn beside(&self, starter: &Lexicon) -> Lexicon {
        let mut names = starter.clone();
        for name in &self.names {
            let is_new = names.find(name).is_none();
            names.add(name, name);
            if is_new {
                names.add_heard(name, name);
            }
        }
        for learned in &self.learned {
            for form in &learned.forms {
                names.add_heard(learned.item.as_str(), form.as_str());
            }
        }
        names
    }
}

/// Whether a name that nobody knows is more likely one that is known and another word: "milk back", "other beans".
fn is_hardly_a_name(name: &str) -> bool {
    let mut words = name.split(' ');
    let begins = words
        .clone()
        .next()
        .is_some_and(|word| matches!(word, "other" | "another"));
    let ends = words
        .next_back()
        .is_some_and(|word| matches!(word, "back" | "again"));
    name.contains(' ') && (begins || ends)
}

/// Whether a name that nobody knows has the day in it that was said behind it.
fn ends_in_a_day(name: &str) -> bool {
    let words: Vec<&str> = name.split(' ').collect();
    let last = words.last().copied().unwrap_or_default();
    let is_day = matches!(last, "yesterday" | "today" | "tomorrow" | "ago" | "tonight")
        || last.len() > 5 && last.ends_with("day") && last.parse::<chrono::Weekday>().is_ok();
    words.len() > 1 && (is_day || matches!(words[words.len() - 2..], ["last" | "next", "week"]))
}

/// Whether what was heard has a word that makes it a question, or talk about somebody else, and the command hasn't.
fn is_other_talk(heard: &str, sentence: &str) -> bool {
    const OTHERS: [&str; 12] = [
        "if", "when", "maybe", "perhaps", "said", "says", "he", "hes", "she", "shes", "ill", "will",
    ];
    let plain = |text: &str| {
        let kept = text.chars().filter(|c| c.is_alphanumeric() || *c == ' ');
        format!(" {} ", kept.collect::<String>().to_lowercase())
    };
    let (heard, sentence) = (plain(heard), plain(sentence));
    let asked = ["have i", "have we", "did i", "did we", "do i", "should i"];
    let mut other = OTHERS
        .iter()
        .chain(&asked)
        .map(|words| format!(" {words} "));
    other.any(|words| heard.contains(&words) && !sentence.contains(&words))
}

fn names(texts: &[String]) -> Vec<ItemName> {
    texts.iter().flat_map(|text| ItemName::new(text)).collect()
}

/// What is about the talk itself, and answers nothing.
fn is_of_the_talk(request: &Request) -> bool {
    matches!(
        request,
        Request::Help
            | Request::Teach
            | Request::Through(_)
            | Request::Manner(_)
            | Request::WhatHeard
            | Request::HowToUndo
            | Request::HowToCorrect
            | Request::Today
            | Request::WhatMeans(_)
            | Request::Hush
    )
}

/// What an answer comes to at this question: "okay" is a yes where none can hurt, "that's wrong" a no, and of three things to
/// choose from one is told by its number.
fn plain_answer(request: Request, open: Option<&Asked>) -> Request {
    let Some(Asked { question, .. }) = open else {
        return request;
    };
    match (request, question) {
        (Request::Agreed, question) if !question.is_closed_by_anything_else() => Request::Yes,
        (Request::Wrong, _) => Request::No,
        (Request::Through(Through::Nth(number)), Question::WhatDate { .. }) => match number {
            1 => Request::Meaning(DateKind::UseBy),
            2 => Request::Meaning(DateKind::BestBy),
            3 | 0 => Request::Meaning(DateKind::SellBy),
            _ => Request::NoIdea,
        },
        (request, _) => request,
    }
}

/// What could hurt if it was told or noted of another thing whose name is nearly the same.
fn is_told_of_the_very_thing(request: &Request) -> bool {
    matches!(
        request,
        Request::HasAllergen(..)
            | Request::IsItFree(..)
            | Request::Allergens(_)
            | Request::When(_)
            | Request::Keeps { .. }
            | Request::IsMedicine(_)
            | Request::IsItGood(_)
            | Request::Raw(_)
            | Request::LeftOut(_)
            | Request::IsItOpen(_)
            | Request::Describe(
                _,
                Fact::Allergen { .. } | Fact::Label { .. } | Fact::Kind(_)
            )
    )
}

/// Questions are answered even when they were heard badly: a wrong answer shows itself.
fn changes_something(request: &Request) -> bool {
    !matches!(
        request,
        Request::ReadList
            | Request::ReadTags
            | Request::Expires(_)
            | Request::UseFirst
            | Request::Low
            | Request::KeepLevels
            | Request::WhatIsIn(_)
            | Request::WhatThereIs
            | Request::ReadTag(_)
            | Request::When(_)
            | Request::Where(_)
            | Request::HowMuch(_)
            | Request::LearnedNames
            | Request::PlaySound(_)
            | Request::ChangedToday
            | Request::ChangedYesterday
            | Request::LastChange
            | Request::WhySo
            | Request::HowToUndo
            | Request::HowToCorrect
            | Request::Wrong
            | Request::Today
            | Request::WhatMeans(_)
            | Request::NoIdea
            | Request::Why(_)
            | Request::HasAllergen(..)
            | Request::IsItFree(..)
            | Request::Allergens(_)
            | Request::WhatHas(_)
            | Request::Directions(_)
            | Request::HowToTake(_)
            | Request::Dose
            | Request::IsItGood(_)
            | Request::Raw(_)
            | Request::IsItOpen(_)
            | Request::LeftOut(_)
            | Request::BadSign
            | Request::WhatHasNo(_)
            | Request::AteBad
            | Request::IsMedicine(_)
            | Request::TooMuch
            | Request::ReadStep(_)
            | Request::WhatFeels(..)
            | Request::TagPool
            | Request::MarksOf(_)
            | Request::OnList(_)
            | Request::FreeTag(_)
            | Request::StoreOrder
            | Request::SpentTags
            | Request::NextLine
            | Request::GoOn
            | Request::Wanted
            | Request::PutThingsAway
            | Request::Skip
            | Request::CantTell
            | Request::Done
            | Request::NotYetKnown
            | Request::BoughtLast
            | Request::HowLong(_)
            | Request::Keeps { .. }
            | Request::Spell
            | Request::Called
            | Request::Repeat
            | Request::Help
            | Request::StopPractising
            | Request::NeverMind
            | Request::Hush
            | Request::No
    )
}
