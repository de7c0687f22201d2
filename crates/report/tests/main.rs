//! What reports promise, shown on a summary written by hand.

mod data;
mod fixture;
mod folder;
mod page;
mod pictures;
mod terminal;
