//! Papers to print: PDF from the parts of a page and from drawings, pictures of drawings as PNG.
//!
//! Lengths are whole hundredths of a millimetre until they are written: only [`pdf`] and [`png`] know other numbers.

mod blocks;
mod cards;
mod fonts;
mod layout;
mod letters;
mod logo;
mod marks;
mod offer;
mod pdf;
mod png;
mod table;

pub use blocks::{Block, Paper, of_page};
pub use cards::cards;
pub use logo::{Logo, MOST_BYTES, NoLogo};
pub use offer::{Offer, Payment, Sheet, offer, room_for_picture};
pub use pdf::{NotPrinted, pdf};
pub use png::{NoPicture, png};

/// Hundredths of a millimetre.
pub type Hundredths = i32;
