//! Held, warmed-up and batch machines against the reference.

use crate::fixture::{Case, Law, hold as hold_laws};
use scullery_theory::Moments;
use scullery_theory::machine::{
    batch_start, batch_start_joining, forming, full_batch, hold, hold_with_room, warm_up,
};

pub(crate) const LAWS: [Law; 9] = [
    Law::new("npolicy-mm1-", held_exponential),
    Law::new("npolicy-md1", held_constant),
    Law::new("npolicy-mm1k-", held_with_room),
    Law::new("setup-mm1", warmed_up_exponential),
    Law::new("setup-md1", warmed_up_constant),
    Law::new("bulkgate-", starts_with_what_waits),
    Law::new("bulkservice-", starts_and_lets_join),
    Law::new("bulkfull-", full_only),
    Law::new("form-", filling),
];

#[test]
fn machines_that_wait_for_work_agree_with_the_reference() {
    hold_laws(&LAWS);
}

fn held_exponential(case: &Case) {
    let service = Moments::exponential(1.0 / case.num("mu")).unwrap();
    let machine = hold(case.num("lambda"), service, case.count("N")).unwrap();
    case.agrees(&[
        ("L", machine.means.in_system),
        ("W", machine.means.time_in_system),
        ("p_machine_running", machine.means.utilisation),
        ("starts_per_time", machine.starts_per_time),
        ("mean_cycle", machine.mean_cycle),
        ("mean_run_length", machine.mean_run),
    ]);
}

fn held_constant(case: &Case) {
    let service = Moments::constant(case.num("service")).unwrap();
    let machine = hold(case.num("lambda"), service, case.count("N")).unwrap();
    case.agrees(&[
        ("Wq", machine.means.wait),
        ("L", machine.means.in_system),
        ("starts_per_time", machine.starts_per_time),
    ]);
}

fn held_with_room(case: &Case) {
    let (lambda, mu) = (case.num("lambda"), case.num("mu"));
    let machine = hold_with_room(lambda, mu, case.count("N"), case.count("K")).unwrap();
    case.agrees(&[
        ("p_machine_running", machine.p_running),
        ("p_full", machine.p_full),
        ("throughput", machine.throughput),
        ("L", machine.in_system),
        ("starts_per_time", machine.starts_per_time),
        ("mean_run_length", machine.mean_run),
    ]);
}

fn warmed_up_exponential(case: &Case) {
    let service = Moments::exponential(1.0 / case.num("mu")).unwrap();
    let warming = Moments::exponential(case.num("mean_setup")).unwrap();
    let machine = warm_up(case.num("lambda"), service, warming).unwrap();
    case.agrees(&[
        ("Wq", machine.means.wait),
        ("L", machine.means.in_system),
        ("p_running", machine.means.utilisation),
        ("p_idle_cold", machine.p_cold),
    ]);
}

fn warmed_up_constant(case: &Case) {
    let service = Moments::constant(case.num("service")).unwrap();
    let warming = Moments::constant(case.num("setup")).unwrap();
    let machine = warm_up(case.num("lambda"), service, warming).unwrap();
    case.agrees(&[
        ("Wq", machine.means.wait),
        ("L", machine.means.in_system),
        ("p_idle_cold", machine.p_cold),
    ]);
}

fn starts_with_what_waits(case: &Case) {
    let machine = batch_start(case.num("lambda"), case.num("mu_batches"), case.count("K"));
    let machine = machine.unwrap();
    case.agrees(&[
        ("Lq", machine.in_queue),
        ("L", machine.in_system),
        ("Wq", machine.wait),
        ("mean_batch", machine.mean_batch),
        ("p_idle", machine.p_idle),
    ]);
}

fn starts_and_lets_join(case: &Case) {
    let machine = batch_start_joining(case.num("lambda"), case.num("mu_batches"), case.count("K"));
    let machine = machine.unwrap();
    case.agrees(&[
        ("r0", machine.ratio),
        ("L", machine.in_system),
        ("W", machine.time_in_system),
        ("p0", machine.p_empty),
    ]);
}

fn full_only(case: &Case) {
    let machine = full_batch(case.num("lambda"), case.num("mu_batches"), case.count("K")).unwrap();
    case.agrees(&[
        ("Wq", machine.wait),
        ("Lq", machine.in_queue),
        ("utilisation", machine.utilisation),
        ("form_wait", machine.forming_wait),
        ("queue_wait_of_batch", machine.batch_wait),
    ]);
}

fn filling(case: &Case) {
    let batch = forming(case.num("lambda"), case.count("K")).unwrap();
    case.agrees(&[
        ("mean_wait", batch.mean_wait),
        ("first_item_wait", batch.first_wait),
        ("fill_time_sd_from_first", batch.first_wait_sd),
    ]);
}
