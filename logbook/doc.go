// Package logbook keeps what the racer records, in CSV files that only ever
// grow, and answers the questions that only a log can: which setup was in
// force, what the air was at that minute.
//
// What a repair and a merge may and may not do:
//
//  1. Neither makes up a row: what they append is a row of a journal or of the other
//     copy as it was recorded, but for a hand edit of one cell, which a row that gets
//     cut-out columns back keeps.
//  2. What stands of an entry is the content latest by recorded_at, then by revision,
//     then by what it says (stands.go), for reading, merging, checking and showing alike.
//     A stamp of the future loses, and is told.
//  3. A row that differs from the journal in one cell is the racer's edit and stays. One
//     that differs in several is never completed: it is shown, and he amends it.
//  4. Cells that are the recorded ones in other columns are damage: the journal's row
//     takes their place. So it does where most rows disagree at once.
//  5. A value or a row that is there no more is lost, and comes back; what is meant to go
//     is amended or voided.
//  6. A file is written anew only for a column more, for such damage, or out of another
//     alphabet; as it was it stays beside, and no byte of it is lost.
//  7. A merge takes the other copy as a repair would leave it, and changes nothing there.
//  8. A row that does not read is not brought in: it is named, and counts for nothing.
//  9. Merging twice is merging once, and in either direction gives the same facts.
//  10. What only the racer can settle is left to him, and no repair is offered for it.
//
// # The way in and the way out
//
// A read finds the rows of a file and where each lies, leaves out the lines that do not
// read and names them, takes of each entry the row that stands, and makes records of
// those. A write takes the lock, sets a torn tail aside, appends to the journal and then
// to the file, each synced. A check reads every file, holds it against the journal and
// the entries against each other; a repair appends what was lost. A backup is one zip
// with a manifest, verified as it is written and as it is unpacked. The file system is
// passed in: tests put one in its place that knows what was synced and what a power cut
// leaves, or that fails each call in turn.
//
// # Decisions (November 2026)
//
// A last row without its line end is whole when all its cells are there, unless the
// journal holds other contents for that revision: editors leave the line end out,
// crashes cut.
//
// A value deleted by hand is lost, as a row is: one cell emptied and a column emptied by
// another program look the same. What is meant to go is amended away; the racer's own
// columns are his to take out. The repair appends the revision once more, with what it
// lacked.
//
// A file is rewritten only for a column that it lacks, without lines whose cells have
// moved into other columns, where its heading cannot be read and the journal says all
// that its rows do, and out of UTF-16 or bare CR. The file as it was stays beside it.
//
// A row that the journal has not, put in by hand or left from before the journal was
// lost, is a remark; a repair puts it into the journal, so that it is guarded from then
// on.
//
// A reading without a pressure has that of the nearest one at the track, within two
// hours, worked out whenever it is used and not recorded: else a wrong one would be
// handed on. What is computed never is stored.
//
// What a slip has in columns of the racer's own stands in one text column, "own", as
// jets=68; plug=ngk, and what these columns are in columns.csv: so a program that does not
// know them carries the cell over as it does any other, and no column is ever misread as
// one of ours. One that is voided leaves lists and exports; its values stay.
//
// power.csv, plan.csv, parts.csv and columns.csv are optional: a logbook begun without
// them reads as if they were empty, and the first row makes the file.
//
// Reading all of 100,000 slips (21 MB) peaks at 7.6 times the file, where 4 was wished
// for: the file itself is 1, the records 2.2 (472 bytes each), places and texts 1, the
// rest is garbage that the collector lets stand at its usual setting (4.5 at GOGC=10).
// One vehicle's slips take 2.0 times the file.
//
// What stands is ordered by recorded_at before the revision: two copies count revisions
// each for itself. A stamp more than a day past the clock is one of the future and comes
// before all: less than that is a clock or a zone set wrong, and must not undo an
// amendment when its hour comes. An entry is stamped after what was recorded within the
// second before it, and an amendment after what it amends, so that the order holds
// whatever the clock does. A row without a readable stamp comes right after the
// revisions below its own.
//
// A row edited in several cells with nothing gone is his as one edited in one is:
// nothing is to be completed. With something gone it is told as garbled, which no repair
// touches. Cells that are the recorded ones in other columns are put back: a row that he
// meant so is amended first.
//
// logbook.json tells a damaged version only where it is one flipped bit from ours and
// all files and the journal agree: any other number is a newer program's.
//
// A time without a zone that the journal does not have is read in the zone of its track;
// a day that could be a month is settled by the recorded day, then by the other cells of
// the file, else it is unreadable.
//
// A backup stores, and does not pack, a file that would grow more than 200 times when
// unpacked (thousands of blank rows): a zip that grows so is refused as a trap.
//
// # Where the platforms differ
//
// The lock is flock(2) on Linux and macOS, LockFileEx on Windows; there another program
// can not even read the lock file meanwhile, so the message that a writer waits in vain
// does not name the process. Over NFS flock works between Linux clients from 2.6.12 on;
// on other network folders it may not, and a logbook belongs on a local disk. A sync is
// fsync on Linux, F_FULLFSYNC on macOS (Go's os.File.Sync), FlushFileBuffers on Windows.
// A new file's name is made to last by a sync of its folder, except on Windows, where a
// folder cannot be synced and NTFS journals names itself. Modes 0600 and 0700 mean
// nothing on Windows: there the folder's own access list holds.
package logbook
