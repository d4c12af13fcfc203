package brief_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"

	"pgregory.net/rapid"
)

// trial reads the usual trial with some of its lines in other words.
func trial(t *testing.T, scenario, shot string, other ...string) *brief.Scenario {
	t.Helper()
	s, ds := enginetest.Load(t, strings.NewReplacer(other...).Replace(enginetest.Trial(scenario, shot)))
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	return s
}

func TestFreePlaceToStand(t *testing.T) {
	shot := trial(t, "", "background 9m", "distance 2m..3m", "distance within 1m..4m").Shots[0]
	if want := (brief.Room{Near: 1, Far: 4, Behind: 5}); shot.Room == nil || *shot.Room != want {
		t.Fatalf("got a room of %v, want %v", shot.Room, want)
	}
	if shot.Near != 2 || shot.Far != 2 || shot.Background != 7 {
		t.Errorf("got the camera at %g to %g m and the background at %g m, want it in the middle of the room and 5 m behind", shot.Near, shot.Far, shot.Background)
	}
	shot.Place(5, 6)
	if shot.Near != 2 {
		t.Errorf("got the camera at %g m, want it where it stood: the brief gives no place", shot.Near)
	}
	shot.Stand(3.5)
	if shot.Near != 3.5 || shot.Far != 3.5 || shot.Background != 8.5 {
		t.Errorf("got the camera at %g to %g m and the background at %g m, want 3.5 m and 8.5 m", shot.Near, shot.Far, shot.Background)
	}
	if open := trial(t, "", "", "distance 2m..3m", "distance within 1m..4m").Shots[0]; !math.IsNaN(open.Background) || !math.IsNaN(open.Room.Behind) {
		t.Errorf("got a background at %g m, want it unknown", open.Background)
	}
	trial(t, "", "", "distance 2m..3m", "distance within 1m..4m", "move lead", "move hold") // warns of nothing
	if given := trial(t, "", "").Shots[0]; given.Room != nil {
		t.Error("a distance that is given leaves no room")
	}
}

// Every room has its two ends and the tape's steps between, close enough together, and a wider
// room has those of a narrower one but for its ends.
func TestPlacesInARoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		near := rapid.Float64Range(0.2, 10).Draw(t, "near")
		room := brief.Room{Near: near, Far: near * rapid.Float64Range(1.001, 8).Draw(t, "reach")}
		places := room.Places()
		if !slices.IsSorted(places) || places[0] != room.Near || places[len(places)-1] != room.Far {
			t.Fatalf("got %v for the room %v", places, room)
		}
		wider := brief.Room{Near: room.Near * rapid.Float64Range(0.3, 1).Draw(t, "nearer"), Far: room.Far * rapid.Float64Range(1, 2).Draw(t, "farther")}.Places()
		for i, at := range places {
			if i > 0 && (at == places[i-1] || at > places[i-1]*1.0501) {
				t.Errorf("from %v to %v m is a step too small or too large", places[i-1], at)
			}
			if i > 0 && i < len(places)-1 && !slices.Contains(wider, at) {
				t.Errorf("%v m is no place in the wider room: %v", at, wider)
			}
		}
	})
	if got, want := fmt.Sprint(brief.Room{Near: 0.46, Far: 0.57}.Places()), "[0.46 0.47000000000000003 0.48 0.49 0.5 0.52 0.54 0.56 0.57]"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestMarksAndSupport(t *testing.T) {
	for _, c := range []struct {
		lines   string
		move    string
		marks   bool
		support facts.Support
		byEye   bool
	}{
		{"", "move lead", false, facts.Sled, true},
		{"marks", "move lead", true, facts.Sled, false},
		{"support sled", "move lead", false, facts.Sled, true},
		{"support docked", "move hold 5deg/s", false, facts.DockedSled, false},
		{"support legs", "", false, facts.Legs, false},
	} {
		s := trial(t, "", c.lines, "move lead", c.move, "2m..3m", "2m")
		shot := s.Shots[0]
		in := s.ShotInput(shot, s.Cameras[0])
		if shot.Marks != c.marks || shot.Support != c.support || in.Marks != c.marks || in.Support != c.support || in.Motion.KeepsByEye != c.byEye {
			t.Errorf("%q: got marks %v, support %v, kept by eye %v", c.lines, shot.Marks, shot.Support, in.Motion.KeepsByEye)
		}
	}
}

func TestSubjectPlace(t *testing.T) {
	s := trial(t, "squeeze 1.33", "", "subject person 1.78m", "subject place 3.4m x 2.5m")
	shot := s.Shots[0]
	want := facts.Subject{Place: true, Height: 2.5, Width: 3.4}
	if got := s.ShotInput(shot, s.Cameras[0]).Subject; got != want || shot.Subject.IsPerson() || !shot.Subject.IsPlace() {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if s.Squeeze != 1.33 {
		t.Errorf("got a squeeze of %g", s.Squeeze)
	}
}

// The mode of a shot is its own where it has one, and else that of the scenario.
func TestSensorModeOfShots(t *testing.T) {
	for _, c := range []struct{ scenario, shot, want string }{
		{"", "", ""},
		{`mode "Wide"`, "", "Wide"},
		{"", `mode "Wide"`, "Wide"},
		{`mode "Wide"`, `mode "Open gate"`, "Open gate"},
	} {
		if got := trial(t, c.scenario, c.shot).Shots[0].Mode; got != c.want {
			t.Errorf("%s, %s: got %q, want %q", c.scenario, c.shot, got, c.want)
		}
	}
}
