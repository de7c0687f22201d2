//! The line from above: a strip of plain boxes to one scale, with the ways of soiled and clean ware where the room is given.

use scullery_study::floor_plan::{FloorBox, FloorPlan, FloorWay};

use super::legend::{Entry, LINE, legend, lines};
use super::{Figure, Scene, WIDTH};
use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::error::Fault;
use crate::lettering::{shorten, width};
use crate::number::{Units, fixed};
use crate::palette::{BLUE, Colour, Dash, Hatch, INK, PAPER, SOFT_INK, VERMILLION};
use crate::panel::SMALL;
use crate::svg::Naming;
use crate::table::Table;

/// Fills; letters on them contrast above 7 to 1.
const SOILED: Colour = Colour(0xFB, 0xE5, 0xC8);
const CLEAN: Colour = Colour(0xD4, 0xE6, 0xF1);
/// Around the drawing, in points.
const EDGE: f64 = 30.0;
/// The drawing is at most so high, in points.
const HIGHEST: f64 = 320.0;
/// Names stand in so many columns under it.
const COLUMNS: usize = 3;
/// Height of a name.
const ROW: f64 = 17.0;
/// A box is drawn at least so long and wide, so that its number can be read.
const LEAST: f64 = 16.0;

/// The picture; `None` where fewer than two things stand in the room.
pub(super) fn floor_plan(scene: &Scene<'_>) -> Result<Option<Figure>, Fault> {
    let floor = &scene.summary.planned.floor;
    if floor.boxes.len() < 2 {
        return Ok(None);
    }
    let key = key(floor);
    let head = lines(&key, WIDTH - 32.0) as f64 * LINE + 20.0;
    let sheet = Sheet::of(floor, head);
    let names = floor.boxes.len().div_ceil(COLUMNS) as f64 * ROW;
    let under = head + sheet.size.1 + 40.0;
    let desc = desc(floor, scene.units);
    let title = "The line from above";
    let naming = Naming {
        id: "floor",
        title,
        desc: &desc,
    };
    let svg = draw(&naming, WIDTH, under + names + 12.0, |canvas| {
        legend(canvas, (16.0, 2.0), WIDTH - 32.0, &key)?;
        if floor.room_m.is_some() {
            canvas.outline(sheet.room(), Stroke::solid(INK, 2.0))?;
        }
        for it in &floor.boxes {
            draw_box(canvas, &sheet, it)?;
        }
        for way in &floor.ways {
            draw_way(canvas, &sheet, floor, way)?;
        }
        for (number, it) in floor.boxes.iter().enumerate() {
            draw_label(canvas, &sheet, number, it)?;
        }
        for at in &floor.crossings_m {
            draw_crossing(canvas, sheet.point(*at))?;
        }
        scale_bar(canvas, &sheet, scene.units)?;
        draw_names(canvas, floor, under)
    })?;
    let standing = match (floor.room_m, floor.boxes.iter().all(|it| it.given)) {
        (None, _) => {
            "The scenario says nothing of a room: everything stands in a row along the wall in the order of the \
                      line, at its own length or a usual size, and no ways are drawn."
        }
        (Some(_), true) => {
            "Places and sizes are the scenario's own. Ways run straight from middle to middle."
        }
        (Some(_), false) => {
            "Ways run straight from middle to middle. What the scenario gives no place stands in a row \
                             behind the rest, at its own length or a usual size; the table says which."
        }
    };
    Ok(Some(Figure {
        id: "floor".into(),
        title: title.into(),
        caption: format!("{standing} Not a drawing to build from."),
        desc,
        svg,
        tables: vec![table(floor, scene.units)],
    }))
}

/// The drawing's place and scale.
struct Sheet {
    left: f64,
    top: f64,
    /// Points for a metre.
    scale: f64,
    /// Size of the drawing in points.
    size: (f64, f64),
    room_m: [f64; 2],
}

impl Sheet {
    fn of(floor: &FloorPlan, top: f64) -> Sheet {
        let reach = |axis: usize| {
            let ends = floor.boxes.iter().map(|it| it.at_m[axis] + it.size_m[axis]);
            ends.fold(0.0, f64::max)
        };
        let room_m = floor.room_m.unwrap_or([reach(0), reach(1)]);
        let long = reach(0).max(room_m[0]).max(0.1);
        let wide = reach(1).max(room_m[1]).max(0.1);
        let scale = ((WIDTH - 2.0 * EDGE) / long).min(HIGHEST / wide);
        Sheet {
            left: (WIDTH - long * scale) / 2.0,
            top,
            scale,
            size: (long * scale, (wide * scale).max(LEAST)),
            room_m,
        }
    }

    fn point(&self, [x, y]: [f64; 2]) -> (f64, f64) {
        (self.left + x * self.scale, self.top + y * self.scale)
    }

    fn room(&self) -> Area {
        Area {
            x: self.left,
            y: self.top,
            w: self.room_m[0] * self.scale,
            h: self.room_m[1] * self.scale,
        }
    }

    fn area(&self, it: &FloorBox) -> Area {
        let (x, y) = self.point(it.at_m);
        Area {
            x,
            y,
            w: (it.size_m[0] * self.scale).max(4.0),
            h: (it.size_m[1] * self.scale).max(LEAST),
        }
    }
}

fn key(floor: &FloorPlan) -> Vec<Entry<'static>> {
    let mut key = Vec::new();
    for clean in [false, true] {
        for parking in [false, true] {
            let is = |it: &&FloorBox| (it.side == "clean") == clean && it.parking == parking;
            if !floor.boxes.iter().any(|it| is(&it)) {
                continue;
            }
            let (fill, hatch) = look(clean, parking);
            let words = match (clean, parking) {
                (false, false) => "for soiled ware",
                (true, false) => "for clean ware",
                (false, true) => "parking, soiled side",
                (true, true) => "parking, clean side",
            };
            key.push(Entry::State(fill, hatch, SOFT_INK, words));
        }
    }
    for clean in [false, true] {
        if floor.ways.iter().any(|way| way.clean == clean) {
            let words = if clean {
                "way of clean ware"
            } else {
                "way of soiled ware"
            };
            key.push(Entry::Line(way_stroke(clean), words));
        }
    }
    key
}

fn look(clean: bool, parking: bool) -> (Colour, Hatch) {
    let fill = if clean { CLEAN } else { SOILED };
    let hatch = if parking { Hatch::Rising } else { Hatch::Plain };
    (fill, hatch)
}

fn way_stroke(clean: bool) -> Stroke {
    Stroke {
        colour: if clean { BLUE } else { VERMILLION },
        width: 2.0,
        dash: if clean { Dash::Solid } else { Dash::Short },
    }
}

fn draw_box(canvas: &mut Canvas<'_>, sheet: &Sheet, it: &FloorBox) -> Result<(), Fault> {
    let area = sheet.area(it);
    let (fill, hatch) = look(it.side == "clean", it.parking);
    canvas.fill_hatched(area, fill, hatch, SOFT_INK)?;
    canvas.outline(area, Stroke::solid(INK, 1.0))
}

/// Its number, and its name where there is room, on plain ground: no way runs through the letters.
fn draw_label(
    canvas: &mut Canvas<'_>,
    sheet: &Sheet,
    number: usize,
    it: &FloorBox,
) -> Result<(), Fault> {
    let area = sheet.area(it);
    let (fill, _) = look(it.side == "clean", it.parking);
    let words = (number + 1).to_string();
    let at = (area.x + 4.0, area.y + 12.5);
    let wide = width(&words, SMALL) + 4.0;
    let room = area.w - wide - 10.0;
    let label = match room > 40.0 {
        true => shorten(&it.label, SMALL - 1.0, room),
        false => String::new(),
    };
    let under = Area {
        x: area.x + 2.0,
        y: area.y + 2.0,
        w: wide
            + match it.parking || label.is_empty() {
                true => 0.0,
                false => width(&label, SMALL - 1.0) + 5.0,
            },
        h: 13.0,
    };
    canvas.fill(under, if it.parking { PAPER } else { fill })?;
    canvas.bold(at, &words, SMALL, INK, Align::Left)?;
    if label.is_empty() {
        return Ok(());
    }
    canvas.text(
        (area.x + wide + 5.0, area.y + 12.5),
        &label,
        SMALL - 1.0,
        INK,
        Align::Left,
    )
}

fn middle(it: &FloorBox) -> [f64; 2] {
    [
        it.at_m[0] + it.size_m[0] / 2.0,
        it.at_m[1] + it.size_m[1] / 2.0,
    ]
}

/// A line with an arrow head half way.
fn draw_way(
    canvas: &mut Canvas<'_>,
    sheet: &Sheet,
    floor: &FloorPlan,
    way: &FloorWay,
) -> Result<(), Fault> {
    let (Some(from), Some(to)) = (floor.boxes.get(way.from), floor.boxes.get(way.to)) else {
        return Ok(());
    };
    let (from, to) = (sheet.point(middle(from)), sheet.point(middle(to)));
    let stroke = way_stroke(way.clean);
    canvas.line(&[from, to], stroke)?;
    let long = (to.0 - from.0).hypot(to.1 - from.1);
    if long < 12.0 {
        return Ok(());
    }
    let (along, across) = (
        ((to.0 - from.0) / long, (to.1 - from.1) / long),
        ((from.1 - to.1) / long, (to.0 - from.0) / long),
    );
    let half = ((from.0 + to.0) / 2.0, (from.1 + to.1) / 2.0);
    let corner = |forth: f64, aside: f64| {
        (
            half.0 + forth * along.0 + aside * across.0,
            half.1 + forth * along.1 + aside * across.1,
        )
    };
    canvas.polygon(
        &[corner(6.0, 0.0), corner(-4.0, 5.0), corner(-4.0, -5.0)],
        stroke.colour,
        1.0,
    )
}

fn draw_crossing(canvas: &mut Canvas<'_>, (x, y): (f64, f64)) -> Result<(), Fault> {
    let diamond = |r: f64| [(x, y - r), (x + r, y), (x, y + r), (x - r, y)];
    canvas.polygon(&diamond(11.0), PAPER, 1.0)?;
    canvas.polygon(&diamond(9.0), INK, 1.0)?;
    canvas.bold((x, y + 4.5), "!", SMALL, PAPER, Align::Middle)
}

/// A bar of one metre, or of ten feet.
fn scale_bar(canvas: &mut Canvas<'_>, sheet: &Sheet, units: Units) -> Result<(), Fault> {
    let (long_m, words) = match units {
        Units::Metric => (1.0, "1 m"),
        Units::Us => (3.048, "10 ft"),
    };
    let y = sheet.top + sheet.size.1 + 16.0;
    let ends = (sheet.left, sheet.left + long_m * sheet.scale);
    let stroke = Stroke::solid(INK, 1.5);
    canvas.line(&[(ends.0, y), (ends.1, y)], stroke)?;
    for x in [ends.0, ends.1] {
        canvas.line(&[(x, y - 4.0), (x, y + 4.0)], stroke)?;
    }
    canvas.text((ends.1 + 6.0, y + 4.0), words, SMALL, INK, Align::Left)
}

fn draw_names(canvas: &mut Canvas<'_>, floor: &FloorPlan, top: f64) -> Result<(), Fault> {
    let rows = floor.boxes.len().div_ceil(COLUMNS).max(1);
    let wide = (WIDTH - 2.0 * EDGE) / COLUMNS as f64;
    for (number, it) in floor.boxes.iter().enumerate() {
        let x = EDGE + (number / rows) as f64 * wide;
        let y = top + (number % rows) as f64 * ROW + 12.0;
        let words = (number + 1).to_string();
        canvas.bold((x + 18.0, y), &words, SMALL, INK, Align::Right)?;
        let label = shorten(&it.label, SMALL, wide - 30.0);
        canvas.text((x + 24.0, y), &label, SMALL, INK, Align::Left)?;
    }
    Ok(())
}

fn metres(m: f64, units: Units) -> String {
    fixed(units.shown(m, "m"), 1)
}

fn desc(floor: &FloorPlan, units: Units) -> String {
    let unit = units.unit_words("m");
    let names: Vec<&str> = floor.boxes.iter().map(|it| it.label.as_str()).collect();
    let mut words = match floor.room_m {
        Some([long, wide]) => format!(
            "A room of {} by {} {unit} from above with {}.",
            metres(long, units),
            metres(wide, units),
            names.join(", ")
        ),
        None => format!("In a row along the wall: {}.", names.join(", ")),
    };
    for sentence in &floor.words {
        words.push(' ');
        words.push_str(sentence);
    }
    words
}

fn table(floor: &FloorPlan, units: Units) -> Table {
    let unit = units.unit_words("m");
    let mut table = Table::new(
        format!("What stands in the room, in {unit}"),
        &[
            "No.",
            "What",
            "From along",
            "From the wall",
            "Length",
            "Width",
            "Side",
            "Place",
        ],
    );
    table.rows = floor
        .boxes
        .iter()
        .enumerate()
        .map(|(number, it)| {
            let parking = if it.parking { ", parking" } else { "" };
            vec![
                (number + 1).to_string(),
                it.label.clone(),
                metres(it.at_m[0], units),
                metres(it.at_m[1], units),
                metres(it.size_m[0], units),
                metres(it.size_m[1], units),
                format!("{}{parking}", it.side),
                if it.given {
                    "as given"
                } else {
                    "in a row, usual size"
                }
                .to_owned(),
            ]
        })
        .collect();
    table
}
