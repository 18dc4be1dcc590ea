//! What can go wrong between a program and the service.

use springwright_contract::problem::Problem;

/// Why a call gave no answer.
#[derive(Debug, thiserror::Error)]
pub enum ClientError {
    /// The service refused the request; the document names every fault.
    #[error("{0}")]
    Refused(Box<Problem>),
    /// The address or the key cannot be used.
    #[error("the client cannot be set up: {0}")]
    Setup(String),
    /// The service was not reached, or the connection broke.
    #[error("the service was not reached: {0}")]
    Unreached(#[source] reqwest::Error),
    /// The request cannot be written as JSON.
    #[error("the request cannot be written: {0}")]
    Unwritable(#[source] serde_json::Error),
    /// What came back is not what this version of the client reads.
    #[error("the answer (status {status}) is not understood: {source}")]
    NotUnderstood {
        /// HTTP status.
        status: u16,
        /// What the reader said.
        source: serde_json::Error,
    },
}

impl ClientError {
    /// The problem document, where the service refused the request.
    pub fn problem(&self) -> Option<&Problem> {
        match self {
            Self::Refused(problem) => Some(problem),
            _ => None,
        }
    }

    /// The stable code of the problem, where the service refused the request.
    pub fn code(&self) -> Option<&str> {
        self.problem().map(|problem| problem.code.as_str())
    }
}
