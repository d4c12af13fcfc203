package whatif_test

import (
	"net/url"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Whatever an address holds, it is taken or has faults, and what is taken can be written and read again.
func TestAnyFragmentIsAnswered(t *testing.T) {
	p := demo(t)
	keys := []string{"no.such"}
	for _, c := range p.Controls {
		keys = append(keys, c.Key)
	}
	piece := rapid.SampledFrom([]string{"Wide 24", "House body B", "f/4", "2.8", "1.6m..2.8m", "within ", "..", "ft", "lx", "EV7", "sun", "\"", "\\", "{", "}", "//", "(", "0", "-1", "1e9", "%", "&", "=", "\n", "\r\n", "\t", " ", "\x00", "\xff", "é", "\u202e", "because", "or"})
	rapid.Check(t, func(t *rapid.T) {
		var pairs []string
		for range rapid.IntRange(1, 3).Draw(t, "pairs") {
			text := strings.Join(rapid.SliceOfN(piece, 0, 4).Draw(t, "text"), "")
			if rapid.Bool().Draw(t, "escaped") {
				text = url.QueryEscape(text)
			}
			pairs = append(pairs, rapid.SampledFrom(keys).Draw(t, "key")+"="+text)
		}
		state, faults := p.Read(strings.Join(pairs, "&"))
		if again, _ := p.Read(state.String()); again.String() != state.String() {
			t.Errorf("%q is read as %q", state, again)
		}
		edited, wrong := p.Edit(state)
		if edited == nil && wrong == nil {
			t.Errorf("%q gives neither an answer nor a fault (read with %v)", state, faults)
		}
	})
}
