package board

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/typed"
	"slipcase/weather/units"
)

// UseCommand takes a vehicle, a track or a class for the day.
func UseCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "use NAME | class ... | .",
		Short: "a vehicle, a track or a class for the rest of the day",
		Long: `What slips, readings and questions mean for the rest of the day that do not say otherwise:
a vehicle, a track, how the rounds are raced. "." forgets it.`,
		Example: "  slipcase use plover\n  slipcase use highmesa\n  slipcase use class index 8.90",
		Args:    cobra.MinimumNArgs(1),
	}
}

// Use takes for the day what words name, and shows the board with it.
func (b *Board) Use(bare units.System, words []string) error {
	u := b.InUse()
	if len(words) == 1 && words[0] == typed.Absent {
		u, words = crew.Use{}, nil
	}
	words = slices.Clone(words)
	for i := 0; i < len(words); i++ {
		vehicle, track := b.named(words[i])
		switch {
		case vehicle != "" && track != "":
			return fmt.Errorf("%q is a vehicle and a track: name each where it is meant", words[i])
		case vehicle != "":
			u.Vehicle = vehicle
		case track != "":
			u.Track = track
		default:
			continue
		}
		words = slices.Delete(words, i, i+1)
		i--
	}
	said := u.Said()
	if err := typed.ParseUse(bare, words, &said); err != nil {
		return err
	}
	if err := b.KeepUse(u.Saying(said)); err != nil {
		b.Page.NotKept(err)
	}
	return b.Show()
}

// named is the vehicle and the track that a word names, "" where it names none.
func (b *Board) named(word string) (vehicle, track string) {
	vs, err := b.Vehicles()
	ts, err2 := b.Tracks()
	if errors.Join(err, err2) != nil {
		return "", ""
	}
	for _, v := range vs {
		if strings.EqualFold(v.ID, word) {
			vehicle = v.ID
		}
	}
	for _, t := range ts {
		if strings.EqualFold(t.ID, word) {
			track = t.ID
		}
	}
	return vehicle, track
}

// Show shows what there is to say between rounds.
func (b *Board) Show() error {
	facts, err := b.Session.Board()
	if err == nil {
		b.Page.Board(facts)
	}
	return err
}
