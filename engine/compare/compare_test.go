package compare_test

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/compare"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

const kit = `mount "Slim" {
  flange    18mm
  throat    52mm
}

camera "Body" {
  mount     "Slim"
  mode      "Full" 36mm x 24mm
  iso       800
  iso_range 200..12800
  mass      900g
}

camera "Small body" {
  mount     "Slim"
  mode      "Small" 18mm x 12mm
  iso       800
  iso_range 200..12800
  mass      900g
}

rig "Sled" {
  payload   0.5kg..4kg
  wobble    0.2deg
  isolation 70%
}
`

func lens(name, focal, aperture, t string) string {
	return fmt.Sprintf("\nlens %q {\n  have      owned\n  mount     \"Slim\"\n  focal     %s\n  pupil     thin\n  aperture  %s\n  transmission %s\n  close_focus 0.2m\n  circle    46mm\n  focus     manual\n  mass      500g\n  length    70mm\n  distortion -1%%\n}\n", name, focal, aperture, t)
}

var glass = kit + lens("Wide 24", "24mm", "f/1.4..f/16", "T1.5") + lens("Normal 50", "50mm", "f/1.4..f/16", "T1.5") + lens("Long 100", "100mm", "f/2..f/22", "T2.1")

const base = `use "kit.catalog"

scenario "Test" {
  camera    "Body"
  rig       "Sled"
  carry     2 lenses
}

shot "1A" "The door" {
  scene     1
  subject   person 1.7m
  frame     full
  distance  2m
  light     640lx
  focus     pulled
}

shot "2A" "The face" {
  scene     2
  subject   person 1.7m
  frame     medium-close
  distance  1.4m
  light     640lx
  focus     pulled
}

expect kit "Wide 24" "Normal 50"
`

// files are the texts of one version.
type files map[string]string

func side(t *testing.T, version files) compare.Side {
	t.Helper()
	tree := fstest.MapFS{}
	for name, text := range version {
		tree[name] = &fstest.MapFile{Data: []byte(text)}
	}
	src, found := lang.NewSource("test.scenario", []byte(version["test.scenario"]))
	if found.HasErrors() {
		t.Fatal(found)
	}
	return compare.Side{Source: src, Files: brief.Files{Tree: tree}}
}

// edited gives the base with pairs of texts replaced, in whichever file has them.
func edited(t *testing.T, pairs ...string) files {
	t.Helper()
	version := files{"test.scenario": base, "kit.catalog": glass}
	for i := 0; i < len(pairs); i += 2 {
		found := false
		for name, text := range version {
			if strings.Contains(text, pairs[i]) {
				version[name], found = strings.Replace(text, pairs[i], pairs[i+1], 1), true
				break
			}
		}
		if !found {
			t.Fatalf("no file has %q", pairs[i])
		}
	}
	return version
}

// withRules gives the base with a file of rules.
func withRules(t *testing.T, text string) files {
	version := edited(t, "carry     2 lenses", "carry     2 lenses\n  rules     \"own.rules\"")
	version["own.rules"] = text
	return version
}

// outline writes a report on few lines: each change, and each effect with its causes.
func outline(r *compare.Comparison) []string {
	var lines []string
	name := func(c compare.Edit) string { return strings.TrimSpace(c.Block + " " + c.Field) }
	for _, c := range r.Changes {
		lines = append(lines, fmt.Sprintf("%s %s: %s -> %s", c.Kind, name(c), c.Old, c.New))
	}
	for _, e := range r.Effects {
		line := "=> " + e.Of.String()
		switch {
		case e.Of == compare.Kit:
			line += fmt.Sprintf(" %v -> %v", r.Old.Kit.Lenses, r.New.Kit.Lenses)
		case e.Shot >= 0:
			shot := r.Shots[e.Shot]
			line += fmt.Sprintf(" of %s", shot.New.Shot.ID)
			if e.Of == compare.Setup {
				line += fmt.Sprintf(": %s -> %s", use(shot.Old), use(shot.New))
			}
		}
		var because []string
		for _, at := range e.Because {
			because = append(because, name(r.Changes[at]))
		}
		lines = append(lines, line+" because "+strings.Join(because, " and "))
	}
	for _, shot := range r.Shots {
		switch {
		case shot.Old == nil:
			lines = append(lines, "new shot "+shot.New.Shot.ID)
		case shot.New == nil:
			lines = append(lines, "gone shot "+shot.Old.Shot.ID)
		}
	}
	return lines
}

func use(a *engine.ShotAnswer) string {
	if a.Use == nil {
		return "none"
	}
	return a.Use.Lens
}

func TestCompare(t *testing.T) {
	for _, c := range []struct {
		name     string
		old, new files
		same     bool
		want     []string
	}{
		{"nothing", edited(t), edited(t), true, nil},
		{"layout, comments and order of lines", edited(t), edited(t, "  scene     1\n  subject   person 1.7m", "  subject person 1.7m // tall\n\n  scene 1"), true, nil},
		{"units", edited(t), edited(t, "distance  2m", "distance 200 cm", "light     640lx", "light EV8", "flange    18mm", "flange 1.8cm"), true, nil},
		{"a distance", edited(t), edited(t, "distance  2m", "distance  4m"), false, []string{
			`changed shot "1A" distance: 2m -> 4m`,
			`=> kit [Wide 24 Normal 50] -> [Normal 50] because shot "1A" distance`,
			`=> setup of 1A: Wide 24 -> Normal 50 because shot "1A" distance`,
			`=> ranking of 1A because shot "1A" distance`,
		}},
		{"two changes that only do it together", edited(t), edited(t, "aperture  f/1.4..f/16\n  transmission T1.5\n  close_focus 0.2m\n  circle    46mm\n  focus     manual\n  mass      500g\n  length    70mm\n  distortion -1%\n}\n\nlens \"Normal 50\"",
			"aperture  f/8..f/16\n  transmission T8.5\n  close_focus 0.2m\n  circle    46mm\n  focus     manual\n  mass      500g\n  length    70mm\n  distortion -1%\n}\n\nlens \"Normal 50\""), false, []string{
			`changed lens "Wide 24" aperture: f/1.4..f/16 -> f/8..f/16`,
			`changed lens "Wide 24" transmission: T1.5 -> T8.5`,
			`=> setup of 1A: Wide 24 -> Wide 24 because lens "Wide 24" aperture and lens "Wide 24" transmission`,
		}},
		{"a renamed shot", edited(t), edited(t, "shot \"1A\"", "shot \"1C\""), true, []string{
			`renamed shot "1C": "1A" "The door" -> "1C" "The door"`,
		}},
		{"a shot with another title", edited(t), edited(t, "\"The door\"", "\"The gate\""), true, []string{
			`renamed shot "1A": "1A" "The door" -> "1A" "The gate"`,
		}},
		{"another scene", edited(t), edited(t, "scene     2", "scene     7"), true, []string{
			`changed shot "2A" scene: 2 -> 7`,
		}},
		{"a shot more and one less", edited(t), edited(t, "shot \"2A\" \"The face\"", "shot \"3A\" \"The wall\""), false, []string{
			`added shot "3A":  -> "3A" "The wall"`,
			`removed shot "2A": "2A" "The face" -> `,
			`new shot 3A`,
			`gone shot 2A`,
		}},
		{"another order", edited(t), files{"kit.catalog": glass, "test.scenario": swapShots(base)}, true, []string{
			`reordered order: "1A", "2A" -> "2A", "1A"`,
		}},
		{"a lens that leaves the catalogue", edited(t), files{"test.scenario": strings.Replace(base, `expect kit "Wide 24" "Normal 50"`, "", 1), "kit.catalog": strings.Replace(glass, lens("Normal 50", "50mm", "f/1.4..f/16", "T1.5"), "", 1)}, false, []string{
			`removed lens "Normal 50": "Normal 50" -> `,
			`=> kit [Wide 24 Normal 50] -> [Wide 24] because lens "Normal 50"`,
			`=> setup of 2A: Normal 50 -> none because lens "Normal 50"`,
			`=> ranking of 2A because lens "Normal 50"`,
		}},
		{"a lens in another catalogue", edited(t), files{"test.scenario": strings.Replace(base, "use ", "use \"b.catalog\"\nuse ", 1), "b.catalog": lens("Long 100", "100mm", "f/2..f/22", "T2.1"),
			"kit.catalog": strings.Replace(glass, lens("Long 100", "100mm", "f/2..f/22", "T2.1"), "", 1)}, true, nil},
		{"a rule that weighs otherwise", withRules(t, "criterion \"house\" {\n  weight 1\n  score falling(focal_length, 24mm, 25mm)\n}\n"), withRules(t, "criterion \"house\" {\n  weight 20\n  score rising(focal_length, 24mm, 25mm)\n}\n"), false, []string{
			`changed criterion "house" weight: 1 -> 20`,
			`changed criterion "house" score: falling(focal_length, 24mm, 25mm) -> rising(focal_length, 24mm, 25mm)`,
			`=> kit [Wide 24] -> [Normal 50] because criterion "house" score`,
			`=> setup of 1A: Wide 24 -> none because criterion "house" score`,
			`=> ranking of 1A because criterion "house" score`,
			`=> setup of 2A: none -> Normal 50 because criterion "house" score`,
			`=> ranking of 2A because criterion "house" score`,
		}},
		{"a standard rule that weighs otherwise", withRules(t, "weight \"light\" 3\nweight \"pace\" 1\n"), withRules(t, "weight \"pace\" 100 %\nweight \"light\" 2\n"), true, []string{
			`changed criterion "light" weight: 3 -> 2`,
		}},
		{"a standard rule that is weighed", edited(t), withRules(t, "weight \"light\" 2\n"), true, []string{
			`changed criterion "light" weight: 3 -> 2`,
		}},
		{"a weight in another line", withRules(t, "criterion \"house\" {\n  score 1\n}\nweight \"House\" 5\n"), withRules(t, "criterion \"house\" {\n  weight 5\n  score 1\n}\n"), true, nil},
		{"a rule whose name is written otherwise", withRules(t, "criterion \"House rule\" {\n  score 1\n}\n"), withRules(t, "criterion \"house-rule\" {\n  score 1\n}\n"), true, []string{
			`renamed criterion "house-rule": "House rule" -> "house-rule"`,
		}},
		{"another camera", edited(t), edited(t, "camera    \"Body\"", "camera    \"Small body\""), false, []string{
			`changed scenario camera: "Body" -> "Small body"`,
			`=> camera because scenario camera`,
			`=> kit [Wide 24 Normal 50] -> [Wide 24] because scenario camera`,
			`=> setup of 1A: Wide 24 -> none because scenario camera`,
			`=> ranking of 1A because scenario camera`,
			`=> setup of 2A: Normal 50 -> Wide 24 because scenario camera`,
			`=> ranking of 2A because scenario camera`,
		}},
		{"a rule more", edited(t), withRules(t, "criterion \"house\" {\n  veto focal_length < 40mm because \"no wide lenses\"\n}\n"), false, []string{
			`added criterion "house":  -> "house"`,
			`=> kit [Wide 24 Normal 50] -> [Normal 50] because criterion "house"`,
			`=> setup of 1A: Wide 24 -> none because criterion "house"`,
			`=> ranking of 1A because criterion "house"`,
		}},
		{"several changes, each with its own effect", edited(t), edited(t, "distance  2m", "distance  1.9m", "scene     1", "scene     9", "carry     2 lenses", "carry     1 lenses", "distance  1.4m", "distance  1.5m"), false, []string{
			`changed scenario carry: 2 lenses -> 1 lenses`,
			`changed shot "1A" scene: 1 -> 9`,
			`changed shot "1A" distance: 2m -> 1.9m`,
			`changed shot "2A" distance: 1.4m -> 1.5m`,
			`=> kit [Wide 24 Normal 50] -> [Normal 50] because scenario carry`,
			`=> setup of 1A: Wide 24 -> none because scenario carry`,
			`=> setup of 2A: Normal 50 -> Normal 50 because shot "2A" distance`,
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := compare.Compare(context.Background(), side(t, c.old), side(t, c.new), engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(c.want, outline(r)); diff != "" {
				t.Errorf("the report differs (-want +got):\n%s", diff)
			}
			if r.SamePlan() != c.same {
				t.Errorf("the same plan: got %v, want %v", r.SamePlan(), c.same)
			}
		})
	}
}

func swapShots(text string) string {
	first, second := strings.Index(text, "shot \"1A\""), strings.Index(text, "shot \"2A\"")
	end := strings.Index(text, "expect")
	return text[:first] + text[second:end] + text[first:second] + text[end:]
}

func TestCompareFails(t *testing.T) {
	for _, c := range []struct {
		name     string
		old, new files
		code     lang.Code
	}{
		{"a fault on the old side", edited(t, "distance  2m", "distance  2"), edited(t), lang.MissingUnit},
		{"a fault on the new side", edited(t), edited(t, "\"Sled\"", "\"Sledge\""), lang.UnknownName},
		{"no kit", edited(t), edited(t, "carry     2 lenses", "carry     2 lenses\n  bag 1g\n  bring \"Wide 24\""), lang.Contradiction},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := compare.Compare(context.Background(), side(t, c.old), side(t, c.new), engine.Options{})
			var ds lang.Diagnostics
			if !errors.As(err, &ds) || ds[0].Code != c.code {
				t.Errorf("got %v, want %s", err, c.code)
			}
		})
	}
}
