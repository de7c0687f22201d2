//! Sentences on what a search found.

use super::found::{CrewStudy, Row, SizeStudy};
use crate::search::{Fate, Found, MOST_PROMISED};
use crate::words::of_100;

/// A fate in words.
pub fn fate(fate: Fate) -> &'static str {
    match fate {
        Fate::Holds => "holds",
        Fate::Fails(_) => "fails",
        Fate::NotSure => "not sure",
        Fate::Open => "not looked at to the end",
        Fate::PassedOver => "passed over",
    }
}

/// The promise of a search, or why there is none.
pub fn promise(found: &Found, alpha: f64, indifference: f64, what: &str) -> String {
    let points = indifference * 100.0;
    if found.stopped {
        return "The search was stopped, so nothing is promised; what is said holds as far as it was looked at.".into();
    }
    if !found.promised {
        return format!(
            "There are more than {MOST_PROMISED} to choose from, so nothing is promised: {} that had less of everything than \
             one that failed were passed over.",
            found.passed_over
        );
    }
    let sure = of_100(1.0 - alpha);
    let unsure = found
        .tried
        .iter()
        .filter(|t| t.fate == Fate::NotSure)
        .count();
    let but = match unsure {
        0 => String::new(),
        1 => format!(
            " One {what} could not be decided within the most lunches allowed; of it nothing is said."
        ),
        n => format!(
            " {n} could not be decided within the most lunches allowed; of these nothing is said."
        ),
    };
    match found.winner {
        Some(_) => format!(
            "In {sure} of 100 such searches at least, the {what} named meets every target to within {points} lunches of 100, \
             and costs no more than the cheapest on the list that meets every target with {points} lunches of 100 to \
             spare.{but}"
        ),
        None => format!(
            "In {sure} of 100 such searches at least, a {what} on the list that meets every target with {points} lunches of \
             100 to spare would have been named.{but}"
        ),
    }
}

/// A cost in words.
pub fn cost_words(cost: f64, currency: &str) -> String {
    match currency {
        "" => format!("{cost:.1} hours"),
        currency => format!("{cost:.2} {currency}"),
    }
}

/// The sentence on a search for a crew.
pub fn crew_answer(study: &CrewStudy) -> String {
    let day = study.about.day_words.trim().trim_end_matches('.');
    let crew = |row: &Row| {
        format!(
            "{} for {:.2} paid hours, {} a meal ({})",
            people(row.people),
            row.hours,
            cost_words(row.cost, &study.about.currency),
            row.words
        )
    };
    let mut parts = Vec::new();
    match study.marked("chosen") {
        Some(row) => parts.push(format!("the cheapest crew that holds has {}", crew(row))),
        None if study.searched.stopped => {
            parts.push("the search was stopped before a crew was found that holds".into())
        }
        None => parts.push(format!(
            "none of the {} crews is shown to hold every target",
            study.searched.choices
        )),
    }
    let alike = study
        .rows
        .iter()
        .filter(|row| row.is("not told apart"))
        .count();
    if alike > 0 && study.marked("chosen").is_some() {
        parts.push(format!("{alike} more could not be told apart from it"));
    }
    if let (Some(now), Some(chosen)) = (study.marked("now"), study.marked("chosen")) {
        parts.push(match now.is("chosen") {
            true => "that is the crew as it is".into(),
            false => format!(
                "the crew as it is has {} for {:.2} hours and {} ({:+.2} hours)",
                people(now.people),
                now.hours,
                match now.verdict.as_str() {
                    "holds" => "holds too",
                    "fails" => "does not hold",
                    _ => "is not sure to hold",
                },
                chosen.hours - now.hours
            ),
        });
    }
    if let Some(row) = study.marked("holds with one missing") {
        parts.push(format!(
            "a crew of {} holds whoever is missing ({})",
            people(row.people),
            row.words
        ));
    }
    if let (Some(_), Some(target)) = (
        study.marked("chosen").is_none().then_some(()),
        most_failed(study),
    ) {
        parts.push(format!(
            "what fails most often is \"{}\"",
            target.trim_end_matches('.')
        ));
    }
    format!("On {day}, {}.", parts.join("; "))
}

/// The target that most crews failed first.
fn most_failed(study: &CrewStudy) -> Option<&str> {
    let count = |target: &str| {
        study
            .tried
            .iter()
            .filter(|t| t.failed.as_deref() == Some(target))
            .count()
    };
    let best = study.about.targets.iter().max_by_key(|t| count(t))?;
    (count(best) > 0).then_some(best.as_str())
}

/// `1 person`, `4 people`.
pub fn people(count: u32) -> String {
    match count {
        1 => "1 person".into(),
        many => format!("{many} people"),
    }
}

/// The sentence on a search for a size.
pub fn size_answer(study: &SizeStudy) -> String {
    let day = study.about.day_words.trim().trim_end_matches('.');
    let chosen = study.rows.iter().find(|row| row.is("chosen"));
    let mut parts = Vec::new();
    match chosen {
        Some(row) => parts.push(format!(
            "with the crew as it is the least {} that holds is {}",
            study.what, row.words
        )),
        None if study.searched.stopped => {
            parts.push("the search was stopped before a size was found that holds".into())
        }
        None => {
            parts.push(format!(
                "no size helps: none of the {} of {} holds",
                study.searched.choices, study.what
            ));
            if let Some(binds) = &study.binds {
                parts.push(format!("with the largest, {binds}"));
            }
        }
    }
    let cheapest = study.trades.iter().filter(|t| t.total_a_year.is_some());
    let cheapest = cheapest.min_by(|a, b| {
        a.total_a_year
            .partial_cmp(&b.total_a_year)
            .unwrap_or(std::cmp::Ordering::Equal)
    });
    if let (Some(best), Some(total)) = (cheapest, cheapest.and_then(|t| t.total_a_year)) {
        parts.push(format!(
            "of the crews tried, {} with {} costs least over the years: {:.0} {} a year for labour and {}",
            best.crew,
            best.size.as_deref().unwrap_or("-"),
            total,
            study.about.currency,
            study.what
        ));
    }
    format!("On {day}, {}.", parts.join("; "))
}
