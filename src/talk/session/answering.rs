//! What wasn't understood, answers in own words, and the way through a list that is out of date.

use chrono::NaiveDateTime;

use super::{Asked, Session, Sure, asking, names};
use crate::grammar::Understanding;
use crate::stock::{ItemName, Source, StockError};
use crate::talk::answer::Answer;
use crate::talk::question::Question;
use crate::talk::reading::{self, ListPlace, Through};
use crate::talk::request::Request;
use crate::talk::{help, wording};

impl Session {
    /// What wasn't understood answers nothing: a question is put again, once, so that it is heard that it is still open. But a
    /// yes that comes later, and may be meant for something else, must not do what can hurt.
    pub(super) fn missed(
        &mut self,
        open: Option<Asked>,
        understanding: &Understanding,
        now: NaiveDateTime,
    ) -> Result<Answer, StockError> {
        if let Some(open) = open {
            let closes = open.question.is_closed_by_anything_else() || self.misses > 0;
            if closes {
                let words = asking::not_done(&open).unwrap_or(wording::ALL_AS_IT_WAS.to_owned());
                return Ok(Answer::missed(format!(
                    "{} {words}",
                    wording::NOT_UNDERSTOOD
                )));
            }
            let reply = format!("{} {}", wording::NOT_UNDERSTOOD, open.words);
            let is_long = reply.split_whitespace().count() > wording::MOST_WORDS;
            let reply = if is_long { open.words.clone() } else { reply };
            self.open = Some(open);
            return Ok(Answer::missed(reply));
        }
        // It doesn't take the place of the last change, which can still be put right.
        if let Some(command) = understanding.command.as_ref()
            && !self.said_changed()
            && let Ok(request) = Request::read(command)
        {
            let forms = names(&understanding.forms);
            self.remember(&request, &command.sentence, forms, Sure::No);
        }
        let (heard, point) = (&understanding.heard, self.point());
        let mut reply = help::not_understood(heard, self.misses, point);
        if let Some(words) = self.still_waits(understanding, now)? {
            return Ok(Answer::missed(words));
        }
        if let Some(words) = self.unknown_place(heard, now) {
            return Ok(Answer::missed(words));
        }
        if self.misses == 0 && self.is_new_here()? && !heard.trim().is_empty() {
            reply.push_str(help::FOR_BEGINNERS);
        }
        Ok(Answer::missed(reply))
    }

    /// "It doesn't say", "I don't know": what came in is noted without its date; of anything else that is a no.
    pub(super) fn answer_without(
        &mut self,
        open: Asked,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let Question::WhatDate { mut request, .. } = open.question else {
            return Ok(self.decline(open));
        };
        if !matches!(request, Request::PutIn { .. } | Request::Tag(_)) {
            let words = wording::not_noted(&request);
            return Ok(Answer::say(
                words.unwrap_or(wording::NOTHING_CHANGED.to_owned()),
            ));
        }
        if let Some(goods) = request.goods_mut() {
            goods.date = None;
        }
        self.clip = open.clip;
        let mut answer = self.carry_out(request, false, now, source)?;
        if answer.changed {
            answer.reply.push_str(wording::WITHOUT_ITS_DATE);
        }
        Ok(answer)
    }

    /// Goes on in the list that is read. What is said by its number is "it" from then on.
    pub(super) fn through(&mut self, way: Through) -> Answer {
        let reply = reading::go(self.list_place.as_mut(), way);
        if let (Through::Nth(number), Some(list)) = (way, &self.list_place) {
            self.speak_of(list.item(number).cloned());
        }
        Answer::say(reply)
    }

    /// The same, once something changed: what is there no longer isn't read.
    pub(super) fn through_anew(
        &mut self,
        way: Through,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let asked = self.list_place.as_ref().and_then(ListPlace::asked).cloned();
        let Some(asked) = asked else {
            return Ok(self.through(way));
        };
        if way == Through::FromTheStart {
            return self.carry_out(asked, false, now, source);
        }
        let answer = crate::talk::answer::answer(&mut self.stock, &asked, &[], now, source)?;
        if let Some(list) = &mut self.list_place {
            let nothing = || reading::Listing::none("");
            list.renew(answer.listing.unwrap_or_else(nothing));
        }
        Ok(self.through(way))
    }

    /// "Why?", behind a change: why what was spoken of is on the list, or else what was done.
    pub(super) fn why_so(
        &mut self,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        let request = match self.it() {
            Some(item) if self.stock.is_listed(&item)? => Request::Why(item),
            _ => Request::LastChange,
        };
        self.carry_out(request, false, now, source)
    }

    /// What was spoken of last. On a walk, that is what was said and not what came up.
    pub(super) fn it(&self) -> Option<ItemName> {
        let said = self.said.as_ref().and_then(|said| said.request.item());
        match self.walk.mode() {
            Some(_) => said.or(self.spoken_of.clone()),
            None => self.spoken_of.clone().or(said),
        }
    }
}
