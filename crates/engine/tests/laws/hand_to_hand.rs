//! Room for nothing: ware goes from hand to hand.

use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

#[test]
fn nothing_is_handed_to_somebody_whose_full_rack_still_waits_for_the_lane() {
    // Scrapping 10 s, racking 10 s, washing 50 s, no room between any two; three trays at 0 s. The first piece is racked
    // 10-20 and washed 20-70. The second is racked 20-30; its full rack then stands until 70. The third is broken down
    // at 30, and nobody can begin to rack it before 70: so long it stays in the hands of who broke it down.
    let line = Line {
        classes: vec![class("tray", 1)],
        rack_kinds: vec![rack_kind("rack", 9)],
        drop_offs: vec![drop_off(TraysTo::Table(0))],
        tables: vec![table(None)],
        scrapping: vec![scrapping(10.0, vec![PiecesTo::Pile(0)])],
        racking: vec![Racking {
            places: 1,
            piles: vec![pile(0, Some(0), 10.0)],
            ..racking(1, RacksTo::Lane(0))
        }],
        lanes: vec![shelf(Some(0))],
        machines: vec![door(50.0)],
        crew: vec![
            worker("scraps", &[Post::Scrapping(0)]),
            worker("racks", &[Post::Racking(0)]),
        ],
        ends: Some(at(200.0)),
        ..bare()
    };
    let (_, diary) = live(&line, &coming(&[0.0, 0.0, 0.0], &[1.0]));
    assert_eq!(
        diary.spans("scraps", State::HeldUp, 200.0),
        [(30.0, 70.0)],
        "the third piece waits in hand"
    );
    assert_eq!(
        diary.spans("racks", State::Working, 200.0),
        [(10.0, 30.0), (70.0, 80.0)]
    );
    assert_eq!(diary.times("racks out machine"), [70.0, 120.0, 170.0]);
}
