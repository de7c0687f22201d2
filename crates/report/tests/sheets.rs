//! Sheets to take away: the wall, the building engineer, options side by side, the workbook, pictures with their words.

use std::io::Read;

use scullery_report::sheet::{
    Arrangement, element_schedule, element_table, options_page, picture_sheet, wall_sheet,
};
use scullery_report::workbook::workbook;
use scullery_report::{Report, figures, png::png, report_files};

use crate::fixture::hall;
use crate::page::well_formed;
use crate::room::films;

/// The cells of a table row that begins with this heading, as their texts and widths.
fn row(page: &str, heading: &str) -> Vec<(String, u32)> {
    let at = page.find(&format!("scope=\"row\">{heading}</th>")).unwrap();
    let rest = &page[at..];
    let rest = &rest[..rest.find("</tr>").unwrap()];
    rest.split("<td")
        .skip(1)
        .map(|cell| {
            let (tag, text) = cell.split_once('>').unwrap();
            let wide = tag.split("colspan=\"").nth(1).unwrap();
            let wide = wide.split('"').next().unwrap().parse().unwrap();
            (text.split('<').next().unwrap().to_owned(), wide)
        })
        .collect()
}

#[test]
fn the_wall_says_who_stands_where_by_quarter_hour_with_breaks() {
    let page = wall_sheet(&hall()).unwrap();
    well_formed(&page);
    // Shifts from eleven to twenty past three: quarters from 11:00 to 15:30. Ada scraps, rests at one, scraps, goes at three.
    let cells = |texts: &[(&str, u32)]| -> Vec<(String, u32)> {
        texts.iter().map(|(t, n)| ((*t).to_owned(), *n)).collect()
    };
    assert_eq!(
        row(&page, "Ada"),
        cells(&[
            ("scrapping", 8),
            ("break 13:00", 1),
            ("scrapping", 7),
            ("", 2)
        ])
    );
    assert_eq!(
        row(&page, "Dee"),
        cells(&[
            ("", 1),
            ("unloading", 9),
            ("break 13:30", 1),
            ("unloading", 7)
        ])
    );
    for text in [
        "when <strong>4</strong> wait there, back at <strong>1</strong>",
        "10:45</strong>: switch on machine main; hot by 11:05; start it when 6 racks wait",
        "<strong>16</strong> trays on belt soiled",
        "lock the drive out",
        "Ada, Bo",
    ] {
        assert!(page.contains(text), "{text}");
    }
    let mut nobody = hall();
    nobody.planned.crew.clear();
    assert!(wall_sheet(&nobody).is_none());
}

#[test]
fn the_schedule_gives_sizes_and_draws_and_marks_its_blanks() {
    let summary = hall();
    let table = element_table(&summary).unwrap();
    let machine = &table.rows[1];
    assert!(machine.iter().any(|cell| cell == "220") && machine.iter().any(|cell| cell == "10.5"));
    assert_eq!(
        machine
            .iter()
            .filter(|cell| *cell == "to be filled in")
            .count(),
        2
    );
    assert_eq!(table.rows[0][2], "7.20");
    // The machine has a place in the room, of which the sides are said.
    assert_eq!(table.rows[1][2], "3.60 \u{d7} 0.90");
    let page = element_schedule(&summary).unwrap();
    well_formed(&page);
    assert!(page.contains("to be filled in"));
    let mut us = hall();
    us.heading.units = "us".into();
    // 7.2 m are 23.6 ft; 110 L are 29.1 gal.
    let table = element_table(&us).unwrap();
    assert_eq!(table.rows[0][2], "23.6");
    assert!(table.head[2].contains("ft") && table.rows[1].contains(&"29.1".to_owned()));
}

#[test]
fn options_stand_side_by_side_when_there_are_two() {
    let summary = hall();
    let option = |name: &str, invest| Arrangement {
        name: name.into(),
        words: "A belt of <8 m> instead of 7.2 m.".into(),
        invest,
        run: summary.resources[0].cost.clone(),
        targets: summary.targets.clone(),
        saves_a_year: invest.map(|_| (5_200.0, Some([4_100.0, 6_300.0]))),
        payback_years: invest.map(|_| 3.46),
        ..Arrangement::default()
    };
    assert!(options_page(&summary, &[option("as it is", None)]).is_none());
    let page = options_page(
        &summary,
        &[option("as it is", None), option("longer", Some(18_000.0))],
    )
    .unwrap();
    well_formed(&page);
    for text in [
        "18,000",
        "5200",
        "4100 to 6300",
        "3.5 years",
        "340.00",
        "&lt;8 m&gt;",
    ] {
        assert!(page.contains(text), "{text}");
    }
    let arrangements = [option("as it is", None), option("longer", Some(18_000.0))];
    let report = Report {
        arrangements: &arrangements,
        ..Report::of(&summary)
    };
    let names: Vec<String> = report_files(&report)
        .unwrap()
        .into_iter()
        .map(|f| f.name)
        .collect();
    assert!(names.iter().any(|name| name == "options.html"));
    let bare = report_files(&Report::of(&summary)).unwrap();
    assert!(bare.iter().all(|file| file.name != "options.html"));
}

/// The text of one part of the workbook.
fn part(bytes: &[u8], name: &str) -> String {
    let mut book = zip::ZipArchive::new(std::io::Cursor::new(bytes)).unwrap();
    let mut text = String::new();
    book.by_name(name)
        .unwrap()
        .read_to_string(&mut text)
        .unwrap();
    text
}

#[test]
fn the_workbook_holds_tables_charts_and_assumptions_and_is_the_same_bytes_twice() {
    let summary = hall();
    let report = Report::of(&summary);
    let bytes = workbook(&report).unwrap();
    assert_eq!(bytes, workbook(&report).unwrap());
    let book = part(&bytes, "xl/workbook.xml");
    for name in [
        "Answer",
        "Targets",
        "Measures",
        "Minutes",
        "Resources",
        "Roster",
        "Elements",
        "Lunches",
        "Assumptions",
    ] {
        assert!(book.contains(&format!("name=\"{name}\"")), "{name}");
    }
    // The three charts are the workbook's own, drawn from the cells of the minutes.
    let chart = part(&bytes, "xl/charts/chart1.xml");
    assert!(chart.contains("<c:lineChart>") && chart.contains("Minutes!"));
    let texts = part(&bytes, "xl/sharedStrings.xml");
    assert!(
        texts.contains("1,300 covers with a tray") && texts.contains("five people hold this lunch")
    );
    assert!(part(&bytes, "docProps/core.xml").contains("2000-01-01"));
}

#[test]
fn what_the_user_wrote_is_never_a_formula_of_the_workbook() {
    let mut summary = hall();
    summary.heading.name = "=1+1".into();
    summary.planned.crew[0].name = "=HYPERLINK(\"x\")".into();
    let bytes = workbook(&Report::of(&summary)).unwrap();
    for sheet in 1..=9 {
        assert!(!part(&bytes, &format!("xl/worksheets/sheet{sheet}.xml")).contains("<f>"));
    }
}

#[test]
fn a_picture_in_a_file_carries_its_title_caption_and_source_at_print_size() {
    let summary = hall();
    for figure in figures(&summary).unwrap() {
        let sheet = picture_sheet(&figure, &summary).unwrap();
        well_formed(&sheet);
        assert!(sheet.contains("width=\"170mm\""), "{}", figure.id);
        // Visible letters, not only a name for readers by ear.
        let shown: String = sheet
            .split("<text ")
            .skip(1)
            .filter_map(|text| {
                text.split_once('>')?
                    .1
                    .split_once('<')
                    .map(|(t, _)| t.trim().to_owned() + " ")
            })
            .collect();
        let flat = |text: &str| text.split_whitespace().collect::<String>();
        let title = flat(&scullery_report::svg::escape(&figure.title));
        assert!(flat(&shown).contains(&title), "{}: {shown}", figure.title);
        assert!(shown.contains("200 simulated lunches, seed 20260101."));
    }
    let first = &figures(&summary).unwrap()[0];
    let sheet = picture_sheet(first, &summary).unwrap();
    let (with, without) = (png(&sheet).unwrap(), png(&first.svg).unwrap());
    assert!(with.len() > without.len());
}

#[test]
fn a_report_with_films_is_the_same_files_twice() {
    let (summary, films) = (hall(), films());
    let report = Report {
        films: &films,
        ..Report::of(&summary)
    };
    let files = report_files(&report).unwrap();
    assert_eq!(files, report_files(&report).unwrap());
    for name in [
        "report.html",
        "wall-sheet.html",
        "element-schedule.html",
        "element-schedule.csv",
        "report.xlsx",
        "timeline.svg",
        "flow.png",
    ] {
        assert!(files.iter().any(|file| file.name == name), "{name}");
    }
}
