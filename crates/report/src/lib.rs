//! Tables, pictures, data files and the report page, all made from a finished [`Summary`].
//!
//! Nothing here simulates and nothing here prints. A [`Summary`] goes in; texts and bytes come out, the same bytes for
//! the same `Summary` each time. [`folder`] alone touches the disk.
//!
//! ```text
//! Summary -> figures  -> SVG -> PNG       \
//!  films  -> tables   -> page, sheets      } report files -> folder
//!         -> JSON, CSV, XLSX, manifest    /
//! ```

pub mod canvas;
pub mod clock;
pub mod data;
pub mod error;
pub mod figure;
pub mod folder;
pub mod lettering;
pub mod manifest;
pub mod number;
pub mod page;
pub mod palette;
pub mod panel;
pub mod png;
pub mod report;
pub mod sheet;
pub mod staffing;
pub mod studies;
pub mod svg;
pub mod table;
pub mod terminal;
pub mod workbook;

pub use error::Fault;
pub use figure::{Figure, figures};
pub use folder::{Destination, ReportFile, report_files};
pub use manifest::Origin;
pub use page::page;
pub use report::{Chapter, Report, Slot};
pub use scullery_study::summary::Summary;
pub use sheet::Arrangement;
