//! machines
