//! Receivers at drop-offs and posts, and where waste goes.

use scullery_engine::line::*;

use super::super::crews;
use super::super::dice::Dice;

/// What diners do, carts that fill at posts, disposers and bins.
pub(super) fn aids(line: &mut Line, dice: &mut Dice) {
    for _ in 0..dice.pick(&[0, 0, 1, 2]) {
        receiver(line, dice);
    }
    if dice.once_in(3) {
        waste(line, dice);
    }
    for a in 0..dice.pick(&[0, 0, 1, 2]) {
        let loads = line.machines.iter().position(|m| m.loading.is_some());
        let at = loads.map(|m| Post::Loading(m as u8));
        line.aids.push(Aid {
            name: format!("aid {a}"),
            at: at.filter(|_| dice.once_in(2)).unwrap_or(Post::Scrapping(0)),
            each_ms: dice.upto(9_000),
            piece_ms: line.classes.iter().map(|_| dice.upto(900)).collect(),
        });
    }
}

fn change(line: &mut Line, when: DutyWhen, dice: &mut Dice) {
    let posts = crews::posts(line);
    line.duties.push(Duty {
        name: format!("change {}", line.duties.len()),
        when,
        work_s: dice.dist(20.0),
        // The first of the crew has every post, so somebody comes.
        by: vec![dice.pick(&posts)],
        may_wait: dice.once_in(3).then(|| dice.span(300)),
        clean_side: dice.once_in(4),
    });
}

fn receiver(line: &mut Line, dice: &mut Dice) {
    let r = line.receivers.len() as u8;
    let class = dice.upto(line.classes.len() as u32 - 1) as usize;
    let mut ways = vec![
        ReceiverGoes::Changed(PiecesTo::Leave),
        ReceiverGoes::StraightOn(PiecesTo::Leave),
    ];
    let second = line.classes[class].second_pass.as_ref().map(|it| it.at);
    // Where ware is sorted between its passes none comes before the first.
    let tables = (0..).zip(&line.racking);
    for (table, it) in tables.filter(|(table, _)| Some(*table) != second) {
        let mut piles = it.piles.iter();
        if piles.any(|p| usize::from(p.class.0) == class && p.room != Some(0)) {
            ways.push(ReceiverGoes::StraightOn(PiecesTo::Pile(table)));
            ways.push(ReceiverGoes::Changed(PiecesTo::Pile(table)));
        } else if !matches!(it.to, RacksTo::Machine(_)) {
            ways.push(ReceiverGoes::Changed(PiecesTo::Racks(table)));
        }
    }
    ways.extend((0..line.lanes.len() as u8).map(ReceiverGoes::AsRack));
    let goes = dice.pick(&ways);
    let room = (!dice.once_in(6)).then(|| dice.between(1, 8));
    line.receivers.push(Receiver {
        name: format!("receiver {r}"),
        room: room.filter(|_| !matches!(goes, ReceiverGoes::AsRack(_))),
        call_at: dice.once_in(3).then(|| dice.between(1, 6)),
        goes,
    });
    if dice.once_in(3) {
        let post = dice.upto(line.scrapping.len() as u32 - 1) as usize;
        line.scrapping[post].routes[class] = PiecesTo::Receiver(r);
    } else {
        let aid = DinerAid {
            takes: (0..line.classes.len()).map(|c| c == class).collect(),
            into: AidInto::Receiver(r),
            takes_tray: dice.once_in(3),
            ..what_it_does(dice)
        };
        let at = dice.upto(line.drop_offs.len() as u32 - 1) as usize;
        line.drop_offs[at].aids.push(aid);
    }
    if !matches!(goes, ReceiverGoes::StraightOn(_)) {
        change(line, DutyWhen::Change(r), dice);
    }
}

fn what_it_does(dice: &mut Dice) -> DinerAid {
    DinerAid {
        takes: vec![],
        into: AidInto::Receiver(0),
        takes_tray: false,
        adds_s: dice.secs(5),
        adds_piece_s: dice.secs(2),
        saves_s: dice.secs(4),
        waits: dice.once_in(3),
    }
}

fn waste(line: &mut Line, dice: &mut Dice) {
    let first = dice.pick(&[1_000_000, 600_001, 0]);
    for share_ppm in [first, 1_000_000 - first] {
        let kind = line.waste_kinds.len() as u8;
        line.waste_kinds.push(WasteKind {
            name: format!("waste {kind}"),
            share_ppm,
        });
        let ground = StoreKind::Ground {
            g_per_min: dice.between(20, 4_000),
            room_g: dice.once_in(2).then(|| dice.between(1, 2_000)),
            throughout: dice.once_in(2),
        };
        let bins = StoreKind::Bins {
            each_g: dice.between(50, 2_000),
            count: dice.between(1, 3),
        };
        let is_ground = dice.once_in(2);
        line.waste_stores.push(WasteStore {
            name: format!("store {kind}"),
            kind: if is_ground { ground } else { bins },
        });
        if !is_ground {
            change(line, DutyWhen::BinFull(kind), dice);
        }
    }
    for post in 0..line.scrapping.len() {
        line.scrapping[post].waste_to = vec![Some(0), (!dice.once_in(3)).then_some(1)];
    }
    for kind in 0..2 {
        if dice.once_in(2) {
            let aid = DinerAid {
                takes: vec![false; line.classes.len()],
                into: AidInto::Waste { kind, store: kind },
                ..what_it_does(dice)
            };
            let at = dice.upto(line.drop_offs.len() as u32 - 1) as usize;
            line.drop_offs[at].aids.push(aid);
        }
    }
}
