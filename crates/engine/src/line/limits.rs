//! What a line may not go beyond: so many things can be numbered, so far and so fast can be counted.

use crate::calendar::MOST_SLOTS;
use crate::line::{
    Accumulator, Control, EndRule, LaneKind, Line, MOST_CLASSES, Machine, MachineKind, Scrapping,
    TraysFrom, accumulator, belt, carts, drop_off, lane, machine, stacks,
};
use crate::time::SimTime;

/// Most workers, duties, rack kinds or positions: each has a number of one byte.
const MOST_OF_A_KIND: usize = 255;
/// Most racks of all kinds.
const MOST_RACKS: u64 = 1_000_000;
/// Most carts or tubs of a kind.
const MOST_CARTS: u32 = 100_000;
/// Fastest belt, mm a minute: 200 days of it still fit an odometer.
const FASTEST: u32 = 500_000;

/// Largest store of hot water, and most heated up in an hour: 4,000 litres, so that what is counted fits a number.
const MOST_STORE_UL: u64 = 4_000_000_000;
/// Longest piece on a flight machine's belt: 2 m.
const LONGEST_PIECE_UM: u32 = 2_000_000;

impl Line {
    /// Whether a tray could be passed on from post to post for ever.
    pub(crate) fn passes_trays_round(&self) -> bool {
        let takes = |post: &Scrapping, table: u8| post.from.contains(&TraysFrom::Table(table));
        let on = |post: &Scrapping| post.passes_on.as_ref().map(|on| on.to);
        // How many more posts a tray may come to, by post. Without a circle it is settled after as many rounds as posts.
        let mut after = vec![0_usize; self.scrapping.len()];
        for _ in 0..self.scrapping.len() {
            for i in 0..self.scrapping.len() {
                let Some(table) = on(&self.scrapping[i]) else {
                    continue;
                };
                let next = self.scrapping.iter().zip(&after);
                let most = next
                    .filter(|(post, _)| takes(post, table))
                    .map(|(_, &more)| more + 1)
                    .max();
                after[i] = most.unwrap_or(0);
            }
        }
        after.iter().any(|&more| more >= self.scrapping.len())
    }

    /// What would not fit the numbers a run counts with. Empty for every line the loader makes.
    pub(crate) fn beyond_limits(&self) -> Vec<String> {
        let mut faults = Vec::new();
        let mut need = |fits: bool, what: &dyn Fn() -> String| {
            if !fits {
                faults.push(what());
            }
        };
        let few = |count: usize| count <= MOST_OF_A_KIND;
        need(few(self.crew.len()), &|| "too many workers".into());
        need(few(self.troubles.len()), &|| {
            "too many kinds of trouble".into()
        });
        need(
            few(self.receivers.len()) && few(self.waste_stores.len()),
            &|| "too many receivers, disposers or bins".into(),
        );
        need(few(self.duties.len()), &|| "too much other work".into());
        need(few(self.rack_kinds.len()), &|| {
            "too many kinds of rack".into()
        });
        let racks: u64 = self.rack_kinds.iter().map(|k| u64::from(k.count)).sum();
        need(racks <= MOST_RACKS, &|| "too many racks".into());
        for it in &self.drop_offs {
            need(few(it.positions_mm.len()), &|| {
                format!("drop-off {} has too many positions", it.name)
            });
        }
        for it in &self.carts {
            need(
                (1..=MOST_CARTS).contains(&it.count) && it.holds > 0,
                &|| {
                    format!(
                        "there are none of {}, or too many, or they hold nothing",
                        it.name
                    )
                },
            );
        }
        for it in &self.racking {
            need(it.piles.len() <= MOST_CLASSES, &|| {
                format!("racking {} has too many piles", it.name)
            });
            let no_room = |pile: &crate::line::Pile| {
                let waits = !pile.held_back.is_empty() || !pile.soak.is_none();
                waits && pile.room == Some(0)
            };
            need(!it.piles.iter().any(no_room), &|| {
                format!(
                    "racking {} holds ware back where there is room for nothing",
                    it.name
                )
            });
        }
        need(self.pending() <= MOST_SLOTS as u64, &|| {
            "too many things that can be pending".into()
        });
        let too_fast = |speed: &[(SimTime, u32)]| speed.iter().any(|&(_, speed)| speed > FASTEST);
        for it in self
            .belts
            .iter()
            .chain(self.stack_belts.iter().map(|it| &it.belt))
        {
            need(!too_fast(&it.speed), &|| {
                format!("belt {} is faster than 500 m a minute", it.name)
            });
            need(
                it.rule != EndRule::AdvancesOnDemand { section_mm: 0 },
                &|| format!("belt {} advances by nothing", it.name),
            );
        }
        for it in &self.accumulators {
            need(!too_fast(&it.speed), &|| {
                format!("accumulator {} is faster than 500 m a minute", it.name)
            });
            let sized = (1..=Accumulator::MOST_CARRIERS).contains(&it.carriers)
                && (1..=Accumulator::MOST_TIERS).contains(&it.tiers);
            need(sized && it.loop_mm > 0, &|| {
                format!(
                    "accumulator {} has no carriers, tiers or loop, or too many",
                    it.name
                )
            });
        }
        for (l, it) in self.lanes.iter().enumerate() {
            let fast = match &it.kind {
                LaneKind::Rollers { speed, .. } => too_fast(speed),
                LaneKind::Shelf { .. } => false,
            };
            need(!fast, &|| {
                format!("lane {} is faster than 500 m a minute", it.name)
            });
            let fed = || self.fed_by(l as u8).map(|(_, machine)| machine);
            // Where no rack can wait a machine must take it in by itself, and from the first.
            let waits = |m: &Machine| {
                m.loading.is_some() || matches!(m.control, Control::HoldAndRun { .. })
            };
            need(it.room() != Some(0) || !fed().any(waits), &|| {
                format!(
                    "lane {} has room for nothing before a machine that waits",
                    it.name
                )
            });
            let moves = matches!(it.kind, LaneKind::Rollers { .. });
            need(moves || it.stops.is_empty(), &|| {
                format!("lane {} stops, and nothing on it moves", it.name)
            });
        }
        for it in &self.machines {
            let fits = match it.kind {
                MachineKind::Door { batch, .. } => batch > 0,
                MachineKind::Conveyor {
                    pitch_mm,
                    tunnel_mm,
                    speed_mm_min,
                    ..
                } => pitch_mm > 0 && tunnel_mm > 0 && (1..=FASTEST).contains(&speed_mm_min),
                MachineKind::Flight {
                    tunnel_mm,
                    speed_mm_min,
                    ref piece_um,
                    rack_mm,
                    ..
                } => {
                    let short = piece_um.iter().all(|&um| um <= LONGEST_PIECE_UM);
                    let full = piece_um.len() == self.classes.len();
                    let moves = tunnel_mm > 0 && (1..=FASTEST).contains(&speed_mm_min);
                    moves && full && short && (1..=10_000).contains(&rack_mm)
                }
            };
            let hot = it.hot_water.is_none_or(|hot| {
                (1..=MOST_STORE_UL).contains(&hot.store_ul)
                    && hot.rack_ul <= MOST_STORE_UL
                    && (1..=MOST_STORE_UL).contains(&hot.recovers_ul_per_h)
            });
            need(hot, &|| {
                format!("machine {} has no hot water, or too much of it", it.name)
            });
            let changes = it.tank.as_ref().is_none_or(|tank| {
                tank.at.is_sorted() && tank.every_racks.is_none_or(|every| every > 0)
            });
            need(changes, &|| {
                format!("machine {} changes its water out of order", it.name)
            });
            need(it.dries_to <= 1000, &|| {
                format!("machine {} makes ware wetter", it.name)
            });
            need(fits, &|| match it.kind {
                MachineKind::Door { .. } => format!("machine {} takes no rack", it.name),
                MachineKind::Conveyor { .. } | MachineKind::Flight { .. } => {
                    format!("machine {} has no length, pitch or speed", it.name)
                }
            });
        }
        if let Some(it) = &self.delivery {
            need(it.below.len() == self.classes.len(), &|| {
                format!("{} does not say when each class is short", it.name)
            });
        }
        faults
    }

    /// Slots of the calendar, counted so that no number of anything can overflow.
    fn pending(&self) -> u64 {
        let each = |count: usize, slots: u32| count as u64 * u64::from(slots);
        let positions: usize = self.drop_offs.iter().map(|d| d.positions_mm.len()).sum();
        let racking =
            |r: &crate::line::Racking| u64::from(r.all_open_racks()) + 2 * r.piles.len() as u64;
        1 + self.delivery.as_ref().map_or(0, |d| u64::from(d.carts))
            + self.waste_stores.len() as u64
            + each(self.clean_ends.len(), 1 + self.classes.len() as u32)
            + each(self.machines.len(), machine::SLOTS)
            + each(self.lanes.len(), lane::SLOTS)
            + self.racking.iter().map(racking).sum::<u64>()
            + each(self.belts.len(), belt::SLOTS)
            + each(self.accumulators.len(), accumulator::SLOTS)
            + each(self.stack_belts.len(), stacks::SLOTS)
            + each(self.drop_offs.len(), drop_off::SLOTS)
            + positions as u64
            + each(self.carts.len(), carts::SLOTS)
            + each(self.duties.len() + self.troubles.len() + self.crew.len(), 2)
    }
}
