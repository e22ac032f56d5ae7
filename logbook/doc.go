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
package logbook
