//! Values, differences and their intervals in words and digits.

use scullery_study::paired::MeanDifference;
use scullery_study::summary::Measure;

use crate::number::{DASH, Units, between, row_texts, unit_beside_named};

/// The unit of a difference of two values: of two clock times it is minutes.
pub(super) fn difference_unit(unit: &str) -> &str {
    if unit == "clock_min" { "min" } else { unit }
}

/// Mean and its interval.
pub(super) fn mean_texts(value: &Measure, units: Units) -> [String; 2] {
    let [low, high] = value.ci95.map_or([None, None], |ends| ends.map(Some));
    let [mean, low, high] = row_texts([value.mean, low, high], &value.unit, units);
    [mean, between(&low, &high)]
}

/// A difference and its interval, with signs.
pub(super) fn difference_texts(
    difference: Option<&MeanDifference>,
    unit: &str,
    units: Units,
) -> [String; 2] {
    let Some(difference) = difference else {
        return [DASH.to_owned(), DASH.to_owned()];
    };
    if difference.identical {
        return ["0".to_owned(), "the same in every lunch".to_owned()];
    }
    signed_texts(difference.mean, difference.interval, unit, units)
}

/// A value and its interval, with signs.
pub(super) fn signed_texts(
    value: f64,
    interval: Option<[f64; 2]>,
    unit: &str,
    units: Units,
) -> [String; 2] {
    let [low, high] = interval.map_or([None, None], |ends| ends.map(Some));
    let texts = row_texts([Some(value), low, high], difference_unit(unit), units);
    let values = [Some(value), low, high];
    let [mean, low, high] = std::array::from_fn(|i| {
        let above = values[i].is_some_and(|value| value > 0.0)
            && texts[i].chars().any(|c| ('1'..='9').contains(&c));
        if above {
            format!("+{}", texts[i])
        } else {
            texts[i].clone()
        }
    });
    let ends = if low == high && low != DASH {
        format!("always {low}")
    } else {
        between(&low, &high)
    };
    [mean, ends]
}

/// Whether a difference is told apart from nought, in words.
pub(super) fn clear_words(difference: Option<&MeanDifference>) -> &'static str {
    match difference {
        None => DASH,
        Some(difference) if difference.identical => "exactly none",
        Some(difference) => match difference.interval {
            Some([low, _]) if low > 0.0 => "higher",
            Some([_, high]) if high < 0.0 => "lower",
            Some(_) => "not told apart",
            None => "one lunch only",
        },
    }
}

/// Label and unit of a measure as a row is called.
pub(super) fn named(label: &str, unit: &str, currency: &str, units: Units) -> String {
    let unit = unit_beside_named(label, unit, currency, units);
    if unit.is_empty() {
        label.to_owned()
    } else {
        format!("{label}, {unit}")
    }
}

/// A share of lunches as so many of 100.
pub(super) fn of_100(share: f64) -> String {
    let of = share * 100.0;
    if (of - of.round()).abs() < 0.05 {
        format!("{of:.0}")
    } else {
        format!("{of:.1}")
    }
}

/// The same with its sign.
pub(super) fn signed_of_100(share: f64) -> String {
    match of_100(share) {
        none if none == "-0" => "0".to_owned(),
        more if share > 0.0 && more != "0" => format!("+{more}"),
        text => text,
    }
}
