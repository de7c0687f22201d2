//! The lunch in motion: a whole picture without scripts, its data what the record says.

use scullery_report::{Report, page::page_with};

use crate::fixture::hall;
use crate::page::well_formed;
use crate::room::films;

fn page() -> String {
    let (summary, films) = (hall(), films());
    let report = Report {
        films: &films,
        ..Report::of(&summary)
    };
    page_with(&report, &report.figures().unwrap()).unwrap()
}

/// The element with this beginning, up to the end of its group.
fn group<'a>(page: &'a str, begins: &str) -> &'a str {
    let at = page.find(begins).unwrap_or_else(|| panic!("{begins}"));
    let rest = &page[at..];
    &rest[..rest.find("</g>").unwrap()]
}

#[test]
fn without_scripts_the_strip_shows_the_worst_second_of_the_first_lunch() {
    let page = page();
    well_formed(&page);
    assert!(page.contains("id=\"motion-clock\" x=\"14\" y=\"42\">11:15:00<"));
    let standing = group(&page, "data-place=\"drop_off.main.standing\"");
    assert_eq!(standing.matches("m person open on").count(), 9);
    assert!(standing.contains(">9</tspan>"), "{standing}");
    // Sixteen places on the belt; 3 trays lie there until five seconds later.
    let belt = group(&page, "data-place=\"belt.soiled\"");
    assert_eq!(belt.matches("class=\"m tray").count(), 16);
    assert_eq!(belt.matches("m tray on").count(), 3);
    assert!(belt.contains("3 of 16"));
    assert!(page.contains("Ada held up by lane feed"));
    assert!(
        page.contains(">40</tspan> covers served") && page.contains(">12</tspan> trays cleared")
    );
}

#[test]
fn marks_of_a_crowd_stand_for_several_and_the_page_says_so_for_that_lunch_alone() {
    let page = page();
    let data = page.split("id=\"motion-data\"").nth(1).unwrap();
    let (_, data) = data.split_once('>').unwrap();
    let data: serde_json::Value =
        serde_json::from_str(data.split("</script>").next().unwrap()).unwrap();
    // 160 people in the second lunch, at most 72 marks: each stands for three.
    assert_eq!(data["places"][0]["each"], serde_json::json!([1, 3]));
    assert_eq!(data["films"][1]["worst"], 40_500);
    assert_eq!(data["actors"][0][0], "Ada");
}

#[test]
fn the_table_beside_it_has_every_quarter_hour_of_both_lunches() {
    let page = page();
    let part = page
        .split("Numbers of this picture: each quarter hour")
        .nth(1)
        .unwrap();
    let part = &part[..part.find("</details>").unwrap()];
    assert_eq!(part.matches("<table>").count(), 2);
    assert_eq!(part.matches("<tr>").count(), 2 * (1 + 5));
    assert!(part.contains(">160<") && part.contains("held up, scrapping main"));
}

#[test]
fn only_the_one_script_may_run_and_nothing_may_be_fetched() {
    let page = page();
    assert!(page.contains("default-src &#39;none&#39;") || page.contains("default-src 'none'"));
    assert_eq!(
        page.matches("<script").count(),
        2,
        "the script and its data"
    );
    let bare = scullery_report::page(&hall()).unwrap();
    assert!(!bare.contains("<script") && bare.contains("script-src 'none'"));
}

#[test]
fn the_same_lunches_give_the_same_page_and_a_small_one() {
    let page = page();
    assert_eq!(page, self::page());
    assert!(page.len() < 3_000_000);
}

#[test]
fn waste_is_told_in_kilograms_or_pounds_by_picture_and_script() {
    let page = |units: &str| {
        let (mut summary, mut films) = (hall(), films());
        summary.heading.units = units.into();
        for film in &mut films {
            let mut bin = film.places[4].clone();
            bin.id = "waste.slops".into();
            (bin.unit, bin.role, bin.room) = ("grams".into(), "waste".into(), None);
            bin.changes = vec![(film.from_s + 610, 4_250)];
            film.places.push(bin);
        }
        let report = Report {
            films: &films,
            ..Report::of(&summary)
        };
        page_with(&report, &report.figures().unwrap()).unwrap()
    };
    let metric = page("metric");
    let bin = group(&metric, "data-place=\"waste.slops\"");
    // 4.25 kg, rounded as the script rounds.
    assert!(bin.contains(">4.3 kg</tspan>"), "{bin}");
    assert!(metric.contains("\"weight\":[1000.0,\"kg\"]"));
    let us = page("us");
    // 4250 / 453.59237 = 9.3697 lb.
    assert!(group(&us, "data-place=\"waste.slops\"").contains(">9.4 lb</tspan>"));
    assert!(us.contains("\"weight\":[453.59237,\"lb\"]"));
}
