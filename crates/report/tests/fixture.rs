//! A summary written by hand: an invented hall over four hours, in round figures and plain arithmetic, so that no
//! change of the simulation redraws a snapshot.

use scullery_report::Summary;
use scullery_study::summary::{
    BalanceSum, Band, Clock, Endings, HeadingText, HeldUp, Measure, Profile, Resource, Source,
    TargetResult,
};

const FROM: u32 = 660;
const MINUTES: u32 = 270;

/// The summary.
pub(crate) fn hall() -> Summary {
    Summary {
        answer: "On days as they come, five people hold this lunch: in 192 of 200 simulated lunches 19 of 20 diners put \
                 down their tray within 60 s, and the room is clean by 15:12 in 19 of 20."
            .into(),
        repeats: 200,
        asked: 200,
        enough: None,
        seed: 20_260_101,
        balance: BalanceSum { trays_in: 259_120, trays_out: 259_120, trays_inside: 0 },
        measures: measures(),
        heading: HeadingText {
            name: "Ostrabel University, Great Hall <lunch>".into(),
            note: "invented: places, people and numbers; likeness to any real place is chance".into(),
            units: "metric".into(),
            currency: "\u{20ac}".into(),
            day_words: "days as they come (covers vary by 10 % from day to day)".into(),
            bells_min: vec![770.0, 830.0],
        },
        targets: targets(),
        endings: Endings { all_clean: 200, ..Endings::default() },
        clock: Clock { from_min: FROM, minutes: MINUTES },
        bands: bands(),
        cumulative: vec![
            count("dropped_off", "dropped off", 0),
            count("cleared", "cleared", 4),
            count("clean", "clean", 22),
        ],
        people: people(),
        machines: machines(),
        stations: crate::room::stations(),
        planned: crate::room::planned(),
        held_up: vec![
            HeldUp { who: "Ada".into(), by: "clean plates & bowls".into(), minutes: 6.25 },
            HeldUp { who: "machine main".into(), by: "clean end table".into(), minutes: 3.5 },
        ],
        resources: resources(),
        owning: None,
        assumptions: vec![
            "1,300 covers with a tray, 140 take-away.".into(),
            "A belt of 7.2 m holds 16 trays, 55 s of the peak quarter hour.".into(),
        ],
        defaults: vec![["drop_off.main.put_down".into(), "5 s".into(), "common practice, replace with your own stopwatch".into()]],
        cautions: vec![
            "A planning aid: local codes and licensed practice decide.".into(),
            "Clear jams with the drive locked out.".into(),
        ],
        source: Source { version: "0.1.0".into(), scenario: "embedded".into(), hash: "0123456789abcdef".repeat(4) },
        per_meal: (1..=3).map(|k| vec![Some(f64::from(k)), Some(40.0 + f64::from(k) / 4.0), (k != 2).then_some(0.0)]).collect(),
        per_meal_columns: vec!["repeat".into(), "drop_off.main.wait_p95_s".into(), "stock.plate.run_outs".into()],
    }
}

/// A rise from nought to `peak` at `at` minutes and back, `wide` minutes each way.
fn hump(minute: u32, at: f64, wide: f64, peak: f64) -> f64 {
    let off = (f64::from(minute) - at).abs() / wide;
    if off >= 1.0 {
        0.0
    } else {
        peak * (1.0 - off) * (1.0 - off * off / 2.0)
    }
}

/// The shape of the lunch: a broad rise and a rush after each bell.
fn lunch(minute: u32, peak: f64) -> f64 {
    hump(minute, 95.0, 80.0, peak * 0.5)
        + hump(minute, 114.0, 9.0, peak)
        + hump(minute, 173.0, 9.0, peak * 0.7)
}

fn level(
    id: &str,
    title: &str,
    (unit, role): (&str, &str),
    limit: Option<f64>,
    of: impl Fn(u32) -> f64,
) -> Band {
    let line = |scale: f64| -> Vec<f64> { (0..MINUTES).map(|m| (of(m) * scale).floor()).collect() };
    Band {
        id: id.into(),
        title: title.into(),
        unit: unit.into(),
        role: role.into(),
        limit,
        mean: (0..MINUTES).map(|m| of(m) * 0.75).collect(),
        p05: line(0.5),
        p50: line(1.0),
        p95: line(1.6),
    }
}

fn stock(id: &str, title: &str, par: f64, used: f64) -> Band {
    let left = |m: u32, scale: f64| (par - hump(m, 150.0, 140.0, used * scale)).max(0.0).floor();
    let line = |scale: f64| -> Vec<f64> { (0..MINUTES).map(|m| left(m, scale)).collect() };
    Band {
        id: id.into(),
        title: title.into(),
        unit: "pieces".into(),
        role: "stock".into(),
        limit: Some(par),
        mean: line(1.0),
        p05: line(1.25),
        p50: line(1.0),
        p95: line(0.8),
    }
}

fn count(role: &str, title: &str, later: u32) -> Band {
    let of = |m: u32, scale: f64| -> f64 {
        let mut sum = 0.0;
        for minute in 0..=m.saturating_sub(later) {
            sum += lunch(minute, 9.0);
        }
        (sum * scale).floor()
    };
    let line = |scale: f64| -> Vec<f64> { (0..MINUTES).map(|m| of(m, scale)).collect() };
    Band {
        id: role.into(),
        title: title.into(),
        unit: "trays".into(),
        role: role.into(),
        limit: None,
        mean: line(1.0),
        p05: line(0.84),
        p50: line(1.0),
        p95: line(1.17),
    }
}

fn bands() -> Vec<Band> {
    vec![
        level(
            "queue.main",
            "waiting at the drop-off",
            ("people", "queue"),
            Some(20.0),
            |m| lunch(m, 9.0),
        ),
        level(
            "standing.main",
            "standing at the drop-off",
            ("people", "standing"),
            Some(60.0),
            |m| lunch(m, 13.0),
        ),
        level(
            "backlog",
            "all of the line",
            ("trays", "backlog"),
            None,
            |m| lunch(m, 24.0),
        ),
        level(
            "belt.soiled",
            "belt soiled",
            ("trays", "trays"),
            Some(16.0),
            |m| lunch(m, 11.0).min(10.0),
        ),
        level(
            "table.breakdown",
            "breakdown table with a name that is much too long to stand",
            ("trays", "trays"),
            Some(4.0),
            |m| lunch(m, 3.0).min(2.5),
        ),
        level(
            "pile.plate",
            "plates to rack",
            ("pieces", "pile"),
            Some(60.0),
            |m| lunch(m, 30.0),
        ),
        level(
            "pile.bowl",
            "bowls to rack",
            ("pieces", "pile"),
            Some(60.0),
            |m| lunch(m, 18.0),
        ),
        level(
            "held.tray",
            "trays held back",
            ("pieces", "held_back"),
            Some(900.0),
            |m| hump(m, 150.0, 120.0, 500.0),
        ),
        level(
            "lane.load",
            "lane to the machine",
            ("racks", "filled_racks"),
            Some(18.0),
            |m| lunch(m, 8.0),
        ),
        level(
            "lane.gravity",
            "gravity lane",
            ("racks", "filled_racks"),
            Some(6.0),
            |_| 0.0,
        ),
        level(
            "inside.main",
            "inside the machine",
            ("racks", "washing"),
            Some(5.0),
            |m| lunch(m, 4.0).min(3.0),
        ),
        level(
            "clean.table",
            "clean end table",
            ("racks", "clean_racks"),
            Some(8.0),
            |m| lunch(m, 5.0),
        ),
        stock("stock.plate", "plates", 900.0, 610.0),
        stock("stock.glass", "glasses", 950.0, 870.0),
        stock("stock.bowl", "bowls", 650.0, 240.0),
    ]
}

fn measure(id: &str, label: &str, unit: &str, values: [f64; 6], headline: bool) -> Measure {
    let [mean, low, high, p05, p50, p95] = values;
    Measure {
        id: id.into(),
        place: String::new(),
        label: label.into(),
        unit: unit.into(),
        n: 200,
        mean: Some(mean),
        ci95: Some([low, high]),
        p05: Some(p05),
        p50: Some(p50),
        p95: Some(p95),
        p95_ci95: None,
        headline,
    }
}

fn measures() -> Vec<Measure> {
    let mut rarely = measure(
        "drop_off.main.left_aside_wait_s",
        "wait of those who left their tray aside",
        "s",
        [0.0; 6],
        true,
    );
    rarely = Measure {
        n: 0,
        mean: None,
        ci95: None,
        p05: None,
        p50: None,
        p95: None,
        ..rarely
    };
    vec![
        measure(
            "drop_off.main.wait_p95_s",
            "95th of 100 diners' wait at the drop-off",
            "s",
            [41.5, 38.25, 44.75, 12.0, 37.5, 83.5],
            true,
        ),
        measure(
            "drop_off.main.queue_max",
            "most people waiting at the drop-off",
            "people",
            [11.5, 10.75, 12.25, 5.0, 11.0, 19.0],
            true,
        ),
        measure(
            "room.clean_at",
            "room clean",
            "clock_min",
            [897.5, 896.0, 899.0, 885.0, 897.0, 912.0],
            true,
        ),
        measure(
            "covers_per_labour_hour",
            "covers per labour hour",
            "count",
            [61.25, 60.5, 62.0, 52.0, 61.0, 70.5],
            true,
        ),
        measure(
            "machine.main.share_of_plate",
            "racks an hour against the data plate, busiest hour",
            "share",
            [0.72, 0.71, 0.73, 0.61, 0.72, 0.83],
            true,
        ),
        measure(
            "stock.plate.run_outs",
            "covers that found no plate",
            "count",
            [0.0, 0.0, 0.0, 0.0, 0.0, 0.0],
            true,
        ),
        rarely,
        measure(
            "racks.mean_pieces",
            "pieces per rack",
            "pieces",
            [16.4, 16.3, 16.5, 15.2, 16.4, 17.6],
            false,
        ),
    ]
}

fn targets() -> Vec<TargetResult> {
    let target = |words: &str, verdict: &str, evidence: &str, held| TargetResult {
        words: words.into(),
        measure: "drop_off.main.wait_p95_s".into(),
        verdict: verdict.into(),
        held,
        of: 200,
        asked_of_100: held.map(|_| 90.0),
        interval: Some([0.92, 0.98]),
        evidence: evidence.into(),
    };
    vec![
        target(
            "19 of 20 diners put down within 60 s, in 9 of 10 lunches",
            "holds",
            "in 192 of 200 lunches; between 92 and 98 of 100",
            Some(192),
        ),
        target(
            "room clean by 15:00",
            "not sure yet",
            "in 188 of 200 lunches; between 90 and 97 of 100",
            Some(188),
        ),
        target(
            "at least 65 covers per labour hour",
            "fails",
            "the mean is 61; between 60 and 62",
            None,
        ),
    ]
}

/// Shares of each quarter hour from a list of states and what they are at the height of the lunch.
fn profile(name: &str, kind: &str, states: &[(&str, f64)], rest: &str, busy: [f64; 6]) -> Profile {
    let quarters: Vec<Vec<f64>> = (0..MINUTES.div_ceil(15))
        .map(|quarter| {
            let strength = (0.2 + hump(quarter * 15, 110.0, 150.0, 0.8)).min(1.0);
            let off = if quarter >= 16 { 1.0 } else { 0.0 };
            let mut shares: Vec<f64> = states
                .iter()
                .map(|(_, share)| share * strength * (1.0 - off))
                .collect();
            let taken: f64 = shares.iter().sum();
            shares.push((1.0 - off) * (1.0 - taken));
            shares.push(off);
            shares
        })
        .collect();
    let minutes = (0..states.len() + 2)
        .map(|s| quarters.iter().map(|q| q[s] * 15.0).sum())
        .collect();
    let mut names: Vec<String> = states
        .iter()
        .map(|(state, _)| (*state).to_owned())
        .collect();
    names.extend([rest.to_owned(), "off".to_owned()]);
    Profile {
        name: name.into(),
        kind: kind.into(),
        busy: Some(measure(
            &format!("{name}.busy"),
            "busy share",
            "share",
            busy,
            false,
        )),
        states: names,
        quarters,
        minutes,
    }
}

fn people() -> Vec<Profile> {
    let scrapper = [
        ("working", 0.7),
        ("held_up", 0.12),
        ("walking", 0.04),
        ("break", 0.1),
    ];
    let clean = [
        ("working", 0.5),
        ("past_shift", 0.12),
        ("walking", 0.1),
        ("hand_wash", 0.12),
        ("break", 0.1),
    ];
    vec![
        profile(
            "Ada",
            "worker",
            &scrapper,
            "waiting",
            [0.71, 0.70, 0.72, 0.63, 0.71, 0.80],
        ),
        profile(
            "Bo",
            "worker",
            &scrapper,
            "waiting",
            [0.66, 0.65, 0.67, 0.55, 0.66, 0.77],
        ),
        profile(
            "Dee",
            "worker",
            &clean,
            "waiting",
            [0.52, 0.51, 0.53, 0.41, 0.52, 0.62],
        ),
    ]
}

fn machines() -> Vec<Profile> {
    let machine = [
        ("heating", 0.1),
        ("washing", 0.55),
        ("stopped", 0.12),
        ("starting", 0.06),
        ("down", 0.07),
    ];
    vec![
        profile(
            "machine main",
            "machine",
            &machine,
            "ready",
            [0.47, 0.46, 0.48, 0.40, 0.47, 0.55],
        ),
        profile(
            "belt soiled",
            "belt",
            &[("moving", 0.5), ("stopped", 0.3)],
            "waiting",
            [0.4, 0.39, 0.41, 0.3, 0.4, 0.5],
        ),
    ]
}

fn resources() -> Vec<Resource> {
    let resource = |id: &str, label: &str, unit: &str, mean: f64, price: Option<f64>| Resource {
        id: id.into(),
        label: label.into(),
        unit: unit.into(),
        amount: measure(
            id,
            label,
            unit,
            [mean, mean * 0.99, mean * 1.01, mean * 0.9, mean, mean * 1.1],
            false,
        ),
        cost: price.map(|p| {
            let cost = mean * p;
            measure(
                &format!("{id}.cost"),
                label,
                "money",
                [cost, cost * 0.99, cost * 1.01, cost * 0.9, cost, cost * 1.1],
                false,
            )
        }),
        per_cover: Some(mean / 1280.0),
    };
    vec![
        resource("labour_h", "labour", "h", 21.25, Some(16.0)),
        resource("water_l", "water", "L", 1480.0, Some(0.004)),
        resource("heat_kwh", "heat", "kWh", 118.5, Some(0.125)),
        resource("detergent_kg", "detergent", "kg", 2.25, None),
    ]
}

/// A bin of 20 kg with 12.5 kg in it in the middle lunch, 14.5 kg in the 95th of 100.
pub(crate) fn waste() -> Band {
    Band {
        p05: vec![9_000.0; MINUTES as usize],
        p50: vec![12_500.0; MINUTES as usize],
        p95: vec![14_500.0; MINUTES as usize],
        ..level(
            "waste.slops",
            "waste: slops",
            ("grams", "waste"),
            Some(20_000.0),
            |_| 12_500.0,
        )
    }
}
