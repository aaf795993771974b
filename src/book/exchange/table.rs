//! CSV as text: which delimiter, where a row stands, and how much of it is taken.

use std::sync::Arc;

use csv::{ByteRecord, QuoteStyle, ReaderBuilder, Terminator, WriterBuilder};

use super::cell::{Cells, written};
use super::column::{Column, Table};
use super::fault::{NotBrought, RowFault, Spot};

/// Most bytes of a file that is brought in.
pub const MOST_FILE_BYTES: u64 = 64 * 1024 * 1024;
/// Most rows of a table.
pub const MOST_ROWS: usize = 1_000_000;
/// Most columns of a table.
pub const MOST_COLUMNS: usize = 200;
/// Most bytes of a cell.
pub const MOST_CELL_BYTES: usize = 64 * 1024;

/// Rows as the text of a table, in the columns that have something in them. RFC 4180, with a line feed at the end of a line.
pub(super) fn table_text(table: Table, rows: &[Cells]) -> Result<Vec<u8>, csv::Error> {
    let is_used = |column: &&Column| {
        table.is_always_written(column.name) || rows.iter().any(|row| row.contains_key(column.name))
    };
    let columns: Vec<&Column> =
        table.columns().iter().filter(|c| Table::is_written(c.name)).filter(is_used).collect();
    let mut writer = WriterBuilder::new()
        .quote_style(QuoteStyle::Necessary)
        .terminator(Terminator::Any(b'\n'))
        .from_writer(Vec::new());
    writer.write_record(columns.iter().map(|c| c.name))?;
    for row in rows {
        writer.write_record(columns.iter().map(|c| row.get(c.name).map(written).unwrap_or_default()))?;
    }
    writer.into_inner().map_err(|error| error.into_error().into())
}

/// A table as it stands in a file, read row by row.
pub(super) struct Sheet<'t> {
    file: Arc<str>,
    pub(super) header: Vec<String>,
    bytes: &'t [u8],
    reader: csv::Reader<&'t [u8]>,
    delimiter: u8,
    record: ByteRecord,
    rows: usize,
}

/// A row, or why it is none.
pub(super) type Row = Result<(Spot, Vec<String>), RowFault>;

impl<'t> Sheet<'t> {
    /// Reads the names of the columns.
    pub(super) fn open(file: &str, bytes: &'t [u8]) -> Result<Self, NotBrought> {
        let name = || file.to_owned();
        if bytes.len() as u64 > MOST_FILE_BYTES {
            return Err(NotBrought::TooLarge {
                file: name(),
                bytes: bytes.len() as u64,
                most: MOST_FILE_BYTES,
            });
        }
        let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
        let delimiter = delimiter_of(bytes);
        let mut reader =
            ReaderBuilder::new().delimiter(delimiter).has_headers(false).flexible(true).from_reader(bytes);
        let mut record = ByteRecord::new();
        let there = reader.read_byte_record(&mut record).unwrap_or(false);
        if !there || record.iter().all(|cell| cell.trim_ascii().is_empty()) {
            return Err(NotBrought::Empty { file: name() });
        }
        if record.len() > MOST_COLUMNS {
            return Err(NotBrought::TooManyColumns { file: name(), found: record.len(), most: MOST_COLUMNS });
        }
        let header: Result<Vec<String>, _> =
            record.iter().map(|cell| std::str::from_utf8(cell).map(|text| text.trim().to_owned())).collect();
        let header = header.map_err(|_| NotBrought::NotText { file: name() })?;
        if header.iter().any(|cell| cell.len() > MOST_CELL_BYTES) {
            return Err(NotBrought::NotText { file: name() });
        }
        Ok(Self { file: Arc::from(file), header, bytes, reader, delimiter, record, rows: 0 })
    }

    /// Whether a comma between digits is a decimal one here.
    pub(super) fn has_decimal_commas(&self) -> bool {
        self.delimiter != b','
    }

    /// The next row that has anything in it.
    pub(super) fn next(&mut self) -> Result<Option<Row>, NotBrought> {
        loop {
            match self.reader.read_byte_record(&mut self.record) {
                Ok(true) => {}
                Ok(false) => return Ok(None),
                Err(error) => {
                    return Err(NotBrought::Unreadable {
                        file: self.file.to_string(),
                        why: error.to_string(),
                    });
                }
            }
            if self.record.iter().all(|cell| cell.trim_ascii().is_empty()) {
                continue;
            }
            self.rows += 1;
            if self.rows > MOST_ROWS {
                return Err(NotBrought::TooManyRows { file: self.file.to_string(), most: MOST_ROWS });
            }
            return Ok(Some(self.row()));
        }
    }

    fn row(&self) -> Row {
        let line = self.record.position().map_or(0, |position| self.line_of(position));
        let spot = Spot { file: Arc::clone(&self.file), line };
        let fault = |message: String, hint: Option<&str>| {
            Err(RowFault { spot: spot.clone(), message, hint: hint.map(str::to_owned) })
        };
        // Blank cells beyond the header are what spreadsheets leave behind.
        let beyond = self.record.iter().skip(self.header.len()).any(|cell| !cell.trim_ascii().is_empty());
        if beyond {
            let message =
                format!("{} cells, the header has {} columns", self.record.len(), self.header.len());
            return fault(message, Some("put quotes around a cell that has the delimiter in it"));
        }
        let mut cells = Vec::with_capacity(self.header.len());
        for (cell, column) in self.record.iter().zip(&self.header) {
            if cell.len() > MOST_CELL_BYTES {
                let message =
                    format!("{column}: {} bytes in one cell: at most {MOST_CELL_BYTES}", cell.len());
                return fault(message, Some("is a quote opened and not closed?"));
            }
            match std::str::from_utf8(cell) {
                Ok(text) => cells.push(text.to_owned()),
                Err(error) => {
                    let byte = cell.get(error.valid_up_to()).copied().unwrap_or_default();
                    let message = format!("{column}: byte 0x{byte:02x} is not UTF-8 text");
                    return fault(message, Some("save the file as UTF-8"));
                }
            }
        }
        Ok((spot, cells))
    }

    /// The line on which a row stands. The reader's position is before line breaks that it has still to skip.
    fn line_of(&self, position: &csv::Position) -> u64 {
        let at = usize::try_from(position.byte()).unwrap_or(usize::MAX);
        let ahead = self.bytes.get(at..).unwrap_or_default();
        let breaks = ahead.iter().take_while(|byte| matches!(byte, b'\n' | b'\r'));
        position.line() + breaks.filter(|byte| **byte == b'\n').count() as u64
    }
}

/// The delimiter that the first line has most of, outside of quotes.
fn delimiter_of(bytes: &[u8]) -> u8 {
    let mut counts = [(b',', 0_usize), (b';', 0), (b'\t', 0)];
    let mut quoted = false;
    for byte in bytes.iter().take(MOST_CELL_BYTES) {
        match byte {
            b'"' => quoted = !quoted,
            b'\n' | b'\r' if !quoted => break,
            byte if !quoted => {
                for (delimiter, count) in &mut counts {
                    *count += usize::from(byte == delimiter);
                }
            }
            _ => {}
        }
    }
    // The first of equals, so a comma where there is none of them.
    counts.into_iter().rev().max_by_key(|(_, count)| *count).map_or(b',', |(delimiter, _)| delimiter)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rows(text: &str) -> (Vec<String>, Vec<(u64, Vec<String>)>) {
        let mut sheet = Sheet::open("t.csv", text.as_bytes()).unwrap();
        let mut rows = Vec::new();
        while let Some(row) = sheet.next().unwrap() {
            let (spot, cells) = row.unwrap();
            rows.push((spot.line, cells));
        }
        (sheet.header, rows)
    }

    #[test]
    fn the_delimiter_is_found_out_and_lines_are_counted() {
        for text in ["a,b\n1,2\n", "\u{feff}a;b\r\n1;2\r\n", "a\tb\n1\t2", "\"a\";\"b\"\n1;2"] {
            let (header, rows) = rows(text);
            assert_eq!(header, ["a", "b"], "{text:?}");
            assert_eq!(rows, [(2, vec!["1".to_owned(), "2".to_owned()])], "{text:?}");
        }
        let (_, found) = rows("a,b\n\n1,\"x\ny\"\n,\n3,4\n");
        let lines: Vec<u64> = found.iter().map(|(line, _)| *line).collect();
        assert_eq!(lines, [3, 6]);
    }

    #[test]
    fn what_is_too_much_is_refused() {
        assert!(matches!(Sheet::open("t", b""), Err(NotBrought::Empty { .. })));
        assert!(matches!(Sheet::open("t", b"\n\n"), Err(NotBrought::Empty { .. })));
        assert!(matches!(Sheet::open("t", b"a,\xff\n"), Err(NotBrought::NotText { .. })));
        let wide = vec!["c"; MOST_COLUMNS + 1].join(",");
        assert!(matches!(Sheet::open("t", wide.as_bytes()), Err(NotBrought::TooManyColumns { .. })));
        let long = format!("a\n{}\n", "x".repeat(MOST_CELL_BYTES + 1));
        let mut sheet = Sheet::open("t", long.as_bytes()).unwrap();
        let fault = sheet.next().unwrap().unwrap().unwrap_err();
        assert!(fault.message.contains("65537 bytes"), "{fault}");
    }
}
