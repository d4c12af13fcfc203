package lang

import (
	"testing"

	"pgregory.net/rapid"
)

func TestUnquoteUndoesQuote(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[^\n\r]*`).Draw(t, "text")
		if got, ok := Unquote(Quote(text)); !ok || got != text {
			t.Errorf("got %q, %v, want %q", got, ok, text)
		}
	})
	for _, other := range []string{"", "a", `"a`, `"a" b`, `a"`, "\"a\nb\"", `"a\"`} {
		if got, ok := Unquote(other); ok {
			t.Errorf("%q: got %q, want nothing", other, got)
		}
	}
}
