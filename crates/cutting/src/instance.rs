//! What is asked: pieces, stock, the width of a cut.

/// The longest length, in the unit of the caller (mm).
pub const MOST_LENGTH: i64 = 10_000_000;
/// The most pieces of one row.
pub const MOST_COUNT: u64 = 1_000_000_000;
/// The most rows.
pub const MOST_ROWS: usize = 100_000;
/// The most kinds of stock.
pub const MOST_STOCKS: usize = 64;
/// The highest price of one bar, in the smallest unit of the caller's money.
pub const MOST_PRICE: i64 = 1_000_000_000_000;

/// Pieces of one length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Length, whole units (mm).
    pub length: i64,
    /// How many.
    pub count: u64,
}

/// Bars of one length that can be had.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stock {
    /// Length, whole units (mm).
    pub length: i64,
    /// Price of one bar; 0 for an offcut that lies in the store. Where bars are only counted: 1.
    pub price: i64,
    /// How many there are; `None` where any number can be bought.
    pub limit: Option<u64>,
}

/// A list of pieces and the stock to cut it from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instance {
    /// What is to be cut.
    pub pieces: Vec<Piece>,
    /// What it is cut from.
    pub stocks: Vec<Stock>,
    /// Width of a cut. Every piece is counted with one cut, every bar with one more.
    pub kerf: i64,
}

/// Why a list is not solved at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// A length or count of a piece outside 1 to the most, by its row.
    Piece(usize),
    /// More rows than [`MOST_ROWS`].
    Rows,
    /// A length, price or number of a stock outside its bounds, by its place.
    Stock(usize),
    /// More kinds of stock than [`MOST_STOCKS`].
    Stocks,
    /// A cut of less than nothing, or too wide.
    Kerf,
    /// No stock that can be bought in any number at a price.
    NothingToBuy,
    /// A piece longer than every stock that can be bought in any number, by its row.
    TooLong(usize),
}

impl Instance {
    /// Bars that must be bought at the very least, by the sum of lengths alone. Of a sound instance.
    #[must_use]
    pub fn fewest_bars(&self) -> i128 {
        let with_cut = |l: i64| i128::from(l) + i128::from(self.kerf);
        let need: i128 = self.pieces.iter().map(|p| with_cut(p.length) * i128::from(p.count)).sum();
        let free = self.stocks.iter().filter(|s| s.price == 0);
        let free: i128 = free.map(|s| with_cut(s.length) * i128::from(s.limit.unwrap_or(0))).sum();
        let longest = self.stocks.iter().filter(|s| s.price > 0).map(|s| with_cut(s.length)).max();
        let longest = longest.unwrap_or(1).max(1);
        (need - free).max(0).div_euclid(longest) + i128::from((need - free).max(0) % longest > 0)
    }

    /// Looks for what cannot be solved.
    ///
    /// # Errors
    /// See [`Refused`].
    pub fn validate(&self) -> Result<(), Refused> {
        let length = |l: i64| (1..=MOST_LENGTH).contains(&l);
        if !(0..=MOST_LENGTH).contains(&self.kerf) {
            return Err(Refused::Kerf);
        }
        if self.pieces.len() > MOST_ROWS {
            return Err(Refused::Rows);
        }
        if self.stocks.len() > MOST_STOCKS {
            return Err(Refused::Stocks);
        }
        let sound = |s: &Stock| {
            let number = s.limit.is_none_or(|n| n <= MOST_COUNT);
            // A free stock without limit leaves nothing to be least.
            length(s.length) && number && (s.price > 0 || (s.price == 0 && s.limit.is_some()))
        };
        if let Some(i) = self.stocks.iter().position(|s| !sound(s) || s.price > MOST_PRICE) {
            return Err(Refused::Stock(i));
        }
        let bought = self.stocks.iter().filter(|s| s.limit.is_none()).map(|s| s.length);
        let longest = bought.max().ok_or(Refused::NothingToBuy)?;
        for (i, piece) in self.pieces.iter().enumerate() {
            if !length(piece.length) || !(1..=MOST_COUNT).contains(&piece.count) {
                return Err(Refused::Piece(i));
            }
            if piece.length > longest {
                return Err(Refused::TooLong(i));
            }
        }
        Ok(())
    }
}
