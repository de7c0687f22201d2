//! What a picture shows, quarter hour by quarter hour (by longer parts for a run of many days).

use scullery_study::summary::{Band, Profile};

use super::Table;
use crate::clock::{Window, hour_minute};
use crate::lettering::printable;
use crate::number::{DASH, Units, row_texts};
use crate::palette::state_look;

/// Whether a band holds a running count, and whether its low values are the ones that matter.
fn reading(band: &Band) -> Reading {
    match band.role.as_str() {
        "served" | "dropped_off" | "cleared" | "clean" => Reading::AtEnd,
        "stock" | "empty_racks" => Reading::Lowest,
        _ => Reading::Highest,
    }
}

/// Which minute of a quarter hour speaks for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Reading {
    /// The last (running counts).
    AtEnd,
    /// The one with the lowest value (stocks).
    Lowest,
    /// The one with the highest value.
    Highest,
}

impl Reading {
    fn of(self, values: &[f64]) -> Option<f64> {
        match self {
            Reading::AtEnd => values.last().copied(),
            Reading::Lowest => values.iter().copied().reduce(f64::min),
            Reading::Highest => values.iter().copied().reduce(f64::max),
        }
    }

    fn words(self, period: &str) -> String {
        match self {
            Reading::AtEnd => format!("the count at the end of the {period}"),
            Reading::Lowest => format!("the lowest point of the line within the {period}"),
            Reading::Highest => format!("the highest point of the line within the {period}"),
        }
    }
}

/// The minutes of a quarter hour, as far as the band has them.
fn part(values: &[f64], minutes: &std::ops::Range<usize>) -> Vec<f64> {
    values
        .get(minutes.start..minutes.end.min(values.len()))
        .unwrap_or_default()
        .to_vec()
}

fn average(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// One band: its middle, 5th and 95th lunch, and the average level.
pub fn band_quarters(band: &Band, window: Window, units: Units) -> Table {
    let reading = reading(band);
    let counts = reading == Reading::AtEnd;
    let last = if counts {
        "Mean count"
    } else {
        "Average level"
    };
    let period = window.period_words();
    let caption = format!(
        "{} ({}), by {period}. Middle, low and high lunch: {}.",
        printable(&band.title),
        units.unit_words(&band.unit),
        reading.words(period)
    );
    let mut table = Table::new(
        caption,
        &[
            &from_words(window),
            "Middle lunch",
            "5th of 100",
            "95th of 100",
            last,
        ],
    );
    for (from, minutes) in window.periods() {
        let at = |values: &[f64]| reading.of(&part(values, &minutes));
        let mean = part(&band.mean, &minutes);
        let level = if counts {
            mean.last().copied()
        } else {
            average(&mean)
        };
        let row = row_texts(
            [at(&band.p50), at(&band.p05), at(&band.p95), level],
            &band.unit,
            units,
        );
        table.rows.push(
            std::iter::once(hour_minute(u64::from(from)))
                .chain(row)
                .collect(),
        );
    }
    table
}

/// Several bands: a column a band, each cell `middle (5th to 95th)`.
pub fn bands_quarters(bands: &[&Band], window: Window, units: Units) -> Table {
    let period = window.period_words();
    let words = bands
        .first()
        .map_or_else(String::new, |band| reading(band).words(period));
    let caption = format!(
        "By {period}: the middle lunch, and in brackets the 5th to the 95th of 100; {words}."
    );
    let mut table = Table::new(caption, &[&from_words(window)]);
    table.head.extend(
        bands
            .iter()
            .map(|b| format!("{} ({})", printable(&b.title), units.unit_words(&b.unit))),
    );
    for (from, minutes) in window.periods() {
        let mut row = vec![hour_minute(u64::from(from))];
        row.extend(bands.iter().map(|band| {
            let at = |values: &[f64]| reading(band).of(&part(values, &minutes));
            let [p50, p05, p95] = row_texts(
                [at(&band.p50), at(&band.p05), at(&band.p95)],
                &band.unit,
                units,
            );
            if p50 == DASH {
                p50
            } else {
                format!("{p50} ({p05} to {p95})")
            }
        }));
        table.rows.push(row);
    }
    table
}

/// Head of the first column.
fn from_words(window: Window) -> String {
    let period = window.period_words();
    format!("{}{} from", period[..1].to_uppercase(), &period[1..])
}

/// What people or machines did: a column each, each cell the states that took at least 0.5 % of the time.
pub fn profile_quarters(profiles: &[&Profile], window: Window) -> Table {
    let caption = format!(
        "By {}: share of the time in each state, in per cent, mean over the lunches; below 0.5 % is left out.",
        window.period_words()
    );
    let mut table = Table::new(caption, &[&from_words(window)]);
    table
        .head
        .extend(profiles.iter().map(|p| printable(&p.name)));
    for (from, minutes) in window.periods() {
        let mut row = vec![hour_minute(u64::from(from))];
        row.extend(
            profiles
                .iter()
                .map(|profile| state_texts(profile, &minutes)),
        );
        table.rows.push(row);
    }
    table
}

/// Shares of each state of a profile over these minutes of the window; `None` past the profile's end.
pub fn state_shares(profile: &Profile, minutes: &std::ops::Range<usize>) -> Option<Vec<f64>> {
    let quarters = profile
        .quarters
        .get(minutes.start / 15..)
        .unwrap_or_default();
    let quarters = &quarters[..quarters.len().min(minutes.len().div_ceil(15))];
    let mean = |state: usize| {
        average(
            &quarters
                .iter()
                .filter_map(|q| q.get(state).copied())
                .collect::<Vec<_>>(),
        )
    };
    (!quarters.is_empty()).then(|| {
        (0..profile.states.len())
            .map(|state| mean(state).unwrap_or(0.0))
            .collect()
    })
}

fn state_texts(profile: &Profile, minutes: &std::ops::Range<usize>) -> String {
    let shares = state_shares(profile, minutes).unwrap_or_default();
    let parts: Vec<String> = profile
        .states
        .iter()
        .zip(shares)
        .filter(|(_, share)| *share >= 0.005)
        .map(|(state, share)| {
            format!(
                "{} {:.0}",
                state_look(state, &profile.kind).words,
                share * 100.0
            )
        })
        .collect();
    if parts.is_empty() {
        DASH.to_owned()
    } else {
        parts.join(", ")
    }
}
