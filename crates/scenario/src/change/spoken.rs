//! How the path of a change is said in a picture or a table: `belt.return.length_m` is "belt return: length, m".

/// Ends of keys that are units, and how those are said; longer ends first.
const UNITS: [(&str, &str); 33] = [
    ("_gal_per_rack", "gal a rack"),
    ("_l_per_rack", "l a rack"),
    ("_oz_per_gal", "oz a gal"),
    ("_kwh_per_rack", "kWh a rack"),
    ("_ft_per_min", "ft/min"),
    ("_per_1000_gal", "a 1000 gal"),
    ("_gal_per_h", "gal/h"),
    ("_m_per_min", "m/min"),
    ("_g_per_l", "g/l"),
    ("_l_per_min", "l/min"),
    ("_kg_per_min", "kg/min"),
    ("_l_per_h", "l/h"),
    ("_per_kwh", "a kWh"),
    ("_per_m3", "a m³"),
    ("_per_kg", "a kg"),
    ("_per_lb", "a lb"),
    ("_per_m", "a m"),
    ("_per_h", "an hour"),
    ("_temp_c", "°C"),
    ("_temp_f", "°F"),
    ("_min", "min"),
    ("_gal", "gal"),
    ("_mm", "mm"),
    ("_cm", "cm"),
    ("_ft", "ft"),
    ("_in", "in"),
    ("_kg", "kg"),
    ("_lb", "lb"),
    ("_kw", "kW"),
    ("_s", "s"),
    ("_m", "m"),
    ("_h", "h"),
    ("_l", "l"),
];

/// A path of the scenario in plain words: what it belongs to, the thing itself, and its unit where its key has one.
pub fn spoken(path: &str) -> String {
    let all: Vec<&str> = path.split('.').collect();
    // A key with a unit may have the pieces of its value, or a class of ware, below it.
    let with_unit = (1..all.len()).rev().find_map(|at| {
        let ends = UNITS.iter();
        let mut found = ends.filter_map(|(end, unit)| Some((all[at].strip_suffix(end)?, *unit)));
        let (bare, unit) = found.next()?;
        Some((at, bare, Some(unit)))
    });
    let last = all.len() - 1;
    let (at, bare, unit) = with_unit.unwrap_or((last, all[last], None));
    let plain = |words: &[&str]| words.join(" ").replace('_', " ");
    let below = all.get(at + 1..).unwrap_or_default();
    let mut thing = bare.replace('_', " ");
    if !below.is_empty() {
        thing.push(' ');
        thing.push_str(&plain(below));
    }
    let owner = plain(&all[..at]);
    let unit = unit.map_or(String::new(), |unit| format!(", {unit}"));
    match owner.as_str() {
        "" => format!("{thing}{unit}"),
        _ => format!("{owner}: {thing}{unit}"),
    }
}

#[cfg(test)]
mod tests {
    use super::spoken;

    #[test]
    fn a_path_is_said_with_its_owner_and_its_unit() {
        for (path, words) in [
            ("belt.return.length_m", "belt return: length, m"),
            ("belt.return.speed_m_per_min", "belt return: speed, m/min"),
            (
                "scrapping.main.piece_s.side_plate",
                "scrapping main: piece side plate, s",
            ),
            (
                "diners.eating_min.lognormal.mean",
                "diners: eating lognormal mean, min",
            ),
            (
                "machine.dish.plate.racks_per_h",
                "machine dish plate: racks, an hour",
            ),
            ("racking.table.open_racks", "racking table: open racks"),
            ("rack.deep one.count", "rack deep one: count"),
            ("money", "money"),
        ] {
            assert_eq!(spoken(path), words, "{path}");
        }
    }
}
