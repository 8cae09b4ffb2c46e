//! How far a path agrees with what was heard: as a whole, and in its weakest part.

/// Letters compared and letters wrong, for the whole, each slot, and the words around the slots.
///
/// A long command with one wrong name agrees well as a whole, and so does one whose every slot is
/// right behind the wrong verb. Either would do the wrong thing, so the weakest part counts.
#[derive(Debug, Default)]
pub(super) struct Agreement {
    around: Part,
    open: Vec<Part>,
    weakest: f32,
}

#[derive(Debug, Default, Clone, Copy)]
struct Part {
    letters: usize,
    wrong: f32,
}

impl Part {
    fn agreement(self) -> f32 {
        // Free speech alone agrees with anything: it says nothing for the rest, nor against it.
        if self.letters == 0 {
            1.0
        } else {
            1.0 - self.wrong / self.letters as f32
        }
    }
}

impl Agreement {
    /// Begins with a path on which so many letters are wrong in all.
    pub fn new(wrong: f32) -> Self {
        Self {
            around: Part { letters: 0, wrong },
            open: Vec::new(),
            weakest: 1.0,
        }
    }

    /// Passes letters that were compared.
    pub fn compare(&mut self, letters: usize) {
        self.open.last_mut().unwrap_or(&mut self.around).letters += letters;
    }

    /// A slot begins; so many letters were wrong before it.
    pub fn open_slot(&mut self, wrong_before: f32) {
        self.open.push(Part {
            letters: 0,
            wrong: -wrong_before,
        });
    }

    /// The innermost slot ends; so many letters were wrong up to here.
    pub fn close_slot(&mut self, wrong_until: f32) {
        let Some(mut slot) = self.open.pop() else {
            return;
        };
        slot.wrong += wrong_until;
        self.weakest = self.weakest.min(slot.agreement());
        match self.open.last_mut() {
            Some(outer) => outer.letters += slot.letters,
            None => self.around.wrong -= slot.wrong,
        }
    }

    /// The agreement of the weakest part, from 0 to 1.
    pub fn weakest(&self) -> f32 {
        self.weakest.min(self.around.agreement()).clamp(0.0, 1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wrong_name_counts_though_the_rest_is_right() {
        let mut agreement = Agreement::new(2.0);
        agreement.compare(16);
        agreement.open_slot(0.0);
        agreement.compare(4);
        agreement.close_slot(2.0);
        assert_eq!(agreement.weakest(), 0.5);
    }

    #[test]
    fn a_wrong_verb_counts_though_the_slots_are_right() {
        let mut agreement = Agreement::new(3.0);
        agreement.compare(4);
        agreement.open_slot(3.0);
        agreement.compare(40);
        agreement.close_slot(3.0);
        assert_eq!(agreement.weakest(), 0.25);
    }

    #[test]
    fn free_speech_says_nothing() {
        let mut agreement = Agreement::new(0.0);
        agreement.open_slot(0.0);
        agreement.close_slot(0.0);
        assert_eq!(agreement.weakest(), 1.0);
    }
}
