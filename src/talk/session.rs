//! The session: keeps the stock, the names, the open question and the last reply.

use std::rc::Rc;
use std::sync::Arc;

use chrono::{Days, NaiveDate, NaiveDateTime};

use super::answer::Answer;
use super::attention::{Attention, Completeness, is_call};
use super::help::{self, Point};
use super::lesson::{self, Comment, Lesson};
use super::manner::{self, Manner};
use super::question::Question;
use super::reading::{self, ListPlace};
use super::request::{Correction, Goods, Request, Used};
use super::steps::{Reading, Step};
use super::turn::{Effect, Turn};
use super::walk::{Here, Walk};
use super::{scanned, wording, wording_away, wording_facts};
use crate::grammar::{
    Acceptor, Command, Grammar, GrammarError, Heard, Lexicon, Understanding, Verdict, WakePhrase,
};
use crate::measure::{DateDoubt, DateKind, DateReading};
use crate::settings::{Replies, Settings};
use crate::stock::{
    Clip, Code, Event, EventId, Fact, ItemName, Learned, Lot, OwnWords, Place, Refusal, Source,
    Stock, StockError,
};

/// A question that waits for its answer, and how it was asked.
struct Asked {
    question: Question,
    words: String,
    /// How that sounded which is asked about, if no name took it yet.
    clip: Option<Clip>,
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
    /// What the person said no to: it isn't what they are trying to say.
    declined: Vec<Request>,
    /// The directions that are read, until something else is.
    reading: Option<Reading>,
    /// How the utterance sounded that is answered next, if that may be kept.
    clip: Option<Clip>,
    last_reply: Option<String>,
    /// What was heard last, for who wonders about the answer.
    heard_last: Option<String>,
    /// The list that is being read, and how far.
    list_place: Option<ListPlace>,
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
            declined: Vec::new(),
            reading: None,
            clip: None,
            last_reply: None,
            heard_last: None,
            list_place: None,
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

    /// What can be said here, for a recogniser to be guided by while it decodes.
    pub fn acceptor(&mut self) -> Rc<Acceptor> {
        // Sentences that were once walked are looked up from then on, within reason.
        let (attention, mode) = (self.attention, self.mode());
        let known = self
            .acceptors
            .iter()
            .find(|(for_whom, ..)| *for_whom == attention);
        if let Some((_, of, known)) = known
            && *of == mode
            && !known.is_full()
        {
            return Rc::clone(known);
        }
        let made = Rc::new(self.grammar().acceptor(Arc::clone(&self.names)));
        self.acceptors
            .retain(|(for_whom, ..)| *for_whom != attention);
        self.acceptors.push((attention, mode, Rc::clone(&made)));
        made
    }

    /// Gives the conversation a wake phrase. It may stand in front of whatever is said; while the session is
    /// [asleep](Session::sleep), it must.
    ///
    /// # Errors
    /// [`GrammarError`] where the grammar becomes too large by it.
    ///
    /// ```
    /// use chrono::NaiveDate;
    /// use tellshelf::grammar::{Grammar, WakePhrase};
    /// use tellshelf::stock::{Source, Stock};
    /// use tellshelf::talk::Session;
    /// let grammar = Grammar::load("grammars/en.yaml".as_ref()).unwrap();
    /// let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
    /// session.use_wake_phrase(WakePhrase::new("tell the shelf").unwrap()).unwrap();
    /// session.sleep();
    /// let now = NaiveDate::from_ymd_opt(2026, 11, 25).unwrap().and_hms_opt(7, 30, 0).unwrap();
    /// let mut reply = |text| session.hear(&[text], now, Source::Typed).reply;
    /// assert_eq!(reply("tell the shelf, put milk on the list"), "Milk on the list.");
    /// ```
    pub fn use_wake_phrase(&mut self, phrase: WakePhrase) -> Result<(), GrammarError> {
        self.grammar = self.grammar.with_wake_phrase(&phrase)?;
        self.phrase = Some(phrase);
        self.acceptors.clear();
        Ok(())
    }

    /// From now on only what begins with the wake phrase is understood. Without a phrase nothing changes: nobody could
    /// wake it any more.
    pub fn sleep(&mut self) {
        if self.phrase.is_some() {
            self.attention = Attention::Asleep;
        }
    }

    /// From now on everything is understood.
    pub fn wake(&mut self) {
        self.attention = Attention::Awake;
    }

    /// Whether the person is listened to.
    pub fn attention(&self) -> Attention {
        self.attention
    }

    /// Whether what was heard is said to the session: it is awake, or was called by its phrase.
    pub fn is_addressed(&self, heard: &Heard, understood: &Understanding) -> bool {
        let Some(phrase) = self
            .phrase
            .as_ref()
            .filter(|_| self.attention == Attention::Asleep)
        else {
            return true;
        };
        understood.verdict != Verdict::Reject || heard.free.iter().any(|text| phrase.begins(text))
    }

    /// Whether that was the wake phrase, and nothing behind it.
    pub fn is_call(&self, understood: &Understanding) -> bool {
        is_call(understood)
    }

    /// How far the sentence has come of which so much was understood.
    pub fn completeness(&mut self, understood: &Understanding) -> Completeness {
        let acceptor = self.acceptor();
        Completeness::of(understood, &acceptor, &self.grammar.closing_words())
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

    /// Whether a question waits for its answer.
    pub fn is_asking(&self) -> bool {
        self.open.is_some()
    }

    /// Lets the open question go: silence is no. Says so; `None` where nothing was asked.
    pub fn let_go(&mut self) -> Option<String> {
        self.open.take()?;
        let reply = wording::NO_ANSWER.to_owned();
        self.last_reply = Some(reply.clone());
        Some(reply)
    }

    /// What can be said at this point of the talk. A file without modes has the same at every point.
    fn grammar(&self) -> Grammar {
        let asleep = match self.attention {
            Attention::Asleep => self.grammar.asleep(),
            Attention::Awake => None,
        };
        let grammar = asleep.unwrap_or_else(|| self.grammar.clone());
        let inside = self.mode().and_then(|mode| grammar.in_mode(mode));
        inside.unwrap_or(grammar)
    }

    /// The mode of the grammar in which the talk is.
    fn mode(&self) -> Option<&'static str> {
        let reading = self.list_place.is_some().then_some("reading");
        let practice = self.practice.is_some().then_some("practice");
        self.walk.mode().or(practice).or(reading)
    }

    /// How it listens and speaks now.
    pub fn settings(&self) -> &Settings {
        &self.settings
    }

    /// Listens and speaks from now on as the settings say. What is changed of them by voice comes with a turn, as its
    /// [`Effect`](super::Effect).
    pub fn follow(&mut self, settings: Settings) {
        self.settings = settings;
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

    /// Settles what was said, by all that was heard, with the names this kitchen knows.
    pub fn settle(&self, heard: &Heard, now: NaiveDateTime) -> Understanding {
        // Mostly, nothing was said before that could rule anything out.
        let anything = self.said.is_some() || !self.declined.is_empty();
        let ruled_out = |command: &Command| {
            anything && Request::read(command).is_ok_and(|request| self.is_ruled_out(&request))
        };
        self.grammar()
            .settle_without(heard, &self.names, now.date(), &ruled_out)
    }

    /// Whether a person who tries to be understood can't mean this.
    fn is_ruled_out(&self, request: &Request) -> bool {
        match (request, &self.said) {
            // "No, I said soda" isn't said of what was taken for soda, nor of what was declined.
            (Request::Correct(correction), Some(said)) if correction.quantity.is_none() => {
                let corrected = said
                    .request
                    .clone()
                    .corrected(correction.item.clone(), None);
                corrected.is_some_and(|corrected| {
                    corrected == said.request || self.declined.contains(&corrected)
                })
            }
            (request, _) => self.declined.contains(request),
        }
    }

    /// Understands hypotheses, likeliest first, with the names this kitchen knows.
    pub fn understand(&self, texts: &[&str], now: NaiveDateTime) -> Understanding {
        self.grammar().understand(texts, &self.names, now.date())
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
        if !answer.repeated {
            self.last_reply = Some(reply.clone());
        }
        if let Some(listing) = answer.listing {
            self.list_place = Some(ListPlace::begin(listing));
        }
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

    fn reply_to(
        &mut self,
        understanding: &mut Understanding,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let open = self.open.take();
        let command = match (&understanding.command, understanding.verdict) {
            (Some(command), Verdict::Accept | Verdict::Ask) => command.clone(),
            _ => {
                // What wasn't understood answers nothing: the question stays open for a better try.
                let asked = open.is_some();
                self.open = open;
                if let Some(command) = understanding.command.as_ref().filter(|_| !asked)
                    && let Ok(request) = Request::read(command)
                {
                    let forms = names(&understanding.forms);
                    self.remember(&request, &command.sentence, forms, Sure::No);
                }
                let (heard, point) = (&understanding.heard, self.point());
                return Ok(Answer::missed(help::not_understood(
                    heard,
                    self.misses,
                    point,
                )));
            }
        };
        let command = &command;
        let request = match Request::read(command) {
            Ok(request) => request,
            Err(unclear) => return Ok(Answer::say(format!("{unclear}."))),
        };
        let forms = names(&understanding.forms);
        self.remember(&request, &command.sentence, forms, Sure::Yes);
        if let Some(name) = command.unknown_name()
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
        if let Some(name) = command.unknown_name()
            && name.contains(" and ")
            && changes_something(&request)
        {
            understanding.verdict = Verdict::Ask;
            let words = wording::ask_whether_one(name);
            return Ok(self.ask(Question::did_you_mean(request), words));
        }
        // What was typed wasn't misheard. Where the thing must be there, that it isn't was told before.
        if source == Source::Typed && understanding.has_only_a_new_name() {
            understanding.verdict = Verdict::Accept;
        }
        let in_doubt = understanding.verdict == Verdict::Ask;
        let of_the_talk = is_of_the_talk(&request)
            || matches!(request, Request::Undo) && self.changed_manner_last()?;
        Ok(match (open, request) {
            (None, Request::Yes | Request::Meaning(_) | Request::Ounces(_)) => {
                Answer::say(wording::NO_QUESTION.to_owned())
            }
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
            (None, Request::Repeat) => self.repeat(),
            // An answer that was badly heard is none: the question is put again.
            (Some(open), Request::Yes | Request::Meaning(_) | Request::Ounces(_)) if in_doubt => {
                self.ask_again(open)
            }
            (Some(open), Request::Repeat) => self.ask_again(open),
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
                // The sound of the answer is no name's.
                self.clip = open.clip;
                let is_settled = open.question.is_the_last_one();
                self.carry_out(completed, is_settled, now, source)?
            }
            // "Yes" to "use by, best by or sell by?", or "use by" to a yes-or-no.
            (Some(open), Request::Yes | Request::Meaning(_) | Request::Ounces(_)) => {
                self.ask_again(open)
            }
            // The name in a question, put right.
            (Some(_), Request::CallIt(name)) if !in_doubt => {
                let correction = Correction {
                    item: Some(name),
                    quantity: None,
                    misheard: true,
                };
                self.correct(correction, &[], Sure::Yes, now, source)?
            }
            // Where nothing is to be taken back, the only doubt is in what to do instead.
            (_, Request::Correct(correction)) if !in_doubt || !self.said_changed() => {
                let sure = if in_doubt { Sure::No } else { Sure::Yes };
                let forms = names(&understanding.forms);
                self.correct(correction, &forms, sure, now, source)?
            }
            (_, request) if in_doubt && changes_something(&request) => {
                self.ask_whether(command, request, understanding.or.as_ref())
            }
            (_, request) => self.carry_out(request, false, now, source)?,
        })
    }

    /// Keeps what is said of a thing, for what refers to it later.
    fn remember(&mut self, request: &Request, sentence: &str, forms: Vec<ItemName>, sure: Sure) {
        if let Some(item) = request.item() {
            self.said = Some(Said {
                request: request.clone(),
                sentence: sentence.to_owned(),
                forms,
                clip: self.clip.take(),
                sure,
                stage: Stage::Open,
                teaches: self.names.find(item.as_str()).is_none(),
            });
        }
    }

    /// Of what the kitchen learned itself, another hearing says more, once the person says that it is one.
    fn take_as_confirmed(&mut self) {
        if let Some(said) = &mut self.said
            && let Some(item) = said.request.item()
        {
            said.teaches |= self.starter.find(item.as_str()).is_none();
        }
    }

    /// Whether what was last said of a thing changed the stock.
    fn said_changed(&self) -> bool {
        self.said
            .as_ref()
            .is_some_and(|said| said.stage == Stage::Changed)
    }

    /// "No, I said …": takes back what was done, and does the same with what was said. How its name was
    /// heard before, and is now, becomes a name of it; but not where the person meant something else.
    fn correct(
        &mut self,
        Correction {
            item,
            quantity,
            misheard,
        }: Correction,
        forms: &[ItemName],
        sure: Sure,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let said = self.said.as_ref();
        // What is only guessed at is asked about in its own words, and these have no other amount.
        let all_sure = |said: &Said| said.sure == Sure::Yes && sure == Sure::Yes;
        let said = said.filter(|said| all_sure(said) || quantity.is_none());
        let said = said.filter(|said| said.stage != Stage::Past);
        let corrected = said.and_then(|said| {
            let corrected = said.request.clone().corrected(item.clone(), quantity)?;
            let (wrong, right) = (said.request.item()?, corrected.item()?);
            let sentence = said.sentence.replace(wrong.as_str(), right.as_str());
            Some((corrected, wrong, sentence))
        });
        let Some((request, wrong, sentence)) = corrected else {
            return Ok(Answer::say(wording::NOTHING_TO_CORRECT.to_owned()));
        };
        let changed = self.said_changed();
        if changed {
            self.stock.undo(now, source)?;
            self.know_names_anew()?;
        }
        let other_item = item.as_ref().is_some_and(|item| *item != wrong);
        if let Some(said) = &mut self.said {
            said.forms.extend_from_slice(forms);
            // The name is what is said now, and not what was heard before.
            said.clip = self.clip.take().or(said.clip.take());
            said.request = request.clone();
            said.sentence = sentence.clone();
            said.stage = Stage::Open;
            said.teaches = misheard;
        }
        let unknown = item.filter(|item| self.names.find(item.as_str()).is_none());
        let sure = self.said.as_ref().is_none_or(all_sure);
        let mut answer = match unknown {
            Some(name) if request.is_of_known_things() => {
                self.ask_about_unknown(name.as_str(), request)
            }
            _ if !sure => {
                let words = wording::ask_whether(&sentence);
                return Ok(self.ask(Question::did_you_mean(request), words));
            }
            _ => match self.carry_out(request, false, now, source) {
                // What was wrong is taken back all the same, and that is said.
                Err(StockError::Refused(refusal)) => Answer::say(wording::refusal(&refusal)),
                other => other?,
            },
        };
        answer.changed |= changed;
        if other_item && sure {
            answer.reply = format!("{} {}", wording::not_that(&wrong), answer.reply);
        }
        Ok(answer)
    }

    /// "Call it …", "spell it …": another name for what was last spoken of.
    fn call_it(
        &mut self,
        name: &ItemName,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let Some(item) = self.said.as_ref().and_then(|said| said.request.item()) else {
            return Ok(Answer::say(wording::NO_NAME_YET.to_owned()));
        };
        let event = Event::Renamed {
            item,
            name: name.clone(),
        };
        let outcome = self.stock.record(event, now, source)?;
        self.know_names_anew()?;
        if let Some(said) = &mut self.said
            && let Some(request) = said.request.clone().corrected(Some(name.clone()), None)
        {
            said.request = request;
            said.stage = Stage::Past;
        }
        let reply = wording::outcome(&outcome, now.date());
        Ok(super::answer::changed(reply, None))
    }

    /// "I put the bread in the freezer": where there is bread elsewhere, it is asked whether that is meant.
    fn put_somewhere(
        &mut self,
        item: ItemName,
        place: Place,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let lots = self.stock.lots(&item)?;
        let elsewhere = lots.iter().filter_map(|lot| lot.place.as_ref());
        let mut elsewhere = elsewhere.filter(|there| **there != place);
        match elsewhere.next() {
            None => self.carry_out(Request::new_at(item, place), false, now, source),
            Some(there) => {
                let words = wording::ask_whether_from(&item, there);
                Ok(self.ask(Question::WasItThere { item, place }, words))
            }
        }
    }

    /// Whether there is none of an item, as far as anybody said.
    fn is_nowhere(&self, item: &ItemName) -> Result<bool, StockError> {
        let waits = self
            .stock
            .waiting()?
            .iter()
            .any(|thing| thing.item == *item);
        Ok(!waits && self.stock.lots(item)?.is_empty())
    }

    /// The question where a date would take the place of another one.
    fn overwritten_date(
        &self,
        goods: &Goods,
        today: NaiveDate,
    ) -> Result<Option<String>, StockError> {
        let Some(new) = goods.date.map(|reading| reading.note) else {
            return Ok(None);
        };
        let lots = self.stock.lots(&goods.item)?;
        let known = |lot: &Lot| lot.dates.iter().find(|note| note.kind == new.kind);
        if lots.iter().any(|lot| known(lot).is_none()) {
            return Ok(None);
        }
        let newest = lots.iter().max_by_key(|lot| lot.id).and_then(known);
        let newest = newest.filter(|known| known.date != new.date);
        Ok(newest.map(|known| {
            wording_facts::ask_whether_other_date(&goods.item, known, new.date, today)
        }))
    }

    /// A date means what the one meant that it takes the place of, if there is only one.
    fn as_known(&self, item: &ItemName, mut date: DateReading) -> Result<DateReading, StockError> {
        let known = self.stock.newest_dates(item)?.unwrap_or_default();
        let kinds = known.iter().flat_map(|note| note.kind);
        let mut ahead = kinds.filter(|kind| kind.looks_ahead());
        if let (None, Some(only), None) = (date.note.kind, ahead.next(), ahead.next()) {
            date.note.kind = Some(only);
        }
        Ok(date)
    }

    /// The question where the date of what came last would be another one.
    fn changed_date(&self, goods: &Goods, today: NaiveDate) -> Result<Option<String>, StockError> {
        let Some(new) = goods.date.map(|reading| reading.note) else {
            return Ok(None);
        };
        let known = self.stock.newest_dates(&goods.item)?.unwrap_or_default();
        let known = known.iter().find(|note| note.kind == new.kind);
        let known = known.filter(|known| known.date != new.date);
        Ok(known.map(|known| {
            wording_facts::ask_whether_other_date(&goods.item, known, new.date, today)
        }))
    }

    fn ask_whether_to_undo(&mut self, several: usize) -> Result<Answer, StockError> {
        let changes = self.stock.standing(several, None)?;
        if changes.is_empty() {
            return Err(Refusal::NothingToUndo.into());
        }
        let words = wording::ask_whether_to_undo(&changes);
        Ok(self.ask(Question::UndoSeveral(changes.len()), words))
    }

    fn ask_whether_to_lose(&mut self) -> Result<Answer, StockError> {
        let sounds = self.stock.sounds()?;
        if sounds == 0 {
            return Ok(Answer::say(wording::NO_SOUNDS.to_owned()));
        }
        let words = wording::ask_whether_to_lose(sounds);
        Ok(self.ask(Question::LoseSounds, words))
    }

    /// "I used half of it": of what was spoken of last.
    fn use_of_it(
        &mut self,
        used: Used,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let said = self.said.as_mut();
        let Some((said, item)) = said
            .and_then(|said| Some((said.request.item()?, said)))
            .map(|(item, said)| (said, item))
        else {
            return Ok(Answer::say(wording::OF_WHAT.to_owned()));
        };
        said.request = Request::Use(item, used);
        let request = said.request.clone();
        self.carry_out(request, false, now, source)
    }

    /// "How do I cook the rice?": the first step, and how many there are.
    fn read_directions(&mut self, item: ItemName) -> Result<Answer, StockError> {
        let facts = self.stock.facts(&item)?;
        let mut reading = Reading::of(item);
        let reply = reading.begin(&facts);
        self.reading = (!facts.directions.is_empty()).then_some(reading);
        Ok(Answer::say(reply))
    }

    fn read_step(&mut self, step: Step) -> Result<Answer, StockError> {
        let Some(reading) = &mut self.reading else {
            return Ok(Answer::say(wording::NO_DIRECTIONS_READ.to_owned()));
        };
        let facts = self.stock.facts(reading.item())?;
        Ok(Answer::say(reading.go(step, &facts)))
    }

    /// "Another step …": of the directions that were read or noted last.
    fn add_step(
        &mut self,
        step: OwnWords,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let Some(reading) = &self.reading else {
            return Ok(Answer::say(wording::STEP_OF_WHAT.to_owned()));
        };
        let request = Request::Describe(reading.item().clone(), Fact::Step(step));
        if let Some(said) = &mut self.said
            && said.request.item() == request.item()
        {
            said.request = request.clone();
        }
        self.carry_out(request, false, now, source)
    }

    /// Makes the ounces of what is poured fluid ounces. Where nobody knows whether it is, the question.
    fn unsettled_ounces(&self, request: &mut Request) -> Option<String> {
        let (item, quantity) = request.new_quantity_mut()?;
        if !quantity.has_bare_ounces() {
            return None;
        }
        match self.starter.is_poured(item.as_str()) {
            Some(true) => *quantity = quantity.in_fluid_ounces(),
            Some(false) => {}
            None => return Some(wording::ask_what_ounces(quantity)),
        }
        None
    }

    fn spell(&self) -> Answer {
        let item = self.said.as_ref().and_then(|said| said.request.item());
        Answer::say(item.map_or(wording::NO_NAME_YET.to_owned(), |item| {
            wording::spelled(&item)
        }))
    }

    fn ask(&mut self, question: Question, words: String) -> Answer {
        let clip = self.clip.take();
        self.ask_again(Asked {
            question,
            words,
            clip,
        })
    }

    fn ask_again(&mut self, asked: Asked) -> Answer {
        let answer = Answer::say(asked.words.clone());
        self.open = Some(asked);
        answer
    }

    fn learn(&mut self, name: &ItemName, forms: &[ItemName]) {
        let name = name.as_str();
        if self.names.find(name) == Some(name) && forms.is_empty() {
            return;
        }
        // The acceptor shares the names, and is out of date with one more.
        self.acceptors.clear();
        self.known = None;
        let names = Arc::make_mut(&mut self.names);
        names.add(name, name);
        forms
            .iter()
            .for_each(|form| names.add_heard(name, form.as_str()));
    }

    /// Names may have gone as well. Mostly none did; then the acceptor keeps what it has walked.
    fn know_names_anew(&mut self) -> Result<(), StockError> {
        let known = Known::of(&self.stock)?;
        if self.known.as_ref() != Some(&known) {
            self.acceptors.clear();
            self.names = Arc::new(known.beside(&self.starter));
            self.known = Some(known);
        }
        Ok(())
    }

    /// Asks for the likeliest command; and, on a no, for the one that is nearly as likely.
    fn ask_whether(&mut self, command: &Command, request: Request, or: Option<&Command>) -> Answer {
        let or = or.and_then(|or| Some((or.sentence.clone(), Box::new(Request::read(or).ok()?))));
        let words = wording::ask_whether(&command.sentence);
        self.ask(Question::DidYouMean { request, or }, words)
    }

    /// What a no leads to: to what else may have been said, or to nothing.
    fn decline(&mut self, open: Asked) -> Answer {
        if let Question::DidYouMean { request, .. } = &open.question {
            self.declined.push(request.clone());
        }
        match open.question {
            Question::DidYouMean {
                or: Some((sentence, request)),
                ..
            } => {
                let forms = self.said.take().map(|said| said.forms);
                self.remember(&request, &sentence, forms.unwrap_or_default(), Sure::Yes);
                let words = wording::ask_whether_instead(&sentence);
                self.ask(Question::did_you_mean(*request), words)
            }
            Question::IsItInHand { mut or, .. } if !or.is_empty() => {
                let item = or.remove(0);
                let words = wording_away::ask_whether_it_is(&item);
                self.ask(Question::IsItInHand { item, or }, words)
            }
            Question::IsItInHand { .. } => Answer::say(wording_away::SAY_WHICH.to_owned()),
            Question::IsThatTheDay {
                request,
                or: Some(day),
            } => {
                let (request, or) = (request.on(day), None);
                let words = wording::ask_whether_other_day(day);
                self.ask(Question::IsThatTheDay { request, or }, words)
            }
            _ => Answer::say(wording::NOTHING_CHANGED.to_owned()),
        }
    }

    fn ask_about_unknown(&mut self, name: &str, request: Request) -> Answer {
        if !changes_something(&request) {
            return Answer::say(wording::unknown(name));
        }
        // Of the others, a yes would only be refused: there is none of it.
        if !matches!(request, Request::UsedUp(_)) {
            return Answer::say(wording::unknown_unchanged(name));
        }
        self.ask(
            Question::did_you_mean(request),
            wording::ask_whether_to_note(name),
        )
    }

    fn repeat(&mut self) -> Answer {
        self.note_for_practice(&Request::Repeat);
        let reply = self.last_reply.clone();
        let reply = reply.unwrap_or_else(|| "There is nothing to repeat yet.".to_owned());
        Answer {
            repeated: true,
            ..Answer::say(reply)
        }
    }

    fn change_manner(&mut self, manner: Manner) -> Result<Answer, StockError> {
        let mut settings = self.settings.clone();
        let reply = manner.change(&mut settings);
        let effect = match manner {
            Manner::OtherVoice => Some(Effect::OtherVoice),
            _ if settings == self.settings => None,
            _ => Some(Effect::Settings(settings.clone())),
        };
        let stock = self.stock.last_standing()?;
        let settings = std::mem::replace(&mut self.settings, settings);
        self.before.push(manner::Before { settings, stock });
        Ok(Answer {
            effect,
            ..Answer::say(reply)
        })
    }

    /// Whether what was done last is a change of how it listens and speaks.
    fn changed_manner_last(&mut self) -> Result<bool, StockError> {
        // Nothing came of what changed nothing, and of another voice where there is none.
        let now = &self.settings;
        while self.before.pop_if(|last| last.settings == *now).is_some() {}
        let Some(last) = self.before.last() else {
            return Ok(false);
        };
        Ok(last.stock == self.stock.last_standing()?)
    }

    /// Listens and speaks again as before the last change of that.
    fn take_manner_back(&mut self) -> Option<Answer> {
        let before = self.before.pop()?.settings;
        let reply = manner::taken_back(&self.settings, &before);
        self.settings = before.clone();
        Some(Answer {
            effect: Some(Effect::Settings(before)),
            ..Answer::say(reply)
        })
    }

    /// Where the talk is, for who asks what can be said.
    fn point(&self) -> Point {
        let asked = self.open.as_ref().map(|open| Point::asked(&open.question));
        let practice = self.practice.as_ref();
        let practice = practice.map(|practice| Point::Practice(practice.lesson.saying()));
        let here = asked.or_else(|| self.walk.point()).or(practice);
        here.unwrap_or(Point::Outside)
    }

    fn help(&self) -> Answer {
        let answer = Answer::read(self.point().help());
        // What was said whole doesn't take the place of a list that is being read.
        Answer {
            listing: answer.listing.filter(|listing| !listing.is_whole()),
            ..answer
        }
    }

    /// Puts the conversation aside, and begins one about a kitchen that is thrown away; from the start, if one is on.
    fn begin_practice(&mut self) -> Result<Answer, StockError> {
        self.leave_practice();
        let mut practice = Self::new(Stock::in_memory()?, self.grammar.clone())?;
        practice.phrase = self.phrase.clone();
        practice.attention = self.attention;
        practice.settings = self.settings.clone();
        let (lesson, reply) = Lesson::begin(self.phrase.as_ref());
        let own_last = self.stock.last_standing()?;
        let own = Box::new(std::mem::replace(self, practice));
        self.practice = Some(Practice {
            lesson,
            own,
            own_last,
            carried_out: Some(Request::Teach),
        });
        Ok(Answer::say(reply))
    }

    /// Comes back to one's own kitchen, if the person practises. How it listens and speaks stays as it is now.
    fn leave_practice(&mut self) -> bool {
        let Some(practice) = self.practice.take() else {
            return false;
        };
        let (settings, attention) = (self.settings.clone(), self.attention);
        let before = std::mem::take(&mut self.before);
        *self = *practice.own;
        (self.settings, self.attention) = (settings, attention);
        self.before
            .extend(before.into_iter().map(|before| manner::Before {
                stock: practice.own_last,
                ..before
            }));
        true
    }

    /// Ends the practice round with these words. The question that waited is put again.
    fn end_practice(&mut self, words: &str) -> Answer {
        if !self.leave_practice() {
            return Answer::say(lesson::NOT_BEGUN.to_owned());
        }
        match self.open.take() {
            Some(open) => {
                let answer = self.ask_again(open);
                let reply = format!("{} {}", lesson::OVER, answer.reply);
                Answer::say(reply)
            }
            None => Answer::say(words.to_owned()),
        }
    }

    /// Goes to the next step. The one that is left out is done for the person: those behind it build on it.
    fn skip_step(&mut self, now: NaiveDateTime, source: Source) -> Result<Answer, StockError> {
        let Some(saying) = self.practice.as_ref().map(|on| on.lesson.saying()) else {
            return Ok(Answer::say(lesson::NOT_BEGUN.to_owned()));
        };
        let mut said = self.grammar.understand(&[saying], &self.names, now.date());
        match self.reply_to(&mut said, now, source) {
            Ok(_) | Err(StockError::Refused(_)) => self.open = None,
            Err(error) => return Err(error),
        }
        let practice = self.practice.as_mut();
        let goes_on = practice.is_some_and(|practice| {
            practice.carried_out = None;
            practice.lesson.go_on()
        });
        if goes_on {
            Ok(Answer::say(lesson::SKIPPED.to_owned()))
        } else {
            Ok(self.end_practice(lesson::OVER))
        }
    }

    /// Whether the person practises, and isn't on a walk there, which has a "done" and "skip" of its own.
    fn is_between_steps(&self) -> bool {
        self.practice.is_some() && self.walk.mode().is_none()
    }

    fn note_for_practice(&mut self, request: &Request) {
        if let Some(practice) = &mut self.practice {
            practice.carried_out = Some(request.clone());
        }
    }

    /// The answer with what there is to say of it in the practice round.
    fn practised(&mut self, mut answer: Answer) -> Answer {
        let Some(practice) = &mut self.practice else {
            return answer;
        };
        let carried_out = practice.carried_out.take();
        // The stock that counts is as it was.
        answer.changed = false;
        if self.open.is_some() {
            return answer;
        }
        let comment = practice
            .lesson
            .comment(answer, carried_out.as_ref(), self.misses);
        match comment {
            Comment::GoesOn(answer) => answer,
            Comment::Over(last) => self.end_practice(&last.reply),
        }
    }

    fn what_was_heard(&self) -> Answer {
        let reply = match self.heard_last.as_deref().map(str::trim) {
            None => wording::NOTHING_HEARD_YET.to_owned(),
            Some("") => "I heard nothing.".to_owned(),
            Some(heard) => wording::heard(heard),
        };
        Answer {
            of_itself: true,
            ..Answer::say(reply)
        }
    }

    fn carry_out(
        &mut self,
        request: Request,
        is_settled: bool,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        self.declined.clear();
        let today = now.date();
        // What changes something is said between two steps; what is read takes their place.
        if !changes_something(&request) && !matches!(request, Request::ReadStep(_) | Request::Help)
        {
            self.reading = None;
        }
        if let Some(goods) = request.goods() {
            if let Err(day) = goods.dates() {
                let words = wording::ask_what_date(day, today);
                return Ok(self.ask(Question::WhatDate { request, day }, words));
            }
            if let Some((day, doubt)) = goods.doubtful_day() {
                let or = match doubt {
                    DateDoubt::Or(other) => Some(other),
                    _ => None,
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
        if !is_settled && let Some(words) = self.unsettled_ounces(&mut request) {
            return Ok(self.ask(Question::WhatOunces(request), words));
        }
        match request {
            Request::Correct(correction) => {
                return self.correct(correction, &[], Sure::Yes, now, source);
            }
            Request::CallIt(name) => return self.call_it(&name, now, source),
            Request::Spell => return Ok(self.spell()),
            Request::Through(way) => {
                return Ok(Answer::say(reading::go(self.list_place.as_mut(), way)));
            }
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
            Request::WhatHeard => return Ok(self.what_was_heard()),
            Request::ChangeDate(date) => {
                let Some(item) = self.said.as_ref().and_then(|said| said.request.item()) else {
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
            Request::Directions(item) => return self.read_directions(item),
            Request::ReadStep(step) => return self.read_step(step),
            Request::AddStep(step) => return self.add_step(step, now, source),
            Request::UseOfIt(used) => return self.use_of_it(used, now, source),
            Request::PutSomewhere(item, place) => {
                return self.put_somewhere(item, place, now, source);
            }
            Request::Locate(ref item, ref place) if self.is_nowhere(item)? => {
                let words = wording::ask_whether_to_add(item, place);
                let request = Request::new_at(item.clone(), place.clone());
                return Ok(self.ask(Question::did_you_mean(request), words));
            }
            // A "don't" that wasn't heard would turn it round.
            Request::KeepSounds(true) if !is_settled => {
                let words = wording::ASK_WHETHER_TO_KEEP.to_owned();
                return Ok(self.ask(Question::KeepSounds, words));
            }
            Request::Date(ref goods) if !is_settled => {
                if let Some(words) = self.overwritten_date(goods, today)? {
                    return Ok(self.ask(Question::IsThatSo(request.clone()), words));
                }
            }
            Request::Redate(ref goods) if !is_settled => {
                if let Some(words) = self.changed_date(goods, today)? {
                    return Ok(self.ask(Question::IsThatSo(request.clone()), words));
                }
            }
            // What could hurt if it was misheard.
            Request::Describe(ref item, ref fact) if !is_settled => {
                let words = match (fact, self.stock.facts(item)?.directions.len()) {
                    (Fact::Directions(_), steps @ 2..) => {
                        Some(wording_facts::ask_whether_other_directions(item, steps))
                    }
                    _ => wording_facts::ask_whether(item, fact),
                };
                if let Some(words) = words {
                    return Ok(self.ask(Question::IsThatSo(request.clone()), words));
                }
            }
            Request::LoseSounds if !is_settled => return self.ask_whether_to_lose(),
            Request::UndoSeveral(several) if !is_settled => {
                return self.ask_whether_to_undo(several);
            }
            _ => {}
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
            Some(answer) => answer,
            None => super::answer::answer(&mut self.stock, &request, &forms, now, source)?,
        };
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
            | Request::WhatIsIn(_)
            | Request::ReadTag(_)
            | Request::When(_)
            | Request::Where(_)
            | Request::HowMuch(_)
            | Request::LearnedNames
            | Request::PlaySound(_)
            | Request::ChangedToday
            | Request::Why(_)
            | Request::HasAllergen(..)
            | Request::WhatHas(_)
            | Request::Directions(_)
            | Request::ReadStep(_)
            | Request::WhatFeels(..)
            | Request::TagPool
            | Request::StoreOrder
            | Request::SpentTags
            | Request::NextLine
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
            | Request::No
    )
}
