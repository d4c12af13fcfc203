package facts_test

import (
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/engine/optics"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// TestAFactIsOneRow adds a row and a rule that reads it, as somebody would who knows of
// nothing else, and looks which lenses the rule excludes.
func TestAFactIsOneRow(t *testing.T) {
	facts.AddRow(t, facts.Computed(
		facts.Fact{Name: "depth_by_test", Dim: lang.Length, Unit: "m", Reads: []facts.ID{facts.NearLimit, facts.FarLimit}},
		func(v *facts.Values) float64 { return v[facts.FarLimit] - v[facts.NearLimit] },
	))
	source, _ := lang.NewSource("own.rules", []byte("criterion \"depth\" {\n  veto depth_by_test < 60cm\n}\n"))
	set, ds := rules.Load(facts.Vocabulary(), source)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	plan := facts.PlanOf(set.Reads())
	shot := facts.ShotInput{Subject: facts.Subject{Person: true, Height: 1.7, Width: 0.5}, Near: 2, Far: 2.1}
	var r facts.Record
	facts.FillShot(&r, &shot)
	excluded := 0
	for focal := 0.010; focal < 0.1; focal += 0.005 {
		in := facts.LensInput{Squeeze: 1, Delivered: optics.Window{Frame: optics.Frame{Width: 0.024, Height: 0.016}}, WidestStop: 2, SmallestStop: 16, CloseFocus: 0.5, Confusion: 16e-6}
		var lens facts.Record
		facts.FillLens(&lens, &in, focal)
		r.Set(facts.Stop, 5.6)
		r.Set(facts.FocusMark, 2.05)
		facts.FillPair(&r, &lens, plan)
		judged := set.Judge(&r)
		facts.FillPair(&r, &lens, facts.Every())
		depth := r.Value[facts.FarLimit] - r.Value[facts.NearLimit]
		if judged.Excluded != (depth < 0.6) {
			t.Errorf("%.0f mm, sharp over %.2f m: excluded %v", 1000*focal, depth, judged.Excluded)
		}
		if explained := set.Explain(&r); explained.Excluded != judged.Excluded || explained.Known != judged.Known {
			t.Errorf("%.0f mm: judged %+v, explained %+v", 1000*focal, judged, explained.Judgement)
		}
		if judged.Excluded {
			excluded++
		}
	}
	if excluded == 0 || excluded == 18 {
		t.Errorf("%d lenses are excluded, so that the test says little", excluded)
	}
}
