//! The laws of the line, on cases small enough to time by hand.
#![allow(
    missing_docs,
    unreachable_pub,
    reason = "a test binary has no readers but its own"
)]
#![expect(
    clippy::float_cmp,
    reason = "answers worked out by hand are compared exactly, to the microsecond"
)]

mod hand;
mod laws {
    mod accumulators;
    mod aids;
    mod already;
    mod any_line;
    mod belts;
    mod blocking;
    mod carts;
    mod chance;
    mod clean_ends;
    mod cleaning;
    mod conveyors;
    mod crew;
    mod draws;
    mod duties;
    mod faults;
    mod fittings;
    mod flights;
    mod gates;
    mod grabs;
    mod hand_over;
    mod hand_to_hand;
    mod lanes;
    mod levels;
    mod look_over;
    mod machines;
    mod neighbours;
    mod odd;
    mod orders;
    mod pairs;
    mod pans;
    mod posts;
    mod racks;
    mod receivers;
    mod reuse;
    mod series;
    mod servery;
    mod short;
    mod soaking;
    mod stacks;
    mod taking;
    mod terms;
    mod trouble;
    mod twins;
    mod two_passes;
    mod waste;
}
mod properties {
    mod conservation;
    mod crew_minutes;
    mod crews;
    mod demands;
    mod dice;
    mod ends;
    mod found;
    mod lines;
    mod record;
    mod sameness;
}
