//! One queue, one or several servers.
//!
//! Trays come at random to an unlimited table; putting down takes no time. A tray's work is the handling time of the
//! scrapping post times the tray's factor, whose law is that of the model's service. So waits at the table are waits in
//! the queue, and the backlog (dropped off and not yet broken down) is the number in the system.

use scullery_engine::watch::State;

use crate::agreement::Claims;
use crate::figures::figure;
use crate::repeats::{Length, plan, repeats};
use crate::room::{fill, poisson, queue};

/// Holds waits, numbers and use against the figure, in steady state. `room` is the text after heading and covers.
fn check(
    claims: &mut Claims,
    id: &str,
    service_min: f64,
    servers: u32,
    length: Length,
    room: &str,
) {
    let figure = figure(id);
    let lambda = figure.param("lambda");
    let plan = plan(&(poisson(id, lambda, length.min) + room));
    let [wait, waiting, inside, busy, none] = repeats(
        &plan,
        length.repeats,
        || length.tally(&plan),
        |seen, _| {
            [
                seen.mean_wait("table.queue"),
                seen.mean_level("table.queue"),
                seen.mean_level("backlog"),
                seen.share("Server", State::Working),
                seen.no_wait("table.queue"),
            ]
        },
    );
    let rho = lambda * service_min / f64::from(servers);
    claims.heavy_use(rho > 0.85);
    claims.mean(figure, "Wq", &wait);
    claims.mean(figure, "Lq", &waiting);
    claims.mean(figure, "L", &inside);
    if figure.has("p_no_wait") {
        claims.mean(figure, "p_no_wait", &none);
    } else if figure.has("p_wait") {
        let none_says = 1.0 - figure.says("p_wait");
        claims.sampled(id, "1 - p_wait", none_says, &none, &figure.source);
    }
    let source = "arrival rate × mean service ÷ servers";
    claims.sampled(id, "share of time busy", rho, &busy, source);
}

/// 40 repeats of so many services each, after a warm-up of so many.
fn services(service_min: f64, warm_up: f64, services: f64) -> Length {
    Length {
        repeats: 40,
        warm_up_min: warm_up * service_min,
        min: (warm_up + services) * service_min,
    }
}

#[test]
fn exponential_work_of_one_person() {
    let mut claims = Claims::of("single_queue::exponential_work_of_one_person");
    for (id, long) in [
        ("mm1-0.5-1", 10_000.0),
        ("mm1-0.8-1", 20_000.0),
        ("mm1-0.9-1", 30_000.0),
        ("mm1-8-10", 20_000.0),
        ("mm1-5-6", 30_000.0),
    ] {
        let service = 1.0 / figure(id).param("mu");
        let room = queue("\"exponential\"", 1, service * 60.0);
        check(
            &mut claims,
            id,
            service,
            1,
            services(service, 3_000.0, long),
            &room,
        );
    }
    claims.hold();
}

#[test]
fn exponential_work_of_several_people() {
    let mut claims = Claims::of("single_queue::exponential_work_of_several_people");
    for (id, long) in [
        ("mmc-4-1-5", 6_000.0),
        ("mmc-2-1-3", 6_000.0),
        ("mmc-10-1-12", 4_000.0),
        ("mmc-48-1-50", 4_000.0),
        ("mmc-18-8-3", 8_000.0),
        ("mmc-0.9-1-1", 30_000.0),
        ("mmc-6-3-3", 6_000.0),
        ("mmc-12-1.66667-9", 4_000.0),
    ] {
        let service = 1.0 / figure(id).param("mu");
        let servers = figure(id).param("c") as u32;
        let room = queue("\"exponential\"", servers, service * 60.0);
        let warm_up = if servers == 1 { 3_000.0 } else { 1_000.0 };
        check(
            &mut claims,
            id,
            service,
            servers,
            services(service, warm_up, long),
            &room,
        );
    }
    claims.hold();
}

#[test]
fn constant_work() {
    let mut claims = Claims::of("single_queue::constant_work");
    for (id, servers, long) in [
        ("md1-0.5", 1, 10_000.0),
        ("md1-0.8", 1, 15_000.0),
        ("md1-0.9", 1, 20_000.0),
        ("mdc-1.6-2", 2, 10_000.0),
        ("mdc-2.4-3", 3, 8_000.0),
    ] {
        let room = queue("\"not_at_all\"", servers, 60.0);
        check(
            &mut claims,
            id,
            1.0,
            servers,
            services(1.0, 2_000.0, long),
            &room,
        );
    }
    claims.hold();
}

#[test]
fn work_of_other_laws() {
    let mut claims = Claims::of("single_queue::work_of_other_laws");
    // An Erlang law of k phases is a gamma law with a coefficient of variation of one over the root of k.
    for (id, varies, long) in [
        (
            "mg1-erlang2",
            "{ gamma = { cv = 0.7071067811865476 } }",
            15_000.0,
        ),
        ("mg1-erlang4", "{ gamma = { cv = 0.5 } }", 20_000.0),
        (
            "mg1-uniform",
            "{ uniform = { min = 0.5, max = 1.5 } }",
            20_000.0,
        ),
        ("mg1-lognormal", "{ lognormal = { cv = 0.5 } }", 20_000.0),
        ("mg1-gamma", "{ gamma = { cv = 0.75 } }", 20_000.0),
        (
            "mg1-triangular",
            "{ triangular = { min = 0.5, mode = 0.8, max = 1.7 } }",
            15_000.0,
        ),
    ] {
        let room = queue(varies, 1, 60.0);
        check(&mut claims, id, 1.0, 1, services(1.0, 3_000.0, long), &room);
    }
    let id = "mg1-hyper2";
    let share = figure(id).param("p");
    let long_s = 60.0 / figure(id).param("mu1");
    let short_s = 60.0 / figure(id).param("mu2");
    let room = fill(
        include_str!("scenarios/mixture.toml.in"),
        &[
            ("share", format!("{share}")),
            ("long_s", format!("{long_s}")),
            ("short_s", format!("{short_s}")),
        ],
    );
    check(
        &mut claims,
        id,
        1.0,
        1,
        services(1.0, 3_000.0, 20_000.0),
        &room,
    );
    claims.hold();
}
