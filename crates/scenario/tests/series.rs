//! Breaking down in series in a file: what it means and what `check` says of the balance.

use scullery_engine::line::{PassesOn, PiecesTo, TraysFrom};
use scullery_scenario::{Format, read_alone};

use crate::checks::{EVEN, near, report};

/// The even hour with glasses taken off first by up to two people, and the plate behind a table of four trays.
fn in_series() -> String {
    let (before, rest) = EVEN.split_once("[scrapping.main]").unwrap();
    let (_, after) = rest.split_once("[racking.table]").unwrap();
    let posts = r#"[scrapping.main]
takes_from = ["soiled"]
places = 2
handling_s = 4
takes_off = ["glass"]
piece_s = { glass = 1 }
passes_on_to = "between"

[table.between]
room_trays = 4

[scrapping.last]
takes_from = ["between"]
handling_s = 3
piece_s = { plate = 2 }

"#;
    let people = after.replace(
        r#""scrapping.main"]"#,
        r#""scrapping.main", "scrapping.last"]"#,
    );
    format!("{before}{posts}[racking.table]{people}")
}

#[test]
fn check_tells_the_seconds_at_each_post_and_the_share_of_the_slowest() {
    // Two glasses: 4 + 2 = 6 s at the first, by two people; a plate: 3 + 2 = 5 s at the last, by one, who is the slowest:
    // 5 of 11 s, 720 trays an hour.
    let report = report(&in_series());
    let told = report
        .figures
        .iter()
        .find(|f| f.id == "scrapping.main.balance.guest");
    let told = told.unwrap();
    near(told.value, 500.0 / 11.0);
    assert_eq!(
        told.words,
        "Broken down in series, a tray of \"guest\" asks 6 s at main and 5 s at last: last is the slowest, has 45.5 % of the work, and with everybody in place lets 720 trays an hour through."
    );
    // A tray asks both.
    let whole = report.figures.iter().find(|f| f.id == "kind.guest.work");
    near(whole.unwrap().value, 11.0);
    assert!(report.description.contains(
        &"Scrapping main takes off glass and passes the tray on over table between; a tray counts as cleared when nothing is left on it.".to_owned()
    ), "{:#?}", report.description);
    let quarters = report.quarters.unwrap();
    let names = &quarters.stages;
    assert!(
        names.iter().any(|name| name == "scrapping main"),
        "{names:?}"
    );
    assert!(
        names.iter().any(|name| name == "scrapping last"),
        "{names:?}"
    );
}

#[test]
fn what_was_taken_off_before_asks_no_seconds_and_no_default_behind() {
    let plan = read_alone(&in_series(), Format::Toml).unwrap();
    let line = &plan.line;
    // In order of name.
    let (last, main) = (&line.scrapping[0], &line.scrapping[1]);
    assert_eq!(last.piece_s, [2.0, 0.0]);
    assert_eq!(last.routes, [PiecesTo::Racks(0), PiecesTo::Leave]);
    assert_eq!(last.from, [TraysFrom::Table(0)]);
    assert_eq!(main.routes, [PiecesTo::Leave, PiecesTo::Racks(0)]);
    let on = PassesOn {
        takes_off: vec![false, true],
        to: 0,
    };
    assert_eq!(main.passes_on, Some(on));
    assert!(
        !plan
            .defaults
            .iter()
            .any(|used| used.key.contains("piece_s"))
    );
}
