//! The closed forms against figures computed outside this crate, and against each other.

// A panic is how a test says no.
#![allow(clippy::unwrap_used)]

mod clock;
mod crew;
mod fixture;
mod floor;
mod line;
mod machine;
mod queue;
mod queue_variants;
mod refusals;
mod second_ways;

use fixture::{Law, cases};

/// Every law that a case of the fixture may be checked by.
fn laws() -> Vec<Law> {
    let mut all = Vec::new();
    all.extend(queue::LAWS);
    all.extend(queue::LOOPS);
    all.extend(queue_variants::LAWS);
    all.extend(queue_variants::LITTLE);
    all.extend(machine::LAWS);
    all.extend(line::LAWS);
    all.extend(clock::LAWS);
    all.extend(crew::LAWS);
    all.extend(floor::LAWS);
    all
}

#[test]
fn every_case_of_the_fixture_is_checked_by_a_law_and_every_law_has_a_case() {
    let laws = laws();
    for case in cases() {
        assert!(
            laws.iter().any(|law| law.covers(&case)),
            "no law checks {}",
            case.id
        );
    }
    for law in &laws {
        assert!(
            cases().iter().any(|case| law.covers(case)),
            "no case for {}",
            law.prefix
        );
    }
}
