//! Whether the service may be asked: it is starting, ready, stopping, or has failed its self-test for good.

use std::sync::atomic::{AtomicU8, Ordering};

/// The four states, in the order of a life.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Phase {
    /// Bound, the self-test has not ended.
    Starting,
    /// The self-test passed.
    Ready,
    /// The self-test failed: the numbers of this process are not to be trusted.
    Failed,
    /// Told to stop; what is under way is finished.
    Stopping,
}

/// The present phase, shared by all threads.
#[derive(Debug)]
pub struct Readiness(AtomicU8);

impl Default for Readiness {
    fn default() -> Self {
        Self(AtomicU8::new(Phase::Starting as u8))
    }
}

impl Readiness {
    /// The present phase.
    pub fn phase(&self) -> Phase {
        match self.0.load(Ordering::Acquire) {
            0 => Phase::Starting,
            1 => Phase::Ready,
            2 => Phase::Failed,
            _ => Phase::Stopping,
        }
    }

    /// Ends the start, well or badly; a service that is already stopping stays so.
    pub fn started(&self, sound: bool) {
        let next = if sound { Phase::Ready } else { Phase::Failed };
        let starting = Phase::Starting as u8;
        let _ = self.0.compare_exchange(starting, next as u8, Ordering::AcqRel, Ordering::Acquire);
    }

    /// Turns the ready flag off for good.
    pub fn stopping(&self) {
        self.0.store(Phase::Stopping as u8, Ordering::Release);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stopping_is_not_undone_by_a_late_self_test() {
        let readiness = Readiness::default();
        assert_eq!(readiness.phase(), Phase::Starting);
        readiness.stopping();
        readiness.started(true);
        assert_eq!(readiness.phase(), Phase::Stopping);
    }

    #[test]
    fn a_failed_self_test_never_becomes_ready() {
        let readiness = Readiness::default();
        readiness.started(false);
        readiness.started(true);
        assert_eq!(readiness.phase(), Phase::Failed);
    }
}
