//! What was said, put right, said again, or spelled; and what is learned of it.

use std::sync::Arc;

use chrono::NaiveDateTime;

use super::{Known, Said, Session, Stage, Sure};
use crate::stock::{Allergen, Event, ItemKind, ItemName, Source, StockError};
use crate::talk::answer::Answer;
use crate::talk::question::Question;
use crate::talk::request::{Correction, Request};
use crate::talk::walk::Here;
use crate::talk::wording;

impl Session {
    /// Keeps what is said of a thing, for what refers to it later.
    pub(super) fn remember(
        &mut self,
        request: &Request,
        sentence: &str,
        forms: Vec<ItemName>,
        sure: Sure,
    ) {
        if let Some(item) = request.item() {
            if sure == Sure::Yes {
                self.speak_of(Some(item.clone()));
            }
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
    pub(super) fn take_as_confirmed(&mut self) {
        if let Some(said) = &mut self.said
            && let Some(item) = said.request.item()
        {
            said.teaches |= self.starter.find(item.as_str()).is_none();
        }
    }

    /// What an answer completed is what was said, for who puts it right.
    pub(super) fn take_as_completed(&mut self, completed: &Request) {
        self.speak_of(completed.item());
        if let Some(said) = &mut self.said
            && said.request.item() == completed.item()
        {
            said.request = completed.clone();
        }
    }

    /// Whether what was last said of a thing changed the stock.
    pub(super) fn said_changed(&self) -> bool {
        self.said
            .as_ref()
            .is_some_and(|said| said.stage == Stage::Changed)
    }

    /// "No, I said …": takes back what was done, and does the same with what was said. How its name was
    /// heard before, and is now, becomes a name of it; but not where the person meant something else.
    pub(super) fn correct(
        &mut self,
        correction: Correction,
        forms: &[ItemName],
        sure: Sure,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Answer, StockError> {
        if let Some(place) = correction.place_alone() {
            let here = Here {
                stock: &mut self.stock,
                now,
                source,
            };
            if let Some(answer) = self.walk.there_instead(place, here)? {
                return Ok(answer);
            }
        }
        let name = correction.item.as_ref();
        if let Some(answer) = self.correct_allergen(name, sure, now, source)? {
            return Ok(answer);
        }
        let said = self.said.as_ref();
        // What is only guessed at is asked about in its own words, and these have no other amount, place or date.
        let all_sure = |said: &Said| said.sure == Sure::Yes && sure == Sure::Yes;
        let said = said.filter(|said| all_sure(said) || correction.is_of_name_only());
        let said = said.filter(|said| said.stage != Stage::Past);
        let corrected = said.and_then(|said| {
            let corrected = said.request.clone().corrected(&correction)?;
            let (wrong, right) = (said.request.item()?, corrected.item()?);
            let sentence = said.sentence.replace(wrong.as_str(), right.as_str());
            Some((corrected, wrong, sentence))
        });
        let Some((request, wrong, sentence)) = corrected else {
            return Ok(Answer::say(wording::NOTHING_TO_CORRECT.to_owned()));
        };
        let Correction { item, misheard, .. } = correction;
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
                Err(StockError::Refused(refusal)) if changed => {
                    let refused = wording::refused_behind_a_change(&refusal);
                    let before = if other_item { "" } else { wording::TAKEN_BACK };
                    Answer::say(format!("{before}{refused}"))
                }
                other => other?,
            },
        };
        answer.changed |= changed;
        if let Some(asked) = &mut self.open {
            asked.is_behind_a_change = changed;
        }
        if other_item && sure {
            answer.reply = format!("{} {}", wording::not_that(&wrong), answer.reply);
        }
        Ok(answer)
    }

    /// The question before what is a medicine gets another name: by that it is told from food.
    pub(super) fn renamed_medicine(&self, name: &ItemName) -> Result<Option<String>, StockError> {
        let said = self.said.as_ref();
        let Some(item) = said.and_then(|said| said.request.item()) else {
            return Ok(None);
        };
        let is_medicine = self.stock.facts(&item)?.kind == ItemKind::Medicine;
        Ok(is_medicine.then(|| wording::ask_whether_to_rename(&item, name)))
    }

    /// The same where what was said is an allergen, and one was asked for or noted. `None` where it is something else.
    fn correct_allergen(
        &mut self,
        name: Option<&ItemName>,
        sure: Sure,
        now: NaiveDateTime,
        source: Source,
    ) -> Result<Option<Answer>, StockError> {
        let said = self.said.as_ref().filter(|said| said.stage != Stage::Past);
        let said = said.filter(|said| said.sure == Sure::Yes && sure == Sure::Yes);
        let allergen = name.and_then(|name| Allergen::called(name.as_str()));
        let (Some(said), Some(allergen)) = (said, allergen) else {
            return Ok(None);
        };
        let Some(request) = said.request.clone().of_allergen(allergen) else {
            return Ok(None);
        };
        let changed = self.said_changed();
        if changed {
            self.stock.undo(now, source)?;
            self.know_names_anew()?;
        }
        if let Some(said) = &mut self.said {
            said.request = request.clone();
            said.stage = Stage::Open;
        }
        let mut answer = self.carry_out(request, false, now, source)?;
        answer.changed |= changed;
        Ok(Some(answer))
    }

    /// "Call it …", "spell it …": another name for what was last spoken of.
    pub(super) fn call_it(
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
            && let Some(request) = said
                .request
                .clone()
                .corrected(&Correction::of_name(name.clone()))
        {
            said.request = request;
            said.stage = Stage::Past;
        }
        let reply = wording::outcome(&outcome, now.date());
        Ok(crate::talk::answer::changed(reply, None))
    }

    pub(super) fn spell(&self) -> Answer {
        let said = self.said.as_ref().and_then(|said| said.request.item());
        let item = said.or(self.spoken_of.clone());
        Answer::say(item.map_or(wording::NO_NAME_YET.to_owned(), |item| {
            wording::spelled(&item)
        }))
    }

    pub(super) fn learn(&mut self, name: &ItemName, forms: &[ItemName]) {
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
    pub(super) fn know_names_anew(&mut self) -> Result<(), StockError> {
        let known = Known::of(&self.stock)?;
        if self.known.as_ref() != Some(&known) {
            self.acceptors.clear();
            self.names = Arc::new(known.beside(&self.starter));
            self.known = Some(known);
        }
        Ok(())
    }

    pub(super) fn repeat(&mut self) -> Answer {
        self.note_for_practice(&Request::Repeat);
        let reply = self.last_reply.clone();
        let reply = reply.unwrap_or_else(|| "There is nothing to repeat yet.".to_owned());
        Answer {
            repeated: true,
            ..Answer::say(reply)
        }
    }

    pub(super) fn what_was_heard(&self) -> Answer {
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
}
