//! What the page says of one figure, stage or drawing, and its papers of the account: the commands' own words.

use serde_json::{Value, json};
use tankwright_tests::program::{root, run};

use crate::page::{dropped, page, post, text};

#[test]
fn a_figure_a_stage_and_the_store_are_told_as_by_the_commands() {
    let at = page("rest-house");
    let job = text("rest-house");
    let job_file = "samples/rest-house/job.toml";
    for id in
        ["A1", "total", "brickwork-wall", "cement", "orders/cement", "mark/3", "earth", "E", "Contingency"]
    {
        let told = post(at, "/explain", &json!({"text": job, "id": id})).json();
        let said = run(&format!("explain {job_file} {id}"));
        assert_eq!((said.code, told["paper"].as_str()), (0, Some(said.out.as_str())), "{id}");
    }
    let near = post(at, "/explain", &json!({"text": job, "id": "brikwork"})).json();
    assert_eq!((near["paper"].as_str(), near["problems"][0]["code"].as_str()), (Some(""), Some("U002")));
    let others: Vec<&str> = near["others"].as_array().unwrap().iter().map(|v| v.as_str().unwrap()).collect();
    let said = run(&format!("explain {job_file} brikwork")).err;
    assert!(others.len() == 5 && said.contains(&others.join(", ")), "{others:?}: {said}");

    let stages = post(at, "/card", &json!({"text": job, "id": ""})).json();
    assert_eq!(stages["paper"], "");
    for stage in stages["others"].as_array().unwrap() {
        let stage = stage.as_str().unwrap();
        let card = post(at, "/card", &json!({"text": job, "id": stage})).json();
        let said = run(&format!("orders {job_file} --stage {stage}")).out;
        assert_eq!(card["paper"].as_str(), Some(said.as_str()), "{stage}");
    }

    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("page-store");
    std::fs::create_dir_all(&folder).unwrap();
    let received = folder.join("came.csv").display().to_string();
    let list = "date,material,quantity,note\n2026-12-09,cement,8,one bag torn\n2026-12-09,sand-building,5,\n";
    std::fs::write(&received, list).unwrap();
    let told = dropped(at, "/store", &json!({"name": received, "text": job}), list.as_bytes());
    let said = run(&format!("store {job_file} {received}"));
    assert_eq!((said.code, told["paper"].as_str()), (0, Some(said.out.as_str())), "{}", said.err);
    let wrong =
        dropped(at, "/store", &json!({"name": "x.csv", "text": job}), b"date,material,quantity\nx,y,z\n");
    assert!(!wrong["problems"].as_array().unwrap().is_empty() && wrong["paper"] == "");
    // A job with a mistake has neither.
    let broken = job.replace("width = \"1.50 m\"", "width = \"1.\"");
    for path in ["/explain", "/card"] {
        let told = post(at, path, &json!({"text": broken, "id": "base"})).json();
        assert_eq!(told["problems"][0]["code"], "J011", "{path}");
    }
}

#[test]
fn papers_of_the_account_are_those_of_the_commands() {
    for sample in ["guest-house", "built-rates"] {
        let at = page(sample);
        let job_file = format!("samples/{sample}/job.toml");
        for (id, line) in [
            ("payments.txt", "payments"),
            ("payments.json", "payments --format json"),
            ("payments.csv", "payments --format csv"),
            ("analysis.txt", "bill --analysis"),
            ("analysis.json", "bill --analysis --format json"),
            ("analysis.csv", "bill --analysis --format csv"),
            ("size.txt", "size"),
            ("size.json", "size --format json"),
            ("size.csv", "size --format csv"),
        ] {
            let paper = post(at, "/paper", &json!({"text": text(sample), "paper": id}));
            let said = run(&format!("{line} {job_file}"));
            assert_eq!((said.code, paper.status), (0, 200), "{sample} {id}: {}", said.err);
            assert!(paper.body == said.out.as_bytes(), "{sample}: {id} differs");
        }
        for form in ["to-price.xlsx", "to-price.csv"] {
            let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("page-forms");
            std::fs::create_dir_all(&folder).unwrap();
            let file = folder.join(format!("{sample}-{form}"));
            let job = root().join(&job_file).display().to_string();
            let args = ["tankwright", "bill", &job, "--to-price", &file.display().to_string(), "--force"];
            let args: Vec<String> = args.map(str::to_owned).to_vec();
            let (mut out, mut err) = (Vec::new(), Vec::new());
            let code = tankwright_cli::run(&args, &mut out, &mut err, &tankwright_cli::files::Disk);
            assert_eq!(code, 0, "{}", String::from_utf8_lossy(&err));
            let paper = post(at, "/paper", &json!({"text": text(sample), "paper": form}));
            assert!(
                paper.status == 200 && paper.body == std::fs::read(&file).unwrap(),
                "{sample}: {form} differs"
            );
        }
    }
    // The card of one stage, to print.
    let at = page("rest-house");
    let paper = post(at, "/paper", &json!({"text": text("rest-house"), "paper": "cards/base.pdf"}));
    assert!(paper.status == 200 && paper.body.starts_with(b"%PDF"));
    let none = post(at, "/paper", &json!({"text": text("rest-house"), "paper": "cards/roof.pdf"}));
    assert_eq!(none.status, 404);
}

#[test]
fn a_drawing_tells_which_lengths_it_shows_and_where() {
    let at = page("rest-house");
    let shows = |picture: &str, paths: &[&str]| -> Value {
        post(at, "/figures", &json!({"text": text("rest-house"), "picture": picture, "paths": paths})).json()
    };
    let of = |all: &Value, path: &str| -> (Option<bool>, Vec<String>) {
        let it = &all["shows"][path];
        let own = it["marks"].as_array().into_iter().flatten().filter(|m| m["own"] == true);
        (it["here"].as_bool(), own.map(|m| m["says"].as_str().unwrap().to_owned()).collect())
    };
    let paths = ["tank.width", "tank.height", "tank.chambers[0]", "tank.walls.thickness", "soak_pit.depth"];
    let cross = shows("cross-section", &paths);
    // The length of a chamber is not to be seen across the tank; what is cut is, to the millimetre.
    assert_eq!(of(&cross, "tank.width"), (Some(true), vec!["1500".to_owned()]));
    assert_eq!(of(&cross, "tank.chambers[0]").0, Some(false));
    assert!(of(&cross, "tank.walls.thickness").1.iter().all(|says| says == "220"));
    assert_eq!(of(&cross, "tank.walls.thickness").0, Some(true));
    let plan = shows("plan-floor", &paths);
    assert_eq!(of(&plan, "tank.width"), (Some(true), vec!["1500".to_owned()]));
    assert_eq!(of(&plan, "tank.height").0, Some(false));
    let pit = shows("soak-pit", &paths);
    assert_eq!(of(&pit, "soak_pit.depth"), (Some(true), vec!["3000".to_owned()]));
    assert_eq!(of(&pit, "tank.width").0, Some(false));
    // Marks lie on the sheet.
    let [wide, high] = [0, 1].map(|i| pit["size"][i].as_i64().unwrap());
    for mark in pit["shows"]["soak_pit.depth"]["marks"].as_array().unwrap() {
        let at: Vec<i64> = mark["at"].as_array().unwrap().iter().map(|n| n.as_i64().unwrap()).collect();
        assert!(0 < at[0] && at[0] < at[2] && at[2] < wide && 0 < at[1] && at[1] < at[3] && at[3] < high);
    }
    // What is no length tells nothing; a refused job has no drawing.
    assert_eq!(shows("soak-pit", &["tank.nonsense", ""])["shows"]["tank.nonsense"], Value::Null);
    let broken = text("rest-house").replace("width = \"1.50 m\"", "width = \"1.\"");
    let none =
        post(at, "/figures", &json!({"text": broken, "picture": "site", "paths": ["tank.width"]})).json();
    assert_eq!(none["shows"], json!({}));
}
