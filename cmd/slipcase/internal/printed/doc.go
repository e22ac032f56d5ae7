// Package printed reads the text of a printed slip, as a phone makes it of a photo or a timing
// page lets one copy it: the figures of its lanes, each with how sure it is.
//
// # Decisions (November 2026)
//
// No layout is known beforehand. The labels are words of the trade; where their figures stand
// is one of three ways (behind the label, around it, or under a heading of labels), and each is
// tried: the way in which most figures hang together as runs do is how the slip was printed.
//
// A letter in a figure is the digit that it looks like, and a point that is lost goes where the
// decimals of the other figures and the times and speeds beside it want it. A figure is in
// doubt where they do not bear it out, or where it has other decimals than its like: a digit
// may be gone, which nothing else would tell. What is in doubt has the best guess beside it.
package printed
