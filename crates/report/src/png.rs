//! A picture as PNG, at the size it has in print.

use std::sync::Arc;

use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};

use crate::error::Fault;
use crate::lettering::{BOLD, FAMILY, FONT};

/// Pixels of a PNG picture across: about 170 mm at 300 dots an inch, the width of a printed page's text.
pub const PRINT_WIDTH: u32 = 2000;

/// The picture as the bytes of a PNG file, [`PRINT_WIDTH`] pixels across, lettered in the embedded font.
///
/// # Errors
/// When the text is not an SVG picture, or it has no size.
pub fn png(svg: &str) -> Result<Vec<u8>, Fault> {
    let mut fonts = fontdb::Database::new();
    fonts.load_font_data(FONT.to_vec());
    fonts.load_font_data(BOLD.to_vec());
    fonts.set_sans_serif_family(FAMILY);
    let options = Options {
        font_family: FAMILY.to_owned(),
        fontdb: Arc::new(fonts),
        ..Options::default()
    };
    let tree = Tree::from_str(svg, &options).map_err(|why| Fault::Drawing(why.to_string()))?;
    let size = tree.size();
    let scale = PRINT_WIDTH as f32 / size.width();
    let height = (size.height() * scale).round().max(1.0) as u32;
    let mut sheet = Pixmap::new(PRINT_WIDTH, height)
        .ok_or_else(|| Fault::Drawing("a picture without size".into()))?;
    resvg::render(
        &tree,
        Transform::from_scale(scale, scale),
        &mut sheet.as_mut(),
    );
    sheet
        .encode_png()
        .map_err(|why| Fault::Drawing(why.to_string()))
}
