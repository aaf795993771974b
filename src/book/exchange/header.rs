//! Which column of a file is which.

use super::cell::{Cells, read};
use super::column::{Column, Table};
use super::fault::NotBrought;
use crate::book::fold::fold;
use crate::book::near::nearest_word;

/// What the columns of a file mean.
#[derive(Debug)]
pub(super) struct Header {
    /// For each column of the file, the column it is.
    columns: Vec<Option<&'static str>>,
    /// Columns that are left out.
    pub(super) unknown: Vec<String>,
}

/// A column that a person named: `Bottle price=paid`.
pub type Mapped = (String, String);

fn plain(name: &str) -> String {
    fold(name)
}

fn means(column: &Column, key: &str) -> bool {
    fold(column.name) == key
}

fn is_also(column: &Column, key: &str) -> bool {
    column.also.iter().any(|also| fold(also) == key)
}

/// The column of a name: its own first, then what people call it.
fn column_of(table: Table, name: &str) -> Option<&'static str> {
    let key = plain(name);
    let columns = table.columns();
    let found = columns.iter().find(|c| means(c, &key)).or_else(|| columns.iter().find(|c| is_also(c, &key)));
    found.map(|c| c.name)
}

impl Header {
    /// Matches the names of a file's columns.
    pub(super) fn of(
        file: &str,
        table: Table,
        names: &[String],
        mapped: &[Mapped],
    ) -> Result<Self, NotBrought> {
        let mut columns: Vec<Option<&'static str>> = vec![None; names.len()];
        for (found, field) in mapped {
            let field = field_of(table, field)?;
            let at = names.iter().position(|name| plain(name) == plain(found) && !plain(found).is_empty());
            let at = at.or_else(|| names.iter().position(|name| name == found));
            let at = at.ok_or_else(|| NotBrought::NothingToMap {
                file: file.to_owned(),
                found: found.clone(),
                known: names.to_vec(),
            })?;
            columns[at] = Some(field);
        }
        let by_hand = columns.clone();
        // A column's own name goes before what it is also called; what was said by hand goes before both.
        for own in [true, false] {
            for (at, name) in names.iter().enumerate() {
                if columns[at].is_some() {
                    continue;
                }
                let key = plain(name);
                let found =
                    table.columns().iter().find(|c| if own { means(c, &key) } else { is_also(c, &key) });
                let Some(found) = found.filter(|c| !by_hand.contains(&Some(c.name))) else { continue };
                match columns.iter().position(|c| *c == Some(found.name)) {
                    None => columns[at] = Some(found.name),
                    // Of two that are only also called so, nobody can tell which is meant.
                    Some(first) if means_so(table, &names[first], found.name) == own => {
                        return Err(NotBrought::ColumnTwice {
                            file: file.to_owned(),
                            one: names[first].clone(),
                            other: name.clone(),
                            column: found.name,
                        });
                    }
                    Some(_) => {}
                }
            }
        }
        let unknown =
            names.iter().zip(&columns).filter(|(name, column)| column.is_none() && !name.is_empty());
        let unknown = unknown.map(|(name, _)| name.clone()).collect();
        let header = Self { columns, unknown };
        header.complete(file, table, names)?;
        Ok(header)
    }

    fn complete(&self, file: &str, table: Table, names: &[String]) -> Result<(), NotBrought> {
        for set in table.needed() {
            if !set.iter().any(|column| self.has(column)) {
                let wanted = set[0];
                return Err(NotBrought::NoColumn {
                    file: file.to_owned(),
                    table: table.name(),
                    wanted,
                    found: names.to_vec(),
                    hint: self.hint(table, wanted),
                });
            }
        }
        Ok(())
    }

    /// What to do about a column that is not there.
    fn hint(&self, table: Table, wanted: &'static str) -> String {
        match (likely(table, wanted, &self.unknown), self.unknown.first()) {
            (Some(likely), _) => format!("if it is '{likely}', say --map \"{likely}={wanted}\""),
            (None, Some(unknown)) => format!("say which it is: --map \"{unknown}={wanted}\""),
            (None, None) => format!("add a column '{wanted}'"),
        }
    }

    /// Whether the file has a column.
    pub(super) fn has(&self, column: &str) -> bool {
        self.columns.iter().flatten().any(|c| *c == column)
    }

    /// What a row says.
    pub(super) fn cells(&self, row: &[String]) -> Cells {
        let cells = self.columns.iter().zip(row).filter_map(|(column, raw)| Some(((*column)?, read(raw)?)));
        cells.collect()
    }
}

/// Whether a name is a column's own.
fn means_so(table: Table, name: &str, column: &str) -> bool {
    table.columns().iter().any(|c| c.name == column && means(c, &plain(name)))
}

fn field_of(table: Table, field: &str) -> Result<&'static str, NotBrought> {
    column_of(table, field).ok_or_else(|| NotBrought::NoSuchField {
        table: table.name(),
        found: field.to_owned(),
        known: table.columns().iter().map(|c| c.name).collect(),
    })
}

/// Which of the columns that are left over may be the one that is missing.
fn likely(table: Table, wanted: &'static str, unknown: &[String]) -> Option<String> {
    let column = table.columns().iter().find(|c| c.name == wanted)?;
    let words: Vec<&str> = std::iter::once(column.name).chain(column.also.iter().copied()).collect();
    let shares = |name: &&String| {
        let key = plain(name);
        key.split(' ').any(|word| words.iter().any(|w| fold(w) == word))
    };
    let near = |name: &&String| nearest_word(&plain(name), words.iter().copied()).is_some();
    unknown.iter().find(shares).or_else(|| unknown.iter().find(near)).cloned()
}

/// The table whose columns a file has: its name tells, else what it needs.
pub(super) fn table_of(file: &str, stem: &str, names: &[String]) -> Result<Table, NotBrought> {
    if let Some(table) = Table::named(&stem.to_lowercase()) {
        return Ok(table);
    }
    let key = plain(stem);
    let by_word = Table::ALL.into_iter().find(|table| key.split(' ').any(|word| word == fold(table.name())));
    let fits = |table: &Table| {
        let has = |column: &&str| names.iter().any(|name| column_of(*table, name) == Some(*column));
        table.needed().iter().all(|set| set.iter().any(has))
    };
    let order = [
        Table::Affinities,
        Table::Specs,
        Table::Prices,
        Table::Tastings,
        Table::Weighings,
        Table::Preps,
        Table::Stock,
        Table::Cautions,
        Table::Ingredients,
        Table::Measures,
    ];
    by_word
        .filter(fits)
        .or_else(|| order.into_iter().find(fits))
        .or(by_word)
        .ok_or_else(|| NotBrought::WhatTable { file: file.to_owned(), found: names.to_vec() })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(text: &str) -> Vec<String> {
        text.split(',').map(str::to_owned).collect()
    }

    #[test]
    fn usual_names_are_known_and_the_others_are_told() {
        let header =
            Header::of("f", Table::Prices, &names("Product,Price,Bottle Size,Supplier,Till no"), &[])
                .unwrap();
        assert!(["ingredient", "paid", "size", "note"].iter().all(|c| header.has(c)), "{header:?}");
        assert_eq!(header.unknown, ["Till no"]);
        let error = Header::of("f", Table::Prices, &names("Item,Bottle price,Size"), &[]).unwrap_err();
        assert_eq!(error.hint().unwrap(), "if it is 'Bottle price', say --map \"Bottle price=paid\"");
        let mapped = [("bottle price".to_owned(), "paid".to_owned())];
        assert!(Header::of("f", Table::Prices, &names("Item,Bottle price,Size"), &mapped).is_ok());
    }

    #[test]
    fn two_columns_of_one_meaning_are_refused_unless_one_has_its_own_name() {
        let error = Header::of("f", Table::Prices, &names("item,price,cost,size"), &[]).unwrap_err();
        assert!(matches!(error, NotBrought::ColumnTwice { column: "paid", .. }), "{error}");
        let header = Header::of("f", Table::Prices, &names("ingredient,item,paid,size"), &[]).unwrap();
        assert_eq!(header.unknown, ["item"]);
    }

    #[test]
    fn a_table_is_told_by_its_name_or_its_columns() {
        for (stem, columns, table) in [
            ("edges", "x,y", Table::Affinities),
            ("bar", "from,to,weight", Table::Affinities),
            ("bar", "drink,amount,ingredient", Table::Specs),
            ("autumn prices", "item,paid,size", Table::Prices),
            ("bar", "name,kind", Table::Ingredients),
            ("bar", "item,on hand", Table::Stock),
        ] {
            assert_eq!(table_of("f", stem, &names(columns)).unwrap(), table, "{stem} {columns}");
        }
        assert!(table_of("f", "bar", &names("x,y")).is_err());
    }
}
