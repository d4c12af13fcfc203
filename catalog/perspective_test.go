package catalog_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

// breathingOf reads a lens of 35 mm with some lines.
func breathingOf(t rapid.TB, lines string) (*catalog.Lens, lang.Diagnostics) {
	t.Helper()
	src, found := lang.NewSource("t.catalog", []byte("mount \"M\" {\nflange 20mm\n}\nlens \"L\" {\nmount \"M\"\naperture f/2..f/22\n"+lines+"\n}\n"))
	if found.HasErrors() {
		t.Fatal(found)
	}
	c, found := catalog.Load(src)
	if c == nil {
		return nil, found
	}
	lens, _ := c.Lenses.Lookup("L")
	return lens, found
}

// A lens that breathes shows a plane at d before its pupil as a cone of rays whose tip lies its
// breathing times the d of the closest focus before the pupil: the angles that are seen so at two
// distances give the breathing back.
func TestBreathingByAnglesOfView(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pupil := float64(rapid.IntRange(-50, 150).Draw(t, "pupil, mm")) / 1e3
		closest := pupil + float64(rapid.IntRange(200, 800).Draw(t, "closest, mm"))/1e3
		want := float64(rapid.IntRange(-30, 20).Draw(t, "breathing, %")) / 100
		tangent := math.Tan(float64(rapid.IntRange(20, 100).Draw(t, "angle at infinity, deg")) * math.Pi / 360)
		seen := func(d float64) string { // the cone meets the plane at half its width there
			half := tangent * (d + want*(closest-pupil))
			return fmt.Sprintf("%.12fm %.12fdeg", d+pupil, 2*math.Atan2(half, d)*180/math.Pi)
		}
		near := closest - pupil + float64(rapid.IntRange(0, 500).Draw(t, "beyond the closest, mm"))/1e3
		far := "infinity " + fmt.Sprintf("%.12fdeg", 2*math.Atan(tangent)*180/math.Pi)
		if more := rapid.IntRange(0, 5000).Draw(t, "farther, mm"); more > 300 {
			far = seen(near + float64(more)/1e3)
		}
		pair := []string{seen(near), far}
		if rapid.Bool().Draw(t, "the farther first") {
			pair[0], pair[1] = pair[1], pair[0]
		}
		lens, found := breathingOf(t, fmt.Sprintf("focal 35mm\npupil %.3fmm\nclose_focus %.6fm\nbreathing %s", pupil*1e3, closest, strings.Join(pair, " ")))
		if found.HasErrors() {
			t.Fatal(found)
		}
		if got := lens.Breathing.Wide.Value; math.Abs(got-want) > 1e-6 {
			t.Errorf("got %.9f, want %g", got, want)
		}
	})
}

func TestBreathingThatAnglesDoNotTell(t *testing.T) {
	for lines, want := range map[string]string{
		"focal 24mm..70mm\npupil 90mm\nclose_focus 0.4m\nbreathing 0.4m 50deg infinity 54deg": "tell the breathing of one focal length",
		"focal 35mm\nclose_focus 0.4m\nbreathing 0.4m 50deg infinity 54deg":                   "only beside the pupil",
		"focal 35mm\npupil 90mm\nbreathing 0.4m 50deg infinity 54deg":                         "only beside the pupil",
		"focal 35mm\npupil 90mm\nclose_focus 0.4m\nbreathing 2m 50deg 2m 54deg":               "no lens shows these angles",
		"focal 35mm\npupil 90mm\nclose_focus 0.4m\nbreathing 0.05m 50deg 2m 54deg":            "no lens shows these angles",
		"focal 35mm\npupil 90mm\nclose_focus 0.4m\nbreathing 0.4m 50deg":                      "lacks",
	} {
		if _, found := breathingOf(t, lines); !found.HasErrors() || !strings.Contains(found.Error(), want) {
			t.Errorf("%q: got %v, want %q", lines, found, want)
		}
	}
}
