//! Stations in a row against the reference.

use crate::fixture::{Case, Law, hold};
use scullery_theory::line::{saturated_line, tandem, two_stations};

pub(crate) const LAWS: [Law; 6] = [
    Law::new("line2-", two),
    Law::new("line3-", several),
    Law::new("line4-", several),
    Law::new("line5-", several),
    Law::new("line6-", several),
    Law::new("tandem-bas-", fed_from_outside),
];

#[test]
fn lines_with_little_room_agree_with_the_reference() {
    hold(&LAWS);
}

fn two(case: &Case) {
    let rates = case.list("mu");
    let throughput = two_stations(rates[0], rates[1], case.count("buffer")).unwrap();
    case.agrees(&[("throughput", throughput)]);
}

fn several(case: &Case) {
    let rates = case.list("mu");
    let buffers: Vec<u32> = case.list("buffers").iter().map(|&b| b as u32).collect();
    let throughput = saturated_line(&rates, &buffers).unwrap();
    let mut ours = vec![("throughput", throughput)];
    if case.id.contains("dish") {
        let slowest = rates.iter().copied().fold(f64::INFINITY, f64::min);
        ours.push(("efficiency_vs_bottleneck", throughput / slowest));
    }
    case.agrees(&ours);
}

fn fed_from_outside(case: &Case) {
    let (lambda, mu1, mu2) = (case.num("lambda"), case.num("mu1"), case.num("mu2"));
    let line = tandem(lambda, mu1, mu2, case.count("buffer")).unwrap();
    case.agrees(&[
        ("L1", line.at_first),
        ("L2", line.at_second),
        ("W", line.time_in_system),
        ("p_blocked", line.p_blocked),
        ("utilisation2", line.second_utilisation),
        ("throughput", line.throughput),
        ("saturation_throughput", line.most_throughput),
    ]);
}
