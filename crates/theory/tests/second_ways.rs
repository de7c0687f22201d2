//! The models against each other: where two of them meet, they must agree.

use crate::fixture::{close, near};
use scullery_theory::Moments;
use scullery_theory::clock::*;
use scullery_theory::line::*;
use scullery_theory::machine::*;
use scullery_theory::queue::*;

#[test]
fn one_server_of_many_is_the_single_server_queue() {
    let (many, one) = (mmc(0.7, 1.0, 1).unwrap(), mm1(0.7, 1.0).unwrap());
    close("M/M/c", many.means.wait, one.means.wait);
    close("M/M/c empty", many.p_empty, one.p_empty);
    let (many, one) = (mdc(0.7, 1.0, 1).unwrap(), md1(0.7, 1.0).unwrap());
    close("M/D/c", many.means.wait, one.wait);
    close("M/D/c no wait", many.p_no_wait, 0.3);
    let gaps = gim1(Gap::Exponential { rate: 0.7 }, 1.0).unwrap();
    close("GI/M/1", gaps.means.wait, mm1(0.7, 1.0).unwrap().means.wait);
    close(
        "M/G/1",
        mg1(0.7, Moments::exponential(1.0).unwrap()).unwrap().wait,
        gaps.means.wait,
    );
}

/// The law of the number in an M/D/c line, from the recursion over one service time carried on until it settles.
#[test]
fn constant_service_at_four_and_five_servers_is_the_settled_recursion() {
    for (servers, rate) in [(4_u32, 3.0_f64), (5, 4.0)] {
        let states = 160;
        let mut poisson = vec![libm::exp(-rate)];
        for k in 1..states {
            poisson.push(poisson[k - 1] * rate / k as f64);
        }
        let c = servers as usize;
        let mut law = vec![0.0; states];
        law[0] = 1.0;
        for _ in 0..3_000 {
            let mut next = vec![0.0; states];
            for (n, p) in law.iter().enumerate() {
                let left = n.saturating_sub(c);
                for (k, q) in poisson.iter().enumerate().take(states - left) {
                    next[left + k] += p * q;
                }
            }
            law = next;
        }
        let waiting = |n: usize| n.saturating_sub(c) as f64;
        let in_queue: f64 = law.iter().enumerate().map(|(n, p)| p * waiting(n)).sum();
        let line = mdc(rate, 1.0, servers).unwrap();
        close("M/D/c queue", line.means.in_queue, in_queue);
        close("M/D/c no wait", line.p_no_wait, law[..c].iter().sum());
    }
}

#[test]
fn finite_room_grows_into_the_unlimited_queue() {
    let (finite, endless) = (mmck(2.0, 1.0, 3, 400).unwrap(), mmc(2.0, 1.0, 3).unwrap());
    close("L", finite.in_system, endless.means.in_system);
    close("p0", finite.p_empty, endless.p_empty);
    let (held, free) = (
        hold_with_room(0.6, 1.0, 5, 300).unwrap(),
        hold(0.6, Moments::exponential(1.0).unwrap(), 5).unwrap(),
    );
    close("held L", held.in_system, free.means.in_system);
    close("held starts", held.starts_per_time, free.starts_per_time);
    close("held run", held.mean_run, free.mean_run);
}

#[test]
fn a_room_of_servers_alone_is_the_loss_formula() {
    let (room, loss) = (mmck(3.0, 1.0, 5, 5).unwrap(), erlang_b(3.0, 5).unwrap());
    close("blocking", room.p_full, loss.blocking);
    close("carried", room.throughput, loss.carried);
}

#[test]
fn very_patient_customers_make_the_queue_without_reneging() {
    let (patient, plain) = (
        erlang_a(4.0, 1.0, 1e-9, 5).unwrap(),
        mmc(4.0, 1.0, 5).unwrap(),
    );
    near("p_wait", patient.p_wait, plain.p_wait, 1e-6);
    near("Lq", patient.in_queue, plain.means.in_queue, 1e-6);
}

#[test]
fn impatience_as_fast_as_service_leaves_a_poisson_number() {
    // Then everybody leaves at the same rate, served or not: M/M/infinity.
    let line = erlang_a(800.0, 1.0, 1.0, 790).unwrap();
    let flow = [Segment {
        rate: 800.0,
        length: 1.0,
    }];
    let tail = p_count_at_least(&flow, 0.0, 1.0, 790).unwrap();
    close("p_wait", line.p_wait, tail);
}

#[test]
fn a_pool_with_one_server_is_a_loop_with_thinking_time() {
    let (pool, ring) = (
        finite_source(0.25, 1.0, 1, 6).unwrap(),
        closed_loop(&[1.0], 4.0, 6).unwrap(),
    );
    close("throughput", pool.throughput, ring.throughput);
    close("number", pool.here, ring.stations[0].in_system);
}

#[test]
fn one_class_with_priority_is_no_priority() {
    let service = Moments::uniform(0.5, 1.5).unwrap();
    let class = PriorityClass {
        arrival_rate: 0.8,
        service,
    };
    let alone = non_preemptive(&[class]).unwrap();
    close("one class", alone[0].wait, mg1(0.8, service).unwrap().wait);
    let alone = preemptive_resume(&[0.8], 1.0).unwrap();
    close(
        "preempting",
        alone[0],
        mm1(0.8, 1.0).unwrap().means.time_in_system,
    );
    let alone = non_preemptive_with_servers(&[2.0], 1.0, 3).unwrap();
    close(
        "many servers",
        alone[0].wait,
        mmc(2.0, 1.0, 3).unwrap().means.wait,
    );
}

#[test]
fn groups_of_one_and_batches_of_one_are_single_customers() {
    let plain = mm1(0.6, 1.0).unwrap();
    let ones = BulkArrival::from_rates(&[0.6]).unwrap();
    let groups = bulk_arrival_exponential(ones, 1.0).unwrap();
    close("groups", groups.wait, plain.means.wait);
    close(
        "starts",
        batch_start(0.6, 1.0, 1).unwrap().in_queue,
        plain.means.in_queue,
    );
    close(
        "joining",
        batch_start_joining(0.6, 1.0, 1).unwrap().in_system,
        plain.means.in_system,
    );
    close(
        "full",
        full_batch(0.6, 1.0, 1).unwrap().wait,
        plain.means.wait,
    );
    close(
        "held",
        hold(0.6, Moments::exponential(1.0).unwrap(), 1)
            .unwrap()
            .means
            .wait,
        plain.means.wait,
    );
}

#[test]
fn a_machine_that_never_fails_is_the_plain_one() {
    let plain = mm1(0.5, 1.0).unwrap();
    let (_, means) = mm1_fails_while_working(0.5, 1.0, 0.0, 1.0).unwrap();
    close("while working", means.wait, plain.means.wait);
    let line = mm1_fails_any_time(0.5, 1.0, 0.0, 1.0).unwrap();
    close("any time", line.in_system, plain.means.in_system);
}

#[test]
fn two_stations_by_the_chain_are_two_stations_by_the_formula() {
    for (mu1, mu2) in [(1.0, 1.0), (1.0, 0.8), (6.0, 5.5), (5.0, 50.0)] {
        for buffer in [0, 1, 4, 25] {
            let formula = two_stations(mu1, mu2, buffer).unwrap();
            close(
                "chain",
                saturated_line(&[mu1, mu2], &[buffer]).unwrap(),
                formula,
            );
            close(
                "turned round",
                two_stations(mu2, mu1, buffer).unwrap(),
                formula,
            );
        }
    }
}

#[test]
fn a_line_turned_round_carries_as_much() {
    let there = saturated_line(&[6.0, 5.0, 5.5], &[1, 3]).unwrap();
    let back = saturated_line(&[5.5, 5.0, 6.0], &[3, 1]).unwrap();
    close("three stations", back, there);
}

#[test]
fn a_tandem_with_much_room_is_two_queues_that_do_not_know_each_other() {
    let line = tandem(0.5, 1.0, 0.8, 120).unwrap();
    close(
        "first",
        line.at_first,
        mm1(0.5, 1.0).unwrap().means.in_system,
    );
    close(
        "second",
        line.at_second,
        mm1(0.5, 0.8).unwrap().means.in_system,
    );
}

#[test]
fn a_tandem_carries_all_that_comes_even_near_its_limit() {
    for (rate, buffer) in [(0.6666, 0), (0.7999, 2), (0.2, 5)] {
        let line = tandem(rate, 1.0, 1.0, buffer).unwrap();
        close("throughput", line.throughput, rate);
    }
}

#[test]
fn a_long_steady_stretch_settles_to_the_steady_state() {
    let rush = [Segment {
        rate: 2.0,
        length: 400.0,
    }];
    let line = ManyServers {
        service_rate: 1.0,
        servers: 3,
        room: 200,
    };
    let seen = queue_over_time(&rush, line, &[0.0, 400.0, 1_400.0]).unwrap();
    close("empty at first", seen[0].law[0], 1.0);
    let steady = mmc(2.0, 1.0, 3).unwrap();
    close("L", seen[1].in_system, steady.means.in_system);
    close("Lq", seen[1].in_queue, steady.means.in_queue);
    close("p_wait", seen[1].p_wait, steady.p_wait);
    for at in &seen {
        close("law", at.law.iter().sum(), 1.0);
    }
    // Nothing comes after the last segment.
    assert!(seen[2].in_system < 1e-9);
}

#[test]
fn the_first_wait_is_nought_and_the_waits_grow_to_the_steady_one() {
    let waits = mm1_start_up(0.5, 1.0, 300).unwrap();
    assert!(waits[0].abs() <= 0.0);
    assert!(waits.windows(2).all(|w| w[1] >= w[0] - 1e-12));
    close("settled", waits[299], mm1(0.5, 1.0).unwrap().means.wait);
    // Begun empty, a line that cannot keep up has waits all the same.
    let rush = mm1_start_up(2.0, 1.0, 50).unwrap();
    assert!(rush[49] > 20.0);
}

#[test]
fn a_rush_below_capacity_leaves_nothing_waiting() {
    let rush = [
        Segment {
            rate: 3.0,
            length: 10.0,
        },
        Segment {
            rate: 4.0,
            length: 10.0,
        },
    ];
    let fluid = fluid_backlog(&rush, 5.0).unwrap();
    assert!(fluid.peak <= 0.0 && fluid.total_delay <= 0.0);
    assert_eq!(fluid.clear_time, None);
    let held = fluid_with_accumulator(&rush, 5.0, 10.0).unwrap();
    assert_eq!(
        (held.time_full, held.time_outside_clear, held.time_empty),
        (None, None, None)
    );
}

#[test]
fn what_is_left_at_the_end_of_the_last_segment_still_clears() {
    let fluid = fluid_backlog(
        &[Segment {
            rate: 8.0,
            length: 10.0,
        }],
        5.0,
    )
    .unwrap();
    close("peak", fluid.peak, 30.0);
    close("clear", fluid.clear_time.unwrap(), 16.0);
    close("delay", fluid.total_delay, 30.0 * 16.0 / 2.0);
}

#[test]
fn a_poisson_tail_and_its_complement_make_one() {
    let flow = [Segment {
        rate: 3.5,
        length: 1.0,
    }];
    let (mut term, mut below) = (libm::exp(-3.5), 0.0);
    for count in 0..12_u32 {
        let tail = p_count_at_least(&flow, 0.0, 1.0, count).unwrap();
        near("tail", tail, 1.0 - below, 1e-9);
        below += term;
        term *= 3.5 / f64::from(count + 1);
    }
}
