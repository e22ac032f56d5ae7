package page

// What package main still needs while answers move here; it goes when they have.

var (
	Seconds       = seconds
	Signed        = signed
	Minus         = minus
	Hundredths    = hundredths
	ReactionText  = reactionText
	SlipLines     = slipLines
	Rounded       = rounded
	RoundedNumber = roundedNumber
	SomeRounded   = someRounded
	Round4        = round4
	Reasons       = reasons
)
