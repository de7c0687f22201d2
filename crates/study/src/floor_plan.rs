//! The room seen from above, as plain numbers and words: nothing here was simulated.

use scullery_scenario::plan::Plan;
use scullery_scenario::room_figures;
use scullery_scenario::view::BoxSide;
use serde::{Deserialize, Serialize};

/// The room seen from above. Lengths in metres; `x` runs along the line, `y` away from the wall.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct FloorPlan {
    /// Length and width of the room, when the scenario gives them.
    pub room_m: Option<[f64; 2]>,
    /// What stands in it, along the line; then what is parked.
    pub boxes: Vec<FloorBox>,
    /// Ways of ware and people, straight from middle to middle; none without a room.
    pub ways: Vec<FloorWay>,
    /// Where a clean and a soiled way cross: `x` and `y`.
    pub crossings_m: Vec<[f64; 2]>,
    /// What adds up, one sentence an entry.
    pub words: Vec<String>,
}

/// Something that stands in the room.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct FloorBox {
    /// As people say it.
    pub label: String,
    /// Where it begins: `x` and `y`.
    pub at_m: [f64; 2],
    /// Length along the room and width across it.
    pub size_m: [f64; 2],
    /// `soiled` or `clean`.
    pub side: String,
    /// Whether carts or dollies are parked there.
    pub parking: bool,
    /// Whether place and size are the scenario's own; else it stands in a row, at its own length or a usual one.
    pub given: bool,
}

/// A way from the middle of one box to the middle of another.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct FloorWay {
    /// Number of the box where it starts.
    pub from: usize,
    /// Number of the box where it ends.
    pub to: usize,
    /// Clean ware goes along it; else soiled.
    pub clean: bool,
}

/// The room of this plan seen from above.
pub(crate) fn floor_plan(plan: &Plan) -> FloorPlan {
    let view = &plan.view;
    let boxes = view.boxes.iter().map(|it| {
        let (clean, parking) = match it.side {
            BoxSide::Soiled => (false, false),
            BoxSide::Clean => (true, false),
            BoxSide::SoiledParking => (false, true),
            BoxSide::CleanParking => (true, true),
        };
        FloorBox {
            label: it.label.clone(),
            at_m: [it.x_m, it.y_m],
            size_m: [it.length_m, it.width_m],
            side: if clean { "clean" } else { "soiled" }.to_owned(),
            parking,
            given: it.given,
        }
    });
    let ways = view.ways.iter().map(|way| FloorWay {
        from: way.from,
        to: way.to,
        clean: way.clean,
    });
    FloorPlan {
        room_m: view.room.map(|(length_m, width_m)| [length_m, width_m]),
        boxes: boxes.collect(),
        ways: ways.filter(|_| view.room.is_some()).collect(),
        crossings_m: view
            .crossings
            .iter()
            .filter(|_| view.room.is_some())
            .map(|crossing| [crossing.x_m, crossing.y_m])
            .collect(),
        words: room_figures(plan)
            .into_iter()
            .map(|figure| figure.words)
            .collect(),
    }
}
