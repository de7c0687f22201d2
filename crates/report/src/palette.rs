//! The colours, dashes and hatches of the pictures.
//!
//! The hues are the eight of Okabe and Ito (*Color Universal Design*, 2008), chosen there so that readers with any of
//! the common kinds of colour blindness tell them apart. No meaning hangs on hue alone: lines differ by dash and carry
//! their name, states differ by hatch and by lightness, limits are named.

/// A colour as red, green and blue, 0 to 255 each.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    /// As `#RRGGBB`, the way it stands in a picture.
    pub fn hex(self) -> String {
        format!("#{:02X}{:02X}{:02X}", self.0, self.1, self.2)
    }
}

/// Okabe and Ito's blue.
pub const BLUE: Colour = Colour(0x00, 0x72, 0xB2);
/// Okabe and Ito's sky blue.
pub const SKY: Colour = Colour(0x56, 0xB4, 0xE9);
/// Okabe and Ito's orange.
pub const ORANGE: Colour = Colour(0xE6, 0x9F, 0x00);
/// Okabe and Ito's bluish green.
pub const GREEN: Colour = Colour(0x00, 0x9E, 0x73);
/// Okabe and Ito's yellow.
pub const YELLOW: Colour = Colour(0xF0, 0xE4, 0x42);
/// Okabe and Ito's vermillion.
pub const VERMILLION: Colour = Colour(0xD5, 0x5E, 0x00);
/// Okabe and Ito's reddish purple.
pub const PURPLE: Colour = Colour(0xCC, 0x79, 0xA7);
/// Letters and axes. Okabe and Ito's black, a little softened.
pub const INK: Colour = Colour(0x1A, 0x1A, 0x1A);
/// Lesser letters; contrast with the paper above 7 to 1.
pub const SOFT_INK: Colour = Colour(0x50, 0x50, 0x50);
/// Lines of the grid.
pub const GRID: Colour = Colour(0xDD, 0xDD, 0xDD);
/// Nothing to do, or ready: the lightest fill.
pub const PALE: Colour = Colour(0xE8, 0xE8, 0xE8);
/// The paper.
pub const PAPER: Colour = Colour(0xFF, 0xFF, 0xFF);

/// How a line is broken up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dash {
    /// Unbroken.
    Solid,
    /// Long dashes.
    Long,
    /// Short dashes.
    Short,
    /// Dots.
    Dots,
    /// A dash and a dot.
    DashDot,
}

impl Dash {
    /// Lengths drawn and left out by turns, in points; empty for an unbroken line.
    pub fn lengths(self) -> &'static [f64] {
        match self {
            Dash::Solid => &[],
            Dash::Long => &[9.0, 4.0],
            Dash::Short => &[4.0, 3.0],
            Dash::Dots => &[1.5, 2.5],
            Dash::DashDot => &[8.0, 3.0, 1.5, 3.0],
        }
    }
}

/// Lines drawn over a fill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hatch {
    /// None.
    Plain,
    /// Rising to the right.
    Rising,
    /// Falling to the right.
    Falling,
    /// Both ways.
    Crossed,
    /// Level lines.
    Level,
    /// Upright lines.
    Upright,
    /// Points.
    Points,
}

/// How one state of a worker, machine or belt looks, and what it is called.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    /// Words of the legend and the tables.
    pub words: &'static str,
    /// Fill.
    pub fill: Colour,
    /// Hatch over the fill.
    pub hatch: Hatch,
    /// Colour of the hatch.
    pub line: Colour,
}

/// The look of a state by its id in the summary; all states unknown here look alike.
pub fn state_look(state: &str, kind: &str) -> Look {
    let look = |words, fill, hatch, line| Look {
        words,
        fill,
        hatch,
        line,
    };
    match state {
        "working" => look("working", BLUE, Hatch::Plain, PAPER),
        "past_shift" => look("working past the shift", BLUE, Hatch::Rising, PAPER),
        "held_up" => look("held up", VERMILLION, Hatch::Crossed, PAPER),
        "walking" => look("walking", YELLOW, Hatch::Upright, INK),
        "hand_wash" => look("washing hands", SKY, Hatch::Level, INK),
        "waiting_for_help" => look("waiting for a second person", ORANGE, Hatch::Rising, INK),
        "waiting" if kind == "worker" => look("waiting for work", PALE, Hatch::Plain, INK),
        "waiting" => look("moving, empty", PALE, Hatch::Points, SOFT_INK),
        "break" => look("on a break", PAPER, Hatch::Falling, SOFT_INK),
        "off" if kind == "worker" => look("off shift", PAPER, Hatch::Plain, INK),
        "off" => look("off", PAPER, Hatch::Plain, INK),
        "heating" => look("heating up", ORANGE, Hatch::Level, INK),
        "ready" => look("ready", PALE, Hatch::Plain, INK),
        "starting" => look("starting", YELLOW, Hatch::Upright, INK),
        "washing" => look("washing", BLUE, Hatch::Plain, PAPER),
        "stopped" if kind == "belt" => look(
            "standing, ware at its end",
            VERMILLION,
            Hatch::Crossed,
            PAPER,
        ),
        "stopped" => look("stopped, clean end full", VERMILLION, Hatch::Crossed, PAPER),
        "down" => look("down", INK, Hatch::Points, PAPER),
        "moving" => look("moving, with ware", SKY, Hatch::Plain, INK),
        _ => look("another state", PURPLE, Hatch::Falling, INK),
    }
}
