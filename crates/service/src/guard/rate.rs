//! How often one caller may ask: a steady rate with a burst, per key, or per address where no keys are configured.

use std::num::NonZeroU32;
use std::sync::atomic::{AtomicU32, Ordering::Relaxed};

use governor::clock::{Clock, MonotonicClock};
use governor::middleware::NoOpMiddleware;
use governor::state::keyed::HashMapStateStore;
use governor::{Quota, RateLimiter};

use crate::settings::Settings;

/// After so many requests the callers that have been quiet long enough are forgotten, so that memory stays bounded.
const SWEEP: u32 = 4096;

type Limiter = RateLimiter<
    String,
    HashMapStateStore<String>,
    MonotonicClock,
    NoOpMiddleware<<MonotonicClock as Clock>::Instant>,
>;

/// The rate limit of a service.
pub struct Rate {
    limiter: Limiter,
    since_sweep: AtomicU32,
}

impl Rate {
    /// The limit that the settings ask for.
    pub fn of(settings: &Settings) -> Option<Self> {
        let per_minute = NonZeroU32::new(settings.rate_per_minute)?;
        let burst = NonZeroU32::new(settings.rate_burst)?;
        let quota = Quota::per_minute(per_minute).allow_burst(burst);
        Some(Self {
            limiter: RateLimiter::hashmap_with_clock(quota, MonotonicClock),
            since_sweep: AtomicU32::new(0),
        })
    }

    /// Counts one request of this caller.
    ///
    /// # Errors
    /// The seconds to wait, at least 1, when the caller asks too often.
    pub fn count(&self, caller: &str) -> Result<(), u64> {
        if self.since_sweep.fetch_add(1, Relaxed) >= SWEEP {
            self.since_sweep.store(0, Relaxed);
            self.limiter.retain_recent();
        }
        self.limiter.check_key(&caller.to_owned()).map_err(|not_until| {
            let wait = not_until.wait_time_from(MonotonicClock.now());
            wait.as_secs() + u64::from(wait.subsec_nanos() > 0)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_burst_passes_and_the_next_request_waits() {
        let rate = Rate::of(&Settings { rate_per_minute: 1, rate_burst: 2, ..Settings::default() }).unwrap();
        assert_eq!(rate.count("one"), Ok(()));
        assert_eq!(rate.count("one"), Ok(()));
        let wait = rate.count("one").unwrap_err();
        // One a minute: the third may come 60 s after the first.
        assert!((59..=60).contains(&wait), "{wait}");
        assert_eq!(rate.count("two"), Ok(()));
    }

    #[test]
    fn no_rate_means_no_limit() {
        assert!(Rate::of(&Settings::default()).is_none());
    }
}
