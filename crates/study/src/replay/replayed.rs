//! A replayed lunch, all of it together, ready to be told.

use serde::{Deserialize, Serialize};

use super::account::{Account, clock};
use super::fit::FitResult;
use super::followed::{Followed, Mark};
use super::remedies::Remedies;
use super::seen::SeenBand;
use crate::summary::HeadingText;

/// A replayed lunch.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Replayed {
    /// What a manager can repeat.
    pub answer: String,
    /// Title and standing of the scenario.
    pub heading: HeadingText,
    /// How her tables were read, in plain sentences.
    pub notices: Vec<String>,
    /// Trays that her arrivals mean, and racks washed: for her to check against one number she knows.
    pub counted: Counted,
    /// What happened, in order, at her lunch without luck of work.
    pub account: Account,
    /// What she saw beside lunches like hers.
    pub seen: Vec<SeenBand>,
    /// Everything she looked at, minute by minute through the lunch.
    pub followed: Vec<Followed>,
    /// What is known to have happened, for the clock axis.
    pub marks: Vec<Mark>,
    /// Unknown numbers fitted, if any were asked.
    pub fit: Option<FitResult>,
    /// Remedies tried, if they were asked.
    pub remedies: Option<Remedies>,
    /// Seed of all luck.
    pub seed: u64,
    /// Lunches like hers that were simulated.
    pub repeats: u64,
    /// How many were asked for.
    pub asked: u64,
    /// What the scenario means, in plain sentences.
    pub assumptions: Vec<String>,
    /// Cautions that belong to what is in it.
    pub cautions: Vec<String>,
}

/// Numbers to check.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Counted {
    /// Instants or counts in her table.
    pub arrivals: f64,
    /// Trays dropped off in lunches like hers, mean.
    pub trays: Option<f64>,
    /// Racks washed in lunches like hers, mean, all machines.
    pub racks: Option<f64>,
    /// Trays she says there were.
    pub trays_seen: Option<f64>,
    /// Racks she says were washed.
    pub racks_seen: Option<f64>,
}

impl Counted {
    /// A sentence for her to check.
    pub fn words(&self) -> String {
        let mut text = format!("{:.0} arrivals were read", self.arrivals);
        if let Some(trays) = self.trays {
            text.push_str(&format!("; they mean {trays:.0} trays at the drop-off"));
        }
        if let Some(racks) = self.racks {
            text.push_str(&format!(" and {racks:.0} racks washed"));
        }
        text.push('.');
        for (what, simulated, seen) in [
            ("trays", self.trays, self.trays_seen),
            ("racks", self.racks, self.racks_seen),
        ] {
            if let (Some(simulated), Some(seen)) = (simulated, seen) {
                let off = 100.0 * (simulated - seen) / seen.max(1.0);
                text.push_str(&if off.abs() <= 10.0 {
                    format!(" You counted {seen:.0} {what}: that agrees within {:.0} %.", off.abs().max(1.0))
                } else {
                    format!(
                        " You counted {seen:.0} {what}: the replay has {off:+.0} %. Look at the shares of take-away and \
                         of shared trays before trusting the rest."
                    )
                });
            }
        }
        if self.trays_seen.is_none() && self.racks_seen.is_none() {
            text.push_str(" Check it against one number you know: trays seen, or racks washed.");
        }
        text
    }
}

/// A value of a measure in words.
fn value(x: f64, unit: &str) -> String {
    match unit {
        "clock_min" => clock(x),
        "people" => format!("{x:.0} people"),
        "s" => format!("{x:.0} s"),
        "min" => format!("{x:.0} min"),
        _ => format!("{x:.1} {unit}").trim_end().to_owned(),
    }
}

/// The answer: how bad it was, what did it, what would have saved it.
pub fn answer(account: &Account, remedies: Option<&Remedies>) -> String {
    let mut text = match account.most_standing {
        Some((most, at)) => format!(
            "At {} the most people stood with their trays: {most}.",
            clock(at)
        ),
        None => "Nobody had to stand with a tray.".to_owned(),
    };
    let Some(remedies) = remedies else {
        return text;
    };
    let unit = remedies.unit.as_str();
    let causes: Vec<String> = remedies
        .tried
        .iter()
        .filter(|it| it.undoes && it.helps)
        .filter_map(|it| {
            Some(format!(
                "{} ({} without it)",
                cause(&it.words),
                value(it.mean?, unit)
            ))
        })
        .take(2)
        .collect();
    let was = remedies.mean.map_or(String::new(), |mean| {
        format!(" In lunches like it: {}.", value(mean, unit))
    });
    text.push_str(&was);
    if !causes.is_empty() {
        text.push_str(&format!(
            " What did most to it: {}.",
            causes.join("; then ")
        ));
    }
    let saves: Vec<String> = remedies
        .tried
        .iter()
        .filter(|it| !it.undoes && it.helps && !it.pair)
        .filter_map(|it| Some(format!("{} ({})", it.words, value(it.mean?, unit))))
        .take(3)
        .collect();
    text.push_str(&if saves.is_empty() {
        " No single change that was tried would have made it surely better.".to_owned()
    } else {
        format!(" What would have helped most: {}.", saves.join("; "))
    });
    text
}

/// `without: dish stood from ...` is the cause `dish stood from ...`.
fn cause(words: &str) -> &str {
    words.strip_prefix("without: ").unwrap_or(words)
}
