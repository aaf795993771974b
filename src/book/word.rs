//! The fixed vocabularies of a book: each an enum whose words are the same in data, on screen and in JSON.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};
use thiserror::Error;

/// A word that is not in a vocabulary.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("'{found}' is not {what}: allowed are {}", allowed.join(", "))]
pub struct UnknownWord {
    /// What was looked for, with its article: "a kind".
    pub what: &'static str,
    /// What was found.
    pub found: String,
    /// Every word that would do.
    pub allowed: Vec<&'static str>,
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident, $what:literal, { $($(#[$vdoc:meta])* $variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        pub enum $name { $($(#[$vdoc])* #[doc = $word] $variant),+ }

        impl $name {
            /// Every word, in the order of the vocabulary.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The word as a person reads it.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(self.name())
            }
        }

        impl FromStr for $name {
            type Err = UnknownWord;

            /// Reads the word with blanks, hyphens or underscores, in any case, singular or plural.
            fn from_str(text: &str) -> Result<Self, UnknownWord> {
                let plain = |t: &str| t.trim().to_lowercase().replace(['_', '-'], " ");
                let wanted = plain(text);
                Self::ALL
                    .iter()
                    .copied()
                    .find(|w| {
                        let word = plain(w.name());
                        wanted == word
                            || wanted.strip_suffix('s') == Some(word.as_str())
                            || word.strip_suffix('s') == Some(wanted.as_str())
                    })
                    .ok_or_else(|| UnknownWord {
                        what: $what,
                        found: text.trim().to_owned(),
                        allowed: Self::ALL.iter().map(|w| w.name()).collect(),
                    })
            }
        }
    };
}

words!(
    /// What sort of thing an ingredient is.
    Kind, "a kind", {
        Spirit = "spirit",
        Liqueur = "liqueur",
        FortifiedWine = "fortified wine",
        Wine = "wine",
        BeerAndCider = "beer and cider",
        Bitters = "bitters",
        Juice = "juice",
        Syrup = "syrup",
        Sweetener = "sweetener",
        Acid = "acid",
        Mixer = "mixer",
        Fruit = "fruit",
        Vegetable = "vegetable",
        Herb = "herb",
        Spice = "spice",
        Flower = "flower",
        NutAndSeed = "nut and seed",
        TeaAndCoffee = "tea and coffee",
        DairyAndEgg = "dairy and egg",
        Seasoning = "seasoning",
        SavouryFood = "savoury food",
    }
);

words!(
    /// What an ingredient does in a drink.
    Role, "a role", {
        Base = "base",
        Modifier = "modifier",
        Sour = "sour",
        Sweet = "sweet",
        Bitter = "bitter",
        Lengthener = "lengthener",
        Texture = "texture",
        Accent = "accent",
        Garnish = "garnish",
    }
);

words!(
    /// One direction of flavour, graded 0 to 1 on an ingredient. Our own short list, from how bar people talk.
    Facet, "a facet", {
        /// Lemon, lime, orange: flesh and peel.
        Citrus = "citrus",
        /// Apple, pear, quince, medlar.
        Orchard = "orchard",
        /// Cherry, plum, peach, apricot.
        StoneFruit = "stone fruit",
        /// Raspberry, currant, bramble.
        Berry = "berry",
        /// Pineapple, mango, banana, coconut.
        Tropical = "tropical",
        /// Raisin, fig, date, prune.
        DriedFruit = "dried fruit",
        /// Blossom, rose, violet.
        Floral = "floral",
        /// Thyme, sage, vermouth herbs.
        Herbal = "herbal",
        /// Cut grass, cucumber, pea, leaf.
        Green = "green",
        /// Mint, eucalyptus, menthol.
        Cool = "cool",
        /// Anise, fennel, liquorice.
        Anise = "anise",
        /// Juniper, pine, bay, rosemary.
        Resin = "resin",
        /// Cinnamon, clove, nutmeg.
        Spice = "spice",
        /// Chilli, pepper, raw ginger, horseradish.
        Heat = "heat",
        /// Peat, fire, ash.
        Smoke = "smoke",
        /// Oak, cedar, vanilla pod and barrel.
        Wood = "wood",
        /// Coffee, cocoa, toast.
        Roast = "roast",
        /// Almond, hazelnut, oxidised wine.
        Nut = "nut",
        /// Caramel, molasses, toffee.
        Toffee = "toffee",
        /// Honey, beeswax.
        Honey = "honey",
        /// Grain, bread, malt.
        Grain = "grain",
        /// Root, beet, mushroom, soil.
        Earth = "earth",
        /// Salt water, oyster, olive.
        Brine = "brine",
        /// Broth, soy, cured meat.
        Savoury = "savoury",
        /// Cream, butter, egg.
        Cream = "cream",
        /// Wild yeast, ripe cheese, pot-still esters.
        Funk = "funk",
        /// Roots and barks that bite: gentian, wormwood.
        Bittersweet = "bittersweet",
    }
);

words!(
    /// How a drink is made and drunk.
    Family, "a family", {
        Stirred = "stirred",
        BuiltShort = "built short",
        EqualParts = "equal parts",
        Sour = "sour",
        SourWithEgg = "sour with egg",
        BuiltLong = "built long",
        Sparkling = "sparkling",
        FlipAndCream = "flip and cream",
        Blended = "blended",
        Hot = "hot",
        Punch = "punch",
    }
);

words!(
    /// What is done to the drink; it decides how much water melts in.
    Method, "a method", {
        Stirred = "stirred",
        Shaken = "shaken",
        Built = "built",
        Blended = "blended",
        NoIce = "no ice",
    }
);

words!(
    /// The fourteen groups of Annex II of Regulation (EU) No 1169/2011.
    Allergen, "an allergen", {
        Gluten = "gluten",
        Crustaceans = "crustaceans",
        Eggs = "eggs",
        Fish = "fish",
        Peanuts = "peanuts",
        Soybeans = "soybeans",
        Milk = "milk",
        Nuts = "nuts",
        Celery = "celery",
        Mustard = "mustard",
        Sesame = "sesame",
        Sulphites = "sulphites",
        Lupin = "lupin",
        Molluscs = "molluscs",
    }
);

words!(
    /// A diet that an ingredient suits.
    Diet, "a diet", {
        Vegan = "vegan",
        Vegetarian = "vegetarian",
        GlutenFree = "gluten free",
        NoAlcohol = "no alcohol",
    }
);

words!(
    /// Where something stands once it is opened, cut or made.
    Storage, "a place to keep things", {
        Shelf = "shelf",
        Cellar = "cool and dark",
        Fridge = "fridge",
        Freezer = "freezer",
    }
);

words!(
    /// What sort of making a preparation is.
    PrepWay, "a way of making", {
        Syrup = "syrup",
        Cordial = "cordial",
        Shrub = "shrub",
        OilSugar = "oil sugar",
        Infusion = "infusion",
        FatWash = "fat wash",
        MilkPunch = "milk punch",
        AcidAdjusted = "acid adjusted",
        Solution = "solution",
        Foam = "foam",
        Tea = "tea",
        Puree = "puree",
        Nut = "nut milk",
    }
);

words!(
    /// How much of something there is on the back bar; out is 86.
    Level, "a level", {
        Have = "have",
        Low = "low",
        Out = "out",
    }
);

words!(
    /// A climate, by which months bring what.
    Climate, "a climate", {
        Cool = "cool",
        Warm = "warm",
        Tropical = "tropical",
    }
);

impl Default for Climate {
    /// The cool north, which seasons are written for first.
    fn default() -> Self {
        Self::Cool
    }
}
