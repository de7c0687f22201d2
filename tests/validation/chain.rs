//! Stations in series with finite room between them: any neighbours of the five places where a line holds ware up.
//!
//! | station | is | holds on to its thing while | room in front of it |
//! | --- | --- | --- | --- |
//! | putting down | the only position of a drop-off | the table is full | unlimited: people queue |
//! | scrapping | one person | the pile is full | the table |
//! | racking | one person, one open rack of one piece | the lane is full | the pile |
//! | washing | a door machine, one rack | the clean end is full | a shelf as the lane |
//! | unloading | one person | never | clean-end places, less the one whose rack is being unloaded |
//!
//! What lies upstream of the first station takes no time and has no limit; downstream of the last, ware leaves the line.
//! Each time is exponential: the put-down time, the tray's factor, the grab's, the cycle, the rack's unloading.
//!
//! At racking a finished rack stands in the open place while the lane is full. The person is then free, but there is no
//! place for another open rack, so nothing is begun: that is blocking after service, with the lane as the room. (With
//! racks filled *during breakdown* the person would go on with the next tray, and the open place would be one more place
//! of room: see `filled_during_breakdown`.)

use std::fmt::Write as _;

use scullery_engine::watch::{Counted, State};

use crate::tally::Tally;

/// Where a chain begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd)]
pub(crate) enum From {
    PuttingDown,
    Scrapping,
    Racking,
    Washing,
}

/// Stations from one of the five on: minutes of each, and the room between each and the next.
pub(crate) struct Chain {
    pub(crate) from: From,
    pub(crate) minutes: Vec<f64>,
    pub(crate) rooms: Vec<u32>,
}

impl Chain {
    fn last(&self) -> usize {
        self.from as usize + self.minutes.len() - 1
    }

    /// Seconds of a station; none for one that is not of the chain.
    fn seconds(&self, station: usize) -> Option<f64> {
        let k = station.checked_sub(self.from as usize)?;
        self.minutes.get(k).map(|minutes| minutes * 60.0)
    }

    /// Room in front of a station, where it is limited.
    fn room(&self, station: usize) -> Option<u32> {
        let k = station.checked_sub(self.from as usize + 1)?;
        self.rooms.get(k).copied()
    }

    /// The room's tables, without heading and covers.
    pub(crate) fn text(&self) -> String {
        let drawn = |seconds: f64| format!("{{ exponential = {{ mean = {seconds} }} }}");
        let varies = match self.seconds(1) {
            Some(_) => "exponential",
            None => "not_at_all",
        };
        let put_down = self.seconds(0).map_or("0".into(), drawn);
        let table_room = self
            .room(1)
            .map_or(String::new(), |room| format!("room_trays = {room}\n"));
        let scrap_s = self.seconds(1).unwrap_or(0.0);
        let sends = match (self.last(), self.from) {
            (1, _) => "\"leave\"",
            (_, From::Washing) => "{ racks = \"rack\" }",
            _ => "{ pile = \"rack\" }",
        };
        let fits = match self.last() {
            1 => "",
            _ => "fits = [{ rack = \"rack\", pieces = 1 }]\n",
        };
        let unload_s = self.seconds(4).unwrap_or(0.0);
        let mut text = format!(
            "[diners]\ntray_work_varies = \"{varies}\"\nwaste_kg = 0\n\n\
             [kind.tray]\nshare = 1\npieces = {{ tray = 1 }}\nsits = false\n\n\
             [drop_off.door]\nto = \"table\"\npositions = 1\nput_down_s = {put_down}\ncloses = \"never\"\n\n\
             [table.table]\n{table_room}\n\
             [scrapping.scrap]\ntakes_from = [\"table\"]\nhandling_s = {scrap_s}\npiece_s = {{ tray = 0 }}\n\
             sends = {{ tray = {sends} }}\n\n\
             [[ware]]\nname = \"tray\"\n{fits}dry_min = 0\nunload_s = 0\nunload_rack_s = {unload_s}\n\n"
        );
        let mut crew = vec![("Scrapper", "scrapping.scrap")];
        if self.last() >= 2 {
            let to = if self.last() >= 3 { "feed" } else { "leave" };
            let _ = write!(
                text,
                "[[rack]]\nname = \"rack\"\ncount = 1000\n\n\
                 [racking.rack]\nto = \"{to}\"\nopen_racks = 1\npart_racks_wait = true\n",
            );
            if self.from < From::Washing {
                let room = self
                    .room(2)
                    .map_or(String::new(), |room| format!("room_pieces = {room}\n"));
                let rack_s = self.seconds(2).unwrap_or(0.0);
                let _ = write!(
                    text,
                    "places = 1\ngrab = 1\nvaries = \"exponential\"\n\n\
                     [[racking.rack.pile]]\nware = \"tray\"\n{room}piece_s = {rack_s}\n",
                );
                crew.push(("Racker", "racking.rack"));
            }
            text += "\n";
        }
        if self.last() >= 3 {
            let way = self.room(3).map_or("\"unlimited\"".into(), |room| {
                format!("{{ shelf = {{ racks = {room} }} }}")
            });
            let to = if self.last() == 4 { "clean" } else { "leave" };
            let cycle = self.seconds(3).map_or("0.000001".into(), drawn);
            let _ = write!(
                text,
                "[lane.feed]\nto = \"machine\"\nway = {way}\n\n\
                 [machine.machine]\ntype = {{ door = {{ cycle_s = {cycle} }} }}\nto = \"{to}\"\n\
                 runs = \"throughout\"\nheat_up_min = 0\nstart_s = 0\n\n"
            );
        }
        if self.last() == 4 {
            // One more place than the room: the rack that is being unloaded stands on it.
            let places = self.room(4).map_or(String::new(), |room| {
                format!("places_racks = {}\n", room + 1)
            });
            let _ = write!(
                text,
                "[clean_end.clean]\n{places}workers = 1\nvaries = \"exponential\"\nback = \"at_once\"\n\n"
            );
            crew.push(("Unloader", "unloading.clean"));
        }
        for (name, post) in crew {
            let _ = write!(
                text,
                "[[crew]]\nname = \"{name}\"\nshifts = [{{ from = \"00:00\", to = \"4800:00\" }}]\n\
                 posts = [\"{post}\"]\nunfilled_share = 0\n\n"
            );
        }
        text
    }

    /// Mean number at a station and in front of it.
    pub(crate) fn number(&self, seen: &Tally, k: usize) -> f64 {
        let station = self.from as usize + k;
        match station {
            0 => seen.mean_level("drop_off.door.standing"),
            1 => {
                seen.mean_level("table.table")
                    + seen.share("Scrapper", State::Working)
                    + seen.share("Scrapper", State::HeldUp)
            }
            2 => seen.mean_level("pile.tray") + seen.mean_level("racks_open.rack"),
            3 => seen.mean_level("lane.feed") + seen.mean_level("machine.machine"),
            _ => seen.mean_level("clean_end.clean"),
        }
    }

    /// Share of time for which a station works.
    pub(crate) fn works(&self, seen: &Tally, k: usize) -> f64 {
        match self.from as usize + k {
            0 => panic!("nobody tells when a diner puts down"),
            1 => seen.share("Scrapper", State::Working),
            2 => seen.share("Racker", State::Working),
            3 => seen.share("machine", State::Washing),
            _ => seen.share("Unloader", State::Working),
        }
    }

    /// Share of time for which the first station holds what it has done and finds no room for.
    pub(crate) fn first_blocked(&self, seen: &Tally) -> f64 {
        match self.from {
            From::PuttingDown => {
                // The wait told of those standing is queue and holding; that of the queue is the queue's alone.
                let standing = seen.waited_us("drop_off.door.standing") as f64;
                let queue = seen.waited_us("drop_off.door.queue") as f64;
                (standing - queue) / 60e6 / seen.minutes()
            }
            From::Scrapping => seen.share("Scrapper", State::HeldUp),
            From::Racking => {
                seen.mean_level("racks_open.rack") - seen.share("Racker", State::Working)
            }
            From::Washing => seen.share("machine", State::Stopped),
        }
    }

    /// Pieces that left the line a minute.
    pub(crate) fn throughput(seen: &Tally) -> f64 {
        seen.per_minute(Counted::PiecesClean)
    }
}
