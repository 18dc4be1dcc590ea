//! A deterministic stream of random numbers, the same on every machine.

/// SplitMix64 (Steele, Lea and Flood 2014), its constants from memory.
pub struct Random(u64);

impl Random {
    pub fn new(seed: u64) -> Random {
        Random(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Even between 0 and 1.
    pub fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Even over the logarithm between two numbers.
    pub fn between(&mut self, least: f64, most: f64) -> f64 {
        least * (most / least).powf(self.share())
    }

    /// Normal with standard deviation 1 (Box and Muller).
    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.share()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.share()).cos()
    }

    /// One of a list.
    pub fn pick<'a, T>(&mut self, list: &'a [T]) -> &'a T {
        &list[(self.share() * list.len() as f64) as usize % list.len()]
    }
}
