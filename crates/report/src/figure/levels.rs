//! How much stands at each place over the clock: small sets of axes side by side.

use scullery_study::summary::Band;

use super::legend::{Entry, LINE, legend, lines};
use super::{Figure, Scene, WIDTH, largest, peak_words};
use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::error::Fault;
use crate::lettering::shorten;
use crate::number::one_text;
use crate::palette::{BLUE, Colour, Dash, GREEN, INK, ORANGE, SKY, VERMILLION};
use crate::panel::{NAME, Panel, limit_stroke};
use crate::svg::Naming;
use crate::table::{band_quarters, bands_quarters};

/// Which places share a picture.
pub(super) struct Group {
    id: &'static str,
    title: &'static str,
    roles: &'static [&'static str],
    colour: Colour,
    /// What the line stands for, for the key.
    words: &'static str,
    /// What else a reader should know; empty for nothing.
    note: &'static str,
    columns: usize,
}

/// The groups of the way from the drop-off to the clean end, in reading order.
pub(super) const GROUPS: &[Group] = &[
    Group {
        id: "seated",
        title: "Diners eating",
        roles: &["seated"],
        colour: SKY,
        words: "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "",
        columns: 1,
    },
    Group {
        id: "waiting-for-ware",
        title: "Diners waiting at the servery for ware that has run out",
        roles: &["waiting_for_ware"],
        colour: VERMILLION,
        words: "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "",
        columns: 1,
    },
    Group {
        id: "drop-off",
        title: "People waiting for a position at the drop-off",
        roles: &["queue"],
        colour: BLUE,
        words: "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "",
        columns: 1,
    },
    Group {
        id: "left-aside",
        title: "Trays left aside",
        roles: &["overflow"],
        colour: BLUE,
        words: "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "",
        columns: 1,
    },
    Group {
        id: "waiting-trays",
        title: "Ware waiting: trays and stacks on belts and tables",
        roles: &["trays", "stacks"],
        colour: BLUE,
        words: "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "",
        columns: 2,
    },
    Group {
        id: "receivers",
        title: "Receivers that fill, and waste",
        roles: &["receiver", "waste"],
        colour: ORANGE,
        words: "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "A receiver falls to nought when it is changed.",
        columns: 2,
    },
    Group {
        id: "waiting-piles",
        title: "Ware waiting: piles to be racked, and ware held back",
        roles: &["pile", "held_back"],
        colour: ORANGE,
        words: "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "Ware held back is washed later on purpose; its rise is no fault by itself.",
        columns: 2,
    },
    Group {
        id: "waiting-lanes",
        title: "Ware waiting: open racks, lanes and the machine",
        roles: &["open_racks", "filled_racks", "washing"],
        colour: SKY,
        words: "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "",
        columns: 2,
    },
    Group {
        id: "waiting-carts",
        title: "Ware waiting: carts and tubs of soiled ware",
        roles: &["gathered", "carts_waiting", "carts_to_wash", "carts_ready"],
        colour: ORANGE,
        words: "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "Carts ready to be loaded wait on purpose.",
        columns: 2,
    },
    Group {
        id: "waiting-clean-end",
        title: "Ware waiting: clean end, carts and racks on their way back",
        roles: &["clean_racks", "cart", "racks_back"],
        colour: GREEN,
        words: "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "",
        columns: 2,
    },
    Group {
        id: "empty-racks",
        title: "Empty racks left to take",
        roles: &["empty_racks"],
        colour: SKY,
        words: "least in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "At nought, racking of the classes that need the kind stops.",
        columns: 2,
    },
    Group {
        id: "other-work",
        title: "Other work waiting",
        roles: &["duty"],
        colour: ORANGE,
        words: "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
        note: "",
        columns: 2,
    },
];

/// Clean ware at the servery.
pub(super) const STOCK: Group = Group {
    id: "stock",
    title: "Clean ware left at the servery",
    roles: &["stock"],
    colour: GREEN,
    words: "least in the minute: middle lunch, shaded from the 5th to the 95th of 100",
    note: "At nought the class has run out and covers go without, wait or take another.",
    columns: 2,
};

/// Sets of axes in one picture at most, so that a picture fits a printed page.
const MOST: usize = 10;

/// The pictures of a group: none when it has no places; several when it has many.
pub(super) fn levels(scene: &Scene<'_>, group: &Group) -> Result<Vec<Figure>, Fault> {
    let of_group = |band: &&Band| group.roles.contains(&band.role.as_str());
    let (busy, idle): (Vec<&Band>, Vec<&Band>) = scene
        .summary
        .bands
        .iter()
        .filter(of_group)
        .partition(|band| is_lively(band));
    let most = if group.columns == 1 { MOST / 3 } else { MOST };
    let sheets = busy.len().div_ceil(most.max(1));
    let each = busy.len().div_ceil(sheets.max(1)).max(1);
    busy.chunks(each)
        .enumerate()
        .map(|(index, bands)| {
            let idle = if index + 1 == sheets {
                idle.as_slice()
            } else {
                &[]
            };
            sheet(scene, group, bands, idle, (index, sheets))
        })
        .collect()
}

/// Whether anything ever stood there (or, for a stock, ever changed).
fn is_lively(band: &Band) -> bool {
    match band.role.as_str() {
        "stock" | "empty_racks" => {
            largest(&band.p95) > 0.0 && band.p05.iter().any(|low| *low < largest(&band.p95))
        }
        _ => largest(&band.p95) > 0.0,
    }
}

/// The box of one set of axes with its name above it.
fn place(index: usize, columns: usize, head: f64) -> Area {
    let (left, right, over, under) = (56.0, 22.0, 32.0, 32.0);
    let height = if columns == 1 { 190.0 } else { 118.0 };
    let each = WIDTH / columns as f64;
    Area {
        x: (index % columns) as f64 * each + left,
        y: head + (index / columns) as f64 * (over + height + under) + over,
        w: each - left - right,
        h: height,
    }
}

fn sheet(
    scene: &Scene<'_>,
    group: &Group,
    bands: &[&Band],
    idle: &[&Band],
    (index, of): (usize, usize),
) -> Result<Figure, Fault> {
    let (id, title) = if of > 1 {
        (
            format!("{}-{}", group.id, index + 1),
            format!("{} ({} of {of})", group.title, index + 1),
        )
    } else {
        (group.id.to_owned(), group.title.to_owned())
    };
    let curve = Stroke::solid(group.colour, 2.0);
    let mut key = vec![Entry::Curve(curve, group.words)];
    if bands
        .iter()
        .any(|band| band.limit.is_some() && !keeps_low(band))
    {
        key.push(Entry::Line(limit_stroke(), "room there is"));
    }
    if bands.iter().any(|band| keeps_low(band)) {
        key.push(Entry::Line(nought_stroke(), "none left"));
    }
    if !scene.bells().is_empty() {
        key.push(Entry::Bell);
    }
    let head = lines(&key, WIDTH - 80.0) as f64 * LINE + 6.0;
    let columns = group.columns.min(bands.len());
    let last = place(bands.len() - 1, columns, head);
    let desc = bands
        .iter()
        .map(|band| peak_words(band, scene.window, scene.units))
        .collect::<Vec<_>>()
        .join(" ");
    let naming = Naming {
        id: &id,
        title: &title,
        desc: &desc,
    };
    let svg = draw(&naming, WIDTH, last.y + last.h + 28.0, |canvas| {
        legend(canvas, (52.0, 2.0), WIDTH - 80.0, &key)?;
        for (index, band) in bands.iter().enumerate() {
            axes(canvas, scene, band, place(index, columns, head), curve)?;
        }
        Ok(())
    })?;
    Ok(Figure {
        caption: caption(scene, group, idle),
        tables: if bands.len() > 1 {
            vec![bands_quarters(bands, scene.window, scene.units)]
        } else {
            bands
                .iter()
                .map(|band| band_quarters(band, scene.window, scene.units))
                .collect()
        },
        id,
        title,
        desc,
        svg,
    })
}

fn caption(scene: &Scene<'_>, group: &Group, idle: &[&Band]) -> String {
    let mut caption = scene.band_words();
    if !group.note.is_empty() {
        caption.push(' ');
        caption.push_str(group.note);
    }
    let names = |list: &[&&Band]| -> String {
        let names: Vec<&str> = list.iter().map(|band| band.title.as_str()).collect();
        names.join(", ")
    };
    let (seldom, never): (Vec<&&Band>, Vec<&&Band>) = idle
        .iter()
        .partition(|band| !keeps_low(band) && largest(&band.mean) > 0.0);
    if !never.is_empty() {
        let said = if group.id == "stock" || group.id == "empty-racks" {
            "Never changed"
        } else {
            "Always empty"
        };
        caption.push_str(&format!(" {said}, so not drawn: {}.", names(&never)));
    }
    if !seldom.is_empty() {
        caption.push_str(&format!(
            " Empty at every minute in 95 of 100 lunches or more, so not drawn: {}.",
            names(&seldom)
        ));
    }
    caption
}

/// Whether low is what matters there.
fn keeps_low(band: &Band) -> bool {
    matches!(band.role.as_str(), "stock" | "empty_racks")
}

/// The line at nought of a stock.
fn nought_stroke() -> Stroke {
    Stroke {
        colour: VERMILLION,
        width: 2.0,
        dash: Dash::DashDot,
    }
}

fn axes(
    canvas: &mut Canvas<'_>,
    scene: &Scene<'_>,
    band: &Band,
    area: Area,
    curve: Stroke,
) -> Result<(), Fault> {
    let shown = |values: &[f64]| -> Vec<f64> {
        let each = values.iter();
        each.map(|value| scene.units.shown(*value, &band.unit))
            .collect()
    };
    let [p05, p50, p95] = [&band.p05, &band.p50, &band.p95].map(|values| shown(values));
    let high = largest(&p95).max(largest(&p50));
    // A limit far above everything would press the line flat; it is named all the same.
    let limit = band
        .limit
        .map(|room| scene.units.shown(room, &band.unit))
        .filter(|room| !keeps_low(band) && *room <= high * 3.0);
    let panel = Panel::new(area, scene.window, high.max(limit.unwrap_or(0.0) * 1.08));
    let unit = scene.units.unit_words(&band.unit);
    let name = match band.limit.filter(|_| !keeps_low(band)) {
        Some(room) => format!(
            "{}, {unit} (room for {})",
            band.title,
            one_text(Some(room), &band.unit, scene.units)
        ),
        None => format!("{}, {unit}", band.title),
    };
    canvas.text(
        (area.x - 4.0, area.y - 15.0),
        &shorten(&name, NAME, area.w + 10.0),
        NAME,
        INK,
        Align::Left,
    )?;
    panel.frame(canvas, "", scene.bells())?;
    panel.band(canvas, &p05, &p95, curve.colour)?;
    panel.curve(canvas, &p50, curve)?;
    if let Some(room) = limit {
        let words = if band.role == "queue" || band.role == "standing" {
            "room to stand"
        } else {
            "full"
        };
        panel.level(canvas, room, words, limit_stroke())?;
    }
    if keeps_low(band) {
        let words = if band.role == "stock" {
            "run out"
        } else {
            "none left"
        };
        let out = band
            .p05
            .iter()
            .take(scene.window.minutes() as usize)
            .any(|low| *low <= 0.0);
        panel.level(canvas, 0.0, if out { words } else { "" }, nought_stroke())?;
    }
    Ok(())
}
