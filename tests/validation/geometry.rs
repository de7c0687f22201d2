//! Lengths, speeds and places: no chance at all.
//!
//! The belt is the template `belt`, the machine the template `held`, said with the lengths of the figure.

use scullery_engine::watch::{Counted, State};

use crate::agreement::Claims;
use crate::figures::figure;
use crate::fluid::once;
use crate::repeats::plan;
use crate::room::{all_at_once, between, fill};

fn belt(
    length_m: f64,
    spacing_m: f64,
    speed: f64,
    ends: &str,
    comes: &str,
    seconds: f64,
) -> String {
    fill(
        include_str!("scenarios/belt.toml.in"),
        &[
            ("length_m", format!("{length_m}")),
            ("spacing_m", format!("{spacing_m}")),
            ("speed", format!("{speed}")),
            ("ends", ends.into()),
            ("seconds", format!("{seconds}")),
            ("comes", comes.into()),
        ],
    )
}

#[test]
fn belts_lanes_and_tunnels_are_as_long_as_they_say() {
    let mut claims = Claims::of("geometry::belts_lanes_and_tunnels_are_as_long_as_they_say");
    let figure = figure("line-geometry");
    let (id, source) = (&figure.id, &figure.source);
    let says = |metric: &str| figure.says(metric);

    // A hundred trays at once, each taken as it comes to the end.
    let length = figure.param("belt_m");
    let (pitch, speed) = (figure.param("tray_pitch_m"), figure.param("belt_m_per_min"));
    let text =
        all_at_once(id, 100.0, 60.0) + &belt(length, pitch, speed, "closes_up", "00:00", 0.0);
    let seen = once(
        &text,
        |it| it.keeping_waits("belt.belt").following("belt.belt"),
        60.0,
    );
    let one = 1e-6;
    claims.exact(
        id,
        "belt_transit_s",
        says("belt_transit_s"),
        seen.waits[0] * 60.0,
        one,
        source,
    );
    let on: Vec<f64> = seen.history.iter().take(20).map(|&(at, _)| at).collect();
    let between_trays = (on[19] - on[9]) / 10.0;
    let rate = says("belt_trays_per_min");
    claims.exact(
        id,
        "belt_trays_per_min",
        rate,
        1.0 / between_trays,
        1e-4,
        source,
    );
    let told = plan(&text).description.join("\n");
    let words = format!("so it holds {};", says("belt_places"));
    let tells = f64::from(u8::from(told.contains(&words)));
    claims.exact(
        id,
        "belt_places, as the description says",
        1.0,
        tells,
        0.0,
        source,
    );

    // Racks of one piece, a hundred at once, onto a lane before a conveyor that is never switched on; and through it.
    let lane = format!(
        "way = {{ rollers = {{ length_m = {}, rack_m = {}, speed_m_per_min = 6 }} }}",
        figure.param("lane_m"),
        figure.param("rack_m")
    );
    let kind = format!(
        "{{ conveyor = {{ pitch_m = {}, tunnel_m = {}, speed_m_per_min = {} }} }}",
        figure.param("rack_m"),
        figure.param("tunnel_m"),
        figure.param("tunnel_m_per_min")
    );
    let room = fill(
        include_str!("scenarios/held.toml.in"),
        &[
            ("pieces", "1".into()),
            ("type", kind),
            ("runs", "\"throughout\"".into()),
            ("start", "0".into()),
        ],
    );
    let off = room
        .replace("way = \"unlimited\"", &lane)
        .replace("heat_up_min = 0", "heat_up_min = 0\non_at = \"00:50\"");
    let seen = once(&(all_at_once(id, 100.0, 40.0) + &off), |it| it, 40.0);
    let most = f64::from(seen.most("lane.feed"));
    claims.exact(id, "lane_places", says("lane_places"), most, 0.0, source);

    let seen = once(&(all_at_once(id, 100.0, 60.0) + &room), |it| it, 60.0);
    let trip = &seen.trips[20];
    let inside = trip.out.since(trip.washed_from).s();
    claims.exact(
        id,
        "tunnel_residence_s",
        says("tunnel_residence_s"),
        inside,
        one,
        source,
    );
    let entry = seen.trips[60]
        .washed_from
        .since(seen.trips[0].washed_from)
        .s()
        / 60.0;
    let interval = says("rack_entry_interval_s");
    claims.exact(id, "rack_entry_interval_s", interval, entry, one, source);
    let full = f64::from(seen.most("machine.machine"));
    claims.exact(
        id,
        "racks_inside_when_full",
        says("racks_inside_when_full"),
        full,
        0.0,
        source,
    );
    claims.exact(
        id,
        "racks_per_h",
        says("racks_per_h"),
        3600.0 / entry,
        1e-4,
        source,
    );
    claims.hold();
}

/// A straight belt of 20 ft with a tray every 0.45 m.
#[test]
fn a_straight_belt_nobody_takes_from_is_full() {
    let mut claims = Claims::of("geometry::a_straight_belt_nobody_takes_from_is_full");
    let source = "Foodservice Equipment Reports, article on tray accumulation: 13 to 14 trays on 20 ft; without an \
                  attendant the belt fills at the 14th or 15th diner";
    for ends in ["closes_up", "stops_on_arrival"] {
        // Diners back to back; nobody at the end for an hour.
        let room = belt(6.1, 0.45, 9.0, ends, "01:00", 5.0);
        let text = all_at_once("straight belt", 40.0, 30.0) + &room;
        let seen = once(&text, |it| it, 30.0);
        let on = seen.count(Counted::DroppedOff);
        claims.exact(ends, "trays on it (13 to 14)", 13.5, on, 0.5, source);
        claims.exact(
            ends,
            "diner who finds it full (14th or 15th)",
            14.5,
            on + 1.0,
            0.5,
            source,
        );
    }
    // One diner every 10 s at 0.15 m/s: 1.5 m apart. The first is at the end after 40.7 s; then the belt stands, with the
    // fifth tray 0.1 m from the load point.
    let source = "Worked by hand: 6.1 m at 9 m/min, a diner every 10 s";
    let room = belt(6.1, 0.45, 9.0, "stops_on_arrival", "01:00", 5.0);
    let text = between("gaps stay", &[0.0, 30.0], &[180.0], "evenly") + &room;
    let seen = once(&text, |it| it, 30.0);
    let on = seen.count(Counted::DroppedOff);
    claims.exact(
        "stops_on_arrival",
        "diner who finds it full",
        6.0,
        on + 1.0,
        0.0,
        source,
    );
    claims.hold();
}

/// 12 trays a minute, 2.5 minutes on the belt, 0.06 minutes of work each.
#[test]
fn a_belt_holds_rate_times_way() {
    let mut claims = Claims::of("geometry::a_belt_holds_rate_times_way");
    let figure = figure("little");
    let (rate, stay) = (figure.param("lambda"), figure.param("W"));
    let room = belt(
        200.0 * stay,
        0.05,
        200.0,
        "closes_up",
        "00:00",
        figure.param("S") * 60.0,
    );
    // The run ends before anything else changes: the belt has been full of trays since minute 2.5.
    let text = between("little", &[0.0, 100.0], &[100.0 * rate], "evenly") + &room;
    let plan = plan(&text);
    let at = scullery_engine::time::SimTime::from_min;
    let mut seen = crate::tally::Tally::new(plan.line.catalogue(), at(10.0), at(100.0));
    let mut tape = scullery_engine::tape::Tape::new();
    tape.draw(&plan.demand, 1, 0);
    let mut floor = scullery_engine::run::Floor::new();
    scullery_engine::run::run(&plan.line, &tape, &mut floor, &mut seen).expect("it runs");
    seen.close();
    let (id, source) = (&figure.id, &figure.source);
    claims.exact(
        id,
        "L",
        figure.says("L"),
        seen.mean_level("belt.belt"),
        1e-6,
        source,
    );
    let busy = seen.share("Server", State::Working);
    claims.exact(
        id,
        "utilisation",
        figure.says("utilisation"),
        busy,
        1e-6,
        source,
    );
    claims.hold();
}
