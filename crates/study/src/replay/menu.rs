//! The menu of remedies for a line: single changes that make sense of what it has, each as changes to the scenario.

use scullery_engine::line::{Control, LaneKind, Post, RacksTo};
use scullery_engine::time::SimTime;
use scullery_scenario::plan::Plan;

use super::menu_of_diners::diners;
use super::menu_of_waiting::later;

/// A remedy that is to be tried.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proposal {
    /// In words, for example `one more at scrapping main from 12:10 to 13:10`.
    pub words: String,
    /// Changes to the scenario.
    pub changes: Vec<String>,
    /// Whether something must be bought or built for it.
    pub buys: bool,
}

/// The rush around which people are moved: an hour before to half an hour after the worst minute.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rush {
    /// From.
    pub from: SimTime,
    /// To.
    pub to: SimTime,
}

/// People standing at a drop-off at whom help is called.
const CALLED_AT: u32 = 8;
/// Half an hour in microseconds.
pub(super) const HALF_AN_HOUR: u64 = 30 * 60_000_000;

impl Rush {
    /// Where the half hour of the worst minute begins: 20 minutes before it, within the rush.
    fn worst_from(self) -> SimTime {
        let from = self.to.us().saturating_sub(HALF_AN_HOUR + 20 * 60_000_000);
        SimTime::from_us(from.max(self.from.us()))
    }

    /// Where it ends.
    pub(super) fn worst_to(self) -> SimTime {
        SimTime::from_us(self.worst_from().us() + HALF_AN_HOUR)
    }
}

pub(super) fn clock(at: SimTime) -> String {
    let minutes = at.us() / 60_000_000;
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// All single remedies for the plan, around this rush.
pub fn proposals(plan: &Plan, rush: Rush) -> Vec<Proposal> {
    let mut all = Vec::new();
    people(plan, rush, &mut all);
    drop_off_and_belts(plan, &mut all);
    racks_and_lanes(plan, &mut all);
    machines(plan, &mut all);
    ware(plan, &mut all);
    later(plan, rush, &mut all);
    diners(plan, rush, &mut all);
    all
}

pub(super) fn add(all: &mut Vec<Proposal>, words: String, changes: &[String], buys: bool) {
    all.push(Proposal {
        words,
        changes: changes.to_vec(),
        buys,
    });
}

/// How a post is written in a scenario.
fn post_path(plan: &Plan, post: Post) -> Option<(String, String)> {
    let line = &plan.line;
    let (kind, name, spoken) = match post {
        Post::Scrapping(i) => (
            "scrapping",
            &line.scrapping.get(usize::from(i))?.name,
            "scrapping",
        ),
        Post::Racking(i) => (
            "racking",
            &line.racking.get(usize::from(i))?.name,
            "racking",
        ),
        Post::Loading(i) => (
            "loading",
            &line.machines.get(usize::from(i))?.name,
            "loading",
        ),
        Post::Unloading(i) => (
            "unloading",
            &line.clean_ends.get(usize::from(i))?.name,
            "unloading",
        ),
        _ => return None,
    };
    Some((
        format!("{kind}.{name}"),
        format!("{spoken} {}", name.replace('_', " ")),
    ))
}

fn people(plan: &Plan, rush: Rush, all: &mut Vec<Proposal>) {
    let (from, to) = (clock(rush.from), clock(rush.to));
    let mut posts: Vec<Post> = Vec::new();
    for post in plan
        .line
        .crew
        .iter()
        .flat_map(|worker| &worker.list)
        .map(|call| call.post)
    {
        if !posts.contains(&post) {
            posts.push(post);
        }
    }
    for post in posts {
        if let Some((path, spoken)) = post_path(plan, post) {
            let helper = format!(
                "+crew.helper={{ shifts = [{{ from = \"{from}\", to = \"{to}\" }}], posts = [\"{path}\"], unfilled_share = 0 }}"
            );
            let mut changes = vec![helper];
            // A post without a free place takes nobody.
            if let Post::Scrapping(i) = post {
                let it = &plan.line.scrapping[usize::from(i)];
                changes.push(format!("scrapping.{}.places={}", it.name, it.places + 1));
            }
            add(
                all,
                format!("one more at {spoken} from {from} to {to}"),
                &changes,
                false,
            );
            let (from, to) = (clock(rush.worst_from()), clock(rush.worst_to()));
            changes[0] = format!(
                "+crew.kitchen={{ shifts = [{{ from = \"{from}\", to = \"{to}\" }}], posts = [\"{path}\"], unfilled_share = 0 }}"
            );
            add(
                all,
                format!("kitchen help for 30 minutes at {spoken}, {from} to {to}"),
                &changes,
                false,
            );
            if let (Post::Scrapping(_), Some(drop_off)) = (post, plan.line.drop_offs.first()) {
                let (from, to) = (clock(rush.from), clock(rush.to));
                changes[0] = format!(
                    "+crew.kitchen={{ shifts = [{{ from = \"{from}\", to = \"{to}\" }}], posts = [\"{path}\"], unfilled_share = 0, \
                     on_call = {{ when = {{ standing = {{ drop_off = \"{}\", reach = {CALLED_AT} }} }} }} }}",
                    drop_off.name
                );
                add(
                    all,
                    format!(
                        "kitchen help called to {spoken} when {CALLED_AT} people stand at drop-off {}",
                        drop_off.name
                    ),
                    &changes,
                    false,
                );
            }
        }
    }
    if plan.line.delivery.is_some() {
        let helper = format!(
            "+crew.helper={{ shifts = [{{ from = \"{from}\", to = \"{to}\" }}], posts = [\"running\"], unfilled_share = 0 }}"
        );
        add(
            all,
            format!("a runner for clean ware from {from} to {to}"),
            &[helper],
            false,
        );
    }
}

fn drop_off_and_belts(plan: &Plan, all: &mut Vec<Proposal>) {
    for it in &plan.line.drop_offs {
        let positions = it.positions_mm.len();
        add(
            all,
            format!(
                "{} positions at drop-off {} and not {positions}",
                positions + 1,
                it.name
            ),
            &[format!("drop_off.{}.positions={}", it.name, positions + 1)],
            true,
        );
    }
    for it in &plan.line.belts {
        let metres = f64::from(it.length_mm) / 1000.0;
        add(
            all,
            format!("belt {} half as long again, {:.1} m", it.name, metres * 1.5),
            &[format!("belt.{}.length_m={:.3}", it.name, metres * 1.5)],
            true,
        );
        if let [(_, speed)] = it.speed[..] {
            let faster = f64::from(speed) / 1000.0 * 1.25;
            add(
                all,
                format!("belt {} a quarter faster, {faster:.1} m/min", it.name),
                &[format!("belt.{}.speed_m_per_min={faster:.3}", it.name)],
                false,
            );
        }
        if it.rule == scullery_engine::line::EndRule::StopsOnArrival {
            add(
                all,
                format!("belt {} closes up at its end", it.name),
                &[format!("belt.{}.ends=closes_up", it.name)],
                true,
            );
        }
    }
    for it in &plan.line.tables {
        if let Some(room) = it.room {
            add(
                all,
                format!("room for half as many trays again on table {}", it.name),
                &[format!(
                    "table.{}.room_trays={}",
                    it.name,
                    room + room.div_ceil(2)
                )],
                true,
            );
        }
    }
}

fn racks_and_lanes(plan: &Plan, all: &mut Vec<Proposal>) {
    for it in &plan.line.rack_kinds {
        add(
            all,
            format!(
                "half as many {} racks again ({})",
                it.name,
                it.count + it.count.div_ceil(2)
            ),
            &[format!(
                "rack.{}.count={}",
                it.name,
                it.count + it.count.div_ceil(2)
            )],
            true,
        );
    }
    // At a load end no racks stand open.
    let tables = plan.line.racking.iter();
    for it in tables.filter(|it| !matches!(it.to, RacksTo::Machine(_))) {
        add(
            all,
            format!("two more racks open at {}", it.name),
            &[format!(
                "racking.{}.open_racks={}",
                it.name,
                it.open_racks + 2
            )],
            true,
        );
        for (number, level) in (1..).zip(&it.levels) {
            let more = level.open_racks + 2;
            add(
                all,
                format!("two more racks open at {}, {}", it.name, level.name),
                &[format!(
                    "racking.{}.level.{number}.open_racks={more}",
                    it.name
                )],
                true,
            );
        }
    }
    for (it, incline) in plan.line.lanes.iter().zip(&plan.facts.inclines) {
        match &it.kind {
            // A longer one with the same fall would be another slope.
            LaneKind::Rollers { .. } if incline.is_some() => {}
            LaneKind::Rollers { length_mm, .. } => {
                let metres = f64::from(*length_mm) / 1000.0 * 1.5;
                add(
                    all,
                    format!("lane {} half as long again, {metres:.1} m", it.name),
                    &[format!("lane.{}.way.rollers.length_m={metres:.3}", it.name)],
                    true,
                );
            }
            LaneKind::Shelf { room: Some(room) } => add(
                all,
                format!("room for half as many racks again on {}", it.name),
                &[format!(
                    "lane.{}.way.shelf.racks={}",
                    it.name,
                    room + room.div_ceil(2)
                )],
                true,
            ),
            LaneKind::Shelf { room: None } => {}
        }
    }
    for it in &plan.line.clean_ends {
        if let Some(places) = it.places {
            let more = places + places.div_ceil(2);
            add(
                all,
                format!(
                    "half as many places again at clean end {} ({more})",
                    it.name
                ),
                &[format!("clean_end.{}.places_racks={more}", it.name)],
                true,
            );
        }
    }
}

fn machines(plan: &Plan, all: &mut Vec<Proposal>) {
    for it in &plan.line.machines {
        if let Control::HoldAndRun { racks, .. } = it.control {
            let fewer = (racks / 2).max(1);
            if fewer < racks {
                add(
                    all,
                    format!(
                        "machine {} starts at {fewer} racks and not {racks}",
                        it.name
                    ),
                    &[format!(
                        "machine.{}.runs.hold_and_run.racks={fewer}",
                        it.name
                    )],
                    false,
                );
            }
            add(
                all,
                format!("machine {} runs throughout", it.name),
                &[format!("machine.{}.runs=throughout", it.name)],
                false,
            );
        }
        let early = SimTime::from_us(it.on_at.us().saturating_sub(30 * 60_000_000));
        if early >= plan.line.starts && it.on_at > plan.line.starts {
            add(
                all,
                format!(
                    "machine {} switched on at {} and not {}",
                    it.name,
                    clock(early),
                    clock(it.on_at)
                ),
                &[format!("machine.{}.on_at={}", it.name, clock(early))],
                false,
            );
        }
    }
}

fn ware(plan: &Plan, all: &mut Vec<Proposal>) {
    for class in &plan.line.classes {
        if let Some(par) = class.par {
            let more = par + par.div_ceil(4);
            add(
                all,
                format!(
                    "a quarter more of {} ({more})",
                    class.name.replace('_', " ")
                ),
                &[format!("ware.{}.par={more}", class.name)],
                true,
            );
        }
    }
}
