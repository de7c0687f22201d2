//! When covers are served, and how days differ.

use scullery_engine::demand::{Covers, Days, How};
use scullery_engine::time::{SimTime, Span};

use super::Load;
use super::arrivals;
use super::checker::Checker;
use crate::defaults;
use crate::describe::words;
use crate::file::{Come, CoversFile, DaysFile, DesignDay, ScenarioFile};
use crate::moments;

/// Most covers of one meal.
const MOST_COVERS: f64 = 1_000_000.0;

/// When covers are served.
pub(crate) fn covers(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    load: Load<'_>,
    notices: &mut Vec<String>,
) -> Covers {
    let covers = match &file.covers {
        CoversFile::PerInterval {
            from,
            every_min,
            counts,
            come,
        } => {
            let first = check.clock("covers.per_interval.from", from);
            let every = Span::from_min(*every_min).us().max(1);
            let edges = (0..=counts.len() as u64)
                .map(|number| first + Span::from_us(every.saturating_mul(number)));
            Covers::PerInterval {
                edges: edges.collect(),
                counts: counts.clone(),
                how: how(*come),
            }
        }
        CoversFile::Between {
            times,
            counts,
            come,
        } => {
            if times.len() != counts.len() + 1 {
                let message = format!(
                    "{} counts lie between {} times, found {}",
                    counts.len(),
                    counts.len() + 1,
                    times.len()
                );
                check.fault(
                    "lists-differ",
                    "covers.between.counts",
                    message,
                    "give one time more than there are counts",
                );
            }
            let edges = check.rising(
                |index| format!("covers.between.times.{index}"),
                &times.iter().collect::<Vec<_>>(),
            );
            Covers::PerInterval {
                edges,
                counts: counts.clone(),
                how: how(*come),
            }
        }
        CoversFile::Rates { times, per_min } => {
            if times.len() != per_min.len() {
                let message = format!(
                    "there is one rate a time, found {} rates and {} times",
                    per_min.len(),
                    times.len()
                );
                check.fault(
                    "lists-differ",
                    "covers.rates.per_min",
                    message,
                    "give as many rates as times",
                );
            }
            let edges = check.rising(
                |index| format!("covers.rates.times.{index}"),
                &times.iter().collect::<Vec<_>>(),
            );
            Covers::PerInterval {
                edges,
                counts: per_min.clone(),
                how: How::PoissonLinear,
            }
        }
        CoversFile::Instants(texts) => {
            let mut instants: Vec<SimTime> = Vec::with_capacity(texts.len());
            for (index, text) in texts.iter().enumerate() {
                let path = format!("covers.instants.{index}");
                let at = check.clock(&path, text);
                if let Some(last) = instants.last().filter(|last| at < **last) {
                    let message = format!(
                        "times must rise, found {text} after {}",
                        words::clock(*last)
                    );
                    check.fault(
                        "times-out-of-order",
                        &path,
                        message,
                        "put them in clock order",
                    );
                }
                instants.push(at);
            }
            Covers::Instants(instants)
        }
        CoversFile::Table(table) => Covers::Instants(arrivals::read(check, table, load, notices)),
    };
    let total = expected(&covers);
    if total > MOST_COVERS {
        let message = format!("a meal has at most {MOST_COVERS} covers, found {total:.0}");
        check.fault("too-large", "covers", message, "simulate a shorter time");
    } else if total <= 0.0 && check.faults.is_empty() {
        check.fault(
            "no-covers",
            "covers",
            "nobody comes to this meal".to_owned(),
            "give at least one cover",
        );
    }
    covers
}

fn how(come: Option<Come>) -> How {
    match come {
        None | Some(Come::Poisson) => How::Poisson,
        Some(Come::Evenly) => How::Evenly,
        Some(Come::AtRandom) => How::AtRandom,
    }
}

/// Covers expected on a day like the one stated.
pub(crate) fn expected(covers: &Covers) -> f64 {
    match covers {
        Covers::Instants(instants) | Covers::CameAt(instants) => instants.len() as f64,
        Covers::PerInterval {
            edges,
            counts,
            how: How::PoissonLinear,
        } => {
            let spans = edges.windows(2).map(|edge| edge[1].since(edge[0]).min());
            spans
                .zip(counts.windows(2))
                .map(|(minutes, rate)| minutes * (rate[0] + rate[1]) / 2.0)
                .sum()
        }
        Covers::PerInterval { counts, .. } => counts.iter().sum(),
    }
}

/// How days differ, and the words that say which day the answer speaks of.
pub(crate) fn days(check: &mut Checker<'_>, file: &ScenarioFile) -> (Days, String) {
    if matches!(file.covers, CoversFile::Instants(_) | CoversFile::Table(_)) {
        if file.days.is_some() {
            let message = "observed instants are one day as it was and are not scaled".to_owned();
            check.fault(
                "days-of-instants",
                "days",
                message,
                "leave `days` out, or give covers by interval",
            );
        }
        return (Days::Design(1.0), "the observed day, replayed".to_owned());
    }
    let percent = |cv: f64| defaults::rounded(cv * 100.0);
    match &file.days {
        None => {
            check.note("days.vary.cv", &defaults::DAYS_CV);
            let cv = defaults::DAYS_CV.value;
            (
                Days::Vary { cv },
                format!(
                    "days as they come (covers vary by {} % from day to day, a default)",
                    percent(cv)
                ),
            )
        }
        Some(DaysFile::Vary { cv }) if *cv == 0.0 => (
            Days::Design(1.0),
            "the stated day, with no difference between days".to_owned(),
        ),
        Some(DaysFile::Vary { cv }) => (
            Days::Vary { cv: *cv },
            format!(
                "days as they come (covers vary by {} % from day to day)",
                percent(*cv)
            ),
        ),
        Some(DaysFile::PastCounts(counts)) => {
            let factors = factors(check, counts, "days.past_counts");
            (
                Days::Past(factors),
                format!("days as they come (like {} past days)", counts.len()),
            )
        }
        Some(DaysFile::DesignDay(DesignDay::Mean)) => (
            Days::Design(1.0),
            "the mean day (covers as stated)".to_owned(),
        ),
        Some(DaysFile::DesignDay(DesignDay::Factor(factor))) => (
            Days::Design(*factor),
            format!("a day with {} % of the stated covers", percent(*factor)),
        ),
        Some(DaysFile::DesignDay(DesignDay::Busy { cv, past_counts })) => {
            busy(check, *cv, past_counts.as_deref())
        }
    }
}

fn busy(check: &mut Checker<'_>, cv: Option<f64>, past: Option<&[f64]>) -> (Days, String) {
    let factor = match (cv, past) {
        (Some(_), Some(_)) => {
            let message = "a busy day is that of `cv` or of `past_counts`, found both".to_owned();
            check.fault(
                "said-twice",
                "days.design_day.busy.cv",
                message,
                "keep one of the two",
            );
            1.0
        }
        (_, Some(counts)) => {
            let mut factors = factors(check, counts, "days.design_day.busy.past_counts");
            factors.sort_unstable_by(f64::total_cmp);
            // The 9th of 10: nine tenths of the past days had at most so many.
            let rank = (factors.len() * 9).div_ceil(10);
            factors.get(rank.saturating_sub(1)).copied().unwrap_or(1.0)
        }
        (cv, None) => moments::busy_factor(check.or_default(
            cv,
            "days.design_day.busy.cv",
            &defaults::DAYS_CV,
        )),
    };
    (
        Days::Design(factor),
        format!(
            "a busy day (9th of 10, {} % of the stated covers)",
            defaults::rounded(factor * 100.0)
        ),
    )
}

fn factors(check: &mut Checker<'_>, counts: &[f64], path: &str) -> Vec<f64> {
    let mean = counts.iter().sum::<f64>() / counts.len().max(1) as f64;
    if mean <= 0.0 {
        check.fault(
            "no-mean",
            path,
            "past counts must have a mean above 0".to_owned(),
            "leave out the days when the room was closed",
        );
        return vec![1.0];
    }
    counts.iter().map(|count| count / mean).collect()
}
