//! Medlar: which flavours go together, what can stand in for what, and variants of classic drinks that stay in
//! balance on the marks of a real jigger.
//!
//! The floors, lowest first; none imports a higher one:
//! 1. [`measure`]: quantities as types.
//! 2. [`liquid`]: the physics of mixtures; [`book`]: the records.
//! 3. [`pairing`]: the graph over a book; [`drink`]: a spec in the glass.
//! 4. [`riff`]: building variants; [`service`]: drinks made ahead, and what they cost.
//! 5. [`report`]: results as text, JSON and HTML.
//! 6. [`console`]: the commands, for the shell and the prompt.

pub mod measure;

pub mod liquid;

pub mod book;

pub mod pairing;

pub mod drink;

pub mod riff;

pub mod service;

pub mod report;

pub mod console;
