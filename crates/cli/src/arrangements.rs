//! Scenarios with changes, as they are named on the command line.

use std::collections::BTreeSet;
use std::path::Path;

use scullery_scenario::Document;
use scullery_scenario::change::Change;
use scullery_scenario::plan::Plan;
use scullery_study::lunches::Arrangement;

use crate::house::{document, fault_words};
use crate::outcome::Stop;
use crate::study_arguments::{CompareArguments, From};

/// The scenario a study starts from, changed as asked, and what it is called.
pub(crate) struct Start {
    pub(crate) document: Document,
    pub(crate) changes: Vec<Change>,
    pub(crate) plan: Plan,
}

impl Start {
    /// Reads the scenario and makes the changes.
    ///
    /// # Errors
    /// With every complaint there is, ready to be shown.
    pub(crate) fn read(from: &From) -> Result<Start, Stop> {
        let document = document(from.file.as_deref(), from.demo.as_deref())?;
        let texts: Vec<&str> = from
            .changes
            .change
            .iter()
            .flat_map(|text| text.split(';'))
            .collect();
        let changes = changes(&texts)?;
        let plan = document.changed(&changes).map_err(Stop::wrong)?;
        Ok(Start {
            document,
            changes,
            plan,
        })
    }

    /// The plan with more changes after the first.
    ///
    /// # Errors
    /// With every complaint there is, ready to be shown.
    pub(crate) fn with(&self, more: &[Change]) -> Result<Plan, Stop> {
        let all: Vec<Change> = self.changes.iter().chain(more).cloned().collect();
        self.document.changed(&all).map_err(Stop::wrong)
    }
}

fn changes(texts: &[&str]) -> Result<Vec<Change>, Stop> {
    let said = texts.iter().filter(|text| !text.trim().is_empty());
    said.map(|text| Change::parse(text).map_err(Stop::wrong))
        .collect()
}

/// The arrangements that are to be compared, in order, and the name of the scenario that comes first.
///
/// # Errors
/// When there are fewer than two, two have one name, or one cannot be read.
pub(crate) fn arrangements(of: &CompareArguments) -> Result<(Vec<Arrangement>, String), Stop> {
    let documents: Vec<Document> = match of.files.as_slice() {
        [] => vec![document(None, of.demo.as_deref())?],
        files => files
            .iter()
            .map(|file| document(Some(file), None))
            .collect::<Result<_, _>>()?,
    };
    let mut plans: Vec<(String, Plan)> = Vec::new();
    for (number, document) in documents.iter().enumerate() {
        let plan = document.plan().map_err(Stop::wrong)?;
        let name = match documents.len() {
            1 => "as it is".to_owned(),
            _ => of
                .files
                .get(number)
                .map_or(String::new(), |file| file_name(file, &of.files)),
        };
        plans.push((name, plan));
    }
    for text in &of.change {
        let (name, texts) = named(text);
        let changes = changes(&texts)?;
        if changes.is_empty() {
            return Err(Stop::wrong(format!(
                "--change `{text}` changes nothing; write for example --change 'four people: -crew.eli'"
            )));
        }
        let said: Vec<&str> = changes.iter().map(Change::text).collect();
        let name = name.map_or_else(|| said.join("; "), str::to_owned);
        plans.push((name, documents[0].changed(&changes).map_err(Stop::wrong)?));
    }
    if plans.len() < 2 {
        return Err(Stop::wrong(format!(
            "{} has nothing to be compared with: name a second file, or a change, for example --change 'four people: -crew.eli'",
            documents[0].shown()
        )));
    }
    let mut known = BTreeSet::new();
    for (name, _) in &plans {
        if !known.insert(name.as_str()) {
            return Err(Stop::wrong(format!(
                "two arrangements are called `{name}`; give one a name of its own: --change 'NAME: CHANGE'"
            )));
        }
    }
    let shown = documents[0].shown().to_owned();
    let made = plans.into_iter().map(|(name, plan)| {
        Arrangement::new(name.clone(), plan).map_err(|fault| fault_words(&name, &fault))
    });
    Ok((made.collect::<Result<_, _>>()?, shown))
}

/// `four people: -crew.eli; ...` apart: a name, where one stands before the first change, and the changes.
fn named(text: &str) -> (Option<&str>, Vec<&str>) {
    let end = text.find(['=', ';']).unwrap_or(text.len());
    match text[..end].split_once(':') {
        Some((name, _)) if !name.trim().is_empty() => {
            let rest = &text[name.len() + 1..];
            (Some(name.trim()), rest.split(';').collect())
        }
        _ => (None, text.split(';').collect()),
    }
}

/// The name of a file without folder and ending, or with them where another file has the same.
fn file_name(file: &Path, all: &[std::path::PathBuf]) -> String {
    let stem = |file: &Path| {
        file.file_stem()
            .map(|stem| stem.to_string_lossy().into_owned())
    };
    let own = stem(file);
    let alike = all.iter().filter(|other| stem(other) == own).count();
    match own {
        Some(own) if alike == 1 => own,
        _ => file.display().to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_stands_before_the_first_change_or_not_at_all() {
        assert_eq!(
            named("four people: -crew.eli"),
            (Some("four people"), vec![" -crew.eli"])
        );
        assert_eq!(
            named("crew.cem.shift=11:30-13:30; -crew.eli"),
            (None, vec!["crew.cem.shift=11:30-13:30", " -crew.eli"])
        );
        assert_eq!(named("-crew.eli"), (None, vec!["-crew.eli"]));
        assert_eq!(named("late: crew.cem.shift=12:00-14:00").0, Some("late"));
    }
}
