package compare_test

import (
	"fmt"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/compare"

	"github.com/google/go-cmp/cmp"
)

// third is a shot like the first, behind the second: the wide lens goes on once more for it.
const third = `
shot "3A" "The door, again" {
  scene     3
  subject   person 1.7m
  frame     full
  distance  2m
  light     640lx
  focus     pulled
}
`

func withThird(version files) files {
	version["test.scenario"] = strings.Replace(version["test.scenario"], "\nexpect kit", third+"\nexpect kit", 1)
	return version
}

// before puts a shot before another.
func before(version files, shot, other string) files {
	text := version["test.scenario"]
	start := strings.Index(text, "\nshot \""+shot+"\"")
	end := start + strings.Index(text[start:], "\n}\n") + len("\n}\n")
	block := text[start:end]
	text = text[:start] + text[end:]
	at := strings.Index(text, "\nshot \""+other+"\"")
	version["test.scenario"] = text[:at] + block + text[at:]
	return version
}

func TestDays(t *testing.T) {
	const days = "carry     2 lenses\n  day 2027-05-03 from 08:00 to 12:00\n  day 2027-05-04 from 08:00 to 12:00\n  takes 1h\n  order free in scene"
	pinned := func(day string) files {
		return withThird(edited(t, "carry     2 lenses", days, "scene     2", "scene     2\n  on 2027-05-"+day))
	}
	for _, c := range []struct {
		name     string
		old, new files
		same     bool
		changes  [2]int // of lens, before and now
		moved    []string
	}{
		{"a shot moved in a day", withThird(edited(t)), before(withThird(edited(t)), "3A", "2A"), true, [2]int{2, 1}, []string{"2A"}}, // 3A as well could be the one
		{"a shot moved to another day", pinned("03"), pinned("04"), false, [2]int{1, 1}, []string{"2A"}},                              // the lens of a morning is on already
		{"days that stay", pinned("03"), pinned("03"), true, [2]int{1, 1}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := compare.Compare(t.Context(), side(t, c.old), side(t, c.new), engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if r.Days == nil {
				t.Fatal("the days are not compared")
			}
			var moved []string
			for _, i := range r.Days.Moved {
				moved = append(moved, r.Shots[i].New.Shot.ID)
			}
			if diff := cmp.Diff(c.moved, moved); diff != "" || r.SamePlan() != c.same {
				t.Errorf("the same plan: %v, want %v; moved (-want +got):\n%s", r.SamePlan(), c.same, diff)
			}
			if got := [2]int{r.Days.Old.Changes, r.Days.New.Changes}; got != c.changes {
				t.Errorf("got %v changes of lens before and now, want %v", got, c.changes)
			}
			if !(r.Days.Old.Minutes > 0) || fmt.Sprint(r.Days.Old.Left) != "[]" {
				t.Errorf("got %v minutes and %v not done", r.Days.Old.Minutes, r.Days.Old.Left)
			}
		})
	}
	r, err := compare.Compare(t.Context(), side(t, edited(t)), side(t, edited(t, "distance  2m", "distance  3m")), engine.Options{})
	if err != nil || r.Days != nil {
		t.Errorf("got %v, %v of briefs that do not speak of days, want nothing", r.Days, err)
	}
}
