//! The same line and tape give the same record, bit for bit, wherever and in whatever company they run.

use proptest::prelude::*;
use scullery_engine::line::Line;
use scullery_engine::run::{Floor, run};
use scullery_engine::time::{SimTime, Span};
use scullery_engine::watch::Nobody;

use super::record::{Case, Told, cases, check, check_on, failed};

/// All bytes of what a run told and how it ended.
fn bytes(case: &Case, floor: &mut Floor) -> Result<String, TestCaseError> {
    let (ended, told) = case.run_on(floor).map_err(failed)?;
    Ok(format!("{ended:?} {told:?}"))
}

#[test]
fn a_run_is_the_same_on_a_fresh_floor_a_used_one_and_another_thread() {
    check_on(700, (cases(), cases()), |(case, other)| {
        let fresh = bytes(&case, &mut Floor::new())?;
        let mut used = Floor::new();
        other.run_on(&mut used).map_err(failed)?;
        prop_assert_eq!(&bytes(&case, &mut used)?, &fresh, "after another line");
        prop_assert_eq!(&bytes(&case, &mut used)?, &fresh, "once more");
        let elsewhere = std::thread::scope(|threads| {
            let both = [(); 2].map(|()| threads.spawn(|| bytes(&case, &mut Floor::new())));
            both.map(|thread| thread.join())
        });
        for run in elsewhere {
            let run = run.map_err(|_| TestCaseError::fail("a thread panicked"))?;
            prop_assert_eq!(&run?, &fresh, "on a thread of its own");
        }
        Ok(())
    });
}

#[test]
fn watching_and_recounting_change_nothing() {
    check(1_000, |case| {
        let (watched, _) = case.run()?;
        let ended = run(&case.line, &case.tape(), &mut Floor::new(), &mut Nobody);
        prop_assert_eq!(ended.map_err(failed)?, watched);
        Ok(())
    });
}

#[test]
fn a_run_with_an_earlier_end_is_the_beginning_of_one_with_a_later() {
    check_on(1_000, (cases(), 1..4_000_u32), |(mut case, s)| {
        let sooner = case.line.starts + Span::from_s(f64::from(s));
        case.line.ends = case.line.ends.map(|end| end.max(sooner));
        let (whole, all) = case.run()?;
        case.line.ends = Some(sooner);
        let (ended, beginning) = case.run()?;
        // Without a stated end a line that can never go on ends where it locked; with one it waits for the end.
        let common = Ord::min(ended.at, whole.at);
        let until = |at: SimTime| {
            all.iter()
                .filter(move |it| it.at() < at)
                .collect::<Vec<_>>()
        };
        let seen = beginning.iter().filter(|it| it.at() < common);
        prop_assert_eq!(until(common), seen.collect::<Vec<_>>());
        Ok(())
    });
}

/// The same meal, everything an hour later.
fn an_hour_later(case: &Case) -> Case {
    use scullery_engine::demand::{Cleared, Covers, LoadWhen};
    use scullery_engine::line::*;
    let mut it = case.clone();
    let later = |at: &mut SimTime| *at = *at + Span::from_s(3_600.0);
    let line = &mut it.line;
    later(&mut line.starts);
    line.ends.iter_mut().for_each(later);
    for (from, until) in line.classes.iter_mut().flat_map(|c| &mut c.disposable) {
        later(from);
        later(until);
    }
    for drop_off in &mut line.drop_offs {
        drop_off.opens.iter_mut().for_each(later);
        if let Closing::At(at) = &mut drop_off.closes {
            later(at);
        }
    }
    let stacks = line.stack_belts.iter_mut().map(|it| &mut it.belt);
    let belts = line.belts.iter_mut().chain(stacks);
    let stops = belts.flat_map(|b| &mut b.stops);
    let stops = stops.chain(line.lanes.iter_mut().flat_map(|l| &mut l.stops));
    let loops = line.accumulators.iter_mut();
    let stops = stops.chain(loops.flat_map(|a| &mut a.stops));
    let stops = stops.chain(line.machines.iter_mut().flat_map(|m| &mut m.stops));
    for stop in stops {
        later(&mut stop.from);
        later(&mut stop.to);
    }
    let stacks = line.stack_belts.iter_mut().map(|it| &mut it.belt);
    let belts = line.belts.iter_mut().chain(stacks);
    for (from, _) in belts.flat_map(|b| &mut b.speed) {
        later(from);
    }
    let loops = line.accumulators.iter_mut();
    for (from, _) in loops.flat_map(|a| &mut a.speed) {
        later(from);
    }
    for gate in &mut line.gates {
        if let GateRule::Clock(times) = &mut gate.rule {
            times.iter_mut().for_each(|(at, _)| later(at));
        }
    }
    for lane in &mut line.lanes {
        if let LaneKind::Rollers { speed, .. } = &mut lane.kind {
            speed.iter_mut().for_each(|(from, _)| later(from));
        }
    }
    for machine in &mut line.machines {
        later(&mut machine.on_at);
        machine.off_at.iter_mut().for_each(later);
        let changes = machine.tank.iter_mut().flat_map(|tank| &mut tank.at);
        changes.for_each(later);
    }
    let piles = line.racking.iter_mut().flat_map(|r| &mut r.piles);
    for release in piles.flat_map(|p| &mut p.held_back) {
        if let Release::From(at) | Release::LaneBelowFrom(_, at) = release {
            later(at);
        }
    }
    for worker in &mut line.crew {
        for (from, to) in &mut worker.shifts {
            later(from);
            later(to);
        }
        worker.breaks.iter_mut().for_each(|(due, _)| later(due));
        let terms = &mut worker.terms;
        terms.paces.iter_mut().for_each(|(from, _)| later(from));
        terms.moves.iter_mut().for_each(|(from, _)| later(from));
    }
    for duty in &mut line.duties {
        if let DutyWhen::At(times) = &mut duty.when {
            times.iter_mut().for_each(later);
        }
    }
    for carts in &mut line.carts {
        if let CartsGo::Rounds { first, .. } = &mut carts.goes {
            later(first);
        }
    }
    let demand = &mut it.demand;
    for course in demand.kinds.iter_mut().flat_map(|k| &mut k.courses) {
        if let Cleared::Within { from, .. } = &mut course.cleared {
            later(from);
        }
    }
    for load in &mut demand.loads {
        load.taken.iter_mut().for_each(later);
        match &mut load.when {
            LoadWhen::At(times) => times.iter_mut().for_each(|(at, _)| later(at)),
            LoadWhen::Within { from, .. } => later(from),
            LoadWhen::Eating { since, at, .. } => {
                later(since);
                later(at);
            }
            LoadWhen::There { .. } | LoadWhen::Never(_) => {}
        }
    }
    match &mut demand.covers {
        Covers::Instants(at) | Covers::CameAt(at) => at.iter_mut().for_each(later),
        Covers::PerInterval { edges, .. } => edges.iter_mut().for_each(later),
    }
    demand
        .eating_min
        .iter_mut()
        .for_each(|(from, _)| later(from));
    demand.bells.iter_mut().for_each(|bell| later(&mut bell.at));
    let shares = demand.kinds.iter_mut().flat_map(|k| &mut k.share);
    shares.for_each(|(from, _)| later(from));
    it
}

#[test]
fn a_meal_an_hour_later_is_the_same_meal_an_hour_later() {
    check(1_000, |case| {
        let (ended, told) = case.run()?;
        let (later, told_later) = an_hour_later(case).run()?;
        let hour = Span::from_s(3_600.0);
        prop_assert_eq!(later.at, ended.at + hour);
        prop_assert_eq!(&later.balance, &ended.balance);
        prop_assert_eq!(&later.rinse_us, &ended.rinse_us);
        prop_assert_eq!(told_later.len(), told.len());
        for (one, other) in told.iter().zip(&told_later) {
            prop_assert_eq!(&one.later(hour), other);
        }
        Ok(())
    });
}

/// `all` in the order given by `order`, and for each old place its new one.
fn shuffle<T: Clone>(all: &mut [T], backwards: bool) -> impl Fn(u8) -> u8 + use<T> {
    let count = all.len() as u8;
    if backwards {
        all.reverse();
    }
    move |old| if backwards { count - 1 - old } else { old }
}

/// The line with those of its elements in reverse order whose order is no rule of the house.
fn reversed(line: &Line) -> Line {
    use scullery_engine::line::*;
    let mut it = line.clone();
    // Machines that share a clean end are served in the order of the plan, and so are clean ends that share carts.
    let shared = |m: &Machine| line.machines.iter().filter(|o| o.to == m.to).count() > 1;
    let of_class = line.classes.iter().any(|c| c.clean_end.is_some());
    // So are machines at the end of one lane.
    let beside = |m: &Machine| line.machines.iter().filter(|o| o.from == m.from).count() > 1;
    let own_ends = !of_class
        && !line
            .machines
            .iter()
            .any(|m| m.to.is_some() && shared(m) || m.from.is_some() && beside(m));
    let machine = shuffle(&mut it.machines, own_ends);
    // Of racks and stacks that come to a gate at one instant, those are there first whose lane comes first.
    let lane = shuffle(&mut it.lanes, line.gates.is_empty());
    let clean_end = shuffle(&mut it.clean_ends, line.delivery.is_none());
    let kind = shuffle(&mut it.rack_kinds, true);
    let table = shuffle(&mut it.tables, true);
    for class in &mut it.classes {
        let second = class.second_pass.iter_mut().flat_map(|it| &mut it.fits);
        for (fits, _) in class.fits.iter_mut().chain(second) {
            fits.0 = kind(fits.0);
        }
        class.clean_end = class.clean_end.map(&clean_end);
    }
    for drop_off in &mut it.drop_offs {
        if let TraysTo::Table(t) = &mut drop_off.to {
            *t = table(*t);
        }
    }
    for from in it.scrapping.iter_mut().flat_map(|s| &mut s.from) {
        if let TraysFrom::Table(t) = from {
            *t = table(*t);
        }
    }
    for on in it.scrapping.iter_mut().filter_map(|s| s.passes_on.as_mut()) {
        on.to = table(on.to);
    }
    for racking in &mut it.racking {
        let levels = racking.levels.iter_mut().map(|level| &mut level.to);
        for to in levels.chain([&mut racking.to]) {
            match to {
                RacksTo::Lane(l) => *l = lane(*l),
                RacksTo::Machine(m) => *m = machine(*m),
                RacksTo::Leave => {}
            }
        }
    }
    for gate in &mut it.gates {
        gate.lane = lane(gate.lane);
    }
    for aid in &mut it.aids {
        if let Post::Loading(m) = &mut aid.at {
            *m = machine(*m);
        }
    }
    for l in &mut it.lanes {
        l.hands_to = l.hands_to.map(&lane);
    }
    for receiver in &mut it.receivers {
        if let ReceiverGoes::AsRack(l) = &mut receiver.goes {
            *l = lane(*l);
        }
    }
    for m in &mut it.machines {
        m.from = m.from.map(&lane);
        m.to = m.to.map(&clean_end);
    }
    let post = |post: &mut Post| match post {
        Post::Loading(m) => *m = machine(*m),
        Post::Unloading(c) => *c = clean_end(*c),
        _ => {}
    };
    for worker in &mut it.crew {
        let moves = worker.terms.moves.iter_mut().flat_map(|(_, list)| list);
        for call in worker.list.iter_mut().chain(moves) {
            post(&mut call.post);
        }
        if let Some(Help {
            watches: Watched::Jobs(watched),
            ..
        }) = &mut worker.terms.help
        {
            post(watched);
        }
    }
    it.for_two.iter_mut().for_each(post);
    for trouble in &mut it.troubles {
        for what in &mut trouble.stops {
            match what {
                Stands::Machine(m) => *m = machine(*m),
                Stands::Lane(l) => *l = lane(*l),
                Stands::Belt(_) | Stands::StackBelt(_) | Stands::Accumulator(_) => {}
            }
        }
        trouble.by.iter_mut().for_each(post);
    }
    it.duties.iter_mut().flat_map(|d| &mut d.by).for_each(post);
    for duty in &mut it.duties {
        if let DutyWhen::DetergentLow(m) = &mut duty.when {
            *m = machine(*m);
        }
    }
    for rack in &mut it.already.racks {
        match &mut rack.at {
            RackAt::Racking(_) => {}
            RackAt::Lane(l) => *l = lane(*l),
            RackAt::Machine(m) => *m = machine(*m),
            RackAt::CleanEnd(c) => *c = clean_end(*c),
        }
    }
    for hot in &mut it.already.hot {
        *hot = machine(*hot);
    }
    it
}

/// The demand of the reversed line: its tables stand in reverse order.
fn on_reversed_tables(
    demand: &scullery_engine::demand::Demand,
    tables: usize,
) -> scullery_engine::demand::Demand {
    use scullery_engine::demand::{LoadWhen, There};
    let mut demand = demand.clone();
    for load in &mut demand.loads {
        if let LoadWhen::There {
            at: There::Table(t),
            ..
        } = &mut load.when
        {
            *t = tables as u8 - 1 - *t;
        }
    }
    demand
}

/// What was told by names, sorted within each instant.
fn by_name(line: &Line, told: &[Told]) -> Vec<(SimTime, String)> {
    let names = line.catalogue();
    let place = |p: scullery_engine::watch::PlaceId| &names.places[usize::from(p.0)].name;
    let mut list: Vec<_> = told
        .iter()
        .map(|it| {
            let text = match *it {
                Told::Level(_, p, held) => format!("{} {held}", place(p)),
                Told::State(_, who, state, because) => {
                    let who = &names.actors[usize::from(who.0)].name;
                    format!("{who} {state:?} {:?}", because.map(place))
                }
                Told::Stands(_, who, post) => {
                    let who = &names.actors[usize::from(who.0)].name;
                    format!(
                        "{who} at {:?}",
                        post.map(|post| &names.posts[usize::from(post.0)])
                    )
                }
                Told::Waited(_, p, wait) => format!("{} {wait:?}", place(p)),
                Told::Counted(_, count, by) => {
                    let info = &names.counts[usize::from(count.0)];
                    format!("{} {:?} {by}", info.name, info.of)
                }
                Told::Rack(_, trip) => format!(
                    "{} {} {:?}",
                    line.machines[usize::from(trip.machine)].name,
                    line.rack_kinds[usize::from(trip.kind)].name,
                    scullery_engine::watch::RackTrip {
                        machine: 0,
                        kind: 0,
                        ..trip
                    }
                ),
            };
            (it.at(), text)
        })
        .collect();
    list.sort();
    list
}

#[test]
fn the_order_of_machines_lanes_clean_ends_rack_kinds_and_tables_in_the_plan_is_no_rule() {
    check(1_500, |case| {
        let other = Case {
            line: reversed(&case.line),
            demand: on_reversed_tables(&case.demand, case.line.tables.len()),
            ..case.clone()
        };
        prop_assert_eq!(other.line.faults(), Vec::<String>::new());
        let (_, told) = case.run()?;
        let (_, again) = other.run()?;
        let (one, two) = (by_name(&case.line, &told), by_name(&other.line, &again));
        let differs = one.iter().zip(&two).find(|(a, b)| a != b);
        prop_assert!(differs.is_none(), "{differs:?}");
        prop_assert_eq!(one.len(), two.len());
        Ok(())
    });
}
