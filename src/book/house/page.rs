//! Reading one file of a house book.

use std::fmt;
use std::marker::PhantomData;

use serde::de::{DeserializeSeed, Error, MapAccess, Visitor};
use serde::{Deserialize, Deserializer};

use super::draft::HouseDraft;
use crate::book::fault::{Fault, Place, Problem};
use crate::book::leaf::{Leaf, LeafProblem, unmarked};
use crate::book::list::{Key, Listed, options, read_record};
use crate::book::pack::FORMAT;
use crate::book::record_kind::RecordKind;
use crate::book::source::Source;

/// `(format: 1, ingredient: (...))`, read in one go.
struct Whole<D>(RecordKind, PhantomData<D>);

impl<'de, D: Deserialize<'de>> DeserializeSeed<'de> for Whole<D> {
    type Value = (u32, D);

    fn deserialize<R: Deserializer<'de>>(self, deserializer: R) -> Result<(u32, D), R::Error> {
        deserializer.deserialize_struct("", &[], self)
    }
}

impl<'de, D: Deserialize<'de>> Visitor<'de> for Whole<D> {
    type Value = (u32, D);

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "(format: {FORMAT}, {}: (...))", self.0.word())
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<(u32, D), A::Error> {
        let (mut format, mut record) = (None, None);
        while let Some(key) = map.next_key::<Key>()? {
            match key.0.as_str() {
                "format" if format.is_none() => format = Some(map.next_value()?),
                word if word == self.0.word() && record.is_none() => record = Some(map.next_value()?),
                other => return Err(A::Error::custom(format_args!("{other} has no place here"))),
            }
        }
        format.zip(record).ok_or_else(|| A::Error::custom("the format or the record is missing"))
    }
}

/// Reads a file that should hold one record of a kind and be named after it. A record with faults in it is none.
pub(super) fn read_page<D: HouseDraft>(
    source: &Source,
    kind: RecordKind,
    stem: &str,
    faults: &mut Vec<Fault>,
) -> Option<Listed<D>> {
    let of_file = |problem| Fault::of_file(source.path.clone(), problem);
    let draft = match options().from_str_seed(unmarked(&source.text), Whole::<D>(kind, PhantomData)) {
        Ok((format, _)) if format != FORMAT => {
            faults.push(of_file(Problem::OtherFormat { found: format, known: FORMAT }));
            return None;
        }
        Ok((_, draft)) => draft,
        Err(whole) => {
            let before = faults.len();
            why_not::<D>(source, kind, faults);
            if faults.len() == before {
                let place = Place::in_text(&source.text, 0..0);
                let problem = Problem::Text(whole.to_string());
                faults.push(Fault { place: Some(place), ..of_file(problem) });
            }
            return None;
        }
    };
    let wanted = draft.stem();
    if wanted.as_deref().is_some_and(|wanted| wanted != stem) {
        let wanted = wanted.unwrap_or_default();
        faults.push(of_file(Problem::Misnamed {
            what: D::WHAT,
            record: wanted.clone(),
            wanted: format!("{wanted}.ron"),
        }));
        return None;
    }
    Some(Listed { draft, index: 0, blanked: false })
}

/// Every fault of a file that cannot be read whole.
fn why_not<D: HouseDraft>(source: &Source, kind: RecordKind, faults: &mut Vec<Fault>) {
    let of_file = |problem| Fault::of_file(source.path.clone(), problem);
    match Leaf::parse(&source.text) {
        Err(fault) => {
            if let LeafProblem::UnfinishedMerge { line } = fault.problem {
                let place = Some(fault.place.clone());
                faults.push(Fault { place, ..of_file(Problem::UnfinishedMerge { line }) });
                return;
            }
            faults.push(Fault {
                place: Some(fault.place.clone()),
                ..of_file(Problem::Text(fault.to_string()))
            });
        }
        Ok(leaf) if leaf.format() != FORMAT => {
            faults.push(of_file(Problem::OtherFormat { found: leaf.format(), known: FORMAT }));
        }
        Ok(leaf) if leaf.kind() != kind.word() => {
            let place = Some(Place::in_text(&source.text, leaf.record_range()));
            let problem = Problem::WrongFolder {
                found: leaf.kind().to_owned(),
                wanted: kind.word(),
                folder: RecordKind::ALL.into_iter().find(|k| k.word() == leaf.kind()).map(RecordKind::folder),
            };
            faults.push(Fault { place, ..of_file(problem) });
        }
        Ok(leaf) => {
            read_record::<D>(source, leaf.record_range(), faults);
        }
    }
}
