//! crew
