//! Tables that people have: tills, notes, stopwatch sheets.

use rust_xlsxwriter::{ExcelDateTime, Format, Workbook};
use scullery_engine::time::{SimTime, US_PER_S};
use scullery_scenario::sheet::{
    Columns, Counts, DateOrder, Decimal, Instants, RowFault, Separator, Sheet, SheetReading,
    TimeReading, arrival_instants, interval_counts, numbers, render_rows,
};

fn at(hours: u64, minutes: u64, seconds: u64) -> SimTime {
    SimTime::from_us((hours * 3600 + minutes * 60 + seconds) * US_PER_S)
}

fn reading() -> TimeReading {
    TimeReading {
        starts: at(11, 0, 0),
        day: None,
        zone: None,
        date_order: None,
    }
}

fn columns(count: Option<&str>) -> Columns {
    Columns {
        time: "time".to_owned(),
        count: count.map(str::to_owned),
        ..Columns::default()
    }
}

fn sheet(text: &str) -> Sheet {
    Sheet::read("till.csv", text.as_bytes(), &SheetReading::default()).unwrap()
}

fn instants(
    text: &str,
    columns: &Columns,
    reading: &TimeReading,
) -> Result<Instants, Vec<RowFault>> {
    arrival_instants(&sheet(text), columns, reading)
}

fn words(faults: &[RowFault]) -> String {
    render_rows("till.csv", faults)
}

#[test]
fn every_faulty_row_is_told_at_once_with_row_and_value() {
    let text = "time,trays\n11:00:30,2\n11:00:10,1\n,3\n11:02:00,-1\n11:01:00,abc\n11:03:00,2\n";
    let told = words(&instants(text, &columns(None), &reading()).unwrap_err());
    assert!(
        told.contains("row 2 at 11:00:10 is earlier than row 1 at 11:00:30"),
        "{told}"
    );
    assert!(told.contains("row 3 has no time"), "{told}");
    let told = words(&instants(text, &columns(Some("trays")), &reading()).unwrap_err());
    assert!(
        told.contains("till.csv:6: error: row 5 must have a number, found \"abc\""),
        "{told}"
    );
    assert!(told.contains("row 3 has no time"), "{told}");
    // With numbers that can be read, the negative one is told too.
    let text = text.replace("abc", "1.5");
    let told = words(&instants(&text, &columns(Some("trays")), &reading()).unwrap_err());
    for row in [
        "row 2 at 11:00:10 is earlier",
        "row 3 has no time",
        "row 4 must have a count of 0 or more, found -1",
        "row 5 must have a whole number, found 1.5",
    ] {
        assert!(told.contains(row), "{row} in {told}");
    }
}

#[test]
fn a_mark_at_the_head_and_carriage_returns_change_nothing() {
    let plain = "time,trays\n11:00:10,1\n11:00:30,2\n11:03:00,2\n";
    let wanted = [
        at(11, 0, 10),
        at(11, 0, 30),
        at(11, 0, 30),
        at(11, 3, 0),
        at(11, 3, 0),
    ];
    let marked = format!("\u{feff}{}", plain.replace('\n', "\r\n"));
    for text in [
        plain,
        &marked,
        &plain.replace(',', ";"),
        &plain.replace(',', "\t"),
    ] {
        let found = instants(text, &columns(Some("trays")), &reading()).unwrap();
        assert_eq!(found.at, wanted, "{text:?}");
    }
    let said = instants(&plain.replace(',', ";"), &columns(None), &reading())
        .unwrap()
        .notices;
    assert!(said[0].contains("`;`"), "{said:?}");
    let said = instants(&marked, &columns(None), &reading())
        .unwrap()
        .notices;
    assert!(
        said.iter().any(|s| s.contains("byte-order mark")),
        "{said:?}"
    );
}

#[test]
fn rows_out_of_order_are_sorted_only_when_asked_and_that_is_said() {
    let text = "time,trays\n11:00:30,2\n11:00:10,1\n11:03:00,2\n";
    let asked = Columns {
        sort: true,
        ..columns(Some("trays"))
    };
    let found = instants(text, &asked, &reading()).unwrap();
    assert_eq!(found.at[..2], [at(11, 0, 10), at(11, 0, 30)]);
    assert!(
        found
            .notices
            .iter()
            .any(|s| s.starts_with("1 rows stood out of clock order"))
    );
    assert!(instants(text, &columns(None), &reading()).is_err());
}

#[test]
fn a_header_with_two_separators_is_refused_until_one_is_named() {
    let text = "time;trays, carried\n11:01;1\n";
    let faults = Sheet::read("t.csv", text.as_bytes(), &SheetReading::default()).unwrap_err();
    assert!(words(&faults).contains("`,` and `;`"));
    let said = SheetReading {
        separator: Some(Separator::Semicolon),
        tab: None,
    };
    let read = Sheet::read("t.csv", text.as_bytes(), &said).unwrap();
    assert_eq!(read.header, ["time", "trays, carried"]);
}

#[test]
fn an_instant_is_the_same_however_it_is_written() {
    let on = |text: &str, zone: Option<&str>| {
        let reading = TimeReading {
            zone: zone.map(str::to_owned),
            ..reading()
        };
        instants(&format!("time\n{text}\n"), &columns(None), &reading).map(|found| found.at)
    };
    let wanted = vec![at(12, 30, 15)];
    // 2025-06-03T10:30:15Z is 12:30:15 in Oslo; 1748946615 is that instant in seconds since 1970.
    for (text, zone) in [
        ("12:30:15", None),
        ("12:30:15 pm", None),
        ("2025-06-03T12:30:15", None),
        ("2025-06-03 12:30:15", None),
        ("2025-06-03T12:30:15+02:00", None),
        ("2025-06-03T10:30:15Z", Some("Europe/Oslo")),
        ("2025-06-03T06:30:15-04:00", Some("Europe/Oslo")),
        ("1748946615", Some("Europe/Oslo")),
        ("03.06.2025 12:30:15", None),
    ] {
        assert_eq!(on(text, zone).unwrap(), wanted, "{text}");
    }
    for (text, zone, says) in [
        ("1748946615", None, "no time zone was named"),
        ("2025-06-03T10:30:15Z", None, "no time zone was named"),
        (
            "1748946615",
            Some("Atlantis/Reef"),
            "no time zone is called \"Atlantis/Reef\"",
        ),
        ("03/06/2025 12:30", None, "may be read two ways"),
        ("2025-06-03", None, "a date without a time"),
        ("2025-13-03T12:30", None, "must have a date"),
        ("noon", None, "must have a time, found \"noon\""),
    ] {
        let told = words(&on(text, zone).unwrap_err());
        assert!(told.contains(says), "{text}: {told}");
    }
}

#[test]
fn dates_with_slashes_follow_the_order_that_was_said() {
    let with = |order| {
        let reading = TimeReading {
            date_order: Some(order),
            day: Some("2025-06-03".to_owned()),
            ..reading()
        };
        instants("time\n03/06/2025 12:30\n", &columns(None), &reading)
    };
    assert_eq!(with(DateOrder::DayFirst).unwrap().at, [at(12, 30, 0)]);
    assert!(words(&with(DateOrder::MonthFirst).unwrap_err()).contains("no arrivals"));
}

#[test]
fn the_hour_that_comes_twice_is_refused_with_its_rows_until_the_offset_is_written() {
    // Clocks in Oslo went back from 03:00 to 02:00 on 26 October 2025, and forward over 02:00 on 30 March.
    let night = TimeReading {
        starts: at(20, 0, 0),
        day: Some("2025-10-25".to_owned()),
        zone: Some("Europe/Oslo".to_owned()),
        date_order: None,
    };
    let text = "time\n2025-10-25T23:50\n2025-10-26T02:10\n2025-10-26T02:40\n";
    let told = words(&instants(text, &columns(None), &night).unwrap_err());
    assert!(
        told.contains("row 2 at 2025-10-26T02:10:00") && told.contains("row 3"),
        "{told}"
    );
    let text = "time\n2025-10-25T23:50\n2025-10-26T02:10+02:00\n";
    assert_eq!(
        instants(text, &columns(None), &night).unwrap().at,
        [at(23, 50, 0), at(26, 10, 0)]
    );
    let spring = TimeReading {
        day: Some("2025-03-29".to_owned()),
        ..night
    };
    let told = words(&instants("time\n2025-03-30T02:30\n", &columns(None), &spring).unwrap_err());
    assert!(told.contains("comes twice or never"), "{told}");
}

#[test]
fn a_meal_past_midnight_keeps_its_small_hours() {
    let dinner = TimeReading {
        starts: at(18, 0, 0),
        ..reading()
    };
    let wanted = [at(23, 50, 0), at(24, 10, 0)];
    for text in [
        "time\n23:50\n00:10\n",
        "time\n23:50\n24:10\n",
        "time\n2025-06-03T23:50\n2025-06-04T00:10\n",
    ] {
        assert_eq!(
            instants(text, &columns(None), &dinner).unwrap().at,
            wanted,
            "{text}"
        );
    }
    let told = words(&instants("time\n17:30\n", &columns(None), &dinner).unwrap_err());
    assert!(
        told.contains("lies before the start of the meal at 18:00"),
        "{told}"
    );
}

#[test]
fn several_days_ask_for_one_and_the_rest_is_left_out_aloud() {
    let text = std::fs::read("../../tests/data/open/order-instants-three-days.csv").unwrap();
    let sheet = Sheet::read("orders.csv", &text, &SheetReading::default()).unwrap();
    let columns = Columns {
        date: Some("date".to_owned()),
        ..columns(None)
    };
    let told = words(&arrival_instants(&sheet, &columns, &reading()).unwrap_err());
    assert!(
        told.contains("3 days: 2015-03-22, 2015-06-01, 2015-11-27"),
        "{told}"
    );
    // Orders of each day, as the set's own notes count them.
    for (day, orders) in [("2015-03-22", 37), ("2015-06-01", 72), ("2015-11-27", 115)] {
        let reading = TimeReading {
            day: Some(day.to_owned()),
            starts: at(9, 0, 0),
            ..reading()
        };
        let found = arrival_instants(&sheet, &columns, &reading).unwrap();
        assert_eq!(found.at.len(), orders, "{day}");
        let left_out = format!(
            "{} rows that do not belong to the meal of {day}",
            224 - orders
        );
        assert!(
            found.notices.iter().any(|s| s.starts_with(&left_out)),
            "{:?}",
            found.notices
        );
    }
}

#[test]
fn a_row_a_day_with_a_column_an_interval_gives_counts() {
    let bytes = std::fs::read("../../tests/data/open/orders-per-quarter-hour.csv").unwrap();
    let sheet = Sheet::read("orders.csv", &bytes, &SheetReading::default()).unwrap();
    let counts = |day: &str, starts| -> Result<Counts, Vec<RowFault>> {
        let reading = TimeReading {
            day: Some(day.to_owned()),
            starts,
            ..reading()
        };
        interval_counts(&sheet, "date", None, &reading)
    };
    // All days together: 21,350 orders, as the set's own notes count them.
    let days: Vec<String> = sheet.rows.iter().map(|row| row.cell(0).shown()).collect();
    let total: f64 = days
        .iter()
        .map(|day| {
            counts(day, at(9, 45, 0))
                .unwrap()
                .counts
                .iter()
                .sum::<f64>()
        })
        .sum();
    assert_eq!((days.len(), total as u64), (358, 21_350));
    let lunch = counts("2015-01-02", at(11, 30, 0)).unwrap();
    assert_eq!((lunch.edges[0], lunch.counts[0]), (at(11, 30, 0), 2.0));
    assert_eq!(lunch.edges.len(), lunch.counts.len() + 1);
    assert!(
        words(&counts("2016-01-02", at(9, 45, 0)).unwrap_err()).contains("no row is of 2016-01-02")
    );
    assert!(
        words(&counts("2015-01-02", at(11, 35, 0)).unwrap_err()).contains("within an interval")
    );
}

#[test]
fn a_decimal_comma_is_taken_when_nothing_else_can_be_meant_and_is_said() {
    let read = |cells: &str, declared| {
        let text = format!("seconds;note\n{cells}");
        numbers(&sheet(&text), 0, declared)
    };
    let (values, said) = read("3,5;a\n12;b\n1,234;c\n", None).unwrap();
    assert_eq!(values, [Some(3.5), Some(12.0), Some(1.234)]);
    assert!(said[0].contains("decimal comma"));
    let (values, said) = read("3.5;a\n1,234.5;b\n;c\n", None).unwrap();
    assert_eq!(
        (values, said.len()),
        (vec![Some(3.5), Some(1234.5), None], 0)
    );
    let told = words(&read("1,234;a\n2;b\n", None).unwrap_err());
    assert!(
        told.contains("row 1 has \"1,234\", which may be a fraction or thousands"),
        "{told}"
    );
    assert_eq!(
        read("1,234;a\n", Some(Decimal::Point)).unwrap().0,
        [Some(1234.0)]
    );
    assert_eq!(
        read("1,234;a\n", Some(Decimal::Comma)).unwrap().0,
        [Some(1.234)]
    );
    assert!(words(&read("3,5;a\n3.5;b\n", None).unwrap_err()).contains("others with a point"));
    for wrong in ["12,34,5", "--3", "1e3", "nan", "1.2.3,"] {
        assert!(
            read(&format!("{wrong};a\n3,5;b\n"), Some(Decimal::Comma)).is_err(),
            "{wrong}"
        );
    }
}

#[test]
fn a_workbook_reads_like_the_same_table_in_text() {
    let mut book = Workbook::new();
    let tab = book.add_worksheet();
    let clock = Format::new().set_num_format("hh:mm:ss");
    let moment = Format::new().set_num_format("yyyy-mm-dd hh:mm:ss");
    tab.write(0, 0, "time").unwrap();
    tab.write(0, 1, "trays").unwrap();
    tab.write(0, 2, "when").unwrap();
    for (row, (hour, minute, second, trays)) in
        [(11, 0, 10, 1.0), (11, 0, 30, 2.0)].into_iter().enumerate()
    {
        let row = row as u32 + 1;
        let time = ExcelDateTime::from_hms(hour, minute, f64::from(second)).unwrap();
        tab.write_with_format(row, 0, &time, &clock).unwrap();
        tab.write(row, 1, trays).unwrap();
        let when = ExcelDateTime::from_ymd(2025, 6, 3)
            .unwrap()
            .and_hms(hour, minute, f64::from(second))
            .unwrap();
        tab.write_with_format(row, 2, &when, &moment).unwrap();
    }
    let bytes = book.save_to_buffer().unwrap();
    let sheet = Sheet::read("till.xlsx", &bytes, &SheetReading::default()).unwrap();
    let wanted = [at(11, 0, 10), at(11, 0, 30), at(11, 0, 30)];
    let found = arrival_instants(&sheet, &columns(Some("trays")), &reading()).unwrap();
    assert_eq!(found.at, wanted);
    let by_moment = Columns {
        time: "when".to_owned(),
        ..columns(Some("trays"))
    };
    assert_eq!(
        arrival_instants(&sheet, &by_moment, &reading()).unwrap().at,
        wanted
    );

    let two = {
        let mut book = Workbook::new();
        book.add_worksheet().set_name("till").unwrap();
        book.add_worksheet().set_name("notes").unwrap();
        book.save_to_buffer().unwrap()
    };
    let told = words(&Sheet::read("t.xlsx", &two, &SheetReading::default()).unwrap_err());
    assert!(told.contains("2 tabs: \"till\", \"notes\""), "{told}");
    let broken = words(
        &Sheet::read(
            "t.xlsx",
            b"PK\x03\x04 and no more",
            &SheetReading::default(),
        )
        .unwrap_err(),
    );
    assert!(broken.contains("cannot be read"), "{broken}");
}

#[test]
fn a_missing_column_is_told_with_the_header_there_is() {
    let told = words(&instants("clock,who\n11:01,Ann\n", &columns(None), &reading()).unwrap_err());
    assert!(
        told.contains("no column is headed \"time\"; the header is \"clock\", \"who\""),
        "{told}"
    );
    let told = words(&instants("time,Time\n11:01,1\n", &columns(None), &reading()).unwrap_err());
    assert!(told.contains("two columns are headed \"time\""), "{told}");
    assert!(
        words(&Sheet::read("e.csv", b"", &SheetReading::default()).unwrap_err()).contains("empty")
    );
    assert!(
        words(&Sheet::read("l.csv", b"time\n11\xff\n", &SheetReading::default()).unwrap_err())
            .contains("not UTF-8")
    );
}
