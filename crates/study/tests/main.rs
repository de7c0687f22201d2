//! Checks of the study against figures worked on paper and against outside figures.

mod answer;
mod bands;
mod by_hand;
mod intervals;
mod money;
mod nist;
mod plans;
mod recorder;
mod replicate;
