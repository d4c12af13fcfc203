package wording

import (
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
		{"good and whole", shot("full", "3m..4m", "hold", "640lx", ""), "", "The shot is whole."},
		{"too tight near by", shot("full", "2m..4m", "follow 1m/s", "640lx", ""),
			"in part: framing tight at the near end, held over ", "No shots whole, 1 in part: 1."},
		{"too loose far off", shot("full", "3m..5m", "follow 1m/s", "640lx", ""),
			"in part: framing loose at the far end, held over ", "No shots whole, 1 in part: 1."},
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
