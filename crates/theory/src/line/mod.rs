//! Stations in a row with little room between them: blocking after service.

mod saturated;
mod tandem;
mod two_stations;

pub use saturated::saturated_line;
pub use tandem::{Tandem, tandem};
pub use two_stations::two_stations;
