//! The laws of the line, on cases small enough to time by hand.
#![allow(
    missing_docs,
    unreachable_pub,
    reason = "a test binary has no readers but its own"
)]

mod hand;
mod laws {
    mod belts;
    mod blocking;
    mod chance;
    mod clean_ends;
    mod conveyors;
    mod crew;
    mod faults;
    mod lanes;
    mod machines;
    mod racks;
    mod servery;
    mod taking;
}
