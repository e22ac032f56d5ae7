package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"time"

	"slipcase/cmd/slipcase/internal/tty"
	"slipcase/logbook"
)

// The draft of a slip being typed is written after each answer, so that it outlives
// Ctrl-C, a closed window and an empty battery alike. It is no part of the log.

// draftKept is said to whoever is interrupted.
const draftKept = "a draft is kept: slipcase slip add goes on with it"

type draft struct {
	SavedAt logbook.Time `json:"saved_at"`
	Step    int          `json:"step"`
	Slip    slip         `json:"slip"`
}

func (f *form) draftPath() string { return filepath.Join(f.lb.Dir(), logbook.DraftFile) }

// draft is what an earlier form left; one that cannot be read is as good as none.
func (f *form) draft() (draft, bool) {
	var d draft
	data, err := logbook.ReadFile(f.draftPath())
	if err != nil || json.Unmarshal(data, &d) != nil || d.SavedAt.IsZero() || d.Step < 0 {
		return draft{}, false
	}
	return d, true
}

// saveDraft keeps what has been typed, once there is a time among it.
func (f *form) saveDraft() {
	if _, some := f.slip.Finish(); !some && !f.slip.ReactionS.Known() {
		return
	}
	data, err := json.Marshal(draft{logbook.Time{Time: f.a.now().Truncate(time.Second)}, f.at, f.slip})
	if err != nil {
		return
	}
	// A draft that cannot be kept must not stop the slip that can still be recorded.
	if logbook.WriteFile(f.draftPath(), data) == nil {
		tty.SetParting(draftKept)
	}
}

func (f *form) dropDraft() {
	os.Remove(f.draftPath())
	tty.SetParting("")
}
