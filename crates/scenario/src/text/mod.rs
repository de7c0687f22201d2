//! From text to a tree with places, and from the tree to values that fit the schema.

pub(crate) mod clock;
pub(crate) mod json;
pub(crate) mod schema;
pub(crate) mod toml;
pub(crate) mod tree;
pub(crate) mod units;
pub(crate) mod walk;
