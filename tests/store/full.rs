//! A file system that is really full, and one that can only be read.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command as Process;

use medlar::book::{Store, StoreFault};

use super::common::{change, path, texts};

/// A small file system of its own, where mounting is allowed.
struct Small(PathBuf);

impl Small {
    fn mounted(at: &Path) -> Option<Self> {
        fs::create_dir_all(at).unwrap();
        let mount = Process::new("mount").args(["-t", "tmpfs", "-o", "size=256k", "weir"]).arg(at).output();
        mount.is_ok_and(|done| done.status.success()).then(|| Self(at.to_owned()))
    }

    fn remount(&self, how: &str) -> bool {
        let done = Process::new("mount").args(["-o", &format!("remount,{how}")]).arg(&self.0).output();
        done.is_ok_and(|done| done.status.success())
    }
}

impl Drop for Small {
    fn drop(&mut self) {
        let _ = Process::new("umount").arg(&self.0).output();
    }
}

#[test]
fn a_full_disk_and_one_that_can_only_be_read_lose_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let Some(small) = Small::mounted(&folder.path().join("small")) else {
        println!("skipped: mounting is not allowed here");
        return;
    };
    let root = small.0.join("weir-house");
    let store = Store::at(&root);
    let mut acknowledged = 0;
    let fault = loop {
        let text = format!("{acknowledged}\n{}", "x".repeat(5000));
        let both = |sheaf: &mut medlar::book::Sheaf<'_, _>| {
            sheaf.write(&path("specs/a.ron"), text.clone())?;
            sheaf.write(&path("stock/a.ron"), text.clone())
        };
        match change(&store, acknowledged, both) {
            Ok(_) => acknowledged += 1,
            Err(fault) => break fault,
        }
        assert!(acknowledged < 1000, "the disk is small");
    };
    assert!(acknowledged > 2);
    assert!(fault.to_string().contains("free some space"), "{fault}");
    let was = texts(&store);
    let first = |record: &str| was[&path(record)].split('\n').next().unwrap().parse::<u64>().unwrap();
    assert_eq!((first("specs/a.ron"), first("stock/a.ron")), (acknowledged - 1, acknowledged - 1));
    assert_eq!(store.history().unwrap().entries.len() as u64, acknowledged);

    // Full to the last page: still read, still refused with the same advice.
    let filler = small.0.join("filler");
    drop(fs::write(&filler, vec![0; 256 * 1024]));
    let again = change(&store, 50, |sheaf| sheaf.write(&path("specs/b.ron"), "b")).unwrap_err();
    assert!(again.to_string().contains("free some space"), "{again}");
    assert_eq!(texts(&store), was);
    fs::remove_file(&filler).unwrap();

    assert!(small.remount("remount,ro,size=256k"), "what can be mounted can be remounted");
    assert_eq!(texts(&store), was);
    let fault = change(&store, 51, |sheaf| sheaf.write(&path("specs/b.ron"), "b")).unwrap_err();
    assert!(
        matches!(fault, StoreFault::Io { .. }) && fault.to_string().contains("make it writable"),
        "{fault}"
    );

    assert!(small.remount("remount,rw,size=4m"));
    change(&store, 52, |sheaf| sheaf.write(&path("specs/b.ron"), "b")).unwrap();
    let contents = store.read().unwrap();
    assert_eq!((contents.texts.len(), contents.problems), (3, Vec::new()));
    assert_eq!(store.history().unwrap().entries.len() as u64, acknowledged + 1);
    println!("full after {acknowledged} changes");
}
