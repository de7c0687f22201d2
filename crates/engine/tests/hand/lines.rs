//! Lines that many laws begin from; each law changes what it speaks of.

use scullery_engine::line::*;

use super::*;

/// The first scrapping post.
pub(crate) const SCRAP: Post = Post::Scrapping(0);
/// The first racking post.
pub(crate) const RACK: Post = Post::Racking(0);
/// The first clean end.
pub(crate) const UNLOAD: Post = Post::Unloading(0);

/// Scrapping only: trays leave the line when they are broken down. Nobody is on the crew.
pub(crate) fn scrapping_line(tray_s: f64) -> Line {
    Line {
        classes: vec![loose("tray")],
        drop_offs: vec![drop_off(TraysTo::Table(0))],
        tables: vec![table(None)],
        scrapping: vec![scrapping(tray_s, vec![PiecesTo::Leave])],
        ..bare()
    }
}

/// 10 m of belt at 15 m/min: 0.25 m/s, 40 s from end to end; trays half a metre (2 s) apart, 20 places.
pub(crate) fn ten_metres(rule: EndRule) -> Belt {
    Belt {
        name: "belt".into(),
        length_mm: 10_000,
        spacing_mm: 500,
        speed: vec![(at(0.0), 15_000)],
        rule,
        stops: vec![],
    }
}

/// A drop-off at the belt's start, scrapping of so many seconds at its end. Nobody is on the crew.
pub(crate) fn belt_line(belt: Belt, tray_s: f64) -> Line {
    Line {
        drop_offs: vec![drop_off(TraysTo::Belt(0))],
        tables: vec![],
        belts: vec![belt],
        scrapping: vec![Scrapping {
            from: vec![TraysFrom::BeltEnd(0)],
            ..scrapping(tray_s, vec![PiecesTo::Leave])
        }],
        ..scrapping_line(tray_s)
    }
}

/// Trays broken down in no time by `scrapper`, racks of `size` plates filled with it, a lane without limit, a door
/// machine of 60 s, off the line.
pub(crate) fn wash_line(size: u16) -> Line {
    Line {
        classes: vec![class("plate", size)],
        rack_kinds: vec![rack_kind("peg", 99)],
        drop_offs: vec![drop_off(TraysTo::Table(0))],
        tables: vec![table(None)],
        scrapping: vec![scrapping(0.0, vec![PiecesTo::Racks(0)])],
        racking: vec![racking(1, RacksTo::Lane(0))],
        lanes: vec![shelf(None)],
        machines: vec![door(60.0)],
        crew: vec![worker("scrapper", &[SCRAP])],
        ends: Some(at(10_000.0)),
        ..bare()
    }
}

/// A rack conveyor: a rack every 20 s, 60 s from mouth to end, rinse from 40 to 50 s.
pub(crate) fn conveyor() -> Machine {
    // 1.5 m/min is 25 mm/s.
    Machine {
        kind: MachineKind::Conveyor {
            pitch_mm: 500,
            tunnel_mm: 1500,
            rinse_mm: (1000, 1250),
            speed_mm_min: 1500,
        },
        ..door(0.0)
    }
}

/// Diners of two kinds: those who come at `other_s` are of the second.
///
/// Kinds are shared out by the clock, so the instants of the two must differ.
pub(crate) fn two_kinds(first_s: &[f64], first: &[f64], other_s: &[f64], other: &[f64]) -> Demand {
    let mut all: Vec<f64> = first_s.iter().chain(other_s).copied().collect();
    all.sort_by(f64::total_cmp);
    let mut demand = coming(&all, first);
    let mut second = demand.kinds[0].clone();
    second.name = "other".into();
    second.pieces = other.to_vec();
    second.share = vec![(at(0.0), 0.0)];
    for &s in &all {
        let is_other = other_s.contains(&s);
        demand.kinds[0].share.push((at(s), f64::from(!is_other)));
        second.share.push((at(s), f64::from(is_other)));
    }
    demand.kinds.push(second);
    demand
}
