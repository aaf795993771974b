//! Checks of affinities and clashes.

use std::borrow::Cow;
use std::collections::{BTreeMap, HashMap};

use super::{Known, MOST_TEXT, Record, quoted, texts};
use crate::book::bond::Bond;
use crate::book::draft::{Draft, SheetDraft};
use crate::book::edge::Edge;
use crate::book::fault::{Fault, Problem};
use crate::book::id::IngredientId;

pub(super) fn edges(sheets: &[Record<'_, SheetDraft>], known: &Known, faults: &mut Vec<Fault>) -> Vec<Edge> {
    let mut edges: Vec<((usize, usize), Edge)> = Vec::new();
    let mut by_pair: HashMap<(usize, usize), usize> = HashMap::new();
    // An ingredient has a sheet for each origin.
    let mut by_sheet: BTreeMap<(&IngredientId, String), usize> = BTreeMap::new();
    for (index, record) in sheets.iter().enumerate() {
        let SheetDraft { of: Some(of), origin: Some(origin), goes_with, clashes } = &record.listed.draft
        else {
            continue;
        };
        let sheet = (of, origin.to_string());
        if let Some(earlier) = by_sheet.get(&sheet) {
            let first = sheets[*earlier].spot();
            faults.push(
                record.fault(None, Problem::Duplicate { what: SheetDraft::WHAT, id: of.to_string(), first }),
            );
        } else {
            by_sheet.insert(sheet, index);
        }
        let Some((of, at)) = known.ingredient(record, of, faults) else { continue };
        let affinities = goes_with.iter().map(|g| (&g.other, Bond::Affinity(g.affinity), &g.note));
        let clashes = clashes.iter().map(|c| (&c.other, Bond::Clash, &c.note));
        for (other, bond, note) in affinities.chain(clashes) {
            if other == of {
                faults.push(record.fault(Some(&quoted(other)), Problem::WithItself { id: of.to_string() }));
                continue;
            }
            let Some((other, other_at)) = known.ingredient(record, other, faults) else { continue };
            texts(record, &[("note", note.as_deref(), MOST_TEXT)], faults);
            let (pair, key) = if of < other {
                ((of.clone(), other.clone()), (at, other_at))
            } else {
                ((other.clone(), of.clone()), (other_at, at))
            };
            if let Some(earlier) = by_pair.get(&key) {
                let problem = Problem::PairTwice {
                    a: of.to_string(),
                    b: other.to_string(),
                    first: sheets[*earlier].spot(),
                };
                faults.push(record.fault(Some(&quoted(other)), problem));
                continue;
            }
            by_pair.insert(key, index);
            edges.push((
                key,
                Edge { pair, bond, note: note.clone().map(Cow::Owned), origin: origin.clone(), said: None },
            ));
        }
    }
    // Numbers stand in the order of ids, and are much quicker to compare.
    edges.sort_unstable_by_key(|(key, _)| *key);
    edges.into_iter().map(|(_, edge)| edge).collect()
}
