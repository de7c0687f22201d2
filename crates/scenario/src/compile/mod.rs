//! A file that fits the schema is given its meaning: a line and its diners, or complaints.

mod accumulators;
mod aids;
mod already;
mod arrivals;
mod belts;
mod care;
mod carts;
mod checker;
mod clean_ends;
mod covers;
mod crew;
mod diners;
mod fittings;
mod gates;
mod inclines;
mod joints;
mod lanes;
mod levels;
mod look_over;
mod machines;
mod names;
mod owned;
mod placing;
mod racking;
mod receivers;
mod room;
mod scrapping;
mod series;
mod stacks;
mod staffing;
mod study;
mod trays;
mod trouble;
mod two_passes;
mod ware;
mod waste;
mod ways;

use scullery_engine::line::{Closing, Line};
use scullery_engine::time::Span;

use self::checker::Checker;
use crate::defaults;
use crate::describe;
use crate::describe::words;
use crate::diagnostic::Diagnostic;
use crate::file::ScenarioFile;
use crate::plan::{Facts, Plan};
use crate::text::tree::Node;

pub(crate) use covers::expected as expected_covers;
pub(crate) use crew::post_name;
pub(crate) use lanes::lane_room;

pub(crate) use machines::{most_pieces_per_h, racks_per_h};

/// Reads a file a scenario names, by its path relative to the scenario.
pub(crate) type Load<'a> = &'a dyn Fn(&str) -> Result<Vec<u8>, String>;

/// Gives `file` its meaning; `tree` is where its places are.
pub(crate) fn compile(
    tree: &Node,
    file: &ScenarioFile,
    hash: String,
    load: Load<'_>,
) -> Result<Plan, Vec<Diagnostic>> {
    let mut check = Checker::new(tree);
    let check = &mut check;
    check.starts = start(check, file);
    let mut notices = Vec::new();
    let sheet = file
        .head_count
        .as_ref()
        .map(|written| crew::head_count::read(check, written, load));
    let names = names::gather(check, file, sheet.as_ref());
    let (demand, day_words) = diners::demand(check, file, &names, load, &mut notices);
    let mut classes = ware::classes(check, file, &names);
    let belts = belts::belts(check, file);
    let twins = belts::twins(check, file, &names);
    let accumulators = accumulators::accumulators(check, file);
    let here = (&belts[..], &twins[..]);
    let drop_offs = trays::drop_offs(check, file, &names, here, &accumulators);
    let carts = carts::carts(check, file);
    let receivers = receivers::receivers(check, file, &names);
    let reaches = levels::reaches(check, file);
    let mut racking = racking::racking(check, file, &names, &reaches);
    racking.extend(placing::placing(check, file, &names));
    let stack_belts = stacks::stack_belts(check, file, &names, &racking);
    look_over::rewash(check, file, &names, &racking, &mut classes);
    two_passes::two_passes(check, file, &names, &racking, &mut classes);
    let brought = joints::brought(&demand, classes.len());
    let laid = series::laid(&demand, names.tables.len());
    let aside = series::aside(&demand, drop_offs.len());
    let around = scrapping::Around {
        belts: &belts,
        accumulators: &accumulators,
        drop_offs: &drop_offs,
        racking: &racking,
        stack_belts: &stack_belts,
        reaches: &reaches,
        patience: demand.patience_people.is_some(),
        brought: &brought,
        laid: &laid,
        aside: &aside,
    };
    let mut scrapping = scrapping::scrapping(check, file, &names, &around);
    let (lanes, inclines) = lanes::lanes(check, file, &names);
    let gates = gates::gates(check, file, &names, &lanes, &racking);
    let mut machines = machines::machines(check, file, &names, &lanes);
    let (aids, aid_uses) = aids::aids(check, file, &names, &mut scrapping, &mut machines);
    let clean_ends = clean_ends::clean_ends(check, file);
    let delivery = clean_ends::delivery(check, file, &names);
    let crew = crew::crew(check, file, &names, sheet.as_ref(), &mut notices);
    let mut duties = crew::duties(check, file, &names);
    let care = care::care(check, file, &names);
    let mut duty_paths: Vec<String> = duties
        .iter()
        .map(|duty| format!("duty.{}", duty.name))
        .collect();
    duty_paths.extend(care.paths);
    duties.extend(care.duties);
    let (changes, change_paths) = receivers::changes(check, file, &names);
    duties.extend(changes);
    duty_paths.extend(change_paths);
    let troubles = trouble::troubles(check, file, &names, &lanes);
    let many_posts = crew
        .iter()
        .any(|worker| worker.list.len() > 1 || !worker.terms.moves.is_empty());
    let both_sides = !clean_ends.is_empty() && many_posts;
    let walking = &file.walking;
    let walk_s = if many_posts {
        check.or_default(
            walking.between_posts_s,
            "walking.between_posts_s",
            &defaults::WALK,
        )
    } else {
        walking.between_posts_s.unwrap_or(0.0)
    };
    let wash_s = if both_sides {
        check.or_default(
            walking.hand_wash_s,
            "walking.hand_wash_s",
            &defaults::HAND_WASH,
        )
    } else {
        walking.hand_wash_s.unwrap_or(0.0)
    };
    let ends = file
        .meal
        .ends_at
        .as_ref()
        .map(|text| check.clock_after("meal.ends_at", text, check.starts));
    let mut line = Line {
        name: file.heading.name.clone(),
        starts: check.starts,
        ends,
        classes,
        rack_kinds: ware::rack_kinds(file),
        drop_offs,
        belts,
        twins,
        accumulators,
        tables: trays::tables(file),
        carts,
        aids,
        receivers,
        waste_kinds: waste::kinds(check, file),
        waste_stores: waste::stores(file),
        scrapping,
        stack_belts,
        racking,
        lanes,
        gates,
        machines,
        clean_ends,
        delivery,
        crew,
        duties,
        for_two: crew::for_two(check, file, &names),
        troubles,
        already: already::already(check, file, &names),
        walk: Span::from_s(walk_s),
        hand_wash: Span::from_s(wash_s),
    };
    let kinds: Vec<_> = line.machines.iter().map(|machine| &machine.kind).collect();
    let (utilities, machine_facts): (Vec<_>, Vec<_>) =
        study::utilities(check, file, &kinds).into_iter().unzip();
    machines::supplies(&mut line.machines, file, &utilities);
    let person_m = room::person_m(check, file);
    let view = room::view(check, file, &names, &line);
    receivers::joined(check, &line, &names);
    waste::joined(check, file, &line);
    joints::joints(check, &line, &demand, &duty_paths);
    two_passes::joints(check, &line);
    size(check, &line);
    already::fits(check, file, &line, &demand);
    times_within(check, &line);
    let heading = study::heading(check, file, &demand, day_words);
    let targets = study::targets(check, file, &names);
    let staffing = staffing::staffing(check, file, &line);
    let sizes = staffing::sizes(check, file);
    let owned = owned::owned(check, file, &names);
    if !check.faults.is_empty() {
        return Err(std::mem::take(&mut check.faults));
    }
    let (belt_facts, stack_belt_facts) = belts::all_facts(file);
    let facts = Facts {
        inclines,
        reach_s: reaches,
        belts: belt_facts,
        stack_belts: stack_belt_facts,
        rack_kg: file.rack.iter().map(|rack| rack.weight_kg).collect(),
        piece_kg: file.ware.iter().map(|ware| ware.weight_kg).collect(),
        machines: machine_facts,
        rest_allowance: crew::rest_allowance(file),
        care: care.told,
        person_m,
    };
    let mut plan = Plan {
        line,
        demand,
        heading,
        targets,
        money: study::money(file),
        owned,
        utilities,
        disposers: waste::uses(file),
        aids: aid_uses,
        defaults: std::mem::take(&mut check.defaults),
        description: notices,
        view,
        cautions: Vec::new(),
        hash,
        changes: Vec::new(),
        facts,
        staffing,
        sizes,
    };
    let told = describe::describe(&plan);
    plan.description.splice(0..0, told);
    plan.cautions = describe::cautions(&plan);
    Ok(plan)
}

fn start(check: &mut Checker<'_>, file: &ScenarioFile) -> scullery_engine::time::SimTime {
    let at = check.clock("meal.starts", &file.meal.starts);
    if at.min() >= 24.0 * 60.0 {
        let message = format!("a meal starts within a day, found {}", file.meal.starts);
        check.fault(
            "not-a-clock-time",
            "meal.starts",
            message,
            "write for example \"11:00\"",
        );
        return scullery_engine::time::SimTime::MIDNIGHT;
    }
    at
}

/// Most drop-offs, belts, accumulators, kinds of cart, posts, racking tables, lanes, machines and clean ends together.
const MOST_ELEMENTS: usize = 56;

fn size(check: &mut Checker<'_>, line: &Line) {
    let elements = line.drop_offs.len()
        + line.belts.len()
        + line.accumulators.len()
        + line.stack_belts.len()
        + line.carts.len()
        + line.scrapping.len()
        + line.racking.len()
        + line.lanes.len()
        + line.machines.len()
        + line.clean_ends.len();
    if elements > MOST_ELEMENTS {
        let message = format!("a line has at most {MOST_ELEMENTS} elements, found {elements}");
        check.fault("too-large", "drop_off", message, "join what can be joined");
    }
    if check.faults.is_empty() {
        // The engine looks the line over once more; were it to find anything, that would be a fault of this crate.
        for fault in line.faults() {
            check.fault(
                "does-not-fit",
                "",
                format!("the line does not fit together: {fault}"),
                "",
            );
        }
    }
}

/// A stated end must let the line do something.
fn times_within(check: &mut Checker<'_>, line: &Line) {
    let Some(ends) = line.ends else { return };
    for drop_off in &line.drop_offs {
        if let Closing::At(closes) = drop_off.closes
            && closes > ends
        {
            let message = format!(
                "drop-off \"{}\" closes at {}, after the stated end at {}",
                drop_off.name,
                words::clock(closes),
                words::clock(ends)
            );
            check.fault(
                "times-out-of-order",
                &format!("drop_off.{}.closes.at", drop_off.name),
                message,
                "let the end be later, or write \"never\"",
            );
        }
    }
}
