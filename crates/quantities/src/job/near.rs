//! The nearest of some names, for suggestions.

/// The name that is a small slip away from `word`: a letter wrong, missing, too many, or two swapped.
pub(super) fn nearest<'a>(word: &str, names: impl IntoIterator<Item = &'a str>) -> Option<(usize, &'a str)> {
    let plain = |text: &str| text.to_lowercase().replace(['-', ' '], "_").chars().collect::<Vec<_>>();
    let letters = plain(word);
    if letters.is_empty() || letters.len() > 40 {
        return None;
    }
    let best = names.into_iter().map(|n| (distance(&letters, &plain(n)), n)).min_by_key(|(d, _)| *d)?;
    let most = match letters.len() {
        1..=2 => 1,
        3..=7 => 2,
        _ => 3,
    };
    (best.0 <= most && best.0 < letters.len()).then_some(best)
}

/// Edits that turn one into the other; a swap of neighbours is one.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before = vec![0; b.len() + 1];
    let mut above: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, y) in b.iter().enumerate() {
            let mut d = (above[j] + usize::from(x != y)).min(above[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && *x == b[j - 1] && a[i - 1] == *y {
                d = d.min(before[j - 1] + 1);
            }
            row.push(d);
        }
        before = std::mem::replace(&mut above, row);
    }
    above[b.len()]
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn finds_small_slips_only() {
        let names = ["width", "height", "chambers", "cover_top", "mix"];
        let found = |word| nearest(word, names).map(|(_, n)| n);
        assert_eq!(found("heigth"), Some("height"));
        assert_eq!(found("chamber"), Some("chambers"));
        assert_eq!(found("Cover-Top"), Some("cover_top"));
        assert_eq!(found("wdith"), Some("width"));
        assert_eq!(found("colour"), None);
        assert_eq!(found(""), None);
        assert_eq!(nearest("x", []), None);
    }
}
