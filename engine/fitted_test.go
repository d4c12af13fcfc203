package engine

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// Lenses that are fitted only when they are looked at are judged as those that stay fitted.
func TestManyLensesAreJudgedAsFew(t *testing.T) {
	var kit strings.Builder
	kit.WriteString("mount \"M\" {\n flange 18mm\n}\nmount \"Other\" {\n flange 20mm\n}\ncamera \"C\" {\n mount \"M\"\n mode \"Whole\" 36mm x 24mm\n mode \"Small\" 24mm x 16mm\n iso 800\n iso_range 200..6400\n mass 1kg\n}\n" +
		"rig \"R\" {\n payload 0.9kg..3kg\n wobble 0.2deg\n}\nfilter \"ND\" {\n kind nd\n thread 77mm\n strength 3 stops\n}\n")
	for i := range keptFitted + 200 {
		mount, focal, thread := "M", fmt.Sprintf("%dmm", 14+i%90), "77mm"
		switch {
		case i%7 == 0:
			mount = "Other"
		case i%11 == 0:
			focal = fmt.Sprintf("%dmm..%dmm", 16+i%5, 30+i%9)
		case i%3 == 0:
			thread = "none"
		}
		fmt.Fprintf(&kit, "lens \"L%d\" {\n mount %q\n focal %s\n pupil thin\n aperture f/%.1f..f/22\n circle 44mm\n close_focus 0.3m\n mass %dg\n thread %s\n length 80mm\n}\n",
			i, mount, focal, 1.4+float64(i%5)*0.5, 300+i%800, thread)
	}
	text := "use \"kit.catalog\"\nscenario \"Many\" {\n camera \"C\"\n rig \"R\"\n}\n" +
		"shot \"1\" {\n subject person 1.7m\n frame medium\n distance 2m..2.4m\n move lead\n light 4000lx\n}\n" +
		"shot \"2\" {\n mode \"Small\"\n subject person 1.7m\n frame full\n distance 3m\n light 90lx\n}\n"
	src, _ := lang.NewSource("many.scenario", []byte(text))
	s, found := brief.Load(src, brief.Files{Tree: fstest.MapFS{"kit.catalog": {Data: []byte(kit.String())}}})
	if found.HasErrors() {
		t.Fatal(found[0])
	}
	table, err := Judge(context.Background(), s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	few := make([]bool, len(table.glass))
	var j judge
	judged := [Excluded + 1]int{}
	for lens, g := range table.glass {
		if g.fitted != nil {
			t.Fatalf("%d lenses stay fitted", len(table.glass))
		}
		whole := fit(s, g.lens, table.Camera, table.filters)
		if g.mass != whole.mass || g.refusal != whole.refusal {
			t.Errorf("%s: got %v, want %v", g.lens.Name.Value, g, whole)
		}
		for shot, st := range table.staged {
			want, got := j.judge(whole, st), table.outcomes[shot][lens]
			if judged[got.Standing]++; got != want && (got.Standing != Excluded || want.Standing != Excluded) {
				t.Errorf("%s in %d: got %+v, want %+v", g.lens.Name.Value, shot, got, want)
			}
			if lens%500 == 0 {
				if got, want := table.Explain(shot, lens), explain(whole, st, j.shown(whole, st)); got.Score != want.Score || len(got.Vetoes()) != len(want.Vetoes()) {
					t.Errorf("%s in %d: explained as %+v, want %+v", g.lens.Name.Value, shot, got, want)
				}
			}
		}
		few[lens] = lens%100 == 0
	}
	if judged[Judged] < 100 || judged[Excluded] < 100 {
		t.Errorf("%v lenses are judged, undecided, excluded: that tells nothing", judged)
	}
	for _, g := range table.Only(few).glass {
		if g.fitted == nil {
			t.Error("a lens of a small table is not fitted")
		}
	}
	shot := *s.Shots[0]
	shot.Light *= 2
	if again := table.WithShot(0, &shot); again.outcomes[0][1] != j.judge(table.at(1), again.staged[0]) {
		t.Error("a shot that changed is judged otherwise")
	}
}
