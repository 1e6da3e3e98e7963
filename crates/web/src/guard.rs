//! Who may ask: only this machine, and only our own page in its browser. Limits of what is asked.

use std::time::Duration;

use hyper::header::{CONTENT_TYPE, HOST, HeaderMap, HeaderName, ORIGIN};
use hyper::{Method, StatusCode, Uri};

/// Bytes of a question, a job file with it.
pub(crate) const LONGEST_ASK: usize = 1_000_000;
/// Bytes of a file that is dropped.
pub(crate) const LONGEST_FILE: usize = 8_000_000;
/// Bytes of a request's head.
pub(crate) const LONGEST_HEAD: usize = 16_384;
/// A request's head must be here by then; so long a connection may idle.
pub(crate) const HEAD_TIME: Duration = Duration::from_secs(10);
/// Its body.
pub(crate) const BODY_TIME: Duration = Duration::from_secs(20);
/// Who reads nothing of an answer for so long is let go.
pub(crate) const READ_TIME: Duration = Duration::from_secs(20);
/// The answer must be made by then.
pub(crate) const WORK_TIME: Duration = Duration::from_secs(60);
/// Connections at once; others wait. Many: one that says nothing costs little, and must not stand in the way of others.
pub(crate) const CONNECTIONS: usize = 256;
/// Bytes of all questions at once that wait for an answer; others wait to be heard.
pub(crate) const HEARD: usize = 64_000_000;
/// Answers that are made at once; others wait.
pub(crate) const WORKERS: usize = 4;

/// Headers of every answer: nothing from elsewhere, nothing kept, no frame round the page.
pub(crate) const ALWAYS: [(&str, &str); 6] = [
    (
        "content-security-policy",
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; \
         base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
    ),
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "no-referrer"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cache-control", "no-store"),
];

const FETCH_SITE: HeaderName = HeaderName::from_static("sec-fetch-site");

/// Refuses what does not come from our own page: another host (a name that was pointed at this machine), another
/// origin, a form of another page.
pub(crate) fn check(
    (method, uri): (&Method, &Uri),
    headers: &HeaderMap,
    port: u16,
) -> Result<(), (StatusCode, &'static str)> {
    let one = |name: &HeaderName| headers.get_all(name).iter().count() < 2;
    if ![CONTENT_TYPE, ORIGIN, FETCH_SITE].iter().all(one) {
        return Err((StatusCode::BAD_REQUEST, "a header is given twice"));
    }
    let text = |name: HeaderName| headers.get(name).map(|v| v.to_str().unwrap_or("?"));
    let ours = |host: &str| {
        let (name, given) = host.rsplit_once(':').unwrap_or((host, "80"));
        ["127.0.0.1", "localhost"].contains(&name) && given.parse() == Ok(port)
    };
    // A whole address in the place of a path names its own host.
    let addressed = uri.authority().is_none_or(|a| ours(a.as_str()));
    if headers.get_all(HOST).iter().count() != 1 || !text(HOST).is_some_and(ours) || !addressed {
        return Err((StatusCode::FORBIDDEN, "another host: the page answers on the loopback address only"));
    }
    let origin = text(ORIGIN).map(|o| o.strip_prefix("http://").is_some_and(ours));
    let site = text(FETCH_SITE).map(|s| matches!(s, "same-origin" | "none"));
    if origin == Some(false) || site == Some(false) {
        return Err((StatusCode::FORBIDDEN, "another page may not ask here"));
    }
    // Forms of other pages can send neither of these kinds without asking first.
    let kind = text(CONTENT_TYPE).unwrap_or_default();
    if method == Method::POST && !["application/json", "application/octet-stream"].contains(&kind) {
        return Err((StatusCode::UNSUPPORTED_MEDIA_TYPE, "questions are JSON"));
    }
    Ok(())
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test stops where it fails")]
mod tests {
    use super::*;

    fn asked(method: &Method, headers: &[(&'static str, &str)]) -> Option<u16> {
        let mut map = HeaderMap::new();
        for (name, value) in headers {
            map.append(HeaderName::from_static(name), value.parse().unwrap());
        }
        let path = Uri::from_static("/");
        check((method, &path), &map, 8000).err().map(|(status, _)| status.as_u16())
    }

    #[test]
    fn only_our_own_page_may_ask() {
        let get = |headers: &[(&'static str, &str)]| asked(&Method::GET, headers);
        for host in ["127.0.0.1:8000", "localhost:8000"] {
            assert_eq!(get(&[("host", host)]), None, "{host}");
        }
        for host in [
            "evil.example:8000",
            "127.0.0.1:8001",
            "127.0.0.1",
            "localhost.evil.example:8000",
            "[::1]:8000",
            "",
        ] {
            assert_eq!(get(&[("host", host)]), Some(403), "{host}");
        }
        assert_eq!(get(&[]), Some(403));
        assert_eq!(get(&[("host", "127.0.0.1:8000"), ("host", "evil.example")]), Some(403));
        let here = ("host", "127.0.0.1:8000");
        for (origin, want) in [
            ("http://127.0.0.1:8000", None),
            ("http://localhost:8000", None),
            ("http://127.0.0.1:9000", Some(403)),
            ("https://127.0.0.1:8000", Some(403)),
            ("http://evil.example", Some(403)),
            ("null", Some(403)),
        ] {
            assert_eq!(get(&[here, ("origin", origin)]), want, "{origin}");
        }
        assert_eq!(get(&[here, ("sec-fetch-site", "cross-site")]), Some(403));
        assert_eq!(get(&[here, ("sec-fetch-site", "none")]), None);
        let post = |kind| asked(&Method::POST, &[here, ("content-type", kind)]);
        assert_eq!((post("application/json"), post("text/plain")), (None, Some(415)));
        assert_eq!(asked(&Method::POST, &[here]), Some(415));
    }
}
