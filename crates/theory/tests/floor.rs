//! Belts, machines, racks and heat against the reference.

use crate::fixture::{Case, Law, hold};
use scullery_theory::floor::{
    JOULES_PER_KG_KELVIN, belt, carrier_loop, conveyor_racks_per_hour, door_racks_per_hour,
    heating_kwh, lane_places, racks_needed, tunnel, usable_rate,
};

pub(crate) const LAWS: [Law; 4] = [
    Law::new("line-geometry", geometry),
    Law::new("machine-rates", machine_rates),
    Law::new("heat-water", hot_water),
    Law::new("racks-for-service", racks),
];

#[test]
fn floor_figures_agree_with_the_reference() {
    hold(&LAWS);
}

fn geometry(case: &Case) {
    let num = |name: &str| case.num(name);
    let belt = belt(num("belt_m"), num("belt_m_per_min"), num("tray_pitch_m")).unwrap();
    let (carriers, tiers) = (case.count("carriers"), case.count("tiers"));
    let ring = carrier_loop(carriers, tiers, num("loop_m"), num("loop_m_per_min")).unwrap();
    let tunnel = tunnel(num("tunnel_m"), num("tunnel_m_per_min"), num("rack_m")).unwrap();
    let lane = lane_places(num("lane_m"), num("rack_m")).unwrap();
    case.agrees(&[
        ("belt_transit_s", belt.transit_s),
        ("belt_places", f64::from(belt.places)),
        ("belt_trays_per_min", belt.trays_per_minute),
        ("lane_places", f64::from(lane)),
        ("carrier_places", ring.places as f64),
        ("loop_time_s", ring.round_s),
        ("carriers_past_a_point_per_min", ring.carriers_per_minute),
        ("tiers_past_a_point_per_min", ring.tiers_per_minute),
        ("tunnel_residence_s", tunnel.inside_s),
        ("rack_entry_interval_s", tunnel.entry_interval_s),
        ("racks_per_h", tunnel.racks_per_hour),
        ("racks_inside_when_full", f64::from(tunnel.places)),
    ]);
}

fn machine_rates(case: &Case) {
    let inch = 0.0254;
    let metric = conveyor_racks_per_hour(1.8, 0.5).unwrap();
    case.agrees(&[
        (
            "door_cycle_60s_handling_0_racks_per_h",
            door_racks_per_hour(60.0, 0.0).unwrap(),
        ),
        (
            "door_cycle_120s_handling_30_racks_per_h",
            door_racks_per_hour(120.0, 30.0).unwrap(),
        ),
        ("conveyor_1.8_m_per_min_rack_0.5m_racks_per_h", metric),
        (
            "conveyor_6ft_per_min_rack_20in_racks_per_h",
            conveyor_racks_per_hour(6.0 * 12.0 * inch, 20.0 * inch).unwrap(),
        ),
        ("derated_70pct_of_216", usable_rate(216.0, 0.7).unwrap()),
    ]);
}

fn hot_water(case: &Case) {
    assert!((case.num("specific_heat_J_per_kgK") - JOULES_PER_KG_KELVIN).abs() < 1e-9);
    let wh = |rise| 1000.0 * heating_kwh(1.0, rise, 1.0).unwrap();
    case.agrees(&[
        ("booster_60_to_82_per_litre_Wh", wh(22.0)),
        ("main_10_to_60_per_litre_Wh", wh(50.0)),
        ("one_litre_one_kelvin_Wh", wh(1.0)),
        (
            "rack_3.37L_10_to_82_kWh_eff_0.98",
            heating_kwh(3.37, 72.0, 0.98).unwrap(),
        ),
    ]);
}

fn racks(case: &Case) {
    let covers = case.count("covers");
    let kinds = case.raw("pieces_per_cover_and_per_rack");
    let mut ours = Vec::new();
    let mut total = 0;
    for (kind, figures) in kinds.as_object().unwrap() {
        let get = |i: usize| u32::try_from(figures[i].as_u64().unwrap()).unwrap();
        let racks = racks_needed(covers, get(0), get(1)).unwrap();
        total += racks;
        ours.push((format!("racks_{kind}"), f64::from(racks)));
    }
    let total = f64::from(total);
    ours.push(("racks_total".to_owned(), total));
    ours.push(("hours_at_60_per_h".to_owned(), total / 60.0));
    let usable = usable_rate(60.0, 0.7).unwrap();
    ours.push(("hours_at_70pct_of_60".to_owned(), total / usable));
    case.agrees(&ours);
}
