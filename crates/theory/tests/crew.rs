//! Staffing, standard times and lifts against the reference.

use crate::fixture::{Case, Law, close, hold};
use scullery_theory::crew::{
    Allowance, Lift, basic_time, fewest_servers, multipliers_as_written,
    recommended_weight_limit_kg, square_root_staffing, standard_time,
};
use scullery_theory::queue::mmc;

pub(crate) const LAWS: [Law; 4] = [
    Law::new("halfin-whitt-", square_root),
    Law::new("staffing-target", fewest),
    Law::new("standard-time", book_time),
    Law::new("niosh-rwl", lift_as_written),
];

#[test]
fn crew_figures_agree_with_the_reference() {
    hold(&LAWS);
}

fn square_root(case: &Case) {
    let load = case.num("offered_load");
    let staffing = square_root_staffing(load, case.num("beta")).unwrap();
    let exact = mmc(load, 1.0, staffing.servers).unwrap().p_wait;
    case.agrees(&[
        ("c", f64::from(staffing.servers)),
        ("approx_p_wait", staffing.p_wait_longer),
        ("exact_p_wait_at_c", exact),
    ]);
}

fn fewest(case: &Case) {
    let names = ["lam12_mu1.667", "lam8_mu2"];
    let list = case.raw("cases").as_array().unwrap();
    assert_eq!(list.len(), names.len());
    let mut ours = Vec::new();
    for (one, name) in list.iter().zip(names) {
        let get = |key: &str| one[key].as_f64().unwrap();
        let (lambda, mu, time) = (get("lambda"), 1.0 / get("mean_service"), get("t"));
        let found = fewest_servers(lambda, mu, time, get("target")).unwrap();
        let one_less = mmc(lambda, mu, found.servers - 1).unwrap();
        let longer = one_less.p_wait_longer_than(time).unwrap();
        ours.push((format!("{name}_c"), f64::from(found.servers)));
        ours.push((format!("{name}_p_at_c"), found.p_wait_longer));
        ours.push((format!("{name}_p_at_c_minus_1"), longer));
    }
    case.agrees(&ours);
}

fn book_time(case: &Case) {
    let share = case.num("allowance");
    let basic = basic_time(case.num("observed_s"), case.num("rating")).unwrap();
    let standard = standard_time(basic, Allowance::OfBasicTime(share)).unwrap();
    let of_day = standard_time(basic, Allowance::OfWorkingDay(share)).unwrap();
    case.agrees(&[
        ("basic_s", basic),
        ("standard_s", standard),
        ("pieces_per_labour_min", 60.0 / standard),
        ("standard_if_allowance_is_share_of_day_s", of_day),
    ]);
}

fn lift(case: &Case) -> Lift {
    Lift {
        horizontal_cm: case.num("H_cm"),
        vertical_cm: case.num("V_cm"),
        travel_cm: case.num("D_cm"),
        twist_deg: case.num("A_deg"),
        frequency: 1.0,
        coupling: 1.0,
    }
}

fn lift_as_written(case: &Case) {
    let by = multipliers_as_written(&lift(case)).unwrap();
    let all = by.horizontal * by.vertical * by.distance * by.asymmetry;
    case.agrees(&[
        ("HM", by.horizontal),
        ("VM", by.vertical),
        ("DM", by.distance),
        ("AM", by.asymmetry),
        ("RWL_kg_FM1_CM1", case.num("load_constant_kg") * all),
    ]);
    // This lift travels less than 25 cm: the equation holds the multiplier at 1, and the limit is lower.
    let limit = recommended_weight_limit_kg(&lift(case)).unwrap();
    close(
        "limit kept to the range",
        limit,
        23.0 * 0.625 * 0.955 * 0.856,
    );
}

#[test]
fn the_best_lift_is_at_the_load_constant_and_one_out_of_range_is_not_to_be_made() {
    let best = Lift {
        horizontal_cm: 20.0,
        vertical_cm: 75.0,
        travel_cm: 10.0,
        twist_deg: 0.0,
        frequency: 1.0,
        coupling: 1.0,
    };
    close(
        "best lift",
        recommended_weight_limit_kg(&best).unwrap(),
        23.0,
    );
    let too_far = [
        Lift {
            horizontal_cm: 64.0,
            ..best
        },
        Lift {
            vertical_cm: 176.0,
            ..best
        },
        Lift {
            travel_cm: 176.0,
            ..best
        },
        Lift {
            twist_deg: 136.0,
            ..best
        },
    ];
    for lift in too_far {
        let limit = recommended_weight_limit_kg(&lift).unwrap();
        assert!(limit <= 0.0, "{lift:?} may be lifted with {limit} kg");
    }
}
