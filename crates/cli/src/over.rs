//! The ranges over which numbers are varied, as they are written on the command line.

use scullery_study::vary::Varied;

use crate::arrangements::Start;
use crate::outcome::Stop;

/// A number and the values it takes.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Over {
    /// The number and its range.
    pub(crate) varied: Varied,
    /// Values written one by one; `None`: a range.
    pub(crate) listed: Option<Vec<f64>>,
}

/// How far a number goes either way when nothing is said.
const USUAL: f64 = 0.20;

impl Over {
    /// Reads `PATH`, `PATH=LOW..HIGH`, `PATH=-20%..20%` or `PATH=A,B,C`.
    ///
    /// # Errors
    /// When the path names nothing, or the range is none.
    pub(crate) fn read(text: &str, start: &Start) -> Result<Over, Stop> {
        let (path, range) = match text.split_once('=') {
            Some((path, range)) => (path.trim(), Some(range.trim())),
            None => (text.trim(), None),
        };
        let wrong = |what: &str| {
            Stop::wrong(format!(
                "--over `{text}`: {what}; write for example `{path}=20..50`, `{path}=-20%..20%` or `{path}=30,34,40`"
            ))
        };
        let place = start
            .document
            .at(path)
            .map_err(|why| Stop::wrong(format!("--over `{text}`: {why}")))?;
        if place.words.is_some() && place.number.is_none() {
            let words = place.words.unwrap_or_default();
            return Err(wrong(&format!("`{path}` is {words} here, not a number")));
        }
        let now = || {
            place.number.ok_or_else(|| {
                wrong(&format!(
                    "`{path}` is left out of the file, so a range in its own unit is needed"
                ))
            })
        };
        let varied = |low: f64, high: f64| Varied {
            path: place.path.clone(),
            present: place.number,
            whole: place.whole,
            low: low.min(high),
            high: low.max(high),
        };
        let one = |words: &str| -> Result<f64, Stop> {
            let words = words.trim();
            let (number, share) = match words.strip_suffix('%') {
                Some(percent) => (percent.trim(), true),
                None => (words, false),
            };
            let value: f64 = number
                .parse()
                .map_err(|_| wrong(&format!("`{words}` is no number")))?;
            if !value.is_finite() {
                return Err(wrong(&format!("`{words}` is no number")));
            }
            let value = if share {
                now()? * (1.0 + value / 100.0)
            } else {
                value
            };
            Ok(if place.whole { value.round() } else { value })
        };
        let Some(range) = range else {
            let now = now()?;
            let ends = [now * (1.0 - USUAL), now * (1.0 + USUAL)];
            let ends = if place.whole {
                [ends[0].floor(), ends[1].ceil()]
            } else {
                ends
            };
            return Over::checked(varied(ends[0], ends[1]), None, &wrong);
        };
        if let Some((low, high)) = range.split_once("..") {
            return Over::checked(varied(one(low)?, one(high)?), None, &wrong);
        }
        let mut values: Vec<f64> = range.split(',').map(one).collect::<Result<_, _>>()?;
        values.sort_by(f64::total_cmp);
        values.dedup_by(|a, b| a.total_cmp(b).is_eq());
        let (low, high) = (values[0], values[values.len() - 1]);
        Over::checked(varied(low, high), Some(values), &wrong)
    }

    fn checked(
        varied: Varied,
        listed: Option<Vec<f64>>,
        wrong: &dyn Fn(&str) -> Stop,
    ) -> Result<Over, Stop> {
        if varied.high > varied.low {
            Ok(Over { varied, listed })
        } else {
            Err(wrong("its range has no length"))
        }
    }

    /// The values of a grid.
    pub(crate) fn values(&self, steps: u32) -> Vec<f64> {
        self.listed
            .clone()
            .unwrap_or_else(|| self.varied.steps(steps))
    }
}
