//! Many requests at once: rows go out together, answers come back one by one, in order.

use std::marker::PhantomData;

use reqwest::Response;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use springwright_contract::bulk::RowStatus;
use springwright_contract::problem::Problem;

use crate::error::ClientError;

/// One row that goes out.
#[derive(Serialize)]
pub(crate) struct Row<'a, Q> {
    pub(crate) id: &'a str,
    pub(crate) request: &'a Q,
}

/// One row that comes back.
#[derive(Clone, Debug, PartialEq)]
pub struct AnsweredRow<A> {
    /// Name of the row.
    pub id: String,
    /// Its answer, or the problem that names every fault of it.
    pub outcome: Result<A, Box<Problem>>,
}

/// A row as it stands on a line.
#[derive(Deserialize)]
struct Line<A> {
    id: String,
    status: RowStatus,
    answer: Option<A>,
    problem: Option<Box<Problem>>,
}

/// The answers to a bulk request, read as they arrive.
#[derive(Debug)]
pub struct Answers<A> {
    response: Response,
    held: Vec<u8>,
    ended: bool,
    kind: PhantomData<fn() -> A>,
}

impl<A: DeserializeOwned> Answers<A> {
    pub(crate) fn new(response: Response) -> Self {
        Self { response, held: Vec::new(), ended: false, kind: PhantomData }
    }

    /// The next row; none when all rows have been read.
    ///
    /// # Errors
    /// [`ClientError::Unreached`] when the connection broke before the last row, [`ClientError::NotUnderstood`] when
    /// a line is not a row.
    pub async fn next(&mut self) -> Result<Option<AnsweredRow<A>>, ClientError> {
        loop {
            if let Some(end) = self.held.iter().position(|&byte| byte == b'\n') {
                let line: Vec<u8> = self.held.drain(..=end).collect();
                return self.row(&line).map(Some);
            }
            if self.ended {
                let rest = std::mem::take(&mut self.held);
                return if rest.is_empty() { Ok(None) } else { self.row(&rest).map(Some) };
            }
            match self.response.chunk().await.map_err(ClientError::Unreached)? {
                Some(part) => self.held.extend_from_slice(&part),
                None => self.ended = true,
            }
        }
    }

    /// All rows that are left.
    ///
    /// # Errors
    /// As for [`next`](Self::next).
    pub async fn all(mut self) -> Result<Vec<AnsweredRow<A>>, ClientError> {
        let mut rows = Vec::new();
        while let Some(row) = self.next().await? {
            rows.push(row);
        }
        Ok(rows)
    }

    fn row(&self, text: &[u8]) -> Result<AnsweredRow<A>, ClientError> {
        let broken = |source| ClientError::NotUnderstood { status: self.response.status().as_u16(), source };
        let line: Line<A> = serde_json::from_slice(text).map_err(broken)?;
        let outcome = match (line.status, line.answer, line.problem) {
            (RowStatus::Answered, Some(answer), _) => Ok(answer),
            (_, _, Some(problem)) => Err(problem),
            _ => return Err(broken(serde::de::Error::custom("a row has neither answer nor problem"))),
        };
        Ok(AnsweredRow { id: line.id, outcome })
    }
}
