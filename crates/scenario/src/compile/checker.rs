//! What every check of meaning needs: the tree for places, the complaints and the defaults used so far.

use std::ops::Range;

use scullery_engine::dist::Dist;
use scullery_engine::time::{SimTime, Span};

use crate::defaults::Standard;
use crate::describe::words;
use crate::diagnostic::Diagnostic;
use crate::file::{Amount, AmountChoice, MeanSpread, Varies};
use crate::moments;
use crate::plan::DefaultUsed;
use crate::text::clock;
use crate::text::tree::Node;
use crate::text::walk::nearest;

/// Microseconds in a day.
const DAY: Span = Span::from_us(24 * 60 * scullery_engine::time::US_PER_MIN);
/// A time that comes so long after the start only by being moved to the next day was meant to lie before the start.
const LATEST: Span = Span::from_us(18 * 60 * scullery_engine::time::US_PER_MIN);

/// Collects complaints and defaults while a file is given its meaning.
pub(crate) struct Checker<'a> {
    tree: &'a Node,
    /// Complaints so far.
    pub(crate) faults: Vec<Diagnostic>,
    /// Defaults used so far.
    pub(crate) defaults: Vec<DefaultUsed>,
    /// Start of the run.
    pub(crate) starts: SimTime,
    /// Kinds of thing of which a name was not found; what follows from that alone is not told again.
    dangling: Vec<&'static str>,
}

impl<'a> Checker<'a> {
    pub(crate) fn new(tree: &'a Node) -> Self {
        Checker {
            tree,
            faults: Vec::new(),
            defaults: Vec::new(),
            starts: SimTime::MIDNIGHT,
            dangling: Vec::new(),
        }
    }

    /// Place of what `path` names.
    pub(crate) fn place(&self, path: &str) -> Range<usize> {
        self.tree.place(path)
    }

    /// The key at the end of `path` as the user wrote it, else as it is kept.
    pub(crate) fn key(&self, path: &str) -> String {
        self.tree
            .key_written(path)
            .or(path.rsplit('.').next())
            .unwrap_or("")
            .to_owned()
    }

    /// Complains about what `path` names.
    pub(crate) fn fault(
        &mut self,
        code: &'static str,
        path: &str,
        message: String,
        help: impl Into<String>,
    ) {
        let help = help.into();
        let help = (!help.is_empty()).then_some(help);
        self.faults.push(Diagnostic {
            code,
            at: self.place(path),
            message,
            help,
        });
    }

    /// A value, or its default, which is noted.
    pub(crate) fn or_default(
        &mut self,
        given: Option<f64>,
        path: &str,
        standard: &Standard,
    ) -> f64 {
        given.unwrap_or_else(|| {
            self.note(path, standard);
            standard.value
        })
    }

    /// Notes that `standard` stands in for what `path` names.
    pub(crate) fn note(&mut self, path: &str, standard: &Standard) {
        self.defaults.push(DefaultUsed {
            key: path.to_owned(),
            value: standard.words(),
            standing: standard.standing.to_owned(),
        });
    }

    /// A clock time; earlier than the start of the run means the next day.
    pub(crate) fn clock(&mut self, path: &str, text: &str) -> SimTime {
        let Some(clock) = clock::parse(text) else {
            let help = "write for example \"11:45\", \"11:45:30\" or \"7:30 pm\"";
            self.fault(
                "not-a-clock-time",
                path,
                format!(
                    "`{}` must be a clock time, found \"{text}\"",
                    self.key(path)
                ),
                help,
            );
            return self.starts;
        };
        let at = SimTime::from_us(clock.us);
        if at >= self.starts {
            return at;
        }
        let next_day = at + DAY;
        if clock.names_its_day || next_day.since(self.starts) > LATEST {
            let message = format!(
                "{text} lies before the start of the meal at {}",
                self.starts
            );
            self.fault(
                "before-the-start",
                path,
                message,
                "let `meal.starts` be earlier, or write a later time",
            );
            return self.starts;
        }
        next_day
    }

    /// A clock time not later than the start of the run.
    pub(crate) fn clock_before(&mut self, path: &str, text: &str) -> SimTime {
        let Some(clock) = clock::parse(text) else {
            return self.clock(path, text);
        };
        let at = SimTime::from_us(clock.us);
        if at > self.starts {
            let message = format!(
                "{text} is later than the start of the meal at {}",
                words::clock(self.starts)
            );
            let help =
                "write an earlier time, not before midnight of the day on which the meal starts";
            self.fault("times-out-of-order", path, message, help);
            return self.starts;
        }
        at
    }

    /// A clock time after `from`: not later on the clock means the next day.
    pub(crate) fn clock_after(&mut self, path: &str, text: &str, from: SimTime) -> SimTime {
        let Some(clock) = clock::parse(text) else {
            return self.clock(path, text);
        };
        let mut at = SimTime::from_us(clock.us);
        if !clock.names_its_day {
            while at <= from && at < SimTime::LAST {
                at = at + DAY;
            }
        } else if at <= from {
            let message = format!("{text} is not later than {}", words::clock(from));
            self.fault("times-out-of-order", path, message, "write a later time");
            return from + Span::from_us(1);
        }
        at
    }

    /// Clock times that must rise; `whose` names the list.
    pub(crate) fn rising(
        &mut self,
        path: impl Fn(usize) -> String,
        texts: &[&String],
    ) -> Vec<SimTime> {
        let mut times: Vec<SimTime> = Vec::with_capacity(texts.len());
        for (index, text) in texts.iter().enumerate() {
            let path = path(index);
            let before_faults = self.faults.len();
            let at = self.clock(&path, text);
            if let Some(last) = times
                .last()
                .filter(|last| at <= **last && self.faults.len() == before_faults)
            {
                let message = format!(
                    "times must rise, found {text} after {}",
                    words::clock(*last)
                );
                self.fault(
                    "times-out-of-order",
                    &path,
                    message,
                    "put them in clock order",
                );
            }
            times.push(at);
        }
        times
    }

    /// Whether every name of these kinds of thing was found.
    pub(crate) fn all_found(&self, kinds: &[&str]) -> bool {
        !self.dangling.iter().any(|what| kinds.contains(what))
    }

    /// The number of `name` in `names`.
    pub(crate) fn find(
        &mut self,
        names: &[String],
        name: &str,
        path: &str,
        what: &'static str,
    ) -> Option<usize> {
        let found = names.iter().position(|known| known == name);
        if found.is_none() {
            self.dangling.push(what);
            let help = match nearest(name, names.iter().map(String::as_str)) {
                Some(near) => format!("did you mean \"{near}\"?"),
                None if names.is_empty() => format!("the file has no {what} yet: add one"),
                None => format!("known are {}", names.join(", ")),
            };
            self.fault(
                "unknown-name",
                path,
                format!("there is no {what} called \"{name}\""),
                help,
            );
        }
        found
    }

    /// A distribution from an amount.
    pub(crate) fn amount(&mut self, path: &str, amount: &Amount) -> Dist {
        let choice = match amount {
            Amount::Fixed(value) => return Dist::Constant(*value),
            Amount::Drawn(choice) => choice,
        };
        match choice {
            AmountChoice::Constant(value) => Dist::Constant(*value),
            AmountChoice::Exponential { mean } if *mean <= 0.0 => Dist::Constant(0.0),
            AmountChoice::Exponential { mean } => Dist::Exponential { mean: *mean },
            AmountChoice::Lognormal(spread) => match self.cv(path, "lognormal", *spread) {
                cv if cv <= 0.0 => Dist::Constant(spread.mean),
                cv => Dist::Lognormal {
                    mean: spread.mean,
                    cv,
                },
            },
            AmountChoice::Gamma(spread) => match self.cv(path, "gamma", *spread) {
                cv if cv <= 0.0 => Dist::Constant(spread.mean),
                cv => Dist::Gamma {
                    mean: spread.mean,
                    cv,
                },
            },
            AmountChoice::Weibull(spread) => match self.cv(path, "weibull", *spread) {
                cv if cv <= 0.001 => Dist::Constant(spread.mean),
                cv => moments::weibull(spread.mean, cv),
            },
            AmountChoice::Normal(spread) => match self.cv(path, "normal", *spread) {
                cv if cv <= 0.0 => Dist::Constant(spread.mean),
                cv => Dist::NormalCut {
                    mean: spread.mean,
                    sd: cv * spread.mean,
                },
            },
            AmountChoice::Triangular(peak) => {
                self.peaked(path, "triangular", (peak.min, peak.mode, peak.max), false)
            }
            AmountChoice::Pert(peak) => {
                self.peaked(path, "pert", (peak.min, peak.mode, peak.max), true)
            }
            AmountChoice::Uniform(between) => self.uniform(path, between.min, between.max),
            AmountChoice::Readings(readings) => Dist::Empirical(readings.clone()),
        }
    }

    fn cv(&mut self, path: &str, name: &str, spread: MeanSpread) -> f64 {
        let path = format!("{path}.{name}");
        match (spread.cv, spread.sd) {
            (Some(cv), None) => cv,
            (None, Some(sd)) => {
                let cv = sd / spread.mean;
                if cv > 5.0 {
                    let message = format!(
                        "`sd` must be at most 5 times the mean, found {sd} for a mean of {}",
                        spread.mean
                    );
                    self.fault("too-large", &format!("{path}.sd"), message, "");
                }
                cv
            }
            (Some(_), Some(_)) => {
                let message = format!("`{name}` takes `sd` or `cv`, found both");
                self.fault(
                    "sd-or-cv",
                    &format!("{path}.sd"),
                    message,
                    "keep one of them",
                );
                0.0
            }
            (None, None) => {
                let message = format!("`{name}` needs `sd` or `cv`");
                self.fault(
                    "sd-or-cv",
                    &path,
                    message,
                    "add for example `cv = 0.4` (standard deviation over mean)",
                );
                0.0
            }
        }
    }

    fn peaked(
        &mut self,
        path: &str,
        name: &str,
        (min, mode, max): (f64, f64, f64),
        pert: bool,
    ) -> Dist {
        let path = format!("{path}.{name}");
        if min > mode || mode > max {
            let message = format!(
                "`{name}` needs min, mode and max in this order, found {min}, {mode}, {max}"
            );
            self.fault(
                "min-mode-max",
                &path,
                message,
                "the most likely value lies between the least and the greatest",
            );
        }
        if min >= max {
            Dist::Constant(mode)
        } else if pert {
            Dist::Pert { min, mode, max }
        } else {
            Dist::Triangular { min, mode, max }
        }
    }

    fn uniform(&mut self, path: &str, min: f64, max: f64) -> Dist {
        if min > max {
            let message = format!("`uniform` needs min and max in this order, found {min}, {max}");
            self.fault(
                "min-mode-max",
                &format!("{path}.uniform"),
                message,
                "swap the two",
            );
        }
        if min < max {
            Dist::Uniform { min, max }
        } else {
            Dist::Constant(min)
        }
    }

    /// A factor of mean 1.
    pub(crate) fn varies(
        &mut self,
        path: &str,
        given: Option<&Varies>,
        standard: &Standard,
    ) -> Dist {
        let Some(varies) = given else {
            self.note(path, standard);
            return Dist::Lognormal {
                mean: 1.0,
                cv: standard.value,
            };
        };
        let by_cv = |cv: f64, dist: fn(f64) -> Dist| {
            if cv <= 0.001 {
                Dist::Constant(1.0)
            } else {
                dist(cv)
            }
        };
        let drawn = match varies {
            Varies::NotAtAll => Dist::Constant(1.0),
            Varies::Exponential => Dist::Exponential { mean: 1.0 },
            Varies::Lognormal(spread) => by_cv(spread.cv, |cv| Dist::Lognormal { mean: 1.0, cv }),
            Varies::Gamma(spread) => by_cv(spread.cv, |cv| Dist::Gamma { mean: 1.0, cv }),
            Varies::Weibull(spread) => by_cv(spread.cv, |cv| moments::weibull(1.0, cv)),
            Varies::Normal(spread) => by_cv(spread.cv, |cv| Dist::NormalCut { mean: 1.0, sd: cv }),
            Varies::Triangular(peak) => {
                self.peaked(path, "triangular", (peak.min, peak.mode, peak.max), false)
            }
            Varies::Pert(peak) => self.peaked(path, "pert", (peak.min, peak.mode, peak.max), true),
            Varies::Uniform(between) => self.uniform(path, between.min, between.max),
            Varies::Readings(readings) => Dist::Empirical(readings.clone()),
        };
        let mean = drawn.mean();
        if mean <= 0.0 {
            self.fault(
                "no-mean",
                path,
                "what varies must have a mean above 0".to_owned(),
                "write \"not_at_all\" if it is always the same",
            );
            return Dist::Constant(1.0);
        }
        moments::scaled(drawn, 1.0 / mean)
    }
}

/// Whole millimetres of a length in metres.
pub(crate) fn mm(metres: f64) -> u32 {
    (metres * 1000.0).round().clamp(0.0, f64::from(u32::MAX)) as u32
}
