//! Gates at the load end: what the two sides bring in the busiest quarter hour, how much of the machine each needs, how
//! long the gate stays up and down by its rule, and what stands meanwhile.

use scullery_engine::line::{Gate, GateRule, Lane, Line, PiecesTo, Racking, RacksTo};
use scullery_engine::time::SimTime;

use super::figures::{Figure, figure};
use super::flow::Flow;
use super::machines::takes_racks_per_h;
use super::ways::{Ways, ways};
use super::work::{pieces_a_rack, pieces_a_second_rack};
use crate::compile::lane_room;
use crate::defaults::rounded;
use crate::describe::words::{clock, counted};
use crate::plan::Plan;

/// What comes to the two sides of a gate.
#[derive(Clone, Debug)]
struct Comes {
    /// Racks onto the lane.
    racks: f64,
    /// Pieces to be loaded by hand, by pile of the table; none where the pile is held back.
    pieces: Vec<f64>,
}

/// A gate between its two sides.
struct Sides<'a> {
    plan: &'a Plan,
    flow: &'a Flow,
    gate: &'a Gate,
    lane: &'a Lane,
    table: &'a Racking,
    /// What one tray brings, by kind of diner.
    a_tray: Vec<Comes>,
}

/// Figures of every gate.
pub(crate) fn gates(plan: &Plan, flow: &Flow, told: &mut Vec<Figure>) {
    let line = &plan.line;
    if line.gates.is_empty() {
        return;
    }
    let kinds = 0..plan.demand.kinds.len();
    let ways: Vec<Ways> = kinds.map(|kind| ways(plan, kind)).collect();
    let busiest = busiest_quarter(flow);
    for gate in &line.gates {
        let lane = line.lanes.get(usize::from(gate.lane));
        let table = line.racking.get(usize::from(gate.table));
        let (Some(lane), Some(table)) = (lane, table) else {
            continue;
        };
        let each = ways.iter().map(|ways| a_tray(line, gate, table, ways));
        let sides = Sides {
            plan,
            flow,
            gate,
            lane,
            table,
            a_tray: each.collect(),
        };
        let quarter = sides.came(busiest, busiest + 15.0);
        let an_hour = Comes {
            racks: 4.0 * quarter.racks,
            pieces: quarter.pieces.iter().map(|pieces| 4.0 * pieces).collect(),
        };
        sides.comes(&an_hour, told);
        sides.machine(&an_hour, told);
        sides.hands(&an_hour, told);
        match &gate.rule {
            GateRule::Racks { down_at, up_at } => {
                sides.by_racks(&an_hour, f64::from(*down_at - *up_at), told);
            }
            GateRule::Clock(times) => sides.by_the_clock(times, told),
            GateRule::FullerSide | GateRule::ByHand => {}
        }
    }
}

/// Minutes from the first of the flow to the busiest quarter hour.
fn busiest_quarter(flow: &Flow) -> f64 {
    let came = |quarter: usize| -> f64 {
        let minutes = flow
            .dropped
            .iter()
            .flat_map(|kind| kind.iter().skip(15 * quarter).take(15));
        minutes.sum()
    };
    let quarters = 0..flow.served.len().div_ceil(15);
    let later_only_if_more = |best: usize, next: usize| match came(next) > came(best) {
        true => next,
        false => best,
    };
    15.0 * quarters.reduce(later_only_if_more).unwrap_or(0) as f64
}

/// What a tray brings to the two sides, its ways given. Whole racks only in the mean.
fn a_tray(line: &Line, gate: &Gate, table: &Racking, ways: &Ways) -> Comes {
    let on_lane = |lane: u8| line.leads_to(lane, gate.lane);
    let in_racks = ways.pieces.iter().filter(|(class, to, _)| {
        let table = line.table_of(*to);
        let table = table.and_then(|table| line.racking.get(usize::from(table)));
        let to = table.map(|table| table.to_of(*class as u8));
        matches!(to, Some(RacksTo::Lane(lane)) if on_lane(lane))
    });
    let in_racks = in_racks.map(|(class, _, pieces)| (*class, *pieces));
    let as_racks = ways.as_racks.iter().filter(|(_, lane, _)| on_lane(*lane));
    let as_racks = as_racks.map(|(class, _, pieces)| (*class, *pieces));
    let racks = in_racks
        .chain(as_racks)
        .filter_map(|(class, pieces)| Some(pieces / pieces_a_rack(line, class)?))
        .sum();
    let to_pile = |class: usize| -> f64 {
        let second = line.classes[class].second_pass.as_ref();
        let again = second.is_some_and(|second| second.at == gate.table);
        let comes = ways.pieces.iter().filter(|(of, to, _)| {
            let on_pile = !matches!(to, PiecesTo::Racks(_));
            let here = on_pile && line.table_of(*to) == Some(gate.table);
            *of == class && (here || again)
        });
        comes.map(|(_, _, pieces)| pieces).sum()
    };
    let piles = table.piles.iter();
    Comes {
        racks,
        pieces: piles
            .map(|pile| match pile.held_back.is_empty() {
                true => to_pile(usize::from(pile.class.0)),
                false => 0.0,
            })
            .collect(),
    }
}

impl Sides<'_> {
    /// What comes from one minute of the flow to another, parts of minutes as well.
    fn came(&self, from: f64, to: f64) -> Comes {
        let trays = |kind: &Vec<f64>| -> f64 {
            let minutes = kind.iter().enumerate();
            minutes
                .map(|(minute, came)| {
                    let minute = minute as f64;
                    came * (to.min(minute + 1.0) - from.max(minute)).max(0.0)
                })
                .sum()
        };
        let mut all = Comes {
            racks: 0.0,
            pieces: vec![0.0; self.table.piles.len()],
        };
        for (kind, a_tray) in self.flow.dropped.iter().zip(&self.a_tray) {
            let trays = trays(kind);
            all.racks += trays * a_tray.racks;
            for (all, pieces) in all.pieces.iter_mut().zip(&a_tray.pieces) {
                *all += trays * pieces;
            }
        }
        all
    }

    fn figure(
        &self,
        what: &str,
        value: f64,
        unit: &'static str,
        words: String,
        look: bool,
    ) -> Figure {
        let name = &self.gate.name;
        let words = format!("Gate {name}: {words}.");
        figure(format!("gate.{name}.{what}"), value, unit, words, look)
    }

    /// Racks on the lane and pieces by hand, an hour, and how long there is room for them.
    fn comes(&self, an_hour: &Comes, told: &mut Vec<Figure>) {
        let room = lane_room(self.lane).filter(|_| an_hour.racks > 0.0);
        let words = format!(
            "in the busiest quarter hour {} racks an hour come on lane {}",
            rounded(an_hour.racks),
            self.lane.name
        );
        told.push(self.figure("lane_racks_per_h", an_hour.racks, "racks/h", words, false));
        if let Some(room) = room {
            let minutes = f64::from(room) * 60.0 / an_hour.racks;
            let words = format!(
                "held in the busiest quarter hour, lane {} (room for {}) is full after {} min",
                self.lane.name,
                counted(room, "rack"),
                rounded(minutes)
            );
            told.push(self.figure("lane_fills_min", minutes, "min", words, false));
        }
        let pieces: f64 = an_hour.pieces.iter().sum();
        let words = format!(
            "in the busiest quarter hour {} pieces an hour come to be loaded by hand at {}",
            rounded(pieces),
            self.table.name
        );
        told.push(self.figure("by_hand_pieces_per_h", pieces, "pieces/h", words, false));
        let piles = self.table.piles.iter().zip(&an_hour.pieces);
        let fills = piles
            .filter(|(_, pieces)| **pieces > 0.0)
            .filter_map(|(pile, pieces)| {
                let room = pile.room?;
                Some((f64::from(room) * 60.0 / pieces, pile.class, room))
            });
        if let Some((minutes, class, room)) = fills.min_by(|one, other| one.0.total_cmp(&other.0)) {
            let words = format!(
                "while nobody loads by hand in the busiest quarter hour, the pile of {} at {} (room for {room}) is full first, after {} min",
                self.plan.line.classes[usize::from(class.0)].name,
                self.table.name,
                rounded(minutes)
            );
            told.push(self.figure("by_hand_fills_min", minutes, "min", words, false));
        }
    }

    /// Share of the machine's time that each side needs, %.
    fn machine(&self, an_hour: &Comes, told: &mut Vec<Figure>) {
        let line = &self.plan.line;
        let fed =
            |lane: u8| -> Vec<u8> { line.fed_by(line.last_lane(lane)).map(|(m, _)| m).collect() };
        let machines = fed(self.gate.lane);
        let piles = self.table.piles.iter();
        let by_hand = piles.flat_map(|pile| match self.table.to_of(pile.class.0) {
            RacksTo::Lane(lane) => fed(lane),
            RacksTo::Machine(machine) => vec![machine],
            RacksTo::Leave => Vec::new(),
        });
        let mut by_hand: Vec<u8> = by_hand.collect();
        by_hand.sort_unstable();
        by_hand.dedup();
        let rate = self.machine_racks_per_h();
        // Two machines that each serve a side are not shared.
        if machines != by_hand || rate <= 0.0 {
            return;
        }
        let of_racks = 100.0 * an_hour.racks / rate;
        let loads = self.table.piles.iter().zip(&an_hour.pieces);
        let of_hands: f64 = loads
            .filter_map(|(pile, pieces)| {
                let class = usize::from(pile.class.0);
                let an_hour = match self.table.to_of(pile.class.0) {
                    RacksTo::Machine(machine) => line
                        .machines
                        .get(usize::from(machine))?
                        .pieces_per_h(class)?,
                    RacksTo::Lane(_) => rate * self.pieces_a_rack_by_hand(class)?,
                    RacksTo::Leave => return None,
                };
                Some(100.0 * pieces / an_hour)
            })
            .sum();
        let both = of_racks + of_hands;
        let look = both > 100.0;
        let verdict = match look {
            true => ", more than there is: no rule of the gate can keep up",
            false => "",
        };
        let names = machines
            .iter()
            .filter_map(|machine| line.machines.get(usize::from(*machine)));
        let names: Vec<&str> = names.map(|machine| machine.name.as_str()).collect();
        let words = format!(
            "in the busiest quarter hour the racks on lane {} need {} % of the time of machine {}, what is loaded by hand {} %: {} % together{verdict}",
            self.lane.name,
            rounded(of_racks),
            names.join(" and "),
            rounded(of_hands),
            rounded(both)
        );
        told.push(self.figure("machine_share", both, "%", words, look));
    }

    /// Racks an hour that the machines behind the lane take.
    fn machine_racks_per_h(&self) -> f64 {
        let line = &self.plan.line;
        let fed = line.fed_by(line.last_lane(self.gate.lane));
        fed.map(|(machine, _)| takes_racks_per_h(self.plan, usize::from(machine)))
            .sum()
    }

    /// Pieces a rack that is filled by hand here; of the second pass where ware is sorted for it here.
    fn pieces_a_rack_by_hand(&self, class: usize) -> Option<f64> {
        let line = &self.plan.line;
        let second = line.classes.get(class)?.second_pass.as_ref();
        match second.is_some_and(|second| second.at == self.gate.table) {
            true => pieces_a_second_rack(line, class),
            false => pieces_a_rack(line, class),
        }
    }

    /// How busy loading by hand keeps whoever does it, in % of one person's time.
    fn hands(&self, an_hour: &Comes, told: &mut Vec<Figure>) {
        let piles = self.table.piles.iter().zip(&an_hour.pieces);
        let work_s: f64 = piles.map(|(pile, pieces)| pile.piece_s * pieces).sum();
        if work_s <= 0.0 {
            return;
        }
        let busy = 100.0 * work_s / 3600.0;
        let up = match self.gate.rule {
            GateRule::ByHand if busy < 100.0 => ": so long the gate is up, done by one",
            GateRule::ByHand => ": the gate may never go down while that lasts",
            _ => "",
        };
        let words = format!(
            "in the busiest quarter hour loading by hand at {} takes {} % of the time of one person, and {} can stand there{up}",
            self.table.name,
            rounded(busy),
            self.table.places
        );
        let never_down = self.gate.rule == GateRule::ByHand && busy >= 100.0;
        let look = never_down || busy > 100.0 * f64::from(self.table.places);
        told.push(self.figure("hands", busy, "%", words, look));
    }

    /// How long the gate stays up and down where it goes by the racks on the lane, so many of them apart.
    fn by_racks(&self, an_hour: &Comes, apart: f64, told: &mut Vec<Figure>) {
        let rate = self.machine_racks_per_h();
        if an_hour.racks <= 0.0 || rate <= 0.0 {
            return;
        }
        let up_min = apart * 60.0 / an_hour.racks;
        let words = format!(
            "in the busiest quarter hour it goes down {} min after it has gone up, when {} more racks have come",
            rounded(up_min),
            rounded(apart)
        );
        told.push(self.figure("up_min", up_min, "min", words, false));
        if rate <= an_hour.racks {
            let words = format!(
                "in the busiest quarter hour {} racks an hour come and the machine takes {}: it stays down",
                rounded(an_hour.racks),
                rounded(rate)
            );
            told.push(self.figure("stays_down", an_hour.racks / rate, "ratio", words, true));
            return;
        }
        let down_min = apart * 60.0 / (rate - an_hour.racks);
        let meanwhile: Vec<f64> = an_hour
            .pieces
            .iter()
            .map(|pieces| pieces * down_min / 60.0)
            .collect();
        let (fullest, look) = self.fullest(&meanwhile);
        let words = format!(
            "it goes up again {} min later, when as many are in the machine; meanwhile {} pieces come to be loaded by hand{fullest}",
            rounded(down_min),
            rounded(meanwhile.iter().sum())
        );
        told.push(self.figure("down_min", down_min, "min", words, look));
    }

    /// The pile that is fullest for its room with so many pieces on each, in words that follow a figure; whether that is
    /// more than its room.
    fn fullest(&self, pieces: &[f64]) -> (String, bool) {
        let piles = self.table.piles.iter().zip(pieces);
        let shares = piles.filter_map(|(pile, pieces)| {
            let room = pile.room.filter(|room| *room > 0)?;
            Some((pieces / f64::from(room), pile.class, *pieces, room))
        });
        let fullest = shares.max_by(|one, other| one.0.total_cmp(&other.0));
        let Some((share, class, pieces, room)) = fullest.filter(|fullest| fullest.0 > 0.0) else {
            return (String::new(), false);
        };
        let class = &self.plan.line.classes[usize::from(class.0)].name;
        let words = format!(", {} of {class} with room for {room}", rounded(pieces));
        (words, share > 1.0)
    }

    /// What stands held and what gathers where the gate goes by the clock, in the longest of its spans for each.
    fn by_the_clock(&self, times: &[(SimTime, bool)], told: &mut Vec<Figure>) {
        let from_min = self.flow.from_min as f64;
        let first = (SimTime::from_min(from_min), false);
        let last = SimTime::from_min(from_min + self.flow.served.len() as f64);
        let until = |to: SimTime| match to == last {
            true => "on".to_owned(),
            false => format!("to {}", clock(to)),
        };
        let begins: Vec<(SimTime, bool)> =
            [first].into_iter().chain(times.iter().copied()).collect();
        let ends = times.iter().map(|(at, _)| *at).chain([last]);
        let spans = begins.iter().zip(ends).map(|(&(from, up), to)| {
            let came = self.came(from.min() - from_min, to.min() - from_min);
            (from, to, up, came)
        });
        let (up, down): (Vec<_>, Vec<_>) = spans.partition(|(_, _, up, _)| *up);
        let held = up
            .iter()
            .max_by(|one, other| one.3.racks.total_cmp(&other.3.racks));
        if let Some((from, to, _, came)) = held {
            let room = lane_room(self.lane);
            let of = room.map_or(String::new(), |room| format!(", which has room for {room}"));
            let words = format!(
                "up from {} {}, it holds {} racks on lane {}{of}",
                clock(*from),
                until(*to),
                rounded(came.racks),
                self.lane.name
            );
            let look = room.is_some_and(|room| came.racks > f64::from(room));
            told.push(self.figure("held_racks", came.racks, "racks", words, look));
        }
        let pieces = |came: &Comes| -> f64 { came.pieces.iter().sum() };
        let gathers = down
            .iter()
            .max_by(|one, other| pieces(&one.3).total_cmp(&pieces(&other.3)));
        if let Some((from, to, _, came)) = gathers {
            let (fullest, look) = self.fullest(&came.pieces);
            let words = format!(
                "down from {} {}, {} pieces come to be loaded by hand{fullest}",
                clock(*from),
                until(*to),
                rounded(pieces(came))
            );
            told.push(self.figure("gathers", pieces(came), "pieces", words, look));
        }
    }
}
