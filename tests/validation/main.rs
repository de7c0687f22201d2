//! The product's own line elements, built from scenario texts, against figures from outside.
//!
//! Each model is a room that can be written in a scenario file; the templates are under `scenarios/`, and the head of
//! each file of tests says how the model becomes a room. What is found stands in `docs/validation.md`.

mod agreement;
mod chain;
mod figures;
mod repeats;
mod room;
mod tally;

mod by_the_clock;
mod fluid;
mod geometry;
mod little;
mod loops;
mod machines;
mod priority;
mod rush;
mod saturated;
mod single_queue;
mod start_up;
mod tandem;
