package days

import (
	"bufio"
	"os"
	"strconv"
	"strings"
	"testing"
)

// An instance is a published problem with its optimum.
type instance struct {
	name    string
	optimum int
	numbers map[string][][]int // rows by their first word
}

// instances reads a file of published problems.
func instances(tb testing.TB, name string) (all []instance) {
	tb.Helper()
	file, err := os.Open(name)
	if err != nil {
		tb.Fatal(err)
	}
	defer file.Close()
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		word, rest, _ := strings.Cut(lines.Text(), " ")
		if word == "" || word == "#" {
			continue
		}
		if word == "instance" {
			all = append(all, instance{name: rest, numbers: map[string][][]int{}})
			continue
		}
		var row []int
		for field := range strings.FieldsSeq(rest) {
			n, err := strconv.Atoi(field)
			if err != nil {
				tb.Fatalf("%s: %v", name, err)
			}
			row = append(row, n)
		}
		in := &all[len(all)-1]
		if word == "optimum" {
			in.optimum = row[0]
		}
		in.numbers[word] = append(in.numbers[word], row)
	}
	if err := lines.Err(); err != nil || len(all) == 0 {
		tb.Fatalf("%s: %d instances, %v", name, len(all), err)
	}
	return all
}

// talent makes a shoot of an instance of talent scheduling: an actor is a lens that is hired once, from its first
// day to its last, and a scene of so many days is as many blocks, each of which fills a day.
func talent(in instance) *Problem {
	const worth = 1_000_000
	p := &Problem{MaxCost: -1, CentPrice: 1, Units: []Unit{{Carry: mostHired}}}
	actors := in.numbers["actor"]
	for _, actor := range actors {
		p.Lenses = append(p.Lenses, Lens{Hire: &Hire{Day: int64(actor[0]), Once: true}})
	}
	for scene, days := range in.numbers["days"][0] {
		setup := Setup{}
		for a, actor := range actors {
			if actor[1+scene] == 1 {
				setup.Lenses = append(setup.Lenses, a)
			}
		}
		p.Setups = append(p.Setups, setup)
		for range days {
			t := len(p.Days)
			p.Days = append(p.Days, Day{Start: t, End: t + 1, Date: t})
			p.Shots = append(p.Shots, Shot{Weight: 1, Takes: 1, Scene: scene, Block: t, Free: Everywhere, Options: []Option{{0, scene, worth}}})
		}
	}
	return p
}

// The instances of talent scheduling, with the optima of the papers.
func TestTalentScheduling(t *testing.T) {
	for _, in := range instances(t, "testdata/talent.txt") {
		got := solve(t, talent(in)).Plan.Totals
		if got.Cost != int64(in.optimum) || got.Left != 0 {
			t.Errorf("%s: got %+v, want a cost of %d", in.name, got, in.optimum)
		}
	}
}

// tools makes a day of an instance of tool switching: a job is a shot whose set-up takes several lenses, of which
// no more than the slots are on the set; each that is fetched takes one half minute.
func tools(in instance) *Problem {
	const worth = 1_000_000
	rows := in.numbers["tool"]
	slots := in.numbers["slots"][0][0]
	p := &Problem{MaxCost: -1, Price: 1, Days: []Day{{End: 10_000}}, Units: []Unit{{Carry: len(rows), OnSet: slots, Fetch: 1}}}
	for range rows {
		p.Lenses = append(p.Lenses, Lens{})
	}
	for job := range rows[0] {
		setup := Setup{}
		for tool, row := range rows {
			if row[job] == 1 {
				setup.Lenses = append(setup.Lenses, tool)
			}
		}
		p.Setups = append(p.Setups, setup)
		p.Shots = append(p.Shots, Shot{Weight: 1, Takes: 1, Scene: 0, Free: Everywhere, Options: []Option{{0, job, worth}}})
	}
	return p
}

// The instances of tool switching, with the optima of the papers.
func TestToolSwitching(t *testing.T) {
	for _, in := range instances(t, "testdata/tools.txt") {
		got := solve(t, tools(in)).Plan.Totals
		if got.Minutes != in.optimum || got.Left != 0 {
			t.Errorf("%s: got %+v, want %d switches", in.name, got, in.optimum)
		}
	}
}
