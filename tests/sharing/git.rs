//! Git as a person uses it, and the program in its path.

use std::path::Path;
use std::process::Command;

use assert_cmd::cargo::cargo_bin;
use medlar::console::Session;
use tempfile::TempDir;

use crate::bar;

/// A shell with git and the program, away from anyone's own settings.
pub(crate) struct Git {
    home: TempDir,
    /// Whether the program is in the path.
    with_program: bool,
}

impl Git {
    pub(crate) fn new() -> Option<Self> {
        let git = Self { home: tempfile::tempdir().unwrap(), with_program: true };
        let there = git.command("git").arg("--version").output().is_ok_and(|o| o.status.success());
        there.then_some(git)
    }

    /// The same where the program is not in the path.
    pub(crate) fn without_program(self) -> Self {
        Self { with_program: false, ..self }
    }

    fn command(&self, program: &str) -> Command {
        let mut command = Command::new(program);
        let own = cargo_bin!("medlar").parent().unwrap().display().to_string();
        let path = std::env::var("PATH").unwrap_or_default();
        command
            .env_clear()
            .env("PATH", if self.with_program { format!("{own}:{path}") } else { path })
            .env("HOME", self.home.path())
            .env("GIT_CONFIG_NOSYSTEM", "1")
            .env("LC_ALL", "C");
        for who in ["AUTHOR", "COMMITTER"] {
            command
                .env(format!("GIT_{who}_NAME"), "the river bar")
                .env(format!("GIT_{who}_EMAIL"), "bar@weir.example");
        }
        command
    }

    fn run(command: &mut Command) -> Result<String, String> {
        let output = command.output().unwrap();
        let told =
            format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
        if output.status.success() { Ok(told) } else { Err(told) }
    }

    /// The lines that 'book share' prints.
    fn lines(session: &mut Session) -> Vec<String> {
        let told = bar::told(session, "book share --json");
        let told: serde_json::Value = serde_json::from_str(&told).unwrap();
        told["lines"].as_array().unwrap().iter().map(|l| l.as_str().unwrap().to_owned()).collect()
    }

    /// Does what 'book share' says, as it is printed.
    pub(crate) fn share(&self, session: &mut Session) {
        let lines = Self::lines(session);
        assert!(lines.len() >= 4, "{lines:?}");
        for line in lines {
            Self::run(self.command("sh").args(["-c", &line])).unwrap();
        }
    }

    /// The same in a copy, where nothing is left to commit.
    pub(crate) fn share_again(&self, session: &mut Session) {
        for line in Self::lines(session).iter().filter(|line| !line.contains(" commit ")) {
            Self::run(self.command("sh").args(["-c", line])).unwrap();
        }
    }

    pub(crate) fn clone(&self, from: &Path, to: &Path) {
        Self::run(self.command("git").args(["clone", "-q"]).arg(from).arg(to)).unwrap();
    }

    /// Everything that was changed, committed.
    pub(crate) fn commit(&self, house: &Path) {
        Self::run(self.command("git").arg("-C").arg(house).args(["add", "-A"])).unwrap();
        let commit = ["commit", "-q", "--allow-empty", "-m", "what the bar changed"];
        Self::run(self.command("git").arg("-C").arg(house).args(commit)).unwrap();
    }

    /// Takes over what another copy has; what git said, if it could not.
    pub(crate) fn pull(&self, house: &Path, from: &Path) -> Result<String, String> {
        let pull = ["pull", "-q", "--no-rebase", "--no-edit"];
        Self::run(self.command("git").arg("-C").arg(house).args(pull).arg(from).arg("HEAD"))
    }
}
