//! Receivers and bins before anything is simulated: how often they are changed and emptied, and the hours that takes.

use scullery_scenario::CheckReport;

use crate::checks::{EVEN, figure, near, report};

/// [`EVEN`] with what diners do, receivers, bins and routes added.
fn with(diners_do: &str, rest: &str) -> CheckReport {
    let drop_off = format!("put_down_s = 6\n{diners_do}");
    let text = EVEN.replacen("put_down_s = 6", &drop_off, 1).replacen(
        "seats = 10",
        "seats = 10, waste_kg = 0.1",
        1,
    );
    report(&format!("{text}\n{rest}"))
}

const GLASSES: &str = r#"diners_do = [{ puts = ["glass"], into = "glasses" }]"#;

fn words(report: &CheckReport, id: &str) -> String {
    let mut figures = report.figures.iter();
    figures.find(|it| it.id == id).unwrap().words.clone()
}

#[test]
fn a_receiver_is_changed_as_often_as_what_the_meal_brings_fills_it() {
    // 1200 glasses, 100 at a time.
    let rest = r#"
[receiver.glasses]
room_pieces = 100
to = { racks = "table" }
changed = { by = ["scrapping.main"], work_s = 30 }
"#;
    let seen = with(GLASSES, rest);
    near(figure(&seen, "receiver.glasses.changes"), 12.0);
    assert_eq!(
        words(&seen, "receiver.glasses.changes"),
        "Receiver glasses gets about 1200 pieces in the meal and is changed at 100 pieces: about 12 of 30 s each, 6 min of work (an estimate)."
    );
    // Plates off 600 trays, 4 + 2 s each; 12 changes of 30 s; unloading 600 plates of 1 s and 48 racks of 10 s.
    let work_s = 600.0 * 6.0 + 12.0 * 30.0 + 600.0 + 480.0;
    near(figure(&seen, "crew.work"), work_s / 3600.0);
    assert!(
        words(&seen, "crew.work").starts_with(
            "The meal asks 1.4 h of work by hand (about 0.1 h of it for changing receivers and emptying bins, an estimate), of"
        ),
        "{}",
        words(&seen, "crew.work")
    );
    // Somebody is called at 90: 13 times, and once more for the 30 that are left.
    let early = with(
        GLASSES,
        &rest.replace("work_s = 30", "work_s = 30, at_pieces = 90"),
    );
    near(figure(&early, "receiver.glasses.changes"), 14.0);
}

#[test]
fn what_is_already_in_a_receiver_or_a_bin_counts_and_what_gets_nothing_is_not_told() {
    // 1200 glasses and 60 that are there, 100 at a time: 13 changes. 60 kg of waste and 19 kg, 20 kg at a time: 3.
    let rest = r#"
[already_there]
receivers = [{ receiver = "glasses", ware = "glass", pieces = 60 }]
waste = [{ into = "slops", weight_kg = 19 }]

[receiver.glasses]
room_pieces = 100
to = { racks = "table" }
changed = { by = ["scrapping.main"], work_s = 30 }

[receiver.more]
to = { racks = "table" }
changed = { by = ["scrapping.main"], work_s = 30 }

[bin.slops]
holds_kg = 20
emptied = { by = ["scrapping.main"], work_s = 120 }
"#;
    let aids = r#"diners_do = [
    { throws = "waste", into = "slops" },
    { puts = ["glass"], into = "glasses" },
    { puts = ["glass"], into = "more" },
]"#;
    let seen = with(aids, rest);
    near(figure(&seen, "receiver.glasses.changes"), 13.0);
    near(figure(&seen, "bin.slops.emptied"), 3.0);
    assert!(words(&seen, "receiver.glasses.changes").starts_with(
        "Receiver glasses gets about 1200 pieces in the meal besides 60 that are there and is"
    ));
    assert!(
        !seen
            .figures
            .iter()
            .any(|it| it.id == "receiver.more.changes")
    );
}

#[test]
fn a_rack_that_diners_fill_is_changed_when_it_is_full_and_a_chute_never() {
    // 1200 glasses, 25 a rack.
    let rest = r#"
[receiver.glasses]
to = { lane = "feed" }
changed = { by = ["scrapping.main"], work_s = 20 }
"#;
    let seen = with(GLASSES, rest);
    near(figure(&seen, "receiver.glasses.changes"), 48.0);
    let rest = r#"
[receiver.glasses]
to = { racks = "table" }
"#;
    let seen = with(GLASSES, rest);
    assert!(
        !seen
            .figures
            .iter()
            .any(|it| it.id == "receiver.glasses.changes")
    );
    near(
        figure(&seen, "crew.work"),
        (600.0 * 6.0 + 600.0 + 480.0) / 3600.0,
    );
}

#[test]
fn a_bin_is_emptied_when_it_is_full_and_what_is_left_in_it_is_left_there() {
    // 600 trays of 100 g: 60 kg, of which a quarter is paper. Diners throw the paper away.
    let rest = r#"
[waste.food]
share = 0.75

[waste.paper]
share = 0.25

[bin.slops]
holds_kg = 20
emptied = { by = ["scrapping.main"], work_s = 120 }

[bin.sack]
holds_kg = 5
count = 2
emptied = { by = ["scrapping.main"], work_s = 60 }
"#;
    let line = EVEN.replacen(
        "put_down_s = 6",
        r#"put_down_s = 6
diners_do = [{ throws = "paper", into = "sack" }]"#,
        1,
    );
    let line = line
        .replacen("seats = 10", "seats = 10, waste_kg = 0.1", 1)
        .replacen(
            "handling_s = 4",
            "handling_s = 4\nwaste_to = { food = \"slops\", paper = \"slops\" }",
            1,
        );
    let seen = report(&format!("{line}\n{rest}"));
    // 45 kg of food fill two of 20 kg; 15 kg of paper three sacks.
    near(figure(&seen, "bin.slops.emptied"), 2.0);
    near(figure(&seen, "bin.sack.emptied"), 3.0);
    assert_eq!(
        words(&seen, "bin.slops.emptied"),
        "Bin slops gets about 45 kg in the meal and is emptied at 20 kg: about 2 of 120 s each, 4 min of work (an estimate)."
    );
    // Scrapping 600 trays of 8 s, as without; unloading 1080 s; 2 of 120 s and 3 of 60 s.
    let work_s = 4800.0 + 1080.0 + 240.0 + 180.0;
    near(figure(&seen, "crew.work"), work_s / 3600.0);
}

#[test]
fn what_several_posts_and_posts_in_series_put_into_a_receiver_is_shared_out() {
    let rest = r#"
[scrapping.other]
takes_from = ["soiled"]
handling_s = 4
piece_s = { plate = 2, glass = 1 }
sends = { plate = { racks = "table" }, glass = { receiver = "crate" } }

[receiver.crate]
room_pieces = 100
to = { racks = "table" }
changed = { by = ["scrapping.main"], work_s = 30 }
"#;
    let crew = r#"posts = ["scrapping.main", "unloading.clean"]"#;
    let both = r#"posts = ["scrapping.main", "scrapping.other", "unloading.clean"]"#;
    let text = EVEN.replacen(crew, both, 1);
    // Of 600 trays each post has half: 600 glasses.
    let seen = report(&format!("{text}\n{rest}"));
    near(figure(&seen, "receiver.crate.changes"), 6.0);
    // The first takes only plates off and passes the trays on: all 1200 glasses.
    let row = text
        .replacen(
            "places = 2",
            "places = 2\ntakes_off = [\"plate\"]\npasses_on_to = \"shelf\"\nsends = { plate = { racks = \"table\" } }",
            1,
        )
        .replacen("piece_s = { plate = 2, glass = 1 }", "piece_s = { plate = 2 }", 1);
    let rest = rest.replacen("\"soiled\"", "\"shelf\"", 1);
    let seen = report(&format!("{row}\n{rest}\n[table.shelf]\nroom_trays = 4\n"));
    near(figure(&seen, "receiver.crate.changes"), 12.0);
}
