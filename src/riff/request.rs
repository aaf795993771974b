//! What a person asks of a riff.

use crate::book::Ingredient;
use crate::drink::{Aim, Spec};
use crate::pairing::Filter;

/// One ingredient to go, another to come.
#[derive(Debug, Clone, Copy)]
pub struct Swap<'b> {
    /// Which line of the drink, from 0.
    pub line: usize,
    /// What comes in its place.
    pub to: &'b Ingredient,
}

/// What is asked of a riff.
#[derive(Debug, Clone)]
pub struct Request<'b> {
    /// The classic, in the house's pours.
    pub classic: Spec<'b>,
    /// What a variant should come to, where that is not what the classic comes to.
    pub aim: Option<Aim>,
    /// Swaps asked for.
    pub swaps: Vec<Swap<'b>>,
    /// Ingredients that must be worked in, in one form or another.
    pub with: Vec<&'b Ingredient>,
    /// Ingredients that must not be in it.
    pub no: Vec<&'b Ingredient>,
    /// What every filler must pass.
    pub filter: Filter,
    /// How many suggestions.
    pub count: usize,
    /// Whether what the classic has in equal parts may come out otherwise.
    pub uneven: bool,
    /// How many ingredients that nobody asked for two suggestions may share.
    pub overlap: usize,
}

impl<'b> Request<'b> {
    /// The three best riffs of a classic, with nothing more asked.
    pub fn new(classic: Spec<'b>) -> Self {
        Self {
            classic,
            aim: None,
            swaps: Vec::new(),
            with: Vec::new(),
            no: Vec::new(),
            filter: Filter::default(),
            count: 3,
            uneven: false,
            overlap: 0,
        }
    }
}
