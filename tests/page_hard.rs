//! The page as a process under hard use: it reads no file of the machine, takes malformed requests calmly, and neither
//! slow, mute nor many clients stop it or fill the memory.

use std::fs;
use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::time::{Duration, Instant};

use serde_json::json;
use tankwright_quantities::flow::job_tables;
use tankwright_quantities::job::Kind;
use tankwright_tests::program::root;

use crate::hard_use::{TESTED, first_line, room};
use crate::page::{get, page, post, raw, text, with};

const JSON: &str = "content-type: application/json\r\n";

/// A page in a process of its own, ended with the test.
struct Served {
    child: Child,
    at: SocketAddr,
}

impl Served {
    fn begin() -> Self {
        let mut command = Command::new(TESTED);
        let args = ["serve", "samples/smallest/job.toml"];
        command
            .args(args)
            .current_dir(root())
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null());
        let mut child = command.spawn().unwrap();
        let line = first_line(child.stdout.as_mut().unwrap());
        let at = line.trim().trim_start_matches("http://").trim_end_matches('/').parse().unwrap();
        Self { child, at }
    }

    /// The most memory that it has had so far, in MB.
    fn most(&self) -> u64 {
        let status = fs::read_to_string(format!("/proc/{}/status", self.child.id())).unwrap();
        let line = status.lines().find(|l| l.starts_with("VmHWM")).unwrap();
        line.split_whitespace().nth(1).unwrap().parse::<u64>().unwrap() / 1_000
    }

    /// A good client is answered, and soon.
    fn answers(&self, what: &str) {
        let start = Instant::now();
        let reply = post(self.at, "/estimate", &json!({"text": text("smallest")}));
        assert_eq!((reply.status, reply.json()["state"].as_str()), (200, Some("priced")), "{what}");
        assert!(start.elapsed() < Duration::from_secs(8), "{what}: answered after {:?}", start.elapsed());
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A job text with a value set at a key, wherever its table is.
fn set(job: &str, key: &str, value: &str) -> String {
    let (table, name) = key.rsplit_once('.').unwrap();
    let (list, table) = table.strip_suffix("[]").map_or((false, table), |t| (true, t));
    let head = if list {
        format!("[[{}]]", table.replace("[]", ""))
    } else {
        format!("[{}]", table.replace("[]", ""))
    };
    let line = format!("{name} = {value}\n");
    let plain: String = job
        .split_inclusive('\n')
        .filter(|l| list || l.split('=').next().unwrap().trim() != name || l.starts_with('#'))
        .collect();
    match plain.find(&format!("{head}\n")) {
        Some(at) => {
            let end = at + head.len() + 1;
            format!("{}{line}{}", &plain[..end], &plain[end..])
        }
        None => format!("{plain}\n{head}\n{line}"),
    }
}

#[test]
fn a_job_on_the_page_reads_no_file_of_the_machine() {
    let dir = room("page-files");
    // Pipes: whoever opened one would wait for ever. And a file that would be read at once.
    for ending in ["csv", "xlsx", "svg", "png", "toml"] {
        assert!(Command::new("mkfifo").arg(dir.join(format!("pipe.{ending}"))).status().unwrap().success());
    }
    let secret = "a secret of this machine";
    fs::write(dir.join("list.csv"), format!("kind,code,description,unit,rate,currency,date,source\nwork,bottom-trim,{secret},m2,77777,UGX,2026-10-01,x\n")).unwrap();
    fs::write(
        dir.join("logo.svg"),
        format!("<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><text>{secret}</text></svg>"),
    )
    .unwrap();
    let keys: Vec<(&str, bool)> = job_tables()
        .into_iter()
        .flatten()
        .filter_map(|f| match f.kind {
            Some(Kind::Text) => Some((f.key, false)),
            Some(Kind::Texts) => Some((f.key, true)),
            _ => None,
        })
        .collect();
    for named in ["job.rates", "firm.logo"] {
        assert!(keys.iter().any(|(key, _)| *key == named), "{named}");
    }
    assert!(keys.len() > 20, "{keys:?}");
    let at = page("rest-house");
    let job = text("rest-house") + "\n[firm]\nname = \"Hill Road Builders\"\n";
    let place = dir.display().to_string();
    let (done, all) = mpsc::channel();
    std::thread::spawn(move || {
        for (key, list) in keys {
            for file in
                ["pipe.csv", "pipe.xlsx#Prices", "pipe.svg", "pipe.png", "pipe.toml", "list.csv", "logo.svg"]
            {
                // One ending is enough where no file is ever meant.
                if !["job.rates", "firm.logo"].contains(&key) && file != "pipe.csv" {
                    continue;
                }
                let value = json!(format!("{place}/{file}")).to_string();
                let changed = set(&job, key, &if list { format!("[{value}]") } else { value });
                let mut heard = vec![post(at, "/estimate", &json!({"text": changed}))];
                if key.starts_with("firm") || key == "job.rates" {
                    heard.push(post(at, "/paper", &json!({"text": changed, "paper": "offer.pdf"})));
                    heard.push(post(at, "/paper", &json!({"text": changed, "paper": "bill.csv"})));
                    heard.push(post(at, "/compare", &json!({"a": job, "b": changed})));
                    heard.push(post(
                        at,
                        "/crosscheck",
                        &json!({"text": changed, "name": format!("{place}/{file}")}),
                    ));
                }
                for reply in heard {
                    let body = String::from_utf8_lossy(&reply.body).into_owned();
                    assert!(!body.contains(secret) && !body.contains("77777"), "{key} {file}: {body}");
                    assert!(reply.status < 500, "{key} {file}: {body}");
                    drop(done.send((key, file, reply.status, body)));
                }
            }
        }
    });
    let mut seen = Vec::new();
    loop {
        match all.recv_timeout(Duration::from_secs(30)) {
            Ok(one) => seen.push(one),
            Err(mpsc::RecvTimeoutError::Disconnected) => break,
            Err(mpsc::RecvTimeoutError::Timeout) => {
                panic!("waits for a file after {:?}", seen.last().map(|(k, f, ..)| (k, f)))
            }
        }
    }
    // They came as far as to be told that the page has no such list; a logo is not looked for.
    assert!(seen.iter().any(|(key, _, _, body)| *key == "job.rates" && body.contains("W002")));
    assert!(
        seen.iter().any(|(key, file, status, body)| (*key, *file, *status) == ("firm.logo", "pipe.svg", 200)
            && body.contains("\"priced\""))
    );
    let tried = seen.iter().map(|(key, ..)| *key).collect::<std::collections::BTreeSet<_>>();
    assert!(tried.len() > 20, "{tried:?}");
    fs::remove_dir_all(dir).unwrap();
}

/// What is answered first; whatever follows it on the same connection is waited for a moment only.
fn answer(at: SocketAddr, bytes: &[u8]) -> String {
    let mut stream = TcpStream::connect(at).unwrap();
    drop(stream.write_all(bytes));
    let (mut all, mut some) = (Vec::new(), [0; 4096]);
    let mut wait = 15_000;
    loop {
        stream.set_read_timeout(Some(Duration::from_millis(wait))).unwrap();
        match stream.read(&mut some) {
            Ok(n) if n > 0 => all.extend_from_slice(&some[..n]),
            _ => return String::from_utf8_lossy(&all).into_owned(),
        }
        wait = 100;
    }
}

#[test]
fn malformed_requests_are_refused_calmly() {
    let served = Served::begin();
    let at = served.at;
    let host = format!("host: {at}\r\n");
    let question = json!({"text": text("smallest")}).to_string();
    let length = question.len();
    let chunked = format!("POST /estimate HTTP/1.1\r\n{host}{JSON}transfer-encoding: chunked\r\n");
    let posted = format!("POST /estimate HTTP/1.1\r\n{host}{JSON}");
    let requests: Vec<(&str, Vec<u8>, &[u16])> = vec![
        ("HTTP/0.9", b"GET /\r\n".to_vec(), &[0, 400]),
        ("HTTP/0.9 with an end", b"GET /\r\n\r\n".to_vec(), &[0, 400]),
        ("HTTP/2 straight away", b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n".to_vec(), &[0, 400, 403]),
        ("HTTP/1.0 without a host", b"GET / HTTP/1.0\r\n\r\n".to_vec(), &[403]),
        ("a version of its own", format!("GET / HTTP/9.9\r\n{host}\r\n").into(), &[0, 400, 505]),
        ("another's address", format!("GET http://evil.example/ HTTP/1.1\r\n{host}\r\n").into(), &[403]),
        ("another port's address", format!("GET http://127.0.0.1:1/ HTTP/1.1\r\n{host}\r\n").into(), &[403]),
        ("a tunnel", format!("CONNECT evil.example:80 HTTP/1.1\r\n{host}\r\n").into(), &[403, 405]),
        ("a star", format!("OPTIONS * HTTP/1.1\r\n{host}\r\n").into(), &[0, 405]),
        ("two hosts", format!("GET / HTTP/1.1\r\n{host}host: evil.example\r\n\r\n").into(), &[400, 403]),
        ("a host with a path", b"GET / HTTP/1.1\r\nhost: evil.example/@127.0.0.1\r\n\r\n".to_vec(), &[400, 403]),
        ("bad UTF-8 in the host", [b"GET / HTTP/1.1\r\nhost: ".as_slice(), b"\xff\xfe", b"\r\n\r\n"].concat(), &[400, 403]),
        ("bad UTF-8 in the path", [b"GET /\xff\xfe HTTP/1.1\r\n".as_slice(), host.as_bytes(), b"\r\n"].concat(), &[0, 400, 404]),
        ("bad UTF-8 in an origin", [b"GET /start HTTP/1.1\r\n".as_slice(), host.as_bytes(), b"origin: \xff\r\n\r\n"].concat(), &[400, 403]),
        ("a NUL in the path", [b"GET /\0 HTTP/1.1\r\n".as_slice(), host.as_bytes(), b"\r\n"].concat(), &[0, 400]),
        ("a folded header", format!("GET / HTTP/1.1\r\n{host} folded\r\n\r\n").into(), &[0, 400, 403]),
        ("a thousand headers", format!("GET / HTTP/1.1\r\n{host}{}\r\n", "a: b\r\n".repeat(1_000)).into(), &[0, 400, 431]),
        ("a header of 1 MB", format!("GET / HTTP/1.1\r\n{host}a: {}\r\n\r\n", "b".repeat(1_000_000)).into(), &[0, 400, 431]),
        ("two kinds", format!("{posted}content-type: text/plain\r\ncontent-length: {length}\r\n\r\n{question}").into(), &[400, 415]),
        ("two origins", format!("GET /start HTTP/1.1\r\n{host}origin: http://{at}\r\norigin: http://evil.example\r\n\r\n").into(), &[400, 403]),
        ("two lengths", format!("{posted}content-length: {length}\r\ncontent-length: 1\r\n\r\n{question}").into(), &[0, 400]),
        ("a length and chunks", format!("{chunked}content-length: 4\r\n\r\nzzzz\r\n0\r\n\r\n").into(), &[0, 400]),
        ("a length below nothing", format!("{posted}content-length: -1\r\n\r\n{question}").into(), &[0, 400]),
        ("a length beyond all", format!("{posted}content-length: 99999999999999999999999\r\n\r\n{question}").into(), &[0, 400]),
        ("a length of 10 GB", format!("{posted}content-length: 10000000000\r\n\r\n{question}").into(), &[413]),
        ("chunks of nonsense", format!("{chunked}\r\nzzz\r\nnot a chunk\r\n").into(), &[0, 400]),
        ("a chunk beyond all", format!("{chunked}\r\nffffffffffffffffff\r\n{{").into(), &[0, 400]),
        ("a chunk with a long remark", format!("{chunked}\r\n1;{}\r\n{{\r\n0\r\n\r\n", "x".repeat(100_000)).into(), &[0, 400]),
        ("kinds that are another", format!("POST /estimate HTTP/1.1\r\n{host}content-type: application/json; charset=utf-7\r\ncontent-length: 2\r\n\r\n{{}}").into(), &[415]),
        ("packed", format!("{posted}content-encoding: gzip\r\ncontent-length: 4\r\n\r\n\x1f\x0b\x08\x08").into(), &[400]),
        ("the page's own files by another way", format!("GET /page.js/../../../etc/passwd HTTP/1.1\r\n{host}\r\n").into(), &[404]),
        ("a path in code", format!("GET /%2e%2e%2f%2e%2e%2fetc%2fpasswd HTTP/1.1\r\n{host}\r\n").into(), &[404]),
        ("a path in code twice", format!("GET /%252e%252e/etc/passwd HTTP/1.1\r\n{host}\r\n").into(), &[404]),
        ("a drive", format!("GET /C:\\job.toml HTTP/1.1\r\n{host}\r\n").into(), &[0, 400, 404]),
    ];
    let mut other = Vec::new();
    for (name, bytes, want) in requests {
        let said = answer(at, &bytes);
        let status: u16 = said.split(' ').nth(1).and_then(|s| s.parse().ok()).unwrap_or(0);
        if !want.contains(&status) {
            other.push(format!("{name}: {status}\n{}", said.chars().take(100).collect::<String>()));
        }
        assert!(!said.contains("root:") && !said.contains("<!doctype html>"), "{name}: {said}");
    }
    assert!(other.is_empty(), "{}", other.join("\n"));
    // Its own address is its own, however it is written; and what is allowed is allowed.
    assert_eq!(
        raw(at, format!("GET http://{at}/ HTTP/1.1\r\n{host}connection: close\r\n\r\n").as_bytes()).status,
        200
    );
    let halves = format!("{chunked}connection: close\r\n\r\n{:x}\r\n{question}\r\n0\r\n\r\n", length);
    assert_eq!(raw(at, halves.as_bytes()).status, 200);
    // Cross-site questions of every kind.
    for (first, headers) in [
        ("POST /estimate", "origin: http://evil.example\r\n"),
        ("POST /estimate", "origin: null\r\n"),
        ("POST /list", "origin: http://localhost.evil.example\r\n"),
        ("POST /cheapest", "sec-fetch-site: cross-site\r\n"),
        ("POST /paper", "sec-fetch-site: same-site\r\n"),
        ("POST /second", "sec-fetch-site: \r\n"),
        ("GET /start", "sec-fetch-site: cross-site\r\n"),
    ] {
        let kind = if first.starts_with("POST") { JSON } else { "" };
        let reply = with(at, first, &format!("{kind}{headers}"), question.as_bytes());
        assert_eq!(reply.status, 403, "{first} {headers}");
        assert!(!reply.head.to_lowercase().contains("access-control-allow"), "{}", reply.head);
    }
    served.answers("after all of it");
    assert!(served.most() < 200, "{} MB", served.most());
}

#[test]
fn slow_mute_and_many_clients_are_let_go() {
    let served = Served::begin();
    let at = served.at;
    let open = |bytes: &[u8]| {
        let mut stream = TcpStream::connect(at).unwrap();
        stream.set_write_timeout(Some(Duration::from_secs(5))).unwrap();
        drop(stream.write_all(bytes));
        stream
    };
    served.answers("at first");
    // Who says half a head, at two hundred a time.
    let heads: Vec<TcpStream> = (0..200).map(|_| open(b"GET / HTTP/1.1\r\nhos")).collect();
    served.answers("beside two hundred half heads");
    drop(heads);
    // Who says half of a large question.
    let body = format!(
        "POST /list HTTP/1.1\r\nhost: {at}\r\ncontent-type: application/octet-stream\r\ncontent-length: 7000000\r\n\r\n"
    );
    let half = [body.as_bytes(), &vec![b' '; 2_000_000]].concat();
    let halves: Vec<TcpStream> = (0..20).map(|_| open(&half)).collect();
    served.answers("beside twenty half questions of 7 MB");
    drop(halves);
    // Who asks and goes away before the answer.
    let question = json!({"text": text("smallest")}).to_string();
    let asked = |path: &str, question: &str| {
        format!(
            "POST {path} HTTP/1.1\r\nhost: {at}\r\n{JSON}content-length: {}\r\n\r\n{question}",
            question.len()
        )
    };
    (0..40).for_each(|_| drop(open(asked("/estimate", &question).as_bytes())));
    let paper = json!({"text": text("smallest"), "paper": "workbook.xlsx"}).to_string();
    (0..8).for_each(|_| drop(open(asked("/paper", &paper).as_bytes())));
    // Who asks much and reads nothing.
    let begin = Instant::now();
    let much = format!("GET /page.js HTTP/1.1\r\nhost: {at}\r\n\r\n").repeat(400);
    let mute: Vec<TcpStream> = (0..40).map(|_| open(much.as_bytes())).collect();
    served.answers("beside forty that read nothing");
    // Many at once, each with as much as it may say.
    let large = json!({"text": format!("{}\n# {}", text("smallest"), "x".repeat(900_000))}).to_string();
    let replies: Vec<u16> = std::thread::scope(|scope| {
        let one = || with(at, "POST /estimate", JSON, large.as_bytes()).status;
        let all: Vec<_> = (0..30).map(|_| scope.spawn(one)).collect();
        all.into_iter().map(|t| t.join().unwrap()).collect()
    });
    assert!(replies.iter().all(|status| *status == 200), "{replies:?}");
    let over = with(at, "POST /list", "content-type: application/octet-stream\r\n", &vec![b' '; 8_000_001]);
    assert_eq!(over.status, 413);
    // The mute ones are let go: their connections are closed on them.
    let open_sockets = || fs::read_dir(format!("/proc/{}/fd", served.child.id())).unwrap().count();
    while open_sockets() > 30 {
        assert!(begin.elapsed() < Duration::from_secs(60), "{} sockets are open still", open_sockets());
        std::thread::sleep(Duration::from_millis(200));
    }
    drop(mute);
    assert_eq!(get(at, "/").status, 200);
    served.answers("at last");
    let most = served.most();
    assert!(most < 400, "{most} MB");
}
