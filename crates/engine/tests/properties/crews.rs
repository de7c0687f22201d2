//! Random crews and other work for random lines.

use scullery_engine::line::*;
use scullery_engine::time::{SimTime, Span};

use super::dice::Dice;

/// All posts where somebody can stand.
pub(crate) fn posts(line: &Line) -> Vec<Post> {
    let mut posts: Vec<_> = (0..line.scrapping.len() as u8)
        .map(Post::Scrapping)
        .collect();
    let racking = line.racking.iter().enumerate();
    posts.extend(
        racking
            .filter(|(_, r)| !r.piles.is_empty())
            .map(|(r, _)| Post::Racking(r as u8)),
    );
    let machines = line.machines.iter().enumerate();
    posts.extend(
        machines
            .filter(|(_, m)| m.loading.is_some())
            .map(|(m, _)| Post::Loading(m as u8)),
    );
    let clean_ends = line.clean_ends.iter().enumerate();
    posts.extend(
        clean_ends
            .filter(|(_, c)| c.by_hand)
            .map(|(c, _)| Post::Unloading(c as u8)),
    );
    posts.extend(line.delivery.is_some().then_some(Post::Running));
    let carts = line.carts.iter().enumerate();
    posts.extend(
        carts
            .filter(|(_, c)| c.wash.is_some())
            .map(|(c, _)| Post::CartWash(c as u8)),
    );
    posts
}

pub(crate) fn crew(line: &mut Line, dice: &mut Dice) {
    let all = posts(line);
    line.walk = dice.span(12);
    line.hand_wash = dice.span(45);
    for w in 0..dice.between(1, 5) {
        let mut posts = all.clone();
        // The first can do everything, so that most meals end.
        if w > 0 {
            posts.retain(|_| !dice.once_in(3));
        }
        if posts.is_empty() {
            posts.push(all[0]);
        }
        let turn = dice.upto(posts.len() as u32 - 1) as usize;
        posts.rotate_left(turn);
        let list = posts.into_iter().map(|post| {
            // Often plain, so that ware does not lie below every level for ever.
            let plain = w == 0 || dice.once_in(2);
            Call {
                post,
                step_in: if plain { 1 } else { dice.between(1, 4) },
                leave_at: if plain { 0 } else { dice.upto(2) },
                stay: if dice.once_in(3) {
                    dice.span(240)
                } else {
                    Span::NONE
                },
            }
        });
        let list = list.collect();
        let shifts = shifts(line.starts, w == 0, dice);
        line.crew.push(Worker {
            name: format!("worker {w}"),
            breaks: breaks(line.starts, dice),
            shifts,
            pace: dice.pick(&[1.0, 0.9, 1.25]),
            list,
            unfilled: dice.pick(&[0.0, 0.0, 0.2]),
            terms: terms(line.starts, w, &all, dice),
        });
    }
}

/// Mostly nothing out of the ordinary; else a late start, unpaid breaks, other paces, other posts, or help on call.
fn terms(starts: SimTime, w: u32, posts: &[Post], dice: &mut Dice) -> Terms {
    let mut terms = Terms::default();
    let later = |dice: &mut Dice, most: u32| starts + Span::from_s(f64::from(dice.upto(most)));
    if dice.once_in(3) {
        terms.unpaid = vec![0];
    }
    if dice.once_in(4) {
        terms.late = Some(Late {
            share: 0.5,
            by_min: dice.dist(5.0),
        });
    }
    if dice.once_in(4) {
        let first = later(dice, 1_000);
        terms.paces = vec![(first, 0.8), (first + Span::from_s(500.0), 1.3)];
    }
    // The first keeps all posts and comes by the clock, so that most meals end.
    if w == 0 {
        return terms;
    }
    if dice.once_in(4) {
        let call = |post| Call {
            post,
            step_in: 1,
            leave_at: 0,
            stay: Span::NONE,
        };
        let first = later(dice, 1_500);
        terms.moves = vec![
            (first, vec![call(dice.pick(posts))]),
            (
                first + Span::from_s(700.0),
                posts.iter().copied().map(call).collect(),
            ),
        ];
    }
    if dice.once_in(5) {
        terms.help = Some(Help {
            watches: if dice.once_in(2) {
                Watched::Jobs(dice.pick(posts))
            } else {
                Watched::Standing(0)
            },
            call_at: dice.between(1, 3),
            comes_after: dice.span(200),
            leave_at: dice.upto(1),
            stay: dice.span(300),
        });
    }
    terms
}

/// Work for two at some posts where two can stand.
pub(crate) fn for_two(line: &mut Line, dice: &mut Dice) {
    for post in posts(line) {
        line.for_two.push(post);
        if !line.faults().is_empty() || !dice.once_in(8) {
            line.for_two.pop();
        }
    }
}

/// One or two shifts, in clock order; the second may begin when the first ends.
fn shifts(starts: SimTime, long: bool, dice: &mut Dice) -> Vec<(SimTime, SimTime)> {
    let secs = |s: u32| Span::from_s(f64::from(s));
    let from = starts + secs(dice.pick(&[0, 60, 600]));
    let to = from
        + if long {
            secs(dice.between(3_000, 12_000))
        } else {
            secs(dice.between(1, 4_000))
        };
    let mut shifts = vec![(from, to)];
    if dice.once_in(3) {
        let again = to + secs(dice.pick(&[0, 100, 600]));
        shifts.push((again, again + secs(dice.between(1, 4_000))));
    }
    shifts
}

/// Breaks in clock order; one may fall due during another, or outside every shift.
fn breaks(starts: SimTime, dice: &mut Dice) -> Vec<(SimTime, Span)> {
    let mut at = starts;
    let mut breaks = Vec::new();
    for _ in 0..dice.pick(&[0, 0, 1, 2]) {
        at = at + Span::from_s(f64::from(dice.between(1, 1_500)));
        breaks.push((at, Span::from_s(f64::from(dice.between(1, 900)))));
    }
    breaks
}

pub(crate) fn duties(line: &mut Line, dice: &mut Dice) {
    let all = posts(line);
    for d in 0..dice.pick(&[0, 0, 1, 2]) {
        let dosing = (0..).zip(&line.machines).find(|(_, m)| m.dosing.is_some());
        let when = if let Some((m, _)) = dosing
            && dice.once_in(2)
        {
            DutyWhen::DetergentLow(m)
        } else if dice.once_in(4) {
            let moment = dice.pick(&[Moment::Sorted, Moment::Washed, Moment::Clean]);
            DutyWhen::AfterLast {
                moment,
                drains: dice.pick(&[Span::NONE, Span::from_s(30.0)]),
                jobs: dice.between(1, 3),
            }
        } else if dice.once_in(2) {
            DutyWhen::EveryKg(dice.pick(&[1.0, 0.25]))
        } else {
            let mut at = line.starts;
            let times = (0..dice.between(1, 4)).map(|_| {
                at = at + Span::from_s(f64::from(dice.upto(900)));
                at
            });
            DutyWhen::At(times.collect())
        };
        line.duties.push(Duty {
            name: format!("other work {d}"),
            when,
            work_s: dice.dist(60.0),
            by: vec![dice.pick(&all)],
            may_wait: dice.once_in(2).then(|| dice.span(300)),
            clean_side: dice.once_in(2),
        });
    }
}
