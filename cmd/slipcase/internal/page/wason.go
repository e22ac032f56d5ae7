package page

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/weather/units"
)

// wasOnJSON is what a run that was let go would have run.
type wasOnJSON struct {
	DistanceFt float64      `json:"distance_ft"`
	ETS        float64      `json:"et_s"`
	Low80S     float64      `json:"et_low80_s"`
	High80S    float64      `json:"et_high80_s"`
	SoundToFt  float64      `json:"sound_to_ft"` // where it was let go, or the last mark before
	Noted      string       `json:"noted"`       // by the racer; "" where its figures tell
	LetGoFt    units.Number `json:"let_go_ft,omitzero"`
	Says       string       `json:"says"`
}

func (p *Page) newWasOnJSON(j *crew.Judged) *wasOnJSON {
	w := j.WasOn
	if w == nil {
		return nil
	}
	out := &wasOnJSON{
		DistanceFt: w.Mark.Ft(), ETS: rounded(w.ET.Centre, ToS), Low80S: rounded(w.ET.Low80, ToS),
		High80S: rounded(w.ET.High80, ToS), SoundToFt: rounded(w.AtFt, ToFt), Noted: string(w.Effort), Says: p.WasOn(j),
	}
	if w.About {
		out.LetGoFt = units.Some(out.SoundToFt)
	}
	return out
}

// WasOn says in a line what a run that was let go ran, where it was let go and what it was
// on; "" of any other.
func (p *Page) WasOn(j *crew.Judged) string {
	finish, timed := j.Pass.Splits.Finish()
	if j.WasOn == nil || !timed {
		return ""
	}
	return Seconds(j.Pass.Splits.ETs[finish]) + ", " + p.letGo(j) + "; " + wasOnText(j)
}

// letGo says how and where a run was let go.
func (p *Page) letGo(j *crew.Judged) string {
	w := j.WasOn
	word := "looks lifted"
	switch w.Effort {
	case "":
		if w.About {
			word = "not at full power"
		}
	case "braked":
		word = "killed"
	default:
		word = string(w.Effort)
	}
	if w.About {
		return fmt.Sprintf("%s at about %s", word, p.Show(units.Length, units.Some(w.AtFt)))
	}
	return fmt.Sprintf("%s past %s", word, mark(p.Units, w.AtFt))
}

func wasOnText(j *crew.Judged) string {
	return fmt.Sprintf("was on a %.2f, %s", j.WasOn.ET.Centre, eightOf10(j.WasOn.ET))
}

func wasOnET(j *crew.Judged) string {
	if j.WasOn == nil {
		return ""
	}
	return fmt.Sprintf("%.2f", j.WasOn.ET.Centre)
}
