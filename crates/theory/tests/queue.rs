//! Plain queues against the reference.

use crate::fixture::{Case, Law, hold};
use scullery_theory::Moments;
use scullery_theory::queue::{
    self, Gap, closed_loop, erlang_a, erlang_b, finite_source, gim1, mdc, mg1, mm1, mm1_start_up,
    mmc, mmck,
};

pub(crate) const LAWS: [Law; 12] = [
    Law::new("mm1-0", poisson_one_server),
    Law::new("mm1-8", poisson_one_server),
    Law::new("mm1-5", poisson_one_server),
    Law::new("mm1-startup-", begun_empty),
    Law::new("mm1-run-length-", run_length),
    Law::new("mmc-", poisson_many_servers),
    Law::new("erlangb-", loss),
    Law::new("mmck-", finite_room),
    Law::new("md1-", constant_service),
    Law::new("mg1-", general_service),
    Law::new("mdc-", constant_service_many_servers),
    Law::new("gim1-", general_gaps),
];

pub(crate) const LOOPS: [Law; 3] = [
    Law::new("mva-", loops),
    Law::new("finite-source-", pool),
    Law::new("erlanga-", impatience),
];

#[test]
fn plain_queues_agree_with_the_reference() {
    hold(&LAWS);
}

#[test]
fn loops_pools_and_impatient_queues_agree_with_the_reference() {
    hold(&LOOPS);
}

fn poisson_one_server(case: &Case) {
    let line = mm1(case.num("lambda"), case.num("mu")).unwrap();
    case.agrees(&[
        ("rho", line.means.utilisation),
        ("p0", line.p_empty),
        ("L", line.means.in_system),
        ("Lq", line.means.in_queue),
        ("W", line.means.time_in_system),
        ("Wq", line.means.wait),
        ("var_N", line.variance_in_system),
        ("p_N_ge_5", line.p_at_least(5)),
        ("W_p95", line.time_in_system_quantile(0.95).unwrap()),
        ("Wq_p95", line.wait_quantile(0.95).unwrap()),
        ("busy_period_mean", line.busy_spell_mean),
        ("busy_period_var", line.busy_spell_variance),
    ]);
}

fn begun_empty(case: &Case) {
    let waits = mm1_start_up(case.num("lambda"), case.num("mu"), 100).unwrap();
    let first = |n: usize| waits[..n].iter().sum::<f64>() / n as f64;
    // The first customer's wait is nought, and so must ours be.
    case.agrees(&[
        ("delay_1", waits[0]),
        ("delay_2", waits[1]),
        ("delay_3", waits[2]),
        ("delay_5", waits[4]),
        ("delay_10", waits[9]),
        ("delay_20", waits[19]),
        ("delay_50", waits[49]),
        ("delay_100", waits[99]),
        ("mean_delay_first_10", first(10)),
        ("mean_delay_first_25", first(25)),
        ("mean_delay_first_100", first(100)),
    ]);
}

fn run_length(case: &Case) {
    let (mu, rho) = (case.num("mu"), case.num("rho"));
    let lambda = rho * mu;
    // Standard normal quantile at 97.5 %.
    let z = 1.959_963_984_540_054;
    let variance = queue::mm1_asymptotic_variance(lambda, mu).unwrap();
    let run = |half| queue::mm1_run_length(lambda, mu, half, z).unwrap();
    case.agrees(&[
        ("asymptotic_variance", variance),
        ("run_for_5pct_at_95", run(0.05)),
        ("run_for_10pct_at_95", run(0.10)),
    ]);
}

fn poisson_many_servers(case: &Case) {
    let mu = case.num("mu");
    let line = mmc(case.num("lambda"), mu, case.count("c")).unwrap();
    case.agrees(&[
        ("rho", line.means.utilisation),
        ("offered_load", line.offered_load),
        ("p0", line.p_empty),
        ("p_wait", line.p_wait),
        ("Wq", line.means.wait),
        ("W", line.means.time_in_system),
        ("Lq", line.means.in_queue),
        ("L", line.means.in_system),
        ("Wq_p90", line.wait_quantile(0.9).unwrap()),
        (
            "p_Wq_gt_one_service",
            line.p_wait_longer_than(1.0 / mu).unwrap(),
        ),
    ]);
}

fn loss(case: &Case) {
    let line = erlang_b(case.num("offered_load"), case.count("c")).unwrap();
    case.agrees(&[("blocking", line.blocking), ("carried", line.carried)]);
}

fn finite_room(case: &Case) {
    let (lambda, mu) = (case.num("lambda"), case.num("mu"));
    let line = mmck(lambda, mu, case.count("c"), case.count("K")).unwrap();
    case.agrees(&[
        ("p0", line.p_empty),
        ("p_block", line.p_full),
        ("throughput", line.throughput),
        ("L", line.in_system),
        ("Lq", line.in_queue),
        ("W", line.time_in_system),
        ("Wq", line.wait),
        ("utilisation", line.utilisation),
    ]);
}

fn constant_service(case: &Case) {
    let means = queue::md1(case.num("lambda"), case.num("service")).unwrap();
    case.agrees(&[
        ("rho", means.utilisation),
        ("Wq", means.wait),
        ("W", means.time_in_system),
        ("Lq", means.in_queue),
        ("L", means.in_system),
    ]);
}

fn general_service(case: &Case) {
    let service = match case.id.as_str() {
        "mg1-erlang2" | "mg1-erlang4" => Moments::erlang(case.count("shape"), case.num("mean")),
        "mg1-hyper2" => Moments::two_kinds(case.num("p"), case.num("mu1"), case.num("mu2")),
        "mg1-uniform" => Moments::uniform(case.num("low"), case.num("high")),
        "mg1-triangular" => {
            Moments::triangular(case.num("low"), case.num("mode"), case.num("high"))
        }
        _ => Moments::from_mean_and_cv(case.num("mean"), case.num("cv")),
    }
    .unwrap();
    let means = mg1(case.num("lambda"), service).unwrap();
    case.agrees(&[
        ("rho", means.utilisation),
        ("Wq", means.wait),
        ("W", means.time_in_system),
        ("Lq", means.in_queue),
        ("L", means.in_system),
        ("ES", service.mean()),
        ("cv2", service.scv()),
    ]);
}

fn constant_service_many_servers(case: &Case) {
    let line = mdc(case.num("lambda"), case.num("service"), case.count("c")).unwrap();
    case.agrees(&[
        ("rho", line.means.utilisation),
        ("L", line.means.in_system),
        ("Lq", line.means.in_queue),
        ("Wq", line.means.wait),
        ("p_no_wait", line.p_no_wait),
    ]);
}

fn general_gaps(case: &Case) {
    let gap = match case.id.as_str() {
        "gim1-d" => Gap::Constant {
            time: case.num("interarrival"),
        },
        "gim1-e2" => Gap::Erlang {
            stages: case.count("shape"),
            rate: case.num("lambda"),
        },
        _ => Gap::Uniform {
            low: case.num("low"),
            high: case.num("high"),
        },
    };
    let line = gim1(gap, case.num("mu")).unwrap();
    case.agrees(&[
        ("sigma", line.p_wait),
        ("p_wait", line.p_wait),
        ("Wq", line.means.wait),
        ("W", line.means.time_in_system),
        ("Lq", line.means.in_queue),
    ]);
}

fn loops(case: &Case) {
    let ring = closed_loop(&case.list("demands"), case.num("think"), case.count("N")).unwrap();
    let mut ours = vec![
        ("X".to_owned(), ring.throughput),
        ("R".to_owned(), ring.time_at_stations),
        ("X_upper_bound".to_owned(), ring.throughput_bound),
    ];
    for (station, k) in ring.stations.iter().zip(1..) {
        ours.push((format!("U{k}"), station.utilisation));
        ours.push((format!("Q{k}"), station.in_system));
    }
    case.agrees(&ours);
}

fn pool(case: &Case) {
    let (away, mu) = (case.num("lambda_each"), case.num("mu"));
    let line = finite_source(away, mu, case.count("c"), case.count("N")).unwrap();
    case.agrees(&[
        ("p0", line.p_none_here),
        ("L_down", line.here),
        ("Lq", line.in_queue),
        ("throughput", line.throughput),
        ("Wq", line.wait),
        ("availability", line.share_away),
        ("repair_utilisation", line.utilisation),
    ]);
}

fn impatience(case: &Case) {
    let (lambda, mu) = (case.num("lambda"), case.num("mu"));
    let line = erlang_a(lambda, mu, case.num("theta"), case.count("c")).unwrap();
    case.agrees(&[
        ("p_wait", line.p_wait),
        ("p_abandon", line.p_abandon),
        ("Lq", line.in_queue),
        ("mean_wait_all", line.wait),
        ("utilisation", line.utilisation),
    ]);
}
