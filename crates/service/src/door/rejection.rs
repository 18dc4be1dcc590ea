//! Every way the service itself turns a request away, as one list. What is wrong with the *chemistry* of a request
//! is told by the contract; what is wrong with its delivery is told here. Both leave as the same document.

use std::fmt;

use actix_web::http::{StatusCode, header};
use actix_web::{HttpResponse, HttpResponseBuilder, ResponseError};
use springwright_contract::problem::{Fault, Problem};

/// Media type of every refusal (RFC 9457).
pub const PROBLEM_JSON: &str = "application/problem+json";

/// Why a request was turned away before, or instead of, a calculation.
#[derive(Clone, Debug, PartialEq)]
pub enum Rejection {
    /// The contract judged the request and refused it; its document is passed on unchanged.
    Refused(Box<Problem>),
    /// Nothing lives at this path.
    NotFound,
    /// The path exists, the method does not.
    MethodNotAllowed {
        /// The method that was tried.
        method: String,
        /// The methods this address answers.
        allowed: Vec<String>,
    },
    /// The body is not of a media type this address reads.
    UnsupportedMediaType {
        /// What the request declared; empty when nothing.
        given: String,
        /// The media types that are read.
        accepted: &'static [&'static str],
    },
    /// The body is compressed; bodies are read as they stand.
    UnsupportedEncoding {
        /// The declared content coding.
        given: String,
    },
    /// The body is longer than the limit in the settings.
    TooLarge {
        /// The limit, bytes.
        limit: usize,
    },
    /// The body did not arrive in time.
    BodyTimeout {
        /// The limit, seconds.
        seconds: u64,
    },
    /// The connection delivered a body that ends early or is framed wrongly.
    BodyBroken,
    /// The query string has a parameter that cannot be read.
    BadQuery {
        /// What the reader said.
        message: String,
        /// The parameters this address reads.
        accepted: &'static [&'static str],
    },
    /// No key, or one that is not known.
    Unauthorized(NoKey),
    /// The key is known, but not for this address.
    NotPermitted {
        /// The label of the key.
        label: String,
        /// What the key would need.
        needs: &'static str,
    },
    /// The caller asks more often than the settings allow.
    TooManyRequests {
        /// When to come back, seconds.
        retry_after: u64,
    },
    /// More calculations are under way than the settings allow at once.
    Overloaded,
    /// The calculation took longer than the settings allow.
    AnswerTimeout {
        /// The limit, seconds.
        seconds: u64,
    },
    /// The service is starting, stopping, or has failed its self-test.
    NotReady(&'static str),
    /// The service failed; nothing about the cause leaves the process.
    OwnFailure,
    /// A status that the framework chose on its own.
    Other(u16),
}

/// What is the matter with the key of a request.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoKey {
    /// There is no `Authorization` header.
    Absent,
    /// The header is not `Bearer` followed by a key.
    Unreadable,
    /// The key is well formed but not known.
    Unknown,
}

impl Rejection {
    /// Stable code, title and status: the part that does not depend on the request.
    fn sort(&self) -> (&'static str, &'static str, u16) {
        match self {
            // The contract's own document carries its sort; it is never asked here.
            Self::Refused(_) => ("request_refused", "The request was refused", 422),
            Self::NotFound => ("not_found", "Nothing at this address", 404),
            Self::MethodNotAllowed { .. } => ("method_not_allowed", "Not that method", 405),
            Self::UnsupportedMediaType { .. } => ("unsupported_media_type", "Not that kind of body", 415),
            Self::UnsupportedEncoding { .. } => {
                ("unsupported_content_encoding", "Not a compressed body", 415)
            }
            Self::TooLarge { .. } => ("body_too_large", "The body is too long", 413),
            Self::BodyTimeout { .. } => ("body_timeout", "The body did not arrive in time", 408),
            Self::BodyBroken => ("body_broken", "The body broke off", 400),
            Self::BadQuery { .. } => ("bad_query", "The query cannot be read", 400),
            Self::Unauthorized(NoKey::Absent) => ("key_missing", "A key is needed", 401),
            Self::Unauthorized(NoKey::Unreadable) => ("key_unreadable", "A key is needed", 401),
            Self::Unauthorized(NoKey::Unknown) => ("key_unknown", "A key is needed", 401),
            Self::NotPermitted { .. } => ("not_permitted", "The key does not open this", 403),
            Self::TooManyRequests { .. } => ("too_many_requests", "Too many requests", 429),
            Self::Overloaded => ("overloaded", "The service is busy", 503),
            Self::AnswerTimeout { .. } => ("answer_timeout", "The calculation took too long", 503),
            Self::NotReady(_) => ("not_ready", "The service is not ready", 503),
            Self::OwnFailure => ("own_failure", "The service failed", 500),
            Self::Other(status) => ("turned_away", "The request was turned away", *status),
        }
    }

    /// HTTP status.
    pub fn status(&self) -> StatusCode {
        let status = match self {
            Self::Refused(problem) => problem.status,
            other => other.sort().2,
        };
        StatusCode::from_u16(status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR)
    }

    /// What would be accepted, and how to mend it; none where the caller can mend nothing.
    fn way_out(&self) -> Option<(Vec<String>, &'static str)> {
        let one = |text: &str| vec![text.to_owned()];
        let all = |texts: &[&str]| texts.iter().map(|&text| text.to_owned()).collect();
        Some(match self {
            Self::Refused(_) | Self::OwnFailure | Self::Other(_) => return None,
            Self::NotFound => (vec![], "GET /openapi.json lists every address; /docs shows them as a page"),
            Self::MethodNotAllowed { allowed, .. } => (allowed.clone(), "use one of the accepted methods"),
            Self::UnsupportedMediaType { accepted, .. } => {
                (all(accepted), "declare the body with the Content-Type header")
            }
            Self::UnsupportedEncoding { .. } => (one("identity"), "send the body uncompressed"),
            Self::TooLarge { .. } => {
                (vec![], "split the work, or send many rows to the bulk address, one a line")
            }
            Self::BodyTimeout { .. } | Self::BodyBroken => (vec![], "send the whole body again"),
            Self::BadQuery { accepted, .. } => (all(accepted), "use the accepted parameters, each once"),
            Self::Unauthorized(_) => {
                (one("Authorization: Bearer KEY"), "send the key that \"springwright key new\" printed")
            }
            Self::NotPermitted { needs, .. } => {
                (vec![format!("may={needs}")], "ask the keeper of the keys for one with this permission")
            }
            Self::TooManyRequests { .. } | Self::Overloaded | Self::NotReady(_) => {
                (vec![], "wait as long as the Retry-After header says, then try again")
            }
            Self::AnswerTimeout { .. } => {
                (vec![], "ask for less at once: fewer salts, fewer wishes, a coarser step")
            }
        })
    }

    /// The whole document.
    pub fn problem(&self) -> Problem {
        if let Self::Refused(problem) = self {
            return (**problem).clone();
        }
        let (code, title, status) = self.sort();
        let fault = |(accepted, mend): (Vec<String>, &str)| Fault {
            // The fault lies beside the body, not in it: the pointer is that of the whole.
            pointer: String::new(),
            code: code.to_owned(),
            message: self.to_string(),
            accepted,
            mend: mend.to_owned(),
        };
        let faults = self.way_out().map(fault).into_iter().collect();
        Problem { faults, ..Problem::new(code, title, status, self.to_string()) }
    }

    /// Seconds after which the same request may fare better.
    fn retry_after(&self) -> Option<u64> {
        match self {
            Self::TooManyRequests { retry_after } => Some(*retry_after),
            Self::Overloaded | Self::NotReady(_) => Some(1),
            _ => None,
        }
    }

    /// The answer to the caller, with the headers that belong to its status.
    pub fn response(&self) -> HttpResponse {
        let mut response = HttpResponseBuilder::new(self.status());
        if let Some(seconds) = self.retry_after() {
            response.insert_header((header::RETRY_AFTER, seconds));
        }
        match self {
            Self::MethodNotAllowed { allowed, .. } => {
                response.insert_header((header::ALLOW, allowed.join(", ")));
            }
            Self::Unauthorized(_) => {
                response.insert_header((header::WWW_AUTHENTICATE, "Bearer realm=\"springwright\""));
            }
            _ => {}
        }
        response.content_type(PROBLEM_JSON).body(self.problem().to_json())
    }
}

impl fmt::Display for Rejection {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Refused(problem) => write!(out, "{problem}"),
            Self::NotFound => write!(out, "there is nothing at this address"),
            Self::MethodNotAllowed { method, .. } => write!(out, "this address does not answer {method}"),
            Self::UnsupportedMediaType { given, .. } if given.is_empty() => {
                write!(out, "the body is not declared, and this address reads declared bodies only")
            }
            Self::UnsupportedMediaType { given, .. } => {
                write!(out, "the body is declared as '{given}', which this address does not read")
            }
            Self::UnsupportedEncoding { given } => {
                write!(out, "the body is declared as compressed ('{given}')")
            }
            Self::TooLarge { limit } => write!(out, "the body is longer than {limit} bytes"),
            Self::BodyTimeout { seconds } => write!(out, "the body did not arrive within {seconds} s"),
            Self::BodyBroken => write!(out, "the body ended early or is framed wrongly"),
            Self::BadQuery { message, .. } => write!(out, "the query cannot be read: {message}"),
            Self::Unauthorized(NoKey::Absent) => write!(out, "the request carries no API key"),
            Self::Unauthorized(NoKey::Unreadable) => {
                write!(out, "the Authorization header is not 'Bearer' followed by an API key")
            }
            Self::Unauthorized(NoKey::Unknown) => write!(out, "the API key is not known here"),
            Self::NotPermitted { label, .. } => write!(out, "the key '{label}' does not open this address"),
            Self::TooManyRequests { .. } => {
                write!(out, "more requests than this service takes from one caller")
            }
            Self::Overloaded => write!(out, "as many calculations as may be are under way"),
            Self::AnswerTimeout { seconds } => {
                write!(out, "the calculation was not finished within {seconds} s")
            }
            Self::NotReady(why) => write!(out, "{why}"),
            Self::OwnFailure => write!(out, "the fault is ours, not the request's; it was logged"),
            Self::Other(status) => write!(out, "the request was turned away with status {status}"),
        }
    }
}

impl std::error::Error for Rejection {}

impl ResponseError for Rejection {
    fn status_code(&self) -> StatusCode {
        self.status()
    }

    fn error_response(&self) -> HttpResponse {
        self.response()
    }
}

impl From<Problem> for Rejection {
    fn from(problem: Problem) -> Self {
        Self::Refused(Box::new(problem))
    }
}
