package engine_test

import (
	"fmt"
	"slices"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

// A drawnBrief is a generated scenario with its catalogue, as the texts that a user would
// write: a block for each lens and shot, so that a property can change or move one.
type drawnBrief struct {
	carry  int
	lenses []string
	shots  []string
}

// equipment is what the generated lenses stand beside.
const equipment = `mount "Near" { flange 20mm }
mount "Far" { flange 44mm }
adapter "Far to near" {
  from "Far" to "Near"
  thickness 24mm
  mass 100g
}
camera "Body" {
  mount "Near"
  mode "Full" 24mm x 16mm
  mode "Crop" 15mm x 10mm
  iso 800
  iso_range 200..12800
  autofocus
  mass 1kg
}
rig "Sled" {
  payload 0.9kg..3kg
  wobble 0.25deg
  isolation 70%
}
`

// load reads the brief as the files that it stands for.
func (b drawnBrief) load(t rapid.TB) *brief.Scenario {
	t.Helper()
	return enginetest.ReadWith(t, b.scenario(), b.catalogue())
}

func (b drawnBrief) catalogue() string { return equipment + strings.Join(b.lenses, "\n") }

func (b drawnBrief) scenario() string {
	return fmt.Sprintf("use \"kit.catalog\"\nscenario \"Generated\" {\n  camera \"Body\"\n  rig \"Sled\"\n  carry %d\n}\n", b.carry) +
		strings.Join(b.shots, "\n")
}

// drawBrief makes a brief of a few lenses and shots. No figure of a lens lies so near to
// one of a shot, or to a limit of the standard criteria, that rounding decides.
func drawBrief(t *rapid.T) drawnBrief {
	b := drawnBrief{carry: rapid.IntRange(1, 3).Draw(t, "carry")}
	for i := range rapid.IntRange(2, 7).Draw(t, "lenses") {
		b.lenses = append(b.lenses, drawLens(t, fmt.Sprintf("Lens %d", i)))
	}
	for i := range rapid.IntRange(1, 5).Draw(t, "shots") {
		b.shots = append(b.shots, drawShot(t, fmt.Sprintf("%dA", i)))
	}
	return b
}

func drawLens(t *rapid.T, name string) string {
	low := rapid.IntRange(9, 60).Draw(t, "focal")
	focal := fmt.Sprintf("focal %dmm", low)
	if rapid.IntRange(0, 2).Draw(t, "zoom") == 0 {
		focal += fmt.Sprintf("..%dmm", low+rapid.IntRange(1, 2*low).Draw(t, "reach"))
	}
	mount := rapid.SampledFrom([]string{"Near", "Near", "Far"}).Draw(t, "mount")
	return block("lens", name, append(drawFigures(t), focal, fmt.Sprintf("mount %q", mount)))
}

// drawFigures draws what a lens has beside its focal length and mount. Each figure may be
// unknown.
func drawFigures(t *rapid.T) []string {
	return slices.DeleteFunc(drawAllFigures(t), func(string) bool { return rapid.IntRange(0, 24).Draw(t, "known") == 0 })
}

func drawAllFigures(t *rapid.T) []string {
	widest, closest := rapid.IntRange(12, 40).Draw(t, "widest"), rapid.IntRange(10, 90).Draw(t, "close")
	pupil, breathing := "pupil thin", "about \"a thin lens\""
	if rapid.Bool().Draw(t, "with a pupil") {
		pupil = fmt.Sprintf("pupil %dmm", rapid.IntRange(-60, min(9*closest, 150)).Draw(t, "pupil"))
		breathing = fmt.Sprintf("breathing %d%%", rapid.IntRange(-35, 15).Draw(t, "breathing"))
	}
	return []string{
		fmt.Sprintf("aperture f/%.1f..f/22", float64(widest)/10),
		fmt.Sprintf("transmission T%.2f", float64(widest)/10*1.1),
		fmt.Sprintf("close_focus %d.3cm", closest),
		pupil, breathing,
		fmt.Sprintf("circle %dmm", rapid.IntRange(28, 45).Draw(t, "circle")),
		fmt.Sprintf("mass %d.3g", rapid.IntRange(100, 2100).Draw(t, "mass")),
		fmt.Sprintf("length %dmm", rapid.IntRange(30, 200).Draw(t, "length")),
		fmt.Sprintf("distortion %.1f%%", float64(rapid.IntRange(-40, 20).Draw(t, "distortion"))/10),
		"focus " + rapid.SampledFrom([]string{"manual", "auto"}).Draw(t, "focus"),
		rapid.SampledFrom([]string{"have owned", "have rent 30 EUR", "have borrowed"}).Draw(t, "have"),
		rapid.SampledFrom([]string{"projection rectilinear", "projection rectilinear", "projection rectilinear", "projection equisolid"}).Draw(t, "projection"),
	}
}

// evenFigures draws what a zoom and a prime may have alike: all of it is known, for what is
// assumed of the two differs, and neither distorts, for a zoom does so less between its ends.
func evenFigures(t *rapid.T) []string {
	figures := append(drawAllFigures(t), "thread none", "falloff 1 stops")
	for i, line := range figures {
		if strings.HasPrefix(line, "distortion") {
			figures[i] = "distortion 0%"
		}
	}
	return figures
}

func drawShot(t *rapid.T, name string) string {
	near := rapid.IntRange(60, 400).Draw(t, "near")
	far := near + rapid.SampledFrom([]int{0, 0, 20, 60, 200}).Draw(t, "depth")
	// A share of the frame that some focal length gives at the nearest, on a frame 16 mm
	// high, lets many lenses pass; the words of the trade let few.
	share := 170 * 100 / 16 * rapid.IntRange(9, 50).Draw(t, "wanted") / near
	frame := fmt.Sprintf("%d%%..%d%%", max(1, share/3), max(2, share*3/2))
	if rapid.IntRange(0, 4).Draw(t, "words") == 0 {
		words := brief.FramingWords()
		tight := rapid.IntRange(0, len(words)-1).Draw(t, "tight")
		frame = words[tight] + ".." + words[rapid.IntRange(tight, len(words)-1).Draw(t, "loose")]
	}
	lines := []string{
		"subject " + rapid.SampledFrom([]string{"person 1.7m", "people 1.5m x 1.8m", "object 0.5m x 0.4m"}).Draw(t, "subject"),
		"frame " + frame,
		fmt.Sprintf("distance %dcm..%dcm", near, far),
		"move " + rapid.SampledFrom([]string{"lead 1.1m/s", "orbit 0.8m/s", "side 1m/s", "push-in 0.4m/s", "stairs 0.5m/s", "boom 0.3m/s"}).Draw(t, "move"),
		fmt.Sprintf("light %dlx", rapid.SampledFrom([]int{19, 110, 470, 2100, 15000}).Draw(t, "light")),
		fmt.Sprintf("weight %d", rapid.IntRange(1, 4).Draw(t, "weight")),
	}
	if rapid.IntRange(0, 4).Draw(t, "auto") == 0 {
		lines = append(lines, "focus auto")
	}
	if rapid.IntRange(0, 3).Draw(t, "prefers") == 0 {
		lines = append(lines, "prefer background_blur > 1%")
	}
	return block("shot", name, lines)
}

func block(keyword, name string, lines []string) string {
	return fmt.Sprintf("%s %q {\n  %s\n}\n", keyword, name, strings.Join(lines, "\n  "))
}

// outlook writes all that an answer says, with one line for each lens in each shot: what
// two answers must share to be the same. Kits that are as good as each other may differ.
func outlook(r *engine.Recommendation) []string {
	lines := []string{fmt.Sprintf("kit %.9f, not covered %v", r.Kit.Value, sorted(r.Kit.Uncovered))}
	for i := range r.Shots {
		shot := &r.Shots[i]
		for place, j := range shot.Ranking {
			lines = append(lines, fmt.Sprintf("%s %2d %s %s %.9f %v", shot.Shot.ID, place, j.Lens, j.Standing, j.Score, vetoesOf(&j)))
		}
	}
	slices.Sort(lines)
	return lines
}

func sorted(names []string) []string { return slices.Sorted(slices.Values(names)) }

// sure reports whether no other kit is as good as the first, so that its lenses say
// something. The answer must have been asked for a runner-up.
func sure(r *engine.Recommendation) bool {
	const tie = 1e-6
	for _, other := range r.Runners {
		if len(other.Uncovered) == len(r.Kit.Uncovered) && r.Kit.Value-other.Value < tie {
			return false
		}
	}
	return true
}

// vetoesOf gives the codes and reasons of the vetoes.
func vetoesOf(j *engine.Judgement) []string {
	var said []string
	for _, veto := range j.Vetoes() {
		said = append(said, veto.Code+": "+veto.In(lang.Printer{}))
	}
	return said
}
