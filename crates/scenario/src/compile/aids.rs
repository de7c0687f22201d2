//! Aids at posts: what they do to the seconds there, and how long they run.

use scullery_engine::line::{Aid, Machine, Post, Scrapping};

use super::checker::Checker;
use super::crew::post;
use super::names::Names;
use crate::defaults;
use crate::file::{AidDoesFile, AidFile, ScenarioFile};
use crate::plan::AidUse;

/// Aids in order of name, and what each draws. Their seconds go into those of their posts.
pub(crate) fn aids(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    scrapping: &mut [Scrapping],
    machines: &mut [Machine],
) -> (Vec<Aid>, Vec<AidUse>) {
    let (mut aids, mut uses) = (Vec::new(), Vec::new());
    for (name, written) in &file.aid {
        let path = format!("aid.{name}");
        let Some(at) = post(check, names, &format!("{path}.at"), &written.at) else {
            continue;
        };
        let changes = match at {
            Post::Scrapping(i) => scrapping
                .get_mut(usize::from(i))
                .map(|post| (&mut post.handling_s, Some(&mut post.piece_s))),
            Post::Loading(m) => {
                let loading = machines
                    .get_mut(usize::from(m))
                    .and_then(|m| m.loading.as_mut());
                loading.map(|loading| (&mut loading.rack_s, None))
            }
            _ => None,
        };
        let Some((each_s, piece_s)) = changes else {
            let message = format!("nothing is broken down or loaded by hand at {}", written.at);
            let help = "an aid is at a `scrapping.NAME`, or at a `loading.NAME` that has `loading`";
            check.fault("no-work-there", &format!("{path}.at"), message, help);
            continue;
        };
        change(check, (&path, name), each_s, written);
        let added = pieces(check, (&path, name), piece_s, written, names);
        let spray = written.does == AidDoesFile::HandSpray;
        let own_s = written.adds_s.filter(|_| spray).unwrap_or(0.0);
        let ms = |s: f64| (s * 1000.0).round() as u32;
        aids.push(Aid {
            name: name.clone(),
            at,
            each_ms: ms(written.runs_s.unwrap_or(own_s)),
            piece_ms: match written.runs_s {
                None if spray => added.iter().copied().map(ms).collect(),
                _ => vec![0; names.ware.len()],
            },
        });
        let water_l_per_min = match written.water_l_per_min {
            None if spray => check.or_default(
                None,
                &format!("{path}.water_l_per_min"),
                &defaults::SPRAY_WATER,
            ),
            given => given.unwrap_or(0.0),
        };
        uses.push(AidUse {
            is: match written.does {
                AidDoesFile::HandSpray => "hand spray",
                AidDoesFile::HandsFreePreRinse => "hands-free pre-rinse",
                AidDoesFile::CutleryRemover => "cutlery remover",
                AidDoesFile::Other => "aid",
            },
            is_spray: spray,
            adds_s: written.adds_s.unwrap_or(0.0),
            saves_s: written.saves_s.unwrap_or(0.0),
            piece_s: added
                .iter()
                .enumerate()
                .map(|(class, adds)| adds - of_class(&written.saves_each_s, names, class))
                .collect(),
            water_l_per_min,
            running_kw: written.running_kw.unwrap_or(0.0),
        });
    }
    (aids, uses)
}

fn of_class(
    by_class: &std::collections::BTreeMap<String, f64>,
    names: &Names,
    class: usize,
) -> f64 {
    by_class.get(&names.ware[class]).copied().unwrap_or(0.0)
}

/// Changes the work on each tray or rack.
fn change(
    check: &mut Checker<'_>,
    (path, name): (&str, &str),
    each_s: &mut f64,
    written: &AidFile,
) {
    let saves_s = written.saves_s.unwrap_or(0.0);
    if saves_s > *each_s + written.adds_s.unwrap_or(0.0) + 1e-9 {
        let message = format!(
            "\"{name}\" saves {saves_s} s of {} s of work",
            defaults::rounded(*each_s)
        );
        let help =
            "let it save at most what there is; seconds by piece are saved with `saves_each_s`";
        check.fault("too-large", &format!("{path}.saves_s"), message, help);
    }
    *each_s = (*each_s + written.adds_s.unwrap_or(0.0) - saves_s).max(0.0);
}

/// Changes the work on each piece; the seconds more, by class.
fn pieces(
    check: &mut Checker<'_>,
    (path, name): (&str, &str),
    piece_s: Option<&mut Vec<f64>>,
    written: &AidFile,
    names: &Names,
) -> Vec<f64> {
    let mut added = vec![0.0; names.ware.len()];
    let Some(piece_s) = piece_s else {
        if !written.adds_each_s.is_empty() || !written.saves_each_s.is_empty() {
            let message = format!("racks are loaded where \"{name}\" is, not pieces");
            let help = "write `adds_s` or `saves_s` for a rack";
            check.fault("no-work-there", path, message, help);
        }
        return added;
    };
    for (class, adds) in &written.adds_each_s {
        let path = format!("{path}.adds_each_s.{class}");
        if let Some(class) = check.find(&names.ware, class, &path, "ware") {
            added[class] = *adds;
            piece_s[class] += adds;
        }
    }
    for (class, saves) in &written.saves_each_s {
        let path = format!("{path}.saves_each_s.{class}");
        let Some(number) = check.find(&names.ware, class, &path, "ware") else {
            continue;
        };
        if *saves > piece_s[number] + 1e-9 {
            let message = format!(
                "\"{name}\" saves {saves} s of {} s of work on a piece of \"{class}\"",
                defaults::rounded(piece_s[number])
            );
            check.fault(
                "too-large",
                &path,
                message,
                "let it save at most what there is",
            );
        }
        piece_s[number] = (piece_s[number] - saves).max(0.0);
    }
    added
}
