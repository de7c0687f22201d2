//! The arithmetic under the models: ranges, roots, small matrices and chains.

mod birth_death;
mod chain;
mod domain;
mod level_chain;
mod matrix;
mod poisson;
mod root;

pub(crate) use birth_death::{birth_death, birth_death_without_end};
pub(crate) use chain::{balance, explore};
pub(crate) use domain::{fraction, not_negative, positive, power};
pub(crate) use level_chain::LevelChain;
pub(crate) use matrix::Matrix;
pub(crate) use poisson::poisson_at_least;
pub(crate) use root::bisect;
