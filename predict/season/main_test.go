package season

import (
	"flag"
	"fmt"
	"os"
	"testing"
)

// The simulators are left to the run without -short: what is tried on them is not.
func TestMain(m *testing.M) {
	if flag.Parse(); testing.Short() {
		fmt.Println("left to the run without -short")
		return
	}
	os.Exit(m.Run())
}
