package why

import (
	"cmp"
	"slices"
	"testing"
	"testing/fstest"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
)

func tableOf(t *testing.T, text string) *engine.Table {
	t.Helper()
	return enginetest.Judge(t, enginetest.Read(t, text, brief.Files{}), engine.Options{})
}

// What is proposed for a shot that no lens of the house does makes a lens of the house do it,
// the smallest first; where only light is short, nobody hears of less light or of filters.
func TestRescueKeepsItsWord(t *testing.T) {
	for _, c := range []struct {
		name, shot string
		figure     Figure // that must be among the changes
	}{
		{"in the dark", "light 0.05lx\nframe full\ndistance 3m", Light},
		{"too near for the framing", "light 800lx\nframe extreme-wide\ndistance 1.1m", Distance},
		{"too near for its word", "light 800lx\nframe extreme-wide\ndistance 1m", Framing},
		{"too fast a walk for so long a lens", "light 800lx\nframe extreme-close\ndistance 14m\nmove lead 2m/s", Distance},
	} {
		t.Run(c.name, func(t *testing.T) {
			table := tableOf(t, `use demo
scenario "Trial" {
  camera "House body A"
  rig "Short sled"
}
shot "1" {
  subject person 1.7m
  `+c.shot+`
}
`)
			r := RescueOf(table, 0)
			if r == nil || r.Nearest == nil || r.Nearest.Standing != engine.Excluded || r.Filter != nil {
				t.Fatalf("got %+v, want an excluded lens that comes nearest, and no filter", r)
			}
			if !slices.IsSortedFunc(r.Changes, func(a, b Lift) int { return cmp.Compare(a.Size, b.Size) }) {
				t.Errorf("got %v, want the smallest change first", r.Changes)
			}
			seen := false
			for _, change := range r.Changes {
				seen = seen || change.Figure == c.figure
				lens, _ := table.Scenario.Catalogue.Lenses.Lookup(change.Lens)
				if lens.Have.Kind == catalog.Hired || !Accepted(table.Bench(), lens)(change.Scenario, change.Shot) {
					t.Errorf("%s from %g to %g does not let %s do it, or it is hired", change.Figure, change.Now, change.To, change.Lens)
				}
				if change.Figure == Light && change.To < change.Now {
					t.Error("less light is proposed where light is short")
				}
			}
			if !seen {
				t.Errorf("got %d changes, want one of the %s among them", len(r.Changes), c.figure)
			}
		})
	}
}

// A shot that a lens of the house does needs no rescue.
func TestRescueOnlyWhereItIsNeeded(t *testing.T) {
	if r := RescueOf(tableOf(t, enginetest.Trial("", "light 800lx")), 0); r != nil {
		t.Errorf("got %+v, want nothing for a shot that is done", r)
	}
}

// A camera that has no other ISO leaves the rest of the brief to be changed.
func TestRescueOnACameraOfOneISO(t *testing.T) {
	files := brief.Files{Tree: fstest.MapFS{"one.catalog": {Data: []byte(`amend camera "House body A" { iso_range 800..800 }`)}}}
	text := `use "one.catalog"` + "\n" + enginetest.Trial("", "light 5lx")
	table := enginetest.Judge(t, enginetest.Read(t, text, files), engine.Options{})
	r := RescueOf(table, 0)
	if r == nil || len(r.Changes) == 0 {
		t.Fatalf("got %+v, want changes", r)
	}
	for _, c := range r.Changes {
		if c.Figure == ISO {
			t.Errorf("ISO %g is proposed, and the camera has 800 alone", c.To)
		}
	}
}

// A rule with a condition on what a set-up changes makes a zoom go through all its set-ups for each
// trial: of zooms no change is looked for then, and each of them is named.
func TestRescueLeavesOutWhatTriesAll(t *testing.T) {
	text := "use demo\nscenario \"Trial\" {\n camera \"House body A\"\n rig \"Short sled\"\n rules \"own.rules\"\n}\n" +
		"shot \"1\" {\n subject person 1.7m\n frame extreme-wide\n distance 1m\n light 800lx\n}\n"
	own := "criterion \"own\" {\n when framing_error > 1%\n score falling(blur_per_frame, 2%, 14%)\n}\n"
	s := enginetest.Read(t, text, brief.Files{Tree: fstest.MapFS{"own.rules": {Data: []byte(own)}}})
	table := enginetest.Judge(t, s, engine.Options{})
	r := RescueOf(table, 0)
	if r == nil || len(r.Changes) == 0 {
		t.Fatalf("got %+v, want changes with prime lenses", r)
	}
	for j, lens := range table.Lenses() {
		zoom, untried := lens.Focal.High.Value > lens.Focal.Low.Value, slices.Contains(r.Untried, lens.Name.Value)
		if untried != (zoom && table.Lends(j) && table.Explain(0, j).Refusal == "") {
			t.Errorf("%s: zoom %v, untried %v", lens.Name.Value, zoom, untried)
		}
	}
	if slices.ContainsFunc(r.Changes, func(l Lift) bool { return slices.Contains(r.Untried, l.Lens) }) {
		t.Errorf("a change with an untried lens: %+v", r.Changes)
	}
}
