//! A schedule of elements for the building engineer: sizes, capacities, what is drawn, and blanks for what is not known.

use maud::html;
use scullery_study::planned::Element;
use scullery_study::summary::{Measure, Summary};

use super::sheet;
use crate::lettering::printable;
use crate::number::{DASH, Units, fixed, one_text};
use crate::page::table as table_drawing;
use crate::table::{Table, terms_texts};

/// Looks of this sheet alone.
const STYLE: &str = "
@page { size: landscape; margin: 12mm; }
.sheet { max-width: 90rem; }
.sheet table { font-size: 0.85em; } .sheet td, .sheet th { padding: 0.3rem 0.4rem; }
.sheet td, .sheet th { border: 1px solid var(--rule); }
.sheet th { font-weight: bold; }
@media print { .sheet { padding: 0; max-width: none; min-height: 0; } .sheet table { font-size: 8pt; } }
";

/// Stands where the building's own people write.
const BLANK: &str = "to be filled in";

/// The schedule as a page; `None` where there are no elements.
pub fn element_schedule(summary: &Summary) -> Option<String> {
    let list = element_table(summary)?;
    let title = format!(
        "{} \u{2013} schedule of elements",
        printable(&summary.heading.name)
    );
    let body = html! {
        h1 { "Schedule of elements" }
        p.note { (printable(&summary.heading.name)) ". " (printable(&summary.heading.note)) }
        (table_drawing(&list, &[1, 3, 6, 11, 12, 13]))
        h2 { "How to read it" }
        ul {
            li { "Plan size is length along the room by width across it, where the scenario gives the element a place; else the length along the way of the ware alone. Clearances are not in it." }
            li { "Connected power is the most the machine can draw by what the scenario says of it: running, and heating its rinse water at the data plate\u{2019}s rate where it does so by electricity. The data plate decides." }
            li { "Draws in a quarter hour are the highest quarter hour of a lunch: the middle lunch, and in brackets the one that 95 of 100 lunches do not exceed, of " (summary.repeats) " simulated lunches. Rinse water is shared out by the racks that came out in each quarter hour; a tank filling falls in the first quarter hour the machine is on." }
            li { "What is drawn as water goes to the drain within the lunch, the tank\u{2019}s filling at its end." }
            @if summary.owning.is_some() {
                li { "Price, life and upkeep are those the scenario says; racks, ware and carts that have a price stand below the elements." }
            }
            li { "Exhaust heat and moisture are left blank: take them from the maker\u{2019}s sheet or from measurement. Sizing, connections and ventilation are for licensed practice and the local codes." }
        }
    };
    Some(sheet(&title, &summary.source.version, STYLE, &body))
}

/// The schedule as a table; `None` where there are no elements.
pub fn element_table(summary: &Summary) -> Option<Table> {
    let elements = &summary.planned.elements;
    if elements.is_empty() {
        return None;
    }
    let units = Units::named(&summary.heading.units);
    let priced = elements.iter().any(|element| element.owned.is_some());
    let (length, water) = (units.unit_words("m"), units.unit_words("L"));
    let head = [
        "Element".to_owned(),
        "What it is".to_owned(),
        format!("Plan size ({length})"),
        "Holds".to_owned(),
        format!("Speed ({length} a minute)"),
        "Data plate (racks/h)".to_owned(),
        "Water".to_owned(),
        "Connected power (kW)".to_owned(),
        "Highest power in a quarter hour (kW)".to_owned(),
        format!("Most water in a quarter hour ({water})"),
        format!("Tank ({water})"),
        "Drain".to_owned(),
        "Exhaust heat (kW)".to_owned(),
        "Moisture (kg/h)".to_owned(),
    ];
    let mut table = Table {
        caption: "What stands in the room, what it holds and what it draws".into(),
        head: head.into(),
        rows: Vec::new(),
    };
    for element in elements {
        table.rows.push(row(element, summary, units));
    }
    if priced {
        price_columns(&mut table, summary);
    }
    Some(table)
}

/// Columns with price, life and upkeep, where the scenario says any of them.
fn price_columns(table: &mut Table, summary: &Summary) {
    let sign = match summary.heading.currency.as_str() {
        "" => String::new(),
        sign => format!(" ({sign})"),
    };
    table.head.extend([
        format!("Price{sign}"),
        "Life (years)".to_owned(),
        format!("Upkeep a year{sign}"),
    ]);
    for (row, element) in table.rows.iter_mut().zip(&summary.planned.elements) {
        row.extend(terms_texts(element.owned.as_ref()));
    }
}

fn row(element: &Element, summary: &Summary, units: Units) -> Vec<String> {
    let find = |id: &str| summary.measures.iter().find(|m| m.id == id);
    let spread = |measure: Option<&Measure>| {
        measure.map_or_else(
            || DASH.to_owned(),
            |m| {
                let [middle, high] = [m.p50, m.p95].map(|v| one_text(v, &m.unit, units));
                if middle == DASH {
                    middle
                } else {
                    format!("{middle} ({high})")
                }
            },
        )
    };
    let wet = !element.water_measure.is_empty();
    let powered = !element.power_measure.is_empty();
    let blank_if = |needed: bool| if needed { BLANK } else { DASH }.to_owned();
    let length = |value: Option<f64>| one_text(value, "m", units);
    vec![
        element.name.clone(),
        element.kind.clone(),
        match element.plan_m {
            Some(sides) => {
                let [along, across] = sides.map(|side| length(Some(side)));
                format!("{along} \u{d7} {across}")
            }
            None => length(element.length_m),
        },
        element.holds.map_or_else(
            || DASH.to_owned(),
            |holds| format!("{} {}", fixed(holds, 0), element.holds_unit),
        ),
        length(element.speed_m_per_min),
        one_text(element.plate_racks_per_h, "racks_per_h", units),
        if wet { "cold or hot supply" } else { DASH }.to_owned(),
        one_text(element.connected_kw, "kW", units),
        if powered {
            spread(find(&element.power_measure))
        } else {
            DASH.to_owned()
        },
        if wet {
            spread(find(&element.water_measure))
        } else {
            DASH.to_owned()
        },
        one_text(element.tank_l, "L", units),
        if wet { "all water drawn" } else { DASH }.to_owned(),
        blank_if(powered),
        blank_if(powered),
    ]
}
