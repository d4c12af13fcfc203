package wording

import (
	"fmt"
	"math"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// Fact writes a fact in its own unit.
func Fact(j *engine.Judgement, id facts.ID, p lang.Printer) string {
	fact := facts.Table()[id]
	value := j.Fact(id)
	switch {
	case id == facts.ISO && !math.IsNaN(value):
		return fmt.Sprintf("%.0f", value)
	case id == facts.ND && value == 0:
		return "none"
	}
	return p.Quantity(value, fact.Unit)
}

// LensAt names a lens, with the focal length when it is a zoom.
func LensAt(j *engine.Judgement, p lang.Printer) string {
	name := j.Lens
	if j.Fact(facts.IsZoom) == 1 {
		name += " at " + p.Quantity(j.Fact(facts.FocalLength), "mm")
	}
	return name
}
