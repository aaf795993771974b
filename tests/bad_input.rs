//! Bad input: every error whole, as a golden. None panics, and nothing typed or read can steer a terminal.
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

use std::fs;
use std::path::Path;
use std::process::Command;

use assert_cmd::assert::OutputAssertExt;
use assert_cmd::cargo::cargo_bin;
use tempfile::TempDir;

const INGREDIENT: &str = r#"    (
        id: "pear", name: "pear", kind: fruit, roles: [garnish],
        facets: {orchard: 0.9}, loudness: 0.4, season: all_year,
        allergens: [], diet: [vegan, vegetarian, gluten_free], origin: (flavour: demo),
    ),
    (
        id: "rye", name: "rye", kind: spirit, roles: [base],
        makeup: (strength: 47), facets: {spice: 0.7}, loudness: 0.6, season: all_year,
        allergens: [], diet: [vegan, vegetarian, gluten_free], origin: (flavour: demo, makeup: practice),
    ),
"#;

fn medlar() -> Command {
    let mut command = Command::new(cargo_bin!("medlar"));
    command.env_clear().env("HOME", "/nonexistent").env("MEDLAR_MONTH", "10").env("COLUMNS", "80");
    command
}

/// What came out, whole, with the pack's folder named PACK.
fn told(command: &mut Command, folder: &Path) -> String {
    let output = command.output().unwrap();
    let text = |bytes: &[u8]| {
        let text = String::from_utf8(bytes.to_vec()).unwrap();
        assert!(!text.contains('\u{1b}'), "an escape code got through: {text:?}");
        assert!(!text.contains("panicked"), "{text}");
        text.replace(&folder.display().to_string(), "PACK")
    };
    let status = output.status.code();
    let (out, err) = (text(&output.stdout), text(&output.stderr));
    assert!(status.is_some_and(|s| s == 1 || s == 2), "{status:?} {out} {err}");
    format!("status {}\n--- out\n{out}--- err\n{err}", status.unwrap())
}

struct Pack(TempDir);

impl Pack {
    fn new() -> Self {
        let folder = TempDir::new().unwrap();
        fs::write(folder.path().join("pack.ron"), "(format: 1, name: \"bad\")").unwrap();
        for inner in ["ingredients", "affinities", "templates"] {
            fs::create_dir(folder.path().join(inner)).unwrap();
        }
        Self(folder)
    }

    fn file(self, name: &str, text: impl AsRef<[u8]>) -> Self {
        fs::write(self.0.path().join(name), text).unwrap();
        self
    }

    fn ingredients(self, text: &str) -> Self {
        self.file("ingredients/a.ron", format!("[\n{text}]\n"))
    }

    fn told(&self) -> String {
        told(medlar().arg("--pack").arg(self.0.path()).arg("list"), self.0.path())
    }
}

const TEMPLATE: &str = "[\n    (id: \"d\", name: \"D\", family: stirred, method: stirred, glass: \"coupe\", essence: \"x\", origin: practice,\n     slots: [(role: base, classic: \"rye\", amount: \"2 oz\")]),\n]\n";

/// A fault in every file of a pack.
fn several_files() -> Pack {
    changed("kind: fruit", "kind: fruti")
        .file("pack.ron", "(format: 2, name: \"bad\")")
        .file("cautions.ron", "[(id: \"hot\", text: \"Hot.\")]")
        .file("affinities/a.ron", "[(of: \"pear\", origin: demo, goes_with: [(\"rye\", 2)])]")
        .file("affinities/b.ron", "not a list")
        .file("templates/a.ron", TEMPLATE.replace("2 oz", "2 ounzes"))
}

/// The two good ingredients with one thing changed.
fn changed(from: &str, to: &str) -> Pack {
    assert!(INGREDIENT.contains(from), "{from}");
    Pack::new().ingredients(&INGREDIENT.replacen(from, to, 1))
}

fn sheet(text: &str) -> Pack {
    Pack::new().ingredients(INGREDIENT).file("affinities/a.ron", format!("[\n    {text}\n]\n"))
}

fn template(slot: &str) -> Pack {
    let text = format!(
        "[\n    (id: \"d\", name: \"D\", family: stirred, method: stirred, glass: \"coupe\", essence: \"x\", origin: practice,\n     slots: [{slot}]),\n]\n"
    );
    Pack::new().ingredients(INGREDIENT).file("templates/a.ron", text)
}

fn prep(text: &str) -> Pack {
    let pack = Pack::new().ingredients(INGREDIENT);
    fs::create_dir(pack.0.path().join("preps")).unwrap();
    let text = format!("[\n    ({text}, steps: [\"Stir.\"], keeps: (store: fridge), origin: practice),\n]\n");
    pack.file("preps/a.ron", text)
}

#[test]
fn packs() {
    let cases: Vec<(&str, Pack)> = vec![
        ("broken_ron", changed("kind: fruit,", "kind: fruit")),
        ("wrong_type", changed("loudness: 0.4", "loudness: \"loud\"")),
        ("unknown_field_near", changed("loudness: 0.4", "loudnes: 0.4")),
        ("unknown_field_far", changed("loudness: 0.4", "loudness: 0.4, colour: 3")),
        ("unknown_kind", changed("kind: fruit", "kind: fruti")),
        ("unknown_role", changed("roles: [garnish]", "roles: [garnsih]")),
        ("unknown_facet", changed("orchard: 0.9", "orchards: 0.9")),
        ("unknown_allergen", changed("allergens: []", "allergens: [peanut]")),
        ("unknown_month", changed("season: all_year", "season: months(peak: [octo])")),
        ("missing_fields", changed("kind: fruit, roles: [garnish],", "")),
        ("strength_120", changed("strength: 47", "strength: 120")),
        ("strength_nan", changed("strength: 47", "strength: NaN")),
        ("strength_inf", changed("strength: 47", "strength: inf")),
        ("strength_huge", changed("strength: 47", "strength: 1e400")),
        ("grade_2", changed("orchard: 0.9", "orchard: 2")),
        ("season_without_a_month", changed("season: all_year", "season: months(peak: [])")),
        ("more_kinds_than_sugar", changed("strength: 47", "strength: 47, sugar: 10, glucose: 8, fructose: 8")),
        ("more_kinds_than_acid", changed("strength: 47", "strength: 47, acid: 1, malic: 2")),
        ("no_alcohol_with_strength", changed("gluten_free], origin: (flavour: demo, makeup", "gluten_free, no_alcohol], origin: (flavour: demo, makeup")),
        ("spread_beside_the_makeup", changed("loudness: 0.6", "loudness: 0.6, spread: (strength: (50, 60))")),
        ("flesh_without_origin", changed("loudness: 0.4", "loudness: 0.4, flesh: (water: 84, sugar: 10)")),
        ("flesh_over_100", changed("loudness: 0.4", "loudness: 0.4, flesh: (water: 184, sugar: 10)")),
        ("juice_of_nothing", changed("loudness: 0.4", "loudness: 0.4, juice: (gives: \"pear-juice\", ml: 50, least: 60, most: 40)")),
        ("keeps_nowhere", changed("loudness: 0.4", "loudness: 0.4, keeps: (store: pantry, opened: 3)")),
        ("climate_unknown", changed("loudness: 0.4", "loudness: 0.4, climates: (arctic: all_year)")),
        ("prep_of_nothing", prep("makes: \"pear\", way: syrup, lines: [(of: \"pear\", amount: \"1 g\")]")),
        ("prep_unknown_line", prep("makes: \"rye\", way: syrup, lines: [(of: \"peer\", amount: \"1 g\")]")),
        ("prep_unknown_way", prep("makes: \"rye\", way: brew, lines: [(of: \"pear\", amount: \"1 g\")]")),
        ("prep_without_lines", prep("makes: \"rye\", way: syrup, lines: []")),
        ("makeup_without_origin", changed(", makeup: practice", "")),
        ("vegan_with_milk", changed("allergens: []", "allergens: [milk]")),
        ("empty_name", changed("name: \"pear\"", "name: \" \"")),
        ("control_character", changed("name: \"pear\"", "name: \"pe\\u{1b}[31mar\"")),
        ("id_that_leaves_the_folder", changed("id: \"pear\"", "id: \"../pear\"")),
        ("made_from_unknown", changed("loudness: 0.4", "loudness: 0.4, made_from: [\"peer\"]")),
        ("unknown_caution", changed("loudness: 0.4", "loudness: 0.4, cautions: [\"raw-egg\"]")),
        ("duplicate_ingredient", Pack::new().ingredients(&format!("{INGREDIENT}{INGREDIENT}"))),
        ("alias_taken", changed("kind: fruit", "aliases: [\"Rye\"], kind: fruit")),
        ("several_faults", changed("loudness: 0.4", "loudness: 4").file("affinities/a.ron", "[\n    (of: \"pear\", origin: demo, goes_with: [(\"ryee\", 0.5), (\"rye\", 7), (\"pear\", 0.4)]),\n]\n")),
        ("affinity_0", sheet("(of: \"pear\", origin: demo, goes_with: [(\"rye\", 0.0)]),")),
        ("unknown_partner", sheet("(of: \"pear\", origin: demo, goes_with: [(\"reye\", 0.5)]),")),
        ("unknown_partner_far", sheet("(of: \"pear\", origin: demo, goes_with: [(\"marmalade\", 0.5)]),")),
        ("with_itself", sheet("(of: \"pear\", origin: demo, clashes: [(\"pear\")]),")),
        ("pair_twice", sheet("(of: \"pear\", origin: demo, goes_with: [(\"rye\", 0.5)]),\n    (of: \"rye\", origin: demo, goes_with: [(\"pear\", 0.6)]),")),
        ("affinity_and_clash", sheet("(of: \"pear\", origin: demo, goes_with: [(\"rye\", 0.5)], clashes: [(\"rye\", \"no\")]),")),
        ("sheet_without_origin", sheet("(of: \"pear\", goes_with: [(\"rye\", 0.5)]),")),
        ("slot_of_another_role", template("(role: sour, classic: \"rye\", amount: \"2 oz\")")),
        ("slot_not_poured", template("(role: garnish, classic: \"pear\", amount: \"2 oz\")")),
        ("slot_amount", template("(role: base, classic: \"rye\", amount: \"two oz\")")),
        ("slot_limits", template("(role: base, classic: \"rye\", amount: \"2 oz\", least: \"3 oz\")")),
        ("slot_unknown", template("(role: base, classic: \"rey\", amount: \"2 oz\")")),
        ("no_slots", template("")),
        ("affinity_past_1", sheet("(of: \"pear\", origin: demo, goes_with: [(\"rye\", 1.5)]),")),
        ("affinity_left_out", sheet("(of: \"pear\", origin: demo, goes_with: [(\"rye\")]),")),
        ("sheet_twice", sheet("(of: \"pear\", origin: demo),\n    (of: \"pear\", origin: demo),")),
        ("season_without_origin", changed("season: all_year", "season: months(peak: [oct])")),
        ("origin_for_no_makeup", changed("(flavour: demo)", "(flavour: demo, makeup: practice)")),
        ("id_with_capitals", changed("id: \"pear\"", "id: \"Pear\"")),
        ("name_too_long", changed("name: \"pear\"", &format!("name: \"{}\"", "pear ".repeat(40)))),
        ("made_from_itself", changed("loudness: 0.4", "loudness: 0.4, made_from: [\"pear\"]")),
        ("field_twice", changed("loudness: 0.4", "loudness: 0.4, loudness: 0.5")),
        ("eleven_slots", template(&"(role: base, classic: \"rye\", amount: \"1 oz\"), ".repeat(11))),
        ("slot_field_near", template("(role: base, clasic: \"rye\", amount: \"2 oz\")")),
        ("slot_amount_of_nothing", template("(role: base, classic: \"rye\", amount: \"0 oz\")")),
        ("template_twice", template("(role: base, classic: \"rye\", amount: \"2 oz\")").file("templates/b.ron", TEMPLATE)),
        ("garnish_unknown", Pack::new().ingredients(INGREDIENT).file("templates/a.ron", TEMPLATE.replace("practice", "practice, garnish: [(\"paer\", \"slice\")]"))),
        ("deep_in_a_field", changed("loudness: 0.4", &format!("loudness: {}", "[".repeat(5000)))),
        ("deep_and_closed", changed("loudness: 0.4", &format!("loudness: {}{}", "[".repeat(5000), "]".repeat(5000)))),
        ("no_list", Pack::new().file("ingredients/a.ron", "(id: \"pear\")")),
        ("empty_file", Pack::new().file("ingredients/a.ron", "")),
        ("control_in_a_broken_file", Pack::new().file("ingredients/a.ron", "[\n(id: \"pear\" \u{1b}[31m)]")),
        ("broken_head", Pack::new().file("pack.ron", "(format: 1, nmae: \"bad\")")),
        ("several_files", several_files()),
        ("deep_nesting", Pack::new().file("ingredients/a.ron", "[".repeat(5000))),
        ("not_utf8", Pack::new().file("ingredients/a.ron", b"[\n(id: \"p\xffar\")]".as_slice())),
        ("newer_format", Pack::new().file("pack.ron", "(format: 9, name: \"bad\")")),
        ("no_ingredients", Pack::new()),
    ];
    for (name, pack) in cases {
        insta::assert_snapshot!(format!("pack_{name}"), pack.told());
    }
}

/// What is refused at opening is what `check` tells, whole and nothing else.
#[test]
fn check_tells_the_faults_of_a_pack_as_opening_does() {
    let pack = several_files();
    let check = |more: &[&str]| {
        told(medlar().args(more).arg("--pack").arg(pack.0.path()).arg("check"), pack.0.path())
    };
    assert_eq!(check(&[]), pack.told());
    assert!(check(&[]).starts_with("status 1\n"));
    let answer = check(&["--json"]);
    let line = answer.lines().find(|l| l.starts_with('{')).unwrap();
    let answer: serde_json::Value = serde_json::from_str(line).unwrap();
    assert_eq!(answer["error"]["kind"], "mistake");
    let detail = answer["error"]["detail"].as_str().unwrap();
    assert!(check(&[]).contains(detail.trim_end()), "{detail}");
}

#[test]
fn packs_that_are_not_what_they_seem() {
    let missing = Path::new("/nonexistent/pack");
    insta::assert_snapshot!("pack_no_folder", told(medlar().arg("--pack").arg(missing).arg("list"), missing));
    let headless = Pack::new();
    fs::remove_file(headless.0.path().join("pack.ron")).unwrap();
    insta::assert_snapshot!("pack_no_head", headless.told());
    let misspelt = Pack::new().ingredients(INGREDIENT);
    fs::create_dir(misspelt.0.path().join("affinites")).unwrap();
    fs::write(misspelt.0.path().join("affinites/a.ron"), "[]").unwrap();
    fs::write(misspelt.0.path().join("templates/a.RON"), "[]").unwrap();
    insta::assert_snapshot!("pack_folder_misspelt", misspelt.told());
    insta::assert_snapshot!(
        "pack_format_0",
        Pack::new().file("pack.ron", "(format: 0, name: \"bad\")").told()
    );
    let folder = Pack::new();
    fs::create_dir(folder.0.path().join("ingredients/a.ron")).unwrap();
    insta::assert_snapshot!("pack_folder_for_a_file", folder.told());
    let huge = Pack::new();
    fs::File::create(huge.0.path().join("ingredients/a.ron")).unwrap().set_len(3 << 30).unwrap();
    insta::assert_snapshot!("pack_huge_file", huge.told());
}

fn weir() -> Command {
    let mut command = medlar();
    command.arg("--pack").arg(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/packs/weir"));
    command
}

#[test]
fn lines() {
    let cases = [
        ("unknown_command", "pear quince"),
        ("misspelt", "pairs quicne"),
        ("nothing_near", "pairs zzzzzz"),
        ("tie", "pairs liqueur"),
        ("a_drink_for_an_ingredient", "pairs negroni"),
        ("no_names", "pairs"),
        ("five_names", "pairs quince, pear, mezcal, peach, mint"),
        ("unknown_month", "season octobre"),
        ("unknown_kind", "pairs quince --kind froot"),
        ("unknown_allergen", "pairs quince --without peanut-butter"),
        ("limit_0", "pairs quince --limit 0"),
        ("units", "pairs quince --units cups"),
        ("bridge_of_one", "bridge oyster"),
        ("accord_size_1", "accord quince --size 1"),
        ("accord_too_full", "accord quince, pear --size 2"),
        ("accord_least", "accord quince --least 7"),
        ("swap_without_equals", "riff negroni --swap gin"),
        ("swap_absent", "riff negroni --swap mezcal=gin"),
        ("swap_to_food", "riff negroni --swap gin=oyster"),
        ("swap_to_what_is_there", "riff negroni --swap gin=sweet vermouth"),
        ("swap_for_itself", "riff negroni --swap gin=gin"),
        ("swap_twice", "riff negroni --swap gin=mezcal --swap gin=tequila"),
        ("wanted_and_unwanted", "riff negroni --with mezcal --no mezcal"),
        ("brings_an_allergen", "riff daiquiri --swap syrup=orgeat --without nuts"),
        ("cannot_work_in", "riff negroni --with oyster"),
        ("unknown_template", "riff negrini"),
        ("ingredient_for_a_drink", "riff mezcal"),
        ("no_name_in_a_spec", "balance 2 oz"),
        ("unknown_unit", "balance 12 parsecs gin"),
        ("negative", "balance -1 oz gin"),
        ("endless", "balance 1e400 oz gin"),
        ("unknown_unit_glued", "balance 120parsecs gin"),
        ("above_the_most", "balance 999999999 oz gin"),
        ("nothing_of_it", "balance 0 oz gin"),
        ("number_past_the_list", "pairs liqueur\nshow 99"),
        ("number_0", "pairs liqueur\nshow 0"),
        ("no_number", "show 99999999999999999999999"),
        ("unknown_option", "pairs quince --in-saeson"),
        ("option_without_value", "pairs quince --limit"),
        ("unknown_option_month", "pairs quince --month smarch"),
        ("unknown_half", "season --hemisphere west"),
        ("bridge_of_three", "bridge oyster, peach, mint"),
        ("accord_size_too_large", "accord quince --size 200"),
        ("accord_least_nan", "accord quince --least NaN"),
        ("only_commas", "pairs ,,,"),
        ("swap_in_absent", "swap mezcal --in negroni"),
        ("swap_empty_sides", "riff negroni --swap ="),
        ("right_to_left", "pairs \u{202e}ecniuq"),
        ("quit_with_more", "quit now"),
        ("over_zero", "balance 1/0 oz gin"),
        ("nothing_poured", "balance 3 leaves mint"),
        ("unknown_in_a_spec", "balance 2 oz gni, 1 oz sweet vermouth"),
        ("unknown_method", "balance negroni --method stired"),
        ("number_too_early", "show 2"),
        ("check_of_a_name", "check quince"),
        ("unknown_list", "list template5"),
        ("help_of_nothing", "help rif"),
        ("open_quote", "pairs \"quince"),
        ("escape_codes", "pairs \u{1b}[31mquince\u{1b}[0m"),
        ("pack_inside", "list --pack elsewhere"),
    ];
    told_line_by_line(&cases);
}

#[test]
fn lines_of_the_bench() {
    let cases = [
        ("bench_of_nothing", "bench chil negroni"),
        ("bench_strength_120", "bench cut 700 ml of 120 % to 43 %"),
        ("bench_cut_upwards", "bench cut 700 ml of 40 % to 43 %"),
        ("bench_cut_to_nothing", "bench cut 700 ml of 40 % to 0 %"),
        ("bench_cut_without_to", "bench cut 700 ml of 40 %"),
        ("bench_cut_without_strength", "bench cut 700 ml to 43 %"),
        ("bench_cut_too_much_said", "bench cut 700 ml of 57.7 % and 3 bananas to 43 %"),
        ("bench_no_room_for_water", "bench cut 700 ml of 95 % 900 g/L sugar to 43 %"),
        ("bench_fortify_too_weak", "bench fortify 750 ml of 12 % to 18 % with 17 %"),
        ("bench_fortify_with_nothing", "bench fortify 750 ml of 12 % to 18 %"),
        ("bench_temperature_300", "bench freezer 20 % 95 g/L at -300 C"),
        ("bench_freezer_too_cold", "bench freezer 20 % 95 g/L at -60 C"),
        ("bench_freezer_pure", "bench freezer 100 % at -18 C"),
        ("bench_freezer_bottle_0", "bench freezer 20 % --bottle 0 ml"),
        ("bench_freezer_food", "bench freezer oyster"),
        ("bench_brix_95", "bench brix 95"),
        ("bench_brix_of_nothing", "bench brix lots"),
        ("bench_syrup_past_the_formula", "bench syrup 20:1"),
        ("bench_syrup_at_120", "bench syrup 2:1 at 120 C"),
        ("bench_syrup_without_water", "bench syrup 500 g sugar"),
        ("bench_acid_already", "bench acid 1 l lime juice to 20 g/L"),
        ("bench_acid_powder", "bench acid 1 l water to lime juice with 2 sugar"),
        ("bench_acid_unknown", "bench acid 1 l ornage juice to lime juice"),
        ("bench_negative_ice", "bench chill negroni --ice -5 g"),
        ("bench_warm_ice", "bench chill negroni --ice-at 4 C"),
        ("bench_ice_is_no_mass", "bench chill negroni --ice lots"),
        ("bench_wet_200", "bench chill negroni --wet 200 %"),
        ("bench_vessel_without_weight", "bench chill negroni --vessel-of glass"),
        ("bench_no_ice", "bench chill negroni --method no-ice"),
        ("bench_minutes", "bench chill negroni --method built --minutes 500"),
        ("bench_weigh_less", "bench weigh negroni before 100 g after 90 g"),
        ("bench_weigh_too_much", "bench weigh negroni before 10 g after 900 g"),
        ("bench_weigh_half", "bench weigh negroni before 100 g"),
        ("bench_weigh_forget_nowhere", "bench weigh --forget stirred"),
        ("bench_gas_too_much", "bench carbonate 40 volumes at 4 C"),
        ("bench_gas_too_warm", "bench carbonate 4 volumes at 60 C"),
        ("bench_gas_bursts", "bench carbonate 700 ml 12 % 30 psi at 2 C --bottle beer --brim 750 ml"),
        ("bench_gas_wine_bottle", "bench carbonate 2 volumes at 4 C --bottle still-wine"),
        ("bench_gas_overfull", "bench carbonate 800 ml 2 volumes at 4 C --bottle pet --brim 750 ml"),
        ("bench_gas_full", "bench carbonate 750 ml 2 volumes at 4 C --bottle pet --brim 750 ml"),
        ("bench_gas_of_nothing", "bench carbonate soda"),
        ("dilution_way", "balance negroni --dilution guess"),
        ("dilution_negative", "balance negroni --dilution -5 %"),
        ("tolerance_of_a_word", "balance --tolerance negroni"),
        ("tolerance_without_unit", "balance negroni --tolerance 7.5"),
        ("tolerance_of_nothing", "balance negroni --tolerance 0 ml"),
        ("tolerance_of_a_bottle", "balance negroni --tolerance 700 ml"),
        ("tolerance_of_60_percent", "balance negroni --tolerance 60 %"),
        ("explain_too_early", "explain 2"),
        ("explain_a_name", "explain negroni"),
        ("explain_0", "riff negroni --explain 0"),
        ("explain_past_the_list", "riff negroni --swap gin=mezcal --explain 20"),
        ("serves_0", "balance negroni --tolerance --serves 0"),
        ("serves_without_tolerance", "balance negroni --serves 5"),
        ("dilution_house_unmeasured", "balance negroni --dilution house"),
        ("dilution_ice_without_heat", "balance negroni --dilution published --ice 200 g"),
        ("sweetness_of_9", "balance negroni --sweetness 0.74,9"),
    ];
    told_line_by_line(&cases);
}

#[test]
fn lines_of_the_drink_in_hand() {
    let cases = [
        ("hand_empty", "put mezcal for gin"),
        ("hand_empty_this", "balance this"),
        ("hand_empty_riff", "riff"),
        ("work_of_nothing", "work"),
        ("work_ingredient", "work oyster"),
        ("work_from_nothing", "work 2 oz mezcal --from oyster"),
        ("work_name_of_signs", "work 2 oz mezcal --name ..."),
        ("work_garnish_unknown", "work negroni --garnish orange peel, lmie wheel"),
        ("put_without_for", "work negroni\nput mezcal"),
        ("put_nothing_for", "work negroni\nput for gin"),
        ("put_what_is_in_it", "work negroni\nput sweet vermouth for gin"),
        ("put_for_itself", "work negroni\nput gin for gin"),
        ("put_for_what_is_not", "work negroni\nput mezcal for lime juice"),
        ("put_escape_codes", "work negroni\nput \u{1b}[31mmezcal for gin"),
        ("amount_alone", "work negroni\namount 1 oz"),
        ("amount_without_one", "work negroni\namount gin"),
        ("amount_in_shots", "work negroni\namount gin 2 shots"),
        ("amount_huge", "work negroni\namount gin 99999999 oz"),
        ("amount_of_what_is_not", "work negroni\namount mezcal 1 oz"),
        ("amount_left_over", "work negroni\namount gin 1 oz please"),
        ("add_without_amount", "work negroni\nadd orgeat"),
        ("add_typo", "work negroni\nadd 1/4 oz orgaet"),
        ("add_twice", "work negroni\nadd 1 oz gin"),
        ("drop_the_last", "work 2 oz mezcal\ndrop mezcal"),
        ("drop_what_is_poured", "work 2 oz mezcal, 1 sprig mint\ndrop mezcal"),
        ("method_unknown", "work negroni\nmethod thrown"),
        ("method_same", "work negroni\nmethod stirred"),
        ("name_long", &format!("work negroni\nname {}", "mill ".repeat(20))),
        ("undo_nothing", "work negroni\nundo"),
        ("redo_nothing", "work negroni\nredo"),
        ("undo_words", "work negroni\nundo everything"),
        ("swap_meant_as_put", "work negroni\nswap gin for mezcal"),
        ("take_nothing", "take 1"),
        ("take_no_number", "work negroni\nswap gin --in this --limit 1\ntake one"),
    ];
    told_line_by_line(&cases);
}

fn told_line_by_line(cases: &[(&str, &str)]) {
    for (name, line) in cases {
        let output = weir().write_stdin_text(line);
        insta::assert_snapshot!(format!("line_{name}"), format!("{line:?}\n{output}"));
    }
}

trait Typed {
    fn write_stdin_text(&mut self, line: &str) -> String;
}

impl Typed for Command {
    fn write_stdin_text(&mut self, line: &str) -> String {
        piped(self, line.as_bytes())
    }
}

fn piped(command: &mut Command, bytes: &[u8]) -> String {
    let mut command = assert_cmd::Command::from_std(std::mem::replace(command, Command::new("true")));
    let output = command.write_stdin(bytes).output().unwrap();
    let status = output.status.code();
    assert!(status.is_some_and(|s| s == 1 || s == 2), "{status:?} {output:?}");
    let text = |bytes: &[u8]| {
        let text = String::from_utf8(bytes.to_vec()).unwrap();
        assert!(!text.contains('\u{1b}') && !text.contains("panicked"), "{text:?}");
        text
    };
    format!("status {}\n--- out\n{}--- err\n{}", status.unwrap(), text(&output.stdout), text(&output.stderr))
}

#[test]
fn lines_that_are_no_text() {
    insta::assert_snapshot!("line_not_utf8", piped(&mut weir(), b"pairs qu\xffince\npairs zz\n"));
    let long = format!("pairs {}", "a".repeat(100_000));
    insta::assert_snapshot!("line_too_long", piped(&mut weir(), long.as_bytes()));
}

#[test]
fn errors_as_json() {
    let asked = "pairs quicne\nriff negroni --swap gin\nbalance 2 oz\npairs \"x\n";
    insta::assert_snapshot!("json_errors", piped(weir().arg("--json"), asked.as_bytes()));
}

#[test]
fn a_number_at_the_shell_points_nowhere() {
    weir().args(["show", "2"]).assert().code(1);
    insta::assert_snapshot!("shell_number", told(weir().args(["show", "2"]), Path::new("PACK")));
    insta::assert_snapshot!("shell_usage", told(weir().args(["pairs"]), Path::new("PACK")));
}
