//! Drinks made ahead at the prompt: whole answers, papers that are written, and what is refused.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod bar;

use std::fs;
use std::path::Path;

use medlar::console::Session;

use self::bar::{built_in_over, clock, refused, session, session_on, told};

/// Prices of its own, so that the answers do not move with the demo list.
const PRICES: [&str; 11] = [
    "price london dry gin 21.00 GBP for 700 ml",
    "price red bitter liqueur 18.20 GBP for 700 ml",
    "price sweet vermouth 9.00 GBP for 750 ml",
    "price rye whiskey 31.50 GBP for 700 ml",
    "price aromatic bitters 12.00 GBP for 200 ml",
    "price blanco tequila 28.00 GBP for 700 ml",
    "price lime juice 6.00 GBP for 1 l",
    "price simple syrup 2.00 GBP for 1 l",
    "price soda water 0.50 GBP for 200 ml",
    "price egg white 6.00 GBP for 1 l",
    "price orange 9.60 GBP for 24 pieces",
];

fn priced(house: &Path) -> Session {
    let mut session = session(house);
    for line in PRICES {
        told(&mut session, line);
    }
    session
}

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

#[test]
fn answers() {
    let house = folder();
    let mut session = priced(house.path());
    for line in [
        "batch negroni for 40 --bottle 700ml --style freezer",
        "batch manhattan --bottle 6 x 750 ml --style freezer --water 15 % --units oz",
        "batch negroni for 40 --style punch --bowl 6 l",
        "batch negroni --keg sixth barrel --style tap --made 2026-12-24 --days 3",
        "batch highball for 20",
        "batch daiquiri for 12 --style chilled --bottle 1 l, 500 ml",
        "batch daiquiri for 12 --style to order --by-eye --across 80 mm --units ml",
        "batch whiskey sour for 10",
        "kit daiquiri --bottle 500ml",
        "kit negroni --bottle 4 x 500 ml --parts 2 --room",
        "cost negroni --tax 20 %",
        "cost manhattan --price 12 --waste 5 % --ice-price 0.30 GBP",
        "card negroni, daiquiri",
        "batch negroni for 4 --json",
        "hold",
        "hold aromatic bitters in --why we dash them in before bottling",
        "batch manhattan for 8",
        "hold --units ml",
        "show aromatic bitters",
        "undo --house",
    ] {
        let name = line.replace(|c: char| !c.is_ascii_alphanumeric(), "_");
        insta::assert_snapshot!(name, format!("medlar> {line}\n{}", told(&mut session, line)));
    }
}

#[test]
fn what_cannot_be_made_is_refused() {
    let house = folder();
    let mut session = priced(house.path());
    let mut said = String::new();
    for line in [
        "batch negroni",
        "batch negroni --serves 0",
        "batch negroni --serves -3",
        "batch negroni --serves 2.5",
        "batch negroni --serves 1000001",
        "batch negroni for 40 --bottle 0 ml",
        "batch negroni for 40 --bottle 700",
        "batch negroni for 40 --bottle 2 x 700 ml",
        "batch negroni for 100000 --bottle 20 ml",
        "batch negroni --volume 50 ml",
        "batch negroni --volume 5",
        "batch negroni for 40 --style frezer",
        "batch negroni for 40 --style freezer --freezer 20 C",
        "batch negroni for 40 --water 900 %",
        "batch negroni for 40 --made yesterday",
        "batch negroni for 40 --sheet a7",
        "batch negroni for 40 --across 3 mm",
        "batch negroni for 40 --days 0",
        "batch 3 leaves mint --serves 4",
        "batch oyster for 4",
        "batch soda water for 4",
        "batch 4 oz soda water --serves 4",
        "batch negorni for 4",
        "kit negroni --bottle 500ml --parts 1",
        "kit negroni --bottle 500ml --parts lots",
        "kit 2 oz lime juice, 1 oz simple syrup --serves 4",
        "cost negroni --price 12 EUR",
        "cost negroni --price free",
        "cost negroni --target 0 %",
        "cost negroni --tax 300 %",
        "cost negroni --step 0",
        "cost negroni --prices nowhere.csv",
        "cost 1 oz quince",
        "prep daiquiri",
        "prep 30 daiqiri",
        "prep 1 l mezcal",
        "prep mezcal --covers 20",
        "prep daiquiri --covers 0",
        "prep daiquiri --each 2",
        "hold aromatic bitters",
        "hold aromatic bitters twice",
        "hold aromatic bitters 120 %",
        "hold aromatic biters in",
        "card oyster",
    ] {
        said.push_str(&format!("medlar> {line}\n{}\n", refused(&mut session, line)));
    }
    insta::assert_snapshot!(said);
}

/// Prices in two currencies: what was written down is never mixed, and the demo list does not fill in for another currency.
#[test]
fn currencies_stay_apart() {
    let house = folder();
    let mut session = session(house.path());
    told(&mut session, "price london dry gin 25.00 EUR for 700 ml");
    let answer = told(&mut session, "cost negroni");
    assert!(answer.contains("EUR") && !answer.contains("GBP"), "{answer}");
    let flowing = answer.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flowing.contains("no price for red bitter liqueur, sweet vermouth and orange"), "{answer}");
    told(&mut session, "price sweet vermouth 9.00 GBP for 750 ml");
    let said = refused(&mut session, "cost negroni");
    assert!(said.contains("prices in") && said.contains("do not add up"), "{said}");
}

#[test]
fn papers_are_written_once_and_only_over_what_is_there_if_asked() {
    let house = folder();
    let out = folder();
    let mut session = priced(house.path());
    let at = |name: &str| out.path().join(name).display().to_string();
    let line = format!(
        "batch negroni for 40 --bottle 700ml --style chilled --page '{}' --labels '{}' --csv '{}'",
        at("batch.html"),
        at("labels.html"),
        at("batch.csv")
    );
    let answer = told(&mut session, &line);
    assert!(answer.contains("written: "), "{answer}");
    let page = fs::read_to_string(at("batch.html")).unwrap();
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("Negroni: ready to pour from the fridge"));
    let labels = fs::read_to_string(at("labels.html")).unwrap();
    assert_eq!(labels.matches("Keep until").count(), 8, "a label for each bottle");
    let table = fs::read_to_string(at("batch.csv")).unwrap();
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let columns = reader.headers().unwrap().clone();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!((rows.len(), &columns[1]), (4, "in batch ml"));
    assert_eq!(&rows[1][1], "1200", "40 times 30 ml of gin: bottles in ml make it a house of ml");
    let said = refused(&mut session, &line);
    assert!(said.contains("is there already") && said.contains("--force"), "{said}");
    told(&mut session, &format!("{line} --force"));
    for (line, file) in [
        (format!("kit daiquiri --bottle 500ml --page '{}' --sheet a5", at("insert.html")), "insert.html"),
        (format!("cost negroni --page '{}'", at("cost.html")), "cost.html"),
        (format!("card negroni, daiquiri --page '{}' --sheet a6", at("cards.html")), "cards.html"),
        (format!("prep 30 daiquiri --page '{}' --sheet letter", at("prep.html")), "prep.html"),
    ] {
        told(&mut session, &line);
        let page = fs::read_to_string(at(file)).unwrap();
        assert!(page.contains("</html>") && !page.contains("://"), "{file}");
    }
}

/// What a person typed stands on a paper as text.
#[test]
fn a_name_of_marks_is_only_a_name() {
    let house = folder();
    let out = folder();
    let mut session = priced(house.path());
    let labels = out.path().join("labels.html").display().to_string();
    told(
        &mut session,
        &format!(
            "batch negroni for 4 --name \"<script>alert(1)</script> & Co\" --by \"Weir's\" --labels '{labels}'"
        ),
    );
    let page = fs::read_to_string(labels).unwrap();
    assert!(
        !page.contains("<script>") && page.contains("&lt;script&gt;alert(1)&lt;&#x2f;script&gt; &amp; Co"),
        "{page}"
    );
}

#[test]
fn several_houses_prices_stand_beside_each_other() {
    let house = folder();
    let out = folder();
    let mut session = priced(house.path());
    let mill = out.path().join("mill.csv");
    fs::write(
        &mill,
        "ingredient,paid,size\nLondon dry gin,19.00 GBP,700 ml\nred bitter liqueur,19.00 GBP,1 l\nsweet vermouth,9.00 GBP,750 ml\norange,0.40 GBP,1 piece\n",
    )
    .unwrap();
    let answer = told(&mut session, &format!("cost negroni --prices house --prices '{}'", mill.display()));
    let row =
        |name: &str| answer.lines().find(|l| l.trim_start().starts_with(name)).unwrap_or_default().to_owned();
    // 21.00 x 29.57 / 700 = 0.8872, 18.20 x 29.57 / 700 = 0.7689, 9.00 x 29.57 / 750 = 0.3549, an eighth of 0.40 is 0.05: with
    // 3 % waste 2.12. At the mill 0.8027 + 0.5619 + 0.3549 + 0.05, with waste 1.82.
    assert!(row("house  ").contains("2.12 GBP"), "{answer}");
    assert!(row("mill  ").contains("1.82 GBP"), "{answer}");
    fs::write(&mill, "ingredient,paid,size\nLondon dry gin,much,700 ml\n").unwrap();
    let said = refused(&mut session, &format!("cost negroni --prices '{}'", mill.display()));
    assert!(said.contains("mill.csv:2"), "{said}");
}

/// On the built-in pack: the day's list has what it needs before what needs it, and the fruit with its spread.
#[test]
fn a_prep_list_of_the_built_in_book() {
    let house = folder();
    let mut session = session_on(built_in_over(house.path()), clock());
    let answer = told(&mut session, "prep daiquiri 2, mojito --covers 50 --each 2 --units ml");
    assert!(answer.contains("Prep list for 2026-11-27"), "{answer}");
    let answer = told(&mut session, "prep 30 daiquiris, 20 mojitos --units ml");
    for has in
        ["30 Daiquiri and 20 Mojito", "simple syrup", "lime juice", "mint: sprig", "dies on", "To have there"]
    {
        assert!(answer.contains(has), "{has}\n{answer}");
    }
    let answer = told(&mut session, "prep 1 l honey syrup");
    assert!(answer.contains("honey syrup: 33.8 oz (1 l)"), "{answer}");
}

/// A drink in hand, and a suggestion by its number, are made ahead as any other.
#[test]
fn what_is_in_hand_can_be_made_ahead() {
    let house = folder();
    let mut session = priced(house.path());
    told(&mut session, "riff negroni --swap gin = blanco tequila --count 2");
    told(&mut session, "take 1");
    let answer = told(&mut session, "batch for 40 guests --bottle 700ml --style freezer");
    assert!(answer.contains("blanco tequila") && answer.contains("40 serves"), "{answer}");
    let answer = told(&mut session, "batch negroni 12");
    assert!(answer.contains("12 serves"), "{answer}");
    let answer = told(&mut session, "kit --bottle 500ml");
    assert!(answer.contains("the guest adds  blanco tequila"), "{answer}");
}
