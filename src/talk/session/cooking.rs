//! Directions, read and told a step at a time.

use chrono::NaiveDateTime;

use super::Session;
use crate::stock::{Choice, Fact, ItemName, OwnWords, Source, StockError};
use crate::talk::answer::Answer;
use crate::talk::request::{Request, Used};
use crate::talk::steps::{Reading, Step};
use crate::talk::wording;

impl Session {
    /// "I used half of it": of what was spoken of last.
    pub(super) fn use_of_it(
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
        said.request = Request::Use(item, used, Choice::default());
        let request = said.request.clone();
        self.carry_out(request, false, now, source)
    }

    /// "How do I cook the rice?": the first step, and how many there are.
    pub(super) fn read_directions(&mut self, item: ItemName) -> Result<Answer, StockError> {
        let facts = self.stock.facts(&item)?;
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
