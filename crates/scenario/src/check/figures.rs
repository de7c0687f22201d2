//! Figures that follow from the file alone.

use scullery_engine::line::DutyWhen;
use scullery_engine::time::{SimTime, Span};

use super::accumulators::accumulators;
use super::belts::belts;
use super::flow::Flow;
use super::loops::{racks_in_loop, ware_needed};
use super::machines::machines;
use super::receivers::{fills, receivers_and_bins};
use super::stages::on_shift;
use super::ways::in_the_meal;
use super::work::{pile_work_s, racks_a_cover, tray_work_s, unload_work_s};
use crate::defaults::rounded;
use crate::plan::Plan;

/// A figure that follows from the file.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Stable id, for example `belt.return.holds`.
    pub id: String,
    /// The value.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// What it is and what it means, in one plain sentence.
    pub words: String,
    /// Whether it deserves a second look.
    pub look: bool,
}

pub(crate) fn figure(
    id: String,
    value: f64,
    unit: &'static str,
    words: String,
    look: bool,
) -> Figure {
    Figure {
        id,
        value,
        unit,
        words,
        look,
    }
}

/// Load constant of the NIOSH lifting equation, kg.
///
/// # Source
/// Waters, Putz-Anderson and Garg, revised NIOSH lifting equation (1994); 23 kg (51 lb) also in CCOHS.
pub const LOAD_CONSTANT_KG: f64 = 23.0;

/// Every figure, along the line. Those about the course of the meal need its `flow`.
pub(crate) fn figures(plan: &Plan, flow: Option<&Flow>) -> Vec<Figure> {
    let mut told = Vec::new();
    let peak = flow.map(peak_quarter);
    belts(plan, peak, &mut told);
    tables(plan, peak, &mut told);
    accumulators(plan, peak, &mut told);
    super::carts::carts(plan, flow, &mut told);
    machines(plan, &mut told);
    if let Some(flow) = flow {
        super::gates::gates(plan, flow, &mut told);
    }
    work(plan, &mut told);
    super::series::balance(plan, &mut told);
    if let Some(flow) = flow {
        told.extend(racks_in_loop(plan, peak.unwrap_or(0.0)));
        told.extend(ware_needed(plan, flow));
        seats(plan, flow, &mut told);
        receivers_and_bins(plan, flow, &mut told);
        hours(plan, flow, &mut told);
    }
    told.extend(super::room::room(plan));
    weights(plan, &mut told);
    super::owned::owned(plan, &mut told);
    told
}

/// Diners who come to the drop-offs in the busiest quarter hour of the clock.
pub(crate) fn peak_quarter(flow: &Flow) -> f64 {
    let minutes = flow.served.len();
    let came = |minute: usize| -> f64 { flow.dropped.iter().map(|kind| kind[minute]).sum() };
    let quarters = (0..minutes.div_ceil(15)).map(|quarter| {
        (quarter * 15..(quarter * 15 + 15).min(minutes))
            .map(came)
            .sum()
    });
    quarters.fold(0.0, f64::max)
}

/// How long room for so many trays lasts when nothing is taken away in the busiest quarter hour, in words that follow a
/// figure; nothing where nobody comes.
pub(super) fn minutes_of_the_peak(holds: u32, peak: Option<f64>) -> String {
    let Some(peak) = peak.filter(|peak| *peak > 0.0) else {
        return String::new();
    };
    format!(
        ": {} min of what comes in the busiest quarter hour",
        rounded(f64::from(holds) * 15.0 / peak)
    )
}

fn tables(plan: &Plan, peak: Option<f64>, told: &mut Vec<Figure>) {
    for table in &plan.line.tables {
        if let Some(room) = table.room {
            let words = minutes_of_the_peak(room, peak);
            told.push(figure(
                format!("table.{}.holds", table.name),
                f64::from(room),
                "trays",
                format!("Table {} holds {room} trays{words}.", table.name),
                false,
            ));
        }
    }
}

fn work(plan: &Plan, told: &mut Vec<Figure>) {
    for (number, kind) in plan.demand.kinds.iter().enumerate() {
        let seconds = tray_work_s(plan, number);
        if seconds <= 0.0 {
            continue;
        }
        let after = pile_work_s(plan, number) + unload_work_s(plan, number, true);
        let words = format!(
            "A tray of \"{}\" asks {} s of scrapping ({} a person-minute), {} s of racking from piles and unloading, and {} racks.",
            kind.name,
            rounded(seconds),
            rounded(60.0 / seconds),
            rounded(after),
            rounded(racks_a_cover(plan, number, true))
        );
        told.push(figure(
            format!("kind.{}.work", kind.name),
            seconds,
            "s",
            words,
            false,
        ));
    }
}

fn seats(plan: &Plan, flow: &Flow, told: &mut Vec<Figure>) {
    let sits = |kind: usize| plan.demand.kinds[kind].sits;
    let (mut seated, mut most, mut when) = (0.0, 0.0, 0);
    for minute in 0..flow.served.len() {
        let left: f64 = flow
            .dropped
            .iter()
            .enumerate()
            .filter(|(kind, _)| sits(*kind))
            .map(|(_, left)| left[minute])
            .sum();
        seated += flow.seated_in[minute] - left;
        if seated > most {
            (most, when) = (seated, minute);
        }
    }
    if most < 0.5 {
        return;
    }
    let at = crate::describe::words::clock(SimTime::from_min((flow.from_min + when) as f64));
    let (against, look) = match plan.demand.seats {
        Some(seats) => (format!(", of {seats} seats"), most > f64::from(seats)),
        None => (String::new(), false),
    };
    let short = if look {
        ": diners will wait for a seat"
    } else {
        ""
    };
    let words = format!("About {most:.0} people want to sit at {at}{against}{short}.");
    told.push(figure(
        "seated.most".to_owned(),
        most,
        "people",
        words,
        look,
    ));
}

fn hours(plan: &Plan, flow: &Flow, told: &mut Vec<Figure>) {
    let line = &plan.line;
    let trays = |kind: usize| -> f64 { flow.dropped[kind].iter().sum() };
    let load_s = line
        .machines
        .iter()
        .filter_map(|machine| machine.loading.as_ref())
        .map(|load| load.rack_s)
        .fold(0.0, f64::max);
    let a_cover = |kind: usize| {
        tray_work_s(plan, kind)
            + pile_work_s(plan, kind)
            + unload_work_s(plan, kind, true)
            + racks_a_cover(plan, kind, true) * load_s
    };
    let kinds = 0..plan.demand.kinds.len();
    let mut seconds: f64 = kinds.clone().map(|kind| trays(kind) * a_cover(kind)).sum();
    let scraped_kg = in_the_meal(plan, flow, |ways| ways.scraped_kg);
    let mut estimated_s = 0.0;
    for duty in &line.duties {
        let times = match &duty.when {
            DutyWhen::At(times) => times.len() as f64,
            DutyWhen::EveryKg(kg) => (scraped_kg / kg).floor(),
            DutyWhen::DetergentLow(_) => 0.0,
            DutyWhen::Change(_) | DutyWhen::BinFull(_) => fills(plan, flow, &duty.when),
            DutyWhen::AfterLast { jobs, .. } => f64::from(*jobs),
        };
        let work_s = times * duty.work_s.mean();
        if matches!(duty.when, DutyWhen::Change(_) | DutyWhen::BinFull(_)) {
            estimated_s += work_s;
        }
        seconds += work_s;
    }
    if let Some(carts) = &line.delivery {
        let pieces: f64 = kinds
            .map(|kind| trays(kind) * plan.demand.kinds[kind].pieces.iter().sum::<f64>())
            .sum();
        seconds += pieces / f64::from(carts.cart_pieces.max(1)) * carts.trip.s();
    }
    let clock: Vec<SimTime> = quarters(plan);
    let people: Vec<_> = line.crew.iter().collect();
    let crew: f64 = on_shift(&people, &clock).iter().sum();
    let (work_h, crew_h) = (seconds / 3600.0, crew / 3600.0);
    let estimated = match estimated_s > 0.0 {
        true => format!(
            " (about {} h of it for changing receivers and emptying bins, an estimate)",
            rounded(estimated_s / 3600.0)
        ),
        false => String::new(),
    };
    let words = format!(
        "The meal asks {} h of work by hand{estimated}, of {} h of crew ({:.0} %), walking, hand washing and waiting left out.",
        rounded(work_h),
        rounded(crew_h),
        100.0 * work_h / crew_h.max(1e-9)
    );
    told.push(figure(
        "crew.work".to_owned(),
        work_h,
        "h",
        words,
        work_h > 0.85 * crew_h,
    ));
}

/// Every quarter hour in which somebody has a shift.
fn quarters(plan: &Plan) -> Vec<SimTime> {
    let shifts = plan.line.crew.iter().flat_map(|worker| &worker.shifts);
    let first = shifts
        .clone()
        .map(|(from, _)| *from)
        .min()
        .unwrap_or(plan.line.starts);
    let last = shifts.map(|(_, to)| *to).max().unwrap_or(plan.line.starts);
    let quarter = Span::from_min(15.0);
    std::iter::successors(Some(first), |at| Some(*at + quarter))
        .take_while(|at| *at < last)
        .take(4800 * 4)
        .collect()
}

fn weights(plan: &Plan, told: &mut Vec<Figure>) {
    let mut heaviest: Option<(f64, String)> = None;
    for (class, piece_kg) in plan.line.classes.iter().zip(&plan.facts.piece_kg) {
        let second = class.second_pass.iter().flat_map(|second| &second.fits);
        for (rack, pieces) in class.fits.iter().chain(second) {
            let rack = usize::from(rack.0);
            let (Some(piece_kg), Some(Some(rack_kg))) = (piece_kg, plan.facts.rack_kg.get(rack))
            else {
                continue;
            };
            let kg = rack_kg + f64::from(*pieces) * piece_kg;
            if heaviest.as_ref().is_none_or(|(most, _)| kg > *most) {
                heaviest = Some((
                    kg,
                    format!(
                        "{pieces} {} in a {} rack",
                        class.name, plan.line.rack_kinds[rack].name
                    ),
                ));
            }
        }
    }
    if let Some((kg, what)) = heaviest {
        let words = format!(
            "The heaviest full rack weighs {} kg ({what}); the NIOSH lifting equation allows at most {LOAD_CONSTANT_KG} kg under the best conditions, less when reaching, turning or lifting often.",
            rounded(kg)
        );
        told.push(figure(
            "rack.heaviest".to_owned(),
            kg,
            "kg",
            words,
            kg > LOAD_CONSTANT_KG,
        ));
    }
}
