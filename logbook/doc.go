// Package logbook keeps what the racer records, in CSV files that only ever
// grow, and answers the questions that only a log can: which setup was in
// force, what the air was at that minute.
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
// A file is rewritten only to give it a column that it lacks, or where its heading
// cannot be read and the journal says all that its rows do. The file as it was stays
// beside it.
//
// A row that the journal has not, put in by hand or left from before the journal was
// lost, is a remark; a repair puts it into the journal, so that it is guarded from then
// on.
//
// A reading without a pressure has that of the nearest one at the track, within two
// hours, worked out whenever it is used and not recorded: else a wrong one would be
// handed on. What is computed never is stored.
//
// power.csv and plan.csv are optional: a logbook begun without them reads as if they
// were empty, and the first row makes the file.
//
// Reading all of 100,000 slips (21 MB) peaks at 7.6 times the file, where 4 was wished
// for: the file itself is 1, the records 2.2 (472 bytes each), places and texts 1, the
// rest is garbage that the collector lets stand at its usual setting (4.5 at GOGC=10).
// One vehicle's slips take 2.0 times the file.
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
