package notebook

// QuestionKind says what of a notebook only the racer knows.
type QuestionKind string

// The kinds of question.
const (
	TwoAlike      QuestionKind = "two-alike"      // two columns for one role
	NotLike       QuestionKind = "not-like"       // the values are not what the heading says
	WhichDistance QuestionKind = "which-distance" // of an ET
	WhichSpeed    QuestionKind = "which-speed"    // where a speed was taken
	WhichPressure QuestionKind = "which-pressure"
	WhichUnit     QuestionKind = "which-unit"
	WhichOrder    QuestionKind = "which-order" // of day and month
	WhichYear     QuestionKind = "which-year"
	WhichVehicle  QuestionKind = "which-vehicle"
	WhichKind     QuestionKind = "which-kind"  // of a new vehicle
	WhichTree     QuestionKind = "which-tree"  // what a perfect light prints
	UnlikeUnit    QuestionKind = "unlike-unit" // than the own column of that name has
	NoDate        QuestionKind = "no-date"
	NoTimes       QuestionKind = "no-times"
)

// Question is one thing that must be told before anything is recorded.
type Question struct {
	Kind    QuestionKind
	Columns []Mapped
	Role    Role   // that is in question
	Name    string // WhichKind: of the vehicle; WhichOrder: a date as an example; UnlikeUnit: that of the log
}
