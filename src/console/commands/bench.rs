//! `bench`: the arithmetic of the bench, one job a file.

mod acid;
mod asked;
mod brix;
mod carbonate;
mod chill;
mod cut;
mod fortify;
mod freezer;
mod ice;
mod syrup;
mod weigh;

use crate::console::desk::Desk;
use crate::console::failure::Failure;
use crate::console::session::Answer;

pub(super) use chill::by_heat;
pub(super) use ice::IceArgs;

/// Strength, sugar, acid, ice and gas: what goes in, what comes out, and where the figures come from.
#[derive(Debug, Clone, clap::Args)]
#[command(
    after_help = "Examples:\n  bench cut 700 ml of 57.7 % to 43 %\n  bench freezer 20 % 95 g/L at -18 C"
)]
pub struct Args {
    #[command(subcommand)]
    job: Job,
}

/// The jobs.
#[derive(Debug, Clone, clap::Subcommand)]
#[command(disable_help_subcommand = true)]
enum Job {
    /// Bring a spirit down with water
    Cut(cut::Args),
    /// Bring a strength up with a stronger spirit
    Fortify(fortify::Args),
    /// Make a syrup, or bring one to another Brix
    Syrup(syrup::Args),
    /// Sugar by mass, by volume and as a ratio
    Brix(brix::Args),
    /// Make one juice as sour as another with acid powders
    Acid(acid::Args),
    /// Whether something pours from the freezer, and how full its bottle may be
    Freezer(freezer::Args),
    /// What the ice does to a drink: the published figure beside a balance of heat
    Chill(chill::Args),
    /// Measure your own dilution: weigh a drink before and after the ice
    Weigh(weigh::Args),
    /// Gas in a drink: pressure to set, what a closed bottle comes to, what a lengthener keeps
    Carbonate(carbonate::Args),
}

pub(in crate::console) fn run(args: &Args, desk: &Desk<'_>) -> Result<Answer, Failure> {
    match &args.job {
        Job::Cut(args) => cut::run(args, desk),
        Job::Fortify(args) => fortify::run(args, desk),
        Job::Syrup(args) => syrup::run(args, desk),
        Job::Brix(args) => brix::run(args, desk),
        Job::Acid(args) => acid::run(args, desk),
        Job::Freezer(args) => freezer::run(args, desk),
        Job::Chill(args) => chill::run(args, desk),
        Job::Weigh(args) => weigh::run(args, desk),
        Job::Carbonate(args) => carbonate::run(args, desk),
    }
}
