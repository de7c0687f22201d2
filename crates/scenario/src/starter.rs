//! A scenario to start from.

/// A commented starter scenario in TOML, titled `name`.
pub fn starter(name: &str) -> String {
    let plain: String = name
        .chars()
        .map(|letter| if letter.is_control() { ' ' } else { letter })
        .take(200)
        .collect();
    let plain = if plain.trim().is_empty() {
        "A new scenario".to_owned()
    } else {
        plain
    };
    // In a basic TOML string only these two need an escape.
    let quoted = plain.replace('\\', "\\\\").replace('"', "\\\"");
    include_str!("starter.toml").replace("@NAME@", &quoted)
}
