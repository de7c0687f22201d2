//! The same plan told in other units.

use crate::describe::{cautions, describe};
use crate::plan::{Plan, Units};

impl Plan {
    /// Tells lengths, water, weights and temperatures in these units from now on: in the heading, in the sentences that say
    /// what the file means, and in the cautions. What is simulated does not change; words the user wrote stay as they are.
    pub fn show_in(&mut self, units: Units) {
        let told = describe(self).len();
        self.heading.units = units;
        let anew = describe(self);
        self.description.splice(..told, anew);
        self.cautions = cautions(self);
    }
}
