//! The session: keeps the stock, the names, the open question and the last reply.

use std::sync::Arc;

use chrono::NaiveDateTime;

use super::answer::Answer;
use super::question::Question;
use super::request::Request;
use super::turn::Turn;
use super::wording;
use crate::grammar::{Acceptor, Command, Grammar, Heard, Lexicon, Understanding, Value, Verdict};
use crate::stock::{Source, Stock, StockError};

/// A question that waits for its answer, and how it was asked.
struct Asked {
    question: Question,
    words: String,
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
    grammar: Grammar,
    names: Arc<Lexicon>,
    /// For guided hearing; made anew when a name is learned.
    acceptor: Option<Acceptor>,
    open: Option<Asked>,
    last_reply: Option<String>,
    /// Utterances in a row that weren't understood.
    misses: usize,
}

impl Session {
    /// Begins a conversation.
    ///
    /// # Errors
    /// What the stock's file says.
    pub fn new(stock: Stock, grammar: Grammar) -> Result<Self, StockError> {
        let mut names = Lexicon::starter(grammar.language());
        for name in stock.names()? {
            names.add(&name, &name);
        }
        Ok(Self {
            stock,
            grammar,
            names: Arc::new(names),
            acceptor: None,
            open: None,
            last_reply: None,
            misses: 0,
        })
    }

    /// The stock, for looking at.
    pub fn stock(&self) -> &Stock {
        &self.stock
    }

    /// What can be said here, for a recogniser to be guided by while it decodes.
    pub fn acceptor(&mut self) -> &Acceptor {
        // Sentences that were once walked are looked up from then on, within reason.
        if self.acceptor.as_ref().is_some_and(Acceptor::is_full) {
            self.acceptor = None;
        }
        let (grammar, names) = (&self.grammar, &self.names);
        self.acceptor
            .get_or_insert_with(|| grammar.acceptor(Arc::clone(names)))
    }

    /// Settles what was said, by all that was heard, with the names this kitchen knows.
    pub fn settle(&self, heard: &Heard, now: NaiveDateTime) -> Understanding {
        self.grammar.settle(heard, &self.names, now.date())
    }

    /// Understands hypotheses, likeliest first, with the names this kitchen knows.
    pub fn understand(&self, texts: &[&str], now: NaiveDateTime) -> Understanding {
        self.grammar.understand(texts, &self.names, now.date())
    }

    /// Understands and answers in one.
    pub fn hear(&mut self, texts: &[&str], now: NaiveDateTime, source: Source) -> Turn {
        let understanding = self.understand(texts, now);
        self.answer(understanding, now, source)
    }

    /// Answers what was understood. The stock is on disk before the reply is made.
    pub fn answer(
        &mut self,
        mut understanding: Understanding,
        now: NaiveDateTime,
        source: Source,
    ) -> Turn {
        let answer = self.reply_to(&mut understanding, now, source);
        self.misses = if answer.missed { self.misses + 1 } else { 0 };
        if !answer.repeated {
            self.last_reply = Some(answer.reply.clone());
        }
        Turn {
            understanding,
            changed: answer.changed,
            reply: answer.reply,
            failed: answer.failed,
        }
    }

    fn reply_to(
        &mut self,
        understanding: &mut Understanding,
        now: NaiveDateTime,
        source: Source,
    ) -> Answer {
        let open = self.open.take();
        let command = match (&understanding.command, understanding.verdict) {
            (Some(command), Verdict::Accept | Verdict::Ask) => command.clone(),
            _ => {
                // What wasn't understood answers nothing: the question stays open for a better try.
                self.open = open;
                return Answer::missed(wording::not_understood(&understanding.heard, self.misses));
            }
        };
        let command = &command;
        let request = match Request::read(command) {
            Ok(request) => request,
            Err(unclear) => return Answer::say(format!("{unclear}.")),
        };
        if let Some(name) = unknown_name(command)
            && request.is_of_known_things()
            && !(name.contains(" and ") && changes_something(&request))
        {
            // More likely a name misheard than a thing never spoken of before.
            understanding.verdict = Verdict::Ask;
            return self.ask_about_unknown(name, request);
        }
        if let Some(name) = unknown_name(command)
            && name.contains(" and ")
            && changes_something(&request)
        {
            understanding.verdict = Verdict::Ask;
            let words = wording::ask_whether_one(&name);
            return self.ask(Question::did_you_mean(request), words);
        }
        let in_doubt = understanding.verdict == Verdict::Ask;
        match (open, request) {
            (None, Request::Yes | Request::Meaning(_)) => {
                Answer::say(wording::NO_QUESTION.to_owned())
            }
            // "No" behind a reply means that something went wrong.
            (None, Request::No) => Answer::say(wording::NO_TO_WHAT.to_owned()),
            (None, Request::Repeat) => self.repeat(),
            // An answer that was badly heard is none: the question is put again.
            (Some(open), Request::Yes | Request::Meaning(_)) if in_doubt => self.ask_again(open),
            (Some(open), Request::Repeat) => self.ask_again(open),
            (Some(open), Request::No) => self.decline(open),
            (Some(open), request) if open.question.answered_by(&request).is_some() => {
                let completed = open.question.answered_by(&request).unwrap_or(request);
                let year_is_right = matches!(open.question, Question::IsThatTheYear(_));
                self.carry_out(completed, year_is_right, now, source)
            }
            // "Yes" to "use by, best by or sell by?", or "use by" to a yes-or-no.
            (Some(open), Request::Yes | Request::Meaning(_)) => self.ask_again(open),
            (_, request) if in_doubt && changes_something(&request) => {
                self.ask_whether(command, request, understanding.or.as_ref())
            }
            (_, request) => self.carry_out(request, false, now, source),
        }
    }

    fn ask(&mut self, question: Question, words: String) -> Answer {
        self.ask_again(Asked { question, words })
    }

    fn ask_again(&mut self, asked: Asked) -> Answer {
        let answer = Answer::say(asked.words.clone());
        self.open = Some(asked);
        answer
    }

    fn learn(&mut self, name: &str) {
        if self.names.find(name) != Some(name) {
            // The acceptor shares the names, and is out of date with one more.
            self.acceptor = None;
            Arc::make_mut(&mut self.names).add(name, name);
        }
    }

    /// Asks for the likeliest command; and, on a no, for the one that is nearly as likely.
    fn ask_whether(&mut self, command: &Command, request: Request, or: Option<&Command>) -> Answer {
        let or = or.and_then(|or| Some((or.sentence.clone(), Box::new(Request::read(or).ok()?))));
        let words = wording::ask_whether(&command.sentence);
        self.ask(Question::DidYouMean { request, or }, words)
    }

    /// What a no leads to: to what else may have been said, or to nothing.
    fn decline(&mut self, open: Asked) -> Answer {
        match open.question {
            Question::DidYouMean {
                or: Some((sentence, request)),
                ..
            } => {
                let words = wording::ask_whether_instead(&sentence);
                self.ask(Question::did_you_mean(*request), words)
            }
            _ => Answer::say(wording::NOTHING_CHANGED.to_owned()),
        }
    }

    fn ask_about_unknown(&mut self, name: String, request: Request) -> Answer {
        if !changes_something(&request) {
            return Answer::say(format!("I know no {name}."));
        }
        let words = format!("I know no {name}. Note it all the same? Yes or no.");
        self.ask(Question::did_you_mean(request), words)
    }

    fn repeat(&self) -> Answer {
        let reply = self.last_reply.clone();
        let reply = reply.unwrap_or_else(|| "There is nothing to repeat yet.".to_owned());
        Answer {
            repeated: true,
            ..Answer::say(reply)
        }
    }

    fn carry_out(
        &mut self,
        request: Request,
        year_is_right: bool,
        now: NaiveDateTime,
        source: Source,
    ) -> Answer {
        let today = now.date();
        if let Request::Tag(goods) | Request::PutIn { goods, .. } = &request {
            if let Err(day) = goods.dates() {
                let words = wording::ask_what_date(day, today);
                return self.ask(Question::WhatDate { request, day }, words);
            }
            if let Some(day) = goods.day_of_doubtful_year(today)
                && !year_is_right
            {
                let words = wording::ask_what_year(day, today);
                return self.ask(Question::IsThatTheYear(request), words);
            }
        }
        match super::answer::answer(&mut self.stock, &request, now, source) {
            Ok(mut answer) => {
                if let Some(name) = &answer.mentioned {
                    // It may be misheard: that it is new is said, so that it can be undone.
                    if self.names.find(name.as_str()).is_none() {
                        answer.reply.push_str(" A new name.");
                    }
                    self.learn(name.as_str());
                }
                answer
            }
            Err(StockError::Refused(refusal)) => Answer::say(wording::refusal(&refusal)),
            Err(error) => Answer {
                failed: true,
                ..Answer::say(format!("{error}."))
            },
        }
    }
}

/// The name in a command, if the kitchen doesn't know it.
fn unknown_name(command: &Command) -> Option<String> {
    match command.slot("item")? {
        Value::Item { name, known: false } => Some(name.clone()),
        _ => None,
    }
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
            | Request::Repeat
            | Request::Help
            | Request::No
    )
}
