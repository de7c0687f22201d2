//! What has no answer is refused, never answered and never a panic.

use scullery_theory::Moments;
use scullery_theory::clock::*;
use scullery_theory::crew::*;
use scullery_theory::floor::*;
use scullery_theory::line::*;
use scullery_theory::machine::*;
use scullery_theory::queue::*;

const ODD: [f64; 10] = [
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    -1.0,
    0.0,
    5e-324,
    1e-60,
    1e-9,
    1e60,
    1e308,
];

fn one() -> Moments {
    Moments::exponential(1.0).unwrap()
}

#[test]
fn a_line_that_cannot_keep_up_has_no_steady_state() {
    assert_eq!(mm1(1.0, 1.0), None);
    assert_eq!(mmc(3.0, 1.0, 3), None);
    assert_eq!(md1(1.0, 1.0), None);
    assert_eq!(mg1(1.1, one()), None);
    assert_eq!(mdc(2.0, 1.0, 2), None);
    assert_eq!(gim1(Gap::Constant { time: 1.0 }, 1.0), None);
    assert_eq!(mm1_fails_any_time(0.9, 1.0, 0.1, 0.5), None);
    assert_eq!(mm1_fails_while_working(0.9, 1.0, 0.1, 0.5), None);
    assert_eq!(mg1_with_breaks(1.0, one(), one()), None);
    assert_eq!(going_round(2, 0.5, one(), one()), None);
    assert_eq!(preemptive_resume(&[0.5, 0.5], 1.0), None);
    assert_eq!(non_preemptive_with_servers(&[1.0, 1.0], 1.0, 2), None);
    let class = PriorityClass {
        arrival_rate: 0.5,
        service: one(),
    };
    assert_eq!(non_preemptive(&[class, class]), None);
    assert_eq!(hold(1.0, one(), 5), None);
    assert_eq!(warm_up(1.0, one(), one()), None);
    assert_eq!(batch_start(5.0, 1.0, 5), None);
    assert_eq!(batch_start_joining(5.0, 1.0, 5), None);
    assert_eq!(full_batch(5.0, 1.0, 5), None);
    // Two stations without room between: 2/3 and no more.
    assert_eq!(tandem(0.67, 1.0, 1.0, 0), None);
    assert!(tandem(0.66, 1.0, 1.0, 0).is_some());
}

#[test]
fn no_servers_no_queues_and_no_stations_are_refused() {
    assert_eq!(mmc(1.0, 2.0, 0), None);
    assert_eq!(mdc(1.0, 0.5, 0), None);
    assert_eq!(mmck(1.0, 1.0, 0, 3), None);
    assert_eq!(mmck(1.0, 1.0, 3, 2), None);
    assert_eq!(erlang_a(1.0, 1.0, 1.0, 0), None);
    assert_eq!(finite_source(1.0, 1.0, 0, 3), None);
    assert_eq!(finite_source(1.0, 1.0, 1, 0), None);
    assert_eq!(closed_loop(&[], 1.0, 3), None);
    assert_eq!(closed_loop(&[0.0], 1.0, 3), None);
    assert_eq!(closed_loop(&[1.0], 1.0, 0), None);
    assert_eq!(non_preemptive(&[]), None);
    assert_eq!(preemptive_resume(&[], 1.0), None);
    assert_eq!(saturated_line(&[], &[]), None);
    assert_eq!(saturated_line(&[1.0, 1.0], &[]), None);
    assert_eq!(hold(0.5, one(), 0), None);
    assert_eq!(hold_with_room(0.5, 1.0, 4, 3), None);
    assert_eq!(forming(1.0, 0), None);
    assert_eq!(racks_needed(100, 2, 0), None);
    assert_eq!(carrier_loop(0, 5, 14.4, 3.6), None);
    assert_eq!(fluid_backlog(&[], 1.0), None);
    assert_eq!(drain(5, 1.0, 0), None);
}

#[test]
fn what_is_too_large_to_solve_is_refused() {
    assert_eq!(saturated_line(&[1.0; 3], &[60, 60]), None);
    assert_eq!(tandem(0.5, 1.0, 1.0, 201), None);
    assert_eq!(mm1_start_up(0.5, 1.0, u32::MAX), None);
    assert_eq!(mmc(1.0, 1.0, u32::MAX), None);
    assert_eq!(mdc(1.0, 1.0, u32::MAX), None);
    assert_eq!(erlang_b(1.0, u32::MAX), None);
    assert_eq!(closed_loop(&[1.0], 0.0, u32::MAX), None);
    assert_eq!(mmck(1.0, 1.0, 1, u32::MAX), None);
    assert_eq!(finite_source(1.0, 1.0, 1, u32::MAX), None);
    assert_eq!(racks_needed(u32::MAX, 2, 1), None);
    assert_eq!(fewest_servers(1e9, 1.0, 0.0, 0.1), None);
    assert_eq!(two_stations(1.0, 1.0, u32::MAX), None);
    assert_eq!(hold_with_room(0.5, 1.0, 4, u32::MAX), None);
}

#[test]
fn moments_that_no_time_can_have_are_refused() {
    assert_eq!(Moments::new(1.0, 0.5), None);
    assert_eq!(Moments::constant(0.0), None);
    assert_eq!(Moments::uniform(2.0, 1.0), None);
    assert_eq!(Moments::triangular(1.0, 3.0, 2.0), None);
    assert_eq!(Moments::two_kinds(1.5, 1.0, 1.0), None);
    assert_eq!(Moments::erlang(0, 1.0), None);
    assert_eq!(Moments::from_mean_and_cv(1.0, -0.1), None);
}

#[test]
fn quantiles_and_shares_outside_their_range_are_refused() {
    let line = mm1(0.5, 1.0).unwrap();
    for p in [0.0, 1.0, -0.5, 1.5, f64::NAN] {
        assert_eq!(line.wait_quantile(p), None);
        assert_eq!(line.time_in_system_quantile(p), None);
        assert_eq!(fewest_servers(1.0, 1.0, 1.0, p), None);
        assert_eq!(vut(1.0, 1.0, p, 1.0, 1), None);
    }
    assert_eq!(line.p_wait_longer_than(-1.0), None);
    assert_eq!(heating_kwh(1.0, 10.0, 1.1), None);
    assert_eq!(heating_kwh(1.0, 10.0, 0.0), None);
    assert_eq!(usable_rate(100.0, 1.2), None);
    assert_eq!(standard_time(1.0, Allowance::OfWorkingDay(1.0)), None);
    assert_eq!(standard_time(1.0, Allowance::OfBasicTime(-0.1)), None);
    assert_eq!(mean_staying_under_wave(5.0, 6.0, 60.0, 8.0, 1.0), None);
    assert_eq!(parabolic_rush(9.0, 0.01, 10.0), None);
    let rush = [Segment {
        rate: 1.0,
        length: 5.0,
    }];
    let line = ManyServers {
        service_rate: 1.0,
        servers: 1,
        room: 10,
    };
    assert_eq!(queue_over_time(&rush, line, &[3.0, 2.0]), None);
}

/// Odd figures in every place: whatever comes back, it must come back.
#[test]
fn odd_figures_never_panic_and_never_give_a_number_that_is_none() {
    for a in ODD {
        for b in ODD {
            check(a, b);
        }
        check(a, 1.0);
        check(0.5, a);
    }
}

fn check(a: f64, b: f64) {
    let sound = |x: f64, what: &str| assert!(!x.is_nan(), "{what} at {a:e}, {b:e}");
    let means = |m: &Means, what: &str| sound(m.in_system + m.wait, what);
    mm1(a, b).inspect(|m| means(&m.means, "mm1"));
    mmc(a, b, 3).inspect(|m| means(&m.means, "mmc"));
    md1(a, b).inspect(|m| means(m, "md1"));
    mdc(a, b, 3).inspect(|m| means(&m.means, "mdc"));
    mmck(a, b, 2, 6).inspect(|m| sound(m.in_system, "mmck"));
    erlang_b(a, 5).inspect(|m| sound(m.blocking, "erlang_b"));
    erlang_a(a, b, 0.5, 3).inspect(|m| sound(m.wait, "erlang_a"));
    erlang_a(5.0, a, b, 3).inspect(|m| sound(m.wait, "erlang_a"));
    finite_source(a, b, 2, 6).inspect(|m| sound(m.here, "finite_source"));
    gim1(Gap::Uniform { low: a, high: b }, 1.0).inspect(|m| sound(m.p_wait, "gim1"));
    gim1(Gap::Erlang { stages: 3, rate: a }, b).inspect(|m| sound(m.p_wait, "gim1"));
    mm1_start_up(a, b, 5).inspect(|w| w.iter().for_each(|x| sound(*x, "mm1_start_up")));
    mm1_run_length(a, b, 0.05, 1.96).inspect(|x| sound(*x, "mm1_run_length"));
    mm1_fails_any_time(0.1, a, b, a).inspect(|m| sound(m.in_system, "fails_any_time"));
    mm1_fails_while_working(0.1, 1.0, a, b).inspect(|m| means(&m.1, "fails_while_working"));
    preemptive_resume(&[a, b], 1.0).inspect(|w| w.iter().for_each(|x| sound(*x, "preemptive")));
    non_preemptive_with_servers(&[a, b], 1.0, 2).inspect(|w| {
        w.iter()
            .for_each(|m| means(m, "non_preemptive_with_servers"))
    });
    vut(a, b, 0.5, 1.0, 2).inspect(|m| means(m, "vut"));
    departure_scv(a, b, 0.5, 2).inspect(|x| sound(*x, "departure_scv"));
    for time in [
        Moments::new(a, b),
        Moments::constant(a),
        Moments::exponential(a),
        Moments::from_mean_and_cv(a, b),
        Moments::two_kinds(0.5, a, b),
        Moments::uniform(a, b),
        Moments::triangular(a, b, b),
    ]
    .into_iter()
    .flatten()
    {
        check_time(time, b, &sound);
    }
    two_stations(a, b, 3).inspect(|x| sound(*x, "two_stations"));
    tandem(0.1, a, b, 1).inspect(|t| sound(t.at_first, "tandem"));
    saturated_line(&[a, b], &[1]).inspect(|x| sound(*x, "saturated_line"));
    batch_start(a, b, 4).inspect(|m| sound(m.in_queue, "batch_start"));
    batch_start_joining(a, b, 4).inspect(|m| sound(m.in_system, "batch_start_joining"));
    full_batch(a, b, 4).inspect(|m| sound(m.wait, "full_batch"));
    hold_with_room(a, b, 2, 4).inspect(|m| sound(m.in_system, "hold_with_room"));
    square_root_staffing(a, b).inspect(|s| sound(s.p_wait_longer, "square_root_staffing"));
    fewest_servers(a, 1.0, b, 0.1).inspect(|s| sound(s.p_wait_longer, "fewest_servers"));
    closed_loop(&[a, b], 1.0, 4).inspect(|m| sound(m.throughput, "closed_loop"));
    drain(5, a, 2).inspect(|d| sound(d.mean, "drain"));
    parabolic_rush(a, b, 1.0).inspect(|r| sound(r.total_delay, "parabolic_rush"));
    mean_staying_under_wave(10.0, 5.0, a, b, 1.0).inspect(|m| sound(m.0, "wave"));
    belt(a, b, 0.45).inspect(|x| sound(x.transit_s, "belt"));
    tunnel(3.0, a, b).inspect(|x| sound(x.inside_s, "tunnel"));
    carrier_loop(12, 5, a, b).inspect(|x| sound(x.round_s, "carrier_loop"));
    lane_places(a, b);
    heating_kwh(a, b, 0.9).inspect(|x| sound(*x, "heating_kwh"));
    let rush = [Segment { rate: a, length: b }];
    fluid_backlog(&rush, 1.0).inspect(|f| sound(f.total_delay, "fluid_backlog"));
    fluid_with_accumulator(&rush, 1.0, 2.0).inspect(|f| sound(f.outside_delay, "accumulator"));
    mean_first_arrival(&rush).inspect(|x| sound(*x, "mean_first_arrival"));
    thinning_accepted(&rush).inspect(|x| sound(*x, "thinning_accepted"));
    p_count_at_least(&rush, 0.0, 2.0, 7).inspect(|x| sound(*x, "p_count_at_least"));
    mean_on_belt(&rush, 1.0, 2.0).inspect(|x| sound(*x, "mean_on_belt"));
    let line = ManyServers {
        service_rate: 1.0,
        servers: 2,
        room: 8,
    };
    queue_over_time(&rush, line, &[2.0]).inspect(|seen| {
        seen.iter()
            .for_each(|at| sound(at.in_system, "queue_over_time"))
    });
}

fn check_time(time: Moments, other: f64, sound: &dyn Fn(f64, &str)) {
    sound(time.scv() + time.residual(), "moments");
    for rate in [1e-30, 0.1, other] {
        mg1(rate, time).inspect(|m| sound(m.wait, "mg1"));
        hold(rate, time, 3).inspect(|m| sound(m.means.wait, "hold"));
        warm_up(rate, one(), time).inspect(|m| sound(m.means.wait, "warm_up"));
        mg1_with_breaks(rate, one(), time).inspect(|m| sound(m.wait, "breaks"));
        going_round(2, rate, one(), time).inspect(|x| sound(*x, "going_round"));
        effective_with_outages(time, 10.0, rate, 1.0).inspect(|e| sound(e.scv, "outages"));
        effective_with_set_ups(one(), 10.0, time).inspect(|e| sound(e.scv, "set_ups"));
        let class = PriorityClass {
            arrival_rate: rate,
            service: time,
        };
        non_preemptive(&[class]).inspect(|m| sound(m[0].wait, "non_preemptive"));
    }
}
