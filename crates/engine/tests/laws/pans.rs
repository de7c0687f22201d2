//! Kitchen pans: into the same machine as the ware of the meal, or into a sink of their own.

use scullery_engine::demand::*;
use scullery_engine::line::*;

use crate::hand::*;

/// Diners' trays at table 0; pans of the kitchen at table 1, 30 s to scrape one. A pan fills a rack of its own.
fn kitchen() -> Line {
    let mut line = bare();
    line.classes = vec![class("plate", 10), class("pan", 1)];
    line.rack_kinds = vec![rack_kind("peg", 5)];
    line.drop_offs = vec![
        drop_off(TraysTo::Table(0)),
        DropOff {
            name: "kitchen door".into(),
            ..drop_off(TraysTo::Table(1))
        },
    ];
    let pots = Table {
        name: "pot table".into(),
        ..table(None)
    };
    line.tables = vec![table(None), pots];
    let racked = vec![PiecesTo::Racks(0); 2];
    line.scrapping = vec![
        scrapping(1.0, racked.clone()),
        Scrapping {
            name: "pots".into(),
            from: vec![TraysFrom::Table(1)],
            ..scrapping(30.0, racked)
        },
    ];
    line.racking = vec![racking(2, RacksTo::Lane(0))];
    line.lanes = vec![shelf(Some(9))];
    line.machines = vec![door(60.0)];
    line.crew = vec![
        worker("one", &[SCRAP]),
        worker("potman", &[Post::Scrapping(1)]),
    ];
    line
}

/// Ten plates of a diner at 110 s, three pans of the kitchen at 100 s.
fn demand() -> Demand {
    let mut demand = coming(&[110.0], &[10.0, 0.0]);
    let pans = Kind {
        name: "pans".into(),
        share: vec![(at(0.0), 0.0)],
        pieces: vec![0.0, 1.0],
        drop_off: 1,
        ..demand.kinds[0].clone()
    };
    demand.kinds.push(pans);
    demand.loads = vec![Load {
        name: "kitchen".into(),
        kind: 1,
        when: LoadWhen::At(vec![(at(100.0), 3)]),
        covers: false,
        taken: None,
    }];
    demand
}

#[test]
fn pans_in_the_same_machine_take_their_turn_with_the_ware_of_the_meal() {
    // The plates are racked at 111 and washed to 171; the pans come at 130, 160 and 190, a minute each after that.
    let (ended, diary) = live(&kitchen(), &demand());
    assert_eq!(
        diary.trips(),
        [
            (111.0, 171.0, 10),
            (171.0, 231.0, 1),
            (231.0, 291.0, 1),
            (291.0, 351.0, 1)
        ]
    );
    assert_eq!(ended.balance.pieces_out, 13);
}

#[test]
fn pans_in_a_sink_of_their_own_leave_the_machine_to_the_ware_of_the_meal() {
    // 30 s to scrape and 120 s in the sink: done at 250, 400 and 550.
    let mut line = kitchen();
    line.scrapping[1].routes = vec![PiecesTo::Leave; 2];
    line.scrapping[1].piece_s = vec![0.0, 120.0];
    let (ended, diary) = live(&line, &demand());
    assert_eq!(diary.trips(), [(111.0, 171.0, 10)]);
    assert_eq!(
        diary.times("trays wholly clean"),
        [171.0, 250.0, 400.0, 550.0]
    );
    assert_eq!(ended.balance.pieces_out, 13);
}
