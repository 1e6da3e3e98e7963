//! Hard use of the local page's server: other hosts, other pages, nonsense, slow and many clients.

use std::collections::BTreeMap;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

use serde_json::json;

use crate::page::{get, page, post, raw, text, with};

#[test]
fn only_our_own_page_may_ask_and_only_its_files_are_given() {
    let at = page("smallest");
    let first = get(at, "/");
    assert_eq!(first.status, 200);
    for header in
        ["content-security-policy: default-src 'none'; script-src 'self'", "x-content-type-options: nosniff"]
    {
        assert!(first.head.contains(header), "{}", first.head);
    }
    let port = at.port();
    let hosts = ["evil.example", "127.0.0.1:1", "localhost.evil.example", "169.254.1.1"];
    for host in hosts {
        let reply =
            raw(at, format!("GET / HTTP/1.1\r\nhost: {host}\r\nconnection: close\r\n\r\n").as_bytes());
        assert_eq!(reply.status, 403, "{host}");
    }
    let local =
        raw(at, format!("GET / HTTP/1.1\r\nhost: localhost:{port}\r\nconnection: close\r\n\r\n").as_bytes());
    assert_eq!(local.status, 200);
    assert_eq!(with(at, "GET /start", "origin: http://evil.example\r\n", b"").status, 403);
    assert_eq!(with(at, "GET /start", "sec-fetch-site: cross-site\r\n", b"").status, 403);
    let form = "content-type: text/plain\r\n";
    assert_eq!(with(at, "POST /estimate", form, b"{}").status, 415);
    let crossed = "content-type: application/json\r\norigin: http://evil.example\r\n";
    assert_eq!(with(at, "POST /estimate", crossed, b"{\"text\":\"\"}").status, 403);
    for path in [
        "/../Cargo.toml",
        "/%2e%2e/Cargo.toml",
        "/etc/passwd",
        "//etc/passwd",
        "/page.html",
        "/samples/",
        "/page.css/..",
        "/\\..\\x",
    ] {
        assert!([400, 404].contains(&get(at, path).status), "{path}");
    }
    for method in ["PUT", "DELETE", "OPTIONS", "TRACE"] {
        assert_eq!(with(at, &format!("{method} /"), "", b"").status, 405, "{method}");
    }
}

#[test]
fn nonsense_is_refused_and_the_page_stays_up() {
    let at = page("smallest");
    let json = "content-type: application/json\r\n";
    for body in
        [b"".as_slice(), b"{", b"[]", b"{\"text\": 1}", b"\xff\xfe\x00", b"{\"text\":\"\\ud800\"}", b"null"]
    {
        for path in [
            "/estimate",
            "/compare",
            "/paper",
            "/cheapest",
            "/cheapest/look",
            "/crosscheck",
            "/list",
            "/second",
        ] {
            assert_eq!(with(at, &format!("POST {path}"), json, body).status, 400, "{path} {body:?}");
        }
    }
    for text in [
        "",
        "\u{0}",
        "[",
        "format = 1",
        "a = [[[[[[[[",
        "\u{feff}\u{202e}",
        "x = \"<script>alert(1)</script>\"",
    ] {
        let reply = post(
            at,
            "/estimate",
            &json!({"text": text, "edits": [{"path": "tank.width", "value": "<b>\"\\\n"}, {"path": "", "value": ""}]}),
        );
        assert_eq!((reply.status, reply.json()["state"].as_str()), (200, Some("refused")), "{text:?}");
    }
    // Deep, long, large.
    let deep = format!("{}1{}", "[".repeat(200_000), "]".repeat(200_000));
    assert_eq!(with(at, "POST /estimate", json, deep.as_bytes()).status, 400);
    let deep = format!("a = {}1{}", "[".repeat(100_000), "]".repeat(100_000));
    assert_eq!(post(at, "/estimate", &json!({"text": deep})).status, 200);
    assert_eq!(with(at, "POST /estimate", json, &vec![b' '; 1_000_001]).status, 413);
    assert_eq!(
        with(at, "POST /list", "content-type: application/octet-stream\r\n", &vec![b' '; 8_000_001]).status,
        413
    );
    let long = format!("GET /{} HTTP/1.1\r\nhost: {at}\r\n\r\n", "a".repeat(100_000));
    assert!([0, 400, 414, 431].contains(&raw(at, long.as_bytes()).status));
    assert_eq!(raw(at, b"hello\r\n\r\n").status, 400);
    assert_eq!(raw(at, b"\x16\x03\x01\x02\x00\x01").status, 400);
    assert_eq!(post(at, "/estimate", &json!({"text": text("smallest")})).json()["state"], "priced");
}

#[test]
fn slow_and_many_clients_do_not_stop_it() {
    let at = page("smallest");
    let body = json!({"text": text("smallest")}).to_string();
    // Who sends half a head, or half a body, is let go; others are answered meanwhile.
    let half = |bytes: &[u8]| {
        let mut stream = TcpStream::connect(at).unwrap();
        stream.write_all(bytes).unwrap();
        stream
    };
    let slow: Vec<TcpStream> = (0..20).map(|_| half(b"GET / HTTP/1.1\r\nhos")).collect();
    let head = format!(
        "POST /estimate HTTP/1.1\r\nhost: {at}\r\ncontent-type: application/json\r\ncontent-length: 100\r\n\r\n{{"
    );
    let mut mute = half(head.as_bytes());
    let begin = Instant::now();
    let totals: Vec<_> = std::thread::scope(|scope| {
        let one = || {
            let reply = with(at, "POST /estimate", "content-type: application/json\r\n", body.as_bytes());
            (reply.status, reply.json()["bill"]["total"].clone())
        };
        let all: Vec<_> = (0..200).map(|_| scope.spawn(one)).collect();
        all.into_iter().map(|t| t.join().unwrap()).collect()
    });
    let mut seen = BTreeMap::new();
    totals.into_iter().for_each(|(status, total)| *seen.entry((status, total.to_string())).or_insert(0) += 1);
    assert_eq!(seen.len(), 1, "{seen:?}");
    assert_eq!(seen.keys().next().map(|(status, _)| *status), Some(200));
    let ended = |stream: &mut TcpStream, least: u64| {
        stream.set_read_timeout(Some(Duration::from_secs(40))).unwrap();
        let mut rest = Vec::new();
        let read = stream.read_to_end(&mut rest);
        assert!(read.is_ok(), "{read:?}");
        assert!(begin.elapsed() < Duration::from_secs(least + 60));
        String::from_utf8_lossy(&rest).into_owned()
    };
    for mut stream in slow {
        ended(&mut stream, 10);
    }
    assert!(ended(&mut mute, 20).starts_with("HTTP/1.1 408"));
    assert_eq!(get(at, "/").status, 200);
}
