//! Laying small papers out on sheets.
//!
//! A sheet is a grid of places of one size. Each paper gets the least of these that it fits: one place, a whole row, a
//! sheet of its own; in each of them type is tried from the largest to the smallest before more room is taken. What
//! does not even fit a sheet in the smallest type runs on over several. The order of the papers is kept, so a place
//! may stay empty.

use serde::Serialize;

use super::Sheet;

/// White left around a sheet of small papers.
pub(super) const MARGIN_MM: f64 = 7.0;
/// White between two places.
pub(super) const GAP_MM: f64 = 4.0;
/// Given away at the foot, so that a sheet that is full does not open another.
const SPARE_MM: f64 = 1.5;

/// How a sheet is divided.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Places {
    columns: usize,
    rows: usize,
    gap_mm: f64,
    place_height_mm: f64,
    whole_height_mm: f64,
    #[serde(skip)]
    width_mm: f64,
}

/// How much of a sheet a paper gets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Extent {
    /// One place.
    Place,
    /// A whole row.
    Row,
    /// A sheet of its own.
    Whole,
    /// Sheets of its own, as many as it needs.
    Over,
}

/// A paper and where it goes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub(super) struct Placed<T> {
    pub extent: Extent,
    pub type_pt: f64,
    pub width_mm: f64,
    pub item: T,
}

impl Places {
    /// A sheet in so many columns and rows.
    pub(super) fn new(sheet: Sheet, columns: usize, rows: usize) -> Self {
        let (width, height) = sheet.size_mm();
        let (width_mm, whole_height_mm) = (width - 2.0 * MARGIN_MM, height - 2.0 * MARGIN_MM - SPARE_MM);
        let place_height_mm = (whole_height_mm - GAP_MM * (rows - 1) as f64) / rows as f64;
        Self { columns, rows, gap_mm: GAP_MM, place_height_mm, whole_height_mm, width_mm }
    }

    fn place_width_mm(&self) -> f64 {
        (self.width_mm - GAP_MM * (self.columns - 1) as f64) / self.columns as f64
    }

    /// The least extent of a sheet that is high enough. `height_mm` tells how high a paper is in a box of a width, in
    /// type of a size.
    fn fit(&self, types_pt: &[f64], height_mm: impl Fn(f64, f64) -> f64) -> (Extent, f64) {
        let extents = [
            (Extent::Place, self.place_width_mm(), self.place_height_mm),
            (Extent::Row, self.width_mm, self.place_height_mm),
            (Extent::Whole, self.width_mm, self.whole_height_mm),
        ];
        for (extent, width, height) in extents {
            if extent == Extent::Row && self.columns == 1 {
                continue;
            }
            if let Some(type_pt) = types_pt.iter().find(|type_pt| height_mm(width, **type_pt) <= height) {
                return (extent, *type_pt);
            }
        }
        (Extent::Over, types_pt.iter().copied().fold(f64::INFINITY, f64::min))
    }

    /// The papers in their order, sheet by sheet, in the first of the sizes of type, largest first, that will do.
    pub(super) fn lay<T>(
        &self,
        items: impl IntoIterator<Item = T>,
        types_pt: &[f64],
        height_mm: impl Fn(&T, f64, f64) -> f64,
    ) -> Vec<Vec<Placed<T>>> {
        let (mut sheets, mut sheet, mut used) = (Vec::new(), Vec::new(), 0_usize);
        let all = self.columns * self.rows;
        for item in items {
            let (extent, type_pt) = self.fit(types_pt, |width, type_pt| height_mm(&item, width, type_pt));
            let from = match extent {
                Extent::Place => used,
                Extent::Row => used.next_multiple_of(self.columns),
                Extent::Whole | Extent::Over => used.next_multiple_of(all),
            };
            let takes = match extent {
                Extent::Place => 1,
                Extent::Row => self.columns,
                Extent::Whole | Extent::Over => all,
            };
            used = from + takes;
            if used > all && !sheet.is_empty() {
                sheets.push(std::mem::take(&mut sheet));
                used = takes;
            }
            let width_mm = if extent == Extent::Place { self.place_width_mm() } else { self.width_mm };
            sheet.push(Placed { extent, type_pt, width_mm, item });
        }
        if !sheet.is_empty() {
            sheets.push(sheet);
        }
        sheets
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const TYPES: [f64; 2] = [10.0, 9.0];

    fn four() -> Places {
        Places::new(Sheet::A4, 2, 2)
    }

    /// A paper that is as high as it says, half as high on a whole row, and the lower the smaller its type.
    fn height(places: &Places, full: f64, width: f64, type_pt: f64) -> f64 {
        let one_column = width < places.width_mm;
        full * if one_column { 1.0 } else { 0.5 } * type_pt / 10.0
    }

    fn extent(full: f64) -> (Extent, f64) {
        four().fit(&TYPES, |width, type_pt| height(&four(), full, width, type_pt))
    }

    #[test]
    fn the_least_part_that_is_high_enough_is_taken() {
        let place = four().place_height_mm;
        assert_eq!(extent(place), (Extent::Place, 10.0));
        assert_eq!(extent(place * 1.1), (Extent::Place, 9.0));
        assert_eq!(extent(place * 1.9), (Extent::Row, 10.0));
        assert_eq!(extent(place * 2.1), (Extent::Row, 9.0));
        assert_eq!(extent(place * 3.9), (Extent::Whole, 10.0));
        assert_eq!(extent(place * 4.3), (Extent::Whole, 9.0));
        assert_eq!(extent(place * 9.0), (Extent::Over, 9.0));
    }

    #[test]
    fn papers_keep_their_order_and_their_sheets() {
        let place = four().place_height_mm;
        let laid = |heights: &[f64]| -> Vec<Vec<f64>> {
            let places = four();
            let sheets = places.lay(heights.to_vec(), &TYPES, |full, width, type_pt| {
                height(&places, *full * place, width, type_pt)
            });
            sheets.into_iter().map(|sheet| sheet.into_iter().map(|placed| placed.item).collect()).collect()
        };
        assert_eq!(laid(&[]), Vec::<Vec<f64>>::new());
        assert_eq!(laid(&[1.0; 4]), vec![vec![1.0; 4]]);
        assert_eq!(laid(&[1.0; 5]), vec![vec![1.0; 4], vec![1.0]]);
        // A row begins a row: the place beside the first paper stays empty.
        assert_eq!(laid(&[1.0, 1.9, 1.0]), vec![vec![1.0, 1.9], vec![1.0]]);
        assert_eq!(laid(&[3.9, 1.0, 9.0, 1.0]), vec![vec![3.9], vec![1.0], vec![9.0], vec![1.0]]);
    }

    #[test]
    fn places_fill_the_sheet_and_no_more() {
        for sheet in Sheet::ALL {
            let places = Places::new(sheet, 2, 4);
            let high = 4.0 * places.place_height_mm + 3.0 * GAP_MM + 2.0 * MARGIN_MM;
            assert!((high + SPARE_MM - sheet.size_mm().1).abs() < 1e-9);
            let wide = 2.0 * places.place_width_mm() + GAP_MM + 2.0 * MARGIN_MM;
            assert!((wide - sheet.size_mm().0).abs() < 1e-9);
        }
    }
}
