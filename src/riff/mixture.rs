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

/// From so many just-noticeable differences on a drink is another; a mixture that ends farther, and farther than the
/// closest stand-in does, is left out. *Ours.*
const ANOTHER_BALANCE: f64 = 2.5;

/// The closest mixtures of two for a line, each with its amounts: those that are worth it beside the stand-ins found.
///
/// # Model
/// Of all proportions in which two pours make the line's amount, the one that suits best gives both lines their usual
/// amounts; the solver may move each as far as it may move the line they stand for, in proportion, and by one mark more.
/// The likeness is reckoned again from what was poured.
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
    let shares = shares_on_marks(whole, house);
    for mixture in graph.mixtures(of, rest, filter, &shares, asked.mixtures) {
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
        let most = found.drinks.first().map_or(0.0, |d| d.riff.distance).max(ANOTHER_BALANCE);
        if mixture.is_worth_it(closest) && riff.distance <= most {
            let closer_by = closest.map(|c| mixture.likeness.score() - c);
            mixtures.push(MixedIn { mixture, riff, beside, closer_by });
        }
    }
    mixtures.sort_by(|a, b| b.mixture.likeness.score().total_cmp(&a.mixture.likeness.score()));
    Ok(mixtures)
}

/// Fewer proportions than this are no choice: then two pours may also miss the whole by half a mark.
const A_CHOICE: usize = 3;

/// The shares of the first of two pours that make a volume, on the jigger's marks.
fn shares_on_marks(whole: Volume, house: &House) -> Vec<f64> {
    let mark = house.jigger.marks().first().copied().unwrap_or(whole);
    let pours = house.pours((mark, whole), whole, false);
    let within = |ml: f64| -> Vec<f64> {
        let both = pours.iter().flat_map(|a| pours.iter().map(move |b| (a.volume.ml(), b.volume.ml())));
        let mut shares: Vec<f64> =
            both.filter(|(a, b)| (a + b - whole.ml()).abs() <= ml).map(|(a, b)| a / (a + b)).collect();
        shares.sort_by(f64::total_cmp);
        shares.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        shares
    };
    let exact = within(1e-6);
    if exact.len() >= A_CHOICE { exact } else { within(mark.ml() / 2.0 + 1e-6) }
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
    // What is poured from the bottle goes by whole marks, of which it may take more than two.
    let from_the_bottle = line.is_lengthener();
    let on_mark = |ml: f64| match Volume::clamped(ml.max(mark)) {
        volume if from_the_bottle => Volume::clamped((volume.ml() / mark).round() * mark),
        volume => house.jigger.nearest(volume).volume,
    };
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
