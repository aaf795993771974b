//! The options of `riff` that ask for a kind of variant.

use std::time::{SystemTime, UNIX_EPOCH};

use crate::book::Ingredient;
use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::pairing::Filter;
use crate::riff::{Length, RiffError, Strong, Turns};

/// Seeds that are drawn, not given, are under this: short enough to type again.
const SEEDS: u64 = 10_000;

/// Kinds of variant.
#[derive(Debug, Clone, Default, clap::Args)]
#[allow(clippy::struct_excessive_bools, reason = "each is an option of the command line")]
pub(in crate::console) struct Kinds {
    /// Half the strength, or no alcohol: half or none
    #[arg(long, value_name = "HALF", value_parser = strong)]
    strength: Option<Strong>,
    /// More in the glass, and weaker
    #[arg(long)]
    longer: bool,
    /// Less in the glass, and stronger
    #[arg(long, visible_alias = "stronger")]
    shorter: bool,
    /// At most about 60 % of the sugar, the sour eased along
    #[arg(long)]
    less_sugar: bool,
    /// A second base beside the first
    #[arg(long, value_name = "BASE")]
    split: Option<String>,
    /// Blended with ice
    #[arg(long)]
    frozen: bool,
    /// Something sparkling on top of less of the rest
    #[arg(long)]
    sparkling: bool,
    /// For what is on the plate. Several with commas between
    #[arg(long, value_name = "FOOD")]
    dish: Vec<String>,
    /// Only from what is there. Several with commas between
    #[arg(long, value_name = "NAME")]
    have: Vec<String>,
    /// Work in a surprise that is in season; the same seed brings the same
    #[arg(long, value_name = "SEED", num_args = 0..=1, default_missing_value = ANY, value_parser = seed)]
    surprise: Option<Seed>,
}

fn strong(text: &str) -> Result<Strong, String> {
    match text.trim().to_lowercase().as_str() {
        "half" => Ok(Strong::Half),
        "none" => Ok(Strong::None),
        _ => Err("it is not a strength to ask for; allowed are half, none".to_owned()),
    }
}

/// A surprise's seed.
#[derive(Debug, Clone, Copy)]
enum Seed {
    /// As typed.
    Given(u64),
    /// Whatever comes.
    Any,
}

/// What stands for no seed.
const ANY: &str = "any";

fn seed(text: &str) -> Result<Seed, String> {
    if text == ANY {
        return Ok(Seed::Any);
    }
    text.parse()
        .map(Seed::Given)
        .map_err(|_| "a seed is a whole number; without one, put --surprise last".to_owned())
}

impl Kinds {
    /// The kinds asked for, with what is asked beside them.
    pub(super) fn read<'s>(
        &self,
        desk: &Desk<'s>,
        filter: Filter,
        no: Vec<&'s Ingredient>,
    ) -> Result<Turns<'s>, Failure> {
        let have = self.have.join(", ");
        let length = match (self.longer, self.shorter) {
            (true, true) => {
                let (one, other) = ("longer", "shorter");
                let why = "a drink is one or the other";
                return Err(RiffError::Contradicts { one, other, why }.into());
            }
            (true, _) => Some(Length::Longer),
            (_, true) => Some(Length::Shorter),
            _ => None,
        };
        Ok(Turns {
            length,
            strength: self.strength,
            less_sugar: self.less_sugar,
            split: self.split.as_deref().map(|name| desk.ingredient(name)).transpose()?,
            frozen: self.frozen,
            sparkling: self.sparkling,
            dish: desk.ingredients(&self.dish.join(", "))?,
            have: if self.have.is_empty() {
                None
            } else {
                Some(desk.library.book.with_juices(desk.ingredients(&have)?))
            },
            surprise: self.surprise.map(|seed| match seed {
                Seed::Given(seed) => seed,
                Seed::Any => some_seed(),
            }),
            no,
            filter,
        })
    }
}

/// A seed from the clock.
fn some_seed() -> u64 {
    let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
    u64::from(since.subsec_nanos()) % SEEDS
}
