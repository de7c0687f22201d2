//! The floor: belts, lanes, loops, machines, racks and hot water.

mod geometry;
mod heat;
mod machine_rate;
mod racks;

pub use geometry::{Belt, Loop, Tunnel, belt, carrier_loop, lane_places, tunnel};
pub use heat::{JOULES_PER_KG_KELVIN, heating_kwh};
pub use machine_rate::{conveyor_racks_per_hour, door_racks_per_hour, usable_rate};
pub use racks::racks_needed;
