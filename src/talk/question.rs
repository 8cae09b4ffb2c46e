//! What was asked, and is still open.

use chrono::NaiveDate;

use super::request::Request;

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
    /// "December 3: use by, best by or sell by?"
    WhatDate {
        /// What is waiting for the answer.
        request: Request,
        /// The day.
        day: NaiveDate,
    },
    /// "November 3, 2027: is that the date?"
    IsThatTheYear(Request),
}

impl Question {
    /// Whether what was said is meant.
    pub fn did_you_mean(request: Request) -> Self {
        Self::DidYouMean { request, or: None }
    }

    /// The request that an answer completes; `None` where it is no answer to this question.
    pub fn answered_by(&self, answer: &Request) -> Option<Request> {
        match (self, answer) {
            (Self::DidYouMean { request, .. } | Self::IsThatTheYear(request), Request::Yes) => {
                Some(request.clone())
            }
            (Self::WhatDate { request, .. }, Request::Meaning(kind)) => {
                let mut request = request.clone();
                if let Request::Tag(goods) | Request::PutIn { goods, .. } = &mut request
                    && let Some(date) = &mut goods.date
                {
                    date.kind = Some(*kind);
                }
                Some(request)
            }
            _ => None,
        }
    }
}
