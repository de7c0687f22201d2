//! Water and electricity of disposers and sprays, worked by hand.

use scullery_scenario::plan::Plan;
use scullery_scenario::{Format, read_alone};

use crate::plans::{one_meal, value};

/// Four trays, 100 g of waste on each and 70 g more on its plate; a disposer of a kilogram a minute; a spray of 5 s a tray.
const ROOM: &str = r#"
[heading]
name = "A small room"
note = "Invented for a test."
currency = "EUR"

[meal]
starts = "11:00"

[covers.per_interval]
from = "11:00"
every_min = 4
counts = [4]
come = "evenly"

[days.vary]
cv = 0

[diners]
find_seat_min = 0
eating_min = 10
tray_work_varies = "not_at_all"
waste_g = 100

[kind.guest]
share = 1
pieces = { plate = 1 }

[[ware]]
name = "plate"
waste_g = 70

[drop_off.main]
to = "table"
put_down_s = 0
[table.table]

[disposer.grinder]
rate_kg_per_min = 1
water_l_per_min = 6
running_kw = 3

[aid.spray]
at = "scrapping.main"
does = "hand_spray"
adds_s = 5
water_l_per_min = 4.8

[scrapping.main]
takes_from = ["table"]
handling_s = 25
piece_s = { plate = 0 }
sends = { plate = "leave" }
waste_to = { waste = "grinder" }

[[crew]]
name = "Ada"
shifts = [{ from = "11:00", to = "12:00" }]
posts = ["scrapping.main"]
unfilled_share = 0

[money]
water_per_m3 = 5
power_per_kwh = 0.2
"#;

fn plan() -> Plan {
    let plan = read_alone(ROOM, Format::Toml);
    plan.unwrap_or_else(|complaints| panic!("{complaints:?}"))
}

#[test]
fn a_disposer_and_a_spray_draw_what_their_minutes_say() {
    let summary = one_meal(&plan());
    let near = |id: &str, expected: f64| {
        let found = value(&summary, id).unwrap_or(f64::NAN);
        assert!((found - expected).abs() < 1e-9, "{id}: {found}");
    };
    // 170 g at a kilogram a minute are 10.2 s; four trays 40.8 s: 0.68 min x 6 l, 3 kW x 0.68 min.
    near("disposer.grinder.running_h", 40.8 / 3600.0);
    near("disposer.grinder.water_l", 4.08);
    // Four times 5 s: a third of a minute x 4.8 l.
    near("aid.spray.running_min", 1.0 / 3.0);
    near("aid.spray.water_l", 1.6);
    near("line.water_l", 5.68);
    near("line.power_kwh", 0.034);
    near("line.water_l.cost", 5.68 * 5.0 / 1000.0);
}
