//! Names of everything in the file, in the order in which the line numbers them.

use std::collections::BTreeMap;

use super::checker::Checker;
use super::crew::head_count::{self, Sheet};
use crate::file::{ScenarioFile, WareFile};
use crate::text::schema::is_name;

/// Names by kind of element; the place in the list is the number in the line.
///
/// Keyed tables are in order of name, so that their order in the file does not matter; ware, racks and crew are in file
/// order, which is a rule.
#[derive(Debug, Default)]
pub(crate) struct Names {
    pub(crate) ware: Vec<String>,
    pub(crate) racks: Vec<String>,
    pub(crate) drop_offs: Vec<String>,
    pub(crate) belts: Vec<String>,
    pub(crate) accumulators: Vec<String>,
    pub(crate) tables: Vec<String>,
    pub(crate) carts: Vec<String>,
    pub(crate) kinds: Vec<String>,
    pub(crate) troubles: Vec<String>,
    pub(crate) receivers: Vec<String>,
    pub(crate) waste_kinds: Vec<String>,
    /// Disposers, then bins.
    pub(crate) waste_stores: Vec<String>,
    /// How many of them are disposers.
    pub(crate) disposers: usize,
    pub(crate) scrapping: Vec<String>,
    pub(crate) stacks: Vec<String>,
    /// Racking tables, then load ends of flight machines.
    pub(crate) racking: Vec<String>,
    /// How many of them are racking tables.
    pub(crate) tables_of_racking: usize,
    /// By class of ware: the number of the racking table where it is sorted for its second pass, if it has one.
    pub(crate) sorted_at: Vec<Option<usize>>,
    pub(crate) lanes: Vec<String>,
    pub(crate) machines: Vec<String>,
    pub(crate) clean_ends: Vec<String>,
    pub(crate) duties: Vec<String>,
    pub(crate) people: Vec<String>,
}

/// What an element of no name of its own is called in the file: off the line.
pub(crate) const LEAVE: &str = "leave";

fn keys<T>(map: &BTreeMap<String, T>) -> Vec<String> {
    map.keys().cloned().collect()
}

/// The racking table, by number, where each class is sorted for its second pass.
fn sorted_at(file: &ScenarioFile) -> Vec<Option<usize>> {
    let at = |ware: &WareFile| {
        let table = &ware.two_passes.as_ref()?.sorted_at;
        file.racking.keys().position(|name| name == table)
    };
    file.ware.iter().map(at).collect()
}

/// Gathers the names and complains about those that cannot be told apart.
pub(crate) fn gather(check: &mut Checker<'_>, file: &ScenarioFile, sheet: Option<&Sheet>) -> Names {
    let names = Names {
        ware: file.ware.iter().map(|ware| ware.name.clone()).collect(),
        racks: file.rack.iter().map(|rack| rack.name.clone()).collect(),
        drop_offs: keys(&file.drop_off),
        belts: keys(&file.belt),
        accumulators: keys(&file.accumulator),
        tables: keys(&file.table),
        carts: keys(&file.carts),
        kinds: keys(&file.kind),
        troubles: keys(&file.trouble),
        receivers: keys(&file.receiver),
        waste_kinds: match file.waste.is_empty() {
            true => vec![super::waste::ALL.to_owned()],
            false => keys(&file.waste),
        },
        waste_stores: file
            .disposer
            .keys()
            .chain(file.bin.keys())
            .cloned()
            .collect(),
        disposers: file.disposer.len(),
        scrapping: keys(&file.scrapping),
        stacks: keys(&file.stacks),
        racking: file
            .racking
            .keys()
            .chain(file.placing.keys())
            .cloned()
            .collect(),
        tables_of_racking: file.racking.len(),
        sorted_at: sorted_at(file),
        lanes: keys(&file.lane),
        machines: keys(&file.machine),
        clean_ends: keys(&file.clean_end),
        duties: keys(&file.duty),
        people: people(file, sheet),
    };
    tell_apart(check, "ware", "classes of ware", &names.ware);
    tell_apart(check, "rack", "rack kinds", &names.racks);
    let crew: Vec<String> = file.crew.iter().map(|worker| worker.name.clone()).collect();
    tell_apart(check, "crew", "people", &crew);
    let ways = [
        ("belt", "a belt", &names.belts),
        ("accumulator", "an accumulator", &names.accumulators),
        ("table", "a table", &names.tables),
        ("stacks", "a belt for stacks", &names.stacks),
    ];
    for (later, (key, what, list)) in ways.iter().enumerate() {
        for (_, other, earlier) in &ways[..later] {
            for name in list.iter().filter(|name| earlier.contains(name)) {
                check.fault(
                    "name-twice",
                    &format!("{key}.{name}"),
                    format!("{other} and {what} are both called \"{name}\""),
                    "drop-offs and posts find them by name: rename one",
                );
            }
        }
    }
    for load_end in file
        .placing
        .keys()
        .filter(|name| file.racking.contains_key(*name))
    {
        let message =
            format!("a racking table and the load end of a machine are both called \"{load_end}\"");
        check.fault(
            "name-twice",
            &format!("placing.{load_end}"),
            message,
            "ware is sent to them by name: rename one",
        );
    }
    for carts in names
        .carts
        .iter()
        .filter(|carts| names.belts.contains(carts) || names.tables.contains(carts))
    {
        let message = format!("a belt or table and carts are both called \"{carts}\"");
        check.fault(
            "name-twice",
            &format!("carts.{carts}"),
            message,
            "posts find them by name: rename one",
        );
    }
    for bin in file
        .bin
        .keys()
        .filter(|name| file.disposer.contains_key(*name))
    {
        check.fault(
            "name-twice",
            &format!("bin.{bin}"),
            format!("a disposer and a bin are both called \"{bin}\""),
            "waste is sent to them by name: rename one",
        );
    }
    for (kind, list) in [("lane", &names.lanes), ("clean_end", &names.clean_ends)] {
        if list.iter().any(|name| name == LEAVE) {
            let message = format!("\"{LEAVE}\" means off the line and cannot be a name");
            check.fault(
                "not-a-name",
                &format!("{kind}.{LEAVE}"),
                message,
                "choose another name",
            );
        }
    }
    names
}

impl Names {
    /// Every element as it is named in the file: kind and name.
    pub(crate) fn elements(&self) -> Vec<String> {
        let (tables, load_ends) = self.racking.split_at(self.tables_of_racking);
        let (disposers, bins) = self.waste_stores.split_at(self.disposers);
        let kinds: [(&str, &[String]); 14] = [
            ("drop_off", &self.drop_offs),
            ("belt", &self.belts),
            ("accumulator", &self.accumulators),
            ("table", &self.tables),
            ("receiver", &self.receivers),
            ("scrapping", &self.scrapping),
            ("disposer", disposers),
            ("bin", bins),
            ("stacks", &self.stacks),
            ("racking", tables),
            ("lane", &self.lanes),
            ("placing", load_ends),
            ("machine", &self.machines),
            ("clean_end", &self.clean_ends),
        ];
        let named = kinds
            .iter()
            .flat_map(|(kind, names)| names.iter().map(move |name| format!("{kind}.{name}")));
        named.collect()
    }
}

/// Everybody by name; several alike are told apart by a number.
fn people(file: &ScenarioFile, sheet: Option<&Sheet>) -> Vec<String> {
    let mut people = Vec::new();
    for worker in &file.crew {
        match worker.alike.unwrap_or(1) {
            1 => people.push(worker.name.clone()),
            many => people.extend((1..=many).map(|number| format!("{} {number}", worker.name))),
        }
    }
    people.extend(
        sheet
            .iter()
            .flat_map(|sheet| head_count::people(sheet))
            .map(|who| who.name),
    );
    people
}

pub(super) fn tell_apart(check: &mut Checker<'_>, table: &str, what: &str, names: &[String]) {
    for (index, name) in names.iter().enumerate() {
        let path = format!("{table}.{index}.name");
        if names[..index].contains(name) {
            check.fault(
                "name-twice",
                &path,
                format!("two {what} are called \"{name}\""),
                "give one another name",
            );
        }
        if !is_name(name) {
            let message = format!(
                "a name is a letter, then letters, digits, blanks, `_` or `-`, found \"{name}\""
            );
            check.fault("not-a-name", &path, message, "choose a short plain name");
        }
    }
}
