//! A preparation: how the house makes an ingredient out of others.

use serde::{Deserialize, Serialize};

use super::id::{CautionId, IngredientId};
use super::keeping::Keeping;
use super::origin::Origin;
use super::word::PrepWay;
use crate::measure::{Amount, Grade, Mass};

/// One thing that goes into a preparation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PrepLine {
    /// What it is.
    pub of: IngredientId,
    /// How much.
    pub amount: Amount,
    /// The share of what it holds (water, alcohol, sugar, acid, salt) that stays in what is made; the rest is strained
    /// off. 1 for liquids and what dissolves.
    #[serde(default = "whole")]
    pub stays: Grade,
}

fn whole() -> Grade {
    Grade::clamped(1.0)
}

/// A preparation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Prep {
    /// What it makes; an ingredient has one preparation.
    pub makes: IngredientId,
    /// What sort of making it is.
    pub way: PrepWay,
    /// What goes in.
    pub lines: Vec<PrepLine>,
    /// Water that boils off.
    pub boils_off: Mass,
    /// The share of what is made that is lost on straining, in cloths and pots.
    pub lost: Grade,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// How long it keeps, and where.
    pub keeps: Keeping,
    /// Cautions of the making itself; those of what goes in come along.
    pub cautions: Vec<CautionId>,
    /// Where it comes from.
    pub origin: Origin,
}
