//! What a reader sees of changes that are made while it reads.

use std::collections::BTreeMap;
use std::io::ErrorKind;
use std::path::Path;

use super::Store;
use super::disk::Disk;
use super::fault::StoreFault;
use super::log::{Line, Stretch};
use super::path::RecordPath;
use super::read::Found;

/// How often files are read again while the history goes on growing.
const ROUNDS: usize = 20;

/// What the lines say of one record.
#[derive(Debug)]
struct Track {
    /// The texts it had on the way.
    known: Vec<Option<String>>,
    /// The text it has after the last line.
    now: Option<String>,
}

/// Follows the records through the lines.
fn tracks(stretch: Stretch) -> BTreeMap<RecordPath, Track> {
    let mut tracks: BTreeMap<RecordPath, Track> = BTreeMap::new();
    let mut last = None;
    for (_, line) in stretch.lines {
        match line {
            Line::Change(change) => {
                for file in &change.files {
                    let track = tracks
                        .entry(file.path.clone())
                        .or_insert_with(|| Track { known: Vec::new(), now: None });
                    track.known.extend([file.before.clone(), file.after.clone()]);
                    track.now.clone_from(&file.after);
                }
                last = Some(change);
            }
            Line::NotDone(id) => {
                for file in last.iter().filter(|change| change.id == id).flat_map(|change| &change.files) {
                    if let Some(track) = tracks.get_mut(&file.path) {
                        track.now.clone_from(&file.before);
                    }
                }
            }
            Line::Done(_) => {}
        }
    }
    tracks
}

impl<D: Disk> Store<D> {
    /// Brings what was read to one moment: that of the last line of the history.
    ///
    /// The files were read one after the other, while others may have been changing. Every change since the mark stands
    /// in the history with the texts before and after, so a file that has one of those texts has the last of them at that
    /// moment. A file that has another is read again, for the history may have grown; if it stands still, the file was
    /// changed by hand.
    ///
    /// False: the history was replaced, and all is to be read again.
    pub(super) fn settle(&self, log: &Path, mark: u64, found: &mut Found) -> Result<bool, StoreFault> {
        let mut seen = None;
        for _ in 0..ROUNDS {
            let Some(stretch) = self.lines_since(log, mark)? else { return Ok(false) };
            let end = stretch.end;
            let mut strange = Vec::new();
            for (path, track) in tracks(stretch) {
                if found.troubled.contains(&path) {
                    continue;
                }
                let has = found.texts.get(&path);
                if !track.known.iter().any(|text| text.as_ref() == has) {
                    strange.push(path);
                } else if let Some(text) = track.now {
                    found.texts.insert(path, text);
                } else {
                    found.texts.remove(&path);
                }
            }
            if strange.is_empty() || seen == Some(end) {
                return Ok(true);
            }
            seen = Some(end);
            for path in strange {
                match self.now(&path) {
                    Ok(Some(text)) => {
                        found.texts.insert(path, text);
                    }
                    Ok(None) => {
                        found.texts.remove(&path);
                    }
                    // It was readable a moment ago; what it is now is told when it is read next.
                    Err(_) => {}
                }
            }
        }
        Ok(false)
    }

    /// The lines from a place on; none if there is no such place any more.
    fn lines_since(&self, log: &Path, mark: u64) -> Result<Option<Stretch>, StoreFault> {
        let failed = |e| StoreFault::io("read the history", log.display(), e);
        match self.disk.facts(log) {
            Ok(facts) if facts.bytes >= mark => {}
            Ok(_) => return Ok(None),
            // A clone that was named and has written nothing.
            Err(error) if error.kind() == ErrorKind::NotFound => {
                return Ok((mark == 0).then(Stretch::default));
            }
            Err(error) => return Err(failed(error)),
        }
        let bytes = self.disk.read_from(log, mark).map_err(failed)?;
        Ok(Some(Stretch::of(&bytes, mark)))
    }
}
