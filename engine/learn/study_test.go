package learn_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/learn"
	"glassbrief/engine/taste"
	"glassbrief/lang"
	"glassbrief/lang/langtest"
)

func judge(t *testing.T, s *brief.Scenario) *taste.Held {
	t.Helper()
	table := enginetest.Judge(t, s, engine.Options{})
	held, err := taste.Hold(context.Background(), table, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return held
}

// By the weights of the house a lens is worth the logarithm of what it scores, times one number for all lenses
// of a shot, whatever limits bite, criteria are left out or wishes the brief has.
func TestWorthIsTheScore(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 9))
	lenses, bitten := 0, 0
	for range langtest.Cases(20) {
		text := strings.ReplaceAll(drawShots(r, 4), "  frame", oneOf(r, "", "  prefer background_blur > 1%\n", "  prefer background_blur > 1%\n  prefer focal_length < 30mm\n")+"  frame")
		held := judge(t, enginetest.Read(t, text, brief.Files{}))
		var study learn.Study
		if found := study.Add(held, learn.Group{}); found != nil {
			t.Fatal(found)
		}
		for _, shot := range study.Shots {
			at := 0
			for ; held.Table.Scenario.Shots[at].ID != shot.ID; at++ {
			}
			of := math.NaN()
			for k, name := range shot.Lenses {
				worth, score := 0.0, math.Log(held.Table.Outcome(at, held.Table.Place(name)).Score)
				for c, x := range shot.Logs[k] {
					worth += study.House[c] * x
				}
				if k == 0 {
					of = worth / score
				}
				if math.Abs(worth-of*score) > 1e-9*(1+math.Abs(worth)) {
					t.Fatalf("shot %s, %s: worth %v, want %v times %v\n%s", shot.ID, name, worth, of, score, text)
				}
				lenses++
				if held.At(at, held.Table.Place(name)).Limit < 1 {
					bitten++
				}
			}
		}
	}
	if langtest.Enough(20) && (lenses < 200 || bitten < 50) {
		t.Errorf("%d lenses, of which a limit bites %d", lenses, bitten)
	}
}

// Whatever somebody says to have chosen, no weight is below zero, and what a veto or a limit excludes is
// excluded by the learned weights too. Such a choice is warned of and counts for nothing.
func TestNoVetoIsOverruled(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 10))
	warned, excluded, kept := 0, 0, 0
	for range langtest.Cases(40) {
		text := drawShots(r, 3)
		s := enginetest.Read(t, text, brief.Files{})
		held := judge(t, s)
		lenses := held.Table.Lenses()
		var file strings.Builder
		file.WriteString("choices \"a.scenario\" {\n")
		out, said := 0, map[string]bool{}
		for range r.IntN(8) {
			shot, lens := r.IntN(len(s.Shots)), r.IntN(len(lenses))
			line := fmt.Sprintf("  chose %s in shot %s\n", lang.Quote(lenses[lens].Name.Value), lang.Quote(s.Shots[shot].ID))
			if said[line] {
				continue
			}
			said[line] = true
			file.WriteString(line)
			if held.Table.Outcome(shot, lens).Standing == engine.Excluded {
				out++
			}
		}
		groups, found := learn.Read(source(t, file.String()+"}\n"))
		if found != nil {
			t.Fatal(found)
		}
		var study learn.Study
		found = study.Add(held, groups[0])
		if found.HasErrors() || len(found) < out || len(found)+len(study.Choices) != len(groups[0].Said) {
			t.Fatalf("%d choices of excluded lenses, %d of %d count: %v", out, len(study.Choices), len(groups[0].Said), found)
		}
		for _, d := range found {
			if d.Severity != lang.Warning || d.Code != lang.Contradiction {
				t.Fatalf("got %v", d)
			}
		}
		warned += len(found)
		learned := learn.Learn(study.House, study.Choices)
		var weights strings.Builder
		for c, name := range study.Criteria {
			if w := learned.Weights[c]; !(w > 0) {
				t.Fatalf("%s weighs %v", name, w)
			}
			fmt.Fprintf(&weights, "weight %s %.6f\n", lang.Quote(name), max(0.01, learned.Weights[c]))
		}
		src, _ := lang.NewSource("taste.rules", []byte(weights.String()))
		for _, shot := range s.Shots {
			set, found := shot.Rules.Extend(src)
			if found.HasErrors() {
				t.Fatal(found)
			}
			shot.JudgeBy(set)
		}
		after := enginetest.Judge(t, s, engine.Options{})
		for i, shot := range s.Shots {
			for j, lens := range lenses {
				before, now := held.Table.Outcome(i, j).Standing == engine.Excluded, after.Outcome(i, j).Standing == engine.Excluded
				if before != now {
					t.Fatalf("shot %s, %s: excluded %v, and %v by the learned weights\n%s\n%s", shot.ID, lens.Name.Value, before, now, text, src.Text)
				}
				if now {
					excluded++
				} else {
					kept++
				}
			}
		}
	}
	if langtest.Enough(40) && (warned < 20 || excluded < 100 || kept < 100) {
		t.Errorf("%d warnings, %d excluded, %d kept", warned, excluded, kept)
	}
}

// Scenarios that weigh a criterion otherwise cannot be learned from together, and those with other criteria can.
func TestSeveralScenarios(t *testing.T) {
	own, _ := lang.NewSource("own.rules", []byte("criterion \"own\" {\n  weight 2\n  score falling(focal_length, 10mm, 100mm)\n}\n"))
	other, _ := lang.NewSource("other.rules", []byte("weight \"light\" 5\n"))
	r := rand.New(rand.NewPCG(17, 11))
	read := func(rules ...*lang.Source) *taste.Held {
		return judge(t, enginetest.Read(t, drawShots(r, 2), brief.Files{Rules: rules}))
	}
	var study learn.Study
	for _, held := range []*taste.Held{read(), read(own)} {
		if found := study.Add(held, learn.Group{}); found != nil {
			t.Fatal(found)
		}
	}
	if n := len(study.Criteria); study.Criteria[n-1] != "own" || study.House[n-1] != 2 {
		t.Errorf("got %v weighing %v", study.Criteria, study.House)
	}
	for _, shot := range study.Shots {
		for _, logs := range shot.Logs {
			if len(logs) != len(study.House) {
				t.Fatalf("a lens has %d of %d criteria", len(logs), len(study.House))
			}
		}
	}
	found := study.Add(read(other), learn.Group{})
	if len(found) != 1 || found[0].Code != lang.Contradiction || !strings.Contains(found[0].Summary, `"light" weighs 5 in this scenario, and 3 in another`) {
		t.Errorf("got %v", found)
	}
}
