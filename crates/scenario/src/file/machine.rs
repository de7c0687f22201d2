//! Dish machines, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use std::collections::BTreeMap;

use super::dist::{Amount, Varies};
use super::drop_off::StopFile;
use super::fittings::{BlowDryerFile, DetergentFile, HotWaterFile, RinseFlows, WaterChangeFile};

/// A dish machine.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct MachineFile {
    /// Door type, rack conveyor or flight type.
    #[serde(rename = "type")]
    pub(crate) kind: MachineType,
    /// Name of the clean end, or `leave`: racks leave the line and are back at once.
    pub(crate) to: String,
    /// When it runs.
    pub(crate) runs: RunsFile,
    /// Clock time at which it is switched on. Without it it is on from the start.
    pub(crate) on_at: Option<String>,
    /// Clock time at which it is switched off for good; work inside is finished first.
    pub(crate) off_at: Option<String>,
    /// From switching on to ready.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) heat_up_min: Option<f64>,
    /// From the start of a run to the first rack.
    pub(crate) start_s: Option<Amount>,
    /// Stops by the clock.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) stops: Vec<StopFile>,
    /// A worker loads it. Without it racks run in by themselves.
    pub(crate) loading: Option<LoadingFile>,
    /// What is lost between one rack (a door machine: one batch) and the next besides the machine's own pace: the gap the
    /// loader leaves.
    #[schemars(range(min = 0, max = 3600))]
    pub(crate) gap_s: Option<f64>,
    /// Its tank water is changed during the meal.
    pub(crate) water_change: Option<WaterChangeFile>,
    /// Its final rinse comes from a store that is heated up again. Without it the water is always hot.
    pub(crate) hot_water: Option<HotWaterFile>,
    /// Its detergent comes from a reservoir. Without it there is always enough.
    pub(crate) detergent: Option<DetergentFile>,
    /// A blow-dryer behind the rinse.
    pub(crate) blow_dryer: Option<BlowDryerFile>,
    /// What its data plate says; it is never run faster.
    pub(crate) plate: Option<PlateFile>,
    /// Water, heat, electricity and detergent it draws.
    #[serde(default)]
    pub(crate) uses: UsesFile,
}

/// Door type, rack conveyor or flight type.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum MachineType {
    /// One batch at a time.
    Door {
        /// Most racks a batch; 1 if unsaid.
        #[schemars(range(min = 1, max = 100))]
        batch_racks: Option<u32>,
        /// Length of a cycle.
        cycle_s: Amount,
    },
    /// Racks carried through a tunnel.
    Conveyor {
        /// From the front of one rack to the front of the next.
        #[schemars(range(min = 0.05, max = 5))]
        pitch_m: f64,
        /// Length of the tunnel.
        #[schemars(range(min = 0.05, max = 50))]
        tunnel_m: f64,
        /// Where the final rinse begins, from the mouth of the tunnel. With `rinse_to_m`; without both, the last
        /// pitch of the tunnel.
        #[schemars(range(min = 0, max = 50))]
        rinse_from_m: Option<f64>,
        /// Where the final rinse ends.
        #[schemars(range(min = 0, max = 50))]
        rinse_to_m: Option<f64>,
        /// Conveyor speed.
        #[schemars(range(min = 0.01, max = 50))]
        speed_m_per_min: f64,
    },
    /// A belt through a tunnel on which ware is placed loose (see `placing`), and racks too.
    Flight {
        /// Length of the tunnel.
        #[schemars(range(min = 0.05, max = 50))]
        tunnel_m: f64,
        /// Where the final rinse begins, from the mouth of the tunnel. With `rinse_to_m`; without both, the last half
        /// metre of the tunnel.
        #[schemars(range(min = 0, max = 50))]
        rinse_from_m: Option<f64>,
        /// Where the final rinse ends.
        #[schemars(range(min = 0, max = 50))]
        rinse_to_m: Option<f64>,
        /// Belt speed.
        #[schemars(range(min = 0.01, max = 50))]
        speed_m_per_min: f64,
        /// Pieces a metre of belt, side by side included, by class of ware.
        #[schemars(extend("additionalProperties" = { "type": "number", "minimum": 0.5, "maximum": 1000 }))]
        slots_per_m: BTreeMap<String, f64>,
        /// Length of belt a rack takes; 0.5 m if unsaid.
        #[schemars(range(min = 0.05, max = 5))]
        rack_m: Option<f64>,
    },
}

/// When a machine runs.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum RunsFile {
    /// From the time it is ready until it is switched off.
    Throughout,
    /// Starts when enough has gathered or nothing more can come; stops when nothing is on the lane or inside.
    HoldAndRun {
        /// Starts when so many racks stand on the lane ...
        #[schemars(range(min = 1, max = 10_000))]
        racks: Option<u32>,
        /// ... or what waits would keep the machine busy so long ...
        #[schemars(range(max = 1440), extend("exclusiveMinimum" = 0))]
        work_min: Option<f64>,
        /// ... or one has waited so long.
        #[schemars(range(max = 1440), extend("exclusiveMinimum" = 0))]
        longest_wait_min: Option<f64>,
    },
}

/// Work at the load end.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct LoadingFile {
    /// Work to load one rack (a door machine: one batch).
    #[schemars(range(min = 0, max = 3600))]
    pub(crate) rack_s: Option<f64>,
    /// How it varies about its mean.
    pub(crate) varies: Option<Varies>,
    /// Workers who can stand here; 1 if unsaid.
    #[schemars(range(min = 1, max = 20))]
    pub(crate) places: Option<u32>,
}

/// What the data plate says.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct PlateFile {
    /// Racks an hour.
    #[schemars(range(max = 10_000), extend("exclusiveMinimum" = 0))]
    pub(crate) racks_per_h: Option<f64>,
    /// Pieces an hour of the class its belt takes most of, for a flight machine.
    #[schemars(range(max = 100_000), extend("exclusiveMinimum" = 0))]
    pub(crate) pieces_per_h: Option<f64>,
    /// Greatest conveyor speed.
    #[schemars(range(max = 50), extend("exclusiveMinimum" = 0))]
    pub(crate) speed_m_per_min: Option<f64>,
    /// Shortest cycle.
    #[schemars(range(max = 3600), extend("exclusiveMinimum" = 0))]
    pub(crate) cycle_s: Option<f64>,
    /// How ware is sanitised; `hot_water` if unsaid.
    pub(crate) sanitising: Option<Sanitising>,
    /// Number of tanks; `single` if unsaid.
    pub(crate) tanks: Option<Tanks>,
}

/// How ware is sanitised.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Sanitising {
    /// By the heat of the final rinse.
    HotWater,
    /// By a sanitiser in the final rinse.
    Chemical,
}

/// Number of tanks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Tanks {
    /// One.
    Single,
    /// Several.
    Several,
}

/// What a machine draws.
#[derive(Debug, Clone, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct UsesFile {
    /// Final-rinse water at the data plate's rate.
    #[schemars(range(min = 0, max = 200))]
    pub(crate) water_l_per_rack: Option<f64>,
    /// Final-rinse water by the hour of flow, instead of by the rack.
    #[schemars(range(min = 0, max = 20_000))]
    pub(crate) rinse_l_per_h: Option<f64>,
    /// When the final rinse of a conveyor flows; `under_ware` if unsaid.
    pub(crate) rinse_flows: Option<RinseFlows>,
    /// One filling of all tanks.
    #[schemars(range(min = 0, max = 5000))]
    pub(crate) fill_l: Option<f64>,
    /// Temperature of the supply.
    #[schemars(range(min = 0, max = 95))]
    pub(crate) supply_temp_c: Option<f64>,
    /// Temperature of the final rinse.
    #[schemars(range(min = 0, max = 99))]
    pub(crate) rinse_temp_c: Option<f64>,
    /// Temperature of the wash tank.
    #[schemars(range(min = 0, max = 99))]
    pub(crate) wash_temp_c: Option<f64>,
    /// Efficiency of heating.
    #[schemars(range(min = 0.05, max = 1))]
    pub(crate) heating_efficiency: Option<f64>,
    /// What heats the final rinse; `power` if unsaid.
    pub(crate) rinse_heated_by: Option<HeatedBy>,
    /// Electric power while hot and not running, in kW.
    #[schemars(range(min = 0, max = 1000))]
    pub(crate) idle_kw: Option<f64>,
    /// Electric power while running, in kW, heating of rinse water not included.
    #[schemars(range(min = 0, max = 1000))]
    pub(crate) running_kw: Option<f64>,
    /// Electricity for each rack besides, in kWh.
    #[schemars(range(min = 0, max = 100))]
    pub(crate) kwh_per_rack: Option<f64>,
    /// Detergent for each litre of fresh water.
    #[schemars(range(min = 0, max = 100))]
    pub(crate) detergent_g_per_l: Option<f64>,
}

/// What heats the final rinse.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum HeatedBy {
    /// Electricity in the machine.
    Power,
    /// The building's heat.
    Building,
}
