//! Who is needed: the cheapest crew that holds, its roster, and the least size that holds for a crew.
//!
//! Reading order: [`crews`] lists what may be chosen, [`lunches`] runs lunches of an arrangement and asks the targets,
//! [`found`] is what a search hands on, [`cheapest_crew`] makes it.

pub mod cheapest_crew;
pub mod cover;
pub mod crews;
pub mod found;
pub mod least_size;
pub mod lunches;
pub mod need;
pub mod roster;
pub mod rows;
pub mod shifts;
pub mod words;
