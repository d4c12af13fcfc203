package brief

import (
	"glassbrief/lang"
)

// An Expectation is an "expect" statement.
type Expectation struct {
	Kit  []string // the lenses the kit must hold; nil when it is about a shot
	Shot string
	Lens string
	Span lang.Span
}

func (l *loader) expectations(s *Scenario) {
	shots := map[string]bool{}
	var ids []string
	for _, shot := range s.Shots {
		shots[shot.ID] = true
		ids = append(ids, shot.ID)
	}
	for _, e := range l.doc.Expects {
		expect := Expectation{Shot: e.Shot.Value, Lens: e.Lens.Value, Span: e.Span}
		for _, name := range e.Kit {
			resolve(l, &s.Catalogue.Lenses, name)
			expect.Kit = append(expect.Kit, name.Value)
		}
		if e.Kit == nil {
			resolve(l, &s.Catalogue.Lenses, e.Lens)
			if !shots[e.Shot.Value] && e.Shot.Span.Known() {
				l.unknownShot(e.Shot, ids)
			}
		}
		s.Expects = append(s.Expects, expect)
	}
}
