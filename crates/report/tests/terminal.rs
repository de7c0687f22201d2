//! The text for a terminal.

use scullery_report::terminal::terminal;

use crate::fixture::hall;

#[test]
fn the_answer_comes_first_and_the_text_is_as_before() {
    let text = terminal(&hall(), 80);
    assert!(text.starts_with("On days as they come, five people hold this lunch:"));
    insta::assert_snapshot!("terminal_80", text);
}

#[test]
fn no_line_is_wider_than_the_window() {
    for width in [40, 60, 72, 80, 100, 120] {
        for line in terminal(&hall(), width).lines() {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
    }
}

#[test]
fn all_but_the_users_own_words_is_ascii() {
    let mut summary = hall();
    summary.heading.currency = "EUR".into();
    summary.answer = "5\u{2013}95 of 100 \u{2264} 60 s".into();
    let text = terminal(&summary, 80);
    assert!(text.is_ascii(), "{text}");
}

#[test]
fn a_study_stopped_early_and_a_lunch_that_locked_say_so() {
    let mut summary = hall();
    summary.repeats = 80;
    summary.endings.gridlock = 1;
    summary.endings.sentences = vec!["at 12:51 Ada waits for the lane".into()];
    let text = terminal(&summary, 80)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ");
    assert!(
        text.contains("stopped early; 200 were asked for") && text.contains("1 locked for good"),
        "{text}"
    );
    assert!(text.contains("! at 12:51 Ada waits for the lane"), "{text}");
}
