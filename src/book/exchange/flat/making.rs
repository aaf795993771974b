//! A preparation and a caution as rows, and the preparation back.

use crate::book::caution::Caution;
use crate::book::exchange::cell::Cells;
use crate::book::exchange::fault::quoted;
use crate::book::exchange::fields::Taking;
use crate::book::exchange::filling::Filling;
use crate::book::id::IngredientId;
use crate::book::origin::Origin;
use crate::book::prep::{Prep, PrepLine};
use crate::measure::{Amount, Grade, Mass};

/// A caution as cells.
pub(in super::super) fn caution_cells(caution: &Caution) -> Cells {
    let mut row = Filling::default();
    row.text("id", caution.id.as_str());
    row.text("text", &caution.text);
    row.text("carries", if caution.carries { "yes" } else { "no" });
    row.origin("origin", &caution.origin);
    row.done()
}

/// A preparation as cells.
pub(in super::super) fn prep_cells(prep: &Prep) -> Cells {
    let mut row = Filling::default();
    row.text("makes", prep.makes.as_str());
    row.text("way", prep.way.name());
    row.list(
        "lines",
        prep.lines.iter().map(|line| {
            let stays = line.stays.value();
            let stays = if stays < 1.0 { format!(": {stays}") } else { String::new() };
            format!("{}: {}{stays}", line.amount, line.of)
        }),
    );
    row.not_nought("boils off", prep.boils_off);
    row.not_nought("lost", prep.lost);
    row.list("steps", &prep.steps);
    row.keeping(&prep.keeps);
    row.list("cautions", prep.cautions.iter().map(|c| c.as_str()));
    row.origin("origin", &prep.origin);
    row.done()
}

/// The preparation of a row's cells.
pub(in super::super) fn prep_of(row: &mut Taking<'_>, makes: IngredientId) -> Option<Prep> {
    row.needed("way");
    let way = row.word("way");
    let lines = row.list("lines").iter().filter_map(|line| line_of(row, line)).collect();
    let keeps = row.keeping();
    if keeps.is_none() {
        row.needed("store");
    }
    let prep = Prep {
        makes,
        way: way?,
        lines,
        boils_off: row.number("boils off").unwrap_or(Mass::ZERO),
        lost: row.number("lost").unwrap_or(Grade::clamped(0.0)),
        steps: row.list("steps"),
        keeps: keeps?,
        cautions: row.cautions(),
        origin: row.origin("origin").unwrap_or(Origin::House),
    };
    row.faults.is_empty().then_some(prep)
}

fn line_of(row: &mut Taking<'_>, line: &str) -> Option<PrepLine> {
    let mut parts = line.split(':').map(str::trim);
    let (Some(amount), Some(of), stays, None) = (parts.next(), parts.next(), parts.next(), parts.next())
    else {
        let hint = "write it like 300 g: raspberry: 0.8, the last for the share that stays".to_owned();
        row.fault("lines", format!("{} is no line", quoted(line)), Some(hint));
        return None;
    };
    let amount = row.taken("lines", amount.parse::<Amount>());
    let of = row.ingredient_of("lines", of);
    let stays = match stays {
        None => Some(Grade::clamped(1.0)),
        Some(share) => {
            let read = share.parse::<f64>().map_err(|_| format!("{} is no share: 0 to 1", quoted(share)));
            let value = row.taken("lines", read)?;
            row.taken("lines", Grade::new(value))
        }
    };
    Some(PrepLine { of: of?, amount: amount?, stays: stays? })
}
