//! Empty racks come back from where their ware is taken out: who is slow there holds up whoever fills racks of that kind.

use scullery_engine::line::{ClassId, PiecesTo, Post, RackKindId};

use super::stages::{Kind, Survey};

impl Survey<'_> {
    /// Where racks of a class are unloaded.
    pub(super) fn unloading_of(&self, class: ClassId) -> Vec<usize> {
        let own = self.line.classes[usize::from(class.0)].clean_end;
        let ends: Vec<u8> = match own {
            Some(end) => vec![end],
            None => self.line.machines.iter().filter_map(|m| m.to).collect(),
        };
        let number = |end: &u8| self.number(Kind::Post(Post::Unloading(*end)));
        ends.iter().filter_map(number).collect()
    }

    /// The posts that give back the racks which are filled at a stage.
    pub(super) fn racks_back(&self, kind: Kind) -> Vec<usize> {
        let line = self.line;
        let tables: Vec<u8> = match kind {
            Kind::Post(Post::Racking(table)) => vec![table],
            Kind::Post(Post::Scrapping(post)) => {
                let routes = line.scrapping[usize::from(post)].routes.iter();
                let table = |to: &PiecesTo| match *to {
                    PiecesTo::Racks(table) => Some(table),
                    _ => None,
                };
                routes.filter_map(table).collect()
            }
            _ => return Vec::new(),
        };
        let classes = || (0..line.classes.len() as u8).map(ClassId);
        let kinds_of = |class: ClassId| -> Vec<RackKindId> {
            let it = &line.classes[usize::from(class.0)];
            let second = it.second_pass.iter().flat_map(|second| &second.fits);
            it.fits
                .iter()
                .chain(second)
                .map(|(kind, _)| *kind)
                .collect()
        };
        let here = classes().filter(|&class| {
            tables
                .iter()
                .any(|&t| line.comes_to(usize::from(class.0), t))
        });
        let kinds: Vec<RackKindId> = here.flat_map(kinds_of).collect();
        let shares = |class: &ClassId| kinds_of(*class).iter().any(|kind| kinds.contains(kind));
        let others = classes().filter(shares);
        others.flat_map(|class| self.unloading_of(class)).collect()
    }
}
