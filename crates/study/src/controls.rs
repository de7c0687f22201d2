//! Hold-and-run against runs throughout: the same plan both ways, for a comparison on the same meals.

use scullery_engine::line::Control;
use scullery_scenario::plan::Plan;

/// The plan as it is and the same with every machine running throughout; `None` where no machine holds and runs.
///
/// Both meet the very same diners: nothing that is drawn before a meal hangs on when a machine runs. What the control
/// saves is the difference of `line.water_l`, `line.heat_kwh`, `line.power_kwh`, `line.detergent_kg` and
/// `line.machine_running_h`.
pub fn both_controls(plan: &Plan) -> Option<[Plan; 2]> {
    let mut throughout = plan.clone();
    let mut differs = false;
    for machine in &mut throughout.line.machines {
        differs |= machine.control != Control::RunsThroughout;
        machine.control = Control::RunsThroughout;
    }
    differs.then(|| [plan.clone(), throughout])
}

/// Measures in which the two controls are compared.
pub const SAVED: [&str; 5] = [
    "line.water_l",
    "line.heat_kwh",
    "line.power_kwh",
    "line.detergent_kg",
    "line.machine_running_h",
];
