//! The parts of the file, before anybody unpacks them in earnest: how many, how large, how large in truth.

use std::io::{Cursor, Read, sink};

use zip::ZipArchive;
use zip::read::ZipFile;

use crate::{Limits, Trouble};

/// Looks the parts over: the sizes they claim first, then what really comes out, and no more than that.
pub(crate) fn look_over(bytes: &[u8], limits: &Limits) -> Result<(), Trouble> {
    let mut parts = ZipArchive::new(Cursor::new(bytes)).map_err(|e| Trouble::Damaged(e.to_string()))?;
    if parts.len() > limits.parts {
        return Err(Trouble::TooLarge("parts in the file", u64::try_from(limits.parts).unwrap_or(u64::MAX)));
    }
    let too_large = Trouble::TooLarge("bytes when unpacked", limits.unpacked);
    let mut claimed = 0_u64;
    for i in 0..parts.len() {
        let part = parts.by_index_raw(i).map_err(|e| Trouble::Damaged(e.to_string()))?;
        if read(&name(&part)?) {
            claimed = claimed.saturating_add(part.size());
        }
    }
    if claimed > limits.unpacked {
        return Err(too_large);
    }
    let mut left = limits.unpacked;
    for i in 0..parts.len() {
        let part = parts.by_index(i).map_err(|e| Trouble::Damaged(e.to_string()))?;
        if !read(&name(&part)?) {
            continue;
        }
        let mut part = part.take(left.saturating_add(1));
        let came = std::io::copy(&mut part, &mut sink()).map_err(|e| Trouble::Damaged(e.to_string()))?;
        left = left.checked_sub(came).ok_or_else(|| too_large.clone())?;
    }
    Ok(())
}

fn name<R: Read>(part: &ZipFile<'_, R>) -> Result<String, Trouble> {
    part.name().map(|n| n.to_string()).map_err(|e| Trouble::Damaged(e.to_string()))
}

/// Is the part one that a reader of cells opens? Pictures and the like stay packed.
fn read(name: &str) -> bool {
    let name = name.to_lowercase().replace('\\', "/");
    !name.starts_with("xl/media/") && !name.starts_with("xl/embeddings/")
}
