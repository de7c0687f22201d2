//! Lanes in series: the rack at the end of one passes to the head of the next when there is room; until then it stands, and
//! the lane behind it fills.

use crate::line::floor::Floor;
use crate::line::{Line, lane};
use crate::time::SimTime;

/// Passes racks on to the next lane, as far as it has room at its head.
pub(crate) fn pass_on(floor: &mut Floor, line: &Line, i: u8, next: u8) {
    while lane::at_end(floor, i).is_some() && lane::has_room(floor, line, next) {
        let Some(rack) = lane::take(floor, line, i, false) else {
            return;
        };
        lane::put(floor, line, next, rack);
    }
}

/// The lanes that come to the end of this one: itself, then those that hand over to it, and so on.
fn behind(line: &Line, i: u8) -> impl Iterator<Item = u8> + '_ {
    let lanes = 0..line.lanes.len() as u8;
    lanes.filter(move |&lane| line.leads_to(lane, i))
}

/// Racks on a lane and on those that hand over to it: all that come to its end.
pub(crate) fn coming(floor: &Floor, line: &Line, i: u8) -> u32 {
    if !lane::is_in_series(floor, i) {
        return lane::len(floor, i);
    }
    behind(line, i).map(|lane| lane::len(floor, lane)).sum()
}

/// Racks on a lane and on those it hands over to: all that a rack put on it now comes behind.
pub(crate) fn ahead(floor: &Floor, line: &Line, i: u8) -> u32 {
    let way = std::iter::successors(Some(i), |&lane| line.lanes[usize::from(lane)].hands_to);
    way.map(|lane| lane::len(floor, lane)).sum()
}

/// Since when the rack that has been longest on the lane where it is now is there, of those that come to the end of this.
pub(crate) fn longest_coming(floor: &Floor, line: &Line, i: u8) -> Option<SimTime> {
    if !lane::is_in_series(floor, i) {
        return lane::longest_here(floor, i);
    }
    behind(line, i)
        .filter_map(|lane| lane::longest_here(floor, lane))
        .min()
}

impl Line {
    /// The lane at whose end the racks of this one come out at last: where none hands over, the lane itself.
    pub fn last_lane(&self, lane: u8) -> u8 {
        let mut at = lane;
        for _ in 0..self.lanes.len() {
            match self.lanes.get(usize::from(at)).and_then(|it| it.hands_to) {
                Some(next) => at = next,
                None => break,
            }
        }
        at
    }

    /// Whether the racks of a lane come along the end of another, or it is that lane.
    pub fn leads_to(&self, lane: u8, to: u8) -> bool {
        let mut at = lane;
        for _ in 0..self.lanes.len() {
            if at == to {
                return true;
            }
            match self.lanes.get(usize::from(at)).and_then(|it| it.hands_to) {
                Some(next) => at = next,
                None => return false,
            }
        }
        at == to
    }

    /// Whole racks that a lane and those which hand over to it hold; `None`: as many as come.
    pub fn room_behind(&self, lane: u8) -> Option<u32> {
        let lanes = (0..).zip(&self.lanes);
        let all = lanes.filter(|&(l, _)| self.leads_to(l, lane));
        all.map(|(_, it)| it.room())
            .try_fold(0_u32, |sum, room| Some(sum.saturating_add(room?)))
    }

    /// What does not fit together about lanes in series.
    pub(crate) fn hand_over_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        for (l, it) in (0..).zip(&self.lanes) {
            let Some(next) = it.hands_to else { continue };
            let Some(to) = self.lanes.get(usize::from(next)) else {
                faults.push(format!("lane {} hands over to nothing", it.name));
                continue;
            };
            if self
                .lanes
                .get(usize::from(self.last_lane(l)))
                .is_none_or(|it| it.hands_to.is_some())
            {
                faults.push(format!("racks on lane {} go round", it.name));
            }
            if self.fed_by(l).next().is_some() {
                faults.push(format!("lane {} hands over and feeds a machine", it.name));
            }
            if it.room() == Some(0) || to.room() == Some(0) {
                faults.push(format!(
                    "lane {} hands over where there is room for nothing",
                    it.name
                ));
            }
        }
        faults
    }
}
