package page

// How a date is written where nothing but a person reads it, in pictures and reports.
const (
	DayForm  = "Jan 2"
	DateForm = "Jan 2, 2006"
)
