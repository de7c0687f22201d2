//! What is claimed against figures from outside, and the tables of it in `docs/validation.md`.
//!
//! A test gathers its claims and then holds them: every one must agree, and the table under the test's name in the
//! page must say exactly what was found now. `SCULLERY_WRITE_VALIDATION=1` writes the tables instead.

use std::fmt::Write as _;
use std::path::PathBuf;
use std::sync::Mutex;

use crate::figures::Figure;
use crate::repeats::Sample;

/// Standard errors within which an exact mean must lie. A right program leaves them once in more than 2,000 claims
/// over 30 repeats, and with fixed streams that is decided once.
const ERRORS: f64 = 4.0;

/// Largest standard error, as a share of the value.
const TIGHT: f64 = 0.02;
/// The same where use is above 0.85 and sums vary slowly.
const TIGHT_IN_HEAVY_USE: f64 = 0.05;

struct Row {
    model: String,
    what: String,
    outside: String,
    ours: String,
    repeats: String,
    source: String,
    fault: Option<String>,
}

/// Everything a test claims.
pub(crate) struct Claims {
    test: &'static str,
    rows: Vec<Row>,
    tight: f64,
}

/// So many significant digits, as a person would write them.
fn digits(value: f64, digits: i32) -> String {
    if value == 0.0 {
        return "0".into();
    }
    let before = value.abs().log10().floor() as i32 + 1;
    let after = (digits - before).clamp(0, 9) as usize;
    format!("{value:.after$}")
}

impl Claims {
    pub(crate) fn of(test: &'static str) -> Claims {
        let tight = TIGHT;
        Claims {
            test,
            rows: vec![],
            tight,
        }
    }

    /// What follows speaks of use above 0.85.
    pub(crate) fn heavy_use(&mut self, heavy: bool) {
        self.tight = if heavy { TIGHT_IN_HEAVY_USE } else { TIGHT };
    }

    /// The mean of a sample is a figure from outside.
    pub(crate) fn mean(&mut self, figure: &Figure, metric: &str, sample: &Sample) {
        self.sampled(
            &figure.id,
            metric,
            figure.says(metric),
            sample,
            &figure.source,
        );
    }

    /// The mean of a sample is a value from outside.
    pub(crate) fn sampled(
        &mut self,
        model: &str,
        what: &str,
        outside: f64,
        sample: &Sample,
        source: &str,
    ) {
        self.two_samples(model, what, (outside, 0.0), sample, source);
    }

    /// The variance over repeats is a value from outside; twice as wide as for a mean.
    pub(crate) fn variance(
        &mut self,
        model: &str,
        what: &str,
        outside: f64,
        sample: &Sample,
        source: &str,
    ) {
        let tight = self.tight;
        self.tight = 2.0 * tight;
        self.within(
            model,
            what,
            (outside, 0.0),
            &sample.squares(),
            source,
            2.0 * ERRORS,
        );
        self.tight = tight;
    }

    /// The mean of a sample is that of another program's sample, given with its standard error.
    pub(crate) fn two_samples(
        &mut self,
        model: &str,
        what: &str,
        outside: (f64, f64),
        sample: &Sample,
        source: &str,
    ) {
        self.within(model, what, outside, sample, source, ERRORS);
    }

    fn within(
        &mut self,
        model: &str,
        what: &str,
        (outside, its_error): (f64, f64),
        sample: &Sample,
        source: &str,
        errors: f64,
    ) {
        assert!(sample.n() >= 10, "{model} {what}: too few repeats");
        let (mean, error) = (sample.mean(), sample.standard_error());
        let joint = (error * error + its_error * its_error).sqrt();
        let off = (mean - outside).abs();
        let bound = self.tight * outside.abs();
        // Not a number agrees with nothing.
        let (agrees, tells) = (off <= errors * joint, error <= bound);
        let fault = if !agrees {
            Some(format!("{:.1} standard errors away", off / joint))
        } else if !tells {
            Some(format!(
                "too wide to tell: {:.2} %",
                100.0 * error / outside
            ))
        } else {
            None
        };
        let shown = |value: f64, error: f64| match error > 0.0 {
            true => format!("{} ± {}", digits(value, 5), digits(error, 2)),
            false => digits(value, 6),
        };
        self.rows.push(Row {
            model: model.into(),
            what: what.into(),
            outside: shown(outside, its_error),
            ours: shown(mean, error),
            repeats: sample.n().to_string(),
            source: source.into(),
            fault,
        });
    }

    /// A run without chance gives a figure from outside, to within `tolerance`.
    pub(crate) fn exact(
        &mut self,
        model: &str,
        what: &str,
        outside: f64,
        ours: f64,
        tolerance: f64,
        source: &str,
    ) {
        let off = (ours - outside).abs();
        let agrees = off <= tolerance;
        let fault = (!agrees).then(|| format!("{off} away, allowed {tolerance}"));
        let shown = match tolerance > 1e-6 {
            true => format!("{} (within {})", digits(ours, 6), digits(tolerance, 2)),
            false => digits(ours, 6),
        };
        self.rows.push(Row {
            model: model.into(),
            what: what.into(),
            outside: digits(outside, 6),
            ours: shown,
            repeats: "no chance".into(),
            source: source.into(),
            fault,
        });
    }

    fn table(&self) -> String {
        let mut table = String::from(
            "| model | figure | outside | ours ± standard error | repeats | source of the outside figure |\n\
             | --- | --- | --- | --- | --- | --- |\n",
        );
        let mut last = "";
        for row in &self.rows {
            let source = if row.source == last {
                "same"
            } else {
                &row.source
            };
            last = &row.source;
            let _ = writeln!(
                table,
                "| {} | {} | {} | {} | {} | {source} |",
                row.model, row.what, row.outside, row.ours, row.repeats
            );
        }
        table
    }

    /// Every claim must agree, and the page must say what was found.
    pub(crate) fn hold(self) {
        let table = self.table();
        let mut faults = String::new();
        for row in &self.rows {
            if let Some(fault) = &row.fault {
                let _ = writeln!(
                    faults,
                    "{} {}: outside {}, ours {}: {fault}",
                    row.model, row.what, row.outside, row.ours
                );
            }
        }
        assert!(faults.is_empty(), "\n{faults}\n{table}");
        keep_on_the_page(self.test, &table);
    }
}

static PAGE: Mutex<()> = Mutex::new(());

/// Compares the table of a test with the one on the page, or writes it there.
fn keep_on_the_page(test: &str, table: &str) {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../docs/validation.md");
    let _one_at_a_time = PAGE.lock().unwrap_or_else(|broken| broken.into_inner());
    let page = std::fs::read_to_string(&path).expect("docs/validation.md can be read");
    let page = page.replace("\r\n", "\n");
    let begins = format!("<!-- found by {test} -->\n");
    let ends = "<!-- end -->";
    let (before, rest) = page
        .split_once(&begins)
        .unwrap_or_else(|| panic!("docs/validation.md has no table \"found by {test}\""));
    let (there, after) = rest.split_once(ends).expect("the table ends");
    if there == table {
        return;
    }
    if std::env::var_os("SCULLERY_WRITE_VALIDATION").is_some() {
        let page = format!("{before}{begins}{table}{ends}{after}");
        std::fs::write(&path, page).expect("docs/validation.md can be written");
    } else {
        panic!(
            "docs/validation.md no longer says what {test} finds; run the tests with SCULLERY_WRITE_VALIDATION=1 \
             and look at the difference\nfound:\n{table}"
        );
    }
}

#[test]
fn every_table_of_the_page_has_its_test() {
    let here = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let page = std::fs::read_to_string(here.join("../docs/validation.md")).expect("it can be read");
    let found = page
        .lines()
        .filter_map(|line| line.strip_prefix("<!-- found by ")?.strip_suffix(" -->"));
    let mut tables = 0;
    for test in found {
        let (file, name) = test.split_once("::").expect("a file and a test");
        let file = here.join(format!("validation/{file}.rs"));
        let text = std::fs::read_to_string(&file).unwrap_or_default();
        assert!(text.contains(&format!("fn {name}()")), "no test {test}");
        tables += 1;
    }
    assert!(tables > 20, "only {tables} tables");
}
