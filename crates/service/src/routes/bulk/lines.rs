//! Cutting a body into lines as it arrives, never holding more than one line, one handful and what was read ahead.

use std::time::Duration;

use actix_web::web::{Bytes, BytesMut, Payload};
use futures_util::StreamExt as _;

use crate::door::rejection::Rejection;
use crate::settings::Settings;

/// Most lines of one handful.
const MOST_LINES: usize = 32;
/// A handful is full beyond so many bytes.
const MOST_BYTES: usize = 64 << 10;

/// One line of a body.
#[derive(Debug, PartialEq)]
pub enum Line {
    /// A line, without its end.
    Whole(Bytes),
    /// A line beyond the limit; its text is gone.
    TooLong,
}

/// Some lines, or the end of trust.
#[derive(Debug)]
pub enum Handful {
    /// Lines in order; none at the end of the body.
    Lines(Vec<Line>),
    /// The body broke off.
    Broken(Rejection),
}

/// A body, cut into lines.
pub struct Lines {
    payload: Payload,
    held: BytesMut,
    /// Bytes of `held` that are known to carry no line end.
    searched: usize,
    ended: bool,
    skipping: bool,
    limit: usize,
    patience: Duration,
}

impl Lines {
    /// The lines of a body under the limits of the settings.
    pub fn of(payload: Payload, settings: &Settings) -> Self {
        Self {
            payload,
            held: BytesMut::new(),
            searched: 0,
            ended: false,
            skipping: false,
            limit: settings.body_limit_bytes,
            patience: Duration::from_secs(settings.body_timeout_s),
        }
    }

    /// Reads the whole body before the first line is taken; the caller has looked at its declared length.
    ///
    /// # Errors
    /// When the body breaks off or stalls.
    pub async fn read_ahead(&mut self) -> Result<(), Rejection> {
        while !self.ended {
            self.read_on().await?;
        }
        Ok(())
    }

    /// The next lines: as many as are at hand up to a handful, waiting only when there is none.
    pub async fn next(&mut self) -> Handful {
        let mut taken = Vec::new();
        let mut bytes = 0;
        while taken.len() < MOST_LINES && bytes < MOST_BYTES {
            match self.cut() {
                Some(Line::Whole(line)) if line.iter().all(u8::is_ascii_whitespace) => {}
                Some(line) => {
                    bytes += if let Line::Whole(text) = &line { text.len() } else { 0 };
                    taken.push(line);
                }
                None if self.ended || !taken.is_empty() => break,
                None => {
                    if let Err(rejection) = self.read_on().await {
                        return Handful::Broken(rejection);
                    }
                }
            }
        }
        Handful::Lines(taken)
    }

    async fn read_on(&mut self) -> Result<(), Rejection> {
        let part = tokio::time::timeout(self.patience, self.payload.next()).await;
        match part.map_err(|_| Rejection::BodyTimeout { seconds: self.patience.as_secs() })? {
            Some(Ok(part)) => self.held.extend_from_slice(&part),
            Some(Err(_)) => return Err(Rejection::BodyBroken),
            None => self.ended = true,
        }
        Ok(())
    }

    /// Cuts one line off what is held, if there is a whole one or the body has ended.
    fn cut(&mut self) -> Option<Line> {
        loop {
            if let Some(place) = self.held[self.searched..].iter().position(|&byte| byte == b'\n') {
                let line = self.held.split_to(self.searched + place + 1).freeze();
                self.searched = 0;
                if std::mem::take(&mut self.skipping) {
                    continue;
                }
                return Some(self.judged(line.slice(..line.len() - 1)));
            }
            self.searched = self.held.len();
            if self.held.len() > self.limit && !self.ended {
                self.held.clear();
                self.searched = 0;
                if !std::mem::replace(&mut self.skipping, true) {
                    return Some(Line::TooLong);
                }
            }
            if !self.ended || self.held.is_empty() {
                return None;
            }
            let rest = self.held.split().freeze();
            self.searched = 0;
            return if std::mem::take(&mut self.skipping) { None } else { Some(self.judged(rest)) };
        }
    }

    fn judged(&self, line: Bytes) -> Line {
        if line.len() > self.limit { Line::TooLong } else { Line::Whole(line) }
    }
}

#[cfg(test)]
mod tests {
    use actix_web::FromRequest as _;
    use actix_web::test::TestRequest;

    use super::*;

    async fn lines_of(body: &str, limit: usize) -> Vec<Line> {
        let (request, mut payload) = TestRequest::default().set_payload(body.to_owned()).to_http_parts();
        let payload = Payload::from_request(&request, &mut payload).await.unwrap();
        let mut lines = Lines::of(payload, &Settings { body_limit_bytes: limit, ..Settings::default() });
        let mut all = Vec::new();
        loop {
            match lines.next().await {
                Handful::Lines(taken) if taken.is_empty() => return all,
                Handful::Lines(taken) => all.extend(taken),
                Handful::Broken(rejection) => panic!("{rejection}"),
            }
        }
    }

    fn whole(text: &str) -> Line {
        Line::Whole(Bytes::from(text.to_owned()))
    }

    #[actix_web::test]
    async fn the_last_line_needs_no_end_and_empty_lines_are_passed_over() {
        assert_eq!(lines_of("a\r\n\n  \nb", 100).await, [whole("a\r"), whole("b")]);
        assert_eq!(lines_of("", 100).await, []);
        assert_eq!(lines_of("\n\n", 100).await, []);
    }

    #[actix_web::test]
    async fn a_line_beyond_the_limit_is_told_once_and_the_next_one_is_read() {
        let long = "x".repeat(11);
        assert_eq!(
            lines_of(&format!("{long}\nb\n{long}"), 10).await,
            [Line::TooLong, whole("b"), Line::TooLong]
        );
    }

    #[actix_web::test]
    async fn more_lines_than_a_handful_come_in_order() {
        let body: String = (0..1000).map(|number| format!("{number}\n")).collect();
        let expected: Vec<_> = (0..1000).map(|number| whole(&number.to_string())).collect();
        assert_eq!(lines_of(&body, 100).await, expected);
    }
}
