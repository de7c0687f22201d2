//! What a plan means, in plain sentences along the line, and the cautions that belong to what is in it.

mod aids;
mod already;
mod belts;
mod carts;
mod cautions;
mod crew;
mod gates;
mod machines;
mod owned;
mod people;
mod racks;
mod receivers;
mod room;
mod servery;
mod trays;
mod trouble;
pub(crate) mod words;

use crate::plan::Plan;

pub(crate) use cautions::cautions;

/// What the file means, one sentence an entry, along the line.
pub(crate) fn describe(plan: &Plan) -> Vec<String> {
    let mut told = Vec::new();
    people::diners(plan, &mut told);
    servery::short(plan, &mut told);
    already::already(plan, &mut told);
    trays::trays(plan, &mut told);
    racks::racks(plan, &mut told);
    gates::gates(plan, &mut told);
    machines::machines(plan, &mut told);
    racks::washing(plan, &mut told);
    aids::aids(plan, &mut told);
    crew::crew(plan, &mut told);
    trouble::troubles(plan, &mut told);
    room::care(plan, &mut told);
    room::room(plan, &mut told);
    owned::owned(plan, &mut told);
    told
}
