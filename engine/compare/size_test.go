package compare_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"glassbrief/engine"
	"glassbrief/engine/compare"
	"glassbrief/lang/langtest"
)

// Two thousand lenses more are compared in seconds, and the one change that moves the plan
// is found among them.
func TestCompareLargeCatalogues(t *testing.T) {
	var more strings.Builder
	for i := range 2000 {
		more.WriteString(lens(fmt.Sprintf("Hire %d", i), "400mm", "f/4..f/22", "T4.2"))
	}
	old, new := edited(t), edited(t, "distance  2m", "distance  4m")
	new["kit.catalog"] += more.String()
	start := langtest.Processor()
	r, err := compare.Compare(context.Background(), side(t, old), side(t, new), engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if took := langtest.Processor() - start; took > langtest.Allowed(time.Minute) {
		t.Errorf("took %v, and a minute is the most", took)
	}
	if len(r.Changes) != 2001 {
		t.Errorf("got %d changes, want 2001", len(r.Changes))
	}
	for _, effect := range r.Effects {
		if effect.Of == compare.Kit && (len(effect.Because) != 1 || r.Changes[effect.Because[0]].Field != "distance") {
			t.Errorf("the kit changes because of %v, want the distance", effect.Because)
		}
	}
}
