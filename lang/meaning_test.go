package lang

import "testing"

func TestMeaning(t *testing.T) {
	for _, c := range []struct {
		name, a, b string
		same       bool
	}{
		{"units", "distance 120cm..3m", "distance 1.2 m .. 300cm", true},
		{"feet", "distance 10ft", "distance 3.048m", true},
		{"light", "light EV7", "light 320lx", true},
		{"share", "offset 40%", "offset 0.4", true},
		{"stops and T-stops", "aperture f/2.8", "aperture T2.8", false},
		{"currencies", "rent 20 EUR", "rent 20 USD", false},
		{"dimensions", "a 1m", "a 1kg", false},
		{"values", "distance 1.2m", "distance 1.21m", false},
		{"open ends", "distance 1m..", "distance ..1m", false},
		{"interval and size", "a 1m..2m", "a 1m x 2m", false},
		{"ratio", "deliver 2.39:1", "deliver 2.39 : 1", true},
		{"unit behind a list", "a 2, 4 stops", "a 2 stops, 4stop", true},
		{"list and values", "a 2, 4", "a 2 4", false},
		{"text and word", "a \"b\"", "a b", false},
		{"escapes", `a "b\"c"`, `a "b\\c"`, false},
		{"layout", "shot \"1\" { weight 2 } // end", "shot \"1\" {\n// why\n\n  weight    2\n}", true},
		{"block", "shot \"1\" {\n weight 2\n}", "shot \"1\" {\n weight 2\n weight 2\n}", false},
		{"expression", "need near<1.2m and  b", "need near < 120cm and b", true},
		{"expression over lines", "need (a // why\n < 2)", "need (a < 2)", true},
		{"operators", "need a < 2m", "need a <= 2m", false},
		{"words in expressions", "need a and b", "need a andb", false},
		{"fact", "fact one = 2%", "fact one = 0.02", true},
		{"reason", "need a because \"x\"", "need a because \"y\"", false},
		{"no reason", "need a", "need a because \"\"", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, b := mustParse(t, c.a).Meaning(), mustParse(t, c.b).Meaning()
			if (a == b) != c.same {
				t.Errorf("got %q and %q, same: %v, want %v", a, b, a == b, c.same)
			}
		})
	}
}

// Tidying leaves the meaning of every file of the repository.
func TestTidyKeepsMeaning(t *testing.T) {
	for _, text := range texts(t) {
		src, ds := NewSource("text", []byte(text))
		if ds.HasErrors() {
			continue
		}
		before, _ := Parse(src)
		tidied, _ := NewSource("tidied", []byte(Tidy(src)))
		after, _ := Parse(tidied)
		if before.Meaning() != after.Meaning() {
			t.Errorf("tidying changed the meaning:\n%s", text)
		}
	}
}
