//! What was asked, and is still open.

use chrono::NaiveDate;

use super::request::{Held, OunceKind, Request, Used};
use crate::measure::Quantity;
use crate::stock::{Choice, ItemName, Place};

/// A question to the person. Any other command closes it, and silence is no.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Question {
    /// "Did you say: used up the oats?"
    DidYouMean {
        /// What a yes carries out.
        request: Request,
        /// What else may have been said, for a no: how it is said, and what it asks for.
        or: Option<(String, Box<Request>)>,
    },
    /// "Milk and eggs: is that one thing?"
    IsOneThing {
        /// What a yes carries out.
        request: Request,
        /// What to say first, for a no.
        first: String,
    },
    /// "December 3: use by, best by or sell by?"
    WhatDate {
        /// What is waiting for the answer.
        request: Request,
        /// The day.
        day: NaiveDate,
    },
    /// "Is that November 3, 2027?"
    IsThatTheDay {
        /// What a yes carries out, on that day.
        request: Request,
        /// The other day that may be meant, for a no.
        or: Option<NaiveDate>,
    },
    /// "12 ounces by weight, or fluid ounces?"
    WhatOunces(Request),
    /// "Eggs: kept by the carton. A whole carton?"
    WholePacks(Request),
    /// "Is that the bread from the bread box?"
    WasItThere {
        /// What.
        item: ItemName,
        /// How much, if that was said.
        quantity: Option<Quantity>,
        /// Where it may have been.
        from: Place,
        /// Where it is now.
        place: Place,
    },
    /// "Chickpeas?", as it feels like them.
    IsItInHand {
        /// What is likeliest.
        item: ItemName,
        /// What else it may be, for a no, likeliest first.
        or: Vec<ItemName>,
    },
    /// "The milk use by December 1?": of which of several things something was said.
    WhichOne {
        /// What a yes carries out.
        request: Request,
        /// What else may be meant, for a no: how it is told, and what it asks for.
        or: Vec<(String, Request)>,
    },
    /// "Eggs: all of it? Yes; or no, and say how much."
    AllOfIt(ItemName),
    /// "Ibuprofen: a medicine?"
    IsThatSo(Request),
    /// "Take all 3 things off the list?"
    ClearList,
    /// "Undo 3 changes?"
    UndoSeveral(usize),
    /// "Keep the sound of each new name?"
    KeepSounds,
    /// "Lose 3 sounds for good?"
    LoseSounds,
}

impl Question {
    /// Whether what was said is meant.
    pub fn did_you_mean(request: Request) -> Self {
        Self::DidYouMean { request, or: None }
    }

    /// What is half said, and would be lost without an answer.
    pub fn unfinished(&self) -> Option<&Request> {
        match self {
            Self::WhatDate { request, .. }
            | Self::IsThatTheDay { request, .. }
            | Self::WhatOunces(request) => Some(request),
            _ => None,
        }
    }

    /// Whether a yes to it settles everything: what it leads to isn't asked about again.
    pub fn is_the_last_one(&self) -> bool {
        matches!(
            self,
            Self::WhatOunces(_)
                | Self::WholePacks(_)
                | Self::IsThatSo(_)
                | Self::KeepSounds
                | Self::LoseSounds
                | Self::ClearList
                | Self::UndoSeveral(_)
        )
    }

    /// Whether it is asked because what it leads to can hurt: nothing but a yes to it right away is one.
    pub fn is_closed_by_anything_else(&self) -> bool {
        matches!(self, Self::IsThatSo(_) | Self::AllOfIt(_))
    }

    /// The request that an answer completes; `None` where it is no answer to this question.
    pub fn answered_by(&self, answer: &Request) -> Option<Request> {
        match (self, answer) {
            (
                Self::DidYouMean { request, .. }
                | Self::IsThatTheDay { request, .. }
                | Self::WhichOne { request, .. }
                | Self::IsOneThing { request, .. },
                Request::Yes,
            ) => Some(request.clone()),
            (
                Self::WasItThere {
                    item,
                    quantity,
                    from,
                    place,
                },
                Request::Yes | Request::No,
            ) => {
                let (item, quantity, place) = (item.clone(), quantity.clone(), place.clone());
                Some(match answer {
                    Request::Yes => {
                        Request::moved_to(item, quantity, Choice::from(from.clone()), place)
                    }
                    _ => Request::new_at(item, quantity, place),
                })
            }
            (Self::IsItInHand { item, .. }, Request::Yes) => {
                Some(Request::InHand(Held::Item(item.clone())))
            }
            (Self::IsThatSo(request) | Self::WholePacks(request), Request::Yes) => {
                Some(request.clone())
            }
            (Self::AllOfIt(item), Request::Yes) => {
                Some(Request::UsedUp(item.clone(), Choice::default()))
            }
            (Self::AllOfIt(item), Request::SoMuchOfIt(quantity)) => {
                let used = Used::Quantity(quantity.clone());
                Some(Request::Use(item.clone(), used, Choice::default()))
            }
            (Self::AllOfIt(item), Request::OldOnes) => Some(Request::ThrownOutOld(item.clone())),
            (Self::ClearList, Request::Yes) => Some(Request::ClearList),
            (Self::UndoSeveral(several), Request::Yes) => Some(Request::UndoSeveral(*several)),
            (Self::KeepSounds, Request::Yes) => Some(Request::KeepSounds(true)),
            (Self::LoseSounds, Request::Yes) => Some(Request::LoseSounds),
            (Self::WhatDate { request, .. }, Request::Meaning(kind)) => {
                let mut request = request.clone();
                let goods = request.goods_mut();
                if let Some(date) = goods.and_then(|goods| goods.date.as_mut()) {
                    date.note.kind = Some(*kind);
                }
                Some(request)
            }
            (Self::WhatOunces(request), Request::Ounces(kind)) => {
                let mut request = request.clone();
                if let (OunceKind::Fluid, Some((_, quantity))) = (kind, request.new_quantity_mut())
                {
                    *quantity = quantity.in_fluid_ounces();
                }
                Some(request)
            }
            _ => None,
        }
    }
}
