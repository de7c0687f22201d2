//! The page: well formed, whole in one file, its numbers those of the summary.

use scullery_report::number::{Units, row_texts};
use scullery_report::page::page_with;
use scullery_report::{Chapter, Report, Slot, page};

use crate::fixture::hall;

/// Elements that have no end tag.
const VOID: [&str; 4] = ["meta", "br", "link", "input"];

/// Walks the tags: each opened is closed in its turn, no bare `<` or `&` stands in a text, no id occurs twice.
pub(crate) fn well_formed(text: &str) {
    let mut open: Vec<String> = Vec::new();
    let mut ids = std::collections::BTreeSet::new();
    let mut rest = text.trim_start_matches("<!DOCTYPE html>");
    while let Some(at) = rest.find('<') {
        check_text(&rest[..at]);
        let end = rest[at..]
            .find('>')
            .map(|end| at + end)
            .expect("a tag ends");
        let tag = &rest[at + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop().as_deref(), Some(name), "closed out of turn");
            continue;
        }
        let name = tag.split([' ', '/']).next().unwrap().to_owned();
        assert!(
            name.chars().all(|c| c.is_ascii_alphanumeric()),
            "a bare < before {tag}"
        );
        assert_eq!(
            tag.matches('"').count() % 2,
            0,
            "an attribute that does not end: {tag}"
        );
        if let Some(id) = tag.split(" id=\"").nth(1) {
            let id = id.split('"').next().unwrap().to_owned();
            assert!(ids.insert(id.clone()), "id {id} twice");
        }
        if name == "style" || name == "script" {
            let end = format!("</{name}>");
            rest = &rest[rest.find(&end).expect("it ends") + end.len()..];
        } else if !tag.ends_with('/') && !VOID.contains(&name.as_str()) {
            open.push(name);
        }
    }
    check_text(rest);
    assert!(open.is_empty(), "left open: {open:?}");
}

fn check_text(text: &str) {
    for part in text.split('&').skip(1) {
        let entity = part.split_once(';').map_or("", |(entity, _)| entity);
        assert!(
            ["amp", "lt", "gt", "quot", "apos", "#39"].contains(&entity),
            "a bare & before {part:.20}"
        );
    }
}

/// The text of the page without its tags.
fn words(page: &str) -> String {
    let body = &page[page.find("<body>").unwrap()..];
    let mut out = String::new();
    let mut inside = false;
    for letter in body.chars() {
        match letter {
            '<' => inside = true,
            '>' => {
                inside = false;
                out.push('\u{1}');
            }
            _ if !inside => out.push(letter),
            _ => {}
        }
    }
    out
}

#[test]
fn the_page_is_well_formed_and_the_same_bytes_twice() {
    let once = page(&hall()).unwrap();
    well_formed(&once);
    assert_eq!(once, page(&hall()).unwrap());
}

#[test]
fn the_page_asks_for_nothing_outside_itself_and_a_page_without_motion_runs_no_script() {
    let page = page(&hall()).unwrap();
    for barred in [
        "<script",
        "<link",
        "<img",
        "<iframe",
        " src=",
        "@import",
        "onclick",
        "javascript:",
    ] {
        assert!(!page.contains(barred), "{barred}");
    }
    let outside = page.replace("http://www.w3.org/2000/svg", "");
    assert!(
        !outside.contains("http:") && !outside.contains("https:") && !outside.contains("file:")
    );
    assert_eq!(
        page.matches("url(").count() - page.matches("url(#").count(),
        2,
        "only the two faces of the embedded font"
    );
}

#[test]
fn what_the_user_wrote_is_escaped() {
    let mut summary = hall();
    summary.heading.name = "<script>alert('x')</script> & sons".into();
    summary.people[0].name = "Ada \"<b>\"".into();
    let page = page(&summary).unwrap();
    well_formed(&page);
    assert!(!page.contains("<script") && !page.contains("<b>"));
}

#[test]
fn the_numbers_of_the_page_are_those_of_the_summary() {
    let summary = hall();
    let words = words(&page(&summary).unwrap());
    let cell = |text: &str| words.contains(&format!("\u{1}{text}\u{1}"));
    for m in &summary.measures {
        let [low, high] = m
            .ci95
            .map_or([None, None], |[low, high]| [Some(low), Some(high)]);
        let texts = row_texts(
            [m.mean, low, high, m.p05, m.p50, m.p95],
            &m.unit,
            Units::Metric,
        );
        assert!(cell(&texts[0]) && cell(&texts[4]), "{}: {texts:?}", m.id);
        let ends = format!("{} to {}", texts[1], texts[2]);
        assert!(cell(&ends) || m.mean.is_none(), "{}: {ends}", m.id);
    }
    for resource in &summary.resources {
        let [mean] = row_texts([resource.amount.mean], &resource.unit, Units::Metric);
        assert!(cell(&mean), "{}: {mean}", resource.id);
    }
    for text in [
        "340.00", "5.92", "14.81", "360.73", "6.25", "259,120", "20260101",
    ] {
        assert!(words.contains(text), "{text}");
    }
    assert!(words.contains(&summary.answer) && words.contains(&summary.targets[1].evidence));
}

#[test]
fn the_answer_comes_before_all_else_and_the_sections_keep_their_order() {
    let page = page(&hall()).unwrap();
    let at = |needle: &str| {
        page.find(needle)
            .unwrap_or_else(|| panic!("{needle} is missing"))
    };
    let order = [
        "class=\"answer\"",
        "Which day: ",
        "id=\"targets\"",
        "id=\"progress\"",
        "id=\"queue\"",
        "id=\"crew\"",
        "id=\"figure-people\"",
        "id=\"machine\"",
        "id=\"places\"",
        "id=\"stock\"",
        "id=\"room\"",
        "id=\"resources\"",
        "id=\"assumptions\"",
        "id=\"defaults\"",
        "id=\"cautions\"",
        "id=\"computed\"",
        "id=\"all-measures\"",
    ];
    let places: Vec<usize> = order.iter().map(|needle| at(needle)).collect();
    assert!(places.is_sorted(), "{places:?}");
}

#[test]
fn a_chapter_that_somebody_brought_stands_in_its_slot_and_none_stands_empty() {
    let summary = hall();
    let chapter = |slot, id: &str| Chapter {
        slot,
        id: id.into(),
        title: format!("Chapter {id}"),
        words: vec!["From 12:15 to 12:50 <scrapping> held the line back.".into()],
        figures: vec![],
        tables: vec![],
    };
    let chapters = [
        chapter(Slot::Comparison, "beside"),
        chapter(Slot::Bottleneck, "back"),
    ];
    let report = Report {
        chapters: &chapters,
        ..Report::of(&summary)
    };
    let page = page_with(&report, &report.figures().unwrap()).unwrap();
    well_formed(&page);
    let at = |needle: &str| page.find(needle).unwrap();
    assert!(at("id=\"crew\"") < at("id=\"back\"") && at("id=\"back\"") < at("id=\"machine\""));
    assert!(
        at("id=\"resources\"") < at("id=\"beside\"")
            && at("id=\"beside\"") < at("id=\"assumptions\"")
    );
    let bare = self::page(&summary).unwrap();
    assert!(!bare.contains("Bottleneck") && !bare.contains("id=\"motion\""));
}

#[test]
fn lunches_that_locked_are_told_aloud_and_a_balance_that_is_off_is_not_hidden() {
    let mut summary = hall();
    summary.endings.gridlock = 2;
    summary.endings.sentences =
        vec!["at 12:51 Ada waits for the lane, the lane for the machine".into()];
    summary.balance.trays_out -= 1;
    let text = words(&page(&summary).unwrap());
    assert!(text.contains("Ada waits for the lane") && text.contains("locked for good"));
    assert!(text.contains("These do not agree"));
    assert!(!words(&page(&hall()).unwrap()).contains("These do not agree"));
}

#[test]
fn customary_units_are_shown_when_the_summary_asks_for_them() {
    let mut summary = hall();
    summary.heading.units = "us".into();
    let text = words(&page(&summary).unwrap());
    assert!(
        text.contains("\u{1}391\u{1}") && text.contains("\u{1}gal\u{1}"),
        "1480 L are 391 gal"
    );
    assert!(
        text.contains("\u{1}4.96\u{1}") && text.contains("\u{1}lb\u{1}"),
        "2.25 kg are 4.96 lb"
    );
}

#[test]
fn the_words_of_the_page_are_as_before() {
    let page = page(&hall()).unwrap();
    // The pictures have snapshots of their own.
    let mut kept = String::new();
    for (at, part) in page.split("<svg xmlns").enumerate() {
        let part = if at == 0 {
            part
        } else {
            part.split_once("</svg>").map_or(part, |(_, rest)| rest)
        };
        kept.push_str(part);
    }
    let text = words(&kept);
    let lines: Vec<&str> = text
        .split('\u{1}')
        .map(str::trim)
        .filter(|line| !line.is_empty())
        .collect();
    insta::assert_snapshot!("page_words", lines.join("\n"));
}
