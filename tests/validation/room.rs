//! Scenario texts from the templates under `scenarios/`: `<name>` in a template is a gap to be filled.

/// Fills the gaps of a template; none may be left.
pub(crate) fn fill(template: &str, gaps: &[(&str, String)]) -> String {
    let mut text = template.to_owned();
    for (name, value) in gaps {
        let gap = format!("<{name}>");
        assert!(text.contains(&gap), "no gap {gap}");
        text = text.replace(&gap, value);
    }
    assert!(!text.contains('<'), "a gap is left in\n{text}");
    text
}

/// A clock time so many minutes after midnight.
pub(crate) fn clock(min: f64) -> String {
    let us = (min * 60e6).round() as u64;
    let (s, us) = (us / 1_000_000, us % 1_000_000);
    format!("{:02}:{:02}:{:02}.{us:06}", s / 3600, s / 60 % 60, s % 60)
}

/// Heading and covers of a room that exists in textbooks only. The title also picks the luck.
pub(crate) fn head(title: &str, covers: &str, ends_min: f64) -> String {
    fill(
        include_str!("scenarios/head.toml.in"),
        &[
            ("title", title.into()),
            ("covers", covers.into()),
            ("ends", clock(ends_min)),
        ],
    )
}

/// Stated covers between stated minutes, which come `poisson`, `evenly` or `at_random`.
pub(crate) fn between(title: &str, times: &[f64], counts: &[f64], come: &str) -> String {
    let ends = times.last().copied().unwrap_or(0.0);
    let times: Vec<String> = times.iter().map(|&min| clock(min)).collect();
    let covers = format!(
        "[covers.between]\ntimes = {times:?}\ncounts = {counts:?}\ncome = \"{come}\"\n\n[days.vary]\ncv = 0"
    );
    head(title, &covers, ends)
}

/// Covers at random, so many a minute, for so many minutes.
pub(crate) fn poisson(title: &str, per_min: f64, min: f64) -> String {
    between(title, &[0.0, min], &[per_min * min], "poisson")
}

/// So many covers within the first second, and nobody after: the first station always has something to do.
pub(crate) fn all_at_once(title: &str, covers: f64, min: f64) -> String {
    let times = [0.0, 1.0 / 60.0, min];
    between(title, &times, &[covers.ceil(), 0.0], "evenly")
}

/// Pairs of rate a minute and minutes, as in the figures: times from nought, and counts between them.
pub(crate) fn rates_and_minutes(pairs: &[f64]) -> (Vec<f64>, Vec<f64>) {
    let mut times = vec![0.0];
    let mut counts = vec![];
    for pair in pairs.chunks(2) {
        times.push(times[times.len() - 1] + pair[1]);
        counts.push(pair[0] * pair[1]);
    }
    (times, counts)
}

/// The queue with one or several servers (see its template).
pub(crate) fn queue(varies: &str, servers: u32, seconds: f64) -> String {
    fill(
        include_str!("scenarios/queue.toml.in"),
        &[
            ("varies", varies.into()),
            ("servers", servers.to_string()),
            ("seconds", format!("{seconds}")),
        ],
    )
}
