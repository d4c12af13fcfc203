package engine_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/audit"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
)

// cutDemo reads a demo scenario with lines of its own catalogue and of its shots taken out.
func cutDemo(t *testing.T, catalogue, shots string) *brief.Scenario {
	t.Helper()
	return enginetest.Read(t, strings.Replace(cut(read(t, "../scenarios/night-ferry.scenario"), shots), "use demo", `use "kit.catalog"`, 1), brief.Files{Tree: fstest.MapFS{
		"kit.catalog":          {Data: []byte(cut(string(catalog.Demo().Text), catalogue))},
		"night-ferry.fountain": {Data: []byte(read(t, "../scenarios/night-ferry.fountain"))},
	}})
}

func read(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// cut takes the lines out that begin with one of some keywords.
func cut(text, keywords string) string {
	if keywords == "" {
		return text
	}
	return regexp.MustCompile(`(?m)^ +(`+keywords+`) .*\n`).ReplaceAllString(text, "")
}

// What a rig, a mount or a shot lacks removes no lens, and makes no shot a compromise by itself.
func TestWhatOthersLackIsBlamedOnNoLens(t *testing.T) {
	whole := enginetest.Recommend(t, cutDemo(t, "", ""), engine.Options{})
	for _, of := range []struct{ name, catalogue, shots string }{
		{"rig", "wobble|isolation", ""},
		{"shots", "", "light"},
		{"mounts", "flange", ""},
		{"camera", "iso|iso_range", ""},
		{"all of them", "wobble|isolation|flange|iso|iso_range", "light"},
	} {
		t.Run(of.name, func(t *testing.T) {
			s := cutDemo(t, of.catalogue, of.shots)
			r := enginetest.Recommend(t, s, engine.Options{})
			if len(r.LeftOut) != len(whole.LeftOut) {
				t.Errorf("got %v left out, want %v", r.LeftOut, whole.LeftOut)
			}
			if len(r.Kit.Uncovered) > 0 {
				t.Errorf("the shots %v are done by no lens, want all done", r.Kit.Uncovered)
			}
			answer, err := audit.Run(t.Context(), s, s.Limits, engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, shot := range answer.Shots {
				for _, f := range shot.Compromises {
					if len(f.Unknown) > 0 {
						t.Errorf("shot %s is a compromise because %v is unknown", shot.Shot.ID, f.Unknown)
					}
				}
			}
		})
	}
}

// An adapter in the catalogue proves that lenses of its mount reach infinity, however short the
// flange distance of that mount is against what is usual of the camera's.
func TestAdapterProvesThatInfinityIsReached(t *testing.T) {
	kit := strings.Replace(measuredKit, "rig ", `mount "Middling" { flange 17.5mm }
adapter "Middling to short" { from "Middling" to "Short" }
lens "Adapted" {
  mount "Middling"
  focal 35mm
  pupil thin
  aperture f/2.8..f/22
}
rig `, 1)
	for catalogue, refused := range map[string]bool{kit: true, strings.Replace(kit, `"Short" { flange 18mm }`, `"Short" { throat 46mm }`, 1): false} {
		r := enginetest.Recommend(t, enginetest.ReadWith(t, measuredBrief, catalogue), engine.Options{})
		if j := r.Shots[0].Find("Adapted"); (j.Refusal != "") != refused {
			t.Errorf("refused with %q, want a refusal %v, in\n%s", j.Refusal, refused, catalogue)
		}
	}
}

// Without a widest stop a lens stays out, alone, and the reason is that lack and no other.
func TestLensWithoutWidestStopIsLeftOut(t *testing.T) {
	const bare = "lens \"No stop\" {\n  mount \"Slim bayonet\"\n  focal 45mm\n}\n"
	text := strings.Replace(enginetest.Trial("", "light 300lx"), "use demo", "use \"kit.catalog\"\nuse demo", 1)
	r := enginetest.Recommend(t, enginetest.ReadWith(t, text, bare), engine.Options{})
	if len(r.LeftOut) != 1 || r.LeftOut[0].Lens != "No stop" || !slices.Equal(r.LeftOut[0].Lacks, []string{"aperture"}) {
		t.Errorf("got %v left out, want the lens without a stop, for its aperture", r.LeftOut)
	}
	if len(r.Kit.Uncovered) > 0 {
		t.Errorf("the shots %v are done by no lens, want all done", r.Kit.Uncovered)
	}
}

// What rules of the brief read and nobody knows is named as they name it.
func TestUnknownFactOfAnOwnRuleIsNamed(t *testing.T) {
	const bare = "lens \"Whose\" {\n  mount \"Slim bayonet\"\n  focal 45mm\n  aperture f/2..f/16\n}\n"
	text := strings.Replace(enginetest.Trial("rules \"own.rules\"", "light 300lx"), "use demo", "use \"kit.catalog\"\nuse demo", 1)
	r := enginetest.Recommend(t, enginetest.Read(t, text, brief.Files{Tree: fstest.MapFS{
		"kit.catalog": {Data: []byte(bare)},
		"own.rules":   {Data: []byte("criterion \"price\" {\n  weight 100\n  score falling(day_rate, 0 EUR, 100 EUR)\n}\n")},
	}}), engine.Options{})
	i := slices.IndexFunc(r.LeftOut, func(l engine.LeftOut) bool { return l.Lens == "Whose" })
	if i < 0 || !slices.Equal(r.LeftOut[i].Lacks, []string{"day_rate"}) {
		t.Errorf("got %v left out, want the lens of which nobody knows whose it is, for its day_rate", r.LeftOut)
	}
}
