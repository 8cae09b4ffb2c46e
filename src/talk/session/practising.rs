//! The practice round, and what can be said at each point.

use chrono::NaiveDateTime;

use super::{Practice, Session};
use crate::stock::{Source, Stock, StockError};
use crate::talk::answer::Answer;
use crate::talk::help::Point;
use crate::talk::lesson::{Comment, Lesson};
use crate::talk::request::Request;
use crate::talk::{lesson, manner};

impl Session {
    /// Where the talk is, for who asks what can be said.
    pub(super) fn point(&self) -> Point {
        let asked = self.open.as_ref().map(|open| Point::asked(&open.question));
        let practice = self.practice.as_ref();
        let practice = practice.map(|practice| Point::Practice(practice.lesson.saying()));
        let here = asked.or_else(|| self.walk.point()).or(practice);
        here.unwrap_or(Point::Outside)
    }

    /// Whether nothing was ever noted: who isn't understood here is told where to begin.
    pub(super) fn is_new_here(&self) -> Result<bool, StockError> {
        Ok(self.point() == Point::Outside && self.stock.last_standing()?.is_none())
    }

    pub(super) fn help(&self) -> Answer {
        let answer = Answer::read(self.point().help());
        // What was said whole doesn't take the place of a list that is being read.
        Answer {
            listing: answer.listing.filter(|listing| !listing.is_whole()),
            ..answer
        }
    }

    /// Puts the conversation aside, and begins one about a kitchen that is thrown away; from the start, if one is on.
    pub(super) fn begin_practice(&mut self) -> Result<Answer, StockError> {
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
    pub(super) fn leave_practice(&mut self) -> bool {
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
    pub(super) fn end_practice(&mut self, words: &str) -> Answer {
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
    pub(super) fn skip_step(
        &mut self,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
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
    pub(super) fn is_between_steps(&self) -> bool {
        self.practice.is_some() && self.walk.mode().is_none()
    }

    pub(super) fn note_for_practice(&mut self, request: &Request) {
        if let Some(practice) = &mut self.practice {
            practice.carried_out = Some(request.clone());
        }
    }

    /// The answer with what there is to say of it in the practice round.
    pub(super) fn practised(&mut self, mut answer: Answer) -> Answer {
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
}
