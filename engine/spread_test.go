package engine_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/plausible"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

// A gappyBrief is a generated scenario with its catalogue, of which figures were left out.
type gappyBrief struct{ scenario, catalogue string }

// drawGaps leaves figures of a brief out at random.
func drawGaps(t *rapid.T, b drawnBrief) gappyBrief {
	leave := func(text string, inTen int, keywords ...string) string {
		var kept []string
		for line := range strings.Lines(text) {
			keyword, _, _ := strings.Cut(strings.TrimSpace(line), " ")
			if slices.Contains(keywords, keyword) && rapid.IntRange(0, 9).Draw(t, "leave "+keyword) < inTen {
				continue
			}
			kept = append(kept, line)
		}
		return strings.Join(kept, "")
	}
	lenses := leave(strings.Join(b.lenses, "\n"), 4, "transmission", "close_focus", "circle", "mass", "length", "distortion")
	if rapid.Bool().Draw(t, "no smallest stops") {
		lenses = strings.ReplaceAll(lenses, "..f/22", "")
	}
	return gappyBrief{
		leave(b.scenario(), 1, "light"),
		leave(equipment, 1, "iso", "iso_range", "mass", "wobble", "isolation", "thickness") + lenses,
	}
}

func (b gappyBrief) load(t rapid.TB) *brief.Scenario {
	t.Helper()
	return enginetest.ReadWith(t, b.scenario, b.catalogue)
}

// with writes values of assumed figures into the files, as their owner would find them out.
func (b gappyBrief) with(s *brief.Scenario, values brief.Values) gappyBrief {
	var amended strings.Builder
	under := s.Under(values).Catalogue
	for i, value := range values {
		a := &s.Assumed[i]
		written := exactly(value, a.Unit)
		if a.Of == brief.OfShot {
			b.scenario = strings.Replace(b.scenario, fmt.Sprintf("shot %q {\n", a.Name), fmt.Sprintf("shot %q {\n  %s %s\n", a.Name, a.Keyword, written), 1)
			continue
		}
		switch a.Keyword {
		case "aperture":
			lens, _ := s.Stated.Lenses.Lookup(a.Name)
			written = exactly(lens.WidestStop().Value, "f/") + ".." + written
		case "iso_range":
			base := s.Cameras[0].LowestBase().Value // below which nothing is assumed to be set
			for k, other := range values {
				if s.Assumed[k].Keyword == "iso" {
					base = other
				}
			}
			written = exactly(math.Min(base, value), "") + ".." + written
		case "pupil", "breathing": // of a zoom the long end follows the wide one
			lens, _ := under.Lenses.Lookup(a.Name)
			if pupils, breaths := plausible.Perspective(lens, s.Around); lens.IsZoom() && a.Keyword == "pupil" {
				written += " " + exactly(pupils[1], a.Unit)
			} else if lens.IsZoom() {
				written += " " + exactly(breaths[1], a.Unit)
			}
		}
		fmt.Fprintf(&amended, "amend %s %q {\n  %s %s\n}\n", a.Of, a.Name, a.Keyword, written)
	}
	b.catalogue += amended.String()
	return b
}

// exactly writes a value in SI units without rounding.
func exactly(value float64, unit string) string {
	plain := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	switch unit {
	case "f/", "T":
		return unit + plain(value)
	case "%":
		return plain(100*value) + "%"
	}
	if row, ok := lang.FindUnit(unit); ok {
		return plain(value/row.Factor) + " " + unit
	}
	return plain(value)
}

func judge(t rapid.TB, s *brief.Scenario) *engine.Table {
	t.Helper()
	return enginetest.Judge(t, s, engine.Options{})
}

// The score that a lens has once its figures are found out lies in the range that was told
// without them, whenever they lie in the plausible ranges. A range is found by trying, which sees
// no valley that no path leads to: in runs of some 60,000 ranges in all, two were missed. One in a
// thousand is allowed.
func TestSpreadHoldsTheScore(t *testing.T) {
	narrowed, ranges := 0, 0
	var missed []string
	rapid.Check(t, func(t *rapid.T) {
		gappy := drawGaps(t, drawBrief(t))
		s := gappy.load(t)
		values := s.Draw(func(i int) float64 {
			return rapid.Float64Range(-1, 1).Draw(t, s.Assumed[i].Name+" "+s.Assumed[i].Keyword)
		})
		told := judge(t, s)
		found := judge(t, gappy.with(s, values).load(t))
		for i, shot := range s.Shots {
			for j, lens := range told.Lenses() {
				spread, middle, o := told.Spread(i, j), told.Outcome(i, j), found.Outcome(i, j)
				low, high := spread.Low, spread.High
				if !spread.Moves {
					low, high = low-engine.Sampled, high+engine.Sampled
				}
				if spread.Otherwise {
					low = 0
				}
				ranges++
				switch {
				case !o.Acceptable() && (low <= 1e-9 || !middle.Acceptable()):
				case o.Acceptable() && o.Score >= low-1e-9 && o.Score <= high+1e-9:
					if spread.Moves && high-low < 0.5 {
						narrowed++
					}
				default:
					missed = append(missed, fmt.Sprintf("shot %s, %s: told %+v, and it scores %.4f (%s) with %s", shot.ID, lens.Name.Value, spread, o.Score, o.Standing, say(s, values, lens.Name.Value)))
				}
			}
		}
	})
	t.Logf("%d of %d ranges missed", len(missed), ranges)
	if len(missed) > 1+ranges/1000 {
		t.Errorf("%d of %d ranges do not hold the score:\n%s", len(missed), ranges, strings.Join(missed, "\n"))
	}
	if narrowed == 0 {
		t.Error("no range was narrower than half of all, so nothing was told")
	}
}

func say(s *brief.Scenario, values brief.Values, lens string) string {
	var said []string
	for i, value := range values {
		if a := &s.Assumed[i]; a.Of != brief.OfLens || a.Name == lens {
			said = append(said, fmt.Sprintf("%s %s %.4g (%.4g..%.4g..%.4g)", a.Name, a.Keyword, value, a.Low, a.Middle, a.High))
		}
	}
	slices.Sort(said)
	return strings.Join(said, ", ")
}
