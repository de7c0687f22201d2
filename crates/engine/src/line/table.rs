//! A table, or the floor, where soiled trays wait to be broken down.

/// A place where soiled trays wait to be broken down.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Its name.
    pub name: String,
    /// Trays it holds; `None`: as many as come.
    pub room: Option<u32>,
}
