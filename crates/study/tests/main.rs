//! Checks of the study against figures worked on paper and against outside figures.

#![allow(clippy::unwrap_used)] // a test that cannot go on has failed
#![allow(clippy::float_cmp)] // exact where exactness is the law

mod answer;
mod bands;
mod by_hand;
mod film;
mod intervals;
mod money;
mod nist;
mod plans;
mod recorder;
mod replicate;
