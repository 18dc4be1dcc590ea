//! The running service: bound first, ready after its self-test, drained when it is told to stop.

use std::net::{SocketAddr, TcpListener};
use std::sync::Arc;
use std::time::{Duration, Instant};

use actix_web::dev::ServerHandle;
use actix_web::middleware::from_fn;
use actix_web::web::{self, Data, ServiceConfig};
use actix_web::{App, HttpServer};
use serde_json::json;
use tokio::sync::Notify;

use crate::door::operation;
use crate::door::rejection::Rejection;
use crate::guard::{admit::admit, record::record, settle::settle};
use crate::key::{KeyError, Keys};
use crate::settings::{Settings, SettingsError};
use crate::state::State;
use crate::{log, routes, self_test};

/// Why the service did not start or did not end well.
#[derive(Debug, thiserror::Error)]
pub enum StartError {
    /// The settings are refused.
    #[error(transparent)]
    Settings(#[from] SettingsError),
    /// The keys are refused.
    #[error(transparent)]
    Keys(#[from] KeyError),
    /// The address cannot be bound.
    #[error("cannot listen on {listen}: {source}")]
    Bind {
        /// The address.
        listen: SocketAddr,
        /// What the system said.
        source: std::io::Error,
    },
    /// The server broke while it ran.
    #[error("the server broke: {0}")]
    Broke(#[from] std::io::Error),
}

/// A service that is bound and waits to be run.
pub struct Application {
    began: Instant,
    listener: TcpListener,
    address: SocketAddr,
    state: Data<State>,
    stop: Stopper,
}

/// Stops a running service as SIGTERM does.
#[derive(Clone, Default)]
pub struct Stopper(Arc<Notify>);

impl Stopper {
    /// Turns the ready flag off, finishes what is under way, and ends the run.
    pub fn stop(&self) {
        self.0.notify_one();
    }
}

impl Application {
    /// Checks the settings, reads the keys and binds. Nothing is answered before [`run`](Self::run).
    ///
    /// # Errors
    /// When settings or keys are refused, or the address cannot be bound.
    pub fn build(settings: Settings) -> Result<Self, StartError> {
        let began = Instant::now();
        settings.check()?;
        let keys = Keys::read(&settings)?;
        let listen = settings.listen;
        let bound = TcpListener::bind(listen).and_then(|listener| Ok((listener.local_addr()?, listener)));
        let (address, listener) = bound.map_err(|source| StartError::Bind { listen, source })?;
        let state = Data::new(State::new(settings, Box::new(keys)));
        Ok(Self { began, listener, address, state, stop: Stopper::default() })
    }

    /// The address that is bound, with the port that port 0 became.
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// A handle that stops this service from another thread.
    pub fn stopper(&self) -> Stopper {
        self.stop.clone()
    }

    /// Serves until SIGTERM, SIGINT or [`Stopper::stop`], then drains.
    ///
    /// # Errors
    /// When the server cannot take the listener or breaks.
    pub async fn run(self) -> Result<(), StartError> {
        let Self { began, listener, address, state, stop } = self;
        let settings = state.settings.clone();
        let ending = Ending::new(stop)?;
        let shared = state.clone();
        let server = HttpServer::new(move || {
            App::new()
                .app_data(shared.clone())
                .wrap(from_fn(admit))
                .wrap(from_fn(settle))
                .wrap(from_fn(record))
                .configure(mount)
        })
        .workers(settings.workers)
        .worker_max_blocking_threads(state.threads_per_worker())
        .keep_alive(Duration::from_secs(settings.keep_alive_s))
        .client_request_timeout(Duration::from_secs(settings.body_timeout_s))
        .shutdown_timeout(settings.drain_timeout_s)
        .disable_signals()
        .listen(listener)?
        .run();
        let handle = server.handle();
        let mut served = actix_web::rt::spawn(server);
        prove(&state, address, began).await;
        tokio::select! {
            ended = &mut served => return Ok(ended.unwrap_or(Ok(()))?),
            () = ending.comes() => {}
        }
        drain(&state, handle).await;
        Ok(served.await.unwrap_or(Ok(()))?)
    }
}

/// Mounts everything that has an address.
fn mount(config: &mut ServiceConfig) {
    operation::mount(config);
    routes::pages::mount(config);
    config.default_service(web::to(|| async { Err::<&str, _>(Rejection::NotFound) }));
}

/// Runs the self-test off the serving threads and raises the ready flag when it passes.
async fn prove(state: &State, address: SocketAddr, began: Instant) {
    let outcome = web::block(self_test::run).await.unwrap_or(Err("the self-test broke"));
    state.readiness.started(outcome.is_ok());
    let milliseconds = began.elapsed().as_micros() as f64 / 1000.0;
    match outcome {
        Ok(()) => {
            log::event("ready", json!({ "address": address.to_string(), "milliseconds": milliseconds }))
        }
        Err(why) => log::event("self_test_failed", json!({ "why": why })),
    }
}

async fn drain(state: &State, handle: ServerHandle) {
    state.readiness.stopping();
    log::event("stopping", json!({}));
    tokio::time::sleep(Duration::from_secs(state.settings.drain_delay_s)).await;
    handle.stop(true).await;
    log::event("stopped", json!({}));
}

/// The ways in which a service is told to stop, listened to from its first moment.
struct Ending {
    stop: Stopper,
    #[cfg(unix)]
    terminate: tokio::signal::unix::Signal,
}

impl Ending {
    fn new(stop: Stopper) -> std::io::Result<Self> {
        Ok(Self {
            stop,
            #[cfg(unix)]
            terminate: tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate())?,
        })
    }

    async fn comes(mut self) {
        let stop = self.stop.clone();
        tokio::select! {
            _ = self.terminated() => {}
            _ = tokio::signal::ctrl_c() => {}
            () = stop.0.notified() => {}
        }
    }

    #[cfg(unix)]
    fn terminated(&mut self) -> impl Future<Output = Option<()>> + use<'_> {
        self.terminate.recv()
    }

    #[cfg(not(unix))]
    fn terminated(&mut self) -> impl Future<Output = Option<()>> + use<'_> {
        std::future::pending()
    }
}
