//! chance
