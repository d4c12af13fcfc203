package engine_test

import (
	"fmt"
	"math"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

// drawRules writes a criterion of any facts.
func drawRules(t *rapid.T) string {
	table := facts.Table()
	number := func() string { // a plain one
		for {
			a, b := rapid.SampledFrom(table).Draw(t, "fact"), rapid.SampledFrom(table).Draw(t, "fact")
			if !a.Truth && !b.Truth && a.Dim == b.Dim {
				return a.Name + " / " + b.Name
			}
		}
	}
	truth := func() string {
		fact := rapid.SampledFrom(table).Draw(t, "fact")
		switch {
		case fact.Truth:
			return fact.Name
		case rapid.IntRange(0, 3).Draw(t, "kind") == 0:
			return "not known(" + fact.Name + ")"
		}
		return fmt.Sprintf("%s > %.2f", number(), rapid.Float64Range(0.2, 4).Draw(t, "limit"))
	}
	return fmt.Sprintf("fact own_share = %s\ncriterion \"own\" {\n  when %s or %s\n  veto %s and %s\n  veto (%s) == (%s)\n  score rising(own_share, 0, 2) * falling(%s, 0.5, 3)\n}\n",
		number(), truth(), truth(), truth(), truth(), truth(), truth(), number())
}

// What excludes or scores a lens in ranking is what the reasons say, whatever the rules
// read. A score of 0 excludes as a veto does.
func TestJudgedAsExplained(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawBrief(t).load(t)
		source, _ := lang.NewSource("own.rules", []byte(drawRules(t)))
		set, ds := s.Rules.Extend(source)
		if ds.HasErrors() {
			t.Fatalf("%v\n%s", ds, source.Text)
		}
		for _, shot := range s.Shots {
			shot.JudgeBy(set)
		}
		table := enginetest.Judge(t, s, engine.Options{})
		for i, shot := range s.Shots {
			for j, lens := range table.Lenses() {
				o := table.Outcome(i, j)
				e := engine.NewBench(s, table.Camera).Stage(shot).Explain(lens)
				raised := 0
				for _, finding := range e.Criteria {
					raised += len(finding.Raised)
				}
				all := set.Judge(e.Facts)
				if all.Excluded || math.IsNaN(all.Score) {
					all.Score = 0
				}
				if (o.Standing == engine.Excluded) != (raised > 0 || all.Score == 0) || o.Score != all.Score || e.Standing != o.Standing {
					t.Errorf("shot %s, %s at %.0f mm: judged %+v; with all facts %+v, and %d vetoes are raised\n%s",
						shot.ID, lens.Name.Value, 1000*o.Focal, o, all, raised, source.Text)
				}
			}
		}
	})
}
