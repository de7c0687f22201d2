//! What a measure means, where it stands: what is counted in one lunch, and averaged over what.

use scullery_study::summary::Measure;

/// At any one moment.
const MOST: &str = "The most at any one moment of one lunch.";
/// Over the run.
const AVERAGE: &str = "Average over the whole run of one lunch.";
/// For whoever passed.
const PASSED: &str = "Over all that passed there in one lunch.";

/// Ending of a measure's id and what it is in one lunch; the first that fits is taken.
const BY_ENDING: [(&str, &str); 42] = [
    (
        ".wait_p95_s",
        "Of all diners of one lunch who came to this drop-off, the wait that 95 of 100 do not exceed; from coming until \
         the tray is down, the seconds of putting down left out.",
    ),
    (
        ".queue_wait_mean_s",
        "Over the diners of one lunch, from coming until a position is free.",
    ),
    (".wait_mean_s", PASSED),
    (".wait_max_s", PASSED),
    ("s_share", "Of the diners of one lunch."),
    (
        ".standing_max_people",
        "The most at any one moment of one lunch, waiting, putting down, or held up.",
    ),
    (
        "backlog.max_trays",
        "The most at any one moment of one lunch, on the belt, on tables and in hands.",
    ),
    (".max_people", MOST),
    (".queue_max_people", MOST),
    (".max_trays", MOST),
    (".max_racks", MOST),
    (".max_pieces", MOST),
    (".max_jobs", MOST),
    (".min_racks", "The fewest at any one moment of one lunch."),
    (".min_pieces", "The fewest at any one moment of one lunch."),
    (".mean_people", AVERAGE),
    (".mean_trays", AVERAGE),
    (".mean_racks", AVERAGE),
    (".mean_pieces", AVERAGE),
    (".mean_jobs", AVERAGE),
    (
        ".racks_per_busiest_h",
        "The most within 60 minutes of the clock, one after another, of one lunch.",
    ),
    (
        ".running_share",
        "Minutes running with racks inside, over the minutes it is hot, of one lunch.",
    ),
    (
        ".plate_share",
        "The busiest 60 minutes of one lunch, over the racks an hour of the data plate.",
    ),
    (
        ".moving_share",
        "Minutes moving with something on it, over the run of one lunch.",
    ),
    (".stopped_min", "Minutes of one lunch."),
    (
        ".held_up_min",
        "Minutes of one lunch with a finished piece in hand and no place for it.",
    ),
    (
        ".past_shift_min",
        "Minutes of one lunch at a task after the end of the shift.",
    ),
    (
        ".water_quarter_max_l",
        "The highest of the quarter hours of one lunch: a filling in the first quarter hour the machine is on, rinse \
         water shared out by the racks that came out in each.",
    ),
    (
        ".power_quarter_max_kw",
        "The highest of the quarter hours of one lunch, each an average of 15 minutes.",
    ),
    (
        "crew.busy_share",
        "Minutes at work within the shift, over shift less breaks, summed over the crew of one lunch.",
    ),
    (
        ".busy_share",
        "Minutes at work within the shift, over shift less breaks, of one lunch.",
    ),
    (
        "runout.total_pieces",
        "Counted over one lunch, each piece once for each cover that did not find it.",
    ),
    ("line.covers", "Covers served with ware in one lunch."),
    (
        "clean.last_clock_min",
        "The clock when the last piece of the last tray was clean; a lunch with ware left inside has no value.",
    ),
    (
        "line.room_clean_clock_min",
        "The clock when the last tray was clean and the last work of the crew had ended; a lunch with ware left inside \
         has no value.",
    ),
    (
        "line.covers_per_labour_h",
        "Covers of one lunch over its paid hours, breaks and minutes past the shift included.",
    ),
    (
        "line.labour_min_per_cover",
        "Paid minutes of one lunch over its covers.",
    ),
    (
        "line.cost_per_cover",
        "All that has a price in one lunch, over its covers.",
    ),
    (
        "line.owning_cost_per_cover",
        "The part of a year's price and upkeep that every lunch bears alike, over the covers of one lunch.",
    ),
    (
        "line.cost_with_owning",
        "All that has a price in one lunch, and the part of a year's price and upkeep that every lunch bears alike.",
    ),
    (
        "line.cost_with_owning_per_cover",
        "The same, over the covers of one lunch.",
    ),
    (".cost", "The amount of one lunch times its price."),
];

/// What the measure is in one lunch; empty where its label says all there is to say.
pub fn definition(measure: &Measure) -> &'static str {
    BY_ENDING
        .iter()
        .find(|(ending, _)| measure.id.ends_with(ending))
        .map_or("", |(_, words)| words)
}
