package engine

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/langtest"
)

// A criterionByHand is a standard criterion as somebody would write it who writes rules in
// Go.
type criterionByHand struct {
	weight float64
	when   func(r *facts.Record) bool
	vetoes []func(r *facts.Record) bool
	score  func(r *facts.Record) float64
}

func riseByHand(x, from, to float64) float64 { return min(1, max(0, (x-from)/(to-from))) }
func fallByHand(x, from, to float64) float64 { return min(1, max(0, (to-x)/(to-from))) }

// byHand holds the standard criteria.
var byHand = []criterionByHand{
	{weight: 4,
		vetoes: []func(r *facts.Record) bool{
			func(r *facts.Record) bool { return r.Value[facts.Mounts] != 1 },
			func(r *facts.Record) bool { return r.Value[facts.CircleMargin] < -0.02 },
			func(r *facts.Record) bool { return r.Value[facts.FocusMargin] < 0 },
			func(r *facts.Record) bool { return r.Value[facts.FramingError] > 0.41 },
			func(r *facts.Record) bool {
				return math.Abs(r.Value[facts.Squeeze]-r.Value[facts.WantedSqueeze]) > 0.01
			},
		},
		score: func(r *facts.Record) float64 {
			return 0.5*r.Value[facts.FramingHeld] + 0.5*fallByHand(r.Value[facts.FramingError], 0, 0.41)
		}},
	{weight: 2,
		vetoes: []func(r *facts.Record) bool{
			func(r *facts.Record) bool { return r.Value[facts.IsPerson] == 1 && r.Value[facts.EdgeStretch] > 0.35 },
			func(r *facts.Record) bool { return r.Value[facts.Bending] > 0.25 },
		},
		score: func(r *facts.Record) float64 {
			return fallByHand(r.Value[facts.Bending], 0.02, 0.25) * fallByHand(r.Value[facts.EdgeStretch], 0.03, 0.25) *
				fallByHand(r.Value[facts.CornerStretch], 0.3, 1.1)
		}},
	{weight: 3,
		vetoes: []func(r *facts.Record) bool{func(r *facts.Record) bool { return r.Value[facts.FocusHeld] < 0.5 }},
		score: func(r *facts.Record) float64 {
			return riseByHand(r.Value[facts.FocusHeld], 0.5, 1) * fallByHand(r.Value[facts.DiffractionShare], 0.8, 2.4)
		}},
	{weight: 3,
		vetoes: []func(r *facts.Record) bool{func(r *facts.Record) bool { return r.Value[facts.Short] > 0.5 }},
		score: func(r *facts.Record) float64 {
			return 0.2 + 0.8*fallByHand(math.Log2(r.Value[facts.ISO]/r.Value[facts.BaseISO]), 0.5, 4)
		}},
	{weight: 2, score: func(r *facts.Record) float64 {
		return fallByHand(r.Value[facts.Swing]+r.Value[facts.BobShare], 0.005, 0.06)
	}},
	{weight: 1,
		when:  func(r *facts.Record) bool { return r.Value[facts.TurnRate] > 0 || r.Value[facts.SweepSpeed] > 0 },
		score: func(r *facts.Record) float64 { return 0.2 + 0.8*riseByHand(r.Value[facts.Pace], 0.05, 1) }},
	{weight: 2,
		when: func(r *facts.Record) bool { return r.Value[facts.OnLegs] == 0 },
		vetoes: []func(r *facts.Record) bool{
			func(r *facts.Record) bool { return r.Value[facts.RigMass] < r.Value[facts.PayloadLow] },
			func(r *facts.Record) bool { return r.Value[facts.RigMass] > r.Value[facts.PayloadHigh] },
		},
		score: func(r *facts.Record) float64 {
			return fallByHand(r.Value[facts.PayloadPlace], 0.5, 1.3) * riseByHand(r.Value[facts.PayloadPlace], -0.1, 0.05)
		}},
	{weight: 1,
		vetoes: []func(r *facts.Record) bool{
			func(r *facts.Record) bool {
				return r.Value[facts.FocusAuto] == 1 && r.Value[facts.CameraAutofocus] != 1
			},
			func(r *facts.Record) bool { return r.Value[facts.FocusAuto] == 1 && r.Value[facts.LensAutofocus] != 1 },
			func(r *facts.Record) bool { return r.Value[facts.Clearance] < 0.15 },
		},
		score: func(r *facts.Record) float64 { return riseByHand(r.Value[facts.Clearance], 0.15, 0.5) }},
}

// judgeByHand judges a record by the closures.
func judgeByHand(r *facts.Record) (excluded bool, score float64) {
	logs, weight := 0.0, 0.0
	for i := range byHand {
		c := &byHand[i]
		if c.when != nil && !c.when(r) {
			continue
		}
		for _, veto := range c.vetoes {
			excluded = veto(r) || excluded
		}
		logs += c.weight * math.Log(c.score(r))
		weight += c.weight
	}
	return excluded, math.Exp(logs / weight)
}

// crowd makes shots like those of the demo, and lenses that nobody has: primes, or zooms of
// 69 settings.
func crowd(t testing.TB, lenses, shots int, zooms bool) *Table {
	t.Helper()
	text, err := os.ReadFile("../scenarios/night-ferry.scenario")
	if err != nil {
		t.Fatal(err)
	}
	src, ds := lang.NewSource("night-ferry.scenario", text)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	s, ds := brief.Load(src, brief.Files{Tree: os.DirFS("../scenarios")})
	if s == nil {
		t.Fatal(ds)
	}
	draw := rand.New(rand.NewPCG(1, 2))
	between := func(low, high float64) float64 { return low * math.Pow(high/low, draw.Float64()) }
	table := &Table{Scenario: s, Camera: s.Cameras[0], rigs: new(rigs)}
	own := s.Shots
	s.Shots = nil
	task := own[0]
	task.JudgeBy(s.Rules)
	for i := range shots {
		shot := *own[i%len(own)]
		shot.JudgeAs(task)
		stretch := between(0.6, 1.6)
		shot.Near, shot.Far, shot.Light = shot.Near*stretch, shot.Far*stretch, shot.Light*between(0.3, 3)
		s.Shots = append(s.Shots, &shot)
		table.staged = append(table.staged, stage(s, table.Camera, &shot))
	}
	length := func(metres float64) lang.Quantity { return lang.NewQuantity(metres, lang.Length) }
	filters := newFilterSets(s.Catalogue, table.Camera)
	threads := []float64{0, 67e-3, 77e-3, 82e-3}
	for i := range lenses {
		focal, stop := length(between(0.008, 0.15)), between(1.2, 5.6)
		lens := &catalog.Lens{
			Name: lang.Text{Value: fmt.Sprintf("Lens %d", i)}, Mount: table.Camera.Mount,
			Focal:        lang.Interval{Low: focal, High: focal},
			Aperture:     lang.Interval{Low: lang.NewQuantity(stop, lang.Aperture), High: lang.NewQuantity(22, lang.Aperture)},
			Transmission: lang.NewQuantity(1.1*stop, lang.Aperture),
			CloseFocus:   length(between(0.15, 1.5)), Circle: length(between(0.02, 0.06)), Length: length(between(0.03, 0.2)),
			Mass: lang.NewQuantity(between(0.1, 2), lang.Mass), Distortion: lang.NewQuantity(between(0.001, 0.05), lang.Plain),
		}
		if thread := threads[i%len(threads)]; thread > 0 {
			lens.Thread.Diameter = length(thread)
		}
		if zooms {
			lens.Focal = lang.Interval{Low: length(0.016), High: length(0.084)}
		}
		table.glass = append(table.glass, fit(s, lens, table.Camera, filters))
	}
	return table
}

// The search finds what trying every set-up finds: primes, zooms of few settings, filters that
// turn, in all light.
func TestSearchFindsTheBestOfAll(t *testing.T) {
	const pairs = 300
	draw := rand.New(rand.NewPCG(7, 8))
	covered := 0
	for _, zooms := range []bool{false, true} {
		table := crowd(t, 60, 40, zooms)
		for range pairs / 2 {
			g, st := *table.glass[draw.IntN(len(table.glass))], table.staged[draw.IntN(len(table.staged))]
			if zooms {
				w := g.ways[draw.IntN(len(g.ways))]
				first := draw.IntN(len(w.optics.Focals))
				w.optics.Focals = w.optics.Focals[first:min(first+6, len(w.optics.Focals))]
				g.ways = []way{w}
			}
			found := new(judge).judge(&g, st)
			shot := *st.shot
			shot.Task = shot.Task.Plainly()
			best := new(judge).judge(&g, stage(table.Scenario, table.Camera, &shot))
			if math.Abs(found.Score-best.Score) > 1e-9 || found.Standing != best.Standing {
				t.Fatalf("shot %s, %s: got %.12f with %+v, want %.12f with %+v", shot.ID, g.lens.Name.Value, found.Score, found, best.Score, best)
			}
			if found.Acceptable() {
				covered++
			}
		}
	}
	if covered < pairs/6 {
		t.Errorf("only %d of %d pairs can be covered, so that the comparison says little", covered, pairs)
	}
}

// What a pair took before the set-up was searched for, as a ratio to the closures by hand of
// one record: measured on the same crowd, best of 15 runs, with the stop solved by a formula.
const (
	primeBefore = 5.2
	zoomBefore  = 215
)

// BenchmarkRank judges primes and zooms with all set-ups searched, against the judgement of one
// record by closures by hand; with two workers; and against trying every set-up.
func BenchmarkRank(b *testing.B) {
	primes, zooms := crowd(b, 2000, 50, false), crowd(b, 100, 50, true)
	var records []facts.Record
	for _, st := range primes.staged {
		for _, g := range primes.glass[:100] {
			r := st.record
			worst, _ := new(judge).leastBad(g, st)
			fillAt(&r, g, worst)
			records = append(records, r)
		}
	}
	count := func(table *Table) float64 { return float64(len(table.glass) * len(table.staged)) }
	r := langtest.NewRace(langtest.Wall,
		langtest.Way{Name: "hand", Do: func() {
			for i := range records {
				judgeByHand(&records[i])
			}
		}},
		langtest.Way{Name: "primes", Do: func() { rankWith(b, primes, 1) }},
		langtest.Way{Name: "zooms", Do: func() { rankWith(b, zooms, 1) }},
		langtest.Way{Name: "two", Do: func() { rankWith(b, primes, 2) }},
	)
	per := float64(len(records))
	langtest.Hold(b, r.Round,
		r.AtMost("primes", "hand", 6*primeBefore*count(primes)/per),
		r.AtMost("zooms", "hand", 6*zoomBefore*count(zooms)/per),
		r.AtLeast("primes", "two", 1.75))
}

// BenchmarkEnumeration compares the search with trying every set-up, over pairs that can be
// covered.
func BenchmarkEnumeration(b *testing.B) {
	table := crowd(b, 200, 20, false)
	type pair struct {
		g         *glass
		st, plain *staged
	}
	var pairs []pair
	for i, st := range table.staged {
		shot := *st.shot
		shot.Task = shot.Task.Plainly()
		plain := stage(table.Scenario, table.Camera, &shot)
		for _, g := range table.glass[i*10 : i*10+10] {
			if new(judge).judge(g, st).Acceptable() {
				pairs = append(pairs, pair{g, st, plain})
			}
		}
	}
	var j judge
	const often = 300
	r := langtest.NewRace(langtest.Wall,
		langtest.Way{Name: "search", Do: func() {
			for range often {
				for _, p := range pairs {
					j.judge(p.g, p.st)
				}
			}
		}},
		langtest.Way{Name: "plain", Do: func() {
			for _, p := range pairs {
				j.judge(p.g, p.plain)
			}
		}},
	)
	langtest.Hold(b, r.Round, r.AtMost("search", "plain", 1))
}

func rankWith(b *testing.B, table *Table, workers int) {
	if _, err := table.judgeAll(context.Background(), table.glass, Options{Workers: workers}); err != nil {
		b.Fatal(err)
	}
}
