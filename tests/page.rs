//! The local page: its figures are those of the commands.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::sync::mpsc;
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tankwright_run::Data;
use tankwright_tests::program::{root, run};
use tankwright_web::{FirmText, Given, serve};

const SAMPLES: [&str; 7] =
    ["smallest", "rest-house", "guest-house", "lined-pits", "clinic", "school", "textbook"];

pub(crate) fn text(sample: &str) -> String {
    std::fs::read_to_string(root().join("samples").join(sample).join("job.toml")).unwrap()
}

/// A page of a sample, as the command begins it.
pub(crate) fn page(sample: &str) -> SocketAddr {
    page_of(sample, None)
}

/// The same with a firm among the user's own data.
pub(crate) fn page_of(sample: &str, firm: Option<&str>) -> SocketAddr {
    let (rules, _) = tankwright_sizing::builtin();
    let data = Data { stock: tankwright_tests::stock().clone(), rules, whence: String::new() };
    let given = Given {
        name: format!("samples/{sample}/job.toml"),
        stem: sample.to_owned(),
        text: text(sample),
        data,
        lists: Vec::new(),
        firm: firm.map(|text| FirmText { name: "firm.toml".into(), text: text.into() }),
        words: None,
        samples: Vec::new(),
    };
    let (send, address) = mpsc::channel();
    std::thread::spawn(move || serve(given, 0, |at| send.send(at).is_ok()));
    address.recv().unwrap()
}

pub(crate) struct Reply {
    pub(crate) status: u16,
    pub(crate) head: String,
    pub(crate) body: Vec<u8>,
}

impl Reply {
    pub(crate) fn json(&self) -> Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|e| panic!("{e}: {}", String::from_utf8_lossy(&self.body)))
    }
}

/// Sends bytes and reads to the end.
pub(crate) fn raw(at: SocketAddr, bytes: &[u8]) -> Reply {
    let mut stream = TcpStream::connect(at).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(90))).unwrap();
    // Who is refused early may not be allowed to say everything.
    drop(stream.write_all(bytes));
    let mut all = Vec::new();
    drop(stream.read_to_end(&mut all));
    let end = all.windows(4).position(|w| w == b"\r\n\r\n").map_or(all.len(), |i| i + 4);
    let head = String::from_utf8_lossy(&all[..end]).into_owned();
    let status = head.split(' ').nth(1).and_then(|s| s.parse().ok()).unwrap_or(0);
    Reply { status, head, body: all[end..].to_vec() }
}

pub(crate) fn with(at: SocketAddr, first: &str, headers: &str, body: &[u8]) -> Reply {
    let mut bytes = format!(
        "{first} HTTP/1.1\r\nhost: {at}\r\nconnection: close\r\n{headers}content-length: {}\r\n\r\n",
        body.len()
    )
    .into_bytes();
    bytes.extend(body);
    raw(at, &bytes)
}

pub(crate) fn get(at: SocketAddr, path: &str) -> Reply {
    with(at, &format!("GET {path}"), "", b"")
}

pub(crate) fn post(at: SocketAddr, path: &str, ask: &Value) -> Reply {
    with(at, &format!("POST {path}"), "content-type: application/json\r\n", ask.to_string().as_bytes())
}

pub(crate) fn dropped(at: SocketAddr, path: &str, head: &Value, bytes: &[u8]) -> Value {
    dropped_for(at, path, head, bytes).json()
}

pub(crate) fn dropped_for(at: SocketAddr, path: &str, head: &Value, bytes: &[u8]) -> Reply {
    let mut body = head.to_string().into_bytes();
    body.push(b'\n');
    body.extend(bytes);
    with(at, &format!("POST {path}"), "content-type: application/octet-stream\r\n", &body)
}

#[test]
fn page_and_command_print_the_same_bytes() {
    for sample in SAMPLES {
        let at = page(sample);
        for verb in ["takeoff", "bill", "materials", "orders", "bars"] {
            let formats = [("json", " --format json"), ("txt", ""), ("csv", " --format csv")];
            // One job in every form, every job in one.
            let formats = if sample == "rest-house" { &formats[..] } else { &formats[..1] };
            for (ending, format) in formats {
                let said = run(&format!("{verb}{format} samples/{sample}/job.toml"));
                assert_eq!(said.code, 0, "{sample} {verb}: {}", said.err);
                let paper =
                    post(at, "/paper", &json!({"text": text(sample), "paper": format!("{verb}.{ending}")}));
                assert_eq!(paper.status, 200, "{sample} {verb}");
                assert!(paper.body == said.out.as_bytes(), "{sample}: {verb}.{ending} differs");
            }
        }
        // What the page shows is read out of the same papers.
        for verb in ["materials", "orders", "bars"] {
            let shown = post(at, "/estimate", &json!({"text": text(sample), "show": verb})).json();
            let said = |verb: &str| -> Value {
                serde_json::from_str(&run(&format!("{verb} --format json samples/{sample}/job.toml")).out)
                    .unwrap()
            };
            assert_eq!(shown["paper"], said(verb), "{sample} {verb}");
            assert_eq!(shown["bill"], said("bill"), "{sample} {verb}");
            assert_eq!(shown["state"], "priced", "{sample}");
        }
    }
}

#[test]
fn every_listed_paper_can_be_taken() {
    let at = page("rest-house");
    let job = text("rest-house");
    let shown = post(at, "/estimate", &json!({"text": job, "lists": true})).json();
    let listed: Vec<String> =
        shown["papers"].as_array().unwrap().iter().map(|p| p["id"].as_str().unwrap().to_owned()).collect();
    assert!(listed.len() > 30 && listed.contains(&"workbook.xlsx".to_owned()), "{listed:?}");
    // Pictures take their time: one of them stands for all.
    for id in listed.iter().filter(|id| !id.ends_with(".png") || id.ends_with("site.png")) {
        let paper = post(at, "/paper", &json!({"text": job, "paper": id}));
        assert_eq!(paper.status, 200, "{id}");
        assert!(paper.body.len() > 40 && paper.head.contains("attachment; filename=\"rest-house"), "{id}");
    }
    let own = post(at, "/paper", &json!({"text": job, "paper": "job.toml"}));
    assert!(own.body == job.as_bytes());
    assert_eq!(post(at, "/paper", &json!({"text": job, "paper": "../Cargo.toml"})).status, 404);
    // A job with a mistake gives no paper but itself.
    let wrong = job.replace("width = \"1.50 m\"", "width = \"1.\"");
    let paper = post(at, "/paper", &json!({"text": wrong, "paper": "bill.csv"}));
    assert_eq!((paper.status, paper.json()["problems"][0]["code"].as_str()), (422, Some("J011")));
    assert_eq!(post(at, "/paper", &json!({"text": wrong, "paper": "job.toml"})).body, wrong.as_bytes());
}

/// What a command writes.
fn written(line: &[&str], name: &str) -> Vec<u8> {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("page-papers");
    std::fs::create_dir_all(&folder).unwrap();
    let job = root().join("samples/guest-house/job.toml").display().to_string();
    let out = folder.join(name);
    let mut args: Vec<String> = ["tankwright", line[0], &job, "--out"].map(str::to_owned).to_vec();
    let to = if name.ends_with(".png") { &folder } else { &out };
    args.push(to.display().to_string());
    args.extend(line[1..].iter().map(|a| (*a).to_owned()));
    let (mut said, mut err) = (Vec::new(), Vec::new());
    let code = tankwright_cli::run(&args, &mut said, &mut err, &tankwright_cli::files::Disk);
    assert_eq!(code, 0, "{}", String::from_utf8_lossy(&err));
    std::fs::read(out).unwrap()
}

#[test]
fn printed_papers_are_those_of_the_commands_byte_for_byte() {
    let at = page("guest-house");
    let job = text("guest-house");
    for (id, line) in [
        ("offer.pdf", &["offer"][..]),
        ("offer-whole.pdf", &["offer", "--bill", "--drawings"]),
        ("cards.pdf", &["cards"]),
        ("cards-sw.pdf", &["cards", "--lang", "sw"]),
        ("cards-fr.pdf", &["cards", "--lang", "fr"]),
        ("drawings/site.png", &["draw", "--only", "site", "--png", "1754"]),
    ] {
        let paper = post(at, "/paper", &json!({"text": job, "paper": id}));
        assert_eq!(paper.status, 200, "{id}");
        let ours = written(line, id.rsplit('/').next().unwrap());
        assert!(
            paper.body == ours,
            "{id}: {} bytes on the page, {} of the command",
            paper.body.len(),
            ours.len()
        );
    }
    assert_eq!(post(at, "/paper", &json!({"text": job, "paper": "cards-tlh.pdf"})).status, 404);
}

#[test]
fn the_firm_of_the_data_folder_offers_on_the_page_as_in_the_command() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("page-firm");
    std::fs::create_dir_all(&folder).unwrap();
    let firm = "[firm]\nname = \"Our own firm, invented\"\ntelephone = \"000 000\"\n";
    let file = folder.join("firm.toml");
    std::fs::write(&file, firm).unwrap();
    let (with, without) = (page_of("guest-house", Some(firm)), page("guest-house"));
    let ask = json!({"text": text("guest-house"), "paper": "offer.pdf"});
    let ours = written(&["offer", "--data", &folder.display().to_string()], "firm.pdf");
    assert!(post(with, "/paper", &ask).body == ours, "the page's offer is not the command's");
    assert!(post(without, "/paper", &ask).body != ours, "the firm changes nothing");
    // A job's own head goes before it.
    let own = format!("{}\n[firm]\nname = \"Another, invented\"\n", text("guest-house"));
    let ask = json!({"text": own, "paper": "offer.pdf"});
    assert!(post(with, "/paper", &ask).body == post(without, "/paper", &ask).body);
    // A picture that the page cannot read is said to be lacking.
    let at = page_of("guest-house", Some(&format!("{firm}logo = \"logo.png\"\n")));
    let ask = json!({"text": text("guest-house"), "lists": true});
    let shown = post(at, "/estimate", &ask).json().to_string();
    assert!(shown.contains("Offer for the client (without the logo"), "{shown}");
}

#[test]
fn an_edit_replaces_its_value_and_nothing_else() {
    let at = page("rest-house");
    let edit = |text: &str, path: &str, value: &str| {
        post(at, "/estimate", &json!({"text": text, "edits": [{"path": path, "value": value}]})).json()
    };
    let job = text("rest-house");
    let wrong = edit(&job, "tank.width", "1.");
    assert_eq!(wrong["state"], "refused");
    assert_eq!(wrong["problems"][0]["path"], "tank.width");
    assert_eq!(wrong["text"], job.replace("width = \"1.50 m\"   ", "width = \"1.\"   ").as_str());
    assert!(wrong.get("bill").is_none());
    let mended = edit(wrong["text"].as_str().unwrap(), "tank.width", "1.60 m");
    assert_eq!(mended["text"], job.replace("width = \"1.50 m\"   ", "width = \"1.60 m\"   ").as_str());
    assert_ne!(mended["bill"]["total"], "10422000");
    let back = edit(mended["text"].as_str().unwrap(), "tank.width", "1.50 m");
    assert_eq!(
        (back["text"].as_str(), back["bill"]["total"].as_str()),
        (Some(job.as_str()), Some("10422000"))
    );
    // What is not there comes into its part; what is taken out becomes a remark.
    let out = edit(&job, "sizing.rule", "");
    assert!(out["text"].as_str().unwrap().contains("\n# rule = \"bs-6297-1983\""), "{}", out["text"]);
    assert_eq!(out["sizing"], Value::Null);
    let smallest = text("smallest");
    let soil = edit(&smallest, "ground.soil", "sand");
    assert!(soil["text"].as_str().unwrap().ends_with("\n[ground]\nsoil = \"sand\"\n"));
    let nonsense = edit(&job, "tank.nonsense", "1 m");
    assert_eq!(
        (nonsense["text"].as_str(), nonsense["problems"][0]["code"].as_str()),
        (Some(job.as_str()), Some("W001"))
    );
    // Every length of the list can be changed by its path, and says so.
    let all = edit(&job, "tank.width", "1.50 m");
    let lengths =
        all["lengths"].as_array().unwrap().iter().flat_map(|g| g["fields"].as_array().unwrap().clone());
    let paths: Vec<String> = lengths.map(|f| f["path"].as_str().unwrap().to_owned()).collect();
    assert!(paths.len() > 45, "{paths:?}");
    for path in &paths {
        let changed = edit(&job, path, "1.234 m");
        let said = changed["problems"].as_array().unwrap().iter().any(|p| p["code"] == "W001");
        assert!(
            !said && changed["text"].as_str().unwrap().contains("1.234 m"),
            "{path}: {}",
            changed["problems"]
        );
    }
}

#[test]
fn lists_of_the_page_are_built_in_or_dropped() {
    let at = page("rest-house");
    for name in ["rates/prices/demo-ugx.csv", "/etc/passwd", "../job.toml", "mine.csv"] {
        let ask = json!({"text": text("rest-house"), "edits": [{"path": "job.rates", "value": name}]});
        let shown = post(at, "/estimate", &ask).json();
        assert_eq!(
            (shown["state"].as_str(), shown["problems"][0]["code"].as_str()),
            (Some("unpriced"), Some("W002"))
        );
        assert_eq!(shown["problems"][0]["path"], "job.rates");
    }
    let list = std::fs::read_to_string(root().join("rates/prices/demo-ugx.csv")).unwrap();
    let dear = list.replace(",15000,UGX", ",16000,UGX");
    let taken = dropped(at, "/list", &json!({"name": "C:\\lists\\mine.csv"}), dear.as_bytes());
    assert_eq!((taken["name"].as_str(), taken["taken"].as_bool()), (Some("mine.csv"), Some(true)));
    let ask = json!({"text": text("rest-house"), "edits": [{"path": "job.rates", "value": "mine.csv"}]});
    let shown = post(at, "/estimate", &ask).json();
    // 10.33 m3 x 16 000
    assert_eq!(shown["bill"]["sections"][0]["rows"][0]["amount"], "165280");
    assert_eq!(shown["bill"]["price_list"]["name"], "mine.csv");
    for (name, bytes) in
        [("mine.csv", b"\xff\xfe1".as_slice()), ("x.xlsx", b"PK\x03\x04"), ("x.exe", b"MZ"), ("x.csv", b"")]
    {
        let taken = dropped(at, "/list", &json!({"name": name}), bytes);
        assert_eq!(taken["taken"], false, "{name}");
        assert!(!taken["problems"].as_array().unwrap().is_empty(), "{name}");
    }
}

#[test]
fn a_second_take_off_is_found_as_by_the_command() {
    let at = page("rest-house");
    let file = std::fs::read(root().join("samples/rest-house/second.csv")).unwrap();
    let taken = dropped(at, "/second", &json!({"name": "second.csv"}), &file);
    assert_eq!(taken["taken"], true);
    let found = post(at, "/crosscheck", &json!({"text": text("rest-house"), "name": "second.csv"})).json();
    let said = run("crosscheck samples/rest-house/job.toml samples/rest-house/second.csv --format json").out;
    // The command names the file by its path.
    let said: Value =
        serde_json::from_str(&said.replace("samples/rest-house/second.csv", "second.csv")).unwrap();
    assert_eq!(found["report"], said);
    let gone = post(at, "/crosscheck", &json!({"text": text("rest-house"), "name": "other.csv"})).json();
    assert_eq!(gone["problems"][0]["code"], "W004");
}

#[test]
fn two_designs_and_the_cheapest() {
    let at = page("rest-house");
    let a = text("rest-house");
    let b = a.replace("width = \"1.50 m\"", "width = \"1.60 m\"");
    let two = post(at, "/compare", &json!({"a": a, "b": b})).json();
    assert_eq!(two["changed"], json!([{"path": "tank.width", "a": "1.50 m", "b": "1.60 m"}]));
    assert_eq!(two["rows"][0]["a"].as_str().map(|t| t.replace('\u{2009}', "")), Some("10422000".to_owned()));

    let given = json!({"length": "2.9 m..3 m", "width": "1.5 m", "depth": "1.6 m"});
    let begun = post(at, "/cheapest", &json!({"text": a, "given": given})).json();
    let look = |stop: bool| post(at, "/cheapest/look", &json!({"id": begun["id"], "stop": stop})).json();
    let start = Instant::now();
    let done = loop {
        let now = look(false);
        if now["state"] != "runs" {
            break now;
        }
        assert!(start.elapsed() < Duration::from_secs(120), "{now}");
        std::thread::sleep(Duration::from_millis(50));
    };
    let line =
        "cheapest samples/rest-house/job.toml --format json --length 2.9m..3m --width 1.5m --depth 1.6m";
    let mut said: Value = serde_json::from_str(&run(line).out).unwrap();
    let mut report = done["report"].clone();
    (said["seconds"], report["seconds"]) = (Value::Null, Value::Null);
    assert_eq!(report["best"], said["best"]);
    assert_eq!(report["drawn"], said["drawn"]);

    // A long search ends when it is told to.
    let wide = json!({"length": "1.5 m..9 m", "width": "0.8 m..4 m", "depth": "1.2 m..3 m", "step": "10 mm"});
    let begun = post(at, "/cheapest", &json!({"text": a, "given": wide})).json();
    let start = Instant::now();
    loop {
        let now = post(at, "/cheapest/look", &json!({"id": begun["id"], "stop": true})).json();
        if now["state"] == "stopped" || now["state"] == "refused" {
            break;
        }
        assert!(start.elapsed() < Duration::from_secs(60), "{now}");
        std::thread::sleep(Duration::from_millis(20));
    }
    assert_eq!(post(at, "/cheapest/look", &json!({"id": 99})).status, 404);
}
