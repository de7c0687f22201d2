//! Posts by name, and lists of them.

use scullery_engine::line::{Call, Line, Post};
use scullery_engine::time::Span;

use crate::compile::checker::Checker;
use crate::compile::names::Names;
use crate::file::PostEntry;

/// A post by its written name, such as `scrapping.main`.
pub(crate) fn post(
    check: &mut Checker<'_>,
    names: &Names,
    path: &str,
    written: &str,
) -> Option<Post> {
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
pub(super) fn posts(names: &Names) -> Vec<(String, Post)> {
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
    add("cart_wash", &names.carts, Post::CartWash);
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
        Post::Clearing(number) => of(
            "clearing",
            line.troubles
                .get(usize::from(number))
                .map(|trouble| &trouble.name),
        ),
        Post::CartWash(number) => of(
            "cart_wash",
            line.carts.get(usize::from(number)).map(|carts| &carts.name),
        ),
        Post::Running => "running".to_owned(),
    }
}

/// A list of posts, read from the top; `path` leads to the list, `whose` it is.
pub(super) fn calls(
    check: &mut Checker<'_>,
    entries: &[PostEntry],
    whose: &str,
    path: &str,
    names: &Names,
) -> Vec<Call> {
    let mut list: Vec<Call> = Vec::new();
    for (index, entry) in entries.iter().enumerate() {
        let mut path = format!("{path}.{index}");
        let (name, step_in, leave_at, stay_min) = match entry {
            PostEntry::Name(name) => (name, 1, 0, 0.0),
            PostEntry::Call(call) => {
                let step_in = call.step_in.unwrap_or(1);
                let leave_at = call.leave_at.unwrap_or(0);
                if leave_at >= step_in {
                    let message = format!(
                        "{whose} would leave {} at {leave_at} waiting jobs and step in at {step_in}",
                        call.post
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
            let message = format!("{whose} has {name} twice on the list");
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
