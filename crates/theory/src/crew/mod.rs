//! People: how many, how long a task takes by the book, and what may be lifted.

mod lifting;
mod staffing;
mod standard_time;

pub use lifting::{Lift, Multipliers, multipliers_as_written, recommended_weight_limit_kg};
pub use staffing::{Staffing, fewest_servers, square_root_staffing};
pub use standard_time::{Allowance, basic_time, standard_time};
