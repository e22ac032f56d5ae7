package predict

import (
	"flag"
	"os"
	"runtime/debug"
	"testing"
)

func TestMain(m *testing.M) {
	if flag.Parse(); testing.Short() {
		debug.SetGCPercent(400) // what is soon over need not tidy up
	}
	os.Exit(m.Run())
}

// sized is how many a trial takes: fewer where only what is quick is wanted. Its bounds are
// standard errors, and follow.
func sized(full, short int) int {
	if testing.Short() {
		return short
	}
	return full
}
