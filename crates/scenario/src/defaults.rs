//! What is taken where the file does not say, and what each value stands on.

use std::fmt::Write as _;

/// An input's default.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standard {
    /// The key it stands in for; `NAME` is any name.
    pub key: &'static str,
    /// The value.
    pub value: f64,
    /// Its unit, blank before it included; empty for a bare number.
    pub unit: &'static str,
    /// What the value stands on.
    pub standing: &'static str,
}

const PRACTICE: &str = "common practice, replace with your own stopwatch";
const PRACTICE_COUNT: &str = "common practice, replace with your own count";

const fn standard(
    key: &'static str,
    value: f64,
    unit: &'static str,
    standing: &'static str,
) -> Standard {
    Standard {
        key,
        value,
        unit,
        standing,
    }
}

/// Day-to-day variation of covers.
pub const DAYS_CV: Standard = standard("days.vary.cv", 0.10, "", PRACTICE_COUNT);
/// Eating time, mean (lognormal, cv 0.35).
pub const EATING_MEAN: Standard = standard(
    "diners.eating_min",
    27.0,
    " min (lognormal, cv 0.35)",
    PRACTICE,
);
/// Finding a seat.
pub const FIND_SEAT: Standard = standard("diners.find_seat_min", 3.0, " min", PRACTICE);
/// Between the members of a party.
pub const PARTY_APART: Standard = standard("diners.parties.apart_s", 4.0, " s", PRACTICE);
/// Variation of the work at one tray.
pub const TRAY_WORK_CV: Standard =
    standard("diners.tray_work_varies", 0.4, " (lognormal, cv)", PRACTICE);
/// Plate waste a tray.
pub const WASTE: Standard = standard(
    "diners.waste_kg",
    0.125,
    " kg",
    "mean plate waste a meal over 74 studies, Vardopoulos et al., Sustainability 16 (2024) 103",
);
/// Leaving before a bell.
pub const BELL_BEFORE: Standard = standard("bell.NAME.before_min", 5.0, " min", PRACTICE);
/// Leaving after a bell.
pub const BELL_AFTER: Standard = standard("bell.NAME.after_min", 2.0, " min", PRACTICE);
/// Seated at least, to leave at a bell.
pub const BELL_SEATED: Standard = standard("bell.NAME.seated_at_least_min", 8.0, " min", PRACTICE);
/// Put-down on a belt.
pub const PUT_DOWN: Standard = standard("drop_off.NAME.put_down_s", 5.0, " s", PRACTICE);
/// What a diner takes longer for each thing put away at the drop-off.
pub const DINER_AID: Standard =
    standard("drop_off.NAME.diners_do.NAME.adds_s", 2.0, " s", PRACTICE);
/// Spacing of trays on a belt.
pub const SPACING: Standard = standard(
    "belt.NAME.spacing_m",
    0.45,
    " m",
    "13 to 14 trays on 20 ft of straight belt, Foodservice Equipment Reports, article on tray accumulation",
);
/// Belt speed.
pub const BELT_SPEED: Standard = standard("belt.NAME.speed_m_per_min", 7.5, " m/min", PRACTICE);
/// Speed of a tray accumulator.
pub const LOOP_SPEED: Standard =
    standard("accumulator.NAME.speed_m_per_min", 6.0, " m/min", PRACTICE);
/// Reach along the loop of a tray accumulator, on each side.
pub const LOOP_REACH: Standard = standard(
    "accumulator.NAME.reach_m",
    0.3,
    " m (also of a post along its loop)",
    PRACTICE,
);
/// Reach upstream of a taking point.
pub const REACH: Standard = standard("scrapping.NAME.reach_m", 0.5, " m", PRACTICE);
/// Scrapping and sorting: 35 pieces a person-minute.
pub const SCRAP_PIECE: Standard = standard(
    "scrapping.NAME.piece_s.NAME",
    60.0 / 35.0,
    " s (35 pieces a person-minute)",
    PRACTICE,
);
/// Water of a hand spray: 1.28 US gal a minute.
pub const SPRAY_WATER: Standard = standard(
    "aid.NAME.water_l_per_min",
    1.28 * 3.785_411_784,
    " l/min (1.28 gal; hand spray)",
    "most of a valve made from 28 January 2019 on, 10 CFR 431.266 as quoted by the EPA; the valve's label decides",
);
/// Fetching a tray from the overflow.
pub const FETCH: Standard = standard("scrapping.NAME.fetch_s", 5.0, " s", PRACTICE);
/// Partial-rack limit.
pub const PART_RACK: Standard = standard("racking.NAME.part_rack_limit_min", 6.0, " min", PRACTICE);
/// Racking from stacks: 40 pieces a person-minute.
pub const RACK_PIECE: Standard = standard(
    "racking.NAME.pile.NAME.piece_s",
    60.0 / 40.0,
    " s (40 pieces a person-minute)",
    PRACTICE,
);
/// Longer reach to a level above a racking table.
pub const LEVEL_REACH: Standard = standard(
    "racking.NAME.level.NAME.reach_s",
    0.3,
    " s a piece",
    PRACTICE,
);
/// Pieces in one grab.
pub const GRAB: Standard = standard("racking.NAME.grab", 10.0, " pieces", PRACTICE);
/// Variation of a grab.
pub const GRAB_CV: Standard = standard("racking.NAME.varies", 0.4, " (lognormal, cv)", PRACTICE);
/// Placing one piece on the belt of a flight machine.
pub const PLACE_PIECE: Standard = standard(
    "placing.NAME.pile.NAME.piece_s",
    1.0,
    " s (60 pieces a person-minute)",
    PRACTICE,
);
/// Pieces placed in one go.
pub const PLACE_GRAB: Standard = standard("placing.NAME.grab", 10.0, " pieces", PRACTICE);
/// Variation of placing.
pub const PLACE_CV: Standard = standard("placing.NAME.varies", 0.4, " (lognormal, cv)", PRACTICE);
/// Draining and filling the tanks.
pub const DRAIN_AND_FILL: Standard = standard(
    "machine.NAME.water_change.drain_and_fill_min",
    10.0,
    " min",
    PRACTICE,
);
/// Length of a flight machine's belt that a rack takes.
pub const FLIGHT_RACK: Standard = standard(
    "machine.NAME.type.flight.rack_m",
    0.5,
    " m",
    "20 x 20 in nominal, ENERGY STAR draft 2 of version 2.0",
);
/// Length of a rack.
pub const RACK_LENGTH: Standard = standard(
    "lane.NAME.way.rollers.rack_m",
    0.5,
    " m",
    "20 x 20 in nominal, ENERGY STAR draft 2 of version 2.0",
);
/// Rolling resistance of inclined rollers.
pub const INCLINE_RESISTANCE: Standard = standard(
    "lane.NAME.way.incline.rolling_resistance",
    0.02,
    " of the weight",
    PRACTICE,
);
/// Fastest that racks are let run down.
pub const INCLINE_TOP: Standard = standard(
    "lane.NAME.way.incline.top_speed_m_per_min",
    20.0,
    " m/min",
    PRACTICE,
);
/// Speed of rollers.
pub const LANE_SPEED: Standard = standard(
    "lane.NAME.way.rollers.speed_m_per_min",
    6.0,
    " m/min",
    PRACTICE,
);
/// Heat-up.
pub const HEAT_UP: Standard = standard("machine.NAME.heat_up_min", 20.0, " min", PRACTICE);
/// Loading one rack.
pub const LOAD_RACK: Standard = standard("machine.NAME.loading.rack_s", 10.0, " s", PRACTICE);
/// Variation of loading.
pub const LOAD_CV: Standard = standard(
    "machine.NAME.loading.varies",
    0.4,
    " (lognormal, cv)",
    PRACTICE,
);
/// Final-rinse water of a rack conveyor.
pub const WATER_CONVEYOR: Standard = standard(
    "machine.NAME.uses.water_l_per_rack",
    2.65,
    " l (rack conveyor)",
    "single-tank conveyor, hot water, from memory of ENERGY STAR version 2.0; the data plate decides",
);
/// Final-rinse water of a door machine.
pub const WATER_DOOR: Standard = standard(
    "machine.NAME.uses.water_l_per_rack",
    3.37,
    " l (door type)",
    "door type, hot water, from memory of ENERGY STAR version 2.0; the data plate decides",
);
/// Tank filling of a rack conveyor.
pub const FILL_CONVEYOR: Standard = standard(
    "machine.NAME.uses.fill_l",
    100.0,
    " l (rack conveyor)",
    "common practice; the data plate decides",
);
/// Tank filling of a door machine.
pub const FILL_DOOR: Standard = standard(
    "machine.NAME.uses.fill_l",
    50.0,
    " l (door type)",
    "common practice; the data plate decides",
);
/// Supply temperature.
pub const SUPPLY: Standard = standard(
    "machine.NAME.uses.supply_temp_c",
    60.0,
    " deg C",
    "140 deg F from the heater, UFC 4-740-01NF (2004)",
);
/// Final-rinse temperature, hot-water sanitising.
pub const RINSE_HOT: Standard = standard(
    "machine.NAME.uses.rinse_temp_c",
    82.0,
    " deg C (hot water)",
    "least final rinse of machines other than single-temperature ones, Food Code 4-501.112; the data plate decides",
);
/// Rinse temperature, chemical sanitising.
pub const RINSE_CHEMICAL: Standard = standard(
    "machine.NAME.uses.rinse_temp_c",
    60.0,
    " deg C (chemical)",
    "the supply; the data plate decides",
);
/// Wash temperature of a rack conveyor.
pub const WASH_CONVEYOR: Standard = standard(
    "machine.NAME.uses.wash_temp_c",
    71.0,
    " deg C (rack conveyor)",
    "least wash temperature of a single-tank conveyor, dual temperature, Food Code 4-501.110; the data plate decides",
);
/// Wash temperature of a door machine.
pub const WASH_DOOR: Standard = standard(
    "machine.NAME.uses.wash_temp_c",
    66.0,
    " deg C (door type)",
    "least wash temperature of a stationary rack, dual temperature, Food Code 4-501.110; the data plate decides",
);
/// Efficiency of electric heating.
pub const EFFICIENCY_POWER: Standard = standard(
    "machine.NAME.uses.heating_efficiency",
    0.98,
    " (electric)",
    "EPA calculator for commercial dishwashers, read in public code that transcribes it",
);
/// Efficiency of the building's heat.
pub const EFFICIENCY_BUILDING: Standard = standard(
    "machine.NAME.uses.heating_efficiency",
    0.80,
    " (building's heat)",
    "gas heating in the EPA calculator for commercial dishwashers, read in public code that transcribes it",
);
/// Idle power of a rack conveyor.
pub const IDLE_CONVEYOR: Standard = standard(
    "machine.NAME.uses.idle_kw",
    1.5,
    " kW (rack conveyor)",
    "single-tank conveyor, from memory of ENERGY STAR version 2.0",
);
/// Idle power of a door machine.
pub const IDLE_DOOR: Standard = standard(
    "machine.NAME.uses.idle_kw",
    0.7,
    " kW (door type)",
    "door type, hot water, from memory of ENERGY STAR version 2.0",
);
/// Power while running, where energy a rack is not given either.
pub const RUNNING_CONVEYOR: Standard = standard(
    "machine.NAME.uses.running_kw",
    5.0,
    " kW (rack conveyor)",
    "common practice; the data plate decides",
);
/// Energy a rack of a door machine, where power while running is not given either.
pub const RACK_KWH_DOOR: Standard = standard(
    "machine.NAME.uses.kwh_per_rack",
    0.35,
    " kWh (door type)",
    "door type, hot water, from memory of ENERGY STAR version 3.0",
);
/// Detergent.
pub const DETERGENT: Standard = standard(
    "machine.NAME.uses.detergent_g_per_l",
    2.0,
    " g/l",
    "common practice, 1 to 3 g a litre; the label decides",
);
/// Drying of china and metal.
pub const DRY_CHINA: Standard = standard("ware.NAME.dry_min", 2.0, " min (china, metal)", PRACTICE);
/// Drying of glass.
pub const DRY_GLASS: Standard = standard("ware.NAME.dry_min", 4.0, " min (glass)", PRACTICE);
/// Drying of plastic.
pub const DRY_PLASTIC: Standard = standard("ware.NAME.dry_min", 10.0, " min (plastic)", PRACTICE);
/// Drying of trays.
pub const DRY_TRAY: Standard = standard("ware.NAME.dry_min", 8.0, " min (trays)", PRACTICE);
/// Unloading: 45 pieces a person-minute.
pub const UNLOAD_PIECE: Standard = standard(
    "ware.NAME.unload_s",
    60.0 / 45.0,
    " s (45 pieces a person-minute; bulky ware 20)",
    PRACTICE,
);
/// Handling a rack whose ware stays in it.
pub const UNLOAD_RACK: Standard = standard(
    "ware.NAME.unload_rack_s",
    10.0,
    " s (stays in its rack)",
    PRACTICE,
);
/// Taking a rack of the first pass off and tipping it out.
pub const TAKE_OFF: Standard = standard("ware.NAME.two_passes.take_off_s", 10.0, " s", PRACTICE);
/// Variation of unloading.
pub const UNLOAD_CV: Standard =
    standard("clean_end.NAME.varies", 0.4, " (lognormal, cv)", PRACTICE);
/// Variation of washing a cart.
pub const CART_WASH_CV: Standard =
    standard("carts.NAME.wash.varies", 0.4, " (lognormal, cv)", PRACTICE);
/// Return of empty racks.
pub const RACK_BACK: Standard = standard("clean_end.NAME.back.each.after_s", 60.0, " s", PRACTICE);
/// Variation of a runner's trip.
pub const TRIP_CV: Standard = standard("delivery.varies", 0.4, " (lognormal, cv)", PRACTICE);
/// Walking.
pub const WALK: Standard = standard("walking.between_posts_s", 8.0, " s", PRACTICE);
/// Hand wash.
pub const HAND_WASH: Standard = standard(
    "walking.hand_wash_s",
    45.0,
    " s",
    "common practice, of which at least 20 s of washing: Food Code 2-301.12 and 2-301.14",
);
/// Pace of somebody new.
pub const PACE_NEW: Standard = standard("crew.NAME.pace", 0.8, " (new)", PRACTICE);
/// Pace of somebody practised.
pub const PACE_PRACTISED: Standard = standard("crew.NAME.pace", 1.0, " (practised)", PRACTICE);
/// Pace of an expert.
pub const PACE_EXPERT: Standard = standard("crew.NAME.pace", 1.1, " (expert)", PRACTICE);
/// From a call for help to its being there.
pub const HELP_COMES: Standard =
    standard("crew.NAME.on_call.comes_after_min", 2.0, " min", PRACTICE);
/// Shortest stay of help.
pub const HELP_STAYS: Standard = standard("crew.NAME.on_call.stay_min", 10.0, " min", PRACTICE);
/// Cleaning of a belt.
pub const CLEAN_BELT: Standard = standard("cleaning.NAME.crew_min", 15.0, " min (belt)", PRACTICE);
/// Cleaning of a machine.
pub const CLEAN_MACHINE: Standard =
    standard("cleaning.NAME.crew_min", 25.0, " min (machine)", PRACTICE);
/// Cleaning of a scrapping post.
pub const CLEAN_SCRAPPING: Standard = standard(
    "cleaning.NAME.crew_min",
    10.0,
    " min (scrapping post)",
    PRACTICE,
);
/// Cleaning of anything else.
pub const CLEAN_OTHER: Standard = standard(
    "cleaning.NAME.crew_min",
    5.0,
    " min (anything else)",
    PRACTICE,
);
/// Share of cleaning saved by a self-cleaning return run.
pub const SELF_CLEANING: Standard = standard(
    "cleaning.NAME.self_cleaning_return",
    0.4,
    " of the minutes saved",
    PRACTICE,
);
/// Share of cleaning saved by sections that lift out.
pub const LIFT_OUT: Standard = standard(
    "cleaning.NAME.lift_out_sections",
    0.2,
    " of the minutes saved",
    PRACTICE,
);
/// Share of cleaning saved by removable parts.
pub const REMOVABLE: Standard = standard(
    "cleaning.NAME.removable_parts",
    0.2,
    " of the minutes saved",
    PRACTICE,
);
/// Queue for each person.
pub const PERSON: Standard = standard("room.person_m", 0.7, " m", PRACTICE_COUNT);
/// Shifts that go unfilled.
pub const UNFILLED: Standard = standard("crew.NAME.unfilled_share", 0.04, "", PRACTICE_COUNT);
/// Days open.
pub const DAYS_A_YEAR: Standard = standard("heading.days_a_year", 250.0, " days", PRACTICE_COUNT);
/// In how many meals of 100 a target must hold.
pub const TARGET_MEALS: Standard = standard(
    "target.NAME.in_meals_of_100",
    95.0,
    " meals of 100",
    "the usual confidence of a planner",
);

/// Every default, in the order of the file.
pub const ALL: &[Standard] = &[
    DAYS_A_YEAR,
    DAYS_CV,
    FIND_SEAT,
    EATING_MEAN,
    PARTY_APART,
    TRAY_WORK_CV,
    WASTE,
    BELL_BEFORE,
    BELL_AFTER,
    BELL_SEATED,
    DRY_CHINA,
    DRY_GLASS,
    DRY_PLASTIC,
    DRY_TRAY,
    UNLOAD_PIECE,
    UNLOAD_RACK,
    TAKE_OFF,
    PUT_DOWN,
    DINER_AID,
    SPACING,
    BELT_SPEED,
    LOOP_SPEED,
    LOOP_REACH,
    REACH,
    SCRAP_PIECE,
    SPRAY_WATER,
    FETCH,
    PART_RACK,
    GRAB,
    GRAB_CV,
    RACK_PIECE,
    LEVEL_REACH,
    PLACE_PIECE,
    PLACE_GRAB,
    PLACE_CV,
    DRAIN_AND_FILL,
    FLIGHT_RACK,
    RACK_LENGTH,
    LANE_SPEED,
    INCLINE_RESISTANCE,
    INCLINE_TOP,
    HEAT_UP,
    LOAD_RACK,
    LOAD_CV,
    WATER_CONVEYOR,
    WATER_DOOR,
    FILL_CONVEYOR,
    FILL_DOOR,
    SUPPLY,
    RINSE_HOT,
    RINSE_CHEMICAL,
    WASH_CONVEYOR,
    WASH_DOOR,
    EFFICIENCY_POWER,
    EFFICIENCY_BUILDING,
    IDLE_CONVEYOR,
    IDLE_DOOR,
    RUNNING_CONVEYOR,
    RACK_KWH_DOOR,
    DETERGENT,
    UNLOAD_CV,
    CART_WASH_CV,
    RACK_BACK,
    TRIP_CV,
    WALK,
    HAND_WASH,
    PACE_NEW,
    PACE_PRACTISED,
    PACE_EXPERT,
    HELP_COMES,
    HELP_STAYS,
    CLEAN_BELT,
    CLEAN_MACHINE,
    CLEAN_SCRAPPING,
    CLEAN_OTHER,
    SELF_CLEANING,
    LIFT_OUT,
    REMOVABLE,
    PERSON,
    UNFILLED,
    TARGET_MEALS,
];

impl Standard {
    /// The value with its unit, to three figures.
    pub fn words(&self) -> String {
        format!("{}{}", rounded(self.value), self.unit)
    }
}

/// Every default as a table in Markdown, for the model page.
pub fn table() -> String {
    let mut out = String::from("| key | value | stands on |\n| --- | --- | --- |\n");
    for standard in ALL {
        let _ = writeln!(
            out,
            "| `{}` | {} | {} |",
            standard.key,
            standard.words(),
            standard.standing
        );
    }
    out
}

/// A number to three figures, without trailing noughts.
pub(crate) fn rounded(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let decimals = (2 - libm::floor(libm::log10(value.abs())) as i32).max(0) as usize;
    let text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
