package brief

import (
	"fmt"
	"math"
	"slices"

	"glassbrief/lang"
)

// A Place is somewhere to shoot.
type Place struct {
	Name string
	Move float64 // minutes that it takes to get there with the rig
	Span lang.Span
}

// A Freedom says how far the order as written may be left for a shot. Two shots may change
// their order when both have the freedom that they need for it, or when one has the last.
type Freedom uint8

const (
	AsWritten  Freedom = iota
	InScene            // among the shots of its scene
	InPlace            // among the shots of its place, and of its scene
	Everywhere         // and on another day, where no day is said
)

// A Truck holds lenses beside those of the bag.
type Truck struct {
	Lenses  int     // 0 without one
	Minutes float64 // that it takes to fetch one
}

// placeLine is a "place" statement.
type placeLine struct {
	name lang.Text
	move lang.Quantity
}

// DecodeArgs reads "Car deck" move 40min.
func (p *placeLine) DecodeArgs(args *lang.Args) {
	p.name = args.Text()
	if args.More() {
		args.Word("move")
		p.move = args.Quantity(lang.Time)
	}
}

// orderLine is an "order" statement.
type orderLine struct {
	in   string // "scene", "place" or "" for all
	name lang.Text
}

// DecodeArgs reads "free", "free in scene" or "free in place "Car deck"".
func (o *orderLine) DecodeArgs(args *lang.Args) {
	args.Word("free")
	if !args.More() || args.Failed() {
		return
	}
	args.Word("in")
	o.in = args.Word("scene", "place").Value
	if args.More() && !args.Failed() {
		o.name = args.Text()
	}
}

// truckLine is a "truck" statement.
type truckLine struct{ lenses, minutes lang.Quantity }

// DecodeArgs reads "3 lenses 15min".
func (t *truckLine) DecodeArgs(args *lang.Args) {
	t.lenses = args.Quantity(lang.Plain)
	args.Skip("lenses", "lens")
	t.minutes = args.Quantity(lang.Time)
	if q := t.lenses; q.Known() && q.Value != math.Trunc(q.Value) {
		args.Report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.OutOfRange, Span: q.Span,
			Summary: fmt.Sprintf("%q is no number of lenses", q.Span.Text()), Detail: "Write a whole number.",
		})
	}
}

// places resolves the places and the truck.
func (l *loader) places(s *Scenario) {
	h := &l.doc.Scenario
	for _, p := range h.Places {
		if !p.name.Span.Known() {
			continue
		}
		if earlier := s.place(p.name.Value); earlier >= 0 {
			l.nameTwice("place", p.name, s.Places[earlier].Span)
			continue
		}
		s.Places = append(s.Places, Place{p.name.Value, p.move.Or(0) / 60, p.name.Span})
	}
	if t := h.Truck; t.lenses.Known() && t.minutes.Known() {
		s.Truck = Truck{int(t.lenses.Value), t.minutes.Value / 60}
	}
}

// place gives the place of a name among the places, or -1.
func (s *Scenario) place(name string) int {
	return slices.IndexFunc(s.Places, func(p Place) bool { return p.Name == name })
}

// placeOf resolves where a shot is: where it says, or else where the one before it is; -1 in a
// scenario without places.
func (l *loader) placeOf(s *Scenario, name lang.Text) int {
	switch {
	case name.Span.Known():
	case len(s.Shots) > 0:
		return s.Shots[len(s.Shots)-1].Where
	case len(s.Places) > 0:
		return 0
	default:
		return -1
	}
	at := s.place(name.Value)
	if at < 0 {
		l.unknownPlace(s, name)
	}
	return at
}

func (l *loader) unknownPlace(s *Scenario, name lang.Text) {
	var known []string
	for _, place := range s.Places {
		known = append(known, place.Name)
	}
	l.unknownName(name, fmt.Sprintf("there is no place %q", name.Value), "The places are", known,
		fmt.Sprintf("Add a line to \"scenario\", as: place %s move 40min.", lang.Quote(name.Value)))
}

// order resolves how far the order as written may be left for each shot.
func (l *loader) order(s *Scenario) {
	for _, o := range l.doc.Scenario.Order {
		free, in := Everywhere, func(*Shot) bool { return true }
		switch {
		case o.in == "scene":
			free = InScene
			if o.name.Span.Known() {
				in = func(shot *Shot) bool { return shot.Scene == o.name.Value }
			}
		case o.in == "place":
			free = InPlace
			if o.name.Span.Known() {
				if s.place(o.name.Value) < 0 {
					l.unknownPlace(s, o.name)
					continue
				}
				in = func(shot *Shot) bool { return shot.Where == s.place(o.name.Value) }
			}
		}
		some := false
		for _, shot := range s.Shots {
			if in(shot) {
				some, shot.Free = true, max(shot.Free, free)
			}
		}
		if !some && o.in == "scene" && o.name.Span.Known() {
			l.unknownScene(s, o.name)
		}
	}
}

func (l *loader) unknownScene(s *Scenario, name lang.Text) {
	var scenes []string
	for _, shot := range s.Shots {
		if shot.Scene != "" && !slices.Contains(scenes, shot.Scene) {
			scenes = append(scenes, shot.Scene)
		}
	}
	l.unknownName(name, fmt.Sprintf("no shot is of scene %q", name.Value), "The scenes of the shots are", scenes,
		"Write in each shot which scene it is of, as \"scene 4\".")
}

// after resolves which shots come after which, by their own lines "after" and the lines "before" of
// the others, and reports those that wait for each other.
func (l *loader) after(s *Scenario) {
	ids := make([]string, len(s.Shots))
	for i, shot := range s.Shots {
		ids[i] = shot.ID
	}
	said := map[[2]int]lang.Span{} // where it stands that a shot waits for another
	for i := range s.Shots {
		wait := func(word string, names []lang.Text, pair func(at int) (late, early int)) {
			for _, name := range names {
				if at := l.otherShot(name, word, i, ids); at >= 0 {
					late, early := pair(at)
					if !slices.Contains(s.Shots[late].After, early) {
						s.Shots[late].After = append(s.Shots[late].After, early)
						said[[2]int{late, early}] = name.Span
					}
				}
			}
		}
		wait("after", l.doc.Shots[i].After, func(at int) (late, early int) { return i, at })
		wait("before", l.doc.Shots[i].Before, func(at int) (late, early int) { return at, i })
	}
	l.circles(s, said)
}

// otherShot resolves a shot that another, i, comes before or after, as the word says; -1 where it is not there.
func (l *loader) otherShot(name lang.Text, word string, i int, ids []string) int {
	if !name.Span.Known() {
		return -1
	}
	at := slices.Index(ids, name.Value)
	switch at {
	case -1:
		l.unknownShot(name, ids)
	case i:
		l.report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.Contradiction, Span: name.Span,
			Summary: fmt.Sprintf("shot %q cannot come %s itself", name.Value, word), Detail: "Name another shot.",
		})
		return -1
	}
	return at
}

// circles reports shots that wait for each other, each circle once.
func (l *loader) circles(s *Scenario, said map[[2]int]lang.Span) {
	const fresh, open, done = 0, 1, 2
	state := make([]int, len(s.Shots))
	var way []int
	var visit func(i int)
	visit = func(i int) {
		state[i] = open
		way = append(way, i)
		for _, j := range s.Shots[i].After {
			switch state[j] {
			case fresh:
				visit(j)
			case open:
				var names []string
				for _, k := range way[slices.Index(way, j):] {
					names = append(names, s.Shots[k].ID)
				}
				l.report(lang.Diagnostic{
					Severity: lang.Error, Code: lang.Contradiction, Span: said[[2]int{i, j}],
					Summary: fmt.Sprintf("the shots %s wait for each other", lang.QuotedAll(names)), Detail: "Take out one of their lines \"after\" or \"before\".",
				})
			}
		}
		way = way[:len(way)-1]
		state[i] = done
	}
	for i := range s.Shots {
		if state[i] == fresh {
			visit(i)
		}
	}
}
