package sheet_test

import (
	"strings"
	"testing"

	"glassbrief/catalog/sheet"
)

func TestLine(t *testing.T) {
	for _, c := range []struct{ keyword, answer, want, says string }{
		{"name", " Wide  18 ", `name "Wide 18"`, ""},
		{"mount", "deep bayonet", `mount "Deep bayonet"`, ""},
		{"focal", "24-70", "focal 24mm..70mm", ""},
		{"mass", "1,2 kg", "mass 1.2kg", ""},
		{"mass", "1.250 kg", "mass 1.250kg", ""},
		{"mass", "", "", ""},
		{"mass", "?", "", ""},
		{"mass", "900", "", `the mass has no unit: "900"`},
		{"aperture", "T2.1", "transmission T2.1", ""},
		{"aperture", "2.8-22", "aperture f/2.8..f/22", ""},
		{"have", "rent 35 EUR", "have rent 35 EUR", ""},
		{"have", "hire", "have rent", ""},
		{"have", "house", "have owned", ""},
		{"thread", "none", "thread none", ""},
		{"about", "a, b", `about "a, b"`, ""},
	} {
		line, ok, found := sheet.Line("lens", c.keyword, "--"+c.keyword, c.answer, sheet.Options{Mounts: []string{"Deep bayonet"}})
		got := ""
		if ok {
			got = line.Keyword + " " + line.Value
		}
		if c.says != "" {
			if len(found) != 1 || !strings.HasPrefix(found[0].Summary, c.says) || found[0].Span.String() != "--"+c.keyword+":1:1" {
				t.Errorf("%s %q: got %v, want %q", c.keyword, c.answer, found, c.says)
			}
			continue
		}
		if got != c.want || len(found) > 0 {
			t.Errorf("%s %q: got %q, %v, want %q", c.keyword, c.answer, got, found, c.want)
		}
	}
}

// Answers about the other kinds, of which a rig and a mount are in no list.
func TestLineOfOtherKinds(t *testing.T) {
	for _, c := range []struct{ kind, keyword, answer, want string }{
		{"camera", "size", "36 x 24 mm", `mode "Whole sensor" 36mm x 24mm`},
		{"camera", "size", "36 mm × 20,25 mm", `mode "Whole sensor" 36mm x 20.25mm`},
		{"camera", "size", "", ""},
		{"camera", "iso_range", "100 to 12800", "iso_range 100..12800"},
		{"camera", "autofocus", "oui", "autofocus "},
		{"rig", "payload", "0.5-3 kg", "payload 0.5kg..3kg"},
		{"rig", "payload", "1 to 6 lb", "payload 1lb..6lb"},
		{"rig", "sled_inertia", "0,042 kgm2", "sled_inertia 0.042kgm2"},
		{"rig", "post", "24 - 33 cm", "post 24cm..33cm"},
		{"mount", "flange", "44", "flange 44mm"},
		{"filter", "strength", "ND 0.6", "strength 2 stops"},
	} {
		line, ok, found := sheet.Line(c.kind, c.keyword, "answer", c.answer, sheet.Options{})
		got := ""
		if ok {
			got = line.Keyword + " " + line.Value
		}
		if got != c.want || found != nil {
			t.Errorf("%s %s %q: got %q, %v, want %q", c.kind, c.keyword, c.answer, got, found, c.want)
		}
	}
}
