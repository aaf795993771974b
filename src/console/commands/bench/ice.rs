//! Options that say what ice, drink and vessel are like.

use crate::book::Method;
use crate::console::failure::Failure;
use crate::liquid::chill::{Conditions, Ends, Stuff, Vessel};
use crate::measure::{Grade, Mass, Temperature};

/// What ice, drink and vessel are like, for a balance of heat.
#[derive(Debug, Clone, Default, clap::Args)]
pub(in crate::console) struct IceArgs {
    /// How much ice (250 g)
    #[arg(long, value_name = "MASS", allow_hyphen_values = true, help_heading = "Ice")]
    ice: Option<Mass>,
    /// How cold the ice is (0 C)
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true, help_heading = "Ice")]
    ice_at: Option<Temperature>,
    /// Water clinging to the ice, as per cent of its weight (0)
    #[arg(long, value_name = "PERCENT", value_parser = percent, allow_hyphen_values = true, help_heading = "Ice")]
    wet: Option<Grade>,
    /// How warm the drink is before (20 C)
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true, help_heading = "Ice")]
    drink_at: Option<Temperature>,
    /// What the tin or mixing glass weighs, if it is cooled along
    #[arg(long, value_name = "MASS", allow_hyphen_values = true, help_heading = "Ice")]
    vessel: Option<Mass>,
    /// What it is made of: steel or glass (steel)
    #[arg(long, value_name = "STUFF", value_parser = stuff, help_heading = "Ice")]
    vessel_of: Option<Stuff>,
    /// How warm the vessel is before (20 C)
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true, help_heading = "Ice")]
    vessel_at: Option<Temperature>,
    /// Where the drink ends, if you have measured it
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true, help_heading = "Ice")]
    ends_at: Option<Temperature>,
    /// For a drink built over ice: how long it stands (5)
    #[arg(long, value_name = "MINUTES", value_parser = minutes, allow_hyphen_values = true, help_heading = "Ice")]
    minutes: Option<f64>,
}

fn percent(text: &str) -> Result<Grade, String> {
    let number = text.trim().trim_end_matches('%').trim();
    let share: f64 = number.parse().map_err(|_| "write per cent of the ice's weight: 0 to 100".to_owned())?;
    Grade::new(share / 100.0).map_err(|_| format!("{number} % is no share: allowed is 0 to 100 %"))
}

fn stuff(text: &str) -> Result<Stuff, String> {
    let word = text.trim().to_lowercase();
    Stuff::ALL.into_iter().find(|s| s.name() == word).ok_or_else(|| "allowed are steel and glass".to_owned())
}

/// Longest that a drink stands over ice here, minutes.
const LONGEST: f64 = 120.0;

fn minutes(text: &str) -> Result<f64, String> {
    let number = text.trim().trim_end_matches("minutes").trim_end_matches("min").trim();
    let minutes: f64 = number.parse().map_err(|_| "write minutes: 0 to 120".to_owned())?;
    if (0.0..=LONGEST).contains(&minutes) {
        Ok(minutes)
    } else {
        Err(format!(
            "{number} minutes: allowed is 0 to {LONGEST}, for a drink that stands longer is flat and warm"
        ))
    }
}

impl IceArgs {
    /// Whether anything was said.
    pub(in crate::console) fn is_given(&self) -> bool {
        let Self { ice, ice_at, wet, drink_at, vessel, vessel_of, vessel_at, ends_at, minutes } = self;
        ice.is_some()
            || wet.is_some()
            || vessel_of.is_some()
            || minutes.is_some()
            || vessel.is_some()
            || [ice_at, drink_at, vessel_at, ends_at].into_iter().any(Option::is_some)
    }

    /// The conditions they describe, the usual ones where nothing is said.
    pub(in crate::console) fn conditions(&self) -> Result<Conditions, Failure> {
        let usual = Conditions::default();
        if let Some(warm) = self.ice_at.filter(|t| t.celsius() > 0.0) {
            return Err(crate::liquid::LiquidError::WarmIce { found: warm.celsius() }.into());
        }
        let at = self.vessel_at.unwrap_or(usual.drink);
        let stuff = self.vessel_of.unwrap_or(Stuff::Steel);
        if self.vessel.is_none() && (self.vessel_of.is_some() || self.vessel_at.is_some()) {
            return Err(Failure::usage("a vessel's stuff or temperature needs its weight")
                .hint("for example: --vessel 400g --vessel-of glass"));
        }
        Ok(Conditions {
            drink: self.drink_at.unwrap_or(usual.drink),
            ice: self.ice.unwrap_or(usual.ice),
            ice_at: self.ice_at.unwrap_or(usual.ice_at),
            wet: self.wet.unwrap_or(usual.wet),
            vessel: self.vessel.map(|mass| Vessel { mass, stuff, temperature: at }),
            ends: self.ends_at.map(Ends::At),
            minutes: self.minutes.unwrap_or(usual.minutes),
            room: usual.room,
        })
    }
}

/// Refuses a drink that meets no ice.
pub(in crate::console) fn needs_ice(method: Method) -> Result<(), Failure> {
    if method == Method::NoIce {
        return Err(Failure::mistake("this drink meets no ice, so nothing melts into it")
            .hint("--method stirred or another says otherwise"));
    }
    Ok(())
}
