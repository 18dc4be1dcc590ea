//! The one declaration of the door. Router, document, measures, log and admission all read this table.

use std::sync::LazyLock;

use actix_web::http::Method;
use actix_web::web::{self, ServiceConfig};
use actix_web::{Resource, Route};
use springwright_contract::bulk::{BulkAnswer, BulkRow};
use springwright_contract::salts::{SaltsPage, SaltsQuery};
use utoipa::openapi::path::{Parameter, ParameterIn};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{IntoParams, ToSchema};

use super::calculations::{Calculation, calculations};
use crate::key::Permission;
use crate::routes;
use crate::routes::health::Health;
use crate::routes::version::Version;

/// The two methods in use. What answers GET answers HEAD as well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verb {
    /// Reads.
    Get,
    /// Calculates.
    Post,
}

/// A type as the document shows it.
#[derive(Clone)]
pub struct Shape {
    /// Name of its schema.
    pub name: String,
    /// Its schema and all those it refers to, by name.
    pub schemas: Vec<(String, RefOr<Schema>)>,
}

impl Shape {
    /// The shape of a type.
    pub fn of<T: ToSchema>() -> Self {
        let name = T::name().into_owned();
        let mut schemas = vec![(name.clone(), T::schema())];
        T::schemas(&mut schemas);
        Self { name, schemas }
    }
}

/// What an operation reads.
pub enum Takes {
    /// Nothing but its path.
    Nothing,
    /// Parameters in the query string.
    Query(Vec<Parameter>),
    /// One JSON request, with an example.
    Json(Shape, &'static str),
    /// Many requests, one a line, with an example of one line.
    Rows(Shape, String),
}

/// What an operation answers when all is well.
pub enum Gives {
    /// One JSON value.
    Json(Shape),
    /// Many answers, one a line.
    Rows(Shape),
    /// A JSON document whose schema is described elsewhere.
    Document,
    /// Text.
    Text,
}

/// One thing the door can be asked.
pub struct Operation {
    /// Place in the table.
    pub index: usize,
    /// GET or POST.
    pub verb: Verb,
    /// Path, without parameters.
    pub path: String,
    /// `operationId`: the name of the client's method.
    pub id: String,
    /// Chapter of the document.
    pub tag: &'static str,
    /// What it does, in a few words.
    pub summary: String,
    /// What it does, in a paragraph.
    pub description: String,
    /// What a key must open to ask it; none: open to all.
    pub needs: Option<Permission>,
    /// What it reads.
    pub takes: Takes,
    /// What it answers.
    pub gives: Gives,
    /// What is said of a good answer.
    pub answer: &'static str,
    handler: Handler,
}

type Handler = Box<dyn Fn(Route) -> Route + Send + Sync>;

/// Chapter of the calculations.
pub const CALCULATIONS: &str = "Calculations";
/// Chapter of the reference data.
pub const REFERENCE: &str = "Reference data";
/// Chapter of the running service.
pub const SERVICE: &str = "Service";

/// Every operation, in the order of the document.
pub fn operations() -> &'static [Operation] {
    static TABLE: LazyLock<Vec<Operation>> = LazyLock::new(|| {
        let mut table: Vec<Operation> = Vec::new();
        for calculation in calculations() {
            table.push(bulk(&calculation));
            table.push(single(calculation));
            let last = table.len() - 1;
            table.swap(last - 1, last);
        }
        table.extend(reference());
        table.extend(service());
        table.iter_mut().enumerate().for_each(|(index, operation)| operation.index = index);
        table
    });
    &TABLE
}

/// The operation that answers this method at this path.
pub fn operation_at(method: &Method, path: &str) -> Option<&'static Operation> {
    let verb = match *method {
        Method::GET | Method::HEAD => Verb::Get,
        Method::POST => Verb::Post,
        _ => return None,
    };
    operations().iter().find(|operation| operation.verb == verb && operation.path == path)
}

/// Mounts the table.
pub fn mount(config: &mut ServiceConfig) {
    for operation in operations() {
        config.service(operation.resource());
    }
}

impl Operation {
    fn resource(&self) -> Resource {
        let resource = web::resource(self.path.as_str());
        match self.verb {
            Verb::Get => resource.route((self.handler)(web::get())).route((self.handler)(web::head())),
            Verb::Post => resource.route((self.handler)(web::post())),
        }
    }
}

fn single(calculation: Calculation) -> Operation {
    let name = calculation.name;
    Operation {
        index: 0,
        verb: Verb::Post,
        path: format!("/v1/calculations/{name}"),
        id: calculation.id.to_owned(),
        tag: CALCULATIONS,
        summary: calculation.summary.to_owned(),
        description: calculation.description.to_owned(),
        needs: Some(Permission::Calculate),
        takes: Takes::Json(calculation.request, calculation.example),
        gives: Gives::Json(calculation.answer),
        answer: "The answer. A wish that cannot be met is an answer too.",
        handler: Box::new(move |route| routes::calculation::answers(route, name)),
    }
}

fn bulk(calculation: &Calculation) -> Operation {
    let name = calculation.name;
    Operation {
        index: 0,
        verb: Verb::Post,
        path: format!("/v1/calculations/{name}/bulk"),
        id: format!("{}_bulk", calculation.id),
        tag: CALCULATIONS,
        summary: format!("{}, many at once", calculation.summary),
        description: format!(
            "The calculation `{name}` for many requests: newline-delimited JSON, one `{{\"id\", \"request\"}}` a line \
             in, one `{{\"id\", \"status\", \"answer\"}}` or `{{\"id\", \"status\", \"problem\"}}` a line out, in the \
             same order. Each answer is the same as that of the single request, to the byte. A bad line spoils no \
             other. Answers leave while lines still arrive, so read while you send."
        ),
        needs: Some(Permission::Calculate),
        takes: Takes::Rows(Shape::of::<BulkRow>(), row_example(calculation.example)),
        gives: Gives::Rows(Shape::of::<BulkAnswer>()),
        answer: "One line per line of the request, in its order.",
        handler: Box::new(move |route| routes::bulk::answers(route, name)),
    }
}

fn row_example(example: &str) -> String {
    let request: serde_json::Value = serde_json::from_str(example).unwrap_or_default();
    serde_json::json!({ "id": "first", "request": request }).to_string()
}

fn reference() -> Vec<Operation> {
    vec![get(
        "/v1/salts",
        ("salts", REFERENCE, Some(Permission::Calculate)),
        "List the catalogue of salts",
        "Salts, acids, bases and gases with formula, hydrate, composition, solubility, standing in food law and \
             the source of each row. Paged: a page that is not the last carries `next_cursor`.",
        Takes::Query(SaltsQuery::into_params(|| Some(ParameterIn::Query))),
        Gives::Json(Shape::of::<SaltsPage>()),
        "One page of the catalogue, by id.",
        |route| route.to(routes::salts::salts),
    )]
}

fn service() -> Vec<Operation> {
    let open = |path, id, summary, description, gives, answer, handler| {
        get(path, (id, SERVICE, None), summary, description, Takes::Nothing, gives, answer, handler)
    };
    vec![
        open(
            "/livez",
            "live",
            "Tell whether the process runs",
            "Answers as long as the process serves requests. Restart it when this fails.",
            Gives::Json(Shape::of::<Health>()),
            "The process runs.",
            |route| route.to(routes::health::live),
        ),
        open(
            "/readyz",
            "ready",
            "Tell whether the service may be asked",
            "Ready after the self-test: known calculations whose results follow from definitions. Not ready while \
             starting, while stopping, and for good when the self-test failed.",
            Gives::Json(Shape::of::<Health>()),
            "The service may be asked.",
            |route| route.to(routes::health::ready),
        ),
        open(
            "/version",
            "version",
            "Tell the version of program and data",
            "Version of the program and the digest of the data tables that every answer rests on.",
            Gives::Json(Shape::of::<Version>()),
            "Version of program and data.",
            |route| route.to(routes::version::version),
        ),
        open(
            "/openapi.json",
            "openapi",
            "Give this document",
            "The OpenAPI document of the service, made from the same table as its router.",
            Gives::Document,
            "The OpenAPI document.",
            |route| route.to(routes::document::document),
        ),
        get(
            "/metrics",
            ("metrics", SERVICE, Some(Permission::Operate)),
            "Give the measures of the running service",
            "Counts of requests, refusals, times and rows in the Prometheus text format. No word of a recipe.",
            Takes::Nothing,
            Gives::Text,
            "Measures in the Prometheus text format, version 0.0.4.",
            |route| route.to(routes::metrics::metrics),
        ),
    ]
}

#[allow(clippy::too_many_arguments)] // one row of the table, read only above
fn get(
    path: &str,
    (id, tag, needs): (&str, &'static str, Option<Permission>),
    summary: &str,
    description: &str,
    takes: Takes,
    gives: Gives,
    answer: &'static str,
    handler: fn(Route) -> Route,
) -> Operation {
    Operation {
        index: 0,
        verb: Verb::Get,
        path: path.to_owned(),
        id: id.to_owned(),
        tag,
        summary: summary.to_owned(),
        description: description.to_owned(),
        needs,
        takes,
        gives,
        answer,
        handler: Box::new(handler),
    }
}
