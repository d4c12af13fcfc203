package engine_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/exposure"
	"glassbrief/lang/langtest"
)

// A trial is a random camera, lens and shot, as the lines that a user would write of each, so
// that a property can write one of them otherwise.
type trial struct {
	camera, lens, shot, filters []string
	zoom, fixed, free, drives   bool // drives: camera and lens focus by themselves
}

// A choice of random figures.
type dice struct{ *rand.Rand }

func (d dice) between(low, high float64) float64 { return low * math.Pow(high/low, d.Float64()) }

func (d dice) often(share float64) bool { return d.Float64() < share }

func oneOf[T any](d dice, of ...T) T { return of[d.IntN(len(of))] }

// without gives the lines but for those of a keyword.
func without(lines []string, keyword string) []string {
	var kept []string
	for _, line := range lines {
		if word, _, _ := strings.Cut(line, " "); word != keyword {
			kept = append(kept, line)
		}
	}
	return kept
}

// with gives the lines with others in the place of those of the same keyword.
func with(lines []string, others ...string) []string {
	for _, other := range others {
		word, _, _ := strings.Cut(other, " ")
		lines = append(without(lines, word), other)
	}
	return lines
}

// A drawnTrial is a trial with the figures that properties change.
type drawnTrial struct {
	trial
	bases                      []float64 // the lowest first
	lowISO, topISO             float64
	shortest, longest, closest float64
	widest, smallest           float64
	near, far                  float64
}

func (d drawnTrial) iso() string {
	return "iso " + strings.ReplaceAll(strings.Trim(fmt.Sprint(d.bases), "[]"), " ", " or ")
}

func (d drawnTrial) isoRange() string { return fmt.Sprintf("iso_range %g..%g", d.lowISO, d.topISO) }

func (d drawnTrial) focal() string {
	if d.zoom {
		return fmt.Sprintf("pupil thin\nfocal %gmm..%gmm", d.shortest, d.longest)
	}
	return fmt.Sprintf("pupil thin\nfocal %gmm", d.shortest)
}

func (d drawnTrial) aperture() []string {
	// A wider lens passes on as much of its light.
	return []string{fmt.Sprintf("aperture f/%g..f/%g", d.widest, d.smallest), fmt.Sprintf("transmission T%.6f", 1.1*d.widest)}
}

func (d drawnTrial) distance() string {
	if d.free {
		return fmt.Sprintf("distance within %.4fm..%.4fm", d.near, d.far)
	}
	return fmt.Sprintf("distance %.4fm..%.4fm", d.near, d.far)
}

// drawTrial draws what a lens may well do: the framing is near to what it gives, and its
// figures are those of glass that there could be.
func drawTrial(d dice) drawnTrial {
	t := drawnTrial{
		bases: []float64{oneOf[float64](d, 200, 400, 500, 640, 800, 1600)}, topISO: oneOf[float64](d, 1600, 3200, 6400, 12800, 25600),
		widest: oneOf(d, 1.2, 1.4, 1.8, 2, 2.8, 3.5, 4), smallest: oneOf[float64](d, 11, 16, 22),
		shortest: math.Round(d.between(10, 90)), near: d.between(0.5, 8),
	}
	t.lowISO = oneOf(d, t.bases[0], 100, 200)
	t.lowISO = min(t.lowISO, t.bases[0])
	if d.often(0.25) {
		t.bases = append(t.bases, oneOf[float64](d, 2500, 4000, 5000))
		t.topISO = max(t.topISO, t.bases[1])
	}
	frame := oneOf(d, [2]float64{36, 24}, [2]float64{24, 16}, [2]float64{17.3, 13})
	t.camera = []string{`mount "Near"`, fmt.Sprintf(`mode "Full" %gmm x %gmm`, frame[0], frame[1]), t.iso(), t.isoRange(), "mass 1kg"}
	if d.often(0.2) {
		t.camera = append(t.camera, oneOf(d, "built_in_nd 2 stops", "built_in_nd 2, 4, 6 stops"))
	}
	t.longest = t.shortest
	if t.zoom = d.often(0.4); t.zoom {
		t.longest = math.Round(t.shortest * d.between(1.3, 3))
	}
	t.closest = max(4.1e-3*t.longest, d.between(0.2, 0.6), t.near*d.between(0.4, 1.1))
	macro := d.often(0.1)
	t.lens = []string{
		`mount "Near"`, fmt.Sprintf("circle %gmm", oneOf[float64](d, 31, 45)), fmt.Sprintf("mass %.0fg", d.between(150, 1800)),
		fmt.Sprintf("length %.0fmm", d.between(40, 160)), fmt.Sprintf("distortion %.2f%%", 4*d.Float64()-2), "thread 77mm",
	}
	t.lens = append(t.lens, t.aperture()...)
	t.lens = append(t.lens, t.focal())
	if macro && !t.zoom {
		t.closest = t.shortest * 1e-3 * d.between(2.6, 3.8)
		t.near = t.closest * d.between(1, 3)
		if d.often(0.7) {
			t.lens = append(t.lens, fmt.Sprintf("magnification 1:%.2f", d.between(1, 2)))
		}
	}
	t.lens = append(t.lens, fmt.Sprintf("close_focus %.5fm", t.closest))
	if t.zoom && d.often(0.2) {
		t.lens = append(t.lens, fmt.Sprintf("engraved %g, %g, %gmm", t.shortest, math.Round(math.Sqrt(t.shortest*t.longest)), t.longest))
	}
	if t.drives = d.often(0.5); t.drives {
		t.camera, t.lens = append(t.camera, "autofocus"), append(t.lens, "focus auto")
	} else {
		t.lens = append(t.lens, "focus manual")
	}
	for _, stops := range []int{2, 3, 4, 6} {
		if d.often(0.3) {
			t.filters = append(t.filters, fmt.Sprintf("strength %d stops", stops))
		}
	}
	if d.often(0.15) {
		t.filters = append(t.filters, "strength 2stops..5stops")
	}
	t.drawShot(d, frame[1])
	return t
}

func (t *drawnTrial) drawShot(d dice, frameHeight float64) {
	subject, height := "subject person 1.75m", 1.75
	switch d.IntN(6) {
	case 0:
		subject = "subject people 1.6m x 1.8m"
	case 1:
		height = d.between(0.05, 2)
		subject = fmt.Sprintf("subject object %.3fm x %.3fm", height*d.between(0.5, 2), height)
	case 2:
		height = d.between(1.5, 4)
		subject = fmt.Sprintf("subject place %.2fm x %.2fm", 1.3*height, height)
	}
	move := oneOf(d, "hold", "lead", "push-in 0.4m/s", "follow", "side", "orbit 0.5m/s", "stairs", "boom", "follow run", "hold 8deg/s")
	t.far = t.near
	if !strings.HasPrefix(move, "hold") && d.often(0.6) {
		t.far = t.near * d.between(1.05, 2)
	}
	if t.free = d.often(0.12); t.free {
		places := brief.Room{Near: t.near, Far: t.near * d.between(1.5, 4)}.Places()
		t.near, t.far = places[1], places[len(places)-2] // where a tape has a mark
		move = oneOf(d, "hold", "side", "orbit 0.5m/s")
	}
	focal := d.between(t.shortest, t.longest*1.001)
	fill := height * focal / (frameHeight * math.Sqrt(t.near*t.far)) * d.between(0.8, 1.25)
	wide := d.between(1.1, 1.6)
	frame := fmt.Sprintf("frame %.2f%%..%.2f%%", 100*fill/wide, 100*fill*wide)
	if d.often(0.3) {
		middle := math.Sqrt(t.near * t.far)
		frame = "frame " + framingOf(fill*middle/t.near)
		if !t.free {
			frame += ".." + framingOf(fill*middle/t.far)
		}
	}
	if t.fixed = d.often(0.5); !t.fixed {
		t.shot = append(t.shot, "focus "+oneOf(d, "pulled", "pulled", "auto"))
	}
	t.shot = append(t.shot, subject, frame, t.distance(), "move "+move, fmt.Sprintf("light %.4flx", d.between(3, 60000)))
	if d.often(0.1) && strings.HasPrefix(move, "hold") {
		t.shot = append(t.shot, "support "+oneOf(d, "docked", "legs"))
	}
	if !t.free && d.often(0.3) {
		t.shot = append(t.shot, fmt.Sprintf("background %.2fm", t.far*d.between(1.2, 5)))
	}
	if d.often(0.15) {
		t.shot = append(t.shot, oneOf(d, "prefer background_blur > 1%", "prefer stop < f/4", "prefer iso < 1000"))
	}
}

// framingOf gives the word for a framing in which a subject fills a share of the frame.
func framingOf(fill float64) string {
	nearest, off := "", math.Inf(1)
	for _, word := range brief.FramingWords() {
		band, _ := brief.FramingBand(word)
		if by := math.Abs(math.Log(fill / math.Sqrt(band.Low*band.High))); by < off {
			nearest, off = word, by
		}
	}
	return nearest
}

// A way of doing a trial otherwise.
type freedom struct {
	name string
	// does writes the lines of the trial otherwise; false where it has that freedom already or
	// cannot have it.
	does func(t *drawnTrial) bool
}

var freedoms = []freedom{
	{"higher top ISO", func(t *drawnTrial) bool { t.topISO *= 2; t.camera = with(t.camera, t.isoRange()); return true }},
	{"lower bottom ISO", func(t *drawnTrial) bool { t.lowISO /= 2; t.camera = with(t.camera, t.isoRange()); return true }},
	{"lower base ISO", func(t *drawnTrial) bool {
		t.bases = append([]float64{t.bases[0] / 2}, t.bases[1:]...)
		t.lowISO = min(t.lowISO, t.bases[0])
		t.camera = with(t.camera, t.iso(), t.isoRange())
		return true
	}},
	{"another base ISO", func(t *drawnTrial) bool {
		const another = 3200
		t.bases = slices.Sorted(slices.Values(append([]float64{another}, t.bases...)))
		t.camera = with(t.camera, t.iso())
		return t.topISO >= another
	}},
	{"a base ISO above all", func(t *drawnTrial) bool {
		t.bases = append(slices.Clone(t.bases), 6400)
		t.camera = with(t.camera, t.iso())
		return t.topISO >= 6400
	}},
	{"filters in the camera", func(t *drawnTrial) bool {
		t.camera = with(t.camera, "built_in_nd 2, 4, 6, 8 stops")
		return true
	}},
	{"another filter", func(t *drawnTrial) bool { t.filters = append(t.filters, "strength 5 stops"); return true }},
	{"a turning filter", func(t *drawnTrial) bool { t.filters = append(t.filters, "strength 1stops..6stops"); return true }},
	{"a filter on a ring", func(t *drawnTrial) bool { t.filters = append(t.filters, "strength 7 stops\n  ring"); return true }},
	{"wider widest stop", func(t *drawnTrial) bool {
		t.widest = exposure.Marked(t.widest * math.Exp2(-1.0/6))
		t.lens = with(t.lens, t.aperture()...)
		return true
	}},
	{"smallest stop f/32", func(t *drawnTrial) bool { t.smallest = 32; t.lens = with(t.lens, t.aperture()...); return true }},
	{"nearer focus", func(t *drawnTrial) bool {
		if t.closest < 4e-3*t.longest {
			return false // another macro is another lens
		}
		t.closest = max(4e-3*t.longest, t.closest/1.5)
		t.lens = with(t.lens, fmt.Sprintf("close_focus %.5fm", t.closest))
		return true
	}},
	{"longer zoom", func(t *drawnTrial) bool {
		longer := math.Floor(t.closest / 4e-3)
		if longer <= t.longest {
			return false // it would be a macro
		}
		t.longest, t.zoom = min(longer, math.Round(t.longest*1.5)), true
		t.lens = with(t.lens, t.focal())
		return true
	}},
	{"shorter zoom", func(t *drawnTrial) bool {
		if t.closest < 4e-3*t.longest {
			return false
		}
		t.shortest, t.zoom = math.Round(t.shortest/1.5), true
		t.lens = with(t.lens, t.focal())
		return true
	}},
	{"all of the zoom where some is engraved", func(t *drawnTrial) bool {
		before := len(t.lens)
		t.lens = without(t.lens, "engraved")
		return len(t.lens) < before
	}},
	{"marks", func(t *drawnTrial) bool { t.shot = with(t.shot, "marks"); return true }},
	{"a puller", func(t *drawnTrial) bool { t.shot = with(t.shot, "focus pulled"); return t.fixed }},
	{"autofocus", func(t *drawnTrial) bool { t.shot = with(t.shot, "focus auto"); return t.fixed && t.drives }},
	{"a wider room", func(t *drawnTrial) bool {
		t.near, t.far = t.near/1.3, t.far*1.3
		t.shot = with(t.shot, t.distance())
		return t.free
	}},
}

// write gives the blocks of a trial under a name, which all that it names bears.
func (t *drawnTrial) write(catalogue, scenario *strings.Builder, name string) {
	catalogue.WriteString(block("camera", name, t.camera))
	lens := t.lens
	thread := 20 + float64(strings.Count(catalogue.String(), "camera "))/2
	for i, strength := range t.filters {
		on := thread
		if strength, ringed := strings.CutSuffix(strength, "\n  ring"); ringed {
			on = thread + 100
			catalogue.WriteString(block("filter", fmt.Sprintf("%s ring", name), []string{"kind step-up", fmt.Sprintf("thread %gmm", thread), fmt.Sprintf("front %gmm", on)}))
			catalogue.WriteString(block("filter", fmt.Sprintf("%s %d", name, i), []string{"kind nd", fmt.Sprintf("thread %gmm", on), strength}))
			continue
		}
		catalogue.WriteString(block("filter", fmt.Sprintf("%s %d", name, i), []string{"kind nd", fmt.Sprintf("thread %gmm", on), strength}))
	}
	catalogue.WriteString(block("lens", name, with(lens, fmt.Sprintf("thread %gmm", thread))))
	scenario.WriteString(block("shot", name, t.shot))
}

// A named trial is one in a row of those that are tried together.
type named struct {
	name string
	drawnTrial
}

// loadTrials reads trials, each with a camera, a lens and a shot of its name.
func loadTrials(t *testing.T, trials []named) *brief.Scenario {
	t.Helper()
	catalogue, shots, head := &strings.Builder{}, &strings.Builder{}, &strings.Builder{}
	catalogue.WriteString("mount \"Near\" { flange 20mm }\nrig \"Sled\" {\n  payload 0.9kg..3.5kg\n  wobble 0.2deg\n  isolation 70%\n}\n")
	head.WriteString("use \"kit.catalog\"\nscenario \"Generated\" {\n  rig \"Sled\"\n  carry 1\n")
	for _, trial := range trials {
		trial.write(catalogue, shots, trial.name)
		fmt.Fprintf(head, "  camera %q\n", trial.name)
	}
	head.WriteString("}\n")
	return enginetest.ReadWith(t, head.String()+shots.String(), catalogue.String())
}

// tried gives the outcomes of trials, in their order.
func tried(t *testing.T, trials []named) []engine.Outcome {
	t.Helper()
	s := loadTrials(t, trials)
	var all []engine.Outcome
	for _, shot := range s.Shots {
		all = append(all, tryIn(t, s, shot))
	}
	return all
}

func tryIn(t *testing.T, s *brief.Scenario, shot *brief.Shot) engine.Outcome {
	t.Helper()
	camera, err := s.Camera(shot.ID)
	if err != nil {
		t.Fatal(err)
	}
	lens, ok := s.Catalogue.Lenses.Lookup(shot.ID)
	if !ok {
		t.Fatalf("there is no lens %q", shot.ID)
	}
	return engine.NewBench(s, camera).Stage(shot).Try(lens)
}

// worth is what an outcome counts.
func worth(o engine.Outcome) float64 {
	if o.Acceptable() {
		return o.Score
	}
	return 0
}

// More freedom never lowers a score: the larger choice holds the smaller, and nothing that
// judges a set-up reads how large the choice is.
func TestMoreFreedomNeverLowersAScore(t *testing.T) {
	const rounding = 1e-9
	trials := langtest.Cases(500)
	held, covered, raised := map[string]int{}, 0, map[string]int{}
	for n := range trials {
		drawn := drawTrial(dice{rand.New(rand.NewPCG(11, uint64(n)))})
		all := []named{{"as it is", drawn}}
		for _, f := range freedoms {
			freer := drawn
			if f.does(&freer) {
				all = append(all, named{f.name, freer})
			}
		}
		outcomes := tried(t, all)
		before := outcomes[0]
		if before.Acceptable() {
			covered++
		}
		for i, after := range outcomes {
			name := all[i].name
			held[name]++
			switch gain := worth(after) - worth(before); {
			case gain < -rounding:
				t.Errorf("trial %d, %s: %.6f with %+v, and %.6f before with %+v\n%s", n, name, worth(after), after, worth(before), before, strings.Join(drawn.text(), "\n"))
			case gain > rounding:
				raised[name]++
			}
		}
	}
	t.Logf("%d of %d trials can be covered", covered, trials)
	for _, f := range freedoms {
		t.Logf("%-40s tried %4d times, raised %3d", f.name, held[f.name], raised[f.name])
	}
	if covered < trials/3 {
		t.Errorf("only %d of %d trials can be covered, so that this says little", covered, trials)
	}
}

func (t *drawnTrial) text() []string {
	return append(append(append(append([]string{}, t.camera...), t.lens...), t.shot...), t.filters...)
}

// More light never lowers a score where light is short: where the best set-up stands above the
// ISO that counts as clean and above all bases of the camera, with no filter. Beyond, a surplus
// costs a filter, diffraction or a pull, rightly.
func TestMoreLightNeverLowersAScoreWhereItIsShort(t *testing.T) {
	const rounding, clean = 1e-9, 800
	trials := langtest.Cases(500)
	short := 0
	for n := range trials {
		d := dice{rand.New(rand.NewPCG(12, uint64(n)))}
		drawn := drawTrial(d)
		lux := d.between(1, 300)
		light := func(factor float64) drawnTrial {
			lit := drawn
			lit.shot = with(lit.shot, fmt.Sprintf("light %.6flx", lux*factor))
			return lit
		}
		outcomes := tried(t, []named{{"as it is", light(1)}, {"a little more", light(1.02)}, {"more", light(1.1)}})
		before := outcomes[0]
		if !before.Acceptable() || before.ISO.Speed <= max(clean, slices.Max(drawn.bases)) || before.Filter != 0 {
			continue
		}
		short++
		for _, after := range outcomes[1:] {
			if worth(after) < worth(before)-rounding {
				t.Errorf("trial %d: %.6f with %+v, and %.6f in less light with %+v\n%s", n, worth(after), after, worth(before), before, strings.Join(drawn.text(), "\n"))
			}
		}
	}
	if short < trials/5 {
		t.Errorf("light is short in only %d of %d trials, so that this says little", short, trials)
	}
}
