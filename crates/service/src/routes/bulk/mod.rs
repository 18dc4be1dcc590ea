//! Many requests of one calculation: lines in, lines out, in order, in bounded memory.
//!
//! Lines are taken in small handfuls; each handful is calculated off the threads that serve connections, a few
//! handfuls at a time, so that one long list leaves room for everybody else.

mod lines;
mod row;

use std::time::Duration;

use actix_web::web::{self, Bytes, Data, Payload};
use actix_web::{HttpRequest, HttpResponse, Route};
use futures_util::{Stream, StreamExt as _, stream};
use tokio::sync::OwnedSemaphorePermit;

use self::lines::{Handful, Lines};
use crate::door::body::{self, ROWS};
use crate::door::rejection::Rejection;
use crate::state::State;

const LAST_LINE_LEAVES: Duration = Duration::from_millis(100);

/// The bulk route of the calculation `name`.
pub fn answers(route: Route, name: &'static str) -> Route {
    route.to(move |state: Data<State>, request: HttpRequest, payload: Payload| {
        answer(state, name, request, payload)
    })
}

async fn answer(
    state: Data<State>,
    name: &'static str,
    request: HttpRequest,
    payload: Payload,
) -> Result<HttpResponse, Rejection> {
    body::declared_as(request.headers(), ROWS)?;
    let place = state.places.clone().try_acquire_owned().map_err(|_| Rejection::Overloaded)?;
    let mut lines = Lines::of(payload, &state.settings);
    let length = body::declared_length(request.headers());
    if length.is_some_and(|length| length <= state.settings.bulk_ahead_bytes as u64) {
        lines.read_ahead().await?;
    }
    let side_by_side = (state.threads_per_worker() / 2).max(1);
    let answers = handfuls(lines, place)
        .map(move |handful| calculated(state.clone(), name, handful))
        .buffered(side_by_side)
        .flat_map(Sent::stream);
    Ok(HttpResponse::Ok().content_type(ROWS[0]).streaming(answers))
}

/// The handfuls of a body, until it ends; the place is held as long as that.
fn handfuls(lines: Lines, place: OwnedSemaphorePermit) -> impl Stream<Item = Handful> {
    stream::unfold(Some((lines, place)), |state| async {
        let (mut lines, place) = state?;
        let handful = lines.next().await;
        match handful {
            Handful::Lines(taken) if taken.is_empty() => None,
            Handful::Lines(taken) => Some((Handful::Lines(taken), Some((lines, place)))),
            // Nothing after a broken body can be trusted.
            Handful::Broken(rejection) => Some((Handful::Broken(rejection), None)),
        }
    })
}

/// What leaves for one handful: lines, or a last line and the end of the connection.
struct Sent {
    lines: Option<Bytes>,
    end: Option<Rejection>,
}

impl Sent {
    fn stream(self) -> impl Stream<Item = Result<Bytes, Rejection>> {
        let lines = stream::iter(self.lines.map(Ok));
        // A connection that is broken off drops what it has not sent yet: give the last line time to leave.
        let end = stream::iter(self.end).then(|rejection| async {
            tokio::time::sleep(LAST_LINE_LEAVES).await;
            Err(rejection)
        });
        lines.chain(end)
    }
}

async fn calculated(state: Data<State>, name: &'static str, handful: Handful) -> Sent {
    match handful {
        Handful::Lines(lines) => {
            let limit = state.settings.body_limit_bytes;
            let work = web::block(move || row::answered(&state.measures, name, &lines, limit));
            match work.await {
                Ok(text) => Sent { lines: Some(Bytes::from(text)), end: None },
                Err(_) => Sent { lines: None, end: Some(Rejection::OwnFailure) },
            }
        }
        // The head with its 200 is gone; a last line tells what happened and the body then ends as broken, so that
        // nobody takes the part for the whole.
        Handful::Broken(rejection) => {
            Sent { lines: Some(Bytes::from(row::refused(&rejection))), end: Some(rejection) }
        }
    }
}
