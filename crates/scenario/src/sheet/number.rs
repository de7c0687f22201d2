//! Numbers as people write them, column by column: a decimal comma is taken only when declared or when nothing else can
//! be meant.

use super::{Cell, Row, RowFault, Sheet};

/// What stands before the fraction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decimal {
    /// `3.5`
    Point,
    /// `3,5`
    Comma,
}

/// What a text says about the column's decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Hint {
    /// Says nothing, or is no number.
    Silent,
    Sure(Decimal),
    /// `1,234`: a fraction or a thousand.
    Either,
}

/// The numbers of a column by row, and how commas in it were read, to be said aloud.
pub type Read = (Vec<Option<f64>>, Vec<String>);

/// The numbers of a column, by row; `None` where the cell is empty. Adds to the sheet's notices how commas were read.
///
/// # Errors
/// Every row whose cell is no number, or could be two.
pub fn numbers(
    sheet: &Sheet,
    column: usize,
    declared: Option<Decimal>,
) -> Result<Read, Vec<RowFault>> {
    let hints: Vec<Hint> = sheet
        .rows
        .iter()
        .map(|row| hint(row.cell(column)))
        .collect();
    let says = |decimal| hints.contains(&Hint::Sure(decimal));
    let heading = sheet.header.get(column).map_or("", String::as_str);
    let decimal = match (declared, says(Decimal::Comma), says(Decimal::Point)) {
        (Some(said), _, _) => said,
        (None, true, true) => {
            return Err(vec![RowFault::of_table(
                format!(
                    "column \"{heading}\" has numbers with a decimal comma and others with a point"
                ),
                "write all alike, or say which it is: comma or point",
            )]);
        }
        (None, true, false) => Decimal::Comma,
        (None, false, true) => Decimal::Point,
        (None, false, false) => {
            let unclear: Vec<RowFault> = sheet
                .rows
                .iter()
                .zip(&hints)
                .filter(|(_, hint)| **hint == Hint::Either)
                .map(|(row, _)| {
                    let shown = row.cell(column).shown();
                    RowFault::of_row(
                        row,
                        &format!("has \"{shown}\", which may be a fraction or thousands"),
                        "say whether decimals are written with a comma or a point",
                    )
                })
                .collect();
            if !unclear.is_empty() {
                return Err(unclear);
            }
            Decimal::Point
        }
    };
    let mut faults = Vec::new();
    let mut values = Vec::with_capacity(sheet.rows.len());
    for row in &sheet.rows {
        match number(row, column, decimal) {
            Ok(value) => values.push(value),
            Err(fault) => faults.push(fault),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let notices = if decimal == Decimal::Comma {
        vec![format!(
            "Numbers in column \"{heading}\" of {} were read with a decimal comma.",
            sheet.name
        )]
    } else {
        Vec::new()
    };
    Ok((values, notices))
}

fn hint(cell: &Cell) -> Hint {
    let Cell::Text(text) = cell else {
        return Hint::Silent;
    };
    let body = text.trim_start_matches(['-', '+']);
    if body.is_empty()
        || !body
            .bytes()
            .all(|b| b.is_ascii_digit() || b == b',' || b == b'.')
    {
        return Hint::Silent;
    }
    match (body.rfind(','), body.rfind('.')) {
        (None, None) => Hint::Silent,
        (None, Some(_)) if body.matches('.').count() > 1 => Hint::Sure(Decimal::Comma),
        (None, Some(_)) => Hint::Sure(Decimal::Point),
        (Some(_), None) if body.matches(',').count() > 1 => Hint::Sure(Decimal::Point),
        (Some(_), None) if grouped(body, ',') => Hint::Either,
        (Some(_), None) => Hint::Sure(Decimal::Comma),
        (Some(comma), Some(point)) if comma > point => Hint::Sure(Decimal::Comma),
        (Some(_), Some(_)) => Hint::Sure(Decimal::Point),
    }
}

/// Whether the text is digits in threes with this mark between.
fn grouped(text: &str, mark: char) -> bool {
    let mut parts = text.split(mark);
    let first = parts.next().unwrap_or("");
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
    digits(first) && first.len() <= 3 && parts.all(|part| part.len() == 3 && digits(part))
}

fn number(row: &Row, column: usize, decimal: Decimal) -> Result<Option<f64>, RowFault> {
    let cell = row.cell(column);
    let found = || format!("must have a number, found \"{}\"", cell.shown());
    match cell {
        Cell::Empty => Ok(None),
        Cell::Number(number) if number.is_finite() => Ok(Some(*number)),
        Cell::Number(_) | Cell::Clock(_) | Cell::Moment(_) => {
            Err(RowFault::of_row(row, &found(), ""))
        }
        Cell::Text(text) => {
            let (point, group) = match decimal {
                Decimal::Point => ('.', ','),
                Decimal::Comma => (',', '.'),
            };
            let (sign, body) = match text.strip_prefix('-') {
                Some(rest) => ("-", rest),
                None => ("", text.strip_prefix('+').unwrap_or(text)),
            };
            let (whole, fraction) = body
                .split_once(point)
                .map_or((body, None), |(w, f)| (w, Some(f)));
            let whole_fits = if whole.contains(group) {
                grouped(whole, group)
            } else {
                !whole.is_empty() && whole.bytes().all(|b| b.is_ascii_digit())
            };
            let fraction_fits =
                fraction.is_none_or(|f| !f.is_empty() && f.bytes().all(|b| b.is_ascii_digit()));
            if !whole_fits || !fraction_fits {
                return Err(RowFault::of_row(row, &found(), ""));
            }
            let plain = format!(
                "{sign}{}.{}",
                whole.replace(group, ""),
                fraction.unwrap_or("0")
            );
            match plain.parse::<f64>() {
                Ok(value) if value.is_finite() => Ok(Some(value)),
                _ => Err(RowFault::of_row(row, &found(), "")),
            }
        }
    }
}
