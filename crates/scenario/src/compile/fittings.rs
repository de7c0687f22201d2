//! What a machine is fitted with: changes of tank water, hot water, detergent, a blow-dryer.

use scullery_engine::line::{Dosing, HotWater, WaterChange};
use scullery_engine::time::Span;

use super::checker::Checker;
use crate::defaults;
use crate::file::{DetergentFile, HotWaterFile, WaterChangeFile};
use crate::plan::Utilities;

/// When and how long the tanks' water is changed.
pub(crate) fn water_change(
    check: &mut Checker<'_>,
    written: &WaterChangeFile,
    path: &str,
    heat_up_min: f64,
) -> WaterChange {
    let path = format!("{path}.water_change");
    let texts: Vec<&String> = written.at.iter().collect();
    let at = check.rising(|index| format!("{path}.at.{index}"), &texts);
    if at.is_empty() && written.every_racks.is_none() {
        let message = "a change of water needs clock times or a number of racks".to_owned();
        check.fault(
            "missing-key",
            &path,
            message,
            "add for example `at = [\"13:00\"]` or `every_racks = 300`",
        );
    }
    let drain_and_fill = check.or_default(
        written.drain_and_fill_min,
        &format!("{path}.drain_and_fill_min"),
        &defaults::DRAIN_AND_FILL,
    );
    WaterChange {
        at,
        every_racks: written.every_racks,
        drain_and_fill: Span::from_min(drain_and_fill),
        heat: Span::from_min(written.heat_min.unwrap_or(heat_up_min)),
    }
}

/// Specific heat of water, kJ/(kg K): the international steam-table calorie, 4.1868 J, a gram and kelvin.
const WATER_KJ_PER_KG_K: f64 = 4.1868;

/// Litres an hour that a heater warms from supply to rinse temperature.
///
/// # Formula
/// kW x efficiency x 3600 / (4.1868 kJ/(kg K) x rise), a litre taken as one kilogram
pub(crate) fn recovers_l_per_h(heater_kw: f64, uses: &Utilities) -> f64 {
    let rise = (uses.rinse_c - uses.supply_c).max(0.1);
    heater_kw * uses.heating_efficiency * 3600.0 / (WATER_KJ_PER_KG_K * rise)
}

/// The store of rinse water.
pub(crate) fn hot_water(written: &HotWaterFile, uses: &Utilities) -> HotWater {
    let ul = |litres: f64| (litres * 1e6).round() as u64;
    HotWater {
        store_ul: ul(written.store_l).max(1),
        rack_ul: ul(uses.rinse_l_per_rack()),
        recovers_ul_per_h: ul(recovers_l_per_h(written.heater_kw, uses)).clamp(1, 4_000_000_000),
    }
}

/// The reservoir of detergent; what a rack takes follows from its rinse water.
pub(crate) fn dosing(written: &DetergentFile, uses: &Utilities) -> Dosing {
    let mg = |kg: f64| (kg * 1e6).round() as u64;
    let warns = written.warns_below_kg.unwrap_or(written.reservoir_kg / 5.0);
    Dosing {
        reservoir_mg: mg(written.reservoir_kg),
        rack_mg: (uses.rinse_l_per_rack() * uses.detergent_g_per_l * 1000.0).round() as u64,
        warns_below_mg: mg(warns),
    }
}
