//! The crew, its posts and its other work.

use scullery_engine::line::{Call, Duty, DutyWhen, Line, Post, Worker};
use scullery_engine::time::{SimTime, Span};

use super::checker::Checker;
use super::names::Names;
use crate::defaults;
use crate::describe::words;
use crate::file::{DutyWhenFile, PostEntry, ScenarioFile, SideOfRoom, WorkerFile};

/// A post by its written name, such as `scrapping.main`.
fn post(check: &mut Checker<'_>, names: &Names, path: &str, written: &str) -> Option<Post> {
    let all = posts(names);
    let found = all
        .iter()
        .find(|(name, _)| name == written)
        .map(|(_, post)| *post);
    if found.is_none() {
        let known: Vec<String> = all.into_iter().map(|(name, _)| name).collect();
        check.find(&known, written, path, "post");
    }
    found
}

/// Every post there could be, with its name.
fn posts(names: &Names) -> Vec<(String, Post)> {
    let mut posts = Vec::new();
    let mut add = |kind: &str, names: &[String], post: fn(u8) -> Post| {
        posts.extend(
            names
                .iter()
                .enumerate()
                .map(|(number, name)| (format!("{kind}.{name}"), post(number as u8))),
        );
    };
    add("scrapping", &names.scrapping, Post::Scrapping);
    add("racking", &names.racking, Post::Racking);
    add("loading", &names.machines, Post::Loading);
    add("unloading", &names.clean_ends, Post::Unloading);
    add("duty", &names.duties, Post::Duty);
    posts.push(("running".to_owned(), Post::Running));
    posts
}

/// Name of a post, as written in a file.
pub(crate) fn post_name(line: &Line, post: Post) -> String {
    let of =
        |kind: &str, name: Option<&String>| format!("{kind}.{}", name.map_or("?", String::as_str));
    match post {
        Post::Scrapping(number) => of(
            "scrapping",
            line.scrapping
                .get(usize::from(number))
                .map(|post| &post.name),
        ),
        Post::Racking(number) => of(
            "racking",
            line.racking.get(usize::from(number)).map(|post| &post.name),
        ),
        Post::Loading(number) => of(
            "loading",
            line.machines
                .get(usize::from(number))
                .map(|machine| &machine.name),
        ),
        Post::Unloading(number) => of(
            "unloading",
            line.clean_ends
                .get(usize::from(number))
                .map(|end| &end.name),
        ),
        Post::Duty(number) => of(
            "duty",
            line.duties.get(usize::from(number)).map(|duty| &duty.name),
        ),
        Post::Running => "running".to_owned(),
    }
}

/// The crew, in file order.
pub(crate) fn crew(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> Vec<Worker> {
    let mut crew = Vec::new();
    for (index, written) in file.crew.iter().enumerate() {
        let one = worker(check, written, &format!("crew.{index}"), names);
        match written.alike.unwrap_or(1) {
            1 => crew.push(one),
            many => crew.extend((1..=many).map(|number| Worker {
                name: format!("{} {number}", one.name),
                ..one.clone()
            })),
        }
    }
    if crew.len() > 200 {
        let message = format!("a crew has at most 200 people, found {}", crew.len());
        check.fault("too-large", "crew", message, "let `alike` be smaller");
    }
    crew
}

fn worker(check: &mut Checker<'_>, written: &WorkerFile, path: &str, names: &Names) -> Worker {
    let mut shifts: Vec<(SimTime, SimTime)> = Vec::new();
    for (index, shift) in written.shifts.iter().enumerate() {
        let path = format!("{path}.shifts.{index}");
        let from = check.clock(&format!("{path}.from"), &shift.from);
        let to = check.clock_after(&format!("{path}.to"), &shift.to, from);
        if let Some((_, last)) = shifts.last().filter(|(_, last)| from < *last) {
            let message = format!(
                "shifts must follow each other, found {} before the end of the last at {}",
                words::clock(*last),
                shift.from
            );
            check.fault(
                "times-out-of-order",
                &format!("{path}.from"),
                message,
                "put them in clock order",
            );
        }
        shifts.push((from, to));
    }
    let mut breaks: Vec<(SimTime, Span)> = Vec::new();
    for (index, rest) in written.breaks.iter().enumerate() {
        let path = format!("{path}.breaks.{index}.due");
        let due = check.clock(&path, &rest.due);
        if !shifts.iter().any(|(from, to)| due >= *from && due < *to) {
            let message = format!(
                "the break of {} due at {} lies in no shift of theirs",
                written.name, rest.due
            );
            check.fault(
                "break-outside-shift",
                &path,
                message,
                "let it be due within a shift",
            );
        }
        if let Some((last, _)) = breaks.last().filter(|(last, _)| due <= *last) {
            let message = format!(
                "breaks must follow each other, found {} after {last}",
                rest.due
            );
            check.fault(
                "times-out-of-order",
                &path,
                message,
                "put them in clock order",
            );
        }
        breaks.push((due, Span::from_min(rest.lasts_min)));
    }
    if written.posts.is_empty() {
        let message = format!("{} has a shift and no post to stand at", written.name);
        check.fault(
            "no-post",
            &format!("{path}.posts"),
            message,
            "list at least one, for example `posts = [\"scrapping.main\"]`",
        );
    }
    let list = calls(check, written, path, names);
    let key = format!("crew.{}.unfilled_share", written.name);
    Worker {
        name: written.name.clone(),
        shifts,
        breaks,
        pace: written.pace.unwrap_or(1.0),
        list,
        unfilled: check.or_default(written.unfilled_share, &key, &defaults::UNFILLED),
        terms: Terms::default(),
    }
}

fn calls(check: &mut Checker<'_>, written: &WorkerFile, path: &str, names: &Names) -> Vec<Call> {
    let mut list: Vec<Call> = Vec::new();
    for (index, entry) in written.posts.iter().enumerate() {
        let mut path = format!("{path}.posts.{index}");
        let (name, step_in, leave_at, stay_min) = match entry {
            PostEntry::Name(name) => (name, 1, 0, 0.0),
            PostEntry::Call(call) => {
                let step_in = call.step_in.unwrap_or(1);
                let leave_at = call.leave_at.unwrap_or(0);
                if leave_at >= step_in {
                    let message = format!(
                        "{} would leave {} at {leave_at} waiting jobs and step in at {step_in}",
                        written.name, call.post
                    );
                    check.fault(
                        "leaves-before-coming",
                        &format!("{path}.leave_at"),
                        message,
                        "let `leave_at` be less than `step_in`",
                    );
                }
                path.push_str(".post");
                (&call.post, step_in, leave_at, call.stay_min.unwrap_or(0.0))
            }
        };
        let Some(post) = post(check, names, &path, name) else {
            continue;
        };
        // The same post may stand again further down with a lower level: for when there is nothing better to do.
        if list
            .iter()
            .any(|call| call.post == post && call.step_in <= step_in)
        {
            let message = format!("{} has {name} twice on the list", written.name);
            let help =
                "keep the one that comes first, or let the later one step in at a lower number";
            check.fault("name-twice", &path, message, help);
            continue;
        }
        list.push(Call {
            post,
            step_in,
            leave_at,
            stay: Span::from_min(stay_min),
        });
    }
    list
}

/// Other work, in order of name.
pub(crate) fn duties(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> Vec<Duty> {
    file.duty
        .iter()
        .map(|(name, written)| {
            let path = format!("duty.{name}");
            let when = match &written.when {
                DutyWhenFile::At(texts) => {
                    let texts: Vec<&String> = texts.iter().collect();
                    DutyWhen::At(check.rising(|index| format!("{path}.when.at.{index}"), &texts))
                }
                DutyWhenFile::Round {
                    from,
                    to,
                    every_min,
                } => {
                    let first = check.clock(&format!("{path}.when.round.from"), from);
                    let last = check.clock_after(&format!("{path}.when.round.to"), to, first);
                    DutyWhen::At(rounds(first, last, Span::from_min(*every_min)))
                }
                DutyWhenFile::ByWaste { every_kg } => DutyWhen::EveryKg(*every_kg),
            };
            let work_min = check.amount(&format!("{path}.work_min"), &written.work_min);
            let mut by = Vec::new();
            for (index, name) in written.by.iter().enumerate() {
                by.extend(post(check, names, &format!("{path}.by.{index}"), name));
            }
            Duty {
                name: name.clone(),
                when,
                work_s: crate::moments::scaled(work_min, 60.0),
                by,
                may_wait: written.may_wait_min.map(Span::from_min),
                clean_side: written.side == Some(SideOfRoom::Clean),
            }
        })
        .collect()
}

/// Most rounds of one piece of other work.
const MOST_ROUNDS: usize = 10_000;

fn rounds(first: SimTime, last: SimTime, every: Span) -> Vec<SimTime> {
    let next = |at: &SimTime| Some(*at + every.max(Span::from_us(1)));
    std::iter::successors(Some(first), next)
        .take_while(|at| *at <= last)
        .take(MOST_ROUNDS)
        .collect()
}
