package audit_test

import (
	"math"
	"os"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/audit"
	"glassbrief/engine/enginetest"
)

// What is hired on each day adds up to what all hire costs, and nothing is hired where nothing may be.
func TestHireOverTheDays(t *testing.T) {
	s := enginetest.ReadFile(t, os.DirFS("../../scenarios"), "salt-works.scenario")
	for _, ownedOnly := range []bool{false, true} {
		limits := s.Limits
		limits.OwnedOnly = ownedOnly
		r, err := audit.Run(t.Context(), s, limits, engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, day := range r.Days.ByDate {
			sum += day.Cost
		}
		if math.Abs(sum-r.Days.Plan.Cost) > 1e-6 || ownedOnly != (sum == 0) {
			t.Errorf("owned only: %v; the days cost %v together, and all hire %v", ownedOnly, sum, r.Days.Plan.Cost)
		}
	}
	if r, err := audit.Run(t.Context(), enginetest.ReadFile(t, os.DirFS("../../scenarios"), "night-ferry.scenario"), s.Limits, engine.Options{}); err != nil || r.Days != nil {
		t.Errorf("got %v, %v of a scenario without days, want nothing", r.Days, err)
	}
}
