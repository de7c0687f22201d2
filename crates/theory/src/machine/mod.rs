//! A machine that waits for work: hold and run, warming up, batches and full racks.

mod batch_start;
mod full_batch;
mod hold;
mod hold_with_room;
mod warm_up;

pub use batch_start::{BatchStart, Joining, batch_start, batch_start_joining};
pub use full_batch::{Forming, FullBatch, forming, full_batch};
pub use hold::{Hold, hold};
pub use hold_with_room::{HoldWithRoom, hold_with_room};
pub use warm_up::{WarmUp, warm_up};
