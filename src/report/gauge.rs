//! A figure against the bands it should fall in.

/// A figure against the bands it should fall in; see [`Report::gauge`](super::Report::gauge).
#[derive(Debug, Clone, PartialEq)]
pub struct Gauge {
    /// What is measured: `strength`.
    pub label: String,
    /// The figure, in the unit of `bands` and `scale`. Not a number means not known.
    pub value: f64,
    /// The figure as it is to be read, rounded by the caller: `20.7`.
    pub value_text: String,
    /// What follows the figure: `% vol`; may be empty.
    pub unit: String,
    /// Where the figure should fall; the first counts most.
    pub bands: Vec<Span>,
    /// Least and most of what is drawn.
    pub scale: (f64, f64),
}

/// One band of a [`Gauge`], both ends included.
#[derive(Debug, Clone, PartialEq)]
pub struct Span {
    /// Whose band it is: `stirred`; may be empty.
    pub label: String,
    /// The lower end.
    pub least: f64,
    /// The upper end.
    pub most: f64,
}

/// Where a figure stands against a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stand {
    /// Under its lower end.
    Below,
    /// Between its ends, or on one of them.
    Within,
    /// Over its upper end.
    Above,
    /// The figure or the band is not a number.
    Unknown,
}

impl Span {
    /// Where `value` stands.
    pub fn stand(&self, value: f64) -> Stand {
        if value.is_nan() || self.least.is_nan() || self.most.is_nan() {
            Stand::Unknown
        } else if value < self.least {
            Stand::Below
        } else if value > self.most {
            Stand::Above
        } else {
            Stand::Within
        }
    }

    /// The same in words: `above the stirred band 21-29`.
    ///
    /// A figure that is outside but reads the same as the end it has passed is `just` outside, so that the words do
    /// not seem to contradict the number beside them.
    pub fn words(&self, value: f64) -> String {
        let just = |end: f64| if self.round(value) == self.round(end) { "just " } else { "" };
        let whose = if self.label.is_empty() { String::new() } else { format!("{} ", self.label) };
        let ends = self.ends();
        match self.stand(value) {
            Stand::Below => format!("{}below the {whose}band {ends}", just(self.least)),
            Stand::Above => format!("{}above the {whose}band {ends}", just(self.most)),
            Stand::Within => format!("within the {whose}band {ends}"),
            Stand::Unknown => format!("not known; the {whose}band is {ends}"),
        }
    }

    /// Both ends: `21-29`, or `-3 to 5` where a minus sign would be misread.
    fn ends(&self) -> String {
        let (least, most) = (self.round(self.least), self.round(self.most));
        if least.starts_with('-') || most.starts_with('-') {
            format!("{least} to {most}")
        } else {
            format!("{least}-{most}")
        }
    }

    /// A number with about three figures at the size of this band, without useless zeros.
    fn round(&self, number: f64) -> String {
        let size = self.least.abs().max(self.most.abs());
        let decimals = match size {
            s if s >= 100.0 => 0,
            s if s >= 10.0 => 1,
            s if s >= 1.0 => 2,
            _ => 3,
        };
        let text = format!("{number:.decimals$}");
        let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
        if text == "-0" { "0".to_owned() } else { text.to_owned() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn band(least: f64, most: f64) -> Span {
        Span { label: String::new(), least, most }
    }

    #[test]
    fn the_ends_belong_to_the_band() {
        for (value, stand) in [
            (20.9, Stand::Below),
            (21.0, Stand::Within),
            (29.0, Stand::Within),
            (29.1, Stand::Above),
            (f64::NAN, Stand::Unknown),
            (f64::INFINITY, Stand::Above),
        ] {
            assert_eq!(band(21.0, 29.0).stand(value), stand, "{value}");
        }
    }

    #[test]
    fn the_words_say_where_it_stands() {
        assert_eq!(band(21.0, 29.0).words(31.2), "above the band 21-29");
        assert_eq!(band(0.75, 1.5).words(1.0), "within the band 0.75-1.5");
        assert_eq!(band(-3.0, 5.0).words(-4.0), "below the band -3 to 5");
        let stirred = Span { label: "stirred".to_owned(), least: 21.0, most: 86.0 / 3.0 };
        assert_eq!(stirred.words(22.0), "within the stirred band 21-28.7");
        assert_eq!(stirred.words(f64::NAN), "not known; the stirred band is 21-28.7");
    }

    #[test]
    fn a_figure_that_rounds_to_the_end_is_just_outside() {
        assert_eq!(band(21.0, 29.0).words(20.96), "just below the band 21-29");
        assert_eq!(band(21.0, 29.0).words(29.04), "just above the band 21-29");
        assert_eq!(band(21.0, 29.0).words(20.9), "below the band 21-29");
        assert_eq!(band(0.0, 1.5).words(-0.000_1), "just below the band 0-1.5");
    }
}
