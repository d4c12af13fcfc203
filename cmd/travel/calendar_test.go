package travel_test

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"time"

	"glassbrief/cmd/travel"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/schedule"

	"github.com/emersion/go-ical"
	"github.com/google/go-cmp/cmp"
)

const nights = `use demo
scenario "Pans, by night" {
  camera    "House body A"
  rig       "Short sled"
  day       2027-10-30 from 22:00 to 06:00
  ZONE
  place     "Räucherkammer; am Ende" move 10min
  takes     90min
}
shot "1A" "Sie trägt die Säcke, einen nach dem anderen, über die Stiege hinauf; \"und dann\" hinab" {
  subject   person 1.7m
  frame     medium
  distance  2m
  light     120lx
}
shot "1B" {
  subject   person 1.7m
  frame     medium
  distance  2m
  light     120lx
}
`

// planned is a plan of a night, made by hand: two shots, one before and one behind the end of summer time.
func planned(t *testing.T, zone string) *schedule.Answer {
	t.Helper()
	s := enginetest.Read(t, strings.Replace(nights, "ZONE", zone, 1), brief.Files{})
	stops := []schedule.Stop{
		{Shot: 0, Lens: "Wide 18", Start: 30, End: 120, Spare: math.NaN()},
		{Shot: 1, Lens: "Normal 35", Start: 360, End: 450, Change: 4.5, Steps: []schedule.Step{schedule.LensStep}, NewLens: true, Spare: math.NaN()},
	}
	date := s.Days[0].Date
	return &schedule.Answer{
		Shoot: &schedule.Shoot{Scenario: s, Units: []schedule.Unit{{}}},
		Plan: &schedule.Plan{
			Days: []schedule.Day{{Of: &s.Days[0], Runs: []schedule.Run{{Stops: stops}}}},
			Hire: []schedule.Hire{{Lens: "Zoom 24-70", From: date, To: date.AddDate(0, 0, 1), Days: 2, Cost: 70}, {Lens: "Old 50", Cost: math.NaN()}},
		},
	}
}

func calendarOf(t *testing.T, a *schedule.Answer, now time.Time) (string, *ical.Calendar) {
	t.Helper()
	var b bytes.Buffer
	if err := travel.Calendar(&b, a, now); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	c, err := ical.NewDecoder(&b).Decode()
	if err != nil {
		t.Fatalf("another program cannot read it: %v\n%s", err, text)
	}
	return text, c
}

var made = time.Date(2027, 9, 1, 12, 0, 0, 0, time.UTC)

// Another program reads from the file what the plan says.
func TestCalendarIsReadByAnother(t *testing.T) {
	for _, c := range []struct{ name, zone, first, last string }{
		// In the zone clocks go back at 3 that night: six hours behind 22:00 it is 3 again.
		{"zone", "zone Europe/Berlin", "2027-10-30T22:30:00+02:00", "2027-10-31T03:00:00+01:00"},
		{"UTC", "zone UTC", "2027-10-30T22:30:00Z", "2027-10-31T04:00:00Z"},
		{"no zone", "", "2027-10-30T22:30:00Z", "2027-10-31T04:00:00Z"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := planned(t, c.zone)
			text, read := calendarOf(t, a, made)
			for line := range strings.SplitSeq(strings.TrimSuffix(text, "\r\n"), "\r\n") {
				if len(line) > 75 || strings.ContainsAny(line, "\r\n") {
					t.Errorf("the line %q is longer than 75 bytes or does not end as it must", line)
				}
			}
			events := read.Events()
			if len(events) != 3 {
				t.Fatalf("got %d events, want two shots and a hire:\n%s", len(events), text)
			}
			for i, want := range []string{c.first, c.last} {
				start, err := events[i].DateTimeStart(time.UTC)
				if err != nil || start.Format(time.RFC3339) != want {
					t.Errorf("event %d starts at %v (%v), want %s", i, start.Format(time.RFC3339), err, want)
				}
				end, err := events[i].DateTimeEnd(time.UTC)
				if err != nil || end.Sub(start) != 90*time.Minute {
					t.Errorf("event %d ends %v later (%v), want 90 minutes", i, end.Sub(start), err)
				}
			}
			for _, said := range []struct {
				event int
				name  string
				want  string
			}{
				{0, ical.PropSummary, "1A Wide 18"}, {0, ical.PropLocation, "Räucherkammer; am Ende"},
				{0, ical.PropDescription, "Sie trägt die Säcke, einen nach dem anderen, über die Stiege hinauf; \"und dann\" hinab"},
				{1, ical.PropDescription, "Before it: lens 4.5 min"}, {2, ical.PropSummary, "Hire: Zoom 24-70"},
			} {
				if got, err := events[said.event].Props.Text(said.name); err != nil || got != said.want {
					t.Errorf("%s of event %d: got %q (%v), want %q", said.name, said.event, got, err, said.want)
				}
			}
			start, end := events[2].Props.Get(ical.PropDateTimeStart).Value, events[2].Props.Get(ical.PropDateTimeEnd).Value
			if start != "20271030" || end != "20271101" {
				t.Errorf("the hire lies from %s to %s, want from 20271030 to 20271101, which is the first day without it", start, end)
			}
			var again bytes.Buffer
			if err := ical.NewEncoder(&again).Encode(read); err != nil {
				t.Errorf("another program finds a fault in it: %v", err)
			}
		})
	}
}

// A zone is described for each offset that holds on the days.
func TestCalendarDescribesItsZone(t *testing.T) {
	_, read := calendarOf(t, planned(t, "zone Europe/Berlin"), made)
	var got []string
	for _, zone := range read.Children {
		if zone.Name != ical.CompTimezone {
			continue
		}
		for _, part := range zone.Children {
			got = append(got, part.Name+" from "+part.Props.Get(ical.PropDateTimeStart).Value+" "+part.Props.Get(ical.PropTimezoneOffsetFrom).Value+" to "+part.Props.Get(ical.PropTimezoneOffsetTo).Value)
		}
	}
	want := []string{"DAYLIGHT from 20270328T020000 +0100 to +0200", "STANDARD from 20271031T030000 +0200 to +0100"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("the zone (-want +got):\n%s", diff)
	}
}

// What a calendar has already is moved, and does not come twice.
func TestCalendarKeepsTheNamesOfEvents(t *testing.T) {
	uids := func(a *schedule.Answer, now time.Time) (all []string) {
		_, read := calendarOf(t, a, now)
		for _, event := range read.Events() {
			uid, err := event.Props.Text(ical.PropUID)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, uid)
		}
		return all
	}
	a := planned(t, "zone Europe/Berlin")
	before := uids(a, made)
	run := &a.Plan.Days[0].Runs[0]
	run.Stops[0].Start, run.Stops[0].End, run.Stops[0].Lens = 60, 150, "Normal 35"
	a.Plan.Hire[0].From = a.Plan.Hire[0].To
	if diff := cmp.Diff(before, uids(a, made.AddDate(0, 0, 1))); diff != "" {
		t.Errorf("names of events (-before +after):\n%s", diff)
	}
	if before[0] == before[1] || before[1] == before[2] {
		t.Errorf("two events have one name: %v", before)
	}
}
