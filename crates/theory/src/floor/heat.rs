//! Energy to heat water. Final-rinse water scalds within seconds: this is for bills and plates, never for setting a
//! machine; follow its data plate and the local code.

use crate::solve::{not_negative, positive};

/// Specific heat of water, J per kg and kelvin (1 kcal is 4186.8 J).
pub const JOULES_PER_KG_KELVIN: f64 = 4186.8;

/// Joules in a kilowatt-hour.
const JOULES_PER_KWH: f64 = 3.6e6;

/// Energy, kWh, to heat `litres` of water (1 kg each) by `rise_k` kelvin: `mass x specific heat x rise / efficiency`.
/// `None` unless the efficiency is above 0 and at most 1, and the others not negative.
pub fn heating_kwh(litres: f64, rise_k: f64, efficiency: f64) -> Option<f64> {
    let heat_j = not_negative(litres)? * JOULES_PER_KG_KELVIN * not_negative(rise_k)?;
    let efficiency = positive(efficiency)?;
    (efficiency <= 1.0).then_some(heat_j / efficiency / JOULES_PER_KWH)
}
