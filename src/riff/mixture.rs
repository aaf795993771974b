//! A mixture of two in the place of a drink's line, with the amounts solved again.

use super::beside::SideBySide;
use super::candidate::{Candidate, Change, Riff};
use super::error::RiffError;
use super::swap::{SwapIn, SwappedIn, solved};
use crate::book::{Ingredient, IngredientId, Role};
use crate::drink::{Aim, House, Line};
use crate::measure::{HouseUnit, Volume};
use crate::pairing::{Agreements, Filter, Graph, Mixture};

/// A drink with a mixture of two in place of one.
#[derive(Debug, Clone)]
pub struct MixedIn<'b> {
    /// The mixture, in the proportion that the amounts came to.
    pub mixture: Mixture<'b>,
    /// The drink with it.
    pub riff: Riff<'b>,
    /// Both drinks side by side.
    pub beside: SideBySide<'b>,
    /// How far its likeness is above that of the closest stand-in; none where there is none.
    pub closer_by: Option<f64>,
}

/// A measure of a mixture, in volumes that any jigger of the unit has marks for: of 1 oz, or of 60 ml.
pub fn one_measure(mixture: &Mixture<'_>, unit: HouseUnit) -> [Volume; 2] {
    let whole = match unit {
        HouseUnit::Ounce => unit.ml(),
        HouseUnit::Millilitre => 60.0,
    };
    mixture.parts.map(|(_, share)| Volume::clamped(share * whole))
}

/// The closest mixtures of two for a line, each with its amounts: those that are worth it beside the stand-ins found.
///
/// # Model
/// The proportion that suits best without a drink gives both lines their usual amounts, on the nearest marks; the solver
/// may move each as far as it may move the line they stand for, in proportion, and by one mark more. The likeness is
/// reckoned again from what was poured.
///
/// # Limits
/// None for a line that is less than two marks: there is nothing to part.
pub(super) fn mixed_in<'b>(
    graph: &Graph<'b>,
    agreements: &Agreements<'_, 'b>,
    asked: &SwapIn<'b>,
    rest: &[&IngredientId],
    filter: &Filter,
    found: &SwappedIn<'b>,
    house: &House,
) -> Result<Vec<MixedIn<'b>>, RiffError> {
    let line = &asked.spec.lines[asked.line];
    let mark = house.jigger.marks().first().map_or(0.0, |m| m.ml());
    let Some(whole) = line.volume.filter(|v| v.ml() >= 2.0 * mark - 1e-6) else { return Ok(Vec::new()) };
    let of = &line.ingredient.id;
    let closest = found.drinks.first().map(|d| d.stand_in.likeness.score());
    let mut mixtures = Vec::new();
    for mixture in graph.mixtures(of, rest, filter, asked.mixtures) {
        let lines = mixture.parts.map(|(part, share)| part_line(line, part, share, whole, mark, house));
        let [first, second] = lines;
        let (one, other) = (first.ingredient, second.ingredient);
        let mut candidate = Candidate::unchanged(&asked.spec);
        candidate.spec.lines.splice(asked.line..=asked.line, [first, second]);
        candidate.stands_for.splice(asked.line..=asked.line, [None, None]);
        candidate.changes.push(Change::Asked { from: line.ingredient, to: one });
        candidate.changes.push(Change::Added { what: other });
        let (riff, beside) = solved(graph, agreements, candidate, asked, Aim::of(&found.figures), house)?;
        let poured = |at: usize| riff.spec.lines[at].volume.map_or(0.0, |v| v.ml());
        let volumes = [(&one.id, poured(asked.line)), (&other.id, poured(asked.line + 1))];
        let Some(mixture) = graph.mixture(of, volumes, rest) else { continue };
        if mixture.is_worth_it(closest) {
            let closer_by = closest.map(|c| mixture.likeness.score() - c);
            mixtures.push(MixedIn { mixture, riff, beside, closer_by });
        }
    }
    mixtures.sort_by(|a, b| b.mixture.likeness.score().total_cmp(&a.mixture.likeness.score()));
    Ok(mixtures)
}

/// One of the two lines that stand for one.
fn part_line<'b>(
    line: &Line<'b>,
    part: &'b Ingredient,
    share: f64,
    whole: Volume,
    mark: f64,
    house: &House,
) -> Line<'b> {
    let on_mark = |ml: f64| house.jigger.nearest(Volume::clamped(ml.max(mark))).volume;
    let volume = on_mark(share * whole.ml());
    let limits = line.limits.map(|(least, most)| {
        if least < most {
            let least = on_mark(share * least.ml() - mark);
            (least.min(volume), on_mark(share * most.ml() + mark).max(volume))
        } else {
            (volume, volume)
        }
    });
    Line {
        role: role_of(line.role, part),
        ingredient: part,
        amount: house.amount(volume).unwrap_or(line.amount),
        volume: Some(volume),
        limits,
        open: line.open,
    }
}

/// What a part does in the drink: the role of the line it stands for, or the first of its own that is poured with the rest.
fn role_of(role: Role, part: &Ingredient) -> Role {
    let own = || part.roles.iter().copied().find(|r| !matches!(r, Role::Lengthener | Role::Garnish));
    if part.roles.contains(&role) { role } else { own().unwrap_or(role) }
}
