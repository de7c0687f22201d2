//! Keys that carry a unit may be written in the other units of their kind; inside they stand in one.

use serde_json::Value;

/// A unit that may stand at the end of a key instead of the one kept inside.
struct Unit {
    /// The end of the key as kept.
    kept: &'static str,
    /// The end of the key as it may be written.
    written: &'static str,
    /// One written unit in kept units.
    factor: f64,
}

const GALLON_L: f64 = 3.785_411_784;
const POUND_KG: f64 = 0.453_592_37;
const OUNCE_KG: f64 = 0.028_349_523_125;

const fn unit(kept: &'static str, written: &'static str, factor: f64) -> Unit {
    Unit {
        kept,
        written,
        factor,
    }
}

/// Longer ends come first: the first that fits a key is its own.
const UNITS: [Unit; 20] = [
    unit("_m_per_min", "_ft_per_min", 0.3048),
    unit("_l_per_min", "_gal_per_min", GALLON_L),
    unit("_kg_per_min", "_lb_per_min", POUND_KG),
    unit("_l_per_rack", "_gal_per_rack", GALLON_L),
    unit("_l_per_h", "_gal_per_h", GALLON_L),
    unit("_g_per_l", "_oz_per_gal", 1000.0 * OUNCE_KG / GALLON_L),
    unit("_per_m3", "_per_1000_gal", 1.0 / GALLON_L),
    unit("_per_kg", "_per_lb", 1.0 / POUND_KG),
    unit("_temp_c", "_temp_f", 5.0 / 9.0),
    unit("_m", "_ft", 0.3048),
    unit("_m", "_in", 0.0254),
    unit("_m", "_cm", 0.01),
    unit("_m", "_mm", 0.001),
    unit("_l", "_gal", GALLON_L),
    unit("_kg", "_g", 0.001),
    unit("_kg", "_lb", POUND_KG),
    unit("_kg", "_oz", OUNCE_KG),
    unit("_s", "_min", 60.0),
    unit("_min", "_s", 1.0 / 60.0),
    unit("_min", "_h", 60.0),
];

/// Keys that end like a unit and are none.
const NO_UNIT: [&str; 3] = ["per_min", "piece_s", "slots_per_m"];

fn of_key(key: &str) -> impl Iterator<Item = &'static Unit> + '_ {
    let kept = if NO_UNIT.contains(&key) {
        None
    } else {
        UNITS
            .iter()
            .map(|unit| unit.kept)
            .find(|end| key.ends_with(end))
    };
    UNITS.iter().filter(move |unit| Some(unit.kept) == kept)
}

/// The other ways of writing a key that is kept under `key`.
pub(crate) fn others(key: &str) -> impl Iterator<Item = String> + '_ {
    of_key(key).map(move |unit| format!("{}{}", &key[..key.len() - unit.kept.len()], unit.written))
}

/// A value written under `written`, in the unit of `kept`.
pub(crate) fn convert(kept: &str, written: &str, value: f64) -> f64 {
    if kept == written {
        return value;
    }
    let unit = of_key(kept)
        .find(|unit| written.strip_suffix(unit.written) == kept.strip_suffix(unit.kept));
    match unit {
        Some(unit) if unit.written == "_temp_f" => (value - 32.0) * unit.factor,
        Some(unit) => value * unit.factor,
        None => value,
    }
}

/// A bound of `kept` in the unit of `written`, rounded to six figures.
pub(crate) fn bound(kept: &str, written: &str, bound: f64) -> f64 {
    let exact = if written.ends_with("_temp_f") {
        bound * 9.0 / 5.0 + 32.0
    } else {
        bound / convert(kept, written, 1.0)
    };
    format!("{exact:.5e}").parse().unwrap_or(exact)
}

/// Keys inside an amount that are in the amount's unit.
const SCALED: [&str; 12] = [
    "mean",
    "sd",
    "min",
    "mode",
    "max",
    "constant",
    "exponential",
    "readings",
    "lognormal",
    "gamma",
    "triangular",
    "pert",
];

/// Turns an amount written under `written` into the unit of `kept`, numbers and distributions alike.
pub(crate) fn convert_amount(kept: &str, written: &str, value: &mut Value) {
    match value {
        Value::Number(number) => {
            if let Some(written_value) = number.as_f64() {
                *value = serde_json::json!(convert(kept, written, written_value));
            }
        }
        Value::Array(items) => items
            .iter_mut()
            .for_each(|item| convert_amount(kept, written, item)),
        Value::Object(entries) => entries
            .iter_mut()
            .filter(|(key, _)| {
                SCALED.contains(&key.as_str())
                    || ["weibull", "normal", "uniform"].contains(&key.as_str())
            })
            .for_each(|(_, item)| convert_amount(kept, written, item)),
        _ => {}
    }
}
