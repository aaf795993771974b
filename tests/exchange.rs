//! Taking the book out and bringing records in, as one who types: whole conversations, bad files, limits.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use medlar::book::{Store, Which, read_packs};
use medlar::console::{Clock, Library, Outcome, Session, Settings, Today};
use medlar::measure::Month;
use medlar::report::Style;
use tempfile::TempDir;

const PLAIN: Style = Style { width: 400, colour: false, unicode: true };

/// A bar with a folder of its own over the frozen pack.
struct Bar {
    folder: TempDir,
}

impl Bar {
    fn new() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn file(&self, name: &str, text: impl AsRef<[u8]>) {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    fn text(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap()
    }

    fn session(&self) -> Session {
        self.session_over(&[&weir()])
    }

    fn session_over(&self, packs: &[&Path]) -> Session {
        let house = self.path("house");
        let library = Library::over(read_packs(packs, false), Some(&house)).unwrap();
        let settings = Settings { book: Some(house), ..Settings::default() };
        Session::new(Arc::new(library), settings, Today(Month::Oct), PLAIN).keeping(clock())
    }

    /// One line, with `@` for the folder; what depends on how long its path is is taken out of the answer.
    fn say(&self, line: &str) -> Outcome {
        let here = self.folder.path().display().to_string();
        let outcome = self.session().answer(&line.replace('@', &here));
        let there = |text: String| {
            let text = text.replace(&format!("{here}/"), "");
            let lines = text.lines().map(|line| if line.starts_with('═') { "═══" } else { line });
            lines.fold(String::new(), |all, line| all + line + "\n")
        };
        Outcome { out: there(outcome.out), err: there(outcome.err), ..outcome }
    }

    /// Every line with what came of it.
    fn talk(&self, lines: &[&str]) -> String {
        let mut all = String::new();
        for line in lines {
            let Outcome { out, err, status, .. } = self.say(line);
            all.push_str(&format!("medlar> {}\nstatus {status}\n{out}{err}\n", line.replace("@/", "")));
        }
        all
    }

    fn json(&self, line: &str) -> serde_json::Value {
        serde_json::from_str(&self.say(&format!("{line} --json")).out).unwrap()
    }
}

fn weir() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/packs/weir")
}

fn clock() -> Clock {
    Clock::new(|| medlar::book::Occasion {
        at: "2026-11-27T10:00:00Z".to_owned(),
        who: "the river bar".to_owned(),
        dice: 7,
    })
}

/// A manager's price list, with semicolons and decimal commas, as a spreadsheet saved it.
const PRICES: &str = "\u{feff}Product;Bottle price;Bottle size;Supplier;Till no\r\n\
    Gin;€ 18,50;70 cl;River wholesale;4\r\n\
    sweet vermoth;9 EUR;750 ml;;5\r\n\
    mezcal;31;0,7 l;;6\r\n";

#[test]
fn a_price_list_comes_in() {
    let bar = Bar::new();
    bar.file("prices.csv", PRICES);
    insta::assert_snapshot!(bar.talk(&[
        "import @/prices.csv",
        "import @/prices.csv --map Bottle price=paid",
        "import @/prices.csv --map Bottle price=paid --skip-bad --dry-run",
        "import @/prices.csv --map Bottle price=paid --skip-bad",
        "import @/prices.csv --map Bottle price=paid --skip-bad",
        "export @/out/prices.csv",
        "export @/prices.csv",
        "export @/prices.csv --force",
    ]));
    assert_eq!(
        bar.text("prices.csv"),
        "ingredient,paid,size,note\nlondon dry gin,18.50 EUR,70 cl,River wholesale\n"
    );
}

#[test]
fn ingredients_pairs_and_drinks_come_in() {
    let bar = Bar::new();
    bar.file(
        "new.csv",
        "Name,Type,ABV,Sugar,Allergens,Flavours\n\
         damson gin,liqueur,28 %,120,-,stone fruit=0.9; resin=0.3\n\
         gin,,41,,,\n\
         \"=1+1\",liqueur,20,,-,\n",
    );
    bar.file(
        "tasting notes.csv",
        "from,to,weight,why\nquince,damson gin,0.9,\"orchard, and orchard\"\noyster,quince,,\n",
    );
    bar.file(
        "list.csv",
        "Cocktail,Qty,Unit,Ingredient,Method,Glass,Garnish\n\
         Damson Negroni,1 oz,,damson gin,stirred,rocks,quince slice\n\
         ,30,ml,red bitter liqueur,,,\n\
         ,1,oz,sweet vermouth,,,\n\
         Negroni,1 1/4 oz,,gin,,,\n\
         Negroni,1 oz,,red bitter liqueur,,,\n\
         Negroni,1 oz,,sweet vermouth,,,\n",
    );
    bar.file("bar.csv", "item,on hand\nquince,low\nmezcal,86\ngin,yes\n");
    insta::assert_snapshot!(bar.talk(&[
        "import @/new.csv",
        "import @/new.csv",
        "show damson gin",
        "import @/tasting notes.csv --skip-bad",
        "import @/list.csv",
        "import @/bar.csv",
        "export @/ours --as csv --house-only",
        "export @/ours --as csv --house-only",
        "export @/pack --house-only",
    ]));
    assert_eq!(
        bar.text("ours/ingredients.csv").lines().filter(|l| l.contains("1-1")).count(),
        1,
        "{}",
        bar.text("ours/ingredients.csv")
    );
    assert!(bar.text("ours/ingredients.csv").contains(",'=1+1,"), "{}", bar.text("ours/ingredients.csv"));
    assert!(bar.text("house/ingredients/london-dry-gin.ron").contains("makeup: (strength: 41.0)"));
    assert!(!bar.text("house/ingredients/london-dry-gin.ron").contains("name:"), "only what differs");
}

/// What the house has already changes only when that is said.
#[test]
fn the_house_s_own_word_stays_unless_replaced() {
    let bar = Bar::new();
    bar.file("first.csv", "a,b,affinity\ngin,quince,0.5\n");
    bar.file("second.csv", "a,b,affinity,note\nquince,gin,0.7,after a night\n");
    let lines =
        ["import @/first.csv", "import @/second.csv", "import @/second.csv --replace", "import @/second.csv"];
    insta::assert_snapshot!(bar.talk(&lines));
}

/// A folder of tables is one change, and one undo takes all of it back.
#[test]
fn one_import_is_one_change() {
    let bar = Bar::new();
    bar.file("t/ingredients.csv", "name,kind,allergens\nquince gin,liqueur,-\n");
    bar.file("t/edges.csv", "a,b,affinity\nquince gin,quince,0.9\nquince gin,mezcal,0.8\n");
    bar.file("t/prices.csv", "item,price,size\nquince gin,14 EUR,500 ml\n");
    let said = bar.json("import @/t");
    assert_eq!(said["records"].as_array().unwrap().len(), 4, "{said}");
    let store = Store::at(&bar.path("house"));
    assert_eq!(store.history().unwrap().entries.len(), 1);
    let house = bar.session().library().book.house().prices().count();
    assert_eq!(house, 1);
    store.undo(&clock().now(), &Which::Last).unwrap();
    assert!(store.read().unwrap().texts.is_empty());
}

/// Faulty files, each with what is told of it.
#[test]
fn bad_files_are_told_and_change_nothing() {
    let bar = Bar::new();
    let quince = |cells: &str| format!("name,kind,allergens,strength,sugar,peak,facets\n{cells}\n");
    let files: [(&str, &str, Vec<u8>); 20] = [
        ("empty.csv", "", Vec::new()),
        ("blank.csv", "", b"\n \n".to_vec()),
        ("latin.csv", " --as nodes", b"name,kind,allergens\ncr\xe8me,liqueur,-\n".to_vec()),
        ("latin-header.csv", " --as nodes", b"name,k\xe8nd\n".to_vec()),
        ("no-columns.csv", "", b"x,y\n1,2\n".to_vec()),
        ("edges.csv", "", b"a,partner\nquince,gin\n".to_vec()),
        ("twice.csv", " --as prices", b"item,price,cost,size\nquince,1 EUR,2 EUR,1 piece\n".to_vec()),
        ("map.csv", " --as prices --map nothing=paid", b"item,size,x\nquince,1 piece,1 EUR\n".to_vec()),
        ("field.csv", " --as prices --map x=paide", b"item,size,x\nquince,1 piece,1 EUR\n".to_vec()),
        ("words.csv", "", quince("pear gin,likeur,nutts,120 %,-3,octember,stone fruit=2; citrus; fruity=0.5").into()),
        ("silent.csv", "", b"name,kind\npear gin,liqueur\n".to_vec()),
        ("cells.csv", " --as edges", b"a,b,affinity\nquince,gin,0,8\n".to_vec()),
        ("open-quote.csv", " --as edges", b"a,b,affinity,note\nquince,gin,0.8,\"never closed\nmezcal,gin,0.7,\n".to_vec()),
        ("pairs.csv", " --as edges", b"a,b,affinity,clash\nquince,quince,0.5,\nvermouth,gin,0.5,\nquince,gin,0.5,yes\nquince,gin,1.5,\nquince,mezcal,0.5,\nmezcal,quince,0.6,\n".to_vec()),
        ("long.csv", " --as edges", format!("a,b,affinity,note\nquince,gin,0.5,{}\n", "x".repeat(601)).into()),
        ("bell.csv", " --as edges", b"a,b,affinity,note\nquince,gin,0.5,a\x07b\n".to_vec()),
        ("drink.csv", " --as specs", b"drink,amount,ingredient,method\nLantern,1 shot,gin,\nLantern,1 oz,gine,stirred\nLantern,1 oz,quince,shaken\n".to_vec()),
        ("level.csv", " --as stock", b"item,level\nquince,plenty\n".to_vec()),
        ("bad.json", "", b"{\"medlar\": 1, \"prices\": [\n{\"of\": \"quince\", \"paid\": \"1\", \"size\": \"1 piece\"}]}".to_vec()),
        ("other.json", "", b"{\"medlar\": 1,\n \"drinks\": []}".to_vec()),
    ];
    let mut lines = Vec::new();
    for (name, options, bytes) in &files {
        bar.file(name, bytes);
        lines.push(format!("import @/{name}{options}"));
    }
    bar.file("workbook.xlsx", "PK");
    bar.file("folder/readme.txt", "nothing");
    bar.file("pack/pack.ron", "(format: 9, name: \"x\")");
    let more =
        ["workbook.xlsx", "folder", "pack", "not-there.csv", "prices.csv --as price", "x.json --map a=b"];
    lines.extend(more.map(|line| format!("import @/{line}")));
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    insta::assert_snapshot!(bar.talk(&lines));
    assert!(
        !bar.path("house").join("ingredients").exists() && !bar.path("house").join("affinities").exists()
    );
}

#[test]
fn what_is_too_much_is_refused() {
    let bar = Bar::new();
    bar.file("wide.csv", format!("a,b,affinity{}\n", ",x".repeat(198)));
    bar.file("cell.csv", format!("a,b,affinity,note\nquince,gin,0.5,{}\n", "x".repeat(70_000)));
    bar.file("rows.csv", format!("a,b,affinity\n{}", "quince,gin,0.5\n".repeat(1_000_001)));
    fs::File::create(bar.path("large.csv")).unwrap().set_len(64 * 1024 * 1024 + 1).unwrap();
    let lines =
        ["wide.csv", "cell.csv", "rows.csv", "large.csv"].map(|name| format!("import @/{name} --as edges"));
    let lines: Vec<&str> = lines.iter().map(String::as_str).collect();
    insta::assert_snapshot!(bar.talk(&lines));
}

/// The house's own, as JSON, tables and a pack, and what stands in the way of writing it.
#[test]
fn the_house_s_own_goes_out_and_comes_into_another_house() {
    let bar = Bar::new();
    bar.file("e.csv", "a,b,affinity,by\ngin,quince,0.55,the river bar\n");
    bar.file("p.csv", "item,paid,size,note\nquince,0.40 EUR,1 piece,=SUM(A1)\n");
    for line in [
        "import @/e.csv",
        "import @/p.csv --as prices",
        "export @/all.json",
        "export @/t --as csv",
        "export @/p",
    ] {
        assert_eq!(bar.say(line).status, 0, "{line}");
    }
    assert!(bar.text("t/prices.csv").contains("'=SUM(A1)"));
    for form in ["all.json", "t"] {
        let other = Bar::new();
        let from = bar.path(form).display().to_string();
        let said = other.json(&format!("import {from}"));
        assert_eq!(said["ok"], true, "{said}");
        let files: Vec<&str> =
            said["records"].as_array().unwrap().iter().map(|r| r["file"].as_str().unwrap()).collect();
        assert_eq!(files, ["affinities/london-dry-gin--quince.ron", "prices/quince.ron"], "{form}");
        for file in files {
            assert_eq!(other.text(&format!("house/{file}")), bar.text(&format!("house/{file}")), "{form}");
        }
    }
    let pack = bar.path("p");
    let out = bar.session_over(&[&pack]).answer("pairs quince").out;
    assert!(out.contains("0.55") || out.contains("gin"), "{out}");
    bar.file("mine/letter.txt", "dear");
    insta::assert_snapshot!(bar.talk(&[
        "export @/p",
        "export @/p --force",
        "export @/mine --force",
        "export @/mine/letter.txt",
        "export @/not/there.json",
        "export @/all.json --as pony",
        "export @/bar.csv",
        "export @/all.gv",
    ]));
    assert_eq!(bar.text("mine/letter.txt"), "dear");
}

/// `GraphML` read by another crate's XML reader, DOT by another crate's grammar of the language: both hold the graph.
#[test]
fn graphs_are_read_by_others() {
    let bar = Bar::new();
    bar.file("n.csv", "name,kind,allergens\n\"a \"\"b\"\" <&> c\\d\",liqueur,-\n");
    bar.file("e.csv", "a,b,affinity,clash,note\ngin,\"a \"\"b\"\" <&> c\\d\",0.5,,\"x\\\"\"; <y> ]]>\"\nquince,gin,,yes,no\n");
    for line in
        ["import @/n.csv", "import @/e.csv", "export @/g.graphml", "export @/g.dot", "export @/g.json"]
    {
        let said = bar.say(line);
        assert_eq!(said.status, 0, "{line}: {}", said.err);
    }
    let book: serde_json::Value = serde_json::from_str(&bar.text("g.json")).unwrap();
    let (nodes, edges) = (book["ingredients"].as_array().unwrap(), book["affinities"].as_array().unwrap());

    let text = bar.text("g.graphml");
    let xml = roxmltree::Document::parse(&text).unwrap();
    let named = |name: &'static str| {
        xml.descendants().filter(move |n| n.has_tag_name(("http://graphml.graphdrawing.org/xmlns", name)))
    };
    let data = |node: roxmltree::Node<'_, '_>, key: &str| {
        node.children().find(|d| d.attribute("key") == Some(key)).and_then(|d| d.text()).map(str::to_owned)
    };
    assert_eq!(named("node").count(), nodes.len());
    for (node, record) in named("node").zip(nodes) {
        assert_eq!(node.attribute("id"), record["id"].as_str());
        assert_eq!(data(node, "name").as_deref(), record["name"].as_str());
    }
    assert_eq!(named("edge").count(), edges.len());
    for (edge, record) in named("edge").zip(edges) {
        assert_eq!(
            (edge.attribute("source"), edge.attribute("target")),
            (record["a"].as_str(), record["b"].as_str())
        );
        assert_eq!(data(edge, "affinity").map(|a| a.parse::<f64>().unwrap()), record["affinity"].as_f64());
        assert_eq!(
            data(edge, "clash").as_deref(),
            Some(if record["clash"] == true { "true" } else { "false" })
        );
        assert_eq!(data(edge, "note").as_deref(), record["note"].as_str());
    }
    for node in xml.descendants().filter(|n| n.has_tag_name("data")) {
        assert!(
            named("key").any(|key| key.attribute("id") == node.attribute("key")),
            "a key that is declared"
        );
    }

    let text = bar.text("g.dot");
    let graph = dot_parser::ast::Graph::try_from(text.as_str()).unwrap();
    let graph = dot_parser::canonical::Graph::from(graph);
    assert!(!graph.is_digraph);
    assert_eq!(graph.nodes.set.len(), nodes.len());
    assert_eq!(graph.edges.set.len(), edges.len());
}
