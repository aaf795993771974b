//! A drink while it is being reshaped: its lines, its aim, and a note of each thing done.

use super::{Bench, Done, Figure, Gone, Promise, Turn, TurnDone, Turned, Turns};
use crate::book::{Diet, Ingredient, IngredientId, Kind, Method, Role};
use crate::drink::{Aim, Figures, House, Line, Spec, figures};
use crate::measure::{Amount, HouseUnit, Unit, Volume};
use crate::pairing::{Filter, Graph, flavour_likeness};
use crate::riff::candidate::Candidate;
use crate::riff::error::RiffError;

/// What an unknown pair counts as, as in harmony.
const UNKNOWN_PAIR: f64 = 0.35;
/// What likeness of flavour counts beside agreement with the rest.
const LIKENESS: f64 = 0.5;
/// Lines below this, in ml, are dashes and barspoons: no kind moves them.
pub(super) const SMALL_ML: f64 = 5.0;
/// A lengthener is poured to this, in ml, where the house works in millilitres, and to half an ounce elsewhere.
const LONG_STEP_ML: f64 = 10.0;
const LONG_STEP_OZ: f64 = 0.5;

/// A drink being reshaped.
pub(super) struct Shape<'b> {
    pub(super) spec: Spec<'b>,
    pub(super) stands_for: Vec<Option<usize>>,
    pub(super) before: Figures,
    pub(super) aim: Aim,
    pub(super) filter: Filter,
    pub(super) no: Vec<&'b Ingredient>,
    pub(super) with: Vec<&'b Ingredient>,
    pub(super) promises: Vec<Promise>,
    turn: Turn,
    done: Vec<Done<'b>>,
}

impl<'b> Shape<'b> {
    pub(super) fn of(classic: &Spec<'b>, before: Figures, asked: &Turns<'b>) -> Self {
        Self {
            spec: classic.clone(),
            stands_for: (0..classic.lines.len()).map(Some).collect(),
            before,
            aim: Aim::of(&before),
            filter: asked.filter.clone(),
            no: asked.no.clone(),
            with: Vec::new(),
            promises: Vec::new(),
            turn: Turn::Surprise,
            done: Vec::new(),
        }
    }

    pub(super) fn begin(&mut self, turn: Turn) {
        self.turn = turn;
    }

    pub(super) fn end(&mut self) -> Vec<Done<'b>> {
        std::mem::take(&mut self.done)
    }

    pub(super) fn note(&mut self, done: Done<'b>) {
        self.done.push(done);
    }

    pub(super) fn finish(
        self,
        classic: &Spec<'b>,
        turns: Vec<TurnDone<'b>>,
        dish: &[&'b Ingredient],
    ) -> Turned<'b> {
        Turned {
            classic: classic.clone(),
            figures: self.before,
            spec: self.spec,
            stands_for: self.stands_for,
            aim: self.aim,
            filter: self.filter,
            no: self.no,
            with: self.with,
            dish: dish.to_vec(),
            promises: self.promises,
            turns,
        }
    }

    /// The error that this kind cannot be had of this drink.
    pub(super) fn blocked(&self, why: impl Into<String>, loosen: impl Into<String>) -> RiffError {
        RiffError::Blocked {
            drink: self.spec.in_words(),
            turn: self.turn.name(),
            why: why.into(),
            loosen: loosen.into(),
        }
    }

    pub(super) fn promise(&mut self, figure: Figure, least: f64, most: f64) {
        self.promises.push(Promise { figure, least, most });
    }

    /// Aims a figure at a share of the classic's, and says so.
    pub(super) fn aim_at(&mut self, figure: Figure, to: f64) {
        let place = match figure {
            Figure::Strength => &mut self.aim.strength,
            Figure::Sugar => &mut self.aim.sugar,
            Figure::Acid => &mut self.aim.acid,
            Figure::Served => &mut self.aim.served,
        };
        *place = to;
        self.note(Done::Aimed { figure, from: figure.of(&self.before), to });
    }

    /// Its figures as it stands; those of the classic if nothing is left to pour.
    pub(super) fn figures(&self) -> Figures {
        figures(&self.spec).unwrap_or(self.before)
    }

    /// Moves the aim by as much as the figures moved since.
    pub(super) fn follow(&mut self, since: &Figures) {
        let now = self.figures();
        let moved = |aim: f64, was: f64, is: f64| if was > 0.0 { aim * is / was } else { is };
        let (was, is) = (Aim::of(since), Aim::of(&now));
        self.aim.strength = moved(self.aim.strength, was.strength, is.strength);
        self.aim.sugar = moved(self.aim.sugar, was.sugar, is.sugar);
        self.aim.acid = moved(self.aim.acid, was.acid, is.acid);
        self.aim.bitterness = moved(self.aim.bitterness, was.bitterness, is.bitterness);
        self.aim.served = moved(self.aim.served, was.served, is.served);
    }

    /// What the drink comes to once its amounts are solved for the aim.
    pub(super) fn solved(&self, house: &House) -> Result<Figures, RiffError> {
        let mut candidate = Candidate::unchanged(&self.spec);
        candidate.equal.clear();
        candidate.solve(self.aim, house)?;
        figures(&candidate.spec).map_err(|_| RiffError::Unsolvable(crate::drink::Unsolvable::NothingPoured))
    }

    /// Refuses a drink that cannot keep what was promised of it.
    pub(super) fn must_keep(&mut self, bench: &Bench<'_, 'b, '_>) -> Result<(), RiffError> {
        let found = self.solved(bench.house)?;
        let Some(broken) = self.promises.iter().find(|p| !p.kept_by(&found)).copied() else { return Ok(()) };
        let Promise { figure, least, most } = broken;
        let bound = if figure.of(&found) < least { least } else { most };
        let beyond = if figure.of(&found) < least { "least" } else { "most" };
        Err(self.blocked(
            format!(
                "with what is in it the {} comes to {:.1} {}, where {bound:.1} is the {beyond}",
                figure.name(),
                figure.of(&found),
                figure.unit(),
            ),
            "swap one of its lines by hand with --swap X=Y, or ask for fewer kinds at once",
        ))
    }

    /// A volume as this house pours it; never less than its smallest mark.
    pub(super) fn pour(house: &House, ml: f64, lengthens: bool) -> Volume {
        let least = house.jigger.marks().first().map_or(SMALL_ML, |m| m.ml());
        let ml = ml.max(least);
        if !lengthens {
            let nearest = house.jigger.nearest(Volume::clamped(ml)).volume;
            return if nearest.ml() > 0.0 { nearest } else { Volume::clamped(least) };
        }
        let step = match house.jigger.unit() {
            HouseUnit::Ounce => LONG_STEP_OZ * house.jigger.unit().ml(),
            HouseUnit::Millilitre => LONG_STEP_ML,
        };
        Volume::clamped((ml / step).round().max(1.0) * step)
    }

    /// Pours a line anew, with room between two shares of it.
    pub(super) fn pour_line(&mut self, at: usize, ml: f64, room: (f64, f64), house: &House) {
        let line = &mut self.spec.lines[at];
        let long = line.is_lengthener();
        let own = Self::pour(house, ml, long);
        let from = line.volume.unwrap_or(own);
        line.volume = Some(own);
        line.amount = house.amount(own).unwrap_or(line.amount);
        let least = Self::pour(house, own.ml() * room.0, long).min(own);
        let most = Self::pour(house, own.ml() * room.1, long).max(own);
        line.limits = Some((least, most));
        let what = line.ingredient;
        if (from.ml() - own.ml()).abs() > 0.1 {
            self.note(Done::Poured { what, from, to: own });
        }
    }

    /// Widens the room of a line to shares of its own amount, keeping what room there is.
    pub(super) fn widen(&mut self, at: usize, room: (f64, f64), house: &House) {
        let line = &mut self.spec.lines[at];
        let (Some(own), long) = (line.volume, line.is_lengthener()) else { return };
        if own.ml() < SMALL_ML {
            return;
        }
        let (least, most) = line.limits.unwrap_or((own, own));
        let to = |share: f64| Self::pour(house, own.ml() * share, long);
        line.limits = Some((to(room.0).min(least).min(own), to(room.1).max(most).max(own)));
    }

    /// Puts something in a line's place, in an amount of its own.
    pub(super) fn replace(&mut self, at: usize, to: &'b Ingredient, role: Role, ml: f64, house: &House) {
        let line = &mut self.spec.lines[at];
        let from = std::mem::replace(&mut line.ingredient, to);
        line.role = role;
        let long = line.is_lengthener();
        let own = Self::pour(house, ml, long);
        line.volume = Some(own);
        line.amount = house.amount(own).unwrap_or(line.amount);
        let share = |s: f64| Self::pour(house, own.ml() * s, long);
        line.limits = Some((share(0.5).min(own), share(1.5).max(own)));
        self.stands_for[at] = None;
        self.note(Done::Replaced { from, to });
    }

    /// Adds a line: what goes in after the ice last, anything else before that.
    pub(super) fn add(
        &mut self,
        role: Role,
        what: &'b Ingredient,
        ml: f64,
        room: (f64, f64),
        house: &House,
    ) -> usize {
        let long = role == Role::Lengthener || what.makeup.is_some_and(|m| m.carbonated);
        let own = Self::pour(house, ml, long);
        let share = |s: f64| Self::pour(house, own.ml() * s, long);
        let limits = Some((share(room.0).min(own), share(room.1).max(own)));
        let end = self.spec.lines.len();
        let first_long = self.spec.lines.iter().position(Line::is_lengthener).unwrap_or(end);
        let at = if long { end } else { first_long };
        if let Some(amount) = house.amount(own) {
            let line = Line { role, ingredient: what, amount, volume: Some(own), limits, open: false };
            self.spec.lines.insert(at, line);
            self.stands_for.insert(at, None);
        }
        at
    }

    /// Measures a line by the barspoon: for what is less than the house's smallest mark.
    pub(super) fn by_barspoon(&mut self, at: usize, count: u8, house: &House) {
        let line = &mut self.spec.lines[at];
        let Ok(amount) = Amount::new(f64::from(count), Unit::Barspoon) else { return };
        let Some(to) = amount.volume(&house.measures) else { return };
        let from = line.volume.replace(to).unwrap_or(to);
        line.amount = amount;
        line.limits = Some((to, to));
        let what = line.ingredient;
        if self.stands_for[at].is_some() && (from.ml() - to.ml()).abs() > 0.1 {
            self.note(Done::Poured { what, from, to });
        }
    }

    /// The plainest syrup that may come in: the least loud, and of those the one that goes with most.
    pub(super) fn plain_syrup(&self, bench: &Bench<'_, 'b, '_>) -> Option<&'b Ingredient> {
        let all = bench.graph.book().ingredients().iter();
        all.filter(|i| self.may_take(i) && i.kind == Kind::Syrup && i.roles.contains(&Role::Sweet)).min_by(
            |a, b| {
                let loud = a.loudness.value().total_cmp(&b.loudness.value());
                let company = |i: &Ingredient| bench.graph.ties(&i.id).len();
                loud.then_with(|| company(b).cmp(&company(a))).then_with(|| a.id.cmp(&b.id))
            },
        )
    }

    /// Takes a line out.
    pub(super) fn drop_line(&mut self, at: usize, why: Gone) {
        let what = self.spec.lines.remove(at).ingredient;
        self.stands_for.remove(at);
        self.note(Done::Dropped { what, why });
    }

    /// Takes from the top what does not pass.
    pub(super) fn drop_garnish(&mut self, why: Gone, passes: impl Fn(&Ingredient) -> bool) {
        let (stays, goes): (Vec<_>, Vec<_>) =
            std::mem::take(&mut self.spec.garnish).into_iter().partition(|(i, _)| passes(i));
        self.spec.garnish = stays;
        for (what, _) in goes {
            self.note(Done::Dropped { what, why });
        }
    }

    pub(super) fn set_method(&mut self, to: Method) {
        let from = std::mem::replace(&mut self.spec.method, to);
        if from != to {
            self.note(Done::Method { from, to });
        }
    }

    /// Whether an ingredient is in it.
    pub(super) fn holds(&self, id: &IngredientId) -> bool {
        self.spec.lines.iter().any(|l| l.ingredient.id == *id)
    }

    /// Whether an ingredient may come in: poured, not in it, and not asked away.
    pub(super) fn may_take(&self, ingredient: &Ingredient) -> bool {
        ingredient.makeup.is_some()
            && !self.holds(&ingredient.id)
            && !self.no.iter().any(|n| n.id == ingredient.id)
            && self.filter.admits(ingredient)
    }

    /// What fits a line's place best of what passes: by agreement with the rest and likeness of flavour. None where
    /// everything that passes clashes with the rest.
    pub(super) fn best(
        &self,
        bench: &Bench<'_, 'b, '_>,
        at: usize,
        passes: impl Fn(&Ingredient) -> bool,
    ) -> Option<&'b Ingredient> {
        let own = self.spec.lines.get(at)?.ingredient;
        let rest: Vec<&Ingredient> = self
            .spec
            .lines
            .iter()
            .enumerate()
            .filter(|(i, l)| *i != at && l.volume.is_some())
            .map(|(_, l)| l.ingredient)
            .collect();
        let all = bench.graph.book().ingredients().iter();
        all.filter(|i| self.may_take(i) && passes(i))
            .filter_map(|i| {
                Some((agreement(bench.graph, i, &rest)? + LIKENESS * flavour_likeness(own, i), i))
            })
            .max_by(|(a, i), (b, j)| a.total_cmp(b).then_with(|| j.id.cmp(&i.id)))
            .map(|(_, i)| i)
    }
}

/// Whether an ingredient holds no alcohol.
pub(super) fn is_free(ingredient: &Ingredient) -> bool {
    ingredient.diet.contains(&Diet::NoAlcohol)
}

/// Mean affinity to a set, unknown pairs counting little; none for a clash.
pub(super) fn agreement(graph: &Graph<'_>, one: &Ingredient, rest: &[&Ingredient]) -> Option<f64> {
    let mut sum = 0.0;
    for other in rest {
        if graph.clash(&one.id, &other.id).is_some() {
            return None;
        }
        sum += graph.tie(&one.id, &other.id).map_or(UNKNOWN_PAIR, |t| t.affinity.value());
    }
    Some(if rest.is_empty() { UNKNOWN_PAIR } else { sum / rest.len() as f64 })
}
