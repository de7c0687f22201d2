//! Gates and order at the load end, in sentences.

use scullery_engine::line::{GateRule, Order};

use super::words::{clock, listed};
use crate::plan::Plan;

pub(crate) fn gates(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    for gate in &line.gates {
        let lane = line.lanes.get(usize::from(gate.lane));
        let table = line.racking.get(usize::from(gate.table));
        let (lane, table) = (
            lane.map_or("?", |it| it.name.as_str()),
            table.map_or("?", |it| it.name.as_str()),
        );
        let rule = match &gate.rule {
            GateRule::Racks { down_at, up_at } => {
                format!("It goes down when {down_at} racks stand there and up again at {up_at}.")
            }
            GateRule::Clock(times) => {
                let spans: Vec<String> = times
                    .chunks(2)
                    .filter_map(|pair| match pair {
                        [(from, _), (to, _)] => Some(format!("{} to {}", clock(*from), clock(*to))),
                        _ => None,
                    })
                    .collect();
                format!("It is up from {}.", listed(&spans))
            }
            GateRule::FullerSide => "The side that is fuller for its room has the way.".to_owned(),
            GateRule::ByHand => "It is up while somebody has ware in hand there.".to_owned(),
        };
        told.push(format!(
            "Gate {}: up, the racks on lane {lane} are held and ware is loaded by hand at {table}; down, racks run in. {rule}",
            gate.name
        ));
    }
    let tables = line.racking.iter().map(|it| (&it.name, &it.order));
    for (name, order) in tables.chain(line.lanes.iter().map(|it| (&it.name, &it.order))) {
        let first = match order {
            Order::Usual => continue,
            Order::FirstCome => "what has waited longest goes first".to_owned(),
            Order::ShortestStock => {
                "the class of which the smallest share is at the servery goes first".to_owned()
            }
            Order::Fixed(classes) => {
                let named = classes.iter().filter_map(|class| {
                    let class = line.classes.get(usize::from(class.0))?;
                    Some(class.name.clone())
                });
                format!(
                    "{} go first, in this order",
                    listed(&named.collect::<Vec<_>>())
                )
            }
        };
        told.push(format!("At {name} {first}."));
    }
}
