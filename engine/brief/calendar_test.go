package brief_test

import (
	"fmt"
	"strings"
	"testing"

	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

// loadLines reads a scenario with lines in its block, and with shots of these lines.
func loadLines(t *testing.T, header string, shots ...string) *brief.Scenario {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "use demo\nscenario \"S\" {\n camera \"House body A\"\n rig \"Short sled\"\n%s\n}\n", header)
	for i, lines := range shots {
		fmt.Fprintf(&b, "shot \"%d\" {\n subject person 1.7m\n frame medium\n distance 2m\n%s\n}\n", i+1, lines)
	}
	src, found := lang.NewSource("s.scenario", []byte(b.String()))
	if found.HasErrors() {
		t.Fatal(found)
	}
	s, found := brief.Load(src, brief.Files{})
	if found.HasErrors() {
		t.Fatal(found)
	}
	return s
}

// windowsOf writes the windows of a shot, by the clock of the scenario.
func windowsOf(s *brief.Scenario, shot int) string {
	var all []string
	for _, w := range s.Shots[shot].Windows {
		if w == nil {
			all = append(all, "-")
			continue
		}
		all = append(all, s.At(w.From).Format("02T15:04")+".."+s.At(w.To).Format("02T15:04"))
	}
	return strings.Join(all, " ")
}

func TestWindows(t *testing.T) {
	const nights = "day 2027-03-27 from 20:00 to 06:00 break 1h at 01:00\n day 2027-03-28 from 21:00 to 23:00\n zone Europe/Amsterdam"
	for _, c := range []struct{ name, header, shot, want string }{
		{"all hours", nights, "", "27T20:00..28T06:00 28T21:00..28T23:00"},
		{"one day", nights, "on 2027-03-28", "- 28T21:00..28T23:00"},
		{"either day", nights, "on 2027-03-28 or 2027-03-27", "27T20:00..28T06:00 28T21:00..28T23:00"},
		{"before midnight", nights, "between 21:30 and 22:30", "27T21:30..27T22:30 28T21:30..28T22:30"},
		{"over midnight", nights, "between 23:30 and 00:45 on 2027-03-27", "27T23:30..28T00:45 -"},
		{"behind midnight and the change of the clock", nights, "between 04:00 and 05:00 on 2027-03-27", "28T04:00..28T05:00 -"},
		{"each day its hours", nights, "between 20:30 and 21:30 on 2027-03-27\n between 22:00 and 22:30", "27T20:30..27T21:30 28T22:00..28T22:30"},
		{"from before the start", nights, "between 18:00 and 21:30", "27T20:00..27T21:30 28T21:00..28T21:30"},
		{"by the light of the sun", "day 2027-05-03 from 14:00 to 20:00\n day 2027-05-04 from 14:00 to 20:00", "light sun at 52.37N 4.90E on 2027-05-03 17:00 UTC overcast", "03T16:30..03T17:30 -"},
		{"by the light of the sun of another zone", "day 2027-05-03 from 14:00 to 20:00\n zone Europe/Amsterdam", "light sun at 52.37N 4.90E on 2027-05-03 17:45 UTC overcast", "03T19:15..03T20:00"},
		{"a day that is kept", "day 2027-05-03 from 14:00 to 20:00 keep\n day 2027-05-04 from 14:00 to 20:00", "", "- 04T14:00..04T20:00"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := loadLines(t, c.header, c.shot)
			if got := windowsOf(s, 0); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

// The night in which clocks are put forward from 2 to 3 is an hour shorter than it looks.
func TestOneAxisOverChangesOfTheClock(t *testing.T) {
	s := loadLines(t, "day 2027-03-27 from 20:00 to 06:00 break 1h at 01:00\n day 2027-03-28 from 20:00 to 22:00\n zone Europe/Amsterdam", "")
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"end of the night", s.Days[0].Shut, 9 * 60}, {"break", s.Days[0].Break.From, 5 * 60}, {"behind the break", s.Days[0].Break.To, 6 * 60},
		{"the next evening", s.Days[1].Open, 23 * 60},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %v, want %v minutes", c.name, c.got, c.want)
		}
	}
	if got := s.At(s.Days[0].Shut).Format("15:04"); got != "06:00" {
		t.Errorf("the night ends at %s, want 06:00", got)
	}
}

func TestPlacesUnitsAndOrder(t *testing.T) {
	s := loadLines(t, `place "Rail" move 10min
place "Hold" move 40min
unit "A"
unit "B" camera "House body B" rig "Long sled" carry 1 lens
order free in scene "2"
order free in place "Hold"
truck 3 lenses 15min
takes 20min`, "scene 1\n before \"3\"", "scene 2\n at \"Hold\"\n unit \"B\"\n takes 1h", "scene 2\n after \"2\"\n after \"1\"", "scene 3\n at \"Rail\"")
	type said struct {
		Place string
		Unit  int
		Takes float64
		After []int
		Free  brief.Freedom
	}
	var got []said
	for _, shot := range s.Shots {
		got = append(got, said{s.Places[shot.Where].Name, shot.Unit, shot.Takes, shot.After, shot.Free})
	}
	want := []said{
		{"Rail", -1, 20, nil, brief.AsWritten}, {"Hold", 1, 60, nil, brief.InPlace},
		{"Hold", -1, 20, []int{0, 1}, brief.InPlace}, {"Rail", -1, 20, nil, brief.AsWritten},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("shots (-want +got):\n%s", diff)
	}
	if want := (brief.Truck{Lenses: 3, Minutes: 15}); s.Truck != want {
		t.Errorf("got %v, want %v", s.Truck, want)
	}
	a, b := s.ByUnit(&s.Units[0]), s.ByUnit(&s.Units[1])
	if a.Cameras[0].Name.Value != "House body A" || a.Rig.Name.Value != "Short sled" || a.Limits.Carry != 2 {
		t.Errorf("unit A has %s on %s and carries %d", a.Cameras[0].Name.Value, a.Rig.Name.Value, a.Limits.Carry)
	}
	if b.Cameras[0].Name.Value != "House body B" || b.Rig.Name.Value != "Long sled" || b.Limits.Carry != 1 || b.Unit != "B" {
		t.Errorf("unit B has %s on %s and carries %d", b.Cameras[0].Name.Value, b.Rig.Name.Value, b.Limits.Carry)
	}
}
