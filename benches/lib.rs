//! What the benches run: two textbook models as lines of the product's own elements, and beside each the floor, a hand
//! loop that does nothing but the model's draws, heap and counters.

pub mod floor;
pub mod lines;
