//! Any number of exponential stations, the first never short of work: a chain solved exactly.

use crate::solve::{explore, positive};

/// Most stations: nine without any room between them already have too many states.
const MOST_STATIONS: usize = 8;

/// What a station does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Station {
    Starved,
    Working,
    Blocked,
}

/// What each station does, and what lies between each and the next.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct State {
    stations: Vec<Station>,
    between: Vec<u32>,
}

/// Pieces per time through exponential stations of these `rates` in a row, with `buffers[i]` places between station
/// `i` and the next, the first always with work, the last never blocked; a station that has finished keeps its piece
/// until there is room (blocking after service).
///
/// The chain over what stations do and what lies between them, solved exactly. `None` unless there is a station, the
/// rates are positive and the buffers are one fewer than the stations; also beyond 1,500 states (three stations: some
/// 35 places each; five: three).
///
/// Method as in Hunt, Operations Research 4 (1956) 674-683, and Hillier & Boling (1967), from memory of both.
pub fn saturated_line(rates: &[f64], buffers: &[u32]) -> Option<f64> {
    for &rate in rates {
        positive(rate)?;
    }
    let (&last_rate, _) = rates.split_last()?;
    if buffers.len() + 1 != rates.len() || rates.len() > MOST_STATIONS {
        return None;
    }
    let start = settle(
        State {
            stations: vec![Station::Starved; rates.len()],
            between: vec![0; buffers.len()],
        },
        buffers,
    );
    let last = rates.len() - 1;
    let law = explore(start, |state| {
        let working = state.stations.iter().enumerate();
        working
            .filter(|(_, station)| **station == Station::Working)
            .map(|(i, _)| {
                let mut next = state.clone();
                next.stations[i] = if i == last {
                    Station::Starved
                } else {
                    Station::Blocked
                };
                (settle(next, buffers), rates[i])
            })
            .collect()
    })?;
    let delivering = law
        .iter()
        .filter(|(state, _)| state.stations.last() == Some(&Station::Working));
    Some(last_rate * delivering.map(|(_, p)| p).sum::<f64>())
}

/// Does all that takes no time: finished pieces move on where there is room, starved stations take what waits.
fn settle(mut state: State, buffers: &[u32]) -> State {
    let count = state.stations.len();
    loop {
        let mut moved = false;
        for i in (0..count).rev() {
            if state.stations[i] == Station::Starved && take(&mut state, i) {
                moved = true;
            }
            if state.stations[i] == Station::Blocked
                && i + 1 < count
                && state.between[i] < buffers[i]
            {
                state.between[i] += 1;
                state.stations[i] = Station::Starved;
                moved = true;
            }
        }
        if !moved {
            return state;
        }
    }
}

/// Gives station `i` its next piece, if there is one.
fn take(state: &mut State, i: usize) -> bool {
    if i == 0 {
        state.stations[0] = Station::Working;
        return true;
    }
    if state.between[i - 1] > 0 {
        state.between[i - 1] -= 1;
    } else if state.stations[i - 1] == Station::Blocked {
        state.stations[i - 1] = Station::Starved;
    } else {
        return false;
    }
    state.stations[i] = Station::Working;
    true
}
