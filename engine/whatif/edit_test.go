package whatif_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"glassbrief/engine/whatif"
)

func demoText(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../../scenarios/night-ferry.scenario")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// demo opens the demo plan.
func demo(t *testing.T) *whatif.Plan {
	t.Helper()
	p, found := whatif.Open(whatif.Input{Name: "night-ferry.scenario", Files: map[string]string{"night-ferry.scenario": demoText(t)}})
	if found.HasErrors() {
		t.Fatal(found)
	}
	return p
}

func TestEditWritesWhatAnAuthorWould(t *testing.T) {
	p := demo(t)
	for _, test := range []struct{ fragment, canonical, lines string }{
		{"4A.distance=1.4m..2.8m&carry=3", "carry=3&4A.distance=1.4m..2.8m", "// in scenario\ncarry 3 lenses\n// in shot \"4A\"\ndistance 1.4m..2.8m\n"},
		{"#4A.distance=160cm..2.8m", "", ""},
		{"2B.light=hazy-sun&2B.speed=0.8m/s", "2B.speed=0.8m/s", "// in shot \"2B\"\nmove follow 0.8m/s\n"},
		{"3A.speed=2ft/s", "3A.speed=2ft/s", "// in shot \"3A\"\nmove pass-through 2ft/s low mode\n"},
		{"camera=House+body+B", "camera=House+body+B", "// in scenario\ncamera \"House body B\" or \"House body A\"\n"},
		{"5C.light=EV8", "5C.light=EV8", "// in shot \"5C\"\nlight EV8\n"},
		{"4A.lens=Wide+24&4A.stop=f/4", "4A.stop=f/4&4A.lens=Wide+24", "// in shot \"4A\"\nstop f/4\n// in shot \"4A\"\nlens \"Wide 24\"\n"},
		{"4A.lens=&4A.stop=", "", ""},
		{"weight.depth+of+field=2.5&weight.light=1", "weight.depth+of+field=2.5&weight.light=1",
			"// in scenario\nrules \"night-ferry-weights.rules\"\n// in night-ferry-weights.rules\nweight \"depth of field\" 2.5\n// in night-ferry-weights.rules\nweight \"light\" 1\n"},
	} {
		s, faults := p.Read(test.fragment)
		if faults != nil {
			t.Fatal(faults)
		}
		if s.String() != test.canonical {
			t.Errorf("%s is %q, not %q", test.fragment, s.String(), test.canonical)
		}
		e, faults := p.Edit(s)
		if faults != nil {
			t.Fatal(test.fragment, faults)
		}
		if e.Lines() != test.lines {
			t.Errorf("%s gives the lines\n%snot\n%s", test.fragment, e.Lines(), test.lines)
		}
		if (e.Diff() == "") != (s.String() == "") {
			t.Errorf("%s gives the diff %q", test.fragment, e.Diff())
		}
	}
}

// The slider of lenses ends where the language does.
func TestLensesToCarryEndWithTheLanguage(t *testing.T) {
	p := demo(t)
	steps := p.Ladders["carry"]
	for more, taken := range []bool{true, false} {
		fragment := fmt.Sprintf("carry=%g", steps[len(steps)-1].Value+float64(more))
		s, faults := p.Read(fragment)
		if faults != nil {
			t.Fatal(faults)
		}
		if _, faults := p.Edit(s); (faults == nil) != taken {
			t.Errorf("%s has the faults %v, want some: %v", fragment, faults, !taken)
		}
	}
}

func TestFaultsLieAtTheirControls(t *testing.T) {
	p := demo(t)
	for _, test := range []struct{ fragment, key, says string }{
		{"4B.distance=2m", "4B.distance", `is nothing that can be moved here`},
		{"carry=9", "carry", `"9" is not possible`},
		{"4A.distance=1.4", "4A.distance", `has no unit`},
		{"4A.distance=3m..2m", "4A.distance", `"3m..2m" runs backwards. Write the smaller value first. Did you mean "2m..3m"?`},
		{"9A.distance=50m", "9A.distance", "background"},
		{"4A.distance=2m+}+shot+%22x%22+{", "4A.distance", ""},
		{"4A.distance=2m%0Alight+1lx", "4A.distance", ""},
		{"4A.lens=Wide+42", "4A.lens", `no lens "Wide 42"`},
		{"4A.lens=Wide%0A24", "4A.lens", "closing quote"},
		{"camera=House%0Abody", "camera", "closing quote"},
		{"4A.lens=%FF", "4A.lens", "not valid UTF-8"},
		{"4A.stop=4", "4A.stop", "has no unit"},
		{"weight.light=0", "weight.light", `"0" is not possible`},
		{"weight.lihgt=2", "weight.lihgt", `Did you mean "weight.light"?`},
		{"camera=House+body+Z", "camera", "no camera"},
	} {
		s, faults := p.Read(test.fragment)
		if faults == nil {
			var e *whatif.Edited
			if e, faults = p.Edit(s); faults == nil {
				t.Errorf("%s is taken:\n%s", test.fragment, e.Diff())
				continue
			}
		}
		if faults[0].Key != test.key || !strings.Contains(faults[0].Says, test.says) {
			t.Errorf("%s has the fault %+v", test.fragment, faults[0])
		}
	}
}

// What is asked for in the file can be left to the engine again, and something else asked for in the
// place of it.
func TestWhatIsAskedForMayGo(t *testing.T) {
	saved := strings.Replace(demoText(t), "  weight    3\n  need", "  stop      f/4  // as wide as the fog allows\n  lens      \"Wide 24\"\n  weight    3\n  need", 1)
	p, found := whatif.Open(whatif.Input{Name: "asked.scenario", Files: map[string]string{"asked.scenario": saved}})
	if found.HasErrors() {
		t.Fatal(found)
	}
	for _, test := range []struct{ fragment, taken, put string }{
		{"4A.stop=", "  stop      f/4  // as wide as the fog allows\n", ""},
		{"4A.stop=&4A.lens=", "  stop      f/4  // as wide as the fog allows\n  lens      \"Wide 24\"\n", ""},
		{"4A.lens=Wide+18", "\"Wide 24\"", "\"Wide 18\""},
		{"4A.stop=&4A.lens=Wide+18", "  stop      f/4  // as wide as the fog allows\n  lens      \"Wide 24\"\n", "  lens      \"Wide 18\"\n"},
	} {
		s, faults := p.Read(test.fragment)
		if faults != nil {
			t.Fatal(faults)
		}
		e, faults := p.Edit(s)
		if faults != nil {
			t.Fatal(test.fragment, faults)
		}
		if want := strings.Replace(saved, test.taken, test.put, 1); e.Text(p.Name) != want {
			t.Errorf("%s gives\n%s", test.fragment, e.Diff())
		}
	}
}
