//! Rows of a table of drinks, a row for each line, as drinks.

use std::collections::HashMap;
use std::sync::Arc;

use super::cell::Cells;
use super::fault::{RowFault, Spot};
use super::fields::{CellFault, Taking};
use super::flat;
use super::item::Item;
use super::rows::{Bringing, Read, text};
use super::slug::slug;
use super::who::Who;
use crate::book::id::TemplateId;
use crate::book::template::Template;

/// The id that a row says, or that its name has in the book, or that its name makes.
fn drink_id(cells: &Cells, who: &Who<'_>) -> Option<TemplateId> {
    if let Some(id) = text(cells, "id") {
        return TemplateId::new(id).ok();
    }
    let name = text(cells, "drink")?;
    who.drink_named_exactly(name).or_else(|| TemplateId::new(&slug(name)?).ok())
}

impl Bringing<'_> {
    /// Gathers the rows of each drink, in the order in which drinks come up.
    pub(super) fn drinks(&mut self, read: &Read, rows: &[(Spot, Cells)]) {
        let mut order: Vec<TemplateId> = Vec::new();
        let mut gathered: HashMap<TemplateId, Vec<&(Spot, Cells)>> = HashMap::new();
        let mut last: Option<TemplateId> = None;
        for row in rows {
            let (spot, cells) = row;
            let named = ["id", "drink"].iter().any(|column| cells.contains_key(column));
            // Under the first line of a drink its name may be left out.
            let id = if named { drink_id(cells, self.who) } else { last.clone() };
            let Some(id) = id else {
                let message = "drink: nothing is written that makes an id".to_owned();
                self.brought.fault(RowFault { spot: spot.clone(), message, hint: None });
                continue;
            };
            last = Some(id.clone());
            gathered.entry(id.clone()).or_insert_with(|| {
                order.push(id);
                Vec::new()
            });
            if let Some(rows) = last.as_ref().and_then(|id| gathered.get_mut(id)) {
                rows.push(row);
            }
        }
        for id in order {
            let rows = gathered.remove(&id).unwrap_or_default();
            let Some((first, _)) = rows.first() else { continue };
            match self.drink(read, &id, &rows) {
                Ok(drink) => self.brought.items.push((first.clone(), Item::Drink(Box::new(drink)))),
                Err(faults) => {
                    for (spot, fault) in faults {
                        self.refuse(&spot, vec![fault]);
                    }
                }
            }
        }
    }

    fn drink(
        &self,
        read: &Read,
        id: &TemplateId,
        rows: &[&(Spot, Cells)],
    ) -> Result<Template, Vec<(Spot, CellFault)>> {
        let under = self.who.book().template(id);
        let under_rows = under.map(|t| flat::drink_rows(t, self.who)).unwrap_or_default();
        let mut head = Cells::new();
        let mut faults = Vec::new();
        for (spot, cells) in rows {
            for (column, cell) in cells.iter().filter(|(column, _)| is_of_the_drink(column)) {
                match head.get(column) {
                    Some(before) if before != cell => {
                        let message = format!("{column}: the drink's rows do not agree on it");
                        let hint = Some("write it once, in the drink's first row".to_owned());
                        faults.push((spot.clone(), CellFault { message, hint }));
                    }
                    _ => {
                        head.insert(column, cell.clone());
                    }
                }
            }
        }
        let first: Cells = under_rows.first().cloned().unwrap_or_default();
        let first = first.into_iter().filter(|(column, _)| is_of_the_drink(column)).collect();
        let head = flat::over(first, head);
        // What the file has no column for stays as it is in a line of the same ingredient.
        let lines: Vec<Cells> =
            rows.iter().map(|(_, cells)| self.line_over(read, cells, &under_rows)).collect();
        let mut head = Taking::new(&head, self.who, read.comma);
        let mut lines: Vec<Taking<'_>> = lines.iter().map(|l| Taking::new(l, self.who, read.comma)).collect();
        let drink = flat::drink_of(&mut head, &mut lines, id.clone(), |id| self.who.book().ingredient(id));
        if let Some(drink) = drink
            && faults.is_empty()
        {
            return Ok(drink);
        }
        let spot =
            rows.first().map_or_else(|| Spot { file: Arc::from(""), line: 0 }, |(spot, _)| spot.clone());
        faults.extend(head.faults.into_iter().map(|fault| (spot.clone(), fault)));
        for (line, (spot, _)) in lines.into_iter().zip(rows) {
            faults.extend(line.faults.into_iter().map(|fault| (spot.clone(), fault)));
        }
        Err(faults)
    }

    fn line_over(&self, read: &Read, cells: &Cells, under: &[Cells]) -> Cells {
        let of = |cells: &Cells| self.who.ingredient(text(cells, "ingredient")?).ok();
        let Some(same) = of(cells).and_then(|id| under.iter().find(|line| of(line).as_ref() == Some(&id)))
        else {
            return cells.clone();
        };
        let left = same.iter().filter(|(column, _)| is_of_a_line(column) && !read.header.has(column));
        flat::over(left.map(|(column, cell)| (*column, cell.clone())).collect(), cells.clone())
    }
}

fn is_of_a_line(column: &str) -> bool {
    matches!(column, "amount" | "unit" | "ingredient" | "role" | "least" | "most" | "open")
}

fn is_of_the_drink(column: &str) -> bool {
    !is_of_a_line(column) && column != "id"
}
