//! Rosters keep their rules and are paid the least.

use std::sync::atomic::AtomicBool;

use scullery_engine::time::{SimTime, Span};
use scullery_scenario::staffing::Contract;
use scullery_scenario::{Format, read_alone};
use scullery_study::staffing::cheapest_crew::{CrewSearch, cheapest_crew};
use scullery_study::staffing::cover::{Cover, cover};
use scullery_study::staffing::shifts::{Need, Shift, shifts};

use crate::staffing::TWO_POSTS;

fn hours(h: f64) -> Span {
    Span::from_min(h * 60.0)
}

/// Shifts of 2 to 4 h, no meal break within 4 h, starts on the quarter hour.
fn contract() -> Contract {
    Contract {
        shortest: hours(2.0),
        longest: hours(4.0),
        show_up: hours(2.0),
        meal_break_after: hours(4.0),
        ..Contract::usual()
    }
}

/// One role, from 11:00.
fn need(people: &[u32]) -> Need {
    Need {
        from: 44,
        by_role: vec![people.to_vec()],
        in_all: vec![0; people.len()],
    }
}

fn made(contract: &Contract, need: &Need) -> (Vec<Shift>, Cover) {
    let all = shifts(contract, need).unwrap();
    let chosen = cover(&all, need, contract.off_at_once).unwrap();
    (all, chosen)
}

/// Whether a choice covers the need and lets no more people off at once than may be.
fn fits(all: &[Shift], people: &[u32], need: &Need, off_at_once: u32) -> bool {
    let sum = |wanted: &dyn Fn(&Shift) -> bool| -> u32 {
        all.iter()
            .zip(people)
            .filter(|(s, _)| wanted(s))
            .map(|(_, n)| n)
            .sum()
    };
    (0..need.quarters()).all(|q| {
        let roles = need.by_role.iter().enumerate();
        roles
            .into_iter()
            .all(|(r, wanted)| sum(&|s| s.role == r && s.works(q)) >= wanted[q])
            && sum(&|s| s.works(q)) >= need.in_all[q]
            && sum(&|s| s.rests(q)) <= off_at_once
    })
}

/// Tries every choice of shifts.
struct Trying<'a> {
    all: &'a [Shift],
    need: &'a Need,
    off_at_once: u32,
    people: Vec<u32>,
    best: Option<f64>,
}

impl Trying<'_> {
    /// Adds up to `left` more people on shifts from number `from` on.
    fn go(&mut self, from: usize, left: u32, paid: f64) {
        if self.best.is_some_and(|best| paid >= best) {
            return;
        }
        if fits(self.all, &self.people, self.need, self.off_at_once) {
            self.best = Some(paid);
            return;
        }
        if left == 0 {
            return;
        }
        for i in from..self.all.len() {
            self.people[i] += 1;
            self.go(i, left - 1, paid + self.all[i].paid);
            self.people[i] -= 1;
        }
    }
}

/// The least paid quarter hours by trying every choice of at most `most` people in all.
fn by_trying_all(all: &[Shift], need: &Need, off_at_once: u32, most: u32) -> Option<f64> {
    let people = vec![0; all.len()];
    let mut it = Trying {
        all,
        need,
        off_at_once,
        people,
        best: None,
    };
    it.go(0, most, 0.0);
    it.best
}

#[test]
fn a_case_solved_by_hand() {
    // Two people for an hour, one for the hour before and the hour after: 11:00 to 14:00. By hand: one shift of three hours,
    // and a second person for the middle hour, who must be paid two: five hours. Two shifts of two hours, 11-13 and 12-14,
    // cover it too, for four. Nobody can do it for less: the need itself is four hours.
    let need = need(&[1, 1, 1, 1, 2, 2, 2, 2, 1, 1, 1, 1]);
    let (all, chosen) = made(&contract(), &need);
    assert_eq!((chosen.paid, chosen.least), (16.0, true));
    assert!(fits(&all, &chosen.people, &need, 1));
    let taken: Vec<&Shift> = all
        .iter()
        .zip(&chosen.people)
        .filter(|(_, n)| **n > 0)
        .map(|(s, _)| s)
        .collect();
    let spans: Vec<[usize; 2]> = taken.iter().map(|s| s.spans[0]).collect();
    assert_eq!(spans, [[0, 8], [4, 12]]);
}

#[test]
fn showing_up_is_paid_even_when_the_need_is_shorter() {
    let (_, chosen) = made(&contract(), &need(&[1, 1, 1]));
    // Two hours for three quarter hours of need.
    assert_eq!(chosen.paid, 8.0);
    let dear = Contract {
        shortest: hours(0.5),
        show_up: hours(3.0),
        ..contract()
    };
    assert_eq!(made(&dear, &need(&[1, 1, 1])).1.paid, 12.0);
}

#[test]
fn small_cases_are_as_cheap_as_the_best_of_all_choices() {
    let rules = [
        contract(),
        Contract {
            starts_every: Span::from_min(30.0),
            ..contract()
        },
        Contract {
            shortest: hours(1.0),
            show_up: hours(1.0),
            longest: hours(1.5),
            ..contract()
        },
        Contract {
            split_gap: Some(hours(0.5)),
            ..contract()
        },
    ];
    let needs = [
        need(&[1, 1, 2, 2, 2, 1, 1, 1, 1]),
        need(&[2, 1, 1, 1, 1, 1, 1, 2, 2, 1]),
        need(&[1, 0, 0, 0, 0, 0, 0, 0, 1, 1]),
    ];
    for contract in &rules {
        for need in &needs {
            let (all, chosen) = made(contract, need);
            assert!(fits(&all, &chosen.people, need, contract.off_at_once));
            let best = by_trying_all(&all, need, contract.off_at_once, 5);
            assert_eq!(Some(chosen.paid), best, "{contract:?} {need:?}");
            assert!(chosen.at_least <= chosen.paid + 1e-9);
        }
    }
}

/// Shifts of 3 to 6 h with an unpaid half hour off after 2 h at most of work.
fn with_meals() -> Contract {
    Contract {
        shortest: hours(2.5),
        longest: hours(6.0),
        show_up: hours(2.5),
        meal_break_after: hours(2.0),
        ..Contract::usual()
    }
}

#[test]
fn no_stretch_is_longer_than_the_contract_allows_and_no_break_touches_the_peak() {
    let peak = (
        SimTime::from_min(12.0 * 60.0),
        SimTime::from_min(12.0 * 60.0 + 45.0),
    );
    let contract = Contract {
        no_breaks: Some(peak),
        ..with_meals()
    };
    let need = need(&[1; 16]);
    let all = shifts(&contract, &need).unwrap();
    assert!(!all.is_empty());
    for shift in &all {
        let [from, to] = shift.spans[0];
        let rest = shift.rest.expect("all are longer than a stretch");
        assert!(
            rest[0] - from <= 8 && to - rest[1] <= 8 && rest[1] - rest[0] == 2,
            "{shift:?}"
        );
        // 12:00 to 12:45 are quarter hours 4, 5 and 6 from 11:00.
        assert!(rest[1] <= 4 || rest[0] >= 7, "{shift:?}");
        assert_eq!(shift.paid, (to - from - 2) as f64);
        assert!((10.0..=24.0).contains(&shift.paid));
    }
}

#[test]
fn no_more_people_are_off_at_once_than_may_be() {
    let need = need(&[2; 14]);
    let (all, chosen) = made(&with_meals(), &need);
    for q in 0..need.quarters() {
        let off: u32 = all
            .iter()
            .zip(&chosen.people)
            .filter(|(s, _)| s.rests(q))
            .map(|(_, n)| n)
            .sum();
        assert!(off <= 1);
    }
    assert!(fits(&all, &chosen.people, &need, 1));
}

#[test]
fn a_need_no_shift_can_meet_is_said_so() {
    // A break barred all day, and no shift short enough to do without.
    let all_day = (SimTime::from_min(0.0), SimTime::from_min(1440.0));
    let contract = Contract {
        no_breaks: Some(all_day),
        ..with_meals()
    };
    let need = need(&[1; 16]);
    let all = shifts(&contract, &need).unwrap();
    assert!(cover(&all, &need, 1).unwrap_err().contains("no roster"));
}

#[test]
fn set_up_and_cleaning_are_covered_by_whoever_is_there() {
    let mut need = need(&[0, 0, 1, 1, 1, 1, 1, 1, 0, 0]);
    need.in_all[0..2].fill(2);
    need.in_all[8..10].fill(1);
    let (all, chosen) = made(&contract(), &need);
    assert!(fits(&all, &chosen.people, &need, 1));
    // By hand: two people for the first half hour, one for the rest: ten quarter hours and two for the second person,
    // who is paid two hours all the same.
    assert_eq!(chosen.paid, 10.0 + 8.0);
}

#[test]
fn the_roster_of_a_crew_keeps_its_rules_and_holds_when_simulated() {
    let text = format!("{TWO_POSTS}\n[staffing.contract]\nshortest_h = 0.5\nshow_up_h = 0.5\n");
    let plan = read_alone(&text, Format::Toml).unwrap_or_else(|why| panic!("{why:?}"));
    let how = CrewSearch {
        seed: 1,
        threads: 2,
        alpha: 0.05,
        indifference: 0.02,
        most_lunches: 5_000,
        shown_lunches: 60,
        one_missing: false,
        roster: true,
    };
    let study = cheapest_crew(&plan, &how, &|_| {}, &AtomicBool::new(false)).unwrap();
    let roster = study
        .roster
        .as_ref()
        .unwrap_or_else(|| panic!("{:?}", study.notices));
    let chosen = study.marked("chosen").unwrap();
    // The work is over well before the three hours for which the crew is there.
    assert!(
        roster.paid_hours < chosen.hours && roster.least,
        "{} of {}",
        roster.paid_hours,
        chosen.hours
    );
    assert_eq!(
        roster.proof.as_ref().unwrap().verdict,
        "holds",
        "{}",
        roster.answer
    );
    assert!(
        roster
            .need
            .iter()
            .zip(&roster.at_work)
            .all(|(need, at)| at >= need)
    );
}
