//! What of the line is owned at a price, and what that costs a year.

/// Something that was bought, an entry of `[[owned]]`.
#[derive(Clone, Debug, PartialEq)]
pub struct Owned {
    /// What it is, as the file names it: `accumulator.return`, `rack.glass`.
    pub of: String,
    /// The same in words.
    pub words: String,
    /// How many of it there are, where each has a price, and what one is called.
    pub count: Option<(u32, &'static str)>,
    /// Price of all of it; `None`: only its upkeep is told.
    pub price: Option<f64>,
    /// Years it lasts.
    pub life_years: Option<f64>,
    /// Upkeep a year.
    pub upkeep_per_year: f64,
}

impl Owned {
    /// The part of its price that falls on a year.
    ///
    /// # Formula
    /// price / life: a straight line, no interest, nothing left at the end
    pub fn wear_per_year(&self) -> f64 {
        self.price
            .zip(self.life_years)
            .map_or(0.0, |(price, years)| price / years)
    }

    /// What owning it costs a year: the part of its price, and its upkeep.
    pub fn per_year(&self) -> f64 {
        self.wear_per_year() + self.upkeep_per_year
    }
}
