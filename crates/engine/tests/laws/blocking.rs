//! blocking
