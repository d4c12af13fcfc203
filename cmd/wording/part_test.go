package wording

import (
	"os"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/lang"
)

// recommended gives the recommendation for shots of the demo house with its rules.
func recommended(t *testing.T, catalogue, shots string) *engine.Recommendation {
	t.Helper()
	text := "use demo\n" + catalogue + "scenario \"Trial\" {\ndeliver 2.39:1\nrate 25fps\n" + shortSled + "\ncarry 1 lens\nbring \"Wide 18\"\n}\n" + shots
	return enginetest.Recommend(t, enginetest.Read(t, text, brief.Files{}), engine.Options{})
}

// Each shot is one that Wide 18 does not do whole, or does, and how that is said of it.
func TestDoubt(t *testing.T) {
	shot := func(frame, distance, move, light, more string) string {
		return "shot \"1\" {\nsubject person 1.75m\nframe " + frame + "\ndistance " + distance + "\nmove " + move + "\nlight " + light + "\n" + more + "}\n"
	}
	for _, test := range []struct {
		name, shot string
		want       string // "" for good and whole
		first      string // what the first lines say of it
	}{
		{"good and whole", shot("full", "3m..4m", "hold", "640lx", ""), "", "The shot can be done as asked."},
		{"too tight near by", shot("full", "2m..4m", "follow 1m/s", "640lx", ""),
			"in part: framing tight nearer than 2.", "No shot can be done as asked: shot 1 in part"},
		{"too loose far off", shot("full", "3m..5m", "follow 1m/s", "640lx", ""),
			"in part: framing loose beyond 4.", "No shot can be done as asked: shot 1 in part"},
		{"too loose where it stands", shot("full", "5m", "hold", "640lx", ""), "in part: framing loose", ""},
		{"dark", shot("full", "3m", "hold", "4.3lx", ""), " too dark", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := recommended(t, "", test.shot)
			got := Doubt(&r.Shots[0], lang.Printer{})
			if test.want == "" && got != "" || !strings.Contains(got, test.want) {
				t.Errorf("got %q, want it to hold %q", got, test.want)
			}
			if strings.Contains(got, "0%") {
				t.Errorf("got %q, which tells a share of nothing", got)
			}
			if said := Wholeness(r); !strings.HasPrefix(said, test.first) {
				t.Errorf("got %q, want it to begin with %q", said, test.first)
			}
		})
	}
}

// What a verdict rests on is said in the words of the standard rules, without the name of a
// criterion and with no more than one colon.
func TestDoubtSaysWhatIsLacking(t *testing.T) {
	for _, name := range []string{"night-ferry.scenario", "orchard.scenario"} {
		r := enginetest.Recommend(t, enginetest.ReadFile(t, os.DirFS("../../scenarios"), name), engine.Options{})
		for i := range r.Shots {
			for k := range r.Shots[i].Ranking {
				j := &r.Shots[i].Ranking[k]
				weakest := j.Weakest()
				if weakest == nil {
					continue
				}
				if weakest.Lacking() == nil && len(weakest.Bites) == 0 {
					t.Errorf("shot %s with %s: %q has no words for what it lacks at %.2f", r.Shots[i].Shot.ID, j.Lens, weakest.Name, weakest.Score)
				}
				if said := DoubtOf(j, lang.Printer{}); strings.Count(said, ":") != 1 {
					t.Errorf("shot %s with %s: got %q, want one colon", r.Shots[i].Shot.ID, j.Lens, said)
				}
			}
		}
	}
}
