//! Checks of the study against figures worked on paper and against outside figures.

#![allow(clippy::unwrap_used)] // a test that cannot go on has failed
#![allow(clippy::float_cmp)] // exact where exactness is the law
#![allow(clippy::disallowed_methods)] // a check may round as the machine does

mod aids;
mod answer;
mod bands;
mod bottleneck;
mod bottleneck_receivers;
mod by_hand;
mod compare;
mod deciding;
mod film;
mod hospital;
mod intervals;
mod look_over;
mod luck;
mod money;
mod nist;
mod owning;
mod paired;
mod plans;
mod recorder;
mod replayed;
mod replicate;
mod roster;
mod search;
mod sequential;
mod servery;
mod staffing;
mod stopwatch;
mod varied;
