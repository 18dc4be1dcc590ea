//! The client and its methods.

use reqwest::header::{AUTHORIZATION, CONTENT_TYPE, HeaderMap, HeaderValue};
use reqwest::{RequestBuilder, Response, Url};
use serde::Serialize;
use serde::de::DeserializeOwned;
use springwright_contract::problem::Problem;
use springwright_contract::salts::{SaltsPage, SaltsQuery};

use crate::error::ClientError;
use crate::rows::{Answers, Row};

/// A client of one service. Cheap to clone; clones share their connections.
#[derive(Clone, Debug)]
pub struct Client {
    base: Url,
    http: reqwest::Client,
}

impl Client {
    /// A client of the service at `base`, such as `http://127.0.0.1:8080`.
    ///
    /// # Errors
    /// [`ClientError::Setup`] when `base` is no http address, or is https without the feature `tls`.
    pub fn new(base: &str) -> Result<Self, ClientError> {
        Self::set_up(base, HeaderMap::new())
    }

    /// A client that sends an API key with every request.
    ///
    /// # Errors
    /// [`ClientError::Setup`] as for [`new`](Self::new), or when the key cannot stand in a header.
    pub fn with_key(base: &str, key: &str) -> Result<Self, ClientError> {
        let mut bearer = HeaderValue::from_str(&format!("Bearer {key}"))
            .map_err(|_| ClientError::Setup("the key has characters that no header can carry".to_owned()))?;
        bearer.set_sensitive(true);
        Self::set_up(base, HeaderMap::from_iter([(AUTHORIZATION, bearer)]))
    }

    fn set_up(base: &str, headers: HeaderMap) -> Result<Self, ClientError> {
        let mut base = Url::parse(base).map_err(|error| ClientError::Setup(format!("'{base}': {error}")))?;
        let fits = base.scheme() == "http" || (cfg!(feature = "tls") && base.scheme() == "https");
        if !fits {
            return Err(ClientError::Setup(format!("'{}' addresses are not spoken", base.scheme())));
        }
        // A base with a path is a folder to the operations, however it was written.
        if !base.path().ends_with('/') {
            base.set_path(&format!("{}/", base.path()));
        }
        let http = reqwest::Client::builder().default_headers(headers).build();
        Ok(Self { base, http: http.map_err(|error| ClientError::Setup(error.to_string()))? })
    }

    /// `GET /v1/salts`: one page of the catalogue. Ask again with its `next_cursor` for the next page.
    ///
    /// # Errors
    /// As for [`convert`](Self::convert).
    pub async fn salts(&self, query: &SaltsQuery) -> Result<SaltsPage, ClientError> {
        let request = self.http.get(self.url("v1/salts")?).query(query);
        read(sent(request).await?).await
    }

    /// `GET /readyz`: whether the service may be asked.
    ///
    /// # Errors
    /// [`ClientError::Refused`] with the code `not_ready`, or that it was not reached.
    pub async fn ready(&self) -> Result<(), ClientError> {
        sent(self.http.get(self.url("readyz")?)).await.map(drop)
    }

    pub(crate) async fn calculate<Q: Serialize, A: DeserializeOwned>(
        &self,
        name: &str,
        request: &Q,
    ) -> Result<A, ClientError> {
        let body = serde_json::to_vec(request).map_err(ClientError::Unwritable)?;
        let url = self.url(&format!("v1/calculations/{name}"))?;
        let request = self.http.post(url).header(CONTENT_TYPE, "application/json").body(body);
        read(sent(request).await?).await
    }

    pub(crate) async fn bulk<'a, Q: Serialize + 'a, A: DeserializeOwned>(
        &self,
        name: &str,
        rows: impl IntoIterator<Item = (&'a str, &'a Q)>,
    ) -> Result<Answers<A>, ClientError> {
        let mut body = Vec::new();
        for (id, request) in rows {
            serde_json::to_writer(&mut body, &Row { id, request }).map_err(ClientError::Unwritable)?;
            body.push(b'\n');
        }
        let url = self.url(&format!("v1/calculations/{name}/bulk"))?;
        let request = self.http.post(url).header(CONTENT_TYPE, "application/x-ndjson").body(body);
        Ok(Answers::new(sent(request).await?))
    }

    fn url(&self, path: &str) -> Result<Url, ClientError> {
        self.base.join(path).map_err(|error| ClientError::Setup(error.to_string()))
    }
}

/// Sends a request; a refusal becomes the error that carries its document.
async fn sent(request: RequestBuilder) -> Result<Response, ClientError> {
    let response = request.send().await.map_err(ClientError::Unreached)?;
    if response.status().is_success() {
        return Ok(response);
    }
    let problem: Problem = read(response).await?;
    Err(ClientError::Refused(Box::new(problem)))
}

async fn read<A: DeserializeOwned>(response: Response) -> Result<A, ClientError> {
    let status = response.status().as_u16();
    let text = response.bytes().await.map_err(ClientError::Unreached)?;
    serde_json::from_slice(&text).map_err(|source| ClientError::NotUnderstood { status, source })
}
