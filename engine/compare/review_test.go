package compare_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/compare"

	"github.com/google/go-cmp/cmp"
)

const faceLight = "distance  1.4m\n  light     640lx"

// What both sides change, how it goes together, and whose plan the merged brief makes.
func TestReviewSides(t *testing.T) {
	lamp := func(lux string) []string { return []string{faceLight, "distance  1.4m\n  light     " + lux} }
	tests := []struct {
		name         string
		ours, theirs []string
		meetings     []string // block, field and outcome
		merged       []string // edits of base that say what the merged brief says; nil where it cannot be read
	}{
		{"different shots", lamp("20lx"), []string{"frame     full", "frame     medium"}, nil, append(lamp("20lx"), "frame     full", "frame     medium")},
		{"the same in both", lamp("20lx"), lamp("20lx"), []string{`shot "2A" light alike`}, lamp("20lx")},
		{"one light, two values", lamp("20lx"), lamp("30lx"), []string{`shot "2A" light contradiction`}, []string{}},
		{"a contradiction beside a change", append(lamp("20lx"), "frame     full", "frame     medium"), lamp("30lx"), []string{`shot "2A" light contradiction`}, []string{"frame     full", "frame     medium"}},
		{"both bring a lens", []string{"carry     2 lenses", "carry     2 lenses\n  bring     \"Wide 24\""}, []string{"carry     2 lenses", "carry     2 lenses\n  bring     \"Normal 50\""},
			[]string{"scenario bring joined"}, []string{"carry     2 lenses", "carry     2 lenses\n  bring     \"Wide 24\"\n  bring     \"Normal 50\""}},
		{"one takes a shot out that the other changes", []string{base[strings.Index(base, "shot \"2A\""):strings.Index(base, "expect")], ""}, lamp("30lx"), []string{`shot "2A"  contradiction`}, []string{}},
		{"a lens goes, and the other needs it", []string{lens("Long 100", "100mm", "f/2..f/22", "T2.1"), ""}, []string{"carry     2 lenses", "carry     2 lenses\n  bring     \"Long 100\""}, nil, nil},
		{"a lens and a shot", []string{lens("Long 100", "100mm", "f/2..f/22", "T2.1"), lens("Long 100", "100mm", "f/2..f/22", "T4.5")}, lamp("20lx"), nil,
			append(lamp("20lx"), lens("Long 100", "100mm", "f/2..f/22", "T2.1"), lens("Long 100", "100mm", "f/2..f/22", "T4.5"))},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			r, err := compare.ReviewSides(context.Background(), side(t, edited(t)), side(t, edited(t, test.ours...)), side(t, edited(t, test.theirs...)), engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			var meetings []string
			for _, m := range r.Meetings {
				e := r.ByOurs[m.Ours]
				meetings = append(meetings, fmt.Sprintf("%s %s %s", e.Block, e.Field, m.Outcome))
			}
			if diff := cmp.Diff(test.meetings, meetings); diff != "" {
				t.Errorf("what both change (-want +got):\n%s", diff)
			}
			if test.merged == nil {
				if r.Merged != nil || !r.Faults.HasErrors() {
					t.Errorf("the merged brief can be read: %v", r.Faults)
				}
				return
			}
			want, err := compare.Compare(context.Background(), side(t, edited(t)), side(t, edited(t, test.merged...)), engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if r.Merged == nil {
				t.Fatalf("the merged brief cannot be read: %v", r.Faults)
			}
			plan := func(r *engine.Recommendation) (lines []string) {
				lines = append(lines, fmt.Sprint(r.Kit.Lenses, r.Kit.Value))
				for i := range r.Shots {
					lines = append(lines, fmt.Sprint(r.Shots[i].Shot.ID, r.Shots[i].Ranking[0].Lens, r.Shots[i].Ranking[0].Score, r.Shots[i].Use != nil))
				}
				return lines
			}
			if diff := cmp.Diff(plan(want.New), plan(r.Merged)); diff != "" {
				t.Errorf("the merged plan (-want +got):\n%s", diff)
			}
			for _, s := range r.Shots {
				if s.Merged == nil || s.Base == nil {
					t.Errorf("a shot is in no version: %+v", s)
				}
			}
		})
	}
}

// Orders of shots that both change, and shots that both add.
func TestReviewOrders(t *testing.T) {
	shot := func(id, light string) string {
		return fmt.Sprintf("shot %q \"T%s\" {\n  scene     1\n  subject   person 1.7m\n  frame     full\n  distance  2m\n  light     %s\n}\n", id, id, light)
	}
	brief := func(shots ...string) files {
		return files{"kit.catalog": glass, "test.scenario": base[:strings.Index(base, "shot")] + strings.Join(shots, "")}
	}
	a, b, c, d, e := shot("A", "640lx"), shot("B", "640lx"), shot("C", "640lx"), shot("D", "640lx"), shot("E", "640lx")
	for _, test := range []struct {
		name         string
		ours, theirs files
		outcomes     string
		order        string
	}{
		{"two moves", brief(b, a, c, d, e), brief(a, b, c, e, d), "[joined]", "BACED"},
		{"one shot moved twice", brief(b, c, d, e, a), brief(b, a, c, d, e), "[contradiction]", "ABCDE"},
		{"one move, one new shot", brief(b, c, d, e, a), brief(a, b, c, shot("N", "320lx"), d, e), "[]", "BCNDEA"},
		{"one new shot in two ways that go together", brief(a, b, c, d, e, shot("N", "320lx")), brief(a, b, c, d, e, strings.Replace(shot("N", "320lx"), "}", "  weight    2\n}", 1)), "[joined]", "ABCDEN"},
		{"one new shot in two ways that do not", brief(a, b, c, d, e, shot("N", "320lx")), brief(a, b, c, d, e, shot("N", "160lx")), "[contradiction]", "ABCDE"},
	} {
		t.Run(test.name, func(t *testing.T) {
			r, err := compare.ReviewSides(context.Background(), side(t, brief(a, b, c, d, e)), side(t, test.ours), side(t, test.theirs), engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			var outcomes []compare.Outcome
			for _, m := range r.Meetings {
				outcomes = append(outcomes, m.Outcome)
			}
			order := ""
			for i := range r.Merged.Shots {
				order += r.Merged.Shots[i].Shot.ID
			}
			if fmt.Sprint(outcomes) != test.outcomes || order != test.order {
				t.Errorf("got %v and the order %s, want %s and %s", outcomes, order, test.outcomes, test.order)
			}
		})
	}
}
