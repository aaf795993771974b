//! Lines from another program: one answer a line, and a status that tells whether all went well.

use std::io::{self, BufRead, Write};

use super::session::Session;

/// Longest line that is read, in bytes.
const MOST_BYTES: usize = 64 * 1024;

/// Answers every line of the input. The status is that of the first line that had no answer, or 0.
///
/// # Errors
/// Whatever writing the answers comes to.
pub(super) fn converse(
    session: &mut Session,
    mut input: impl BufRead,
    out: &mut impl Write,
    err: &mut impl Write,
    json: bool,
) -> io::Result<u8> {
    let mut status = 0;
    let mut number = 0_usize;
    let mut bytes = Vec::new();
    loop {
        bytes.clear();
        if input.read_until(b'\n', &mut bytes)? == 0 {
            break;
        }
        number += 1;
        let outcome = match readable(&bytes) {
            Ok(line) => session.answer(&line),
            Err(why) => session.unreadable(why, json),
        };
        out.write_all(outcome.out.as_bytes())?;
        out.flush()?;
        if !outcome.err.is_empty() {
            write!(err, "line {number}: {}", outcome.err)?;
        }
        if status == 0 {
            status = outcome.status;
        }
        if outcome.quits {
            break;
        }
    }
    Ok(status)
}

/// A line of text without its end, or why it is none.
fn readable(bytes: &[u8]) -> Result<String, String> {
    if bytes.len() > MOST_BYTES {
        return Err(format!("the line is {} bytes long: at most {MOST_BYTES} are read", bytes.len()));
    }
    let text = std::str::from_utf8(bytes)
        .map_err(|error| format!("the line is not UTF-8 text (byte {} is not)", error.valid_up_to() + 1))?;
    Ok(text.trim_end_matches(['\n', '\r']).to_owned())
}
