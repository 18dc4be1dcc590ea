//! What all threads of one running service share.

use std::sync::Arc;

use tokio::sync::Semaphore;

use crate::guard::rate::Rate;
use crate::key::KeyStore;
use crate::measures::Measures;
use crate::readiness::Readiness;
use crate::settings::Settings;

/// Shared state of one service.
pub struct State {
    /// The settings that hold.
    pub settings: Settings,
    /// Where keys are looked up.
    pub keys: Box<dyn KeyStore>,
    /// Whether the service may be asked.
    pub readiness: Readiness,
    /// What is counted.
    pub measures: Measures,
    /// One place per calculation that may be under way.
    pub places: Arc<Semaphore>,
    /// How often one caller may ask; none when the settings set no limit.
    pub rate: Option<Rate>,
}

impl State {
    /// The state of a service that has not started yet.
    pub fn new(settings: Settings, keys: Box<dyn KeyStore>) -> Self {
        Self {
            keys,
            readiness: Readiness::default(),
            measures: Measures::default(),
            places: Arc::new(Semaphore::new(settings.in_flight)),
            rate: Rate::of(&settings),
            settings,
        }
    }

    /// Calculating threads that one worker may use.
    pub fn threads_per_worker(&self) -> usize {
        self.settings.calculation_threads.div_ceil(self.settings.workers).max(1)
    }
}
