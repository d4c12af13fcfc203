// Package langtest holds what tests and benchmarks of every layer share: times that are
// compared and held to bounds, and programs that a test cannot do without.
package langtest

import (
	"flag"
	"os"
	"runtime/debug"
	"slices"
	"strconv"
	"testing"
	"time"

	_ "pgregory.net/rapid" // for its flags
)

// Lacking skips a test that needs something which is not installed. In CI, where all of it
// is, the test fails.
func Lacking(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is missing, and CI must have it", what)
	}
	t.Skipf("%s is missing", what)
}

// Raced reports whether the race detector is built in. It slows different code by
// different factors, so that times say little.
func Raced() bool {
	info, ok := debug.ReadBuildInfo()
	return ok && slices.Contains(info.Settings, debug.BuildSetting{Key: "-race", Value: "true"})
}

// Allowed gives the processor time that work may take which may take d without the race
// detector.
func Allowed(d time.Duration) time.Duration {
	if Raced() {
		return 20 * d
	}
	return d
}

// Cases gives how many random cases a test draws that usually draws n: as many times fewer
// or more as rapid checks fewer or more than its usual 100. RAPID_CHECKS, or the flag
// -rapid.checks, so sets the effort of all random tests.
func Cases(n int) int {
	number, err := strconv.Atoi(flag.Lookup("rapid.checks").Value.String())
	if err != nil {
		return n
	}
	return max(1, n*number/100)
}

// Draw has rapid check n cases of a property, instead of as many as are set, until the test ends.
// To check it several times does not do: with a seed that is given, each time draws the same cases.
func Draw(t testing.TB, n int) {
	t.Helper()
	set := flag.Lookup("rapid.checks").Value.String()
	if err := flag.Set("rapid.checks", strconv.Itoa(n)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := flag.Set("rapid.checks", set); err != nil {
			t.Error(err)
		}
	})
}

// Enough reports whether rapid checks a property of so many cases at least, of its usual 100. Of fewer,
// none may be of a kind that is rare, and a test need not have seen one.
func Enough(cases int) bool { return Cases(100) >= cases }
