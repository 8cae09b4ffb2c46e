//! Work that may take long, and a word if it does.

use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

/// How often it is asked at most in how long the word is due: about as often as there is new sound to tell it by.
const LEAST_WAIT: Duration = Duration::from_millis(20);

/// Works, and gives a word, once, if the work still goes on when it is due. In how long that is, is asked again whenever it
/// should be: it may have been put off. The word is given by another thread, which the end of the work waits for.
pub(super) fn with_a_word<T>(
    work: impl FnOnce() -> T,
    due_in: impl Fn() -> Duration + Send,
    word: impl FnOnce() + Send,
) -> T {
    thread::scope(|scope| {
        // Dropped at the end, and that is the sign.
        let (_working, over) = channel::<()>();
        scope.spawn(move || {
            loop {
                let left = due_in();
                if left.is_zero() {
                    return word();
                }
                if over.recv_timeout(left.max(LEAST_WAIT)) != Err(RecvTimeoutError::Timeout) {
                    return;
                }
            }
        });
        work()
    })
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicU32, Ordering};
    use std::time::Instant;

    use super::*;

    const LONG: Duration = Duration::from_secs(60);

    /// Due so long from now.
    fn in_(time: Duration) -> impl Fn() -> Duration + Send {
        let due = Instant::now() + time;
        move || due.saturating_duration_since(Instant::now())
    }

    #[test]
    fn slow_work_gets_a_word_and_quick_work_none() {
        let mut words = 0;
        let slow = with_a_word(
            || {
                thread::sleep(Duration::from_millis(200));
                "slow"
            },
            in_(Duration::from_millis(20)),
            || words += 1,
        );
        assert_eq!((slow, words), ("slow", 1));
        let quick = with_a_word(|| "quick", in_(LONG), || words += 1);
        assert_eq!((quick, words), ("quick", 1));
    }

    #[test]
    fn a_word_is_put_off_as_often_as_it_has_to_be() {
        let (asked, mut words) = (AtomicU32::new(0), 0);
        let due_in = || match asked.fetch_add(1, Ordering::Relaxed) {
            0..5 => Duration::from_millis(1),
            _ => Duration::ZERO,
        };
        let work = || thread::sleep(Duration::from_millis(600));
        with_a_word(work, due_in, || words += 1);
        assert_eq!((asked.into_inner(), words), (6, 1));
    }

    #[test]
    fn work_that_panics_is_waited_for_by_nobody() {
        let begun = Instant::now();
        let work = || with_a_word(|| panic!("broken"), in_(LONG), || {});
        assert!(std::panic::catch_unwind(work).is_err());
        assert!(begun.elapsed() < LONG / 2);
    }
}
