//! The usual peak-hour rule, beside the static table.

use super::flow::Flow;
use super::stages::is_washed;
use super::work::{pieces_a_rack, pieces_a_second_rack};
use crate::plan::Plan;

/// The share of the rated capacity that the usual rule plans on.
pub const PLANNED_SHARE: f64 = 0.70;

/// The usual rule: pieces a cover x covers of the peak hour / pieces a rack / 0.70.
#[derive(Clone, Debug, PartialEq)]
pub struct PeakRule {
    /// Washed pieces a cover.
    pub pieces_per_cover: f64,
    /// Covers served in the busiest hour (four quarter hours in a row).
    pub peak_hour_covers: f64,
    /// Mean pieces a rack.
    pub pieces_per_rack: f64,
    /// Racks an hour the rule asks of the data plate.
    pub racks_per_h: f64,
    /// Racks an hour on the data plates, or worked out where none is given.
    pub plate_racks_per_h: f64,
    /// What the rule leaves out.
    pub leaves_out: Vec<String>,
}

/// The rule for a plan; `None` without a machine or without washed ware.
///
/// # Source
/// Racks an hour from pieces a person and persons an hour: a kitchen design firm's page. Planning on 70 % of the rated
/// capacity is widely taught; no text was found.
pub(crate) fn peak_rule(plan: &Plan, flow: &Flow) -> Option<PeakRule> {
    let line = &plan.line;
    let covers: f64 = flow.served.iter().sum();
    let mut pieces = 0.0;
    let mut racks = 0.0;
    for class in (0..line.classes.len()).filter(|class| is_washed(line, *class)) {
        let Some(a_rack) = pieces_a_rack(line, class) else {
            continue;
        };
        let of_kind = plan.demand.kinds.iter().zip(&flow.by_kind);
        let all: f64 = of_kind
            .map(|(kind, served)| kind.pieces[class] * served.iter().sum::<f64>())
            .sum();
        pieces += all;
        racks += all / a_rack;
        racks += pieces_a_second_rack(line, class).map_or(0.0, |a_rack| all / a_rack);
    }
    if covers <= 0.0 || racks <= 0.0 || line.machines.is_empty() {
        return None;
    }
    let quarters: Vec<f64> = flow
        .served
        .chunks(15)
        .map(|quarter| quarter.iter().sum())
        .collect();
    let hours = quarters
        .windows(4.min(quarters.len()))
        .map(|hour| hour.iter().sum::<f64>());
    let peak_hour_covers = hours.fold(0.0, f64::max);
    let pieces_per_cover = pieces / covers;
    let pieces_per_rack = pieces / racks;
    let leaves_out = [
        "when trays come back: eating time and bells move and sharpen the peak",
        "part-filled racks, rewash and the seconds between racks that the loader needs",
        "people: scrapping, racking and unloading may bind long before the machine",
        "room: how many trays, racks and pieces can wait before something stands",
        "ware that can be held back and washed after the peak",
        "chance, and days busier than the stated one",
    ];
    Some(PeakRule {
        pieces_per_cover,
        peak_hour_covers,
        pieces_per_rack,
        racks_per_h: pieces_per_cover * peak_hour_covers / pieces_per_rack / PLANNED_SHARE,
        plate_racks_per_h: plan
            .utilities
            .iter()
            .map(|uses| uses.plate_racks_per_h)
            .sum(),
        leaves_out: leaves_out.map(str::to_owned).to_vec(),
    })
}
