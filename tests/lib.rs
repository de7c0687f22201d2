//! Checks that need the whole product: against figures from outside (`validation/`, written up in `docs/validation.md`).
