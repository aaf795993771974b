//! What the house thinks of pairs: its own word over the packs', and what the tastings make of both.

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::draft::BondDraft;
use crate::book::bond::Bond;
use crate::book::edge::{Edge, Said};
use crate::book::id::IngredientId;
use crate::book::origin::Origin;
use crate::book::shelf::Book;
use crate::book::tasting::{Tasted, Tasting};

/// The packs' bonds with the house's over them, and what the tastings made of both.
pub(super) fn edges(packs: &Book, bonds: Vec<BondDraft>, tastings: &[Tasting]) -> Vec<Edge> {
    let mut over: BTreeMap<(IngredientId, IngredientId), Edge> = BTreeMap::new();
    for draft in bonds {
        let Some((a, b)) = draft.between else { continue };
        let under = packs.edge(&a, &b);
        let pair = if a < b { (a, b) } else { (b, a) };
        let Some(bond) = draft.bond.map(Bond::from).or_else(|| under.map(|e| e.bond)) else { continue };
        // A note on a pack's bond leaves the bond the pack's.
        let own = if draft.bond.is_some() { Some(Origin::House) } else { under.map(|e| e.origin.clone()) };
        let origin = draft.origin.or(own).unwrap_or(Origin::House);
        let note = draft.note.map(Cow::Owned).or_else(|| under.and_then(|e| e.note.clone()));
        let pack = under.map(|e| (e.bond, e.origin.clone()));
        let said = Some(Box::new(Said { pack, by: draft.by, tasted: None }));
        over.insert(pair.clone(), Edge { pair, bond, note, origin, said });
    }
    let mut tasted: BTreeMap<(IngredientId, IngredientId), Tasted> = BTreeMap::new();
    for tasting in tastings {
        for told in &tasting.told {
            let (a, b) = if told.0 < told.1 { (&told.0, &told.1) } else { (&told.1, &told.0) };
            let pair = (a.clone(), b.clone());
            let entry = tasted.entry(pair).or_insert_with_key(|pair| {
                let edge = over.get(pair).or_else(|| packs.edge(a, b));
                Tasted::from(edge.map(|e| (e.bond, e.origin.clone())))
            });
            entry.count(tasting.score, told.2.value());
        }
    }
    for (pair, tasted) in tasted {
        let under = packs.edge(&pair.0, &pair.1);
        let edge = over.entry(pair.clone()).or_insert_with(|| Edge {
            bond: tasted.bond(),
            note: under.and_then(|e| e.note.clone()),
            origin: under.map_or(Origin::House, |e| e.origin.clone()),
            said: Some(Box::new(Said { pack: under.map(|e| (e.bond, e.origin.clone())), ..Said::default() })),
            pair,
        });
        edge.bond = tasted.bond();
        if let Some(said) = &mut edge.said {
            said.tasted = Some(tasted);
        }
    }
    over.into_values().collect()
}
