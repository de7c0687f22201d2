//! Pictures: named, lettered, the same bytes twice, and nothing of them hangs on colour.

use std::collections::BTreeSet;

use scullery_report::svg::ids;
use scullery_report::{figures, png::png};

use crate::fixture::{hall, waste};
use crate::page::well_formed;

#[test]
fn every_picture_is_named_described_and_well_formed() {
    for figure in figures(&hall()).unwrap() {
        well_formed(&figure.svg);
        let id = &figure.id;
        assert!(
            figure.svg.contains(&format!("<title id=\"{id}-title\">")),
            "{id}"
        );
        assert!(
            figure.svg.contains(&format!("<desc id=\"{id}-desc\">")),
            "{id}"
        );
        assert!(
            !figure.desc.is_empty() && !figure.caption.is_empty(),
            "{id}"
        );
        assert!(
            figure.tables.iter().all(|t| t.rows.len() == 18
                || t.caption.starts_with("The roster")
                || id == "floor"),
            "{id}: a row for each of the 18 quarter hours"
        );
        assert!(
            figure
                .tables
                .iter()
                .all(|t| t.rows.iter().all(|row| row.len() == t.head.len())),
            "{id}"
        );
    }
}

#[test]
fn the_strip_has_a_numbered_box_an_element_to_one_scale() {
    let figures = figures(&hall()).unwrap();
    let floor = figures.iter().find(|it| it.id == "floor").unwrap();
    for name in ["belt soiled", "machine main", "clean end", "servery", "1 m"] {
        assert!(floor.svg.contains(name), "{name}");
    }
    assert!(floor.svg.contains("2 tray dollies &lt;soiled&gt;"));
    assert!(floor.desc.contains("A room of 14.0 by 5.0 m") && floor.desc.contains("cross once"));
    let rows = &floor.tables[0].rows;
    assert_eq!(rows.len(), 5);
    assert_eq!(rows[1][1..6], ["machine main", "7.2", "0.0", "2.0", "1.0"]);
    assert_eq!(rows[2][7], "in a row, usual size");
    // Nothing to see from above where one thing stands alone.
    let mut alone = hall();
    alone.planned.floor.boxes.truncate(1);
    let figures = scullery_report::figures(&alone).unwrap();
    assert!(figures.iter().all(|it| it.id != "floor"));
}

#[test]
fn pictures_and_png_are_the_same_bytes_twice() {
    let (once, again) = (figures(&hall()).unwrap(), figures(&hall()).unwrap());
    assert!(once.iter().zip(&again).all(|(a, b)| a.svg == b.svg));
    let picture = &once[0].svg;
    assert_eq!(png(picture).unwrap(), png(picture).unwrap());
}

#[test]
fn no_two_pictures_share_an_id() {
    let pictures = figures(&hall()).unwrap();
    let all: Vec<&str> = pictures
        .iter()
        .flat_map(|figure| ids(&figure.svg))
        .collect();
    assert_eq!(all.iter().collect::<BTreeSet<_>>().len(), all.len());
}

#[test]
fn letters_come_out_in_the_png() {
    // The same picture with its letters taken out must differ, else the font did not reach the drawer.
    let figure = figures(&hall()).unwrap().remove(0);
    let mute: String = figure
        .svg
        .split("<text ")
        .enumerate()
        .map(|(at, part)| {
            if at == 0 {
                part
            } else {
                part.split_once("</text>").map_or("", |(_, rest)| rest)
            }
        })
        .collect();
    assert!(figure.svg.contains("<text ") && !mute.contains("<text "));
    assert_ne!(png(&figure.svg).unwrap(), png(&mute).unwrap());
}

#[test]
fn a_place_where_nothing_ever_stood_is_named_and_not_drawn() {
    let figures = figures(&hall()).unwrap();
    let lanes = figures
        .iter()
        .find(|figure| figure.id == "waiting-lanes")
        .unwrap();
    assert!(
        lanes
            .caption
            .contains("Always empty, so not drawn: gravity lane."),
        "{}",
        lanes.caption
    );
    assert!(!lanes.svg.contains("gravity lane, racks"), "it has no axes");
}

#[test]
fn a_meal_without_anybody_has_no_pictures_of_levels() {
    let mut empty = hall();
    for band in empty.bands.iter_mut().chain(&mut empty.cumulative) {
        for line in [&mut band.mean, &mut band.p05, &mut band.p50, &mut band.p95] {
            line.fill(0.0);
        }
    }
    let ids: Vec<String> = figures(&empty)
        .unwrap()
        .into_iter()
        .map(|figure| figure.id)
        .collect();
    assert_eq!(ids, ["stations", "people", "machines", "floor"]);
}

#[test]
fn a_summary_without_minutes_or_places_still_makes_a_page() {
    let mut bare = hall();
    bare.bands.clear();
    bare.cumulative.clear();
    bare.people.clear();
    bare.machines.clear();
    bare.stations.clear();
    bare.clock.minutes = 0;
    let left: Vec<String> = figures(&bare)
        .unwrap()
        .into_iter()
        .map(|it| it.id)
        .collect();
    assert_eq!(left, ["floor"]);
    well_formed(&scullery_report::page(&bare).unwrap());
}

#[test]
fn the_picture_of_progress_is_as_drawn_before() {
    let figure = figures(&hall()).unwrap().remove(0);
    insta::assert_snapshot!("progress", figure.svg);
}

#[test]
fn the_tables_beside_the_pictures_read_as_before() {
    let mut text = String::new();
    for figure in figures(&hall()).unwrap() {
        text.push_str(&format!(
            "# {}\n{}\n{}\n",
            figure.title, figure.caption, figure.desc
        ));
        for table in &figure.tables {
            text.push_str(&format!("| {} |\n", table.head.join(" | ")));
            for row in table.rows.iter().step_by(6) {
                text.push_str(&format!("| {} |\n", row.join(" | ")));
            }
        }
    }
    insta::assert_snapshot!("picture_tables", text);
}

#[test]
fn waste_is_told_in_kilograms_or_pounds() {
    let picture = |units: &str| {
        let mut summary = hall();
        summary.heading.units = units.into();
        summary.bands.push(waste());
        let figures = figures(&summary).unwrap();
        figures.into_iter().find(|it| it.id == "receivers").unwrap()
    };
    let metric = picture("metric");
    assert!(
        metric.svg.contains("waste: slops, kg (room for 20)"),
        "{}",
        metric.svg
    );
    assert!(
        metric
            .desc
            .contains("with 12.5 kg; the 95th of 100 reaches 14.5 at"),
        "{}",
        metric.desc
    );
    let table = &metric.tables[0];
    assert!(table.caption.contains("(kg)"), "{}", table.caption);
    assert_eq!(table.rows[4][1..4], ["12.5", "9.0", "14.5"]);
    // The axis goes to 20 or a little more, not to 20,000.
    assert!(!metric.svg.contains("0,000") && metric.svg.contains(">\n20\n</text>"));
    // 14,500 g are 14,500 / 453.59237 lb.
    let us = picture("us");
    assert!(
        us.svg.contains("waste: slops, lb (room for 44.1)"),
        "{}",
        us.svg
    );
    assert_eq!(us.tables[0].rows[4][1..4], ["27.6", "19.8", "32.0"]);
}
