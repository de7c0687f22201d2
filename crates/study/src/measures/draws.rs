//! The highest a machine draws within a quarter hour, for those who size pipes and cables.

use scullery_engine::watch::{ActorKind, Catalogue};

use super::{Measures, plain};
use crate::quarters::Quarter;
use crate::words::actor_words;

/// Highest water and power of each machine in a quarter hour of the clock.
pub(super) fn machines(to: &mut Measures, catalogue: &Catalogue) {
    let actors = catalogue.actors.iter();
    let machines = actors.filter(|info| info.kind == ActorKind::Machine);
    for (machine, info) in machines.enumerate() {
        let at = &actor_words(info);
        to.add(
            plain(
                format!("machine.{}.water_quarter_max_l", info.name),
                at,
                format!("Most fresh water in a quarter hour: {at}"),
                "L",
            ),
            move |m| highest(m.quarters.get(machine)?, |quarter| quarter.water_l),
        );
        to.add(
            plain(
                format!("machine.{}.power_quarter_max_kw", info.name),
                at,
                format!("Highest electric power, averaged over a quarter hour: {at}"),
                "kW",
            ),
            move |m| highest(m.quarters.get(machine)?, Quarter::kw),
        );
    }
}

fn highest(quarters: &[Quarter], of: impl Fn(&Quarter) -> f64) -> Option<f64> {
    quarters.iter().map(of).reduce(f64::max)
}
