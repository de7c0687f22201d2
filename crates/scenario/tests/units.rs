//! Keys in metric and US customary units.

use scullery_engine::line::{LaneKind, MachineKind};
use scullery_scenario::{Format, plan::Plan, read_alone};

/// A hall whose numbers these tests know.
const HALL: &str = include_str!("hall.toml");

fn changed(changes: &[(&str, &str)]) -> Plan {
    let mut text = HALL.to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    read_alone(&text, Format::Toml).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

#[test]
fn us_keys_mean_the_same_in_other_numbers() {
    let plan = changed(&[
        (
            "length_m = 25\nspacing_m = 0.45\nspeed_m_per_min = 9",
            "length_ft = 20\nspacing_in = 18\nspeed_ft_per_min = 30",
        ),
        ("length_m = 9, rack_m = 0.5", "length_ft = 20, rack_in = 20"),
        ("water_l_per_rack = 2.6", "water_gal_per_rack = 0.70"),
        ("fill_l = 110", "fill_gal = 24"),
        ("supply_temp_c = 55", "supply_temp_f = 140"),
        ("rinse_temp_c = 83", "rinse_temp_f = 180"),
        ("heat_up_min = 25", "heat_up_s = 1500"),
        (
            "waste_kg = { lognormal = { mean = 0.10, cv = 0.6 } }",
            "waste_lb = { lognormal = { mean = 1, cv = 0.6 } }",
        ),
        ("water_per_m3 = 4.10", "water_per_1000_gal = 11.50"),
        ("detergent_per_kg = 2.80", "detergent_per_lb = 1"),
    ]);
    let belt = &plan.line.belts[0];
    assert_eq!(
        (belt.length_mm, belt.spacing_mm, belt.speed[0].1),
        (6096, 457, 9144)
    );
    let LaneKind::Rollers {
        length_mm, rack_mm, ..
    } = plan.line.lanes[0].kind
    else {
        panic!("rollers expected")
    };
    assert_eq!((length_mm, rack_mm), (6096, 508));
    let uses = &plan.utilities[0];
    // 1 US gal = 3.785411784 l exactly; 140 and 180 deg F are 60 and 82.2 deg C.
    assert!((uses.water_l_per_rack - 2.649_788).abs() < 1e-5);
    assert!((uses.fill_l - 90.849_883).abs() < 1e-5);
    assert!((uses.supply_c - 60.0).abs() < 1e-9 && (uses.rinse_c - 82.222_222).abs() < 1e-5);
    assert_eq!(plan.line.machines[0].heat_up.us(), 25 * 60_000_000);
    let scullery_engine::dist::Dist::Lognormal { mean, cv } = plan.demand.waste_kg else {
        panic!("lognormal expected")
    };
    assert!((mean - 0.453_592_37).abs() < 1e-12 && (cv - 0.6).abs() < 1e-12);
    // 11.50 for 1000 gal is 11.50 / 3.785411784 for a cubic metre.
    assert!((plan.money.water_per_m3.unwrap() - 3.037_979).abs() < 1e-5);
    assert!((plan.money.detergent_per_kg.unwrap() - 2.204_623).abs() < 1e-5);
}

#[test]
fn six_feet_a_minute_and_twenty_inches_are_216_racks_an_hour() {
    let plan = changed(&[
        (
            "pitch_m = 0.5, tunnel_m = 2.6, rinse_from_m = 1.9, rinse_to_m = 2.4, speed_m_per_min = 1.83",
            "pitch_in = 20, tunnel_in = 100, speed_ft_per_min = 6",
        ),
        ("speed_m_per_min = 1.83\nsan", "speed_ft_per_min = 6\nsan"),
    ]);
    let MachineKind::Conveyor {
        pitch_mm,
        speed_mm_min,
        ..
    } = plan.line.machines[0].kind
    else {
        panic!("conveyor expected")
    };
    assert_eq!(60 * speed_mm_min / pitch_mm, 216);
}
