package langtest

import (
	"flag"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"pgregory.net/rapid"
)

func TestMissed(t *testing.T) {
	value := func(v float64) func() float64 { return func() float64 { return v } }
	for _, c := range []struct {
		name  string
		bound Bound
		slack float64
		want  string
	}{
		{"at the most", Bound{Metric: "a/b", Value: value(2), AtMost: 2}, 1, ""},
		{"beyond the most", Bound{Metric: "a/b", Value: value(2.1), AtMost: 2}, 1, "a/b is 2.1, want at most 2"},
		{"beyond the most, with slack", Bound{Metric: "a/b", Value: value(2.9), AtMost: 2}, 1.5, ""},
		{"by more than half", Bound{Metric: "a/b", Value: value(3.1), AtMost: 2}, 1.5, "a/b is 3.1, want at most 3"},
		{"below the least", Bound{Metric: "a/b", Value: value(19), AtLeast: 20}, 1, "a/b is 19, want at least 20"},
		{"below the least, with slack", Bound{Metric: "a/b", Value: value(14), AtLeast: 20}, 1.5, ""},
		{"none allowed", Bound{Metric: "allocs", Value: value(0)}, 1, ""},
		{"one where none is allowed", Bound{Metric: "allocs", Value: value(1)}, 1.5, "allocs is 1, want at most 0"},
		{"not measured", Bound{Metric: "a/b", Value: value(math.NaN()), AtMost: 2}, 1, "a/b is NaN, want at most 2"},
	} {
		if got := strings.Join(missed([]Bound{c.bound}, c.slack), "\n"); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

func TestSlack(t *testing.T) {
	for text, want := range map[string]float64{"": 1, "1": 1, "1.5": 1.5} {
		if got, err := slackOf(text); err != nil || got != want {
			t.Errorf("%q: got %v, %v, want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"much", "0", "-1", "NaN", "1000"} {
		if got, err := slackOf(text); err == nil {
			t.Errorf("%q: got %v, want an error", text, got)
		}
	}
}

// A missed bound gets more rounds, and not without end; a figure that is good at once gets
// a few, for the first round may be bad for the other side.
func TestRounds(t *testing.T) {
	for name, c := range map[string]struct{ asked, goodFrom, want int }{
		"good":                    {1, 1, fewestRounds},
		"good, and many asked":    {50, 1, 50},
		"disturbed":               {1, 8, 8},
		"bad":                     {1, math.MaxInt, 1 + extraRounds},
		"disturbed up to the end": {20, 25, 25},
	} {
		asked, rounds := 0, 0
		figure := Bound{Metric: "figure", AtMost: 1, Value: func() float64 {
			if rounds >= c.goodFrom {
				return 1
			}
			return 2
		}}
		run(func() bool { asked++; return asked <= c.asked }, func() { rounds++ }, []Bound{figure}, 1)
		if rounds != c.want {
			t.Errorf("%s: got %d rounds, want %d", name, rounds, c.want)
		}
	}
}

func TestHoldFailsTheBenchmark(t *testing.T) {
	t.Setenv(SlackVariable, "")
	for _, limit := range []float64{1, 3} {
		failed := false
		testing.Benchmark(func(b *testing.B) {
			b.Cleanup(func() { failed = b.Failed() })
			Hold(b, func() { time.Sleep(50 * time.Millisecond) }, Bound{Metric: "figure", AtMost: limit, Value: func() float64 { return 2 }})
		})
		if want := limit < 2; failed != want {
			t.Errorf("2 with at most %v: failed %v, want %v", limit, failed, want)
		}
	}
}

func TestRace(t *testing.T) {
	var now time.Duration
	took := map[string][]time.Duration{"ours": {8, 6, 7}, "theirs": {30, 50, 40}}
	round := 0
	do := func(name string) func() { return func() { now += took[name][round] * time.Second } }
	r := NewRace(func() time.Duration { return now }, Way{Name: "ours", Do: do("ours"), Units: 3}, Way{Name: "theirs", Do: do("theirs")})
	for round = range 3 {
		r.Round()
	}
	if got := r.Ratio("theirs", "ours"); got != 15 {
		t.Errorf("got %v, want 15: 30 s for one unit against 6 s for three", got)
	}
	if got := r.AtMost("ours", "nobody", 1); len(missed([]Bound{got}, 1)) == 0 {
		t.Error("a bound against a way that is not in the race holds")
	}
}

func TestCases(t *testing.T) {
	checks := flag.Lookup("rapid.checks")
	usual := checks.Value.String()
	defer checks.Value.Set(usual)
	for text, want := range map[string]int{"100": 300, "10": 30, "1000": 3000, "0": 1} {
		if err := checks.Value.Set(text); err != nil {
			t.Fatal(err)
		}
		if got := Cases(300); got != want {
			t.Errorf("-rapid.checks %s: got %d, want %d", text, got, want)
		}
		if got := Enough(40); got != (want >= 3*40) {
			t.Errorf("-rapid.checks %s: enough %t", text, got)
		}
	}
}

// With a seed that is given, all cases that are asked for differ, and the number that is set comes back.
func TestDraw(t *testing.T) {
	seed, checks := flag.Lookup("rapid.seed"), flag.Lookup("rapid.checks")
	before, usual := seed.Value.String(), checks.Value.String()
	defer seed.Value.Set(before)
	if err := seed.Value.Set("7"); err != nil {
		t.Fatal(err)
	}
	drawn := map[uint64]bool{}
	t.Run("check", func(t *testing.T) {
		Draw(t, 300)
		rapid.Check(t, func(t *rapid.T) { drawn[rapid.Uint64Range(0, 1<<62).Draw(t, "number")] = true })
	})
	if len(drawn) < 200 { // small numbers come often
		t.Errorf("300 cases have %d numbers", len(drawn))
	}
	if got := checks.Value.String(); got != usual {
		t.Errorf("afterwards rapid checks %s cases, want %s", got, usual)
	}
}

func TestBlocks(t *testing.T) {
	tree := fstest.MapFS{
		"a.scenario":       {Data: []byte("use demo\n\nshot \"1\" {\n  frame full\n}\n// last")},
		"b/b.rules":        {Data: []byte("use demo\n\n")},
		"b/large.scenario": {Data: []byte("shot {\n" + strings.Repeat("  scene 1\n", 40) + "}\nexpect kit \"A\"\n")},
		"c.txt":            {Data: []byte("text")},
	}
	want := []string{"// last", "expect kit \"A\"\n", "shot \"1\" {\n  frame full\n}\n", "use demo\n\n"}
	if got := Blocks(t, tree, ".scenario", ".rules"); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
