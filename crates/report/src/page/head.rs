//! The head of a page: its style, its font, and what it may load (nothing).

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use maud::{Markup, PreEscaped, html};
use sha2::{Digest, Sha256};

use crate::lettering::{BOLD_WOFF2, FONT_WOFF2, printable};

/// The looks of all pages.
const STYLE: &str = include_str!("style.css");
/// The looks of the moving picture.
const STYLE_MOTION: &str = include_str!("motion/motion.css");
/// The looks of sheets made for paper.
pub(crate) const STYLE_PAPER: &str = include_str!("paper.css");

/// The head; `script` is the one script that may run, `style` more looks.
pub(crate) fn head(title: &str, version: &str, script: Option<&str>, style: &str) -> Markup {
    let scripts = script.map_or_else(
        || "'none'".to_owned(),
        |text| format!("'sha256-{}'", STANDARD.encode(Sha256::digest(text))),
    );
    let policy = format!(
        "default-src 'none'; style-src 'unsafe-inline'; font-src data:; script-src {scripts}; base-uri 'none'; \
         form-action 'none'"
    );
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width, initial-scale=1";
            meta http-equiv="Content-Security-Policy" content=(policy);
            meta name="color-scheme" content="light dark";
            meta name="generator" content=(format!("scullery {}", printable(version)));
            title { (title) }
            style {
                (PreEscaped(font_face(FONT_WOFF2, "normal")))
                (PreEscaped(font_face(BOLD_WOFF2, "bold")))
                (PreEscaped(STYLE))
                @if script.is_some() { (PreEscaped(STYLE_MOTION)) }
                (PreEscaped(style))
            }
        }
    }
}

/// An embedded font as a rule of the style sheet.
fn font_face(font: &[u8], weight: &str) -> String {
    format!(
        "@font-face{{font-family:\"Scullery Sans\";font-weight:{weight};font-display:swap;\
         src:url(data:font/woff2;base64,{}) format(\"woff2\");}}\n",
        STANDARD.encode(font)
    )
}
