//! A small catalogue written by hand.

use scullery_engine::time::SimTime;
use scullery_engine::watch::{
    ActorId, ActorInfo, ActorKind, Catalogue, CountId, CountInfo, Counted, PlaceId, PlaceInfo,
    Role, Unit,
};

pub(crate) const QUEUE: PlaceId = PlaceId(0);
pub(crate) const STOCK: PlaceId = PlaceId(1);
pub(crate) const INSIDE: PlaceId = PlaceId(2);
pub(crate) const ADA: ActorId = ActorId(0);
pub(crate) const BO: ActorId = ActorId(1);
pub(crate) const CEM: ActorId = ActorId(2);
pub(crate) const DISH: ActorId = ActorId(3);
pub(crate) const SERVED: CountId = CountId(0);

pub(crate) fn at(s: f64) -> SimTime {
    SimTime::from_s(s)
}

fn place(name: &str, unit: Unit, role: Role, at_start: u32) -> PlaceInfo {
    PlaceInfo {
        name: name.into(),
        unit,
        role,
        room: None,
        at_start,
        class: None,
    }
}

fn actor(name: &str, kind: ActorKind) -> ActorInfo {
    ActorInfo {
        name: name.into(),
        kind,
    }
}

/// A queue, a stock of 100 and a machine's inside; three workers and the machine; one count.
pub(crate) fn catalogue() -> Catalogue {
    Catalogue {
        places: vec![
            place("drop_off.main.queue", Unit::People, Role::Queue, 0),
            place("stock.plate", Unit::Pieces, Role::Stock, 100),
            place("machine.dish", Unit::Racks, Role::Washing, 0),
        ],
        actors: vec![
            actor("Ada", ActorKind::Worker),
            actor("Bo", ActorKind::Worker),
            actor("Cem", ActorKind::Worker),
            actor("dish", ActorKind::Machine),
        ],
        counts: vec![CountInfo {
            name: "covers served".into(),
            counted: Counted::Served,
            of: None,
        }],
        posts: vec![],
    }
}
