//! Names and numbers as people say them.

use scullery_engine::watch::{ActorInfo, ActorKind, Job, PostInfo, Role, State, Unit};

pub use scullery_engine::words::place_words;
pub(crate) use scullery_engine::words::{named, own_name, spoken};

/// Name of a worker, machine, belt or accumulator in plain words.
pub fn actor_words(actor: &ActorInfo) -> String {
    match actor.kind {
        ActorKind::Worker => actor.name.clone(),
        ActorKind::Machine => named("machine", &spoken(&actor.name)),
        ActorKind::Belt | ActorKind::StackBelt => named("belt", &spoken(&actor.name)),
        ActorKind::Accumulator => named("accumulator", &spoken(&actor.name)),
    }
}

/// Name of a post in plain words, for example `scrapping main` or `running to the servery`.
pub fn post_words(post: &PostInfo) -> String {
    let name = spoken(&post.name);
    match post.job {
        Job::BreakingDown => named("scrapping", &name),
        Job::Racking => named("racking", &name),
        Job::Loading => named("loading", &name),
        Job::Unloading => named("unloading", &name),
        Job::Running => "running to the servery".into(),
        Job::OtherWork => format!("other work: {name}"),
        Job::CartWash => named("washing carts", &name),
        Job::Clearing => format!("clearing {name}"),
    }
}

/// `worker`, `machine`, `belt`, `stacks` (a belt for them) or `accumulator`.
pub fn kind_word(kind: ActorKind) -> &'static str {
    match kind {
        ActorKind::Worker => "worker",
        ActorKind::Machine => "machine",
        ActorKind::Belt => "belt",
        ActorKind::StackBelt => "stacks",
        ActorKind::Accumulator => "accumulator",
    }
}

/// `people`, `trays`, `pieces`, `racks`, `jobs`, `carts` or `stacks`.
pub fn unit_word(unit: Unit) -> &'static str {
    match unit {
        Unit::People => "people",
        Unit::Trays => "trays",
        Unit::Pieces => "pieces",
        Unit::Racks => "racks",
        Unit::Jobs => "jobs",
        Unit::Grams => "grams",
        Unit::Carts => "carts",
        Unit::Stacks => "stacks",
    }
}

/// Word for the part a place plays, as in `Band::role`.
pub fn role_word(role: Role) -> &'static str {
    match role {
        Role::Seated => "seated",
        Role::Queue => "queue",
        Role::Standing => "standing",
        Role::Backlog => "backlog",
        Role::Overflow => "overflow",
        Role::Trays => "trays",
        Role::Stacks => "stacks",
        Role::Pile => "pile",
        Role::HeldBack => "held_back",
        Role::OpenRacks => "open_racks",
        Role::EmptyRacks => "empty_racks",
        Role::FilledRacks => "filled_racks",
        Role::Washing => "washing",
        Role::CleanRacks => "clean_racks",
        Role::Cart => "cart",
        Role::Stock => "stock",
        Role::RacksBack => "racks_back",
        Role::Duty => "duty",
        Role::WaitingForWare => "waiting_for_ware",
        Role::Trouble => "trouble",
        Role::Gathered => "gathered",
        Role::CartsWaiting => "carts_waiting",
        Role::CartsToWash => "carts_to_wash",
        Role::CartsReady => "carts_ready",
        Role::Gate => "gate",
        Role::Receiver => "receiver",
        Role::Waste => "waste",
    }
}

/// States in the order in which a profile shows them, with their words.
pub const STATES: [(State, &str); State::COUNT] = [
    (State::Working, "working"),
    (State::PastShift, "past_shift"),
    (State::HeldUp, "held_up"),
    (State::Walking, "walking"),
    (State::HandWash, "hand_wash"),
    (State::WaitingForHelp, "waiting_for_help"),
    (State::Waiting, "waiting"),
    (State::Break, "break"),
    (State::Off, "off"),
    (State::Heating, "heating"),
    (State::Ready, "ready"),
    (State::Starting, "starting"),
    (State::Washing, "washing"),
    (State::Stopped, "stopped"),
    (State::Refilling, "refilling"),
    (State::Down, "down"),
    (State::Moving, "moving"),
];

/// A value with the digits that mean something: `14:52` for a clock, per cent for a share, else three figures.
pub(crate) fn value_words(value: f64, unit: &str) -> String {
    match unit {
        "clock_min" => clock_words(value),
        "share" => format!("{} %", plain(value * 100.0)),
        "count" | "money" => plain(value),
        "grams" => format!("{} kg", plain(value / 1000.0)),
        "min" | "s" | "L" | "kWh" | "kW" | "kg" | "h" => format!("{} {unit}", plain(value)),
        "pieces_per_h" => format!("{} pieces an hour", plain(value)),
        "racks_per_h" => format!("{} racks an hour", plain(value)),
        "covers_per_h" => format!("{} covers for an hour of labour", plain(value)),
        "people" | "trays" | "pieces" | "racks" | "covers" | "carts" => {
            format!("{} {unit}", plain(value))
        }
        other => format!("{} {other}", plain(value)),
    }
}

fn plain(value: f64) -> String {
    if (value - value.round()).abs() < 1e-9 {
        return format!("{:.0}", value.round() + 0.0);
    }
    match value.abs() {
        size if size >= 99.95 => format!("{value:.0}"),
        size if size >= 9.995 => format!("{value:.1}"),
        _ => format!("{value:.2}"),
    }
}

/// A time of day from minutes since midnight, the next day marked; rounded up to the minute, so that "by" is true.
pub(crate) fn clock_words(min: f64) -> String {
    let min = (min - 1e-9).ceil().max(0.0) as u64;
    let text = format!("{:02}:{:02}", min / 60 % 24, min % 60);
    match min / (24 * 60) {
        0 => text,
        1 => format!("{text} the next day"),
        days => format!("{text} {days} days later"),
    }
}

/// Parts of 100, whole unless that would say 0 or 100 where it is not.
pub(crate) fn of_100(share: f64) -> String {
    let whole = share * 100.0;
    let near_edge = (whole.round() < 0.5 && whole > 0.0) || (whole.round() > 99.5 && whole < 100.0);
    if near_edge {
        format!("{whole:.1}")
    } else {
        format!("{whole:.0}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_by_which_is_rounded_up_and_the_next_day_is_named() {
        assert_eq!(clock_words(892.2), "14:53");
        assert_eq!(clock_words(892.0), "14:52");
        assert_eq!(clock_words(1445.0), "00:05 the next day");
    }

    #[test]
    fn nearly_all_of_100_is_not_called_all() {
        assert_eq!(of_100(0.9973), "99.7");
        assert_eq!(of_100(1.0), "100");
        assert_eq!(of_100(0.004), "0.4");
        assert_eq!(of_100(0.912), "91");
    }

    #[test]
    fn states_are_all_there_once() {
        let mut seen: Vec<usize> = STATES.iter().map(|(s, _)| s.index()).collect();
        seen.sort_unstable();
        assert_eq!(seen, (0..State::COUNT).collect::<Vec<_>>());
    }
}
