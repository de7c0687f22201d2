//! The textbook queue and the tandem line with a rush, from the product's own elements.

use scullery_engine::demand::{Covers, Days, Demand, How, Kind};
use scullery_engine::dist::Dist;
use scullery_engine::line::{
    Call, Class, ClassId, Closing, Control, DropOff, Lane, LaneKind, Line, Machine, MachineKind,
    PiecesTo, Pile, Post, RackKind, RackKindId, Racking, RacksTo, Scrapping, Table, Terms,
    TraysFrom, TraysTo, Worker,
};
use scullery_engine::time::{SimTime, Span};

/// Trays of the textbook queue, on average.
pub const TEXTBOOK_TRAYS: f64 = 20_000.0;
/// Arrivals a minute of the tandem line, by quarter hour: 1,200 trays on average.
pub const RUSH_PER_MIN: [f64; 8] = [4.0, 6.0, 10.0, 16.0, 18.0, 14.0, 8.0, 4.0];
/// Mean seconds of scrapping (3 people), racking (2 people) and a machine cycle.
pub const RUSH_SECONDS: [f64; 3] = [12.6, 8.1, 4.2];

fn demand(edges: Vec<SimTime>, counts: Vec<f64>, work_factor: Dist) -> Demand {
    Demand {
        covers: Covers::PerInterval {
            edges,
            counts,
            how: How::Poisson,
        },
        days: Days::Design(1.0),
        find_seat_min: Dist::Constant(0.0),
        eating_min: vec![(SimTime::MIDNIGHT, Dist::Constant(0.0))],
        bells: vec![],
        parties: None,
        kinds: vec![Kind {
            name: "tray".into(),
            share: vec![(SimTime::MIDNIGHT, 1.0)],
            pieces: vec![1.0],
            drop_off: 0,
            sits: false,
            carts: None,
            courses: vec![],
            loose: false,
            shared: None,
            away: None,
        }],
        patience_people: None,
        work_factor,
        waste_kg: Dist::Constant(0.0),
        seats: None,
        loads: vec![],
    }
}

fn worker(name: &str, post: Post) -> Worker {
    Worker {
        name: name.into(),
        shifts: vec![(SimTime::MIDNIGHT, SimTime::LAST)],
        breaks: vec![],
        pace: 1.0,
        list: vec![Call {
            post,
            step_in: 1,
            leave_at: 0,
            stay: Span::NONE,
        }],
        unfilled: 0.0,
        terms: Terms::default(),
    }
}

fn scrapping_only(
    name: &str,
    tray_s: f64,
    route: PiecesTo,
    fits: Vec<(RackKindId, u16)>,
    crew: usize,
) -> Line {
    Line {
        name: name.into(),
        starts: SimTime::MIDNIGHT,
        ends: Some(SimTime::LAST),
        classes: vec![Class {
            name: "ware".into(),
            par: None,
            fits,
            dry: Span::NONE,
            unload_s: 0.0,
            unload_rack_s: 0.0,
            clean_end: None,
            rewash: None,
            second_pass: None,
            broken: 0.0,
            waste_g: 0,
            short: scullery_engine::line::Short::Without,
            disposable: Vec::new(),
            stays_in_rack: false,
        }],
        rack_kinds: vec![],
        drop_offs: vec![DropOff {
            name: "window".into(),
            positions_mm: vec![0],
            put_down_s: Dist::Constant(0.0),
            opens: None,
            closes: Closing::AfterLast,
            to: TraysTo::Table(0),
            aids: vec![],
        }],
        tables: vec![Table {
            name: "table".into(),
            room: None,
        }],
        carts: vec![],
        scrapping: vec![Scrapping {
            name: "scrapping".into(),
            from: vec![TraysFrom::Table(0)],
            places: 99,
            handling_s: tray_s,
            piece_s: vec![0.0],
            fetch_s: 0.0,
            routes: vec![route],
            waste_to: vec![],
            passes_on: None,
        }],
        crew: (0..crew)
            .map(|w| worker(&format!("scrapper {w}"), Post::Scrapping(0)))
            .collect(),
        ..Line::default()
    }
}

/// M/M/1 at 80 % use: one scrapper, exponential work of mean 1 min, Poisson trays, an unlimited table.
pub fn textbook() -> (Line, Demand) {
    let line = scrapping_only("textbook", 60.0, PiecesTo::Leave, vec![], 1);
    let end = SimTime::from_min(TEXTBOOK_TRAYS / 0.8);
    (
        line,
        demand(
            vec![SimTime::MIDNIGHT, end],
            vec![TEXTBOOK_TRAYS],
            Dist::Exponential { mean: 1.0 },
        ),
    )
}

/// Scrapping by 3, room for 12, racking by 2, room for 6, a machine by 1; all exponential, blocking after service.
pub fn tandem() -> (Line, Demand) {
    let fits = vec![(RackKindId(0), 1)];
    let mut line = scrapping_only("tandem", RUSH_SECONDS[0], PiecesTo::Pile(0), fits, 3);
    line.rack_kinds = vec![RackKind {
        name: "rack".into(),
        count: 40,
    }];
    line.racking = vec![Racking {
        name: "racking".into(),
        open_racks: 2,
        limit: None,
        to: RacksTo::Lane(0),
        places: 2,
        grab: 1,
        piles: vec![Pile {
            class: ClassId(0),
            room: Some(12),
            piece_s: RUSH_SECONDS[1],
            soak: Span::NONE,
            held_back: vec![],
        }],
        variation: Dist::Exponential { mean: 1.0 },
        order: scullery_engine::line::Order::Usual,
        levels: vec![],
    }];
    line.lanes = vec![Lane {
        name: "lane".into(),
        kind: LaneKind::Shelf { room: Some(6) },
        stops: vec![],
        hands_to: None,
        order: scullery_engine::line::Order::Usual,
    }];
    line.machines = vec![Machine {
        name: "machine".into(),
        kind: MachineKind::Door {
            batch: 1,
            cycle_s: Dist::Exponential {
                mean: RUSH_SECONDS[2],
            },
        },
        from: Some(0),
        to: None,
        control: Control::RunsThroughout,
        on_at: SimTime::MIDNIGHT,
        off_at: None,
        heat_up: Span::NONE,
        start_s: Dist::Constant(0.0),
        stops: vec![],
        loading: None,
        gap: Span::NONE,
        tank: None,
        hot_water: None,
        dosing: None,
        dries_to: 1000,
    }];
    line.crew.push(worker("racker 0", Post::Racking(0)));
    line.crew.push(worker("racker 1", Post::Racking(0)));
    let edges = (0..=RUSH_PER_MIN.len())
        .map(|q| SimTime::from_min(15.0 * q as f64))
        .collect();
    let counts = RUSH_PER_MIN.iter().map(|rate| rate * 15.0).collect();
    (line, demand(edges, counts, Dist::Exponential { mean: 1.0 }))
}
