//! Priorities, groups, breaks, breakdowns and rules of thumb against the reference.

use crate::fixture::{Case, Law, hold};
use scullery_theory::Moments;
use scullery_theory::queue::{
    BulkArrival, PriorityClass, bulk_arrival_constant, bulk_arrival_exponential, departure_scv,
    effective_with_outages, effective_with_set_ups, going_round, little, mg1_with_breaks,
    mm1_fails_any_time, mm1_fails_while_working, mmc, non_preemptive, non_preemptive_with_servers,
    preemptive_resume, utilisation, vut,
};

pub(crate) const LAWS: [Law; 14] = [
    Law::new("prio-np-equal", classes),
    Law::new("prio-np-unequal", classes),
    Law::new("prio-np-mmc", classes_at_many_servers),
    Law::new("prio-pr", preempting_classes),
    Law::new("bulkarrival-12", groups_exponential),
    Law::new("bulkarrival-geo", groups_constant),
    Law::new("vacation-", breaks),
    Law::new("polling-", round_of_queues),
    Law::new("breakdown-odf", failing_at_work),
    Law::new("breakdown-tdf", failing_any_time),
    Law::new("fp-outage-", outages),
    Law::new("fp-setup", set_ups),
    Law::new("fp-linking-", departures),
    Law::new("vut-", rule_of_thumb),
];

pub(crate) const LITTLE: [Law; 1] = [Law::new("little", littles_law)];

#[test]
fn queues_with_classes_groups_and_breakdowns_agree_with_the_reference() {
    hold(&LAWS);
}

#[test]
fn the_number_there_is_the_rate_in_times_the_time_there() {
    hold(&LITTLE);
}

fn classes(case: &Case) {
    let rates = case.list("lambda");
    let pairs = rates.iter().zip(case.list("mu"));
    let classes: Vec<PriorityClass> = pairs
        .map(|(&arrival_rate, mu)| PriorityClass {
            arrival_rate,
            service: Moments::exponential(1.0 / mu).unwrap(),
        })
        .collect();
    let means = non_preemptive(&classes).unwrap();
    case.agrees(&[
        ("Wq1", means[0].wait),
        ("Wq2", means[1].wait),
        ("Lq1", means[0].in_queue),
        ("Lq2", means[1].in_queue),
        (
            "rho_weighted_wait",
            means.iter().map(|m| m.utilisation * m.wait).sum(),
        ),
    ]);
}

fn classes_at_many_servers(case: &Case) {
    let rates = case.list("lambda");
    let means = non_preemptive_with_servers(&rates, case.num("mu"), case.count("c")).unwrap();
    case.agrees(&[
        ("Wq1", means[0].wait),
        ("Wq2", means[1].wait),
        ("Lq_total", means.iter().map(|m| m.in_queue).sum()),
    ]);
}

fn preempting_classes(case: &Case) {
    let rates = case.list("lambda");
    let times = preemptive_resume(&rates, case.num("mu")).unwrap();
    case.agrees(&[
        ("W1", times[0]),
        ("W2", times[1]),
        ("L1", rates[0] * times[0]),
        ("L2", rates[1] * times[1]),
    ]);
}

fn groups_exponential(case: &Case) {
    let rates = [case.num("rate_of_ones"), case.num("rate_of_twos")];
    let groups = BulkArrival::from_rates(&rates).unwrap();
    let means = bulk_arrival_exponential(groups, case.num("mu")).unwrap();
    case.agrees(&[
        ("rho", means.utilisation),
        ("L", means.in_system),
        ("Lq", means.in_queue),
        ("W", means.time_in_system),
    ]);
}

fn groups_constant(case: &Case) {
    let groups = BulkArrival::geometric(case.num("lambda_batches"), case.num("mean_batch"));
    let means = bulk_arrival_constant(groups.unwrap(), case.num("service")).unwrap();
    case.agrees(&[
        ("rho", means.utilisation),
        ("Wq", means.wait),
        ("Lq", means.in_queue),
    ]);
}

fn breaks(case: &Case) {
    let service = Moments::exponential(1.0 / case.num("mu")).unwrap();
    let pause = Moments::exponential(case.num("mean_break")).unwrap();
    let means = mg1_with_breaks(case.num("lambda"), service, pause).unwrap();
    case.agrees(&[("Wq", means.wait), ("L", means.in_system)]);
}

fn round_of_queues(case: &Case) {
    let service = Moments::exponential(1.0 / case.num("mu")).unwrap();
    let walk = Moments::exponential(case.num("mean_walk")).unwrap();
    let rate = case.num("lambda_each");
    let wait = going_round(case.count("queues"), rate, service, walk).unwrap();
    let here = rate * (wait + service.mean());
    case.agrees(&[("Wq", wait), ("L_each", here)]);
}

fn failing_at_work(case: &Case) {
    let (lambda, mu) = (case.num("lambda"), case.num("mu"));
    let (xi, eta) = (case.num("fail_rate"), case.num("repair_rate"));
    let (completion, means) = mm1_fails_while_working(lambda, mu, xi, eta).unwrap();
    case.agrees(&[
        ("completion_mean", completion.mean()),
        ("completion_cv2", completion.scv()),
        ("Wq", means.wait),
        ("L", means.in_system),
        ("p_down", means.utilisation - lambda / mu),
    ]);
}

fn failing_any_time(case: &Case) {
    let (lambda, mu) = (case.num("lambda"), case.num("mu"));
    let (xi, eta) = (case.num("fail_rate"), case.num("repair_rate"));
    let line = mm1_fails_any_time(lambda, mu, xi, eta).unwrap();
    case.agrees(&[
        ("availability", line.availability),
        ("rho_effective", line.effective_load),
        ("L", line.in_system),
        ("W", line.time_in_system),
    ]);
}

fn outages(case: &Case) {
    let natural =
        Moments::from_mean_and_cv(case.num("t0_min"), case.num("c0_squared").sqrt()).unwrap();
    let (mf, mr) = (case.num("mtbf_min"), case.num("mttr_min"));
    let time = effective_with_outages(natural, mf, mr, case.num("cr_squared")).unwrap();
    // The book's rate is 2.875 jobs an hour.
    let use_of_it = 2.875 / 60.0 * time.mean;
    let queue = vut(1.0, time.scv, use_of_it, time.mean, 1).unwrap();
    case.agrees(&[
        ("availability", time.availability),
        ("te_min", time.mean),
        ("ce2", time.scv),
        ("CTq_at_2.875_per_h_ca2_1", queue.wait),
    ]);
}

fn set_ups(case: &Case) {
    let natural = Moments::from_mean_and_cv(case.num("t0"), case.num("c0")).unwrap();
    let set_up = Moments::from_mean_and_cv(case.num("ts"), case.num("cs")).unwrap();
    let time = effective_with_set_ups(natural, case.num("Ns"), set_up).unwrap();
    case.agrees(&[
        ("te", time.mean),
        ("sigma_e2", time.scv * time.mean * time.mean),
        ("ce2", time.scv),
    ]);
}

fn departures(case: &Case) {
    let (ca2, ce2) = (case.num("ca2"), case.num("ce2"));
    let cd2 = departure_scv(ca2, ce2, case.num("u"), case.count("m")).unwrap();
    case.agrees(&[("cd2", cd2)]);
}

fn rule_of_thumb(case: &Case) {
    let (u, te, m) = (case.num("u"), case.num("te"), case.count("m"));
    let means = vut(case.num("ca2"), case.num("ce2"), u, te, m).unwrap();
    let mut ours = vec![
        ("CTq", means.wait),
        ("CT", means.time_in_system),
        ("WIPq", means.in_queue),
    ];
    // One case also tells how far the rule is from the exact M/M/c.
    if case
        .metrics()
        .iter()
        .any(|(name, _)| name == "exact_MMc_Wq")
    {
        let exact = mmc(u * f64::from(m) / te, 1.0 / te, m).unwrap().means.wait;
        ours.push(("exact_MMc_Wq", exact));
        ours.push(("relative_error_vs_exact", means.wait / exact - 1.0));
    }
    case.agrees(&ours);
}

fn littles_law(case: &Case) {
    let rate = case.num("lambda");
    case.agrees(&[
        ("L", little(rate, case.num("W")).unwrap()),
        ("utilisation", utilisation(rate, case.num("S")).unwrap()),
    ]);
}
