package schedule_test

import (
	"fmt"
	"strings"
	"testing"

	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/schedule"
)

// timed reads a scenario of shots with these lines.
func timed(t *testing.T, header string, shots ...string) *brief.Scenario {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "use demo\nscenario \"S\" {\n camera \"House body A\"\n rig \"Short sled\"\n%s\n}\n", header)
	for i, lines := range shots {
		fmt.Fprintf(&b, "shot \"%d\" {\n subject person 1.7m\n frame medium\n distance 2m\n%s\n}\n", i+1, lines)
	}
	return enginetest.Read(t, b.String(), brief.Files{})
}

func TestContradictions(t *testing.T) {
	const day = "day 2027-05-03 from 08:00 to 12:00\n takes 60min\n"
	for _, c := range []struct {
		name, header string
		shots        []string
		want         []string
	}{
		{"none", day, []string{"", "", "", ""}, nil},
		{"more than the day holds", day, []string{"", "", "", "takes 90min"}, []string{`the shots "1", "2", "3" and "4" cannot all be done`}},
		{"two in one hour", day, []string{"", "between 09:00 and 10:00", "", "between 09:00 and 10:30"}, []string{`the shots "2" and "4" cannot all be done`}},
		{"after what comes too late", day, []string{"after \"2\"\n between 08:00 and 10:00", "between 10:00 and 12:00"}, []string{`the shots "1" and "2" cannot all be done`}},
		{"the order as written", day, []string{"between 10:00 and 11:00", "between 08:00 and 09:00"}, []string{`the shots "1" and "2" cannot all be done`}},
		{"the order, freed", day + "order free", []string{"between 10:00 and 11:00", "between 08:00 and 09:00"}, nil},
		{"the move between", day + "place \"A\" move 1h\n place \"B\" move 2h", []string{"at \"A\"", "at \"B\"", "at \"A\""}, []string{`the shots "1", "2" and "3"`}},
		{"two units side by side", day + "unit \"A\"\n unit \"B\"\n order free", []string{"unit \"A\"\n between 09:00 and 10:00", "unit \"B\"\n between 09:00 and 10:00"}, nil},
		{"two sets", day + "order free", []string{"between 08:00 and 09:00", "between 08:00 and 09:00", "between 10:00 and 11:00", "between 10:00 and 11:00"},
			[]string{`the shots "1" and "2"`, `the shots "3" and "4"`}},
		{"a shot that says no minutes", "day 2027-05-03 from 08:00 to 09:00", []string{"takes 60min", ""}, nil},
		{"without days", "", []string{"takes 10h", "takes 20h"}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			found := schedule.Contradictions(t.Context(), timed(t, c.header, c.shots...))
			if len(found) != len(c.want) {
				t.Fatalf("got %v, want %q", found, c.want)
			}
			for i, want := range c.want {
				if !strings.Contains(found[i].Summary, want) {
					t.Errorf("got %q, want %q", found[i].Summary, want)
				}
			}
		})
	}
}
