//! What each fault is called and what to do about it.

use crate::Fault;
use crate::kind::EntryKind;
use crate::name::{LONGEST_NAME, NameFlaw};

impl Fault {
    /// The fault in a word that never changes.
    pub fn slug(&self) -> &'static str {
        match self {
            Self::Name { .. } => "name",
            Self::NoSuchCar { .. } => "no-such-car",
            Self::Ambiguous { .. } => "ambiguous-car",
            Self::NameTaken { .. } => "name-taken",
            Self::LeadsOut { .. } => "leads-out",
            Self::Missing { .. } => "missing",
            Self::DanglingLink { .. } => "dangling-link",
            Self::NotAFile { .. } => "not-a-file",
            Self::NotAFolder { .. } => "not-a-folder",
            Self::TooLarge { .. } => "too-large",
            Self::NotText { .. } => "not-text",
            Self::Changed(_) => "changed",
            Self::AlreadyThere { .. } => "already-there",
            Self::NotOurs { .. } => "not-ours",
            Self::Database { .. } => "a-logbook",
            Self::Busy { .. } => "busy",
            Self::Denied { .. } => "denied",
            Self::Full { .. } => "disk-full",
            Self::NotConfirmed { .. } => "not-confirmed",
            Self::Disk { .. } => "disk",
            Self::NotADatabase { .. } => "not-a-database",
            Self::EmptyFile { .. } => "empty-logbook",
            Self::NotALogbook { .. } => "not-a-logbook",
            Self::NewerFormat { .. } => "newer-logbook",
            Self::WrongBuild { .. } => "wrong-build",
            Self::StrayJournal { .. } => "stray-journal",
            Self::Damaged { .. } => "damaged-logbook",
            Self::Data { .. } => "entry-data",
            Self::Id { .. } => "entry-id",
            Self::NoSuchKind { .. } => "no-such-kind",
            Self::OwnKind { .. } => "own-kind",
            Self::IdUsed { .. } => "id-used",
            Self::NoSuchEntry { .. } => "no-such-entry",
            Self::StruckBefore { .. } => "struck-before",
            Self::NotForStriking { .. } => "not-for-striking",
            Self::NoReason => "no-reason",
            Self::NotAMark { .. } => "not-a-hash",
        }
    }

    /// What to do about it, as one sentence or two.
    pub fn help(&self) -> String {
        match self {
            Self::Name { flaw, .. } => flaw.help(),
            Self::NoSuchCar { .. } => "Give the name of a car's folder, or the path of a sheet.".into(),
            Self::Ambiguous { .. } => {
                "Rename all but one of these folders, so that they differ by more than case and accents.".into()
            }
            Self::NameTaken { .. } => "Choose a name that differs by more than upper and lower case.".into(),
            Self::LeadsOut { .. } => {
                "Put the file itself into the car's folder in place of the link, so that the folder can be copied."
                    .into()
            }
            Self::Missing { .. } => "Check the path, or put the file back where it was.".into(),
            Self::DanglingLink { .. } => {
                "Put back what the link leads to (a stick or a share may not be connected), or remove the link.".into()
            }
            Self::NotAFile { .. } => "Name a file.".into(),
            Self::NotAFolder { .. } => "Name a folder, or move away what is in its place.".into(),
            Self::TooLarge { .. } => "Check that this is the right file; if it is, split it.".into(),
            Self::NotText { .. } => "Open it in a text editor and save it as UTF-8.".into(),
            Self::Changed(conflict) if conflict.on_disk.is_none() => {
                "The file has gone, or is no text any more. Look what became of it, then save yours anew.".into()
            }
            Self::Changed(_) => {
                "Compare the two texts, carry your changes over into the one on the disk, and save that.".into()
            }
            Self::AlreadyThere { .. } => "Give the new file another name; the old one is kept as it is.".into(),
            Self::NotOurs { .. } => "Give another name, or move that file away.".into(),
            Self::Database { .. } => "Name the sheet beside it, `car.toml`; the verb `logbook` reads the logbook.".into(),
            Self::Busy { .. } => "Wait until the other program has finished, then try again; nothing was written.".into(),
            Self::Denied { .. } => {
                "Check who owns it, whether it is marked read-only and whether the disk is; then try again. \
                 What was there is unharmed."
                    .into()
            }
            Self::Full { .. } => "Make room on the disk, then try again. What was there is unharmed.".into(),
            Self::NotConfirmed { .. } => "Save once more; if this comes again, distrust the disk and make a copy.".into(),
            Self::Disk { .. } => "If this comes again, distrust the disk: copy the cars folder to another one.".into(),
            Self::NotADatabase { .. } | Self::EmptyFile { .. } => {
                "Put back the last good copy of the logbook, with no `-journal` file beside it. To begin a new one, \
                 move this file away, but keep it."
                    .into()
            }
            Self::NotALogbook { .. } => "Move this file away, or put the right logbook in its place.".into(),
            Self::NewerFormat { .. } => "Open it with the version of this program that wrote it, or a newer one.".into(),
            Self::WrongBuild { .. } | Self::Damaged { .. } => {
                "Keep this file as it is, verify the logbook to see what can be trusted, and go on from the last \
                 good copy, with no `-journal` file beside it."
                    .into()
            }
            Self::StrayJournal { .. } => {
                "The two belong together: put the logbook back beside its journal, or move the journal away.".into()
            }
            Self::Data { .. } => r#"Write a JSON object, such as {"joint": "master.rear", "state": "dry"}."#.into(),
            Self::Id { .. } => "Give every device one id, and every entry of a device an id of its own.".into(),
            Self::NoSuchKind { .. } => {
                let kinds: Vec<_> = EntryKind::WRITTEN.iter().map(|kind| kind.as_str()).collect();
                format!("The kinds are {}.", kinds.join(", "))
            }
            Self::OwnKind { .. } => "Strike an entry, or copy a car; the entry is then written by itself.".into(),
            Self::IdUsed { .. } => "Give the new entry an id that this device has not used.".into(),
            Self::NoSuchEntry { .. } => "List the logbook to see the numbers.".into(),
            Self::StruckBefore { .. } | Self::NotForStriking { .. } => {
                "Nothing needs striking. If more is to be said, add a note.".into()
            }
            Self::NoReason => "Say in a few words what was wrong with the entry.".into(),
            Self::NotAMark { .. } => "Copy the hash from the build book or from an earlier verification.".into(),
        }
    }

    /// Whether the input was wrong, rather than a file, a disk or a logbook.
    pub fn is_wrong_input(&self) -> bool {
        matches!(
            self,
            Self::Name { .. }
                | Self::NameTaken { .. }
                | Self::Ambiguous { .. }
                | Self::LeadsOut { .. }
                | Self::TooLarge { .. }
                | Self::NotText { .. }
                | Self::Database { .. }
                | Self::Data { .. }
                | Self::Id { .. }
                | Self::NoSuchKind { .. }
                | Self::OwnKind { .. }
                | Self::IdUsed { .. }
                | Self::NoSuchEntry { .. }
                | Self::StruckBefore { .. }
                | Self::NotForStriking { .. }
                | Self::NoReason
                | Self::NotAMark { .. }
        )
    }
}

impl NameFlaw {
    /// What to do about it, as one sentence.
    pub fn help(&self) -> String {
        match self {
            Self::Empty => "Give it a name.".into(),
            Self::TooLong { .. } => format!("Shorten it to {LONGEST_NAME} characters."),
            Self::Character { .. } | Self::Invisible { .. } | Self::NotText => {
                "Use letters, figures, blanks, hyphens, underscores and dots.".into()
            }
            Self::Blank => "Leave the blanks at its ends out.".into(),
            Self::Beginning { .. } => "Begin it with a letter or a figure.".into(),
            Self::Ending => "Leave the dot at its end out.".into(),
            Self::Reserved { .. } | Self::LooksLikeASheet => "Choose another name.".into(),
            Self::Extension { wanted } => format!("Give it the ending `.{wanted}`."),
        }
    }
}
