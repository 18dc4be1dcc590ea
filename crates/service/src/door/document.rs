//! The OpenAPI 3.1 document, made from the same table as the router.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde_json::Value;
use springwright_contract::problem::Problem;
use utoipa::openapi::path::{HttpMethod, OperationBuilder, PathItem};
use utoipa::openapi::request_body::{RequestBody, RequestBodyBuilder};
use utoipa::openapi::security::{Http, HttpAuthScheme, SecurityRequirement, SecurityScheme};
use utoipa::openapi::tag::TagBuilder;
use utoipa::openapi::{
    Components, Content, Info, License, OpenApi, Paths, Ref, RefOr, Required, Response, ResponseBuilder,
    Schema,
};

use super::body::{JSON, ROWS};
use super::operation::{CALCULATIONS, Gives, Operation, REFERENCE, SERVICE, Shape, Takes, Verb, operations};
use super::rejection::PROBLEM_JSON;

/// Name of the security scheme.
const KEY: &str = "ApiKey";

const DESCRIPTION: &str = "From a water analysis, a shelf of salts and a wanted water to grams on the scale. Every \
    calculation is pure: what it needs stands in the request, and the same request gives the same bytes. Every \
    refusal is a problem document (RFC 9457) that names every fault at once, each with a JSON Pointer, what would be \
    accepted and how to mend it. Where the service is configured with API keys, send one as a bearer token.";

/// The document as text, as it is served and checked in.
pub fn text() -> &'static str {
    static TEXT: LazyLock<String> = LazyLock::new(|| {
        let mut text = serde_json::to_string_pretty(&document()).unwrap_or_default();
        text.push('\n');
        text
    });
    &TEXT
}

fn document() -> OpenApi {
    let mut info = Info::new("Springwright", env!("CARGO_PKG_VERSION"));
    info.description = Some(DESCRIPTION.to_owned());
    let mut license = License::new("MIT OR Apache-2.0");
    license.identifier = Some("MIT OR Apache-2.0".to_owned());
    info.license = Some(license);
    let mut paths = Paths::new();
    for operation in operations() {
        let verb = match operation.verb {
            Verb::Get => HttpMethod::Get,
            Verb::Post => HttpMethod::Post,
        };
        paths.paths.insert(operation.path.clone(), PathItem::new(verb, described(operation)));
    }
    let mut document = OpenApi::new(info, paths);
    document.components = Some(components());
    document.tags = Some(vec![
        TagBuilder::new()
            .name(CALCULATIONS)
            .description(Some("Pure calculations: request in, answer out."))
            .build(),
        TagBuilder::new().name(REFERENCE).description(Some("What the engine knows, with sources.")).build(),
        TagBuilder::new().name(SERVICE).description(Some("The running service.")).build(),
    ]);
    document
}

fn described(operation: &Operation) -> utoipa::openapi::path::Operation {
    let mut builder = OperationBuilder::new()
        .operation_id(Some(operation.id.as_str()))
        .tag(operation.tag)
        .summary(Some(operation.summary.as_str()))
        .description(Some(operation.description.as_str()))
        .request_body(request_body(&operation.takes))
        .response("200", answer(operation));
    if let Takes::Query(parameters) = &operation.takes {
        builder = builder.parameters(Some(parameters.iter().cloned()));
    }
    for (status, description) in refusals(operation) {
        builder = builder.response(status, refusal(description));
    }
    let free = SecurityRequirement::default();
    builder = match operation.needs {
        None => builder.securities(Some([free])),
        Some(_) => builder.securities(Some([free, SecurityRequirement::new(KEY, [""; 0])])),
    };
    builder.build()
}

fn request_body(takes: &Takes) -> Option<RequestBody> {
    let (media_type, content, description) = match takes {
        Takes::Nothing | Takes::Query(_) => return None,
        Takes::Json(shape, example) => {
            let mut content = referring(shape);
            content.example = serde_json::from_str(example).ok();
            (JSON[0], content, "The request.")
        }
        Takes::Rows(shape, example) => {
            let mut content = referring(shape);
            content.example = Some(Value::String(format!("{example}\n")));
            (ROWS[0], content, "One request a line; the schema is that of a line.")
        }
    };
    let body = RequestBodyBuilder::new().description(Some(description)).required(Some(Required::True));
    Some(body.content(media_type, content).build())
}

fn answer(operation: &Operation) -> Response {
    let response = ResponseBuilder::new().description(operation.answer);
    match &operation.gives {
        Gives::Json(shape) => response.content(JSON[0], referring(shape)),
        Gives::Rows(shape) => response.content(ROWS[0], referring(shape)),
        Gives::Document => response.content(JSON[0], Content::new(Some(object()))),
        Gives::Text => response.content("text/plain", Content::new(Some(string()))),
    }
    .build()
}

/// The refusals that an operation can give follow from what it reads and who may ask it.
fn refusals(operation: &Operation) -> Vec<(&'static str, &'static str)> {
    let body = matches!(operation.takes, Takes::Json(..) | Takes::Rows(..));
    let single = matches!(operation.takes, Takes::Json(..));
    let query = matches!(operation.takes, Takes::Query(_));
    let keyed = operation.needs.is_some();
    let ready = operation.id == "ready";
    let all = [
        (single, "400", "The body is not JSON, or broke off."),
        (query, "400", "The query cannot be read."),
        (body && !single, "400", "The body broke off before the first answer."),
        (keyed, "401", "A key is needed, and there is none or it is not known."),
        (keyed, "403", "The key does not open this operation."),
        (body, "408", "The body did not arrive in time."),
        (single, "413", "The body is longer than the service reads."),
        (body, "415", "The body is not declared as what this operation reads, or is compressed."),
        (single || query, "422", "The request breaks rules; every fault is listed."),
        (keyed, "429", "The caller asks more often than the settings allow."),
        (true, "500", "The service failed; the request was not at fault."),
        (body, "503", "As many calculations as may be are under way, or this one took too long."),
        (ready, "503", "Starting, stopping, or the self-test failed."),
    ];
    all.into_iter()
        .filter(|(holds, ..)| *holds)
        .map(|(_, status, description)| (status, description))
        .collect()
}

fn refusal(description: &str) -> Response {
    ResponseBuilder::new()
        .description(description)
        .content(PROBLEM_JSON, referring(&Shape::of::<Problem>()))
        .build()
}

fn components() -> Components {
    let mut schemas: BTreeMap<String, RefOr<Schema>> = Shape::of::<Problem>().schemas.into_iter().collect();
    for operation in operations() {
        let taken = match &operation.takes {
            Takes::Json(shape, _) | Takes::Rows(shape, _) => Some(shape),
            Takes::Nothing | Takes::Query(_) => None,
        };
        let given = match &operation.gives {
            Gives::Json(shape) | Gives::Rows(shape) => Some(shape),
            Gives::Document | Gives::Text => None,
        };
        schemas.extend(taken.into_iter().chain(given).flat_map(|shape| shape.schemas.clone()));
    }
    let mut components = Components::new();
    components.schemas = schemas;
    components.add_security_scheme(KEY, SecurityScheme::Http(Http::new(HttpAuthScheme::Bearer)));
    components
}

fn referring(shape: &Shape) -> Content {
    Content::new(Some(Ref::from_schema_name(&shape.name)))
}

fn object() -> utoipa::openapi::Object {
    utoipa::openapi::Object::new()
}

fn string() -> utoipa::openapi::Object {
    utoipa::openapi::Object::with_type(utoipa::openapi::schema::Type::String)
}
