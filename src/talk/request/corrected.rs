//! A request put right: "no, I said the pantry".

use super::{Correction, Request, Used};
use crate::measure::Quantity;
use crate::stock::{Change, Fact};

impl Request {
    /// The same of another item or amount, at another place or with another date, where it has these; `None` where it has no
    /// item, or none of what is put right.
    ///
    /// ```
    /// use tellshelf::stock::ItemName;
    /// use tellshelf::talk::{Correction, Request};
    /// let name = |name| ItemName::new(name).unwrap();
    /// let zaatar = Correction::of_name(name("zaatar"));
    /// let meant = Request::Got(name("soda"), None).corrected(&zaatar);
    /// assert_eq!(meant, Some(Request::Got(name("zaatar"), None)));
    /// assert_eq!(Request::ReadList.corrected(&zaatar), None);
    /// ```
    #[must_use]
    pub fn corrected(mut self, right: &Correction) -> Option<Self> {
        if let Some(quantity) = &right.quantity {
            // Of another thing, "three" is three of it.
            let same_thing = right.item.is_none();
            self.put_quantity_right(quantity, same_thing)?;
        }
        if let Some(place) = &right.place {
            match &mut self {
                Self::PutIn { place: its, .. } | Self::Has { place: its, .. } => {
                    *its = Some(place.clone())
                }
                Self::Change {
                    how, place: its, ..
                } if its.is_some() => {
                    *how = Change::by_moving_to(place);
                    *its = Some(place.clone());
                }
                Self::PutSomewhere(_, _, its)
                | Self::PutAway(_, its)
                | Self::Locate(_, its)
                | Self::PutBackIn(_, its)
                | Self::Describe(_, Fact::Place(its)) => its.clone_from(place),
                _ => return None,
            }
        }
        if let Some(mut date) = right.date {
            let its = &mut self.goods_mut()?.date;
            let kind = its.and_then(|date| date.note.kind);
            date.note.kind = date.note.kind.or(kind);
            *its = Some(date);
        }
        let its = self.item_mut()?;
        if let Some(item) = &right.item {
            its.clone_from(item);
        }
        Some(self)
    }

    fn put_quantity_right(&mut self, quantity: &Quantity, same_thing: bool) -> Option<()> {
        let right = |wrong: Option<&Quantity>| match wrong {
            Some(wrong) if same_thing => wrong.as_many_as(quantity),
            _ => quantity.clone(),
        };
        match self {
            Self::PutIn { goods, .. } | Self::Has { goods, .. } | Self::Tag(goods) => {
                goods.quantity = Some(right(goods.quantity.as_ref()));
            }
            Self::List(_, much)
            | Self::Got(_, much)
            | Self::PutSomewhere(_, much, _)
            | Self::Change { quantity: much, .. } => {
                *much = Some(right(much.as_ref()));
            }
            Self::Use(_, Used::Quantity(much), _)
            | Self::Keep(_, much)
            | Self::Count(_, much, _)
            | Self::ListAmount(_, much) => *much = right(Some(much)),
            Self::Use(_, much, _) => *much = Used::Quantity(quantity.clone()),
            _ => return None,
        }
        Some(())
    }
}
