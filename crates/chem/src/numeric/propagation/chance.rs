//! A stream of random words that depends on nothing but its key: ChaCha with 20 rounds (D. J. Bernstein 2008, block
//! function as RFC 8439, section 2.3).

/// Words of a block.
const WORDS: usize = 16;
/// "expand 32-byte k" in four little-endian words.
const CONSTANTS: [u32; 4] = [0x6170_7865, 0x3320_646e, 0x7962_2d32, 0x6b20_6574];

/// A stream under a key of 32 bytes and a number that picks one of its streams.
pub(super) struct Stream {
    state: [u32; WORDS],
    block: [u32; WORDS],
    next: usize,
}

impl Stream {
    /// The stream of a key and a seed, from its beginning.
    pub(super) fn new(key: &[u8; 32], seed: u64) -> Stream {
        let mut state = [0; WORDS];
        state[..4].copy_from_slice(&CONSTANTS);
        for (word, bytes) in state[4..12].iter_mut().zip(key.chunks_exact(4)) {
            *word = bytes.iter().rev().fold(0, |word, byte| word << 8 | u32::from(*byte));
        }
        (state[14], state[15]) = (seed as u32, (seed >> 32) as u32);
        Stream { state, block: [0; WORDS], next: WORDS }
    }

    /// A number strictly between 0 and 1, one of 2^52 that lie equally far apart.
    pub(super) fn uniform(&mut self) -> f64 {
        let low = u64::from(self.word());
        let word = u64::from(self.word()) << 32 | low;
        ((word >> 12) as f64 + 0.5) / (1_u64 << 52) as f64
    }

    fn word(&mut self) -> u32 {
        if self.next == WORDS {
            self.block = block(&self.state);
            self.next = 0;
            // 64 bits of counter, low word first
            let (low, carry) = self.state[12].overflowing_add(1);
            self.state[12] = low;
            self.state[13] = self.state[13].wrapping_add(u32::from(carry));
        }
        self.next += 1;
        self.block[self.next - 1]
    }
}

/// The block function.
fn block(state: &[u32; WORDS]) -> [u32; WORDS] {
    let mut mixed = *state;
    for _ in 0..10 {
        for column in 0..4 {
            quarter(&mut mixed, [column, column + 4, column + 8, column + 12]);
        }
        for at in 0..4 {
            quarter(&mut mixed, [at, 4 + (at + 1) % 4, 8 + (at + 2) % 4, 12 + (at + 3) % 4]);
        }
    }
    for (word, before) in mixed.iter_mut().zip(state) {
        *word = word.wrapping_add(*before);
    }
    mixed
}

/// The quarter round (RFC 8439, section 2.1).
fn quarter(words: &mut [u32; WORDS], [a, b, c, d]: [usize; 4]) {
    for (sum, other, turned, by) in [(a, b, d, 16), (c, d, b, 12), (a, b, d, 8), (c, d, b, 7)] {
        words[sum] = words[sum].wrapping_add(words[other]);
        words[turned] = (words[turned] ^ words[sum]).rotate_left(by);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 8439, section 2.3.2: key 00..1f, block count 1, nonce 000000090000004a00000000.
    #[test]
    fn the_block_is_that_of_the_standard() {
        let key: [u8; 32] = core::array::from_fn(|at| at as u8);
        let mut stream = Stream::new(&key, 0x4a00_0000);
        (stream.state[12], stream.state[13]) = (1, 0x0900_0000);
        let expected = [
            0xe4e7_f110,
            0x1559_3bd1,
            0x1fdd_0f50,
            0xc471_20a3,
            0xc7f4_d1c7,
            0x0368_c033,
            0x9aaa_2204,
            0x4e6c_d4c3,
            0x4664_82d2,
            0x09aa_9f07,
            0x05d7_c214,
            0xa202_8bd9,
            0xd19c_12b5,
            0xb94e_16de,
            0xe883_d0cb,
            0x4e3c_50a2,
        ];
        assert_eq!(core::array::from_fn::<u32, WORDS, _>(|_| stream.word()), expected);
    }

    /// RFC 8439, appendix A.1, test vectors 1 and 2: key and nonce of zeros, block counts 0 and 1, first words.
    #[test]
    fn the_count_moves_on() {
        let mut stream = Stream::new(&[0; 32], 0);
        assert_eq!([stream.word(), stream.word()], [0xade0_b876, 0x903d_f1a0]);
        stream.next = WORDS;
        assert_eq!([stream.word(), stream.word()], [0xbee7_079f, 0x7a38_5155]);
    }

    /// Identities of a uniform distribution: mean 1/2, variance 1/12 (each within five of its own standard
    /// deviations at 10^5 draws), all strictly inside; another seed or key gives another stream.
    #[test]
    fn uniform_numbers_are_uniform() {
        let mut stream = Stream::new(&[7; 32], 1);
        let drawn: Vec<f64> = (0..100_000).map(|_| stream.uniform()).collect();
        let mean = drawn.iter().sum::<f64>() / 1e5;
        let variance = drawn.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / 1e5;
        assert!((mean - 0.5).abs() < 5.0 * 9.13e-4, "{mean}");
        assert!((variance - 1.0 / 12.0).abs() < 5.0 * 2.36e-4, "{variance}");
        assert!(drawn.iter().all(|x| *x > 0.0 && *x < 1.0));
        assert_ne!(Stream::new(&[7; 32], 2).uniform(), drawn[0]);
        assert_ne!(Stream::new(&[8; 32], 1).uniform(), drawn[0]);
    }
}
