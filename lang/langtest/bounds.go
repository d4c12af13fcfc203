package langtest

import (
	"fmt"
	"os"
	"strconv"
	"testing"
	"time"
)

// SlackVariable names the environment variable that widens every bound by a factor, for
// machines that do other work too: 1.5 fails what misses its bound by half.
const SlackVariable = "GLASSBRIEF_SLACK"

// A Bound holds a figure that a benchmark measures. Exactly one of AtMost and AtLeast is
// set, unless AtMost is 0.
type Bound struct {
	Metric          string // what the figure is called, without spaces
	Value           func() float64
	AtMost, AtLeast float64
}

// Least and most numbers of rounds. Other work on the machine can only make a round look
// worse, so what misses a bound gets more rounds before it fails.
const (
	fewestRounds = 3
	extraRounds  = 12
	extraTime    = time.Minute // after which no further one begins
)

// Hold runs rounds for as long as the benchmark asks, and some more while a bound is
// missed; then it reports the figures, and fails the benchmark for each beyond its bound.
// The figures should be of the best of all rounds.
func Hold(b *testing.B, round func(), bounds ...Bound) {
	b.Helper()
	slack, err := slackOf(os.Getenv(SlackVariable))
	if err != nil {
		b.Fatal(err)
	}
	run(b.Loop, round, bounds, slack)
	b.ReportMetric(0, "ns/op") // of all ways together, which says nothing
	for _, bound := range bounds {
		b.ReportMetric(bound.Value(), bound.Metric)
	}
	faults := missed(bounds, slack)
	for _, fault := range faults {
		b.Error(fault)
	}
	if len(faults) > 0 { // a benchmark that failed does not print its figures
		for _, bound := range bounds {
			b.Logf("%s %.4g", bound.Metric, bound.Value())
		}
	}
}

// run runs a round for each time that more says so, and then what is left of the fewest and
// the extra rounds.
func run(more func() bool, round func(), bounds []Bound, slack float64) {
	rounds := 0
	for ; more(); rounds++ {
		round()
	}
	start := Wall()
	for extra := 0; rounds < fewestRounds || extra < extraRounds && Wall()-start < extraTime && len(missed(bounds, slack)) > 0; extra++ {
		round()
		rounds++
	}
}

// missed says which bounds the figures lie beyond.
func missed(bounds []Bound, slack float64) []string {
	var faults []string
	for _, bound := range bounds {
		value, word, limit := bound.Value(), "most", bound.AtMost*slack
		if bound.AtLeast != 0 {
			word, limit = "least", bound.AtLeast/slack
		}
		if held := value <= limit && word == "most" || value >= limit && word == "least"; !held { // so that NaN misses
			faults = append(faults, fmt.Sprintf("%s is %.4g, want at %s %.4g", bound.Metric, value, word, limit))
		}
	}
	return faults
}

// SlackOfCI is what a bound of time on the clock may be missed by where other work is done too: 3 where the
// variable CI is set, and 1 elsewhere.
func SlackOfCI() float64 {
	if os.Getenv("CI") != "" {
		return 3
	}
	return 1
}

// slackOf reads the value of the variable.
func slackOf(text string) (float64, error) {
	if text == "" {
		return 1, nil
	}
	slack, err := strconv.ParseFloat(text, 64)
	if err != nil || !(slack >= 1 && slack <= 10) {
		return 0, fmt.Errorf("%s is %q, want a number from 1 to 10", SlackVariable, text)
	}
	return slack, nil
}
