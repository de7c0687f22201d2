//! Where ware and waste of a tray go, in the mean and while nothing is full.
//!
//! Trays of a kind of diner come to the posts that take from where they are put down; where several do, each is counted
//! for as many of them. What is put away at the drop-off is taken off before.

use scullery_engine::line::{Line, PiecesTo, ReceiverGoes, TraysFrom, TraysTo};

use super::flow::Flow;
use super::work::at_table;
use crate::plan::Plan;

/// Where the ware and the waste of one tray of a kind of diner go: means.
pub(crate) struct Ways {
    /// Pieces that go into each receiver, by receiver.
    pub(crate) into_receiver: Vec<f64>,
    /// Pieces of a class that go a way, receivers followed to where they lead.
    pub(crate) pieces: Vec<(usize, PiecesTo, f64)>,
    /// Pieces of a class that go onto a lane in the rack they were put into.
    pub(crate) as_racks: Vec<(usize, u8, f64)>,
    /// Kilograms into each disposer or bin, by store.
    pub(crate) waste_kg: Vec<f64>,
    /// Kilograms scraped off at a post.
    pub(crate) scraped_kg: f64,
}

/// The ways of one tray of a kind of diner.
pub(crate) fn ways(plan: &Plan, kind: usize) -> Ways {
    let line = &plan.line;
    let table = at_table(plan, kind);
    let mut ways = Ways {
        into_receiver: vec![0.0; line.receivers.len()],
        pieces: Vec::new(),
        as_racks: Vec::new(),
        waste_kg: vec![0.0; line.waste_stores.len()],
        scraped_kg: 0.0,
    };
    for &(class, receiver, pieces) in &table.put {
        ways.go(line, class, PiecesTo::Receiver(receiver), pieces);
    }
    let whole_kg = tray_kg(plan, kind);
    let mut left_kg: Vec<f64> = line
        .waste_kinds
        .iter()
        .map(|it| whole_kg * f64::from(it.share_ppm) / 1e6)
        .collect();
    let mut scraped_kg = whole_kg;
    for &(waste, store) in &table.thrown {
        if let Some(kg) = left_kg.get_mut(usize::from(waste)) {
            scraped_kg -= *kg;
            ways.waste_kg[usize::from(store)] += std::mem::take(kg);
        }
    }
    ways.scraped_kg = scraped_kg.max(0.0);
    let first = first_posts(plan, kind);
    ways.at_posts(line, &first, &table.pieces, &left_kg, 1.0);
    ways
}

impl Ways {
    /// Pieces of a class go a way.
    fn go(&mut self, line: &Line, class: usize, to: PiecesTo, pieces: f64) {
        if pieces <= 0.0 {
            return;
        }
        let PiecesTo::Receiver(r) = to else {
            self.pieces.push((class, to, pieces));
            return;
        };
        let Some(receiver) = line.receivers.get(usize::from(r)) else {
            return;
        };
        self.into_receiver[usize::from(r)] += pieces;
        match receiver.goes {
            ReceiverGoes::StraightOn(to) | ReceiverGoes::Changed(to) => {
                self.pieces.push((class, to, pieces));
            }
            ReceiverGoes::AsRack(lane) => self.as_racks.push((class, lane, pieces)),
        }
    }

    /// A `share` of the trays comes to these posts, with so many pieces by class and kilograms by kind of waste on each.
    fn at_posts(&mut self, line: &Line, posts: &[usize], pieces: &[f64], kg: &[f64], share: f64) {
        let share = share / posts.len().max(1) as f64;
        for &post in posts {
            let spec = &line.scrapping[post];
            let mut left = pieces.to_vec();
            for (class, pieces) in left.iter_mut().enumerate() {
                if spec.takes_off(class) {
                    let off = std::mem::take(pieces);
                    let to = spec.routes.get(class).copied();
                    self.go(line, class, to.unwrap_or(PiecesTo::Leave), off * share);
                }
            }
            if let Some(on) = spec.passes_on.as_ref().filter(|_| is_any(&left)) {
                let next = taking(line, |from| *from == TraysFrom::Table(on.to));
                self.at_posts(line, &next, &left, kg, share);
                continue;
            }
            for (kg, store) in kg.iter().zip(&spec.waste_to) {
                if let Some(store) = store {
                    self.waste_kg[usize::from(*store)] += kg * share;
                }
            }
        }
    }
}

fn is_any(pieces: &[f64]) -> bool {
    pieces.iter().any(|pieces| *pieces > 0.0)
}

/// Mean kilograms of waste on a tray of a kind of diner; nought where nothing comes back.
fn tray_kg(plan: &Plan, kind: usize) -> f64 {
    let pieces = &plan.demand.kinds[kind].pieces;
    if !is_any(pieces) {
        return 0.0;
    }
    let classes = pieces.iter().zip(&plan.line.classes);
    let on_pieces: f64 = classes
        .map(|(pieces, class)| pieces * f64::from(class.waste_g) / 1000.0)
        .sum();
    plan.demand.waste_kg.mean() + on_pieces
}

/// The posts to which the trays of a kind of diner come first; all posts, should none take them.
fn first_posts(plan: &Plan, kind: usize) -> Vec<usize> {
    let kind = &plan.demand.kinds[kind];
    let line = &plan.line;
    let to = line.drop_offs.get(usize::from(kind.drop_off));
    let to = to.filter(|_| kind.carts.is_none()).map(|it| it.to);
    let on_belt = |belt: u8| {
        let mut beside = line.twins.iter().filter(|twin| twin.beside == belt);
        to == Some(TraysTo::Belt(belt)) || beside.any(|twin| to == Some(TraysTo::Belt(twin.belt)))
    };
    let from = |from: &TraysFrom| match *from {
        TraysFrom::BeltEnd(belt) | TraysFrom::BeltAt { belt, .. } => on_belt(belt),
        TraysFrom::Accumulator { accumulator, .. } => to == Some(TraysTo::Accumulator(accumulator)),
        TraysFrom::Table(table) => to == Some(TraysTo::Table(table)),
        TraysFrom::Carts(carts) => kind.carts == Some(carts),
        TraysFrom::Overflow(_) => false,
    };
    let posts = taking(line, from);
    match posts.is_empty() {
        true => (0..line.scrapping.len()).collect(),
        false => posts,
    }
}

/// The posts one of whose sources is such a one.
fn taking(line: &Line, is_source: impl Fn(&TraysFrom) -> bool) -> Vec<usize> {
    let posts = 0..line.scrapping.len();
    posts
        .filter(|post| line.scrapping[*post].from.iter().any(&is_source))
        .collect()
}

/// Sum over the kinds of diner of what `each` tray asks, times the trays of the whole meal.
pub(crate) fn in_the_meal(plan: &Plan, flow: &Flow, each: impl Fn(&Ways) -> f64) -> f64 {
    let kinds = flow.dropped.iter().enumerate();
    kinds
        .map(|(kind, came)| each(&ways(plan, kind)) * came.iter().sum::<f64>())
        .sum()
}
