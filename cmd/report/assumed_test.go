package report

import "testing"

func TestMarked(t *testing.T) {
	const tilde = `<span class="tilde">~</span>`
	for text, want := range map[string]string{
		"f/4":                          "f/4",
		"a < b (1 to 2)":               "a &lt; b (1 to 2)",
		"~7.07 to ~40.0 m":             tilde + "7.07 to " + tilde + "40.0 m",
		"~f/4 (f/2.8 to f/5.6), ~T<5":  tilde + `f/4 <span class="within">(f/2.8 to f/5.6)</span>, ` + tilde + "T&lt;5",
		"at ~1ft 7 5/8in (1ft to 2ft)": "at " + tilde + `1ft 7 5/8in <span class="within">(1ft to 2ft)</span>`,
	} {
		if got := string(marked(text)); got != want {
			t.Errorf("%s: got %s, want %s", text, got, want)
		}
	}
}
