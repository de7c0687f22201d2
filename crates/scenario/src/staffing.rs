//! What a crew may be made of: roles, shifts and the rules of a contract, and sizes that may be chosen.

use scullery_engine::line::{Call, Line, Post, Worker};
use scullery_engine::time::{SimTime, Span};

/// What crews may be made of.
#[derive(Clone, Debug, PartialEq)]
pub struct Staffing {
    /// Whether the file says so; `false`: derived from the crew as it is.
    pub given: bool,
    /// Fewest people in all.
    pub least_people: u32,
    /// Most people in all.
    pub most_people: u32,
    /// Roles, in the order in which their people are asked.
    pub roles: Vec<Role>,
    /// Named shifts.
    pub patterns: Vec<Pattern>,
    /// Rules for the roster.
    pub contract: Contract,
}

/// A role: people who do the same work.
#[derive(Clone, Debug, PartialEq)]
pub struct Role {
    /// Name.
    pub name: String,
    /// The people of the file it is like: numbers in the line's crew, copied in turn. Not empty.
    pub like: Vec<usize>,
    /// Fewest people.
    pub least: u32,
    /// Most people.
    pub most: u32,
    /// Shifts these people may have: numbers of patterns. Not empty.
    pub patterns: Vec<usize>,
    /// An hour of their work; `None`: the plan's wage.
    pub wage_per_h: Option<f64>,
}

/// A named shift.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    /// Name.
    pub name: String,
    /// Clock spans at work, in order.
    pub shifts: Vec<(SimTime, SimTime)>,
    /// Breaks; `None`: those of the person copied, as far as they lie within.
    pub breaks: Option<Vec<(SimTime, Span)>>,
}

impl Pattern {
    /// Hours from coming to going, breaks included.
    pub fn hours(&self) -> f64 {
        let spans = self.shifts.iter().map(|(from, to)| to.since(*from).s());
        spans.sum::<f64>() / 3600.0
    }
}

/// A clock span.
pub type ClockSpan = (SimTime, SimTime);

/// People at work for some minutes before the first tray or after the last.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Around {
    /// How many people.
    pub people: u32,
    /// For how long.
    pub lasts: Span,
}

/// The rules a roster keeps.
#[derive(Clone, Debug, PartialEq)]
pub struct Contract {
    /// Shortest paid shift.
    pub shortest: Span,
    /// Longest paid shift.
    pub longest: Span,
    /// Paid at least so long for coming in at all.
    pub show_up: Span,
    /// Longest stretch of work before a meal break.
    pub meal_break_after: Span,
    /// Length of a meal break.
    pub meal_break: Span,
    /// Whether it is paid.
    pub meal_break_paid: bool,
    /// No meal break begins or runs in this span.
    pub no_breaks: Option<ClockSpan>,
    /// People on a break at once, at most.
    pub off_at_once: u32,
    /// Shortest gap of a split shift; `None`: no split shifts.
    pub split_gap: Option<Span>,
    /// Shifts begin on multiples of this.
    pub starts_every: Span,
    /// On-costs besides the wage, as a share of it.
    pub on_costs: f64,
    /// Before the first tray.
    pub set_up: Option<Around>,
    /// After the last tray is clean.
    pub cleaning: Option<Around>,
}

impl Contract {
    /// Where the file says nothing. Common practice, no source: your own contract decides.
    pub fn usual() -> Contract {
        Contract {
            shortest: Span::from_min(180.0),
            longest: Span::from_min(510.0),
            show_up: Span::from_min(180.0),
            meal_break_after: Span::from_min(300.0),
            meal_break: Span::from_min(30.0),
            meal_break_paid: false,
            no_breaks: None,
            off_at_once: 1,
            split_gap: None,
            starts_every: Span::from_min(15.0),
            on_costs: 0.0,
            set_up: None,
            cleaning: None,
        }
    }
}

/// Something whose least size is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Size {
    /// What it is, in plain words.
    pub words: String,
    /// What may be chosen, smallest first.
    pub options: Vec<SizeOption>,
    /// Years it lasts; `None`: not said.
    pub life_years: Option<f64>,
}

/// One size that may be chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct SizeOption {
    /// Its name.
    pub name: String,
    /// Changes to the file, each `path=value`.
    pub changes: Vec<String>,
    /// What it costs to buy; `None`: not said.
    pub price: Option<f64>,
}

/// Posts of a line that need somebody: those of the crew as it is.
pub fn posts_manned(line: &Line) -> Vec<Post> {
    let mut posts: Vec<Post> = line
        .crew
        .iter()
        .flat_map(|w| w.list.iter().map(|call| call.post))
        .collect();
    posts.sort_unstable();
    posts.dedup();
    posts
}

/// Bounds derived from the crew as it is: people with one list of posts and one pace are a role; each role may have from
/// none to one more than now, on the shifts its people have now.
pub fn derived(line: &Line) -> Staffing {
    let mut roles: Vec<(Vec<usize>, Vec<usize>)> = Vec::new();
    let mut patterns: Vec<Pattern> = Vec::new();
    for (number, worker) in line.crew.iter().enumerate() {
        let pattern = patterns
            .iter()
            .position(|pattern| pattern.shifts == worker.shifts)
            .unwrap_or_else(|| {
                patterns.push(Pattern {
                    name: shift_words(&worker.shifts),
                    shifts: worker.shifts.clone(),
                    breaks: None,
                });
                patterns.len() - 1
            });
        let alike = |role: &&mut (Vec<usize>, Vec<usize>)| {
            role.0
                .first()
                .is_some_and(|&first| same_work(&line.crew[first], worker))
        };
        match roles.iter_mut().find(alike) {
            Some(role) => {
                role.0.push(number);
                if !role.1.contains(&pattern) {
                    role.1.push(pattern);
                }
            }
            None => roles.push((vec![number], vec![pattern])),
        }
    }
    let now = line.crew.len() as u32;
    let roles = roles.into_iter().map(|(like, patterns)| Role {
        name: together(like.iter().map(|&w| line.crew[w].name.as_str())),
        least: 0,
        most: like.len() as u32 + 1,
        like,
        patterns,
        wage_per_h: None,
    });
    Staffing {
        given: false,
        least_people: 1,
        most_people: now + 1,
        roles: roles.collect(),
        patterns,
        contract: Contract::usual(),
    }
}

fn same_work(a: &Worker, b: &Worker) -> bool {
    let lists: (&[Call], &[Call]) = (&a.list, &b.list);
    lists.0 == lists.1 && a.pace.to_bits() == b.pace.to_bits()
}

/// `11:00-15:15`, several joined by `+`.
pub fn shift_words(shifts: &[ClockSpan]) -> String {
    let clock = |at: SimTime| {
        let min = at.us() / 60_000_000;
        format!("{:02}:{:02}", min / 60 % 24, min % 60)
    };
    let spans: Vec<String> = shifts
        .iter()
        .map(|(from, to)| format!("{}-{}", clock(*from), clock(*to)))
        .collect();
    spans.join("+")
}

/// `Ada`, `Ada and Bo`, `Ada, Bo and Cem`; from four names on `Ada, Bo and 2 more`.
fn together<'a>(names: impl Iterator<Item = &'a str>) -> String {
    let names: Vec<&str> = names.collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [a, b] => format!("{a} and {b}"),
        [a, b, c] => format!("{a}, {b} and {c}"),
        [a, b, rest @ ..] => format!("{a}, {b} and {} more", rest.len()),
    }
}
