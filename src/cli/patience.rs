//! Work that may take long, and a word if it does.

use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

/// Works, and gives a word, once, if that isn't done after so long. The word is given by another thread.
pub(super) fn with_a_word<T>(
    work: impl FnOnce() -> T,
    after: Duration,
    word: impl FnOnce() + Send,
) -> T {
    thread::scope(|scope| {
        // Dropped at the end, and that is the sign.
        let (_working, over) = channel::<()>();
        scope.spawn(move || {
            if over.recv_timeout(after) == Err(RecvTimeoutError::Timeout) {
                word();
            }
        });
        work()
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slow_work_gets_a_word_and_quick_work_none() {
        let mut words = 0;
        let slow = with_a_word(
            || {
                thread::sleep(Duration::from_millis(200));
                "slow"
            },
            Duration::from_millis(20),
            || words += 1,
        );
        assert_eq!((slow, words), ("slow", 1));
        let quick = with_a_word(|| "quick", Duration::from_secs(60), || words += 1);
        assert_eq!((quick, words), ("quick", 1));
    }

    #[test]
    #[should_panic(expected = "broken")]
    fn work_that_panics_is_waited_for_by_nobody() {
        with_a_word(|| panic!("broken"), Duration::from_secs(60), || {});
    }
}
