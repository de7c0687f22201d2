//! How the command ends, and the code it leaves behind.

use std::process::ExitCode;

use scullery_report::Summary;

/// How the command ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Outcome {
    /// Done.
    Done,
    /// The run failed or was stopped early, or a target was missed and that counts.
    Failed,
    /// Usage or scenario wrong.
    Wrong,
    /// The line locked for good, ran away, or never drained.
    Stuck,
}

impl Outcome {
    /// What a finished study means: a line that got stuck comes before a missed target.
    pub(crate) fn of(summary: &Summary, strict: bool) -> Outcome {
        let stuck = summary.endings.gridlock + summary.endings.never_drained > 0;
        let missed = summary
            .targets
            .iter()
            .any(|target| target.verdict == "fails");
        if stuck {
            Outcome::Stuck
        } else if (strict && missed) || summary.repeats < summary.asked {
            Outcome::Failed
        } else {
            Outcome::Done
        }
    }
}

impl From<Outcome> for ExitCode {
    fn from(outcome: Outcome) -> ExitCode {
        ExitCode::from(match outcome {
            Outcome::Done => 0,
            Outcome::Failed => 1,
            Outcome::Wrong => 2,
            Outcome::Stuck => 3,
        })
    }
}

/// What stops the command, with words for the person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Stop {
    /// How it ends.
    pub(crate) outcome: Outcome,
    /// What to say on standard error.
    pub(crate) words: String,
}

impl Stop {
    /// Usage or scenario wrong.
    pub(crate) fn wrong(words: impl Into<String>) -> Stop {
        Stop {
            outcome: Outcome::Wrong,
            words: words.into(),
        }
    }

    /// The run failed.
    pub(crate) fn failed(words: impl Into<String>) -> Stop {
        Stop {
            outcome: Outcome::Failed,
            words: words.into(),
        }
    }
}

impl From<scullery_report::Fault> for Stop {
    fn from(fault: scullery_report::Fault) -> Stop {
        let words = fault.to_string();
        if fault.is_refusal() {
            Stop::wrong(words)
        } else {
            Stop::failed(words)
        }
    }
}
