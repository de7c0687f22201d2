//! Temperatures the file states, against published food-code figures. The data plate and the local code decide.

use scullery_engine::line::MachineKind;

use crate::plan::{Plan, Units};

/// A temperature against a published figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Temperature {
    /// Machine and place.
    pub what: String,
    /// As stated, deg C.
    pub stated_c: f64,
    /// Least published, deg C.
    pub least_c: f64,
    /// Most published, deg C, where there is one.
    pub most_c: Option<f64>,
    /// Whether it lies within.
    pub within: bool,
    /// Where the figure is published.
    pub source: &'static str,
    /// In one plain sentence.
    pub words: String,
}

/// Roundings of a unit are no fault.
const ROUNDING_C: f64 = 0.3;

/// The temperatures a plan states itself (defaults are the published figures).
///
/// # Source
/// Food Code 4-501.110 and 4-501.112, read in a state rule that adopts them (WAC 246-215-04545 and -04555); the 2022
/// edition from memory.
pub(crate) fn temperatures(plan: &Plan) -> Vec<Temperature> {
    let mut told = Vec::new();
    for ((machine, uses), facts) in plan
        .line
        .machines
        .iter()
        .zip(&plan.utilities)
        .zip(&plan.facts.machines)
    {
        let door = matches!(machine.kind, MachineKind::Door { .. });
        // A stationary rack at 74 deg C or more may be of the single-temperature kind.
        let single_temperature = door && uses.wash_c >= 74.0 - ROUNDING_C;
        let mut add = |place: &str,
                       stated_c: f64,
                       least_c: f64,
                       most_c: Option<f64>,
                       source: &'static str| {
            let within = stated_c >= least_c - ROUNDING_C
                && most_c.is_none_or(|most| stated_c <= most + ROUNDING_C);
            let show = |c: f64| match plan.heading.units {
                Units::Metric => format!("{c:.0} deg C"),
                Units::Us => format!("{:.0} deg F", c * 9.0 / 5.0 + 32.0),
            };
            let range = match most_c {
                Some(most) => format!("{} to {}", show(least_c), show(most)),
                None => format!("at least {}", show(least_c)),
            };
            let verdict = if within {
                "it lies within it"
            } else {
                "it lies outside it"
            };
            let what = format!("{place} of machine {}", machine.name);
            let words = format!(
                "The {what} is stated as {}; the published range is {range} ({source}), and {verdict}; the data plate decides.",
                show(stated_c)
            );
            told.push(Temperature {
                what,
                stated_c,
                least_c,
                most_c,
                within,
                source,
                words,
            });
        };
        if facts.wash_given {
            match (facts.chemical, door, facts.several_tanks) {
                (true, ..) => add(
                    "wash temperature",
                    uses.wash_c,
                    49.0,
                    None,
                    "Food Code 4-501.110(B), spray type, chemical",
                ),
                (_, true, _) => add(
                    "wash temperature",
                    uses.wash_c,
                    66.0,
                    None,
                    "Food Code 4-501.110(A)(2), stationary rack, dual temperature",
                ),
                (.., true) => add(
                    "wash temperature",
                    uses.wash_c,
                    66.0,
                    None,
                    "Food Code 4-501.110(A)(4), multi-tank conveyor",
                ),
                _ => add(
                    "wash temperature",
                    uses.wash_c,
                    71.0,
                    None,
                    "Food Code 4-501.110(A)(3), single-tank conveyor, dual temperature",
                ),
            }
        }
        if facts.rinse_given && !facts.chemical {
            if single_temperature {
                add(
                    "final rinse",
                    uses.rinse_c,
                    74.0,
                    Some(90.0),
                    "Food Code 4-501.112(A)(1), stationary rack, single temperature",
                );
            } else {
                add(
                    "final rinse",
                    uses.rinse_c,
                    82.0,
                    Some(90.0),
                    "Food Code 4-501.112(A)(2)",
                );
            }
        }
    }
    told
}
