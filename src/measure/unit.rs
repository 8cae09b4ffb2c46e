//! Units of mass and volume, and the packs things come in.

use super::number::Amount;

/// What a unit measures. Amounts are only added or compared within one dimension: going from
/// volume to mass needs a density, and a guessed one would be wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dimension {
    /// Weight, in grams.
    Mass,
    /// Volume, in millilitres.
    Volume,
}

macro_rules! named {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $one:literal, $many:literal $(, $other:literal)*;)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name { $($(#[$vdoc])* $variant,)+ }

        impl $name {
            /// Every one of them.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            /// The name for one of it: also how it is written in the stock.
            pub fn one(self) -> &'static str {
                match self { $(Self::$variant => $one,)+ }
            }

            /// The name for several.
            pub fn many(self) -> &'static str {
                match self { $(Self::$variant => $many,)+ }
            }

            /// Finds it by any of its names.
            pub fn from_word(word: &str) -> Option<Self> {
                match word { $($one | $many $(| $other)* => Some(Self::$variant),)+ _ => None }
            }
        }
    };
}

named! {
    /// A unit of mass or volume.
    ///
    /// ```
    /// use tellshelf::measure::Unit;
    /// assert_eq!(Unit::from_word("pounds"), Some(Unit::Pound));
    /// assert_eq!(Unit::FluidOunce.many(), "fluid ounces");
    /// ```
    Unit {
        /// Milligram, of medicines and supplements.
        Milligram = "milligram", "milligrams", "mg";
        /// Gram.
        Gram = "gram", "grams", "g", "gm";
        /// Kilogram.
        Kilogram = "kilogram", "kilograms", "kilo", "kilos", "kg", "kgs";
        /// Avoirdupois ounce, 1/16 pound.
        Ounce = "ounce", "ounces", "oz";
        /// Avoirdupois pound, 453.59237 g exactly.
        Pound = "pound", "pounds", "lb", "lbs";
        /// Millilitre.
        Milliliter = "milliliter", "milliliters", "millilitre", "millilitres", "ml";
        /// Litre.
        Liter = "liter", "liters", "litre", "litres", "l";
        /// US teaspoon, a third of a tablespoon.
        Teaspoon = "teaspoon", "teaspoons", "tsp";
        /// US tablespoon, half a fluid ounce.
        Tablespoon = "tablespoon", "tablespoons", "tbsp", "tbsps";
        /// US fluid ounce, 1/128 gallon.
        FluidOunce = "fluid ounce", "fluid ounces";
        /// US cup, 8 fluid ounces.
        Cup = "cup", "cups";
        /// US liquid pint, 2 cups.
        Pint = "pint", "pints", "pt";
        /// US liquid quart, 2 pints.
        Quart = "quart", "quarts", "qt";
        /// US gallon, 231 cubic inches exactly.
        Gallon = "gallon", "gallons", "gal";
    }
}

named! {
    /// What a thing comes in, or how it is counted.
    ///
    /// ```
    /// use tellshelf::measure::Pack;
    /// assert_eq!(Pack::from_word("loaves").map(Pack::one), Some("loaf"));
    /// ```
    Pack {
        /// Bag.
        Bag = "bag", "bags";
        /// Bar.
        Bar = "bar", "bars";
        /// Block.
        Block = "block", "blocks";
        /// Bottle.
        Bottle = "bottle", "bottles";
        /// Bowl, mostly of what was cooked.
        Bowl = "bowl", "bowls";
        /// Box.
        Box = "box", "boxes";
        /// Bunch.
        Bunch = "bunch", "bunches";
        /// Can.
        Can = "can", "cans";
        /// Canister.
        Canister = "canister", "canisters";
        /// Carton.
        Carton = "carton", "cartons";
        /// Case, of several packs.
        Case = "case", "cases";
        /// Clove, of garlic.
        Clove = "clove", "cloves";
        /// Container.
        Container = "container", "containers";
        /// Head, of lettuce or garlic.
        Head = "head", "heads";
        /// Jar.
        Jar = "jar", "jars";
        /// Jug.
        Jug = "jug", "jugs";
        /// Knob, of butter or ginger.
        Knob = "knob", "knobs";
        /// Loaf.
        Loaf = "loaf", "loaves";
        /// Package.
        Package = "package", "packages";
        /// Packet, of the size of one use.
        Packet = "packet", "packets";
        /// Pack.
        Pack = "pack", "packs";
        /// Piece.
        Piece = "piece", "pieces";
        /// Portion, of what was cooked.
        Portion = "portion", "portions";
        /// Pot.
        Pot = "pot", "pots";
        /// Pouch.
        Pouch = "pouch", "pouches";
        /// Roll.
        Roll = "roll", "rolls";
        /// Sack.
        Sack = "sack", "sacks";
        /// Serving.
        Serving = "serving", "servings";
        /// Shaker, of what is sprinkled.
        Shaker = "shaker", "shakers";
        /// Slice.
        Slice = "slice", "slices";
        /// Stalk, of celery.
        Stalk = "stalk", "stalks";
        /// Stick, of butter.
        Stick = "stick", "sticks";
        /// Tablet, of a medicine.
        Tablet = "tablet", "tablets";
        /// Tin.
        Tin = "tin", "tins";
        /// Tray.
        Tray = "tray", "trays";
        /// Tub.
        Tub = "tub", "tubs";
        /// Tube.
        Tube = "tube", "tubes";
    }
}

impl Pack {
    /// Whether it mostly holds several of a thing, so that "two" of the thing aren't two of these: eggs in a carton,
    /// crackers in a box. "Two" of what comes in cans or loaves are two cans or loaves.
    pub fn holds_several(self) -> bool {
        self.is_of_loose_things()
            || matches!(
                self,
                Self::Bowl
                    | Self::Canister
                    | Self::Container
                    | Self::Jar
                    | Self::Packet
                    | Self::Pot
                    | Self::Pouch
                    | Self::Shaker
                    | Self::Tub
            )
    }

    /// Whether it is hardly ever used as one, whatever is in it.
    pub fn is_of_loose_things(self) -> bool {
        matches!(
            self,
            Self::Bag
                | Self::Box
                | Self::Bunch
                | Self::Carton
                | Self::Case
                | Self::Package
                | Self::Pack
                | Self::Sack
                | Self::Tray
        )
    }
}

impl Unit {
    /// What it measures.
    pub fn dimension(self) -> Dimension {
        match self {
            Self::Milligram | Self::Gram | Self::Kilogram | Self::Ounce | Self::Pound => {
                Dimension::Mass
            }
            _ => Dimension::Volume,
        }
    }

    /// How many grams or millilitres one of it is, exactly.
    ///
    /// Source: NIST SP 811 and Handbook 44, Appendix C: 1 lb = 0.453 592 37 kg,
    /// 1 US gallon = 231 in³, 1 in = 2.54 cm.
    ///
    /// ```
    /// use tellshelf::measure::{Amount, Unit};
    /// assert_eq!(Unit::Pound.in_base(), Amount::new(45_359_237, 100_000));
    /// assert_eq!(Unit::Cup.in_base(), Amount::new(2_365_882_365, 10_000_000));
    /// ```
    pub fn in_base(self) -> Amount {
        let gallon = Amount::new(3_785_411_784, 1_000_000);
        let of_gallon = |parts: i128| gallon / Amount::from_integer(parts);
        match self {
            Self::Milligram => Amount::new(1, 1000),
            Self::Gram | Self::Milliliter => Amount::from_integer(1),
            Self::Kilogram | Self::Liter => Amount::from_integer(1000),
            Self::Pound => Amount::new(45_359_237, 100_000),
            Self::Ounce => Amount::new(45_359_237, 1_600_000),
            Self::Gallon => gallon,
            Self::Quart => of_gallon(4),
            Self::Pint => of_gallon(8),
            Self::Cup => of_gallon(16),
            Self::FluidOunce => of_gallon(128),
            Self::Tablespoon => of_gallon(256),
            Self::Teaspoon => of_gallon(768),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST SP 811, Appendix B (as in Handbook 44, Appendix C): exact conversion factors.
    #[test]
    fn units_match_the_published_factors() {
        let exact = |n: i128, scale: u32| Amount::new(n, 10i128.pow(scale));
        assert_eq!(Unit::Ounce.in_base(), exact(28_349_523_125, 9));
        assert_eq!(Unit::Quart.in_base(), exact(946_352_946, 6));
        assert_eq!(Unit::Pint.in_base(), exact(473_176_473, 6));
        assert_eq!(Unit::FluidOunce.in_base(), exact(295_735_295_625, 10));
        assert_eq!(Unit::Tablespoon.in_base(), exact(1_478_676_478_125, 11));
        assert_eq!(Unit::Teaspoon.in_base(), exact(492_892_159_375, 11));
    }

    #[test]
    fn every_name_finds_its_unit() {
        for unit in Unit::ALL {
            assert_eq!(Unit::from_word(unit.one()), Some(*unit));
            assert_eq!(Unit::from_word(unit.many()), Some(*unit));
        }
        for pack in Pack::ALL {
            assert_eq!(Pack::from_word(pack.one()), Some(*pack));
            assert_eq!(Pack::from_word(pack.many()), Some(*pack));
        }
    }
}
