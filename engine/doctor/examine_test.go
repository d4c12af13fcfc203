package doctor_test

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/doctor"
	"glassbrief/engine/enginetest"
)

const equipment = `mount "Near" { flange 20mm }
mount "Other" { flange 20mm }
camera "Body" {
  mount "Near"
  mode "Full" 24mm x 16mm
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

const briefText = `use "kit.catalog"
scenario "Trial" {
  camera "Body"
  rig "Sled"
  carry 2 lenses
}
shot "1" {
  subject person 1.75m
  frame medium
  distance 2m..2.5m
  move lead 1m/s
  light 500lx
}
shot "2" {
  subject person 1.75m
  frame full
  distance 2.5m
  light 200lx
}
`

func load(t rapid.TB, catalogue string) *brief.Scenario {
	t.Helper()
	return enginetest.ReadWith(t, briefText, catalogue)
}

// lines gives a lens in full, but for what is left out.
func lens(name string, focal int, leave ...string) string {
	lines := []string{
		`mount "Near"`, fmt.Sprintf("focal %dmm", focal), "have owned", "aperture f/2..f/22", "transmission T2.2", "close_focus 0.3m",
		"circle 32mm", "focus manual", "mass 500g", "length 80mm", "diameter 80mm", "thread 77mm", "balance 40mm", "distortion -1%", "falloff 1 stops",
	}
	lines = slices.DeleteFunc(lines, func(line string) bool {
		keyword, _, _ := strings.Cut(line, " ")
		return slices.Contains(leave, keyword)
	})
	return fmt.Sprintf("lens %q {\n%s\n}\n", name, strings.Join(lines, "\n"))
}

func kitOf(t rapid.TB, catalogue string) []string {
	t.Helper()
	r, err := engine.Recommend(context.Background(), load(t, catalogue), engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r.Kit.Lenses
}

func examine(t rapid.TB, catalogue string, scope doctor.Scope, o engine.Options) *doctor.Examination {
	t.Helper()
	report, err := doctor.Examine(context.Background(), load(t, catalogue), scope, o)
	if err != nil {
		t.Fatal(err)
	}
	return report
}

// amended is a catalogue with lines added to a lens, as its owner would write them.
func amended(catalogue, lens string, lines ...string) string {
	return catalogue + fmt.Sprintf("amend lens %q {\n%s\n}\n", lens, strings.Join(lines, "\n"))
}

func sameLenses(a, b []string) bool {
	a, b = slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b))
	return slices.Equal(a, b)
}

// What the doctor says of a figure must come true when the figure is written into the
// catalogue and the whole brief is read and recommended from anew, at both ends.
func TestClaimsComeTrue(t *testing.T) {
	claims := 0
	rapid.Check(t, func(t *rapid.T) {
		catalogue := equipment
		fields := []string{"have", "aperture", "transmission", "close_focus", "circle", "focus", "mass", "length", "thread", "distortion", "falloff"}
		for i := range rapid.IntRange(3, 5).Draw(t, "lenses") {
			leave := rapid.SliceOfNDistinct(rapid.SampledFrom(fields), 0, 3, rapid.ID).Draw(t, "unknown")
			catalogue += lens(fmt.Sprintf("Lens %d", i), rapid.IntRange(12, 90).Draw(t, "focal"), leave...)
		}
		report := examine(t, catalogue, doctor.Scope{}, engine.Options{})
		if got := kitOf(t, catalogue); !sameLenses(got, report.Kit) {
			t.Fatalf("the kit as it stands: got %v, want %v", report.Kit, got)
		}
		for _, x := range report.Lenses {
			var favour, against []string
			for _, gap := range x.Gaps {
				favour = append(favour, gap.Keyword+" "+gap.Trials[0])
				against = append(against, gap.Keyword+" "+gap.Trials[len(gap.Trials)-1])
				for _, trial := range gap.Trials {
					line := gap.Keyword + " " + trial
					real := kitOf(t, amended(catalogue, x.Name.Value, line))
					i := slices.IndexFunc(gap.Changes, func(c doctor.OtherKit) bool { return c.With == line })
					switch {
					case i >= 0 && !sameLenses(gap.Changes[i].Kit, real):
						t.Errorf("%s with %s: said to give %v, gives %v", x.Name.Value, line, gap.Changes[i].Kit, real)
					case i < 0 && !sameLenses(real, report.Kit):
						t.Errorf("%s with %s: said to change nothing, gives %v", x.Name.Value, line, real)
					case i >= 0:
						claims++
					}
				}
			}
			for _, change := range x.Together {
				all := favour
				if change.All == doctor.LeastFavourable {
					all = against
				}
				if real := kitOf(t, amended(catalogue, x.Name.Value, all...)); !sameLenses(real, change.Kit) {
					t.Errorf("%s with all at end %d: said to give %v, gives %v", x.Name.Value, change.All, change.Kit, real)
				}
				claims++
			}
		}
	})
	if claims == 0 {
		t.Error("no brief had a lens whose unknown figures matter, so nothing was checked")
	}
}

func TestExamineSaysWhatIsBlind(t *testing.T) {
	catalogue := equipment + lens("Whole", 24) + lens("No T", 35, "transmission") + lens("No mass", 50, "mass") +
		strings.Replace(lens("Elsewhere", 35, "mass"), `"Near"`, `"Other"`, 1)
	report := examine(t, catalogue, doctor.Scope{}, engine.Options{})
	got := map[string][]string{}
	for _, x := range report.Lenses {
		for _, gap := range x.Gaps {
			got[x.Name.Value] = append(got[x.Name.Value], gap.Keyword+": "+strings.Join(gap.Blinds, ", "))
			if len(gap.Trials) < 2 {
				t.Errorf("%s, %s: got the trials %v, want two at least", x.Name.Value, gap.Keyword, gap.Trials)
			}
		}
	}
	for name, want := range map[string]string{"No T": "transmission: light", "No mass": "mass: rig weight", "Elsewhere": "mass: "} {
		if len(got[name]) != 1 || got[name][0] != want {
			t.Errorf("%s: got %q, want %q", name, got[name], want)
		}
	}
	if len(got["Whole"]) != 0 {
		t.Errorf("a lens of which all is known: got %q", got["Whole"])
	}
	for _, x := range report.Lenses {
		if (x.Refusal != "") != (x.Name.Value == "Elsewhere") || x.Tried == (x.Name.Value == "Elsewhere") {
			t.Errorf("%s: refused %q, tried %v", x.Name.Value, x.Refusal, x.Tried)
		}
	}
	if last := report.Lenses[len(report.Lenses)-1]; last.Name.Value != "Elsewhere" {
		t.Errorf("the last to measure: got %s, want the one that goes onto no camera", last.Name.Value)
	}
}

func TestExamineBoundsAndProgress(t *testing.T) {
	catalogue := equipment
	for i := range 5 {
		catalogue += lens(fmt.Sprintf("Lens %d", i), 20+10*i, "mass")
	}
	var steps []string
	report := examine(t, catalogue, doctor.Scope{Most: 2}, engine.Options{Progress: func(done, total int) { steps = append(steps, fmt.Sprintf("%d/%d", done, total)) }})
	tried := 0
	for _, x := range report.Lenses {
		if x.Tried {
			tried++
		}
	}
	if tried != 2 || len(report.Lenses) != 5 {
		t.Errorf("got %d tried of %d lenses, want 2 of 5", tried, len(report.Lenses))
	}
	if got := strings.Join(steps, " "); got != "1/5 2/5 3/5 4/5 5/5" {
		t.Errorf("progress: got %s", got)
	}
	if report = examine(t, catalogue, doctor.Scope{Lens: "Lens 3"}, engine.Options{}); len(report.Lenses) != 1 || report.Lenses[0].Name.Value != "Lens 3" {
		t.Errorf("one lens: got %d", len(report.Lenses))
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := doctor.Examine(ended, load(t, catalogue), doctor.Scope{}, engine.Options{}); err == nil {
		t.Error("an ended context: got no error")
	}
}
