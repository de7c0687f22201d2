//! One waiting line, in steady state or begun empty; and loops of them.

mod breakdown;
mod bulk_arrival;
mod closed_loop;
mod erlang_a;
mod erlang_b;
mod finite_source;
mod gim1;
mod little;
mod mdc;
mod means;
mod mg1;
mod mm1;
mod mm1_start_up;
mod mmc;
mod mmck;
mod polling;
mod priority;
mod run_length;
mod vacation;
mod vut;

pub use breakdown::{
    Effective, FailsAnyTime, effective_with_outages, effective_with_set_ups, mm1_fails_any_time,
    mm1_fails_while_working,
};
pub use bulk_arrival::{BulkArrival, bulk_arrival_constant, bulk_arrival_exponential};
pub use closed_loop::{ClosedLoop, LoopStation, closed_loop};
pub use erlang_a::{ErlangA, erlang_a};
pub(crate) use erlang_b::next_blocking as blocking_step;
pub use erlang_b::{ErlangB, erlang_b};
pub use finite_source::{FiniteSource, finite_source};
pub(crate) use gim1::waiting_root as gim1_root;
pub use gim1::{Gap, GiM1, gim1};
pub use little::{little, utilisation};
pub use mdc::{MDc, mdc};
pub(crate) use means::MOST_SERVERS;
pub use means::Means;
pub use mg1::{md1, mg1};
pub use mm1::{Mm1, mm1};
pub use mm1_start_up::mm1_start_up;
pub(crate) use mmc::wait_probability as erlang_c_from_loss;
pub use mmc::{Mmc, mmc};
pub use mmck::{Mmck, mmck};
pub use polling::going_round;
pub use priority::{PriorityClass, non_preemptive, non_preemptive_with_servers, preemptive_resume};
pub use run_length::{mm1_asymptotic_variance, mm1_run_length};
pub use vacation::mg1_with_breaks;
pub use vut::{departure_scv, vut};
