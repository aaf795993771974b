//! The order of work: water first and measured, then the cheap to the dear, the spirit last; ice never.

use super::cost::From;
use crate::book::{Ingredient, Role};
use crate::measure::Money;

/// Something to do when a batch is made.
#[derive(Debug, Clone, PartialEq)]
pub enum Task {
    /// Measure the water in.
    Water,
    /// Pour a line in; by its place among the lines.
    Pour(usize),
    /// Mix it.
    Mix,
    /// Taste, and add what was held back of the dashes.
    Taste,
    /// Fill the containers up to their line.
    Fill,
    /// Write on them what is in there.
    Label,
    /// Chill it, where it stands.
    Store,
}

/// What a line of a batch is worth to the order.
pub(super) struct Worth<'b> {
    pub(super) line: usize,
    pub(super) ingredient: &'b Ingredient,
    pub(super) role: Role,
    pub(super) cost: Option<(Money, From<'b>)>,
}

/// The lines from cheap to dear, the base last of all: a slip with the syrup is thrown away for pennies.
pub(super) fn order(mut lines: Vec<Worth<'_>>, water: bool, tastes: bool) -> Vec<Task> {
    let is_base = |w: &Worth<'_>| w.role == Role::Base;
    let sum = |w: &Worth<'_>| w.cost.as_ref().map_or(0, |(money, _)| money.ten_thousandths());
    lines.sort_by(|a, b| {
        let strength = |w: &Worth<'_>| w.ingredient.makeup.map_or(0.0, |m| m.strength.percent_vol());
        is_base(a)
            .cmp(&is_base(b))
            .then(sum(a).cmp(&sum(b)))
            .then(strength(a).total_cmp(&strength(b)))
            .then(a.line.cmp(&b.line))
    });
    let mut tasks = Vec::new();
    if water {
        tasks.push(Task::Water);
    }
    tasks.extend(lines.iter().map(|w| Task::Pour(w.line)));
    tasks.push(Task::Mix);
    if tastes {
        tasks.push(Task::Taste);
    }
    tasks.extend([Task::Fill, Task::Label, Task::Store]);
    tasks
}
