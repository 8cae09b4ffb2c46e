//! Directions, read and told a step at a time.

use chrono::NaiveDateTime;

use super::Session;
use crate::stock::{Fact, ItemKind, ItemName, OwnWords, Source, StockError};
use crate::talk::answer::Answer;
use crate::talk::request::Request;
use crate::talk::steps::{Reading, Step};
use crate::talk::wording;

impl Session {
    /// "How do I cook the rice?": the first step, and how many there are. What is to be taken is read as a medicine, also
    /// where nobody said that it is one.
    pub(super) fn read_directions(
        &mut self,
        item: ItemName,
        is_taken: bool,
    ) -> Result<Answer, StockError> {
        let mut facts = self.stock.facts(&item)?;
        if is_taken {
            facts.kind = ItemKind::Medicine;
        }
        let mut reading = Reading::of(item);
        let reply = reading.begin(&facts);
        self.reading = (!facts.directions.is_empty()).then_some(reading);
        Ok(Answer::say(reply))
    }

    pub(super) fn read_step(&mut self, step: Step) -> Result<Answer, StockError> {
        let Some(reading) = &mut self.reading else {
            return Ok(Answer::say(wording::NO_DIRECTIONS_READ.to_owned()));
        };
        let facts = self.stock.facts(reading.item())?;
        Ok(Answer::say(reading.go(step, &facts)))
    }

    /// "Another step …": of the directions that were read or noted last.
    pub(super) fn add_step(
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
}
