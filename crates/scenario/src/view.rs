//! The room seen from above: boxes, ways, and where clean and soiled ways cross. Plain numbers that a report can draw.

/// The room seen from above. Lengths in metres; `x` runs along the line, `y` away from the wall.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlanView {
    /// Length and width of the room, when the file gives them.
    pub room: Option<(f64, f64)>,
    /// Room for the queue at the drop-offs along its way, when the file gives it.
    pub queue_m: Option<f64>,
    /// What stands in it, along the line; then what is parked.
    pub boxes: Vec<PlanBox>,
    /// Ways of ware, people and carts, straight from middle to middle.
    pub ways: Vec<PlanWay>,
    /// Where a clean and a soiled way cross.
    pub crossings: Vec<Crossing>,
}

/// Something that stands in the room.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanBox {
    /// As it is called in the file, for example `machine.dish`.
    pub id: String,
    /// As people say it, for example `machine dish`.
    pub label: String,
    /// Where it begins along the room.
    pub x_m: f64,
    /// How far from the wall it begins.
    pub y_m: f64,
    /// Length along the room.
    pub length_m: f64,
    /// Width across it.
    pub width_m: f64,
    /// What it is for.
    pub side: BoxSide,
    /// Whether place and size are the file's own; else they stand in a row at a usual size.
    pub given: bool,
}

/// What a box is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BoxSide {
    /// Soiled ware.
    Soiled,
    /// Clean ware.
    Clean,
    /// Parking on the soiled side.
    SoiledParking,
    /// Parking on the clean side.
    CleanParking,
}

/// A way from the middle of one box to the middle of another.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanWay {
    /// Number of the box where it starts.
    pub from: usize,
    /// Number of the box where it ends.
    pub to: usize,
    /// Clean ware goes along it; else soiled.
    pub clean: bool,
}

/// Where a clean way crosses a soiled one.
#[derive(Clone, Debug, PartialEq)]
pub struct Crossing {
    /// Where along the room.
    pub x_m: f64,
    /// How far from the wall.
    pub y_m: f64,
    /// Number of the clean way.
    pub clean: usize,
    /// Number of the soiled way.
    pub soiled: usize,
}

impl PlanBox {
    /// The middle.
    pub fn middle(&self) -> (f64, f64) {
        (
            self.x_m + self.length_m / 2.0,
            self.y_m + self.width_m / 2.0,
        )
    }

    /// Whether this box and another share floor.
    pub fn overlaps(&self, other: &PlanBox) -> bool {
        let apart = |from: f64, long: f64, other_from: f64, other_long: f64| {
            from + long <= other_from + 1e-9 || other_from + other_long <= from + 1e-9
        };
        !apart(self.x_m, self.length_m, other.x_m, other.length_m)
            && !apart(self.y_m, self.width_m, other.y_m, other.width_m)
    }
}

impl PlanView {
    /// How far the furthest box reaches along and across the room.
    pub fn reach_m(&self) -> (f64, f64) {
        self.boxes.iter().fold((0.0, 0.0), |(x, y), it| {
            (
                f64::max(x, it.x_m + it.length_m),
                f64::max(y, it.y_m + it.width_m),
            )
        })
    }

    /// Lengths along the wall added up, gaps left out.
    pub fn run_m(&self) -> f64 {
        let along = self.boxes.iter().filter(|it| it.y_m < 1e-9);
        along.map(|it| it.length_m).sum()
    }

    /// Floor that is stood on, in square metres.
    pub fn floor_m2(&self) -> f64 {
        self.boxes.iter().map(|it| it.length_m * it.width_m).sum()
    }

    /// Finds where clean and soiled ways cross. Ways that share a box meet there and do not cross.
    pub(crate) fn find_crossings(&mut self) {
        let ends = |way: &PlanWay| (self.boxes[way.from].middle(), self.boxes[way.to].middle());
        let mut crossings = Vec::new();
        for (c, clean) in self.ways.iter().enumerate().filter(|(_, way)| way.clean) {
            for (s, soiled) in self.ways.iter().enumerate().filter(|(_, way)| !way.clean) {
                let shared = [soiled.from, soiled.to]
                    .iter()
                    .any(|at| [clean.from, clean.to].contains(at));
                if shared {
                    continue;
                }
                if let Some((x_m, y_m)) = meet(ends(clean), ends(soiled)) {
                    crossings.push(Crossing {
                        x_m,
                        y_m,
                        clean: c,
                        soiled: s,
                    });
                }
            }
        }
        self.crossings = crossings;
    }
}

type Point = (f64, f64);

/// The point in which two stretches cross; `None` when they do not, or run along each other.
fn meet((a, b): (Point, Point), (c, d): (Point, Point)) -> Option<Point> {
    let (r, s) = ((b.0 - a.0, b.1 - a.1), (d.0 - c.0, d.1 - c.1));
    let cross = r.0 * s.1 - r.1 * s.0;
    if cross.abs() < 1e-12 {
        return None;
    }
    let (x, y) = (c.0 - a.0, c.1 - a.1);
    let t = (x * s.1 - y * s.0) / cross;
    let u = (x * r.1 - y * r.0) / cross;
    let within = |share: f64| (0.0..=1.0).contains(&share);
    (within(t) && within(u)).then_some((a.0 + t * r.0, a.1 + t * r.1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stretches_cross_where_lines_on_squared_paper_do() {
        let diagonal = ((0.0, 0.0), (4.0, 4.0));
        assert_eq!(meet(diagonal, ((0.0, 4.0), (4.0, 0.0))), Some((2.0, 2.0)));
        assert_eq!(meet(diagonal, ((0.0, 2.0), (1.0, 2.0))), None);
        // Along each other.
        assert_eq!(meet(diagonal, ((1.0, 1.0), (3.0, 3.0))), None);
    }
}
