//! Water, heat, electricity, detergent and labour against outside figures.

use scullery_scenario::plan::{Money, Utilities};
use scullery_study::money::{Amounts, MachineUse, heat_kwh, machine_amounts};

const KG_PER_LB: f64 = 0.45359237;
/// International-table Btu in a kWh; the calculator of the tests below rounds it to 3413.
const BTU_PER_KWH: f64 = 3412.14163;

fn near(a: f64, b: f64, relative: f64) -> bool {
    (a - b).abs() <= relative * b.abs()
}

/// A plate on which everything is nought.
fn plate() -> Utilities {
    Utilities {
        water_l_per_rack: 0.0,
        plate_racks_per_h: 0.0,
        fill_l: 0.0,
        supply_c: 10.0,
        rinse_c: 82.0,
        wash_c: 60.0,
        heating_efficiency: 1.0,
        rinse_heated_by_power: true,
        idle_kw: 0.0,
        running_kw: 0.0,
        kwh_per_rack: 0.0,
        detergent_g_per_l: 0.0,
    }
}

/// Physics: 1 kcal (international table) is 1.163 Wh.
#[test]
fn warming_a_litre_by_a_kelvin_takes_1_163_wh() {
    assert!(near(heat_kwh(1.0, 1.0, 1.0) * 1000.0, 1.163, 1e-12));
    assert!(near(
        heat_kwh(1.0, 82.0 - 60.0, 1.0) * 1000.0,
        25.586,
        1e-12
    ));
    assert!(near(heat_kwh(1.0, 60.0 - 10.0, 1.0) * 1000.0, 58.15, 1e-12));
    assert!(near(heat_kwh(3.37, 72.0, 0.98), 0.2879493061224, 1e-12));
    assert_eq!(heat_kwh(1.0, -5.0, 1.0), 0.0);
}

/// ENERGY STAR commercial food service calculator, workbook of March 2024, Dishwasher Calcs C39:D40: 61.4 / 7.48 lb a
/// gallon, rises of 70 and 40 deg F, efficiency 0.98.
#[test]
fn heating_a_gallon_agrees_with_the_energy_star_calculator() {
    let kg_per_gal = 61.4 / 7.48 * KG_PER_LB;
    let theirs = |rise_f: f64, efficiency: f64| {
        heat_kwh(kg_per_gal, rise_f / 1.8, efficiency) * BTU_PER_KWH / 3413.0
    };
    assert!(near(theirs(70.0, 0.98), 0.17179180757885015, 1e-6));
    assert!(near(theirs(40.0, 0.98), 0.09816674718791438, 1e-6));
    let therm = |rise_f: f64| theirs(rise_f, 0.80) * 3413.0 / 100_000.0;
    assert!(near(therm(70.0), 0.007182486631016042, 1e-6));
    assert!(near(therm(40.0), 0.004104278074866309, 1e-6));
    assert!(near(
        theirs(70.0, 0.98) * 1.29 + theirs(40.0, 0.98) * 1.29,
        0.3482465356491263,
        1e-6
    ));
}

/// US Department of Energy, purchasing guidance for commercial dishwashers (figures seen second-hand): a hot-water door
/// machine, 280 racks and 18 h a day, electric booster: 17,176 and 11,606 kWh a year; 131,838 and 90,958 gallons.
#[test]
fn a_year_of_a_door_machine_agrees_with_the_purchasing_guidance() {
    let racks = 280 * 365;
    let running_h = f64::from(racks) / 60.0;
    let year = |gal_per_rack: f64, idle_kw: f64| {
        let booster = Utilities {
            // Their gallon weighs 61.4 / 7.48 lb; ours a kilogram a litre.
            water_l_per_rack: gal_per_rack * 61.4 / 7.48 * KG_PER_LB,
            supply_c: 60.0,
            rinse_c: 60.0 + 40.0 / 1.8,
            heating_efficiency: 0.98 * 3413.0 / BTU_PER_KWH,
            idle_kw,
            ..plate()
        };
        let used = MachineUse {
            racks: racks as u64,
            rinse_h: None,
            fills: 0,
            idle_h: 365.0 * 18.0 - running_h,
            running_h,
        };
        machine_amounts(&booster, &used)
    };
    let conventional = year(1.29, 0.87);
    assert!(near(conventional.power_kwh, 17176.10761576, 1e-6));
    assert_eq!(conventional.power_kwh.round(), 17176.0);
    assert!(near(
        conventional.water_l / (61.4 / 7.48 * KG_PER_LB),
        131838.0,
        1e-9
    ));
    assert_eq!(year(0.89, 0.55).power_kwh.round(), 11606.0);
    assert_eq!(conventional.heat_kwh, 0.0);
}

/// Plain arithmetic with made-up figures: 126 racks of 3.37 L warmed by 72 K at 0.98; 0.7 kW idle for 2 h; 0.1 kWh a
/// rack; 2 g/L; three people 3.5 h at 17; water 4 a cubic metre, power 0.15, detergent 5.
#[test]
fn a_shift_adds_up_to_its_bill() {
    let used = MachineUse {
        racks: 126,
        rinse_h: None,
        fills: 0,
        idle_h: 2.0,
        running_h: 0.0,
    };
    let machine = Utilities {
        water_l_per_rack: 3.37,
        heating_efficiency: 0.98,
        idle_kw: 0.7,
        kwh_per_rack: 0.1,
        detergent_g_per_l: 2.0,
        ..plate()
    };
    let labour = Amounts {
        labour_h: 10.5,
        ..Amounts::default()
    };
    let all = machine_amounts(&machine, &used).plus(labour);
    assert!(near(all.water_l, 424.62, 1e-12));
    assert!(near(all.power_kwh, 50.28161257143, 1e-11));
    assert!(near(all.detergent_kg, 0.84924, 1e-12));
    let money = Money {
        wage_per_h: Some(17.0),
        water_per_m3: Some(4.0),
        power_per_kwh: Some(0.15),
        heat_per_kwh: None,
        detergent_per_kg: Some(5.0),
        ..Money::default()
    };
    assert!(near(all.cost(&money).unwrap(), 191.9869218857, 1e-11));
    assert_eq!(all.costs(&money)[2], None);
    assert_eq!(all.cost(&Money::default()), None);
}

#[test]
fn a_rinse_that_flows_by_time_takes_the_plates_litres_an_hour() {
    // 2.5 L a rack at 200 racks an hour is 500 L an hour; half an hour and one filling of 100 L: 350 L.
    let machine = Utilities {
        water_l_per_rack: 2.5,
        plate_racks_per_h: 200.0,
        fill_l: 100.0,
        rinse_heated_by_power: false,
        running_kw: 6.0,
        ..plate()
    };
    let used = MachineUse {
        racks: 10,
        rinse_h: Some(0.5),
        fills: 1,
        idle_h: 0.0,
        running_h: 0.75,
    };
    let all = machine_amounts(&machine, &used);
    assert!(near(all.water_l, 350.0, 1e-12));
    assert!(near(
        all.heat_kwh,
        (250.0 * 72.0 + 100.0 * 50.0) * 1.163e-3,
        1e-12
    ));
    assert!(near(all.power_kwh, 4.5, 1e-12));
}
