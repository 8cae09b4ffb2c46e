//! How it listens and speaks, changed by voice and taken back.

use super::Session;
use crate::settings::Settings;
use crate::stock::StockError;
use crate::talk::answer::Answer;
use crate::talk::manner::{self, Manner};
use crate::talk::turn::Effect;

impl Session {
    /// How it listens and speaks now.
    pub fn settings(&self) -> &Settings {
        &self.settings
    }

    /// Listens and speaks from now on as the settings say. What is changed of them by voice comes with a turn, as its
    /// [`Effect`].
    pub fn follow(&mut self, settings: Settings) {
        self.settings = settings;
    }

    pub(super) fn change_manner(&mut self, manner: Manner) -> Result<Answer, StockError> {
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
    pub(super) fn changed_manner_last(&mut self) -> Result<bool, StockError> {
        // Nothing came of what changed nothing, and of another voice where there is none.
        let now = &self.settings;
        while self.before.pop_if(|last| last.settings == *now).is_some() {}
        let Some(last) = self.before.last() else {
            return Ok(false);
        };
        Ok(last.stock == self.stock.last_standing()?)
    }

    /// How many changes of how it listens and speaks were done last, with none of the stock behind them.
    pub(super) fn manners_changed_last(&mut self) -> Result<usize, StockError> {
        if !self.changed_manner_last()? {
            return Ok(0);
        }
        let last = self.stock.last_standing()?;
        let newest_first = self.before.iter().rev();
        Ok(newest_first
            .take_while(|before| before.stock == last)
            .count())
    }

    /// Takes back so many changes of it, and gives the settings that are to be kept.
    pub(super) fn take_manners_back(&mut self, several: usize) -> Option<Effect> {
        let taken = (0..several).map_while(|_| self.take_manner_back());
        taken.last().and_then(|answer| answer.effect)
    }

    /// Listens and speaks again as before the last change of that.
    pub(super) fn take_manner_back(&mut self) -> Option<Answer> {
        let before = self.before.pop()?.settings;
        let reply = manner::taken_back(&self.settings, &before);
        self.settings = before.clone();
        Some(Answer {
            effect: Some(Effect::Settings(before)),
            ..Answer::say(reply)
        })
    }
}
