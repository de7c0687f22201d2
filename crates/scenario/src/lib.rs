//! A scenario file becomes a checked plan, or messages that point at the line and say the mend.

pub mod plan;
