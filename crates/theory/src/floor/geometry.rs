//! Belts, roller lanes, tray carriers and tunnels: lengths and speeds into places and times. Plain geometry.

use crate::solve::{not_negative, positive};

/// A straight belt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Belt {
    /// Time from end to end, s.
    pub transit_s: f64,
    /// Trays it holds, one pitch each.
    pub places: u32,
    /// Trays per minute that pass when every place is taken.
    pub trays_per_minute: f64,
}

/// A belt of `length_m` at `metres_per_minute` with a tray every `pitch_m`. `None` unless all are positive.
pub fn belt(length_m: f64, metres_per_minute: f64, pitch_m: f64) -> Option<Belt> {
    let speed = positive(metres_per_minute)?;
    Some(Belt {
        transit_s: 60.0 * positive(length_m)? / speed,
        places: lane_places(length_m, pitch_m)?,
        trays_per_minute: speed / pitch_m,
    })
}

/// Whole things of `thing_m` that a lane of `lane_m` holds. `None` unless the lane is nought or longer and the thing
/// has a length, and beyond a count.
pub fn lane_places(lane_m: f64, thing_m: f64) -> Option<u32> {
    // A hair more, so that 3.3 m of lane hold eleven things of 0.3 m in floating point too.
    let places = (not_negative(lane_m)? / positive(thing_m)? * (1.0 + 1e-12)).floor();
    (places <= f64::from(u32::MAX)).then_some(places as u32)
}

/// Tray carriers on a loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loop {
    /// Trays that all the carriers hold.
    pub places: u64,
    /// Time for one round, s.
    pub round_s: f64,
    /// Carriers a minute past a point.
    pub carriers_per_minute: f64,
    /// Tiers (places) a minute past a point.
    pub tiers_per_minute: f64,
}

/// `carriers` of `tiers` places each, spaced over a loop of `length_m` that moves at `metres_per_minute`. `None` unless
/// all are positive.
pub fn carrier_loop(
    carriers: u32,
    tiers: u32,
    length_m: f64,
    metres_per_minute: f64,
) -> Option<Loop> {
    positive(f64::from(tiers))?;
    let round_minutes = positive(length_m)? / positive(metres_per_minute)?;
    let carriers_per_minute = positive(f64::from(carriers))? / round_minutes;
    Some(Loop {
        places: u64::from(carriers) * u64::from(tiers),
        round_s: 60.0 * round_minutes,
        carriers_per_minute,
        tiers_per_minute: carriers_per_minute * f64::from(tiers),
    })
}

/// A tunnel that racks are drawn through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tunnel {
    /// Time a rack is inside, s.
    pub inside_s: f64,
    /// Time between two racks that enter one right behind the other, s.
    pub entry_interval_s: f64,
    /// Racks per hour with every place taken.
    pub racks_per_hour: f64,
    /// Racks inside when every place is taken.
    pub places: u32,
}

/// A tunnel of `length_m` with a conveyor at `metres_per_minute`, racks of `rack_m`. `None` unless all are positive.
pub fn tunnel(length_m: f64, metres_per_minute: f64, rack_m: f64) -> Option<Tunnel> {
    let speed = positive(metres_per_minute)?;
    Some(Tunnel {
        inside_s: 60.0 * positive(length_m)? / speed,
        entry_interval_s: 60.0 * positive(rack_m)? / speed,
        racks_per_hour: 60.0 * speed / rack_m,
        places: lane_places(length_m, rack_m)?,
    })
}
