//! What a plan means and what follows from it, before any simulation.

mod accumulators;
mod below;
mod belts;
mod carts;
mod figures;
mod flow;
mod gates;
mod loops;
mod machines;
mod owned;
mod receivers;
mod room;
mod rule;
mod series;
mod stages;
mod temperatures;
mod text;
mod ways;
mod work;

use crate::plan::{DefaultUsed, Plan};

pub use figures::{Figure, LOAD_CONSTANT_KG};
pub use room::room as room_figures;
pub use rule::{PLANNED_SHARE, PeakRule};
pub use stages::{Quarter, QuarterTable};
pub use temperatures::Temperature;
pub use text::report_text;

/// What a plan means and what follows from it.
#[derive(Clone, Debug)]
pub struct CheckReport {
    /// Title of the scenario.
    pub name: String,
    /// Standing of its figures.
    pub note: String,
    /// What the file means, in plain sentences along the line.
    pub description: Vec<String>,
    /// Inputs left at their default.
    pub defaults: Vec<DefaultUsed>,
    /// Figures that follow from the file alone.
    pub figures: Vec<Figure>,
    /// The static table by quarter hour; `None` for a meal too long for one.
    pub quarters: Option<QuarterTable>,
    /// The usual peak-hour rule; `None` without a machine.
    pub peak_rule: Option<PeakRule>,
    /// Temperatures the file states against published figures.
    pub temperatures: Vec<Temperature>,
    /// Cautions.
    pub cautions: Vec<String>,
}

/// Works out what a plan means and what follows from it. Nothing is simulated.
pub fn check(plan: &Plan) -> CheckReport {
    let flow = flow::flow(plan);
    CheckReport {
        name: plan.heading.name.clone(),
        note: plan.heading.note.clone(),
        description: plan.description.clone(),
        defaults: plan.defaults.clone(),
        figures: figures::figures(plan, flow.as_ref()),
        quarters: flow.as_ref().map(|flow| stages::quarter_table(plan, flow)),
        peak_rule: flow.as_ref().and_then(|flow| rule::peak_rule(plan, flow)),
        temperatures: temperatures::temperatures(plan),
        cautions: plan.cautions.clone(),
    }
}
