package board

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"

	"slipcase/cmd/slipcase/internal/crew"
	"slipcase/cmd/slipcase/internal/page"
	"slipcase/logbook"
)

// TestPastes: what is pasted is taken for what it is: each of the texts of printed slips, both
// corpora, a batch of slips, readings, commands, and none of them for another.
func TestPastes(t *testing.T) {
	lb, err := logbook.Init(filepath.Join(t.TempDir(), "log"), logbook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	car := logbook.Vehicle{Entry: logbook.Entry{ID: "heron"}, Kind: "car", Aspiration: "natural"}
	if err := lb.AddVehicle(&car); err != nil {
		t.Fatal(err)
	}
	var ran []string
	b := &Board{Session: crew.NewSession(lb, time.Now), Page: &page.Page{
		Out: io.Discard, Err: io.Discard, Window: func() (int, int) { return 80, 24 }, ErrWidth: func() int { return 80 },
	}}
	b.Tree = func() *cobra.Command {
		root := &cobra.Command{Use: "slipcase"}
		slip := &cobra.Command{Use: "slip"}
		slip.AddCommand(&cobra.Command{Use: "list", Run: func(*cobra.Command, []string) {}})
		root.AddCommand(slip)
		for _, name := range []string{"dial", "round", "air", "day", "track", "vehicle", "best", "check", "trend", "use"} {
			root.AddCommand(&cobra.Command{Use: name, Run: func(*cobra.Command, []string) {}})
		}
		return root
	}
	b.Run = func(_ context.Context, _ *cobra.Command, _ io.Reader, args []string) bool {
		ran = append(ran, strings.Join(args, " "))
		return true
	}
	takes := func(name, text string, want ...string) {
		t.Helper()
		ran = nil
		if b.text(context.Background(), strings.TrimSpace(text)); !slices.Equal(ran, want) {
			t.Errorf("%s: %q, want %q", name, ran, want)
		}
	}
	n := 0
	for _, folder := range []string{"printed", "printed2"} {
		paths, err := filepath.Glob(filepath.Join("../../testdata", folder, "*.txt"))
		if err != nil {
			t.Fatal(err)
		}
		for i, path := range paths {
			if testing.Short() && i%4 != 0 {
				continue
			}
			if filepath.Base(path) == "README.txt" {
				continue
			}
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			takes(path, string(text), "slip read -")
			n++
		}
	}
	if n < 80 && !testing.Short() || n < 20 {
		t.Errorf("%d texts", n)
	}
	takes(
		"slips",
		"13:05 066 1947 5298 8175@8517 10680 12822@10538 L E1\n13:40 051 1945 5294 8171@8521 10675 12816@10543 R E2",
		"slip add -",
	)
	takes(
		"slips by name and both lanes",
		"heron L 13:05 .066 1.947 5.298 8.175@85.17 12.822@105.38 d12.80 / .051 12.430 @ 109.4 12.40\n"+
			"heron R dial 12.80 13:40 .051 1.945 5.294 8.171 85.21 10.675 12.816 105.43 won\n"+
			"14:30 .051 1.945 5.294 8.171 won 60ft",
		"slip add -",
	)
	takes(
		"a slip that is wrong",
		"14:05 044 1944 5293 8170@8522 10674 12815@10544\n14:10 051 1945 5294 x8171",
		"slip add -",
	)
	takes("readings", "13:00 88F 42 28.94\n14:00 90F 40 28.93", "air add -")
	takes("commands", "dial\nlist", "dial", "slip list")
	takes("commands with times", "list --660 8.412@83.77\nlist --1320 13.212@105.84", "slip list --660 8.412@83.77",
		"slip list --1320 13.212@105.84")
	takes("a letter", "Dear Lee,\nno slips today, 13.212 was my best, 8.412 at the eighth.")
}
