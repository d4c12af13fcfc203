package framelist

import "fmt"

// seen finds ids that stand twice.
type seen map[string]bool

func (s seen) twice(id string) bool {
	before := s[id]
	s[id] = true
	return before
}

// check reports what the schema cannot see: names that lead nowhere or stand twice, and areas
// that do not lie in each other.
func (l *List) check(faults *[]Fault) {
	fault := func(v *value, path, format string, args ...any) *Fault {
		*faults = append(*faults, faultAt(v, path, fmt.Sprintf(format, args...), ""))
		return &(*faults)[len(*faults)-1]
	}
	version := l.root.get("version")
	intents, canvases, templates := seen{}, seen{}, seen{}
	l.root.each("", "framing_intents", func(v *value, path string) {
		if id := v.text1("id"); intents.twice(id) {
			fault(v.get("id"), path, "framing intent %s stands twice", id)
		}
		switch p := v.number1("protection", 0); {
		case p >= 1:
			fault(v.get("protection"), path, "a protection of %s leaves no frame", v.get("protection").raw).Detail =
				"It is the share of the protected area that is taken off: 0.1 for 10 %."
		case p > 0 && version.number1("major", 0) == 1:
			f := fault(v.get("protection"), path, "the list is of version 1, whose first text let the protection of %s grow outwards", v.get("protection").raw)
			f.Warning, f.Detail = true, "It is read as a share taken off inwards, as since version 1.1. Check it, or export the list as version 2."
		}
	})
	if id := l.Default; id != "" && !intents[id] {
		fault(l.root.get("default_framing_intent"), "default_framing_intent", "default framing intent %s is not in framing_intents", id)
	}
	l.root.each("", "canvas_templates", func(v *value, path string) {
		if id := v.text1("id"); templates.twice(id) {
			fault(v.get("id"), path, "canvas template %s stands twice", id)
		}
	})
	eachCanvas := func(do func(v *value, path string)) {
		l.root.each("", "contexts", func(v *value, path string) { v.each(path, "canvases", do) })
	}
	eachCanvas(func(v *value, path string) {
		if id := v.text1("id"); canvases.twice(id) {
			fault(v.get("id"), path, "canvas %s stands twice", id)
		}
	})
	eachCanvas(func(v *value, path string) {
		if id := v.text1("source_canvas_id"); !canvases[id] {
			fault(v.get("source_canvas_id"), path, "source canvas %s is not in the canvases", id)
		}
		c := canvasOf(v, path)
		if c.Effective.Known() && !c.Effective.in(Area{Size: c.Size}) {
			// One that is larger fits in no place; one that is moved is used where it is.
			fault(v.get("effective_dimensions"), path, "effective area %v leaves canvas %v", c.Effective, c.Size).Warning =
				c.Effective.Width <= c.Size.Width && c.Effective.Height <= c.Size.Height
		}
		decisions, next := seen{}, 0
		v.each(path, "framing_decisions", func(v *value, path string) {
			d := &c.Decisions[next]
			next++
			if decisions.twice(d.ID) {
				fault(v.get("id"), path, "framing decision %s stands twice", d.ID)
			}
			switch {
			case !intents[d.Intent]:
				fault(v.get("framing_intent_id"), path, "framing intent %s is not in framing_intents", d.Intent)
			case d.ID != c.ID+"-"+d.Intent:
				fault(v.get("id"), path, "the id %s is not that of its canvas and its intent, %s-%s", d.ID, c.ID, d.Intent)
			}
			d.check(&c, func(key, format string, args ...any) *Fault { return fault(v.get(key), path, format, args...) })
		})
	})
}

// check reports areas of a decision that do not lie in each other. Published lists have all but
// the first two, so they are warnings.
func (d *Decision) check(c *Canvas, fault func(key, format string, args ...any) *Fault) {
	whole := Area{Size: c.Size}
	warn := func(key, format string, args ...any) { fault(key, format, args...).Warning = true }
	for _, of := range []struct {
		name, size, anchor string
		area               Area
	}{{"decision", "dimensions", "anchor_point", d.Frame}, {"protection", "protection_dimensions", "protection_anchor_point", d.Protected}} {
		switch a := of.area; {
		case !a.Known():
		case a.Width > c.Size.Width || a.Height > c.Size.Height:
			fault(of.size, "%s %v exceeds canvas %v", of.name, a.Size, c.Size)
		case a.X >= c.Size.Width || a.Y >= c.Size.Height:
			fault(of.anchor, "%s %v stands outside canvas %v", of.name, a, c.Size)
		case !a.in(whole):
			warn(of.anchor, "%s %v leaves canvas %v", of.name, a, c.Size)
		case c.Effective.Known() && !a.in(c.Effective):
			warn(of.anchor, "%s %v leaves the effective area %v", of.name, a, c.Effective)
		}
	}
	if d.Protected.Known() && !d.Frame.in(d.Protected) {
		warn("protection_dimensions", "protection %v does not hold decision %v", d.Protected, d.Frame)
	}
}

// rounding is how far an area may lie outside another by the rounding of binary numbers, in
// pixels.
const rounding = 1e-6

func (a Area) in(outer Area) bool {
	return a.X >= outer.X-rounding && a.Y >= outer.Y-rounding &&
		a.X+a.Width <= outer.X+outer.Width+rounding && a.Y+a.Height <= outer.Y+outer.Height+rounding
}

// String gives the size as "4448 x 3096".
func (s Size) String() string { return fmt.Sprintf("%v x %v", s.Width, s.Height) }

// String gives the area as "4448 x 2224 at 0, 436".
func (a Area) String() string { return fmt.Sprintf("%v at %v, %v", a.Size, a.X, a.Y) }
