//! How a number is written: as many digits as mean something, in the reader's units, a dash where there is none.

use scullery_study::summary::{Measure, Summary};

use crate::clock::clock_text;

/// Stands where a value is missing; never `0`.
pub const DASH: &str = "-";

/// Units in which a reader wants lengths, water and weights.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Units {
    /// Metres, litres, kilograms, degrees Celsius.
    Metric,
    /// Feet, US gallons, pounds, degrees Fahrenheit.
    Us,
}

impl Units {
    /// The units a summary names: `us`, else metric.
    pub fn named(name: &str) -> Units {
        if name == "us" {
            Units::Us
        } else {
            Units::Metric
        }
    }

    /// Grams of the weight that this reader says, and its name.
    pub fn weight(self) -> (f64, &'static str) {
        match self {
            Units::Metric => (1000.0, "kg"),
            Units::Us => (453.592_37, "lb"),
        }
    }

    /// A value as this reader wants it. Grams, in which waste is counted, are told as the weights people say.
    ///
    /// # Source
    /// International yard and pound agreement of 1959 (0.3048 m, 0.453 592 37 kg); US liquid gallon of 231 cubic inches.
    pub fn shown(self, value: f64, unit: &str) -> f64 {
        if unit == "grams" {
            return value / self.weight().0;
        }
        if self == Units::Metric {
            return value;
        }
        match unit {
            "m" => value / 0.3048,
            "L" | "l" => value / 3.785_411_784,
            "kg" => value / 0.453_592_37,
            "C" | "deg_c" => value * 1.8 + 32.0,
            _ => value,
        }
    }

    /// The name of a unit as this reader wants it, in words.
    pub fn unit_words(self, unit: &str) -> &str {
        match (self, unit) {
            (Units::Us, "m") => "ft",
            (Units::Us, "L" | "l") => "gal",
            (_, "grams") => self.weight().1,
            (Units::Us, "kg") => "lb",
            (Units::Us, "C" | "deg_c") => "°F",
            (_, "l") => "L",
            (_, "C" | "deg_c") => "°C",
            (_, "share") => "%",
            (_, "clock_min") => "clock",
            (_, "count") => "",
            (_, "racks_per_h") => "racks/h",
            (_, "covers_per_h") => "covers/h",
            (_, "pieces_per_h") => "pieces/h",
            (_, other) => other,
        }
    }
}

/// The unit that is to stand behind a measure's label: nothing where the label says it already or there is none to say,
/// the user's sign for money.
pub fn unit_beside(measure: &Measure, summary: &Summary, units: Units) -> String {
    unit_beside_named(
        &measure.label,
        &measure.unit,
        &summary.heading.currency,
        units,
    )
}

/// As [`unit_beside`], for a label and a unit.
pub fn unit_beside_named(label: &str, unit: &str, currency: &str, units: Units) -> String {
    let unit = match unit {
        "clock_min" => return String::new(),
        "money" => currency,
        unit => units.unit_words(unit),
    };
    let said = label
        .to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .any(|word| word == unit);
    if said { String::new() } else { unit.to_owned() }
}

/// Digits after the point for values of this size: three that mean something.
fn decimals(largest: f64) -> usize {
    match largest.abs() {
        size if size >= 99.95 => 0,
        size if size >= 9.995 => 1,
        _ => 2,
    }
}

/// Values of one row, written alike: the digits follow the largest, whole numbers stay whole.
///
/// Shares become per cent, `clock_min` becomes a time of day. The unit is not written ([`Units::unit_words`] names it).
pub fn row_texts<const N: usize>(
    values: [Option<f64>; N],
    unit: &str,
    units: Units,
) -> [String; N] {
    let scaled = values.map(|value| {
        value.filter(|v| v.is_finite()).map(|v| {
            if unit == "share" {
                v * 100.0
            } else {
                units.shown(v, unit)
            }
        })
    });
    if unit == "clock_min" {
        return scaled.map(|value| value.map_or_else(|| DASH.to_owned(), clock_text));
    }
    let largest = scaled
        .iter()
        .flatten()
        .fold(0.0_f64, |most, v| most.max(v.abs()));
    let whole = scaled.iter().flatten().all(|v| v.fract().abs() < 1e-9);
    let digits = match (whole, unit) {
        (_, "money") => 2,
        (true, _) => 0,
        (false, "share") => 1,
        (false, _) => decimals(largest),
    };
    scaled.map(|value| value.map_or_else(|| DASH.to_owned(), |v| fixed(v, digits)))
}

/// One value, written as [`row_texts`] writes a row of one.
pub fn one_text(value: Option<f64>, unit: &str, units: Units) -> String {
    let [text] = row_texts([value], unit, units);
    text
}

/// A number with a fixed count of digits after the point, thousands set apart by commas from 10,000 on, never `-0`.
pub fn fixed(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    let text = match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| matches!(c, '0' | '.')) => rest.to_owned(),
        _ => text,
    };
    let (sign, rest) = text
        .strip_prefix('-')
        .map_or(("", text.as_str()), |rest| ("-", rest));
    let (whole, part) = rest
        .split_once('.')
        .map_or((rest, ""), |(whole, part)| (whole, part));
    let mut out = String::from(sign);
    for (at, digit) in whole.chars().enumerate() {
        if whole.len() > 4 && at > 0 && (whole.len() - at).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    if !part.is_empty() {
        out.push('.');
        out.push_str(part);
    }
    out
}

/// An amount of money with two digits after the point.
pub fn money(value: Option<f64>) -> String {
    value
        .filter(|v| v.is_finite())
        .map_or_else(|| DASH.to_owned(), |v| fixed(v, 2))
}

/// Two ends of an interval, or a dash when there is none.
pub fn between(low: &str, high: &str) -> String {
    if low == DASH || high == DASH {
        DASH.to_owned()
    } else {
        format!("{low} to {high}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_missing_is_a_dash_and_never_nought() {
        assert_eq!(row_texts([None, Some(0.0)], "s", Units::Metric), ["-", "0"]);
        assert_eq!(one_text(Some(f64::NAN), "s", Units::Metric), "-");
        assert_eq!(money(None), "-");
        assert_eq!(between("3", "-"), "-");
    }

    #[test]
    fn a_row_is_written_with_the_digits_of_its_largest() {
        assert_eq!(
            row_texts([Some(83.4), Some(9.04)], "s", Units::Metric),
            ["83.4", "9.0"]
        );
        assert_eq!(
            row_texts([Some(1294.3), Some(12.0)], "count", Units::Metric),
            ["1294", "12"]
        );
        assert_eq!(
            row_texts([Some(0.873), Some(0.5)], "share", Units::Metric),
            ["87.3", "50.0"]
        );
        assert_eq!(one_text(Some(891.4), "clock_min", Units::Metric), "14:52");
    }

    #[test]
    fn customary_units_are_converted_by_their_definitions() {
        assert_eq!(one_text(Some(3.785_411_784), "L", Units::Us), "1");
        assert_eq!(one_text(Some(0.3048), "m", Units::Us), "1");
        assert_eq!(Units::Us.unit_words("kg"), "lb");
        assert_eq!(one_text(Some(453.592_37), "grams", Units::Us), "1");
        assert_eq!(Units::Us.unit_words("grams"), "lb");
        assert_eq!(Units::Metric.unit_words("share"), "%");
    }

    #[test]
    fn grams_are_told_as_kilograms() {
        assert_eq!(
            row_texts([Some(14_500.0), Some(320.0)], "grams", Units::Metric),
            ["14.5", "0.3"]
        );
        assert_eq!(Units::Metric.unit_words("grams"), "kg");
    }

    #[test]
    fn thousands_stand_apart_and_nought_has_no_sign() {
        assert_eq!(fixed(1234.0, 0), "1234");
        assert_eq!(fixed(-1234567.891, 1), "-1,234,567.9");
        assert_eq!(fixed(-0.001, 2), "0.00");
    }
}
