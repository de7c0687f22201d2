//! Order between classes at the load end.

use scullery_engine::line::*;

use crate::hand::*;

/// Plates and cups on piles, racked one by one (10 s a piece) into racks of one.
fn two_piles(order: Order) -> Line {
    Line {
        classes: vec![class("plate", 1), class("cup", 1)],
        scrapping: vec![scrapping(0.0, vec![PiecesTo::Pile(0), PiecesTo::Pile(0)])],
        racking: vec![Racking {
            places: 1,
            piles: vec![pile(0, Some(100), 10.0), pile(1, Some(100), 10.0)],
            order,
            ..racking(1, RacksTo::Lane(0))
        }],
        machines: vec![door(1.0)],
        crew: vec![worker("scrapper", &[SCRAP]), worker("racker", &[RACK])],
        ..wash_line(1)
    }
}

fn classes(diary: &Diary) -> Vec<u8> {
    diary.racks.iter().map(|r| r.class).collect()
}

#[test]
fn the_pile_fullest_for_its_room_goes_first_unless_an_order_is_said() {
    // Three plates and two cups at once. By fullness: plate (3 to 2), then plates and cups in turn, plates first where as full.
    let demand = coming(&[0.0], &[3.0, 2.0]);
    let (_, usual) = live(&two_piles(Order::Usual), &demand);
    assert_eq!(classes(&usual), [0, 0, 1, 0, 1]);
    let fixed = two_piles(Order::Fixed(vec![ClassId(1)]));
    let (_, fixed) = live(&fixed, &demand);
    assert_eq!(classes(&fixed), [1, 1, 0, 0, 0]);
}

#[test]
fn first_come_is_by_the_piece_that_has_waited_longest() {
    // Of two plates of 0 one is in hand. A cup of 1, then two plates of 2: by fullness three plates go before the one cup, and
    // the last of them, as full, by the order of the file.
    let demand = two_kinds(&[0.0, 2.0], &[2.0, 0.0], &[1.0], &[0.0, 1.0]);
    let (_, usual) = live(&two_piles(Order::Usual), &demand);
    assert_eq!(classes(&usual), [0, 0, 0, 0, 1]);
    let (_, first) = live(&two_piles(Order::FirstCome), &demand);
    assert_eq!(classes(&first), [0, 0, 1, 0, 0]);
}

#[test]
fn the_class_of_which_the_smallest_share_is_at_the_servery_goes_first() {
    // Of 10 plates four are out, six tenths are there; of 4 cups two are out, one half is there: the cups, until at 20 all
    // four are back at the servery (each washed within a second of being racked, at 11 and 21). At 20 three of four cups are
    // there, more than six of ten plates: then the plates.
    let mut line = two_piles(Order::ShortestStock);
    line.classes[0].par = Some(10);
    line.classes[1].par = Some(4);
    let (_, diary) = live(&line, &coming(&[0.0], &[4.0, 2.0]));
    assert_eq!(classes(&diary), [1, 1, 0, 0, 0, 0]);
}

#[test]
fn racks_are_taken_from_a_shelf_in_its_order() {
    // A plate rack and two cup racks stand on the shelf when the machine is hot at 50.
    let mut line = two_piles(Order::FirstCome);
    line.scrapping[0].routes = vec![PiecesTo::Racks(0), PiecesTo::Racks(0)];
    line.racking[0].open_racks = 3;
    line.machines[0].on_at = at(50.0);
    let demand = two_kinds(&[0.0], &[1.0, 0.0], &[1.0], &[0.0, 2.0]);
    let (_, usual) = live(&line, &demand);
    assert_eq!(classes(&usual), [0, 1, 1]);
    line.lanes[0].order = Order::Fixed(vec![ClassId(1), ClassId(0)]);
    let (_, fixed) = live(&line, &demand);
    assert_eq!(classes(&fixed), [1, 1, 0]);
}
