//! What the plan says about crew, machines and elements, as plain numbers and words: nothing here was simulated.

use scullery_engine::line::{Control, LaneKind, MachineKind, RacksTo, Worker};
use scullery_engine::time::SimTime;
use scullery_scenario::plan::{Plan, Utilities};
use serde::{Deserialize, Serialize};

use crate::floor_plan::{FloorPlan, floor_plan};
use crate::money::heat_kwh;
use crate::owning::Terms;
use crate::words::{post_words, spoken};

/// What the plan says.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Planned {
    /// The crew, in the order in which free workers are asked.
    pub crew: Vec<Member>,
    /// When machines are switched.
    pub machines: Vec<Switching>,
    /// What stands in the room.
    pub elements: Vec<Element>,
    /// The room seen from above.
    #[serde(default)]
    pub floor: FloorPlan,
}

/// A member of the crew.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Member {
    /// Name.
    pub name: String,
    /// Beginning and end of each shift, minutes since midnight.
    pub shifts: Vec<[f64; 2]>,
    /// Each break: when it is due, minutes since midnight, and how many minutes it lasts.
    pub breaks: Vec<[f64; 2]>,
    /// The posts, read from the top.
    pub posts: Vec<PostCall>,
}

/// A post on somebody's list.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct PostCall {
    /// The post, in words.
    pub post: String,
    /// Waiting jobs at which they step in.
    pub step_in: u32,
    /// Waiting jobs at which they leave again.
    pub leave_at: u32,
    /// Shortest stay, minutes.
    pub stay_min: f64,
}

/// When a machine is switched, and when it runs.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Switching {
    /// The machine, in words.
    pub name: String,
    /// When it is switched on, minutes since midnight.
    pub on_min: f64,
    /// Minutes until it is ready.
    pub heat_up_min: f64,
    /// When it is switched off, minutes since midnight, if it is.
    pub off_min: Option<f64>,
    /// It waits until so many racks stand before it; `None`: it runs throughout.
    pub starts_at_racks: Option<u32>,
}

/// Something that stands in the room.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Element {
    /// As the scenario names it, for example `belt.return`.
    #[serde(default)]
    pub id: String,
    /// Its name, in words.
    pub name: String,
    /// What it is.
    pub kind: String,
    /// Length along the way of the ware, metres, when the scenario says it.
    pub length_m: Option<f64>,
    /// Length along the room and width across it, metres, when the scenario gives it a place in the room.
    #[serde(default)]
    pub plan_m: Option<[f64; 2]>,
    /// How much it holds.
    pub holds: Option<f64>,
    /// What it holds: `trays`, `racks`, `pieces` or `people`.
    pub holds_unit: String,
    /// Speed, metres a minute.
    pub speed_m_per_min: Option<f64>,
    /// Racks an hour on the data plate.
    pub plate_racks_per_h: Option<f64>,
    /// Most electric power it can draw by what the scenario says of it, kW.
    pub connected_kw: Option<f64>,
    /// Volume of its tank, litres.
    pub tank_l: Option<f64>,
    /// Id of the measure of its highest water draw in a quarter hour; empty where it draws none.
    pub water_measure: String,
    /// Id of the measure of its highest power draw over a quarter hour; empty where it draws none.
    pub power_measure: String,
    /// Price, life and upkeep, where the scenario says them.
    #[serde(default)]
    pub owned: Option<Terms>,
}

/// What this plan says.
pub fn planned(plan: &Plan) -> Planned {
    Planned {
        crew: plan.line.crew.iter().map(|w| member(plan, w)).collect(),
        machines: plan
            .line
            .machines
            .iter()
            .map(|it| Switching {
                name: machine_name(&it.name),
                on_min: it.on_at.min(),
                heat_up_min: it.heat_up.min(),
                off_min: it.off_at.map(SimTime::min),
                starts_at_racks: match it.control {
                    Control::HoldAndRun { racks, .. } => Some(racks),
                    Control::RunsThroughout => None,
                },
            })
            .collect(),
        elements: elements(plan),
        floor: floor_plan(plan),
    }
}

/// Length and width of an element to which the scenario gives a place in the room, metres.
fn sized(plan: &Plan, id: &str) -> Option<[f64; 2]> {
    let mut boxes = plan.view.boxes.iter();
    let own = boxes.find(|it| it.given && it.id == id)?;
    Some([own.length_m, own.width_m])
}

fn machine_name(name: &str) -> String {
    crate::words::actor_words(&scullery_engine::watch::ActorInfo {
        name: name.to_owned(),
        kind: scullery_engine::watch::ActorKind::Machine,
    })
}

fn member(plan: &Plan, worker: &Worker) -> Member {
    let catalogue = plan.line.catalogue();
    Member {
        name: worker.name.clone(),
        shifts: worker
            .shifts
            .iter()
            .map(|&(from, to)| [from.min(), to.min()])
            .collect(),
        breaks: worker
            .breaks
            .iter()
            .map(|&(due, lasts)| [due.min(), lasts.min()])
            .collect(),
        posts: worker
            .list
            .iter()
            .map(|call| PostCall {
                post: catalogue
                    .posts
                    .get(usize::from(plan.line.post_id(call.post).0))
                    .map_or_else(String::new, post_words),
                step_in: call.step_in,
                leave_at: call.leave_at,
                stay_min: call.stay.min(),
            })
            .collect(),
    }
}

fn metres(mm: u32) -> f64 {
    f64::from(mm) / 1000.0
}

fn elements(plan: &Plan) -> Vec<Element> {
    let line = &plan.line;
    let mut list = Vec::new();
    for it in &line.drop_offs {
        list.push(Element {
            id: format!("drop_off.{}", it.name),
            name: format!("drop-off {}", spoken(&it.name)),
            kind: "positions side by side".into(),
            holds: Some(it.positions_mm.len() as f64),
            holds_unit: "people".into(),
            ..Element::default()
        });
    }
    for it in &line.belts {
        list.push(Element {
            id: format!("belt.{}", it.name),
            name: format!("belt {}", spoken(&it.name)),
            kind: "belt for soiled trays".into(),
            length_m: Some(metres(it.length_mm)),
            holds: Some(f64::from(it.places())),
            holds_unit: "trays".into(),
            speed_m_per_min: it.speed.iter().map(|(_, mm)| metres(*mm)).reduce(f64::max),
            ..Element::default()
        });
    }
    for (it, belt) in line.stack_belts.iter().map(|it| (it, &it.belt)) {
        let most = it.pieces.iter().max().copied().unwrap_or(0);
        list.push(Element {
            id: format!("stacks.{}", belt.name),
            name: format!("belt {}", spoken(&belt.name)),
            kind: format!("belt for stacks of up to {most} pieces"),
            length_m: Some(metres(belt.length_mm)),
            holds: Some(f64::from(belt.places())),
            holds_unit: "stacks".into(),
            speed_m_per_min: belt
                .speed
                .iter()
                .map(|(_, mm)| metres(*mm))
                .reduce(f64::max),
            ..Element::default()
        });
    }
    for it in &line.accumulators {
        list.push(Element {
            id: format!("accumulator.{}", it.name),
            name: format!("accumulator {}", spoken(&it.name)),
            kind: format!("{} carriers of {} tiers in a loop", it.carriers, it.tiers),
            length_m: Some(metres(it.loop_mm)),
            holds: Some(f64::from(it.places())),
            holds_unit: "trays".into(),
            speed_m_per_min: it.speed.iter().map(|(_, mm)| metres(*mm)).reduce(f64::max),
            ..Element::default()
        });
    }
    for it in &line.tables {
        list.push(Element {
            id: format!("table.{}", it.name),
            name: format!("table {}", spoken(&it.name)),
            kind: "table for soiled trays".into(),
            holds: it.room.map(f64::from),
            holds_unit: "trays".into(),
            ..Element::default()
        });
    }
    for it in &line.scrapping {
        list.push(Element {
            id: format!("scrapping.{}", it.name),
            name: format!("scrapping {}", spoken(&it.name)),
            kind: "breakdown table".into(),
            holds: Some(f64::from(it.places)),
            holds_unit: "people".into(),
            ..Element::default()
        });
    }
    for it in &line.racking {
        let (id, kind) = match it.to {
            RacksTo::Machine(_) => ("placing", "load end of a machine"),
            RacksTo::Lane(_) | RacksTo::Leave => ("racking", "racking table"),
        };
        list.push(Element {
            id: format!("{id}.{}", it.name),
            name: format!("racking {}", spoken(&it.name)),
            kind: match it.levels.len() {
                0 => kind.into(),
                above => format!("{kind} on {} levels", above + 1),
            },
            holds: Some(f64::from(it.all_open_racks())),
            holds_unit: "racks".into(),
            ..Element::default()
        });
    }
    for it in &line.lanes {
        let (kind, length_m, speed) = match &it.kind {
            LaneKind::Rollers {
                length_mm, speed, ..
            } => (
                "roller lane",
                Some(metres(*length_mm)),
                speed.iter().map(|(_, mm)| metres(*mm)).reduce(f64::max),
            ),
            LaneKind::Shelf { .. } => ("shelf for racks", None, None),
        };
        list.push(Element {
            id: format!("lane.{}", it.name),
            name: format!("lane {}", spoken(&it.name)),
            kind: kind.into(),
            length_m,
            holds: it.room().map(f64::from),
            holds_unit: "racks".into(),
            speed_m_per_min: speed,
            ..Element::default()
        });
    }
    for (it, plate) in line.machines.iter().zip(&plan.utilities) {
        let (kind, length_m, holds, speed) = match it.kind {
            MachineKind::Door { batch, .. } => ("door machine", None, f64::from(batch), None),
            MachineKind::Conveyor {
                pitch_mm,
                tunnel_mm,
                speed_mm_min,
                ..
            } => (
                "rack conveyor machine",
                Some(metres(tunnel_mm)),
                f64::from(tunnel_mm.div_ceil(pitch_mm.max(1))),
                Some(metres(speed_mm_min)),
            ),
            MachineKind::Flight {
                tunnel_mm,
                rack_mm,
                speed_mm_min,
                ..
            } => (
                "flight machine",
                Some(metres(tunnel_mm)),
                f64::from(tunnel_mm.div_ceil(rack_mm.max(1))),
                Some(metres(speed_mm_min)),
            ),
        };
        list.push(Element {
            id: format!("machine.{}", it.name),
            name: machine_name(&it.name),
            kind: kind.into(),
            length_m,
            holds: Some(holds),
            holds_unit: "racks".into(),
            speed_m_per_min: speed,
            plate_racks_per_h: Some(plate.plate_racks_per_h),
            connected_kw: Some(connected_kw(plate)),
            tank_l: Some(plate.fill_l).filter(|l| *l > 0.0),
            water_measure: format!("machine.{}.water_quarter_max_l", it.name),
            power_measure: format!("machine.{}.power_quarter_max_kw", it.name),
            ..Element::default()
        });
    }
    for it in &line.clean_ends {
        list.push(Element {
            id: format!("clean_end.{}", it.name),
            name: crate::words::named("clean end", &spoken(&it.name)),
            kind: "clean end".into(),
            holds: it.places.map(f64::from),
            holds_unit: "racks".into(),
            ..Element::default()
        });
    }
    if let Some(it) = &line.delivery {
        list.push(Element {
            id: "delivery".into(),
            name: crate::words::named("carts", &spoken(&it.name)),
            kind: format!("{} carts for clean ware", it.carts),
            holds: Some(f64::from(it.carts) * f64::from(it.cart_pieces)),
            holds_unit: "pieces".into(),
            ..Element::default()
        });
    }
    for element in &mut list {
        element.plan_m = sized(plan, &element.id);
    }
    own(plan, &mut list);
    list
}

/// Says price, life and upkeep of what is owned; what is owned and not among the elements comes after them.
fn own(plan: &Plan, list: &mut Vec<Element>) {
    for it in &plan.owned {
        let owned = Some(Terms::of(it));
        match list.iter_mut().find(|element| element.id == it.of) {
            Some(element) => element.owned = owned,
            None => list.push(Element {
                id: it.of.clone(),
                name: it.words.clone(),
                kind: match it.count {
                    Some((1, what)) => format!("1 {what}"),
                    Some((many, what)) => format!("{many} {what}s"),
                    None => it.of.split('.').next().map_or(String::new(), spoken),
                },
                owned,
                ..Element::default()
            }),
        }
    }
}

/// What a machine can draw at once: running, and heating rinse water at the data plate's rate where it heats that itself.
fn connected_kw(plate: &Utilities) -> f64 {
    let rinse_kg_per_h = plate.rinse_rate_l_per_h();
    let rinse = if plate.rinse_heated_by_power {
        heat_kwh(
            rinse_kg_per_h,
            plate.rinse_c - plate.supply_c,
            plate.heating_efficiency,
        )
    } else {
        0.0
    };
    let by_rack = plate.kwh_per_rack * plate.plate_racks_per_h;
    (plate.running_kw + plate.dryer_kw + by_rack + rinse).max(plate.idle_kw)
}
