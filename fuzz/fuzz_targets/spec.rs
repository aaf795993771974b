//! Any text as an amount: read or told, never a panic; what is read prints and reads again the same.
#![no_main]

use libfuzzer_sys::fuzz_target;
use medlar::measure::Amount;

fuzz_target!(|text: String| {
    if let Ok((amount, _)) = Amount::split_from(&text) {
        assert_eq!(amount.to_string().parse(), Ok(amount));
    }
});
