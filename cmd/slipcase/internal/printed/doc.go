// Package printed reads the text of a printed slip, as a phone makes it of a photo or a timing
// page lets one copy it: the figures of its lanes, each with how sure it is.
//
// # Decisions (November 2026)
//
// No layout is known beforehand. The labels are words of the trade, and words that look like them;
// the orders in which slips are printed are few: a label before its figures, amid them, behind them,
// before each, or all labels first; row by row or one lane after the other; from the start on or from
// the finish back. The text is laid along each, with
// what is lost, stray, parted or run together at a cost, and so is a figure that a run cannot have
// there; the cheapest way is how the slip was printed.
//
// A figure is sure where the cheapest way is clearly so: where another way, or another order, reads
// it otherwise and costs little more, it is asked about.
//
// A letter in a figure is the digit that it looks like, and a point that is lost goes where the
// decimals of the other figures and the times and speeds beside it want it. A figure is in
// doubt where they do not bear it out, or where it has other decimals than its like: a digit
// may be gone, which nothing else would tell. What is in doubt has the best guess beside it.
//
// The figures are then held against each other: the sums that a slip works out (over, package,
// margin) bear a figure out to the digit or speak against it, and a run is a run. Where one character
// read otherwise, or the other lane's figure, would make a far likelier run, the figure is asked
// about, however clean it looks. A digit that makes another run as likely is told by nothing but a sum.
package printed
