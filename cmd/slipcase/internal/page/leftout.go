package page

import (
	"fmt"

	"slipcase/cmd/slipcase/internal/crew"
)

// reasons counts the runs that are left out for each reason.
func reasons(list []crew.LeftOut) (all []string) {
	n := map[string]int{}
	for _, l := range list {
		n[l.Why]++
	}
	for _, l := range list {
		if k := n[l.Why]; k > 0 {
			all = append(all, fmt.Sprintf("%d %s: %s", k, Plural(k, "run", "runs"), l.Why))
			n[l.Why] = 0
		}
	}
	return all
}
