//! Racks that go round: a closed network, and machines that need repair (template `loop`).
//!
//! *Closed network.* Racks wait empty for the person who fills them (exponential), on the lane for the door machine
//! (exponential), at the clean end for the person who unloads (exponential), and then take a constant time to come back.
//!
//! *Repair.* A rack in its constant drying time is a machine that works; a dry rack waits for repair; those who unload
//! repair. Filling takes no time and the cycle a microsecond.
//!
//! Both models have a thinking time, which the textbooks take as exponential and we as constant. The answer is the same:
//! a station at which nobody waits for anybody (one place each) has, beside first-come exponential stations, a product
//! form that hangs on the mean of its time only (Baskett, Chandy, Muntz & Palacios 1975, from memory).

use scullery_engine::watch::{Counted, State};

use crate::agreement::Claims;
use crate::figures::figure;
use crate::repeats::{Length, plan, repeats};
use crate::room::{all_at_once, fill};

struct Round {
    racks: f64,
    dry_min: f64,
    unload_min: f64,
    unloaders: f64,
    fill_min: f64,
    cycle: String,
    back_min: f64,
}

impl Round {
    fn text(&self) -> String {
        fill(
            include_str!("scenarios/loop.toml.in"),
            &[
                ("racks", format!("{}", self.racks)),
                ("dry_min", format!("{}", self.dry_min)),
                ("unload_s", format!("{}", self.unload_min * 60.0)),
                ("unloaders", format!("{}", self.unloaders)),
                ("fill_s", format!("{}", self.fill_min * 60.0)),
                ("cycle", self.cycle.clone()),
                ("back_s", format!("{}", self.back_min * 60.0)),
            ],
        )
    }
}

#[test]
fn twelve_racks_go_round() {
    let mut claims = Claims::of("loops::twelve_racks_go_round");
    let figure = figure("mva-rack-loop-12");
    let demands = figure.list("demands");
    let round = Round {
        racks: figure.param("N"),
        dry_min: 0.0,
        unload_min: demands[2],
        unloaders: 1.0,
        fill_min: demands[0],
        cycle: format!("{{ exponential = {{ mean = {} }} }}", demands[1] * 60.0),
        back_min: figure.param("think"),
    };
    let length = Length {
        repeats: 30,
        warm_up_min: 500.0,
        min: 8_500.0,
    };
    let covers = all_at_once(&figure.id, 1.3 * length.min, length.min);
    let plan = plan(&(covers + &round.text()));
    let seen = repeats(
        &plan,
        length.repeats,
        || length.tally(&plan),
        |seen, _| {
            let x = seen.per_minute(Counted::RacksIn);
            [
                x,
                figure.param("N") / x - figure.param("think"),
                seen.share("Filler", State::Working),
                seen.mean_level("racks_empty.rack") + seen.mean_level("racks_open.fill"),
                seen.share("machine", State::Washing),
                seen.mean_level("lane.feed") + seen.mean_level("machine.machine"),
                seen.share("Unloader", State::Working),
                seen.mean_level("clean_end.clean"),
            ]
        },
    );
    let metrics = ["X", "R", "U1", "Q1", "U2", "Q2", "U3", "Q3"];
    for (metric, sample) in metrics.into_iter().zip(&seen) {
        claims.mean(figure, metric, sample);
    }
    claims.hold();
}

#[test]
fn racks_that_dry_are_machines_that_work() {
    let mut claims = Claims::of("loops::racks_that_dry_are_machines_that_work");
    for id in [
        "finite-source-0.1-1-1-5",
        "finite-source-0.25-1-1-6",
        "finite-source-0.1-0.5-2-10",
    ] {
        let figure = figure(id);
        let think = 1.0 / figure.param("lambda_each");
        let round = Round {
            racks: figure.param("N"),
            dry_min: think,
            unload_min: 1.0 / figure.param("mu"),
            unloaders: figure.param("c"),
            fill_min: 0.0,
            cycle: "0.000001".into(),
            back_min: 0.0,
        };
        let length = Length {
            repeats: 30,
            warm_up_min: 500.0,
            min: 12_500.0,
        };
        let covers = all_at_once(id, 1.2 * length.min, length.min);
        let plan = plan(&(covers + &round.text()));
        let [throughput, wait, works] = repeats(
            &plan,
            length.repeats,
            || length.tally(&plan),
            |seen, _| {
                [
                    seen.per_minute(Counted::PiecesClean),
                    seen.mean_wait("clean_end.clean") - think,
                    seen.share("Unloader", State::Working),
                ]
            },
        );
        claims.mean(figure, "throughput", &throughput);
        claims.mean(figure, "Wq", &wait);
        claims.mean(figure, "repair_utilisation", &works);
    }
    claims.hold();
}
