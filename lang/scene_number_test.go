package lang

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestCompareSceneNumbers(t *testing.T) {
	want := []string{"", "1", "1A", "1B", "2", "2-A", "7.1", "7.2", "7.10", "10", "110", "110-A", "A1", "A10", "B2"}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, compareSceneNumbers)
	if !slices.Equal(got, want) {
		t.Errorf("got order %q, want %q", got, want)
	}
}

func TestSceneNumbersAreOrdered(t *testing.T) {
	number := rapid.StringMatching(`[0-9AB.-]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := number.Draw(t, "a"), number.Draw(t, "b"), number.Draw(t, "c")
		if compareSceneNumbers(a, b) != -compareSceneNumbers(b, a) {
			t.Errorf("%q and %q are not in one order", a, b)
		}
		if (compareSceneNumbers(a, b) == 0) != (a == b) {
			t.Errorf("%q and %q count as equal", a, b)
		}
		if compareSceneNumbers(a, b) < 0 && compareSceneNumbers(b, c) < 0 && compareSceneNumbers(a, c) >= 0 {
			t.Errorf("%q, %q and %q go round in a circle", a, b, c)
		}
	})
}

func TestNearestSceneNumber(t *testing.T) {
	script := []string{"1", "2", "3", "4", "4A", "5", "8", "9", "10"}
	for _, c := range []struct {
		number string
		in     []string
		want   string
	}{
		{"12", script, "10"},
		{"4B", script, "4A"},
		{"5A", script, "5"},
		{"0", script, "1"},
		{"7", script, "8"},
		{"6", script, "5"},
		{"X", script, "10"},
		{strings.Repeat("9", 400), script, "10"},
		{"1", nil, ""},
	} {
		if got := NearestSceneNumber(c.number, c.in); got != c.want {
			t.Errorf("NearestSceneNumber(%q) = %q, want %q", c.number, got, c.want)
		}
	}
}
