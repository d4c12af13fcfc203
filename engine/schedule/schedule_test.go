package schedule_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/days"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/schedule"
)

// glass has two primes, each of which does one kind of shot alone, and a zoom for hire that does both
// a little worse.
const glass = `mount "Slim" {
  flange 18mm
  throat 52mm
}
camera "Body" {
  mount "Slim"
  mode "Full" 36mm x 24mm
  iso 800
  iso_range 200..12800
  mass 900g
}
rig "Sled" {
  payload 0.5kg..4kg
  wobble 0.2deg
  isolation 70%
}
lens "Wide" {
  have owned
  FOCAL 24mm
}
lens "Tight" {
  have owned
  FOCAL 100mm
}
lens "Lent" {
  have borrowed
  available ..2027-05-03
  FOCAL 24mm
}
lens "Between" {
  have rent 50 EUR fetch 20 EUR
  FOCAL 24mm..100mm
}
`

// optics is what all these lenses have in common, with the focal length behind it.
const optics = `mount "Slim"
  pupil thin
  aperture f/2.8..f/22
  transmission T3
  close_focus 0.3m
  circle 46mm
  focus manual
  mass 500g
  length 90mm
  distortion -1%
  focal`

// wide and tight are lines of shots that one of the primes does.
const (
	wide  = "subject person 1.7m\n frame full\n distance 2.4m\n light 640lx\n"
	tight = "subject person 1.7m\n frame medium-close\n distance 2.6m\n light 640lx\n"
)

// shoot reads a scenario on this glass, with lines in its block and shots of these lines, and judges it.
func shoot(t *testing.T, header string, shots ...string) *schedule.Shoot {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "use \"own.catalog\"\nscenario \"S\" {\n camera \"Body\"\n rig \"Sled\"\n%s\n}\n", header)
	for i, lines := range shots {
		fmt.Fprintf(&b, "shot \"%d\" {\n%s\n}\n", i+1, lines)
	}
	s := enginetest.Read(t, b.String(), files(strings.ReplaceAll(glass, "FOCAL", optics)))
	judged, err := schedule.New(t.Context(), s, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return judged
}

func plan(t *testing.T, s *schedule.Shoot, v schedule.Variant) *schedule.Plan {
	t.Helper()
	p, err := s.Plan(t.Context(), v, days.Solver{})
	if err != nil {
		t.Fatal(err)
	}
	if !p.Proven {
		t.Errorf("the plan is not proven")
	}
	return p
}

// order writes a plan as "day unit: shot lens, …".
func order(s *schedule.Shoot, p *schedule.Plan) string {
	var all []string
	for i := range p.Days {
		for _, run := range p.Days[i].Runs {
			var stops []string
			for _, stop := range run.Stops {
				stops = append(stops, s.Scenario.Shots[stop.Shot].ID+" "+stop.Lens)
			}
			all = append(all, strings.TrimSpace(fmt.Sprint(s.DayOf(&p.Days[i])+1, " ", s.Units[run.Unit].Name))+": "+strings.Join(stops, ", "))
		}
	}
	return strings.Join(all, "; ")
}

func TestPlans(t *testing.T) {
	const two = "day 2027-05-03 from 08:00 to 12:00\n day 2027-05-04 from 08:00 to 12:00\n takes 30min\n"
	for _, c := range []struct {
		name, header string
		shots        []string
		want         string
		left         int
	}{
		{"as written, without days", "owned_only", []string{wide, tight, wide}, "1: 1 Wide, 2 Tight, 3 Wide", 0},
		{"free in a scene", "owned_only\n order free in scene", []string{"scene 1\n" + wide, "scene 1\n" + tight, "scene 1\n" + wide}, "1: 1 Wide, 3 Wide, 2 Tight", 0},
		{"free in another scene", "owned_only\n order free in scene \"2\"", []string{"scene 1\n" + wide, "scene 1\n" + tight, "scene 1\n" + wide, "scene 2\n" + wide}, "1: 1 Wide, 2 Tight, 3 Wide, 4 Wide", 0},
		{"after another", "owned_only\n order free in scene", []string{"scene 1\n after \"2\"\n" + wide, "scene 1\n" + tight, "scene 1\n after \"2\"\n" + wide}, "1: 2 Tight, 1 Wide, 3 Wide", 0},
		{"a shot on the second day", "owned_only\n" + two, []string{"on 2027-05-04\n" + wide, "on 2027-05-03\n" + tight}, "1: 2 Tight; 2: 1 Wide", 0},
		{"no room", "owned_only\n" + two, []string{"takes 3h\n on 2027-05-03\n" + wide, "takes 2h\n on 2027-05-03\n weight 2\n" + wide}, "1: 2 Wide", 1},
		{"one lens in the bag", "owned_only\n carry 1", []string{"weight 2\n" + wide, tight}, "1: 1 Wide", 1},
		{"one on the set, one on the truck", "owned_only\n carry 1\n truck 1 lens 10min", []string{wide, tight}, "1: 1 Wide, 2 Tight", 0},
		{"two units", "owned_only\n carry 1\n unit \"A\"\n unit \"B\"", []string{"unit \"B\"\n" + wide, "unit \"A\"\n" + tight}, "1 A: 2 Tight; 1 B: 1 Wide", 0},
		{"a lens that can be had until then", "leave \"Wide\"\n leave \"Between\"\n" + two, []string{"on 2027-05-04\n" + wide, "on 2027-05-03\n" + wide}, "1: 2 Lent", 1},
		{"a lens that can be had, not a day more", "leave \"Wide\"\n leave \"Between\"\n" + two, []string{wide}, "1: 1 Lent", 0},
		{"no money", "leave \"Wide\"\n leave \"Lent\"\n budget 60 EUR\n" + two, []string{"on 2027-05-03\n" + wide, "on 2027-05-04\n" + tight}, "2: 2 Tight", 1},
		{"a day that is kept", "owned_only\n order free in scene\n" + strings.Replace(two, "12:00\n", "12:00 keep\n", 1), []string{
			"scene 1\n on 2027-05-03\n" + wide, "scene 1\n on 2027-05-03\n" + tight, "scene 1\n on 2027-05-03\n" + wide, "scene 1\n" + wide}, "1: 1 Wide, 2 Tight, 3 Wide; 2: 4 Wide", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := shoot(t, c.header, c.shots...)
			p := plan(t, s, schedule.Variant{})
			if got := order(s, p); got != c.want || len(p.Left) != c.left {
				t.Errorf("got %s with %d left, want %s with %d", got, len(p.Left), c.want, c.left)
			}
		})
	}
}

// A unit's times follow each other: the shot, what comes before the next, and nothing over the break.
func TestTimesOfAPlan(t *testing.T) {
	s := shoot(t, "owned_only\n day 2027-05-03 from 08:00 to 12:00 break 30min at 09:00\n place \"Rail\" move 10min\n place \"Hold\" move 20min",
		"takes 40min\n"+wide, "takes 30min\n at \"Hold\"\n"+tight, "takes 25min\n between 10:40 and 11:30\n"+tight)
	p := plan(t, s, schedule.Variant{})
	stops := p.Days[0].Runs[0].Stops
	change := stops[1].Change
	// 40 minutes, the change and the move of 20 end before 09:00 only when the change takes nothing; the
	// shot of 30 minutes does not fit before the break, and comes behind it.
	if stops[0].Start != 0 || stops[0].End != 40 || stops[1].Start < 90 || stops[2].Start != 160 {
		t.Errorf("the shots start at %v, %v and %v, want 0, 90 or later, and 160", stops[0].Start, stops[1].Start, stops[2].Start)
	}
	if stops[1].Move != 20 || !(change > 2) || stops[2].Change != 0 || stops[2].Move != 0 {
		t.Errorf("got a move of %v and a change of %v, then %v and %v; want 20, a change of lens, and nothing", stops[1].Move, change, stops[2].Move, stops[2].Change)
	}
	if got := p.Minutes; got != change+20 || p.Changes != 1 || p.Adjustments != 0 {
		t.Errorf("got %v minutes, %d changes of lens and %d others, want %v, 1 and 0", got, p.Changes, p.Adjustments, change+20)
	}
	if stops[2].Spare != 25 || !math.IsNaN(stops[0].Spare) {
		t.Errorf("got %v minutes to spare and %v, want 25 of its hours and none", stops[2].Spare, stops[0].Spare)
	}
}

// What is hired is paid from the first day that it is used to the last, or fetched twice where that is cheaper.
func TestHireOfAPlan(t *testing.T) {
	days := ""
	for d := 3; d <= 9; d++ {
		days += fmt.Sprintf(" day 2027-05-%02d from 08:00 to 12:00\n", d)
	}
	s := shoot(t, "leave \"Wide\"\n takes 30min\n"+days, "on 2027-05-03\n"+wide, "on 2027-05-04\n"+wide, "on 2027-05-09\n"+wide)
	p := plan(t, s, schedule.Variant{})
	// 50 a day and 20 to fetch: two days and one day, fetched twice, cost 190, and seven days 370.
	var got []string
	for _, h := range p.Hire {
		got = append(got, fmt.Sprintf("%s %s to %s %d days %v", h.Lens, h.From.Format("02"), h.To.Format("02"), h.Days, h.Cost))
	}
	if want := []string{"Between 03 to 04 2 days 120", "Between 09 to 09 1 days 70"}; !slices.Equal(got, want) || p.Cost != 190 {
		t.Errorf("got %q for %v, want %q for 190", got, p.Cost, want)
	}
}

// With changes that weigh nothing the lenses are those that "recommend" brings.
func TestWithoutPriceTheKitIsThatOfRecommend(t *testing.T) {
	for _, name := range []string{"night-ferry.scenario", "orchard.scenario"} {
		t.Run(name, func(t *testing.T) {
			s := enginetest.ReadFile(t, os.DirFS("../../scenarios"), name)
			free := *s
			free.Prices.Change, free.Limits.Rent = 0, 0 // a limit a day is not one of all days
			r := enginetest.Recommend(t, &free, engine.Options{})
			judged, err := schedule.New(t.Context(), &free, engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			p := plan(t, judged, schedule.Variant{})
			got, want := slices.Sorted(slices.Values(p.Bags[0])), slices.Sorted(slices.Values(r.Kit.Lenses))
			if !slices.Equal(got, want) || math.Abs(p.Score-r.Kit.Mean) > 1e-9 {
				t.Errorf("got %v with %v, want %v with %v", got, p.Score, want, r.Kit.Mean)
			}
		})
	}
}

// Freeing scenes never makes a plan worse, and the order as written never makes it better.
func TestFreeingNeverCosts(t *testing.T) {
	s := shoot(t, "owned_only\n day 2027-05-03 from 08:00 to 10:00\n day 2027-05-04 from 08:00 to 10:00\n takes 25min\n order free in scene \"2\"",
		"scene 1\n"+wide, "scene 1\n"+tight, "scene 2\n"+wide, "scene 2\n"+tight, "scene 2\n on 2027-05-04\n"+wide, "scene 3\n"+tight)
	p := plan(t, s, schedule.Variant{})
	if written := plan(t, s, schedule.Variant{AsWritten: true}); written.Better(p) {
		t.Errorf("the order as written is better: %v minutes against %v", written.Minutes, p.Minutes)
	}
	for _, scene := range []string{"1", "2", "3"} {
		if freed := plan(t, s, schedule.Variant{Freed: scene}); p.Better(freed) {
			t.Errorf("with scene %s freed the plan is worse: %v minutes against %v", scene, freed.Minutes, p.Minutes)
		}
	}
}

func TestWhatCannotBePlanned(t *testing.T) {
	for _, c := range []struct{ name, header, shot, want string }{
		{"minutes that nobody says", "day 2027-05-03 from 08:00 to 10:00", wide, "nobody says how long"},
		{"a limit a day", "rent 40 EUR", wide, ""},
		{"a limit a day that two lenses could miss", "rent 50 EUR\n carry 1", wide, ""},
		{"a limit on the bag", "bag 900g", wide, "cannot hold \"bag\""},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := "use \"own.catalog\"\nscenario \"S\" {\n camera \"Body\"\n rig \"Sled\"\n" + c.header + "\n}\nshot \"1\" {\n" + c.shot + "\n}\n"
			_, err := schedule.New(context.Background(), enginetest.Read(t, text, files(strings.ReplaceAll(glass, "FOCAL", optics))), engine.Options{})
			if got := fmt.Sprint(err); (c.want == "") != (err == nil) || !strings.Contains(got, c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}

// files gives a catalogue beside a scenario.
func files(catalogue string) brief.Files {
	return brief.Files{Tree: fstest.MapFS{"own.catalog": {Data: []byte(catalogue)}}}
}

// A search that is cut short gives a plan all the same, and says that it is not proven.
func TestACutSearchGivesAPlan(t *testing.T) {
	s := enginetest.ReadFile(t, os.DirFS("../../scenarios"), "salt-works.scenario")
	shoot, err := schedule.New(t.Context(), s, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	cut, err := shoot.Plan(ended, schedule.Variant{}, days.Solver{})
	if err != nil {
		t.Fatal(err)
	}
	best := plan(t, shoot, schedule.Variant{})
	if cut.Better(best) || best.Gap != 0 {
		t.Errorf("a plan that was cut short is better than the best, or the best has a gap of %v", best.Gap)
	}
	if !cut.MoreDone && cut.Bound < best.Value {
		t.Errorf("cut short, no plan is said to be above %v, and the best is %v", cut.Bound, best.Value)
	}
	if a, err := shoot.Around(ended, cut, nil); err != nil || a.Written != nil || a.Saving != nil {
		t.Errorf("got %v, %v beside a plan whose time has run out, want nothing", a, err)
	}
}
