//! Quantities as they should sound.

use super::amount_said::say_amount;
use super::number::Amount;
use super::quantity::Quantity;
use super::unit::{Pack, Unit};

impl Quantity {
    /// As it should sound: "2 pounds 4 ounces", "3 14 ounce cans", "half a carton".
    pub fn spoken(&self) -> String {
        match self {
            Self::Count { count, pack: None } => say_amount(*count),
            Self::Count {
                count,
                pack: Some(pack),
            } => say_with(*count, pack.one(), pack.many()),
            Self::Measure { amount, unit } => say_measure(*amount, *unit),
            Self::Packs {
                count,
                amount,
                unit,
                pack,
            } => {
                if let Some(said) = said_by_content(*count, *amount, *unit, *pack) {
                    return said;
                }
                let size = format!("{} {}", say_amount(*amount), unit.one());
                if *count == Amount::from_integer(1) {
                    // "One five ounce can" might be one of fifteen ounces.
                    return format!("{} {size} {}", article(&size), pack.one());
                }
                format!("{} {size} {}", say_amount(*count), pack.many())
            }
        }
    }

    /// The same with "of" where a name follows: "2 bags of", but "3" alone.
    ///
    /// ```
    /// use tellshelf::measure::read_quantity;
    /// assert_eq!(read_quantity(&["two", "bags"]).unwrap().spoken_of("lentils"), "2 bags of lentils");
    /// assert_eq!(read_quantity(&["three"]).unwrap().spoken_of("apples"), "3 apples");
    /// ```
    pub fn spoken_of(&self, name: &str) -> String {
        match self {
            Self::Count { pack: None, .. } => format!("{} {name}", self.spoken()),
            _ => format!("{} of {name}", self.spoken()),
        }
    }
}

/// What isn't a whole or half number of packs, as whole packs and what is in the one that is begun: nobody measures a fifth of
/// a bag. `None` where that would be said no better.
fn said_by_content(count: Amount, amount: Amount, unit: Unit, pack: Pack) -> Option<String> {
    let is_less_than_one = count > Amount::from_integer(0) && count < Amount::from_integer(1);
    if !is_less_than_one
        && ((count * Amount::from_integer(2)).is_integer() || !say_amount(count).contains('.'))
    {
        return None;
    }
    let rest = say_measure(count.fract() * amount, unit);
    let rest_in_ounces = count.fract() * amount * Amount::from_integer(16);
    let packs = Quantity::Packs {
        count: count.trunc(),
        amount,
        unit,
        pack,
    };
    match rest.starts_with("about") {
        _ if packs.is_zero() => Some(match unit == Unit::Pound && !rest_in_ounces.is_integer() {
            true => about_pounds(count * amount),
            false => rest,
        }),
        true => None,
        false => Some(format!("{} and {rest}", packs.spoken())),
    }
}

/// A weight to the nearest ounce, as hands and labels know it.
fn about_pounds(pounds: Amount) -> String {
    let sixteen = Amount::from_integer(16);
    let ounces = (pounds * sixteen).round().max(Amount::from_integer(1));
    format!("about {}", say_measure(ounces / sixteen, Unit::Pound))
}

/// Units that kitchens turn into each other, larger ones first.
const SYSTEMS: [&[Unit]; 4] = [
    &[
        Unit::Gallon,
        Unit::Quart,
        Unit::Pint,
        Unit::Cup,
        Unit::FluidOunce,
        Unit::Tablespoon,
        Unit::Teaspoon,
    ],
    &[Unit::Pound, Unit::Ounce],
    &[Unit::Kilogram, Unit::Gram, Unit::Milligram],
    &[Unit::Liter, Unit::Milliliter],
];
/// More of a smaller unit than this is harder to take in than a rounded amount of the larger one.
const MOST: i128 = 1_000;

/// Whole ounces are said as ounces beside the pounds, since that is how labels and hands know them; but half
/// pounds as such, which is shorter. What can't be said exactly in its unit is said in a smaller one, if it can be
/// there: 15/16 of a gallon as "three and three quarters quarts".
fn say_measure(amount: Amount, unit: Unit) -> String {
    let pounds = amount.trunc();
    let ounces = (amount - pounds) * Amount::from_integer(16);
    let less_than_one = pounds == Amount::from_integer(0);
    let half = ounces == Amount::from_integer(8) && !less_than_one;
    if unit == Unit::Pound && !half && !amount.is_integer() && ounces.is_integer() {
        let ounces = say_with(ounces, "ounce", "ounces");
        return match less_than_one {
            true => ounces,
            false => format!("{} {ounces}", say_with(pounds, "pound", "pounds")),
        };
    }
    let said = |amount, unit: Unit| say_with(amount, unit.one(), unit.many());
    let exact = |said: &String| !said.starts_with("about");
    let in_its_own = said(amount, unit);
    if exact(&in_its_own) {
        return in_its_own;
    }
    let system = SYSTEMS.iter().find(|system| system.contains(&unit));
    let smaller = system.into_iter().flat_map(|system| system.iter());
    let mut smaller = smaller
        .skip_while(|other| **other != unit)
        .skip(1)
        .filter_map(|other| {
            let in_other = in_other_unit(amount, unit, *other)?;
            (in_other <= Amount::from_integer(MOST)).then(|| said(in_other, *other))
        });
    smaller.find(exact).unwrap_or(in_its_own)
}

/// `None` where the numbers are too long to reckon with.
fn in_other_unit(amount: Amount, unit: Unit, other: Unit) -> Option<Amount> {
    let factor = unit.in_base() / other.in_base();
    let top = amount.numer().checked_mul(*factor.numer())?;
    let bottom = amount.denom().checked_mul(*factor.denom())?;
    Some(Amount::new(top, bottom))
}

fn say_with(amount: Amount, one: &str, many: &str) -> String {
    let said = say_amount(amount);
    let article = article(one);
    if amount == Amount::new(1, 2) {
        format!("{said} {article} {one}")
    } else if amount > Amount::from_integer(0)
        && amount < Amount::from_integer(1)
        && !said.contains('.')
    {
        format!("{said} of {article} {one}")
    } else if amount == Amount::from_integer(1) {
        format!("{said} {one}")
    } else {
        format!("{said} {many}")
    }
}

/// The article before a word or a number, by its sound: "an ounce", "an 8 ounce can", "an 11 ounce can".
fn article(said: &str) -> &'static str {
    let number = said.split([' ', '.']).next().unwrap_or_default();
    let sounds_open = number.starts_with('8') || number == "11" || number == "18";
    if sounds_open || said.starts_with(['a', 'e', 'i', 'o', 'u']) {
        "an"
    } else {
        "a"
    }
}
