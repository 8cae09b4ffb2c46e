//! How near two words for one property of a thing are to each other.

use super::feel::{Build, Container, Lid, Material, Property, Shape, Size, Sound, Surface, Weight};

/// How two values of one property stand to each other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Likeness {
    /// The same.
    Same,
    /// Two people may say either of one thing: a box is a carton to some.
    Near,
    /// They don't speak of the same: a wide lid may be ridged.
    Beside,
    /// No thing is both.
    Apart,
}

/// Values that are said of the same thing. Common practice.
const NEAR: &[(Property, Property)] = {
    use Property as P;
    &[
        (
            P::Container(Container::Box),
            P::Container(Container::Carton),
        ),
        (
            P::Container(Container::Box),
            P::Container(Container::Packet),
        ),
        (P::Container(Container::Bag), P::Container(Container::Pouch)),
        (
            P::Container(Container::Bag),
            P::Container(Container::Packet),
        ),
        (
            P::Container(Container::Pouch),
            P::Container(Container::Packet),
        ),
        (P::Container(Container::Tub), P::Container(Container::Cup)),
        (P::Container(Container::Tub), P::Container(Container::Jar)),
        (P::Container(Container::Tub), P::Container(Container::Tray)),
        (
            P::Container(Container::Bottle),
            P::Container(Container::Jug),
        ),
        (
            P::Container(Container::Canister),
            P::Container(Container::Tube),
        ),
        (
            P::Container(Container::Canister),
            P::Container(Container::Can),
        ),
        (P::Build(Build::Flat), P::Build(Build::Short)),
        // The same, stood up or laid down.
        (P::Build(Build::Tall), P::Build(Build::Long)),
        (P::Shape(Shape::Round), P::Shape(Shape::Oval)),
        (P::Shape(Shape::Square), P::Shape(Shape::Oblong)),
        (P::Size(Size::Small), P::Size(Size::Medium)),
        (P::Size(Size::Medium), P::Size(Size::Large)),
        (P::Weight(Weight::Light), P::Weight(Weight::Medium)),
        (P::Weight(Weight::Medium), P::Weight(Weight::Heavy)),
        (P::Lid(Lid::PopTop), P::Lid(Lid::PeelOff)),
        (P::Lid(Lid::SnapOn), P::Lid(Lid::PeelOff)),
        (P::Lid(Lid::SnapOn), P::Lid(Lid::Hinged)),
        (P::Lid(Lid::Screw), P::Lid(Lid::Spout)),
        (P::Surface(Surface::Ridged), P::Surface(Surface::Ribbed)),
        (P::Surface(Surface::Smooth), P::Surface(Surface::Waxy)),
        (
            P::Material(Material::Paper),
            P::Material(Material::Cardboard),
        ),
        (P::Material(Material::Metal), P::Material(Material::Foil)),
        (P::Material(Material::Plastic), P::Material(Material::Foil)),
        (P::Sound(Sound::Silent), P::Sound(Sound::Thuds)),
        (P::Sound(Sound::Silent), P::Sound(Sound::Soft)),
        (P::Sound(Sound::Thuds), P::Sound(Sound::Sloshes)),
        (P::Sound(Sound::Harsh), P::Sound(Sound::Rattles)),
        (P::Sound(Sound::Soft), P::Sound(Sound::Rustles)),
    ]
};

/// What a word for a lid or a surface speaks of. Words that speak of different things don't contradict each other.
#[derive(PartialEq, Eq)]
enum Facet {
    Whole,
    Width,
    Touch,
    Height,
    Give,
}

fn facet(property: Property) -> Facet {
    match property {
        Property::Lid(Lid::Wide | Lid::Narrow) => Facet::Width,
        Property::Lid(Lid::Ridged | Lid::Smooth) => Facet::Touch,
        Property::Lid(Lid::Flat) => Facet::Height,
        Property::Surface(Surface::Soft) => Facet::Give,
        _ => Facet::Whole,
    }
}

/// How two values of one property stand to each other.
pub(super) fn likeness(one: Property, other: Property) -> Likeness {
    if one == other {
        Likeness::Same
    } else if NEAR.contains(&(one, other)) || NEAR.contains(&(other, one)) {
        Likeness::Near
    } else if facet(one) != facet(other) {
        Likeness::Beside
    } else {
        Likeness::Apart
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_values_are_of_one_property_and_stand_there_once() {
        for (at, (one, other)) in NEAR.iter().enumerate() {
            assert_eq!(
                std::mem::discriminant(one),
                std::mem::discriminant(other),
                "{one:?} {other:?}"
            );
            assert_ne!(one, other);
            let again =
                |pair: &&(Property, Property)| **pair == (*one, *other) || **pair == (*other, *one);
            assert!(
                !NEAR[at + 1..].iter().any(|pair| again(&pair)),
                "{one:?} {other:?}"
            );
        }
    }

    #[test]
    fn a_wide_lid_may_be_ridged_but_not_narrow() {
        let lid = |one: Lid, other: Lid| likeness(one.into(), other.into());
        assert_eq!(lid(Lid::Wide, Lid::Ridged), Likeness::Beside);
        assert_eq!(lid(Lid::Wide, Lid::Narrow), Likeness::Apart);
        assert_eq!(lid(Lid::Spout, Lid::Screw), Likeness::Near);
        assert_eq!(lid(Lid::Flat, Lid::Flat), Likeness::Same);
    }
}
