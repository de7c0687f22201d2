//! A checked scenario: everything a study needs, in the engine's terms. Only consistent ones exist.

use crate::view::PlanView;
use scullery_engine::demand::Demand;
use scullery_engine::line::{Line, Moment};
use scullery_engine::time::SimTime;

use crate::owned::Owned;
use crate::staffing::{Size, Staffing};

/// A checked scenario.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The dish room.
    pub line: Line,
    /// Who comes.
    pub demand: Demand,
    /// Title, note and units.
    pub heading: Heading,
    /// Targets, in file order.
    pub targets: Vec<Target>,
    /// Prices; all in the heading's currency.
    pub money: Money,
    /// What of the line is owned at a price, in file order.
    pub owned: Vec<Owned>,
    /// What each machine draws, in line order.
    pub utilities: Vec<Utilities>,
    /// What each disposer draws while it runs, in the order of the line's waste stores; nothing for bins.
    pub disposers: Vec<DisposerUse>,
    /// What each aid at a post does and draws, in line order.
    pub aids: Vec<AidUse>,
    /// Inputs left at their default: key path, value with unit, standing.
    pub defaults: Vec<DefaultUsed>,
    /// The room seen from above.
    pub view: PlanView,
    /// What the file means, one plain sentence an entry, in reading order.
    pub description: Vec<String>,
    /// Cautions that belong to what is in the file.
    pub cautions: Vec<String>,
    /// SHA-256 of the scenario text and of the changes made to it, lower-case hex.
    pub hash: String,
    /// Changes made to the text before it was given its meaning, in order.
    pub changes: Vec<ChangeMade>,
    /// What `check` compares the line with and a run has no use for.
    pub facts: Facts,
    /// What crews may be made of.
    pub staffing: Staffing,
    /// Sizes that may be chosen, in file order.
    pub sizes: Vec<Size>,
}

/// A change that was made to a scenario.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChangeMade {
    /// As it was asked for, for example `belt.return.length_m=40`.
    pub words: String,
    /// What stood there before; `None`: nothing.
    pub before: Option<String>,
    /// What stands there now; `None`: nothing.
    pub after: Option<String>,
    /// Whether the two differ.
    pub alters: bool,
}

/// What `check` compares the line with and a run has no use for.
#[derive(Clone, Debug)]
pub struct Facts {
    /// Weight of an empty rack in kg, by rack kind.
    pub rack_kg: Vec<Option<f64>>,
    /// Weight of a piece in kg, by class of ware.
    pub piece_kg: Vec<Option<f64>>,
    /// How racks run down, by lane, where it is inclined and without a drive.
    pub inclines: Vec<Option<Incline>>,
    /// What the reach to each level above each racking table adds to the work on a piece, s.
    pub reach_s: Vec<Vec<f64>>,
    /// What the data plates say, by machine.
    pub machines: Vec<MachineFacts>,
    /// The rest allowance, when the file says one.
    pub rest_allowance: Option<RestAllowance>,
    /// The lengths belts for trays are made of, by belt.
    pub belts: Vec<BeltFacts>,
    /// The same of belts for stacks.
    pub stack_belts: Vec<BeltFacts>,
    /// Setting up and cleaning, element by element.
    pub care: Vec<CareJob>,
    /// Metres of queue for each person waiting.
    pub person_m: f64,
}

/// The lengths a belt is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BeltFacts {
    /// Without its curves, m.
    pub straight_m: f64,
    /// How many curves it has.
    pub curves: u32,
    /// Their arcs together, m.
    pub curves_m: f64,
    /// The return run, if its length is said, m.
    pub return_run_m: Option<f64>,
}

impl BeltFacts {
    /// The way of what lies on it, m.
    pub fn way_m(&self) -> f64 {
        self.straight_m + self.curves_m
    }
}

/// How racks run down an inclined lane without a drive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Incline {
    /// Height lost from its head to its end, m.
    pub fall_m: f64,
    /// Time from rest at its head to its end, s.
    pub seconds: f64,
    /// Speed at which a rack would come to the end if nothing held it, m a minute.
    pub free_m_per_min: f64,
    /// Fastest that a rack is let run, m a minute.
    pub top_m_per_min: f64,
}

/// Setting up or cleaning of one element.
#[derive(Clone, Debug, PartialEq)]
pub struct CareJob {
    /// The element, in words.
    pub of: String,
    /// Which of the two.
    pub care: Care,
    /// Crew minutes.
    pub crew_min: f64,
    /// Minutes it drains before that.
    pub drain_min: f64,
    /// What has shortened them, in words.
    pub shortened_by: Vec<&'static str>,
}

/// Setting up or cleaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Care {
    /// Setting up, from this instant on.
    SetUp(SimTime),
    /// Cleaning once it has come so far, in so many parts.
    Cleaning(Moment, u32),
}

/// A rest allowance by its convention: it turns normal time into standard time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RestAllowance {
    /// The allowance as a share.
    pub share: f64,
    /// A share of standard time; else of normal time.
    pub of_standard_time: bool,
    /// The file's seconds are standard times already.
    pub in_the_seconds: bool,
}

impl RestAllowance {
    /// Standard time over normal time.
    ///
    /// # Formula
    /// `1 + a` where the allowance is a share of normal time, `1 / (1 - a)` where it is one of standard time.
    ///
    /// # Source
    /// Both conventions stand in textbooks of work measurement (for example Niebel and Freivalds, *Methods, Standards and
    /// Work Design*, from memory).
    pub fn standard_over_normal(&self) -> f64 {
        if self.of_standard_time {
            1.0 / (1.0 - self.share)
        } else {
            1.0 + self.share
        }
    }
}

/// What a data plate says besides rates.
#[derive(Clone, Copy, Debug)]
pub struct MachineFacts {
    /// Sanitised by a chemical, not by hot water.
    pub chemical: bool,
    /// Has several tanks.
    pub several_tanks: bool,
    /// The wash temperature is the file's own, not a default.
    pub wash_given: bool,
    /// The rinse temperature is the file's own, not a default.
    pub rinse_given: bool,
    /// The plate's racks an hour are the file's own, not worked out from speed and pitch.
    pub plate_rate_given: bool,
    /// The plate's pieces an hour (flight type), when given.
    pub plate_pieces_per_h: Option<f64>,
}

/// Title, note and units.
#[derive(Clone, Debug)]
pub struct Heading {
    /// Title.
    pub name: String,
    /// Standing: "invented ...", where from.
    pub note: String,
    /// Units in which reports show lengths, water and temperatures.
    pub units: Units,
    /// The user's currency sign.
    pub currency: String,
    /// Which day the answer speaks of, as words that follow "On", for example
    /// "days as they come (covers vary by 10 % from day to day)" or "a busy day (9th of 10)".
    pub day_words: String,
    /// Days open in a year.
    pub days_a_year: f64,
    /// Room for the people waiting at the drop-off, in people, when stated.
    pub queue_room_people: Option<u32>,
    /// Bells, for marks on the clock axis.
    pub bells: Vec<SimTime>,
}

/// Metric or US customary.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Units {
    /// Metres, litres, degrees Celsius, kilograms.
    Metric,
    /// Feet, US gallons, degrees Fahrenheit, pounds.
    Us,
}

/// What must hold.
#[derive(Clone, Debug)]
pub struct Target {
    /// As the user wrote it, or made from its parts.
    pub words: String,
    /// Id of the measure it speaks of.
    pub measure: String,
    /// Whether the measure must be at most or at least the bound.
    pub side: Side,
    /// The bound, in the measure's unit.
    pub bound: f64,
    /// In how many meals of 100 it must hold; `None`: the mean must.
    pub in_meals_of_100: Option<f64>,
}

/// Which side of a bound is good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// At most the bound.
    AtMost,
    /// At least the bound.
    AtLeast,
}

/// Prices in the user's currency.
#[derive(Clone, Debug, Default)]
pub struct Money {
    /// An hour of work, on-costs included; `None`: not given.
    pub wage_per_h: Option<f64>,
    /// A cubic metre of water, waste water included.
    pub water_per_m3: Option<f64>,
    /// A kWh of electricity.
    pub power_per_kwh: Option<f64>,
    /// A kWh of heat (for hot water heated away from the machine).
    pub heat_per_kwh: Option<f64>,
    /// A kg of detergent.
    pub detergent_per_kg: Option<f64>,
    /// A disposable piece given where a class has run out, by class; `None`: not given, or none is ever given out.
    pub disposable_each: Vec<Option<f64>>,
    /// Paid once to have this arrangement.
    pub investment: Option<f64>,
    /// Upkeep of what is bought, each year.
    pub upkeep_per_year: Option<f64>,
}

/// What a disposer or pulper draws while it runs.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DisposerUse {
    /// Water, litres a minute, that of its trough included.
    pub water_l_per_min: f64,
    /// Electric power, kW.
    pub running_kw: f64,
}

/// What an aid at a post does to the work there (its seconds are in the line's already), and what it draws.
#[derive(Clone, Debug, PartialEq)]
pub struct AidUse {
    /// What it is, in words: `hand spray`.
    pub is: &'static str,
    /// Whether it is a spray valve in the hand.
    pub is_spray: bool,
    /// Seconds more for each tray or rack.
    pub adds_s: f64,
    /// Seconds less for each.
    pub saves_s: f64,
    /// Seconds more (or, below nought, less) for each piece, by class.
    pub piece_s: Vec<f64>,
    /// Water while it runs, litres a minute.
    pub water_l_per_min: f64,
    /// Electric power while it runs, kW.
    pub running_kw: f64,
}

/// What a machine draws.
#[derive(Clone, Debug)]
pub struct Utilities {
    /// Final-rinse water, litres a rack at the data plate's rate.
    pub water_l_per_rack: f64,
    /// Final-rinse water, litres an hour of flow, where it is stated so.
    pub rinse_l_per_h: Option<f64>,
    /// The final rinse of a conveyor flows all the time it runs, not only while ware is in its zone.
    pub rinse_while_running: bool,
    /// kW of a blow-dryer while running (0: none).
    pub dryer_kw: f64,
    /// Racks an hour on the data plate.
    pub plate_racks_per_h: f64,
    /// One tank filling, litres (0: none).
    pub fill_l: f64,
    /// Supply temperature, deg C.
    pub supply_c: f64,
    /// Final-rinse temperature, deg C.
    pub rinse_c: f64,
    /// Wash-tank temperature, deg C.
    pub wash_c: f64,
    /// Efficiency of heating, 0 to 1.
    pub heating_efficiency: f64,
    /// Whether the final rinse is heated by electricity in the machine (else by the building's heat).
    pub rinse_heated_by_power: bool,
    /// kW while hot and not running.
    pub idle_kw: f64,
    /// kW while running, heating of rinse water not included.
    pub running_kw: f64,
    /// kWh a rack besides (door machines state it so; usually 0).
    pub kwh_per_rack: f64,
    /// Detergent, grams a litre of fresh water.
    pub detergent_g_per_l: f64,
}

impl Utilities {
    /// Litres an hour while the final rinse flows.
    pub fn rinse_rate_l_per_h(&self) -> f64 {
        self.rinse_l_per_h
            .unwrap_or(self.water_l_per_rack * self.plate_racks_per_h)
    }

    /// Litres of final rinse for a rack at the data plate's rate.
    pub fn rinse_l_per_rack(&self) -> f64 {
        self.rinse_rate_l_per_h() / self.plate_racks_per_h.max(1e-9)
    }
}

/// An input left at its default.
#[derive(Clone, Debug)]
pub struct DefaultUsed {
    /// Where in the file it would stand, for example `drop_off.put_down`.
    pub key: String,
    /// The value used, with its unit.
    pub value: String,
    /// Where the value comes from, for example "common practice, replace with your own stopwatch".
    pub standing: String,
}
