package form

import (
	"encoding/json"
	"os"
	"path/filepath"
	"time"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/logbook"
)

// The draft of a slip being typed is written after each answer, so that it outlives
// Ctrl-C, a closed window and an empty battery alike. It is no part of the log.

// draftKept is said to whoever is interrupted.
const draftKept = "a draft is kept: slipcase slip add goes on with it"

// Draft is a slip that was begun.
type Draft struct {
	SavedAt logbook.Time `json:"saved_at"`
	Step    int          `json:"step"`
	Slip    crew.Slip    `json:"slip"`
}

func draftPath(dir string) string { return filepath.Join(dir, logbook.DraftFile) }

// ReadDraft gives what an earlier form left in a folder; one that cannot be read is as good
// as none.
func ReadDraft(dir string) (Draft, bool) {
	var d Draft
	data, err := logbook.ReadFile(draftPath(dir))
	if err != nil || json.Unmarshal(data, &d) != nil || d.SavedAt.IsZero() || d.Step < 0 {
		return Draft{}, false
	}
	return d, true
}

// saveDraft keeps what has been typed, once there is a time among it.
func (f *Form) saveDraft() {
	if _, some := f.Slip.Finish(); !some && !f.Slip.ReactionS.Known() {
		return
	}
	data, err := json.Marshal(Draft{logbook.Time{Time: f.Clock().Truncate(time.Second)}, f.at, f.Slip})
	if err != nil {
		return
	}
	// A draft that cannot be kept must not stop the slip that can still be recorded.
	if logbook.WriteFile(draftPath(f.Log.Dir()), data) == nil {
		tty.SetParting(draftKept)
	}
}

// DropDraft forgets it.
func (f *Form) DropDraft() {
	os.Remove(draftPath(f.Log.Dir()))
	tty.SetParting("")
}
