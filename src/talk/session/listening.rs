//! How the session listens: what it would understand, and whether that was said to it.

use std::rc::Rc;
use std::sync::Arc;

use chrono::NaiveDateTime;

use super::Session;
use crate::grammar::{
    Acceptor, Command, Grammar, GrammarError, Heard, Understanding, Verdict, WakePhrase,
};
use crate::talk::attention::{Attention, Completeness, is_call};
use crate::talk::request::Request;

impl Session {
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

    /// What can be said at this point of the talk. A file without modes has the same at every point.
    pub(super) fn grammar(&self) -> Grammar {
        let asleep = match self.attention {
            Attention::Asleep => self.grammar.asleep(),
            Attention::Awake => None,
        };
        let grammar = asleep.unwrap_or_else(|| self.grammar.clone());
        let inside = self.mode().and_then(|mode| grammar.in_mode(mode));
        inside.unwrap_or(grammar)
    }

    /// The mode of the grammar in which the talk is.
    pub(super) fn mode(&self) -> Option<&'static str> {
        let reading = self.list_place.is_some().then_some("reading");
        let practice = self.practice.is_some().then_some("practice");
        let steps = self.reading.is_some().then_some("steps");
        let some_of = self.is_asking_how_much().then_some("some-of");
        let which_year = self.is_asking_which_day().then_some("which-year");
        let asked = some_of.or(which_year);
        self.walk
            .mode()
            .or(practice)
            .or(asked)
            .or(steps)
            .or(reading)
    }

    /// Settles what was said, by all that was heard, with the names this kitchen knows.
    pub fn settle(&self, heard: &Heard, now: NaiveDateTime) -> Understanding {
        let ruled_out = |command: &Command| self.rules_out(command);
        self.grammar()
            .settle_without(heard, &self.names, now.date(), &ruled_out)
    }

    fn rules_out(&self, command: &Command) -> bool {
        // Mostly, nothing was said before that could rule anything out.
        let anything = self.said.is_some() || !self.declined.is_empty();
        anything && Request::read(command).is_ok_and(|request| self.is_ruled_out(&request))
    }

    /// Whether a person who tries to be understood can't mean this.
    pub(super) fn is_ruled_out(&self, request: &Request) -> bool {
        match (request, &self.said) {
            // "No, I said soda" isn't said of what was taken for soda, nor of what was declined.
            (Request::Correct(correction), Some(said)) if correction.is_of_name_only() => {
                let corrected = said.request.clone().corrected(correction);
                corrected.is_some_and(|corrected| {
                    corrected == said.request || self.declined.contains(&corrected)
                })
            }
            (request, _) => self.declined.contains(request),
        }
    }

    /// Understands hypotheses, likeliest first, with the names this kitchen knows.
    pub fn understand(&self, texts: &[&str], now: NaiveDateTime) -> Understanding {
        let ruled_out = |command: &Command| self.rules_out(command);
        self.grammar()
            .understand_without(texts, &self.names, now.date(), &ruled_out)
    }
}
