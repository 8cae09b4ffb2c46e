//! Numbers that look like chance, the same each time. Source: G. Steele, D. Lea, C. Flood, "Fast splittable
//! pseudorandom number generators", 2014 (SplitMix64; S. Vigna's version, public domain).

/// From one state to the next.
pub const STEP: u64 = 0x9e37_79b9_7f4a_7c15;

/// The generator, by its state.
pub struct Random(pub u64);

impl Random {
    /// A number below `end`.
    pub fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_add(STEP);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % end as u64) as usize
    }
}
