//! Tests of reading scenarios, one subject a module.

#![expect(
    clippy::unwrap_used,
    reason = "a test that cannot read its own files must fail"
)]

mod accumulators;
mod already;
mod arrivals;
mod belts;
mod changes;
mod checks;
mod codes;
mod crews;
mod demos;
mod faulty;
mod gates;
mod lanes;
mod never_panics;
mod owned;
mod page;
mod past_days;
mod plans;
mod receivers;
mod rooms;
mod same_plan;
mod scenarios;
mod schema;
mod series;
mod sheets;
mod short;
mod two_passes;
mod units;
