//! Inclined lanes without a drive: how fast racks run down.

use super::checker::{Checker, mm};
use crate::defaults;
use crate::file::InclineFile;
use crate::plan::Incline;

/// Standard gravity, m/s² (third General Conference on Weights and Measures, 1901).
const GRAVITY: f64 = 9.806_65;

/// Time a rack takes down an incline from rest, in s, and the speed at which it would come to the end if nothing held it, in
/// m/s; `None`: it does not run.
///
/// # Formula
/// With the fall `h` on the length `l`, sin θ = h/l, and the rolling resistance μ (a share of the force across the rollers):
/// a = g (sin θ − μ cos θ). From rest the top speed v is reached after v²/2a of way. On a shorter lane t = √(2l/a), on a longer
/// one t = v/a + (l − v²/2a)/v. Free end speed √(2al).
///
/// # Source
/// Newton's second law and the inclined plane of any textbook of mechanics. The resistance and the top speed are what to
/// measure.
fn runs_down(length_m: f64, fall_m: f64, resistance: f64, top_m_per_s: f64) -> Option<(f64, f64)> {
    let sine = fall_m / length_m;
    let cosine = (1.0 - sine * sine).max(0.0).sqrt();
    let a = GRAVITY * (sine - resistance * cosine);
    if a <= 0.0 || !a.is_finite() {
        return None;
    }
    let free = (2.0 * a * length_m).sqrt();
    let seconds = if free <= top_m_per_s {
        (2.0 * length_m / a).sqrt()
    } else {
        let until_top_m = top_m_per_s * top_m_per_s / (2.0 * a);
        top_m_per_s / a + (length_m - until_top_m) / top_m_per_s
    };
    Some((seconds, free))
}

/// An inclined lane, and its mean speed over the whole length, mm a minute.
pub(super) fn incline(
    check: &mut Checker<'_>,
    name: &str,
    written: &InclineFile,
) -> (Incline, u32) {
    let path = format!("lane.{name}.way.incline");
    let resistance = check.or_default(
        written.rolling_resistance,
        &format!("{path}.rolling_resistance"),
        &defaults::INCLINE_RESISTANCE,
    );
    let top = check.or_default(
        written.top_speed_m_per_min,
        &format!("{path}.top_speed_m_per_min"),
        &defaults::INCLINE_TOP,
    );
    let (length_m, fall_m) = (written.length_m, written.fall_m);
    if fall_m >= length_m {
        let message = format!("lane \"{name}\" falls {fall_m} m on a length of {length_m} m");
        let help = "the fall is the height lost from head to end, less than the length";
        check.fault(
            "incline-does-not-run",
            &format!("{path}.fall_m"),
            message,
            help,
        );
    }
    let down = runs_down(length_m, fall_m, resistance, top / 60.0);
    if down.is_none() && fall_m < length_m {
        // tan θ = μ is where a rack just stands.
        let least = length_m * resistance / (1.0 + resistance * resistance).sqrt();
        let message = format!(
            "racks on lane \"{name}\" would stand: it falls {fall_m} m on {length_m} m, and they only run from {:.3} m on",
            least
        );
        let help = "let it fall more, or say less `rolling_resistance` if you have measured it";
        check.fault(
            "incline-does-not-run",
            &format!("{path}.fall_m"),
            message,
            help,
        );
    }
    let (seconds, free_m_per_s) = down.unwrap_or((length_m * 60.0 / top, top / 60.0));
    let mean = mm(length_m / seconds * 60.0).max(1);
    let it = Incline {
        fall_m,
        seconds,
        free_m_per_min: free_m_per_s * 60.0,
        top_m_per_min: top,
    };
    (it, mean)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(seen: f64, by_hand: f64) {
        assert!(
            (seen - by_hand).abs() < 1e-9 * by_hand.abs().max(1.0),
            "{seen} {by_hand}"
        );
    }

    #[test]
    fn without_resistance_a_rack_falls_as_galileo_has_it() {
        // 2 m long, 1 m of fall: sin θ = 1/2, a = g/2, t = √(8/g); at the end √(2g), as from 1 m of free fall.
        let (seconds, free) = runs_down(2.0, 1.0, 0.0, 100.0).unwrap();
        near(seconds, (8.0 / 9.806_65_f64).sqrt());
        near(free, (2.0 * 9.806_65_f64).sqrt());
    }

    #[test]
    fn a_top_speed_is_reached_and_kept() {
        // a = g/2 = 4.903325; 1 m/s after 0.2039432 s and 0.1019716 m; the other 1.8980284 m take as many seconds.
        let (seconds, _) = runs_down(2.0, 1.0, 0.0, 1.0).unwrap();
        let a = 9.806_65 / 2.0;
        near(seconds, 1.0 / a + 2.0 - 0.5 / a);
        assert!((seconds - 2.101_971_6).abs() < 1e-6, "{seconds}");
    }

    #[test]
    fn where_the_fall_is_no_more_than_the_resistance_nothing_runs() {
        // 3-4-5: sin θ = 0.6, cos θ = 0.8, so a resistance of 0.75 just holds; at 0.5 a = g (0.6 − 0.4).
        assert_eq!(runs_down(5.0, 3.0, 0.75, 1.0), None);
        let (_, free) = runs_down(5.0, 3.0, 0.5, 100.0).unwrap();
        near(free, (2.0 * 9.806_65 * 0.2 * 5.0_f64).sqrt());
    }
}
