//! Lists made by a seed, for tests and the speed example.

/// A small generator, the same on every machine.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// A number from `low` to `high`.
    pub(crate) fn roll(&mut self, low: i64, high: i64) -> i64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        let span = u64::try_from(high - low + 1).unwrap_or(1);
        low + i64::try_from((self.0 >> 11) % span).unwrap_or(0)
    }
}

/// A list as builders have it: 10 to 15 lengths of 300 to 6000, 20 to 300 pieces together.
pub(crate) fn realistic(dice: &mut Dice) -> Vec<(i64, u64)> {
    let kinds = dice.roll(10, 15);
    let total = dice.roll(20, 300);
    let mut list: Vec<(i64, u64)> = (0..kinds).map(|_| (dice.roll(300, 6000), 1)).collect();
    for _ in kinds..total {
        let at = usize::try_from(dice.roll(0, kinds - 1)).unwrap_or(0);
        list[at].1 += 1;
    }
    list
}

/// Triplets: bars cut in three without waste, so that the least number is known.
pub(crate) fn triplets(dice: &mut Dice, bars: usize, stock: i64) -> Vec<(i64, u64)> {
    let mut list = Vec::new();
    for _ in 0..bars {
        let a = dice.roll(stock * 38 / 100, stock * 49 / 100);
        let b = dice.roll((stock - a) / 2 - stock * 5 / 100, (stock - a) / 2);
        list.extend([(a, 1), (b, 1), (stock - a - b, 1)]);
    }
    list
}

/// Lengths even over a range.
pub(crate) fn uniform(dice: &mut Dice, pieces: usize, low: i64, high: i64) -> Vec<(i64, u64)> {
    (0..pieces).map(|_| (dice.roll(low, high), 1)).collect()
}
