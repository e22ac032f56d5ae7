package page

// What package main still needs while answers move here; it goes when they have.

var (
	Seconds       = seconds
	Signed        = signed
	Minus         = minus
	Hundredths    = hundredths
	ReactionText  = reactionText
	Rounded       = rounded
	RoundedNumber = roundedNumber
	SomeRounded   = someRounded
	Round4        = round4
	FullWord      = fullWord
	NewSplitsJSON = newSplitsJSON
)

// SplitsJSON is for what has not moved here yet.
type SplitsJSON = splitsJSON
