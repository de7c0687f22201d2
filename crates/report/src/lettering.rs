//! The one font of the pictures: its bytes, and how wide a text runs in it.

use skrifa::instance::{LocationRef, Size};
use skrifa::{FontRef, MetadataProvider};

/// The font, as it is handed to the drawer of PNG pictures. See `fonts/README.md` for its licence.
pub const FONT: &[u8] = include_bytes!("../fonts/ScullerySans-Regular.ttf");

/// The same font packed for a web page.
pub const FONT_WOFF2: &[u8] = include_bytes!("../fonts/ScullerySans-Regular.woff2");

/// Its bold face, for headings.
pub const BOLD: &[u8] = include_bytes!("../fonts/ScullerySans-Bold.ttf");

/// The bold face packed for a web page.
pub const BOLD_WOFF2: &[u8] = include_bytes!("../fonts/ScullerySans-Bold.woff2");

/// Families named in a picture, the embedded one first.
pub const FAMILIES: &str = "Scullery Sans, DejaVu Sans, sans-serif";

/// Family name inside the embedded font.
pub const FAMILY: &str = "Scullery Sans";

/// Width of a text in points, set at `size` points. Letters the font lacks count as wide ones.
pub fn width(text: &str, size: f64) -> f64 {
    const WIDE: f32 = 0.9;
    let Ok(font) = FontRef::new(FONT) else {
        return text.chars().count() as f64 * size * f64::from(WIDE);
    };
    let charmap = font.charmap();
    let metrics = font.glyph_metrics(Size::new(1.0), LocationRef::default());
    let ems: f32 = text
        .chars()
        .map(|letter| {
            charmap
                .map(letter)
                .and_then(|glyph| metrics.advance_width(glyph))
                .unwrap_or(WIDE)
        })
        .sum();
    f64::from(ems) * size
}

/// The text, or as much of it as runs within `room` points at `size`, ending in an ellipsis.
pub fn shorten(text: &str, size: f64, room: f64) -> String {
    if width(text, size) <= room {
        return text.to_owned();
    }
    let letters: Vec<char> = text.chars().collect();
    (0..letters.len())
        .rev()
        .map(|kept| {
            let mut short: String = letters[..kept]
                .iter()
                .collect::<String>()
                .trim_end()
                .to_owned();
            short.push('\u{2026}');
            short
        })
        .find(|short| width(short, size) <= room)
        .unwrap_or_else(|| "\u{2026}".to_owned())
}

/// The text in lines that run within `room` points at `size`; a word too long for a line stands alone.
pub fn lines(text: &str, size: f64, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let longer = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if line.is_empty() || width(&longer, size) <= room {
            line = longer;
        } else {
            lines.push(std::mem::replace(&mut line, word.to_owned()));
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Without characters that no picture or page may hold (control characters), which become spaces.
pub fn printable(text: &str) -> String {
    text.chars()
        .map(|letter| {
            let barred = letter.is_control() || matches!(letter, '\u{FFFE}' | '\u{FFFF}');
            if barred { ' ' } else { letter }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wider_texts_measure_wider_and_digits_measure_alike() {
        assert!(width("WWW", 10.0) > width("iii", 10.0));
        assert!((width("0123", 10.0) - width("9876", 10.0)).abs() < 1e-6);
        assert!(
            (width("0", 1000.0) - 572.0).abs() < 0.5,
            "the advance of 0 in the font's own table is 572 of 1000"
        );
    }

    #[test]
    fn lines_break_between_words_and_fit_their_room() {
        let text = "clean side plates and saucers";
        let broken = lines(text, 12.0, 90.0);
        assert!(broken.len() > 1 && broken.iter().all(|line| width(line, 12.0) <= 90.0));
        assert_eq!(broken.join(" "), text);
        assert!(lines("", 12.0, 90.0).is_empty());
    }

    #[test]
    fn a_text_too_long_is_shortened_to_its_room() {
        let short = shorten("clean side plates and saucers", 12.0, 80.0);
        assert!(
            short.ends_with('\u{2026}') && width(&short, 12.0) <= 80.0,
            "{short}"
        );
        assert_eq!(shorten("cups", 12.0, 80.0), "cups");
    }
}
