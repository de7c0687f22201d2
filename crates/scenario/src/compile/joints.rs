//! Whether everything is joined: nothing leads nowhere, nothing is never fed, somebody stands at every post.

use scullery_engine::demand::{Demand, LoadWhen, There};
use scullery_engine::line::{
    Closing, Lane, Line, PiecesTo, Post, Racking, RacksTo, ReceiverGoes, TraysFrom, TraysTo, Way,
    Worker,
};

use super::checker::Checker;
use super::crew::{manned_by_two, post_name};

/// Complains about what is not joined.
/// `duty_paths`: where each piece of other work stands in the file.
pub(crate) fn joints(check: &mut Checker<'_>, line: &Line, demand: &Demand, duty_paths: &[String]) {
    if check.all_found(&["belt, accumulator or table", "table"]) {
        trays(check, line);
    }
    if check.all_found(&["belt, accumulator or table", "drop-off"]) {
        overflow(check, line, demand);
    }
    if check.all_found(&["belt or table", "carts"]) {
        carts(check, line, demand);
    }
    pieces(check, line, demand);
    if check.all_found(&["belt for stacks"]) {
        stacks(check, line);
    }
    racks(check, line);
    if check.all_found(&["post"]) && !line.crew.is_empty() {
        posts(check, line, duty_paths);
        manned_by_two(check, line);
    }
}

fn trays(check: &mut Checker<'_>, line: &Line) {
    let from = line.scrapping.iter().flat_map(|post| &post.from);
    for (number, belt) in line.belts.iter().enumerate() {
        let path = format!("belt.{}", belt.name);
        let number = number as u8;
        if !from.clone().any(|from| *from == TraysFrom::BeltEnd(number)) {
            let message = format!(
                "belt \"{}\" leads nowhere: no scrapping post takes from its end",
                belt.name
            );
            check.fault(
                "leads-nowhere",
                &path,
                message,
                format!(
                    "let a post have `takes_from = [\"{}\"]` without `takes_at_m`",
                    belt.name
                ),
            );
        }
        // What runs beside nothing is told already.
        let mut faults = check.faults.iter();
        let stray = faults.any(|fault| fault.code == "beside-nothing");
        if !stray
            && !line
                .drop_offs
                .iter()
                .any(|drop_off| line.reaches_belt(drop_off.to, number))
        {
            let message = format!("no drop-off puts trays on belt \"{}\"", belt.name);
            check.fault(
                "never-fed",
                &path,
                message,
                format!("let a drop-off have `to = \"{}\"`", belt.name),
            );
        }
    }
    for (number, it) in line.accumulators.iter().enumerate() {
        let number = number as u8;
        let taken = from.clone().any(|from| {
            matches!(from, TraysFrom::Accumulator { accumulator, .. } if *accumulator == number)
        });
        let here = TraysTo::Accumulator(number);
        waiting_place(check, line, ("accumulator", &it.name), here, taken);
    }
    for (number, table) in line.tables.iter().enumerate() {
        let number = number as u8;
        let taken = from.clone().any(|from| *from == TraysFrom::Table(number));
        let here = TraysTo::Table(number);
        waiting_place(check, line, ("table", &table.name), here, taken);
    }
}

/// A table or an accumulator must be taken from and put on.
fn waiting_place(
    check: &mut Checker<'_>,
    line: &Line,
    (what, name): (&str, &str),
    here: TraysTo,
    taken: bool,
) {
    let path = format!("{what}.{name}");
    if !taken {
        let message = format!("{what} \"{name}\" leads nowhere: no scrapping post takes from it");
        let help = format!("let a post have `takes_from = [\"{name}\"]`");
        check.fault("leads-nowhere", &path, message, help);
    }
    let passed_on = line.scrapping.iter().any(|post| {
        let on = post.passes_on.as_ref();
        on.is_some_and(|on| TraysTo::Table(on.to) == here)
    });
    if !passed_on && !line.drop_offs.iter().any(|drop_off| drop_off.to == here) {
        let message = format!("no drop-off puts trays on {what} \"{name}\"");
        let help = format!("let a drop-off have `to = \"{name}\"`");
        check.fault("never-fed", &path, message, help);
    }
}

/// Carts are fed by some kind of diner, and emptied at some post.
fn carts(check: &mut Checker<'_>, line: &Line, demand: &Demand) {
    for (number, carts) in line.carts.iter().enumerate() {
        let number = number as u8;
        let path = format!("carts.{}", carts.name);
        let here = |when: &LoadWhen| matches!(when, LoadWhen::There { at: There::Carts(at), .. } if *at == number);
        let already = demand.loads.iter().any(|load| here(&load.when));
        if !already && !demand.kinds.iter().any(|kind| kind.carts == Some(number)) {
            let message = format!("nothing ever comes by \"{}\"", carts.name);
            check.fault(
                "never-fed",
                &path,
                message,
                format!(
                    "let a kind have `carts = \"{}\"`, or leave them out",
                    carts.name
                ),
            );
        }
        let from = line.scrapping.iter().flat_map(|post| &post.from);
        if !from
            .into_iter()
            .any(|from| *from == TraysFrom::Carts(number))
        {
            let message = format!(
                "\"{}\" are never emptied: no scrapping post takes from them",
                carts.name
            );
            check.fault(
                "leads-nowhere",
                &path,
                message,
                format!("let a post have `takes_from = [\"{}\"]`", carts.name),
            );
        }
    }
}

fn overflow(check: &mut Checker<'_>, line: &Line, demand: &Demand) {
    let aside = super::series::aside(demand, line.drop_offs.len());
    for (number, drop_off) in line.drop_offs.iter().enumerate() {
        let can_overflow = demand.patience_people.is_some()
            || matches!(drop_off.closes, Closing::At(_))
            || aside[number];
        let fetched = line
            .scrapping
            .iter()
            .any(|post| post.from.contains(&TraysFrom::Overflow(number as u8)));
        if can_overflow && !fetched {
            let message = format!(
                "trays left aside at drop-off \"{}\" are fetched by nobody",
                drop_off.name
            );
            let help = format!(
                "let a post have `fetches_overflow_of = [\"{}\"]`",
                drop_off.name
            );
            check.fault(
                "overflow-never-fetched",
                &format!("drop_off.{}", drop_off.name),
                message,
                help,
            );
        }
    }
}

/// Whether some kind of diner brings a class back, by class.
pub(crate) fn brought(demand: &Demand, classes: usize) -> Vec<bool> {
    (0..classes)
        .map(|class| {
            demand
                .kinds
                .iter()
                .any(|kind| kind.pieces.get(class).is_some_and(|pieces| *pieces > 0.0))
        })
        .collect()
}

fn pieces(check: &mut Checker<'_>, line: &Line, demand: &Demand) {
    let brought = brought(demand, line.classes.len());
    for (number, class) in line
        .classes
        .iter()
        .enumerate()
        .filter(|(number, _)| brought[*number])
    {
        let racked = line
            .scrapping
            .iter()
            .filter_map(|post| line.table_of(*post.routes.get(number)?))
            .any(|table| {
                let table = line.racking.get(usize::from(table));
                !table.is_some_and(|table| matches!(table.to, RacksTo::Machine(_)))
            });
        if racked && class.fits.is_empty() && check.all_found(&["rack kind"]) {
            let message = format!("no rack takes \"{}\"", class.name);
            check.fault(
                "no-rack-takes",
                &format!("ware.{number}"),
                message,
                "add for example `fits = [{ rack = \"peg\", pieces = 18 }]`",
            );
        }
    }
    let is_clear = check.all_found(&["racking table"])
        && !check
            .faults
            .iter()
            .any(|fault| fault.code == "not-clear-where");
    for (number, table) in line.racking.iter().enumerate().filter(|_| is_clear) {
        let number = number as u8;
        let mut ways = (0..line.classes.len()).flat_map(|class| line.ways_of(class));
        let fed =
            ways.any(|way| matches!(way, Way::Pieces(to) if line.table_of(to) == Some(number)));
        if !fed
            && !line
                .classes
                .iter()
                .any(|class| class.second_pass.as_ref().is_some_and(|it| it.at == number))
        {
            let (kind, what) = match table.to {
                RacksTo::Machine(_) => ("placing", "load end"),
                _ => ("racking", "racking table"),
            };
            let message = format!(
                "no scrapping post sends anything to {what} \"{}\"",
                table.name
            );
            check.fault(
                "never-fed",
                &format!("{kind}.{}", table.name),
                message,
                "send ware to it under `sends`, or leave it out",
            );
        }
    }
}

/// A belt for stacks must be fed.
fn stacks(check: &mut Checker<'_>, line: &Line) {
    let routes = || line.scrapping.iter().flat_map(|post| &post.routes);
    for (number, it) in line.stack_belts.iter().enumerate() {
        let here = PiecesTo::Stacks(number as u8);
        if !routes().any(|route| *route == here) {
            let name = &it.belt.name;
            let message = format!("no scrapping post sends anything in stacks on belt \"{name}\"");
            let help =
                format!("write for example `sends = {{ plate = {{ stacks = \"{name}\" }} }}`");
            check.fault("never-fed", &format!("stacks.{name}"), message, help);
        }
    }
}

fn racks(check: &mut Checker<'_>, line: &Line) {
    let lanes_found = check.all_found(&["lane"]);
    for (number, lane) in line.lanes.iter().enumerate().filter(|_| lanes_found) {
        let number = number as u8;
        let before = |lane: &Lane| lane.hands_to == Some(number);
        // A level, and a table beside levels, feed a lane only with the classes that come there.
        let feeds = |(r, table): (u8, &Racking)| {
            let mut classes = 0..line.classes.len();
            let to = RacksTo::Lane(number);
            match table.levels.is_empty() {
                true => table.to == to,
                false => classes.any(|c| table.to_of(c as u8) == to && line.comes_to(c, r)),
            }
        };
        if !(0..).zip(&line.racking).any(feeds)
            && !line.lanes.iter().any(before)
            && !line
                .receivers
                .iter()
                .any(|it| it.goes == ReceiverGoes::AsRack(number))
        {
            let message = format!("no racking table sends racks to lane \"{}\"", lane.name);
            check.fault(
                "never-fed",
                &format!("lane.{}", lane.name),
                message,
                format!("let a racking table have `to = \"{}\"`", lane.name),
            );
        }
    }
    for (number, end) in line.clean_ends.iter().enumerate() {
        if !line
            .machines
            .iter()
            .any(|machine| machine.to == Some(number as u8))
            && !line
                .classes
                .iter()
                .any(|class| class.clean_end == Some(number as u8))
        {
            let message = format!("no machine leads to clean end \"{}\"", end.name);
            check.fault(
                "never-fed",
                &format!("clean_end.{}", end.name),
                message,
                format!("let a machine have `to = \"{}\"`", end.name),
            );
        }
    }
    if line.delivery.is_some() && line.clean_ends.is_empty() {
        let message = "there is a runner, but no clean end where carts are loaded".to_owned();
        check.fault(
            "never-fed",
            "delivery",
            message,
            "add a `[clean_end.NAME]`, or leave `[delivery]` out",
        );
    }
}

/// Posts at which work is done.
fn manned(line: &Line) -> Vec<(Post, String)> {
    let mut posts = Vec::new();
    for (number, post) in line.scrapping.iter().enumerate() {
        posts.push((
            Post::Scrapping(number as u8),
            format!("scrapping.{}", post.name),
        ));
    }
    let manned = line.racking.iter().enumerate();
    for (number, _) in manned.filter(|(_, table)| table.places > 0) {
        // A load end's post is written as its table is.
        let post = Post::Racking(number as u8);
        posts.push((post, post_name(line, post)));
    }
    for (number, machine) in line
        .machines
        .iter()
        .enumerate()
        .filter(|(_, machine)| machine.loading.is_some())
    {
        posts.push((
            Post::Loading(number as u8),
            format!("machine.{}", machine.name),
        ));
    }
    for (number, end) in line
        .clean_ends
        .iter()
        .enumerate()
        .filter(|(_, end)| end.by_hand)
    {
        posts.push((
            Post::Unloading(number as u8),
            format!("clean_end.{}", end.name),
        ));
    }
    for (number, carts) in line
        .carts
        .iter()
        .enumerate()
        .filter(|(_, carts)| carts.wash.is_some())
    {
        posts.push((
            Post::CartWash(number as u8),
            format!("carts.{}.wash", carts.name),
        ));
    }
    if line.delivery.is_some() {
        posts.push((Post::Running, "delivery".to_owned()));
    }
    posts
}

fn posts(check: &mut Checker<'_>, line: &Line, duty_paths: &[String]) {
    let manned = manned(line);
    for (post, path) in &manned {
        if !line
            .crew
            .iter()
            .any(|worker| worker.calls().any(|call| call.post == *post))
        {
            let name = post_name(line, *post);
            let message = format!("nobody ever stands at {name}");
            check.fault(
                "nobody-stands-there",
                path,
                message,
                format!("put \"{name}\" on somebody's list of posts"),
            );
        }
    }
    for (post, path) in manned.iter().filter(|_| line.ends.is_none()) {
        let least = line
            .crew
            .iter()
            .flat_map(Worker::calls)
            .filter(|call| call.post == *post)
            .map(|call| call.step_in)
            .min();
        if let Some(least) = least.filter(|least| *least > 1) {
            let name = post_name(line, *post);
            let message = format!(
                "nobody steps in at {name} for fewer than {least} waiting jobs, so the last ones are never done"
            );
            let help = format!("add \"{name}\" without a level at the end of somebody's list");
            check.fault("last-jobs-wait", path, message, help);
        }
    }
    for (number, duty) in line.duties.iter().enumerate() {
        let mine = Post::Duty(number as u8);
        let done = line.crew.iter().any(|worker| {
            worker
                .calls()
                .any(|call| call.post == mine || duty.by.contains(&call.post))
        });
        if !done {
            let message = format!(
                "nobody ever does \"{}\": no worker has one of its posts",
                duty.name
            );
            check.fault(
                "nobody-stands-there",
                duty_paths.get(number).map_or("duty", String::as_str),
                message,
                "name a post that somebody has on the list",
            );
        }
    }
    for trouble in line
        .troubles
        .iter()
        .filter(|trouble| !trouble.by.is_empty())
    {
        let done = line.crew.iter().any(|worker| {
            let mut calls = worker.calls();
            calls.any(|call| trouble.by.contains(&call.post))
        });
        if !done {
            let message = format!(
                "nobody ever clears \"{}\": no worker has one of its posts",
                trouble.name
            );
            check.fault(
                "nobody-stands-there",
                &format!("trouble.{}", trouble.name),
                message,
                "name a post that somebody has on the list",
            );
        }
    }
    for worker in &line.crew {
        for call in worker.calls() {
            let empty = !matches!(call.post, Post::Duty(_))
                && !manned.iter().any(|(post, _)| *post == call.post);
            if empty {
                let name = post_name(line, call.post);
                let index = line
                    .crew
                    .iter()
                    .position(|known| known.name == worker.name)
                    .unwrap_or(0);
                let message = format!(
                    "there is no work by hand at {name}, which {} has on the list",
                    worker.name
                );
                check.fault(
                    "no-work-there",
                    &format!("crew.{index}.posts"),
                    message,
                    no_work_help(call.post),
                );
            }
        }
    }
}

fn no_work_help(post: Post) -> &'static str {
    match post {
        Post::Racking(_) => "give the racking table a pile, or take the post off the list",
        Post::Loading(_) => "give the machine a `loading`, or take the post off the list",
        Post::Unloading(_) => "let the clean end be `by_hand`, or take the post off the list",
        Post::CartWash(_) => "give the carts a `wash`, or take the post off the list",
        Post::Running => "add `[delivery]`, or take the post off the list",
        Post::Scrapping(_) | Post::Duty(_) | Post::Clearing(_) => "take the post off the list",
    }
}
