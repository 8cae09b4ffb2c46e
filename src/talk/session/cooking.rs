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
        // Of corn, where there is only frozen corn; but never of another medicine.
        if facts.directions.is_empty()
            && !is_taken
            && let [kind] = self.stock.kinds_instead(&item)?.as_slice()
        {
            let of_kind = self.stock.facts(kind)?;
            if !of_kind.directions.is_empty() && of_kind.kind != ItemKind::Medicine {
                let answer = self.read_directions(kind.clone(), false)?;
                let reply = wording::none_but_of(kind, &answer.reply);
                return Ok(Answer { reply, ..answer });
            }
        }
        if is_taken {
            facts.kind = ItemKind::Medicine;
        }
        let mut reading = Reading::of(item);
        let reply = reading.begin(&facts);
        self.reading = (!facts.directions.is_empty()).then_some(reading);
        if self.reading.is_some() {
            // "Next" is said of what is read now.
            self.list_place = None;
        }
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
