//! belts
