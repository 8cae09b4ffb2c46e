//! How a thing feels: what a hand, and an ear when it is shaken, can tell of it.

use std::collections::BTreeMap;
use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

/// A text that names no property of a [`Feel`], or no value of one.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("“{0}” isn't a word for how a thing feels")]
pub struct NotAFeel(String);

/// Makes the properties from one table: each with its values, and each value with its name, with how it is spoken where
/// the name alone might be another property ("medium"), and with other phrases for it.
macro_rules! properties {
    ($(
        $(#[$doc:meta])*
        $field:ident: $Type:ident {
            $($Value:ident = $name:literal $(as $spoken:literal)? [$($other:literal),*],)+
        }
    )+) => {
        $(
            $(#[$doc])*
            #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
            pub enum $Type {
                $(#[doc = concat!("“", $name, "”.")] $Value,)+
            }

            impl $Type {
                /// Every value.
                pub const ALL: &'static [Self] = &[$(Self::$Value),+];

                /// The word for it, as it is kept.
                pub fn name(self) -> &'static str {
                    match self {
                        $(Self::$Value => $name,)+
                    }
                }

                /// As it should sound, so that it can't be taken for another property.
                pub fn spoken(self) -> &'static str {
                    match self {
                        $(Self::$Value => [$($spoken,)? $name][0],)+
                    }
                }
            }

            impl fmt::Display for $Type {
                fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                    f.write_str(self.name())
                }
            }

            impl FromStr for $Type {
                type Err = NotAFeel;

                fn from_str(text: &str) -> Result<Self, NotAFeel> {
                    let known = Self::ALL.iter().find(|value| value.name() == text);
                    known.copied().ok_or_else(|| NotAFeel(text.to_owned()))
                }
            }

            impl From<$Type> for Property {
                fn from(value: $Type) -> Self {
                    Self::$Type(value)
                }
            }
        )+

        /// One property with its value.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Property {
            $($(#[$doc])* $Type($Type),)+
        }

        impl Property {
            /// As it should sound.
            pub fn spoken(self) -> &'static str {
                match self {
                    $(Self::$Type(value) => value.spoken(),)+
                }
            }
        }

        /// How a thing feels, as far as that was said. Nothing in it is ever filled in by guessing.
        ///
        /// What blind cooks tell things apart by: weight, sound, shape, lid, and the feel of the pack. Sources: Oregon
        /// Commission for the Blind, "Tips: Preparing Meals"; VisionAware (APH ConnectCenter) on grocery shopping. The
        /// words themselves are common practice.
        ///
        /// ```
        /// use tellshelf::stock::{Container, Feel, Size, Sound};
        /// let feel = Feel::default().with(Container::Can).with(Size::Small).with(Sound::Rattles);
        /// assert_eq!(feel.to_string(), "small can, rattles");
        /// assert_eq!(feel.with(Sound::Sloshes).sound, Some(Sound::Sloshes));
        /// let text = serde_json::to_string(&feel).unwrap();
        /// assert_eq!(text, r#"{"container":"can","size":"small","sound":"rattles"}"#);
        /// assert_eq!(serde_json::from_str::<Feel>(&text).unwrap(), feel);
        /// ```
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
        #[serde(into = "BTreeMap<String, String>", try_from = "BTreeMap<String, String>")]
        pub struct Feel {
            $($(#[$doc])* pub $field: Option<$Type>,)+
        }

        impl Feel {
            /// Of a thing of which nothing was said.
            pub(super) const UNKNOWN: Self = Self { $($field: None),+ };

            /// The same with this property: of two that were said, the later counts.
            #[must_use]
            pub fn with(mut self, property: impl Into<Property>) -> Self {
                match property.into() {
                    $(Property::$Type(value) => self.$field = Some(value),)+
                }
                self
            }

            /// What is known of it.
            pub fn iter(&self) -> impl Iterator<Item = Property> + use<> {
                [$(self.$field.map(Property::$Type)),+].into_iter().flatten()
            }

            /// What is known of it, each with what is known of the same property in the other.
            pub(super) fn beside(&self, other: &Self) -> impl Iterator<Item = (Property, Option<Property>)> + use<> {
                [$(self.$field.map(|value| (value.into(), other.$field.map(Property::$Type)))),+]
                    .into_iter()
                    .flatten()
            }
        }

        impl From<Feel> for BTreeMap<String, String> {
            fn from(feel: Feel) -> Self {
                [$(feel.$field.map(|value| (stringify!($field), value.name()))),+]
                    .into_iter()
                    .flatten()
                    .map(|(property, value)| (property.to_owned(), value.to_owned()))
                    .collect()
            }
        }

        impl TryFrom<BTreeMap<String, String>> for Feel {
            type Error = NotAFeel;

            fn try_from(map: BTreeMap<String, String>) -> Result<Self, NotAFeel> {
                let mut feel = Self::default();
                for (property, value) in map {
                    match property.as_str() {
                        $(stringify!($field) => feel.$field = Some(value.parse()?),)+
                        _ => return Err(NotAFeel(property)),
                    }
                }
                Ok(feel)
            }
        }

        /// The phrases that each value is read from, its spoken form first.
        pub(super) const PHRASES: &[(&[&str], Property)] = &[
            $($((&[[$($spoken,)? $name][0], $($other),*], Property::$Type($Type::$Value)),)+)+
        ];
    };
}

properties! {
    /// What it is packed in.
    container: Container {
        Can = "can" ["tin", "tin can"],
        Jar = "jar" [],
        Box = "box" [],
        Bag = "bag" ["sack"],
        Tub = "tub" ["pot"],
        Bottle = "bottle" [],
        Jug = "jug" ["pitcher"],
        Tray = "tray" [],
        Tube = "tube" [],
        Carton = "carton" [],
        Pouch = "pouch" ["sachet"],
        Packet = "packet" ["pack"],
        Cup = "cup" [],
        Canister = "canister" ["drum"],
    }

    /// How high it stands. Apart from [`Shape`], because a can may be flat and square.
    build: Build {
        Flat = "flat" [],
        Short = "short" ["squat", "stubby"],
        Tall = "tall" ["high"],
        Long = "long" [],
    }

    /// Its outline, as it stands.
    shape: Shape {
        Round = "round" ["circular", "cylindrical"],
        Square = "square" [],
        Oblong = "oblong" ["rectangular"],
        Oval = "oval" [],
    }

    /// How large it is, among what is packed so.
    size: Size {
        Small = "small" ["little", "tiny"],
        Medium = "medium" ["medium size", "medium sized", "middle sized"],
        Large = "large" ["big", "huge"],
    }

    /// How heavy it is for its size.
    weight: Weight {
        Light = "light" ["light weight", "lightweight", "little light"],
        Medium = "medium" as "medium weight" [],
        Heavy = "heavy" ["weighty", "little heavy"],
    }

    /// Its lid, or whatever it is opened by.
    lid: Lid {
        Wide = "wide" as "wide lid" ["big lid", "large lid"],
        Narrow = "narrow" as "narrow lid" ["small lid", "little lid"],
        Ridged = "ridged" as "ridged lid" ["ribbed lid", "grooved lid"],
        Smooth = "smooth" as "smooth lid" [],
        Flat = "flat" as "flat lid" [],
        PopTop = "pop top" ["pop lid", "ring pull", "pull tab", "pull lid", "easy open lid"],
        Screw = "screw" as "screw lid" ["screw on lid", "twist lid", "twist off lid", "twist off"],
        Hinged = "hinged" as "hinged lid" ["flip lid", "flip up lid"],
        SnapOn = "snap on" as "snap on lid" ["snap lid", "press on lid", "push on lid"],
        PeelOff = "peel off" as "peel off lid" ["peel lid", "foil lid", "film lid"],
        Spout = "spout" ["pour spout"],
        Zip = "zip" ["zipper", "zip lid", "zipper lid"],
        Pump = "pump" ["pump lid"],
    }

    /// What its sides feel like.
    surface: Surface {
        Smooth = "smooth" [],
        Ridged = "ridged" ["grooved"],
        Ribbed = "ribbed" [],
        Rough = "rough" ["bumpy", "grainy"],
        Soft = "soft" ["squishy", "squeezable"],
        Waxy = "waxy" ["waxed"],
    }

    /// What its sides are made of.
    material: Material {
        Glass = "glass" [],
        Plastic = "plastic" [],
        Metal = "metal" [],
        Paper = "paper" [],
        Cardboard = "cardboard" [],
        Foil = "foil" ["tin foil"],
        Cloth = "cloth" ["fabric"],
        Net = "net" ["mesh", "netting"],
    }

    /// How it sounds when it is shaken. Salt is harsher than pepper, and a broth sounds otherwise than a cream soup
    /// (Oregon Commission for the Blind).
    sound: Sound {
        Silent = "silent" as "no sound" ["silent", "makes no sound"],
        Thuds = "thuds" ["thud", "thumps", "clunks"],
        Sloshes = "sloshes" ["slosh", "sloshing", "splashes", "gurgles"],
        Rattles = "rattles" ["rattle", "rattling", "clatters"],
        Rustles = "rustles" ["rustle", "rustling", "crinkles", "crackles"],
        Harsh = "harsh" as "harsh sound" ["harsh", "sounds harsh", "harsh noise"],
        Soft = "soft" as "soft sound" ["sounds soft", "soft noise", "swishes"],
    }
}

impl Feel {
    /// Whether nothing is known of it.
    pub fn is_empty(&self) -> bool {
        self.iter().next().is_none()
    }
}

impl fmt::Display for Feel {
    /// In the order in which people say it: "flat square can with a pop top, heavy, sloshes". Nothing for one of which
    /// nothing is known.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut thing: Vec<&str> = [
            self.size.map(Size::spoken),
            self.build.map(Build::spoken),
            self.shape.map(Shape::spoken),
            self.surface.map(Surface::spoken),
            self.material.map(Material::spoken),
        ]
        .into_iter()
        .flatten()
        .collect();
        match self.container {
            Some(container) => thing.push(container.spoken()),
            None if !thing.is_empty() || self.lid.is_some() => thing.push("thing"),
            None => {}
        }
        let lid = self.lid.map(|lid| format!("with a {}", lid.spoken()));
        thing.extend(lid.as_deref());
        let thing = thing.join(" ");
        let parts = [
            Some(thing.as_str()).filter(|thing| !thing.is_empty()),
            self.weight.map(Weight::spoken),
            self.sound.map(Sound::spoken),
        ];
        f.write_str(&parts.into_iter().flatten().collect::<Vec<_>>().join(", "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_phrase_means_two_things() {
        let mut phrases: Vec<&str> = PHRASES
            .iter()
            .flat_map(|(phrases, _)| phrases.iter().copied())
            .collect();
        let all = phrases.len();
        phrases.sort_unstable();
        phrases.dedup();
        assert_eq!(phrases.len(), all);
    }

    #[test]
    fn words_keep_their_values() {
        for lid in Lid::ALL {
            assert_eq!(lid.name().parse(), Ok(*lid));
        }
        assert_eq!(
            "wide lid".parse::<Lid>(),
            Err(NotAFeel("wide lid".to_owned()))
        );
        let unknown = BTreeMap::from([("colour".to_owned(), "red".to_owned())]);
        assert_eq!(Feel::try_from(unknown), Err(NotAFeel("colour".to_owned())));
    }

    #[test]
    fn a_feel_is_spoken_in_natural_order() {
        let feel = Feel::default()
            .with(Sound::Sloshes)
            .with(Weight::Heavy)
            .with(Lid::PopTop)
            .with(Container::Can)
            .with(Shape::Square)
            .with(Build::Flat);
        assert_eq!(
            feel.to_string(),
            "flat square can with a pop top, heavy, sloshes"
        );
        assert_eq!(
            Feel::default().with(Lid::Wide).to_string(),
            "thing with a wide lid"
        );
        assert_eq!(
            Feel::default().with(Weight::Medium).to_string(),
            "medium weight"
        );
        assert_eq!(Feel::default().to_string(), "");
    }
}
