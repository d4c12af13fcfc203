package days

import "testing"

// A day from 100 to 200 with a break from 140 to 150.
var withBreak = Day{Start: 100, End: 200, Break: Span{140, 150}}

func TestStart(t *testing.T) {
	for _, c := range []struct {
		name    string
		takes   int
		windows []Span
		from    int
		want    int
		ok      bool
	}{
		{"at once", 20, nil, 100, 100, true},
		{"before the day", 20, nil, 0, 100, true},
		{"up to the break", 20, nil, 120, 120, true},
		{"over the break", 20, nil, 121, 150, true},
		{"in the break", 20, nil, 145, 150, true},
		{"up to the end", 20, nil, 180, 180, true},
		{"over the end", 20, nil, 181, 0, false},
		{"waits for its window", 20, []Span{{160, 190}}, 100, 160, true},
		{"in its window", 20, []Span{{160, 190}}, 165, 165, true},
		{"too late for its window", 20, []Span{{160, 190}}, 171, 0, false},
		{"the second of two windows", 20, []Span{{160, 190}, {100, 125}}, 106, 160, true},
		{"a window that the break cuts", 20, []Span{{125, 160}}, 100, 0, false},
		{"a window that the break cuts, and one after it", 20, []Span{{125, 160}, {155, 180}}, 100, 155, true},
	} {
		got, ok := withBreak.start(&Shot{Takes: c.takes, Windows: c.windows}, c.from)
		if got != c.want || ok != c.ok {
			t.Errorf("%s: got %d, %v, want %d, %v", c.name, got, ok, c.want, c.ok)
		}
	}
}

func TestAfter(t *testing.T) {
	for _, c := range []struct{ from, minutes, want int }{
		{100, 0, 100}, {100, 40, 140}, {100, 41, 151}, {139, 5, 154}, {140, 5, 155}, {145, 5, 155}, {145, 0, 145}, {150, 5, 155},
	} {
		if got := withBreak.after(c.from, c.minutes); got != c.want {
			t.Errorf("%d half minutes from %d end at %d, want %d", c.minutes, c.from, got, c.want)
		}
	}
}
