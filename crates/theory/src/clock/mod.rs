//! Demand that changes with the clock: rushes, backlogs and how they clear.

mod accumulator;
mod belt;
mod drain;
mod fluid;
mod parabola;
mod poisson_stream;
mod segment;
mod transient;

pub use accumulator::{Accumulator, fluid_with_accumulator};
pub use belt::{mean_on_belt, mean_staying_under_wave};
pub use drain::{Drain, drain};
pub use fluid::{Fluid, fluid_backlog};
pub use parabola::{ParabolicRush, parabolic_rush};
pub use poisson_stream::{mean_first_arrival, p_count_at_least, p_no_arrival, thinning_accepted};
pub use segment::{Segment, arrivals_until};
pub use transient::{AtTime, ManyServers, queue_over_time};
