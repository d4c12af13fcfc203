package wording

import (
	"strings"
	"testing"

	"glassbrief/engine/compare"
	"glassbrief/engine/schedule"
)

// A plan that may not be the best is never compared as if it were.
func TestPlansCutShort(t *testing.T) {
	for _, c := range []struct {
		old, now bool
		want     string
	}{{true, true, ""}, {true, false, "the plan now was"}, {false, true, "the plan before was"}, {false, false, "both plans was"}} {
		r := &compare.Comparison{Days: &compare.Days{Old: &schedule.Plan{Proven: c.old}, New: &schedule.Plan{Proven: c.now}}}
		if got := PlansCutShort(r); !strings.Contains(got, c.want) || (got == "") != (c.want == "") {
			t.Errorf("proven %t and %t: got %q, want %q", c.old, c.now, got, c.want)
		}
	}
}
