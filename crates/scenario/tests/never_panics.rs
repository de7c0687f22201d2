//! Whatever the text, reading it ends in a plan or in complaints that can be shown.

use proptest::prelude::*;
use scullery_scenario::{DEFAULT_SCENARIO, Format, read_alone, render};

fn reads(text: &str) {
    for format in [Format::Toml, Format::Json] {
        if let Err(complaints) = read_alone(text, format) {
            assert!(!complaints.is_empty());
            let shown = render("x", text, &complaints);
            assert!(
                complaints
                    .iter()
                    .all(|complaint| shown.contains(complaint.code))
            );
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_read_without_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        reads(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn any_text_of_marks_is_read_without_panic(text in "[\\[\\]{}\"'=,.:#\\\\ \n0-9a-c_é-]{0,200}") {
        reads(&text);
    }

    #[test]
    fn a_scenario_with_a_piece_replaced_is_read_without_panic(
        at in 0.0..1.0_f64,
        length in 0..60_usize,
        piece in prop_oneof![
            Just(String::new()),
            "[0-9]{1,20}",
            "-?[0-9]{1,3}\\.[0-9]{1,3}e[0-9]{1,3}",
            Just("nan".to_owned()),
            Just("\"00:00\"".to_owned()),
            Just("{}".to_owned()),
            Just("[]".to_owned()),
            "\"[a-z._]{0,12}\"",
        ],
    ) {
        let start = floor(DEFAULT_SCENARIO, (at * DEFAULT_SCENARIO.len() as f64) as usize);
        let end = floor(DEFAULT_SCENARIO, start + length);
        reads(&format!("{}{piece}{}", &DEFAULT_SCENARIO[..start], &DEFAULT_SCENARIO[end..]));
    }

    #[test]
    fn a_scenario_with_a_value_replaced_is_read_without_panic(
        line in 0..400_usize,
        value in prop_oneof![
            Just("0".to_owned()), Just("-1".to_owned()), Just("1e308".to_owned()), Just("inf".to_owned()), Just("nan".to_owned()),
            Just("99999999999999999999999".to_owned()), Just("\"\"".to_owned()), Just("\"4799:59:59\"".to_owned()),
            Just("\"00:00\"".to_owned()), Just("[]".to_owned()), Just("{}".to_owned()), Just("true".to_owned()), Just("\"leave\"".to_owned()),
        ],
    ) {
        let lines: Vec<&str> = DEFAULT_SCENARIO.lines().collect();
        let line = line % lines.len();
        let changed: Vec<String> = lines.iter().enumerate().map(|(number, text)| match text.split_once('=') {
            Some((key, _)) if number == line && !text.starts_with('#') => format!("{key}= {value}"),
            _ => (*text).to_owned(),
        }).collect();
        reads(&changed.join("\n"));
    }
}

fn floor(text: &str, mut at: usize) -> usize {
    at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

#[test]
fn deep_nesting_is_told_and_not_followed() {
    for (open, close) in [("[", "]"), ("{\"a\":", "}")] {
        let json = format!("{}1{}", open.repeat(100_000), close.repeat(100_000));
        assert_eq!(
            read_alone(&json, Format::Json).unwrap_err()[0].code,
            "not-json"
        );
    }
    let toml = format!("a = {}1{}", "[".repeat(10_000), "]".repeat(10_000));
    assert!(read_alone(&toml, Format::Toml).is_err());
    let dotted = format!("{} = 1", vec!["a"; 20_000].join("."));
    assert!(read_alone(&dotted, Format::Toml).is_err());
}
