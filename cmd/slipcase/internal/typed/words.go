package typed

import "slipcase/logbook"

// whose run a word is said of, as errors begin the name of what it says.
type whose string

const (
	ownLane   whose = ""
	otherLane whose = "other lane's "
)

// asked are the ways in which racers write the words of a slip.
var asked = map[string]string{
	"l": "left", "lt": "left", "r": "right", "rt": "right",
	"win": "won", "loss": "lost", "lose": "lost", "bb": "buyback", "killed": "braked",
}

// notTheOthers is the kind of a word that a slip has no cell for in the other lane.
const notTheOthers = "not the other lane's"

// endOfRun is the kind of a word that says how the run ended; where may stand behind it.
const endOfRun = "end of the run"

// say takes a word that can stand anywhere on a slip's line: the lane, the result, how
// the run ended. It returns which of these the word tells of and the word in full; ok
// is false for any other word.
func say(s *logbook.Slip, word string, of whose) (kind, full string, ok bool) {
	if in, short := asked[word]; short {
		word = in
	}
	switch word {
	case "left", "right":
		kind, s.Lane = "lane", word
	case "won", "lost", "dq":
		kind, s.Result = "result", word
	case "heads-up":
		kind = "class"
		_ = Class(s, word) // one of the few
	case "bye":
		kind, s.Bye = "bye", "yes"
	case "buyback":
		kind, s.Buyback = "buyback", "yes"
	case "broke":
		if of == ownLane {
			kind, s.FullPower = endOfRun, word
		} else if kind = "other lane broke"; s.OpponentBroke == "" {
			s.OpponentBroke = "yes"
		}
	case "staged":
		if of == otherLane {
			kind, s.OpponentBroke = "other lane staged", word
		}
	case "lifted", "braked", "spun":
		if kind = notTheOthers; of == ownLane {
			kind, s.FullPower = endOfRun, word
		}
	}
	return kind, word, kind != ""
}
