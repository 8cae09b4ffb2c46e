//! Numbers that sound alike: fifteen and fifty. One heard for the other is an amount that is wrong by far, and nothing else
//! in the sentence gives it away.

use chrono::Datelike;

use super::meaning::{Command, Value};
use crate::measure::{Amount, Quantity};

/// Whether two commands are the same but for a number that is easily heard as the other's.
pub(super) fn differ_in_a_teen(one: &Command, other: &Command) -> bool {
    let mut teens = 0;
    let same = |(slot, value): &(String, Value)| {
        other.slot(slot).is_some_and(|other| {
            let alike = value != other && sound_alike(value, other);
            teens += usize::from(alike);
            alike || value == other
        })
    };
    one.intent == other.intent
        && one.slots.len() == other.slots.len()
        && one.slots.iter().all(same)
        && teens > 0
}

fn sound_alike(one: &Value, other: &Value) -> bool {
    match (one, other) {
        (Value::Number(one), Value::Number(other)) => are_teen_and_tens(*one, *other),
        (Value::Quantity(one), Value::Quantity(other)) => quantities_sound_alike(one, other),
        // "The thirteenth" and "the thirtieth".
        (Value::Date(Ok(one)), Value::Date(Ok(other))) => {
            let day = |day: u32| Amount::from_integer(day.into());
            let (one, other) = (one.note, other.note);
            let (a, b) = (one.date, other.date);
            one.kind == other.kind
                && (a.year(), a.month()) == (b.year(), b.month())
                && are_teen_and_tens(day(a.day()), day(b.day()))
        }
        _ => false,
    }
}

fn quantities_sound_alike(one: &Quantity, other: &Quantity) -> bool {
    let ((count, amount, unit), (other_count, other_amount, other_unit)) =
        (one.parts(), other.parts());
    let alike = |a: Option<Amount>, b: Option<Amount>| match (a, b) {
        (Some(a), Some(b)) => are_teen_and_tens(a, b),
        _ => false,
    };
    unit == other_unit
        && ((count == other_count && alike(amount, other_amount))
            || (amount == other_amount && alike(count, other_count)))
}

/// Thirteen and thirty, to nineteen and ninety.
fn are_teen_and_tens(one: Amount, other: Amount) -> bool {
    let (teen, tens) = (one.min(other), one.max(other));
    let ten = Amount::from_integer(10);
    let is_teen = teen.is_integer() && (13..=19).contains(&teen.to_integer());
    is_teen && tens == (teen - ten) * ten
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn teens_and_tens_sound_alike_and_nothing_else_does() {
        let n = Amount::from_integer;
        for teen in 13..=19 {
            let tens = (teen - 10) * 10;
            assert!(are_teen_and_tens(n(teen), n(tens)) && are_teen_and_tens(n(tens), n(teen)));
        }
        for (one, other) in [(12, 20), (15, 15), (15, 51), (5, 50), (16, 70), (150, 500)] {
            assert!(!are_teen_and_tens(n(one), n(other)), "{one} {other}");
        }
    }
}
