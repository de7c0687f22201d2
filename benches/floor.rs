//! The floor: hand loops that do nothing but each model's draws, heap and counters. Nothing can be much faster and still
//! simulate the same thing; they record next to nothing and know no ware.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, VecDeque};

use scullery_engine::streams::{Draw, Root};

use crate::lines::{RUSH_PER_MIN, RUSH_SECONDS, TEXTBOOK_TRAYS};

/// What a hand loop counts.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Counted {
    /// Events handled.
    pub events: u64,
    /// Trays done.
    pub trays: u64,
    /// Sum of waits before scrapping, microseconds.
    pub waits_us: u64,
    /// Worker-microseconds blocked at the first and the second station.
    pub blocked_us: [u64; 2],
}

struct Luck(Draw);

impl Luck {
    fn exponential_us(&mut self, mean_us: f64) -> u64 {
        ((-libm::log(1.0 - self.0.uniform()) * mean_us) as u64).max(1)
    }
}

/// M/M/1: two kinds of event, a queue of instants.
pub fn textbook(repeat: u64) -> Counted {
    let mut luck = Luck(Root::new(1, repeat).source("floor").at(0));
    let mut heap = BinaryHeap::with_capacity(8);
    let mut queue: VecDeque<u64> = VecDeque::with_capacity(256);
    let mut seen = Counted::default();
    let (gap, service) = (60e6 / 0.8, 60e6);
    let end = (TEXTBOOK_TRAYS / 0.8 * 60e6) as u64;
    let mut busy = false;
    heap.push(Reverse((luck.exponential_us(gap), 0u8)));
    while let Some(Reverse((now, kind))) = heap.pop() {
        seen.events += 1;
        if kind == 0 {
            let next = now + luck.exponential_us(gap);
            if next < end {
                heap.push(Reverse((next, 0)));
            }
            if busy {
                queue.push_back(now);
            } else {
                busy = true;
                heap.push(Reverse((now + luck.exponential_us(service), 1)));
            }
        } else {
            seen.trays += 1;
            if let Some(came) = queue.pop_front() {
                seen.waits_us += now - came;
                heap.push(Reverse((now + luck.exponential_us(service), 1)));
            } else {
                busy = false;
            }
        }
    }
    seen
}

/// The tandem line: arrivals by inversion, three stations, two finite rooms, blocking after service.
pub fn tandem(repeat: u64) -> Counted {
    const SERVERS: [usize; 3] = [3, 2, 1];
    const ROOM: [usize; 2] = [12, 6];
    let mut luck = Luck(Root::new(2, repeat).source("floor").at(0));
    let mut heap = BinaryHeap::with_capacity(16);
    let mut waiting: [VecDeque<u64>; 3] = Default::default();
    let mut blocked: [VecDeque<u64>; 2] = Default::default();
    let mut busy = [0usize; 3];
    let mut seen = Counted::default();

    let (mut quarter, mut from, mut left) = (0usize, 0.0f64, -libm::log(1.0 - luck.0.uniform()));
    let mut next_arrival = |luck: &mut Luck| -> Option<u64> {
        while quarter < RUSH_PER_MIN.len() {
            let rate = RUSH_PER_MIN[quarter] / 60e6;
            let edge = (quarter + 1) as f64 * 900e6;
            let area = (edge - from) * rate;
            if left < area {
                from += left / rate;
                left = -libm::log(1.0 - luck.0.uniform());
                return Some(from as u64);
            }
            left -= area;
            from = edge;
            quarter += 1;
        }
        None
    };
    if let Some(at) = next_arrival(&mut luck) {
        heap.push(Reverse((at, 3u8)));
    }
    while let Some(Reverse((now, kind))) = heap.pop() {
        seen.events += 1;
        match kind {
            3 => {
                waiting[0].push_back(now);
                if let Some(at) = next_arrival(&mut luck) {
                    heap.push(Reverse((at, 3)));
                }
            }
            2 => {
                busy[2] -= 1;
                seen.trays += 1;
            }
            station => {
                busy[usize::from(station)] -= 1;
                blocked[usize::from(station)].push_back(now);
            }
        }
        // Downstream first, until nothing moves.
        loop {
            let mut moved = false;
            for station in (0..3).rev() {
                if station < 2 {
                    while !blocked[station].is_empty() && waiting[station + 1].len() < ROOM[station]
                    {
                        let Some(since) = blocked[station].pop_front() else {
                            break;
                        };
                        seen.blocked_us[station] += now - since;
                        waiting[station + 1].push_back(now);
                        moved = true;
                    }
                }
                let held = blocked.get(station).map_or(0, VecDeque::len);
                if busy[station] + held < SERVERS[station]
                    && let Some(came) = waiting[station].pop_front()
                {
                    if station == 0 {
                        seen.waits_us += now - came;
                    }
                    busy[station] += 1;
                    let lasts = luck.exponential_us(RUSH_SECONDS[station] * 1e6);
                    heap.push(Reverse((now + lasts, station as u8)));
                    moved = true;
                }
            }
            if !moved {
                break;
            }
        }
    }
    seen
}
