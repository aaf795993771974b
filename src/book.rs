//! The records of a book: reading, checking and finding them.
//!
//! The build script compiles this floor too, to read the built-in pack; only then is there no pack that it left.

mod bond;
#[cfg(compiled_pack)]
mod built_in;
mod caution;
mod check;
mod compiled;
mod draft;
mod edge;
#[cfg(compiled_pack)]
pub mod exchange;
mod fault;
mod fold;
mod fruit;
mod hold_back;
mod house;
mod id;
mod ingredient;
mod keeping;
#[cfg(compiled_pack)]
mod leaf;
mod list;
#[cfg(compiled_pack)]
mod merge;
mod names;
mod near;
mod origin;
mod pack;
mod prep;
mod price;
mod record_kind;
mod season;
mod shelf;
mod side_by_side;
mod source;
mod spread;
mod stock;
#[cfg(compiled_pack)]
mod store;
mod tasting;
mod template;
mod weighing;
mod word;
mod write;

pub use bond::{Bond, pair_stem};
#[cfg(compiled_pack)]
pub use built_in::{built_in, read_built_in, read_packs};
pub use caution::Caution;
pub use compiled::{Compiled, NotCompiled};
pub use edge::{Edge, Said};
pub use fault::{Fault, Place, Problem};
pub use fold::fold;
pub use fruit::{Flesh, Yield};
pub use hold_back::HoldBack;
#[cfg(compiled_pack)]
pub use house::{
    Edited, FieldChange, NotEdited, OpenedHouse, RecordChange, RecordEdit, check_record, ingredient_fields,
    keep, makeup_value, mentions, open_house, prep_fields, ron_value, template_fields, try_out,
};
pub use house::{HouseBook, Whose};
pub use id::{CautionId, IngredientId, NotAnId, TemplateId};
pub use ingredient::{Climates, Ingredient, Makeup, Origins};
pub use keeping::Keeping;
#[cfg(compiled_pack)]
pub use leaf::{Leaf, LeafFault, LeafProblem, overlay};
#[cfg(compiled_pack)]
pub use merge::{Merged, merge};
pub use names::{Lookup, Names, Target, Wanted};
pub use near::nearest_word;
pub use origin::Origin;
pub use pack::{FORMAT, Reading, read, read_folders};
pub use prep::{Prep, PrepLine};
pub use price::Price;
pub use record_kind::RecordKind;
pub use season::{Presence, Season, When};
pub use shelf::Book;
pub use source::{Content, MOST_BYTES, Source};
pub use spread::Spread;
pub use stock::Stock;
#[cfg(compiled_pack)]
pub use store::{
    ChangeFault, ChangeId, Changed, Contents, Disk, Entry, FileChange, FileFacts, FileKind, Folder, History,
    Holder, MOST_RECORD_BYTES, NotAChangeId, NotARecordPath, Occasion, RecordPath, Sheaf, Stamp, Store,
    StoreFault, StoreProblem, Trouble, Turn, Which, Writer,
};
pub use tasting::{Tasted, TastedThing, Tasting, Told};
pub use template::{Garnish, Slot, Template};
pub use weighing::Weighing;
pub use word::{
    Allergen, Climate, Diet, Facet, Family, Kind, Level, Method, PrepWay, Role, Storage, UnknownWord,
};
pub use write::{written_cautions, written_edges, written_ingredients, written_templates};
