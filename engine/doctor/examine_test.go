package doctor_test

import (
	"context"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/doctor"
	"glassbrief/engine/enginetest"

	"pgregory.net/rapid"
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

const filters = `filter "Grey" {
  kind nd
  thread 77mm
  strength 4 stops
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
		`mount "Near"`, fmt.Sprintf("focal %dmm", focal), "pupil thin", "have owned", "aperture f/2..f/22", "transmission T2.2", "close_focus 0.3m",
		"circle 32mm", "focus manual", "mass 500g", "length 80mm", "diameter 80mm", "thread 77mm", "balance 40mm", "distortion -1%", "falloff 1 stops",
	}
	lines = slices.DeleteFunc(lines, func(line string) bool {
		keyword, _, _ := strings.Cut(line, " ")
		return slices.Contains(leave, keyword)
	})
	return fmt.Sprintf("lens %q {\n%s\n}\n", name, strings.Join(lines, "\n"))
}

func kitOf(t rapid.TB, text, catalogue string) []string {
	t.Helper()
	r, err := engine.Recommend(context.Background(), enginetest.ReadWith(t, text, catalogue), engine.Options{})
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

func sameLenses(a, b []string) bool {
	a, b = slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b))
	return slices.Equal(a, b)
}

// without is a catalogue whose camera, rig, mount and filter lack some lines.
func without(catalogue string, keywords ...string) string {
	if strings.Join(keywords, "") == "" {
		return catalogue
	}
	return regexp.MustCompile(`(?m)\b(`+strings.Join(keywords, "|")+`) [^\n}]*`).ReplaceAllString(catalogue, "")
}

// filesWith gives the brief and the catalogue with a line of an item written into them, as its
// owner would.
func filesWith(x *doctor.Item, text, catalogue, line string) (string, string) {
	if x.Of == brief.OfShot {
		return strings.Replace(text, fmt.Sprintf("shot %q {", x.Name), fmt.Sprintf("shot %q {\n  %s", x.Name, line), 1), catalogue
	}
	return text, catalogue + fmt.Sprintf("amend %s %q {\n%s\n}\n", x.Of, x.Name, line)
}

func kitWith(t rapid.TB, x *doctor.Item, text, catalogue, line string) []string {
	t.Helper()
	text, catalogue = filesWith(x, text, catalogue, line)
	return kitOf(t, text, catalogue)
}

func examineFiles(t rapid.TB, text, catalogue string) *doctor.Examination {
	t.Helper()
	report, err := doctor.Examine(context.Background(), enginetest.ReadWith(t, text, catalogue), doctor.Scope{}, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return report
}

// What the doctor says of a figure must come true when the figure is written into the files and
// the whole brief is read and recommended from anew, at both ends.
func TestClaimsComeTrue(t *testing.T) {
	claims := 0
	rapid.Check(t, func(t *rapid.T) {
		lacking := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"flange", "iso", "iso_range", "wobble", "isolation", "strength", "light"}), 0, 4, rapid.ID).Draw(t, "lacking")
		text, catalogue := without(briefText, lacking...), without(equipment+filters, lacking...)
		fields := []string{"have", "aperture", "transmission", "close_focus", "circle", "focus", "mass", "length", "thread", "distortion", "falloff"}
		for i := range rapid.IntRange(3, 5).Draw(t, "lenses") {
			leave := rapid.SliceOfNDistinct(rapid.SampledFrom(fields), 0, 3, rapid.ID).Draw(t, "unknown")
			catalogue += lens(fmt.Sprintf("Lens %d", i), rapid.IntRange(12, 90).Draw(t, "focal"), leave...)
		}
		report := examineFiles(t, text, catalogue)
		if got := kitOf(t, text, catalogue); !sameLenses(got, report.Kit) {
			t.Fatalf("the kit as it stands: got %v, want %v", report.Kit, got)
		}
		for _, x := range report.Items {
			var favour, against []string
			for _, gap := range x.Gaps {
				favour = append(favour, gap.Keyword+" "+gap.Trials[0])
				against = append(against, gap.Keyword+" "+gap.Trials[len(gap.Trials)-1])
				for _, trial := range gap.Trials {
					line := gap.Keyword + " " + trial
					real := kitWith(t, &x, text, catalogue, line)
					i := slices.IndexFunc(gap.Changes, func(c doctor.OtherKit) bool { return c.With == line })
					switch {
					case i >= 0 && !sameLenses(gap.Changes[i].Kit, real):
						t.Errorf("%s %s with %s: said to give %v, gives %v", x.Of, x.Name, line, gap.Changes[i].Kit, real)
					case i < 0 && !sameLenses(real, report.Kit):
						t.Errorf("%s %s with %s: said to change nothing, gives %v", x.Of, x.Name, line, real)
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
				if real := kitWith(t, &x, text, catalogue, strings.Join(all, "\n")); !sameLenses(real, change.Kit) {
					t.Errorf("%s with all at end %d: said to give %v, gives %v", x.Name, change.All, change.Kit, real)
				}
				claims++
			}
		}
	})
	if claims == 0 {
		t.Error("no brief had a lens whose unknown figures matter, so nothing was checked")
	}
}

func TestExamineSaysWhatAFigureBearsOn(t *testing.T) {
	catalogue := strings.Replace(equipment, "..3kg", "..1.52kg", 1) + lens("Whole", 24) + lens("No T", 35, "transmission") + lens("No mass", 50, "mass") +
		strings.Replace(lens("Elsewhere", 35, "mass"), `"Near"`, `"Other"`, 1)
	report := examine(t, catalogue, doctor.Scope{}, engine.Options{})
	got := map[string][]string{}
	for _, x := range report.Items {
		for _, gap := range x.Gaps {
			got[x.Name] = append(got[x.Name], gap.Keyword+": "+strings.Join(gap.Bears, ", "))
			if len(gap.Trials) < 2 {
				t.Errorf("%s, %s: got the trials %v, want two at least", x.Name, gap.Keyword, gap.Trials)
			}
		}
	}
	for name, want := range map[string]string{"No T": "transmission: depth of field, separation, clean picture", "No mass": "mass: rig weight", "Elsewhere": "mass: "} {
		if len(got[name]) != 1 || got[name][0] != want {
			t.Errorf("%s: got %q, want %q", name, got[name], want)
		}
	}
	if len(got["Whole"]) != 0 {
		t.Errorf("a lens of which all is known: got %q", got["Whole"])
	}
	for _, x := range report.Items {
		if (x.Refusal != "") != (x.Name == "Elsewhere") || x.Tried == (x.Name == "Elsewhere") {
			t.Errorf("%s: refused %q, tried %v", x.Name, x.Refusal, x.Tried)
		}
	}
	if last := report.Items[len(report.Items)-1]; last.Name != "Elsewhere" {
		t.Errorf("the last to measure: got %s, want the one that goes onto no camera", last.Name)
	}
}

// Of 2,000 shots three lenses are tried, unless the number is given.
func TestExamineTriesFewerLensesInManyShots(t *testing.T) {
	head, shot, _ := strings.Cut(briefText, "shot \"1\"")
	shot, _, _ = strings.Cut(shot, "shot \"2\"")
	var text strings.Builder
	text.WriteString(head)
	for i := range 2000 {
		fmt.Fprintf(&text, "shot \"%d\"%s", i, shot)
	}
	catalogue := equipment
	for i := range 5 {
		catalogue += lens(fmt.Sprintf("Lens %d", i), 20+10*i, "balance")
	}
	s := enginetest.ReadWith(t, text.String(), catalogue)
	for _, c := range []struct{ most, want int }{{0, 3}, {4, 4}} {
		report, err := doctor.Examine(context.Background(), s, doctor.Scope{Most: c.most}, engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		tried := 0
		for _, x := range report.Items {
			if x.Tried {
				tried++
			}
		}
		if tried != c.want || len(report.Items) != 5 {
			t.Errorf("at most %d: got %d tried of %d lenses, want %d of 5", c.most, tried, len(report.Items), c.want)
		}
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
	for _, x := range report.Items {
		if x.Tried {
			tried++
		}
	}
	if tried != 2 || len(report.Items) != 5 {
		t.Errorf("got %d tried of %d lenses, want 2 of 5", tried, len(report.Items))
	}
	if got := strings.Join(steps, " "); got != "1/5 2/5 3/5 4/5 5/5" {
		t.Errorf("progress: got %s", got)
	}
	if report = examine(t, catalogue, doctor.Scope{Lens: "Lens 3"}, engine.Options{}); len(report.Items) != 1 || report.Items[0].Name != "Lens 3" {
		t.Errorf("one lens: got %d", len(report.Items))
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := doctor.Examine(ended, load(t, catalogue), doctor.Scope{}, engine.Options{}); err == nil {
		t.Error("an ended context: got no error")
	}
}
