//! What a part would make of memory, told from its bytes. Nothing is understood here, only counted: whatever the part
//! says, in whatever encoding, it is counted no lower than it is.

use std::io::{self, Write};

/// Counts of one part, as it is unpacked.
#[derive(Debug, Default)]
pub(crate) struct Scan {
    /// Bytes.
    pub(crate) bytes: u64,
    /// Tags.
    pub(crate) tags: u64,
    /// Tags whose name begins with `sheet`.
    pub(crate) sheets: u64,
    /// The longest run of bytes without a quotation mark: no value in quotes is longer.
    pub(crate) longest: u64,
    /// The largest number of strings that a table of strings says it holds.
    pub(crate) strings: u64,
    run: u64,
    sheet: usize,
    unique: usize,
    said: Said,
}

/// Where a number of strings is being read.
#[derive(Debug, Default)]
enum Said {
    #[default]
    No,
    Begins,
    Number(u8, u64),
}

const SHEET: &[u8] = b"sheet";
const UNIQUE: &[u8] = b"uniqueCount";

impl Scan {
    fn byte(&mut self, byte: u8) {
        self.bytes += 1;
        // The other half of a letter in UTF-16.
        if byte == 0 {
            return;
        }
        let quote = matches!(byte, b'"' | b'\'');
        self.run = if quote { 0 } else { self.run + 1 };
        self.longest = self.longest.max(self.run);
        self.tags += u64::from(byte == b'<');
        // `sheet` counts behind `<` or `x:`, `uniqueCount` anywhere.
        self.sheet = match (byte, self.sheet) {
            (b'<' | b':', _) => 1,
            (b, at) if at > 0 && SHEET.get(at - 1) == Some(&b) => at + 1,
            _ => 0,
        };
        if self.sheet > SHEET.len() {
            (self.sheets, self.sheet) = (self.sheets + 1, 0);
        }
        self.unique = match UNIQUE.get(self.unique) == Some(&byte) {
            true => self.unique + 1,
            false => usize::from(UNIQUE.first() == Some(&byte)),
        };
        self.said = match (&self.said, quote) {
            _ if self.unique == UNIQUE.len() => Said::Begins,
            (Said::Begins, true) => Said::Number(byte, 0),
            (Said::Begins, false) => Said::Begins,
            (Said::Number(open, _), true) if *open == byte => Said::No,
            (Said::Number(open, n), _) => {
                let digit = u64::from(byte.wrapping_sub(b'0'));
                let n = if digit < 10 { n.saturating_mul(10).saturating_add(digit) } else { *n };
                self.strings = self.strings.max(n);
                Said::Number(*open, n)
            }
            (Said::No, _) => Said::No,
        };
    }
}

impl Write for Scan {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        bytes.iter().for_each(|b| self.byte(*b));
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn scan(text: &[u8]) -> Scan {
        let mut scan = Scan::default();
        // In pieces, as it is unpacked.
        text.chunks(3).for_each(|c| drop(scan.write_all(c)));
        scan
    }

    #[test]
    fn counts() {
        let s = scan(b"<x:sheets><sheet name='ab' id=\"abcdefghijklmn\"/><sheet/> a sheet</x:sheets>");
        assert_eq!((s.tags, s.sheets, s.longest), (4, 4, 29));
        assert_eq!((s.bytes, s.strings), (75, 0));
    }

    #[test]
    fn no_way_of_writing_hides_a_number() {
        for text in [
            "<sst uniqueCount=\"123456\">",
            "<sst count='9' uniqueCount = '123456'>",
            "<!-- <sst > --><x:sst a='>' unique='7' uniqueuniqueCount\n=\n\"+000123456\">",
            "<sst uniqueCount='5'><sst uniqueCount='123456'><sst uniqueCount=''>",
        ] {
            assert_eq!(scan(text.as_bytes()).strings, 123_456, "{text}");
            let wide: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
            assert_eq!(scan(&wide).strings, 123_456, "{text} in UTF-16");
        }
        assert_eq!(scan(b"<sst uniqueCount='99999999999999999999999'>").strings, u64::MAX);
        assert_eq!(scan(b"<sst uniqueCoun='9' u=\"8\">").strings, 0);
    }
}
