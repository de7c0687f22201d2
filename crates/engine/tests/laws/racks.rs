//! racks
