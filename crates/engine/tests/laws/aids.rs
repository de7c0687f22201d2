//! Sprays and the like: how long they run. Worked by hand.

use scullery_engine::line::*;

use crate::hand::*;

fn aid(at: Post, each_ms: u32, piece_ms: &[u32]) -> Aid {
    Aid {
        name: "spray".into(),
        at,
        each_ms,
        piece_ms: piece_ms.to_vec(),
    }
}

fn ran(line: &Line, demand: &scullery_engine::demand::Demand) -> u64 {
    let (_, diary) = live(line, demand);
    let counts = diary.counts.iter();
    let ms = counts.filter(|count| count.1 == "milliseconds it ran spray");
    ms.map(|count| u64::from(count.2)).sum()
}

#[test]
fn a_spray_at_the_table_runs_for_each_tray_and_each_piece_taken_off_there() {
    // 2 s a tray and half a second a plate; two trays of two plates and a cup: 2 x (2 + 1) = 6 s.
    let line = Line {
        classes: vec![loose("plate"), loose("cup")],
        scrapping: vec![scrapping(10.0, vec![PiecesTo::Leave; 2])],
        aids: vec![aid(SCRAP, 2_000, &[500, 0])],
        crew: vec![worker("one", &[SCRAP])],
        ends: Some(at(100.0)),
        ..scrapping_line(0.0)
    };
    let demand = coming(&[0.0, 0.0], &[2.0, 1.0]);
    assert_eq!(ran(&line, &demand), 6_000);
    // In series: the first post takes only cups off, and the spray is there.
    let mut row = line.clone();
    row.tables.push(table(None));
    row.scrapping[0].passes_on = Some(PassesOn {
        takes_off: vec![false, true],
        to: 1,
    });
    row.scrapping.push(Scrapping {
        from: vec![TraysFrom::Table(1)],
        ..scrapping(1.0, vec![PiecesTo::Leave; 2])
    });
    row.crew.push(worker("two", &[Post::Scrapping(1)]));
    assert_eq!(ran(&row, &demand), 4_000);
}

#[test]
fn a_spray_at_the_load_end_runs_for_each_rack() {
    // Three plates in racks of two: two racks of 15 s, and 0.1 s a plate.
    let mut line = wash_line(2);
    line.machines[0].loading = Some(Loading {
        rack_s: 20.0,
        variation: scullery_engine::dist::Dist::Constant(1.0),
        places: 1,
    });
    line.crew.push(worker("loader", &[Post::Loading(0)]));
    line.aids = vec![aid(Post::Loading(0), 15_000, &[100])];
    let demand = coming(&[0.0, 0.0, 0.0], &[1.0]);
    assert_eq!(ran(&line, &demand), 30_300);
}
