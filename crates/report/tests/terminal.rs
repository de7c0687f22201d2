//! The text for a terminal.

use scullery_report::terminal::{Signs, terminal};

use crate::fixture::hall;

#[test]
fn the_answer_comes_first_and_the_text_is_as_before() {
    let text = terminal(&hall(), 80, Signs::Blocks);
    assert!(text.starts_with("On days as they come, five people hold this lunch:"));
    insta::assert_snapshot!("terminal_80", text);
}

#[test]
fn no_line_is_wider_than_the_window() {
    for width in [40, 60, 72, 80, 100, 120] {
        for line in terminal(&hall(), width, Signs::Blocks).lines() {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
    }
}

#[test]
fn all_but_the_users_own_words_is_ascii() {
    let mut summary = hall();
    summary.heading.currency = "EUR".into();
    summary.answer = "5\u{2013}95 of 100 \u{2264} 60 s".into();
    let text = terminal(&summary, 80, Signs::Ascii);
    assert!(text.is_ascii(), "{text}");
}

#[test]
fn a_study_stopped_early_and_a_lunch_that_locked_say_so() {
    let mut summary = hall();
    summary.repeats = 80;
    summary.endings.gridlock = 1;
    summary.endings.sentences = vec!["at 12:51 Ada waits for the lane".into()];
    let text = terminal(&summary, 80, Signs::Ascii)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(
        text.contains("stopped early; 200 were asked for") && text.contains("1 locked for good"),
        "{text}"
    );
    assert!(text.contains("! at 12:51 Ada waits for the lane"), "{text}");
}

#[test]
fn queue_and_backlog_run_over_the_clock_in_blocks_or_in_plain_letters() {
    let blocks = terminal(&hall(), 80, Signs::Blocks);
    assert!(blocks.contains('\u{2588}') && blocks.contains("95th of 100"));
    let plain = terminal(&hall(), 80, Signs::Ascii);
    assert!(!plain.contains('\u{2588}') && plain.contains('@'));
}

#[test]
fn targets_stand_in_a_table_and_those_on_a_mean_have_their_evidence_under_them() {
    let text = terminal(&hall(), 100, Signs::Ascii);
    let line = text.lines().find(|line| line.contains("[holds]")).unwrap();
    let cells: Vec<&str> = line
        .split("  ")
        .map(str::trim)
        .filter(|c| !c.is_empty())
        .collect();
    assert_eq!(cells[1..], ["96", "92 to 98", "90"], "{line}");
    assert!(text.contains("the mean is 61; between 60 and 62"));
}
