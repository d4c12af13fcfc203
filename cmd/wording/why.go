package wording

import (
	"cmp"
	"fmt"
	"math"

	"glassbrief/engine/why"
	"glassbrief/lang"
)

// Turn says what would be otherwise.
func Turn(t *why.Turn) string {
	if t.Over == nil {
		return t.Lens.Name.Value + " would not be excluded"
	}
	return fmt.Sprintf("%s would come before %s", t.Lens.Name.Value, t.Over.Name.Value)
}

// Value writes what a fact is for the lens of a case.
func Value(c *why.Case, v *why.Value, p lang.Printer) string {
	switch {
	case v.Truth && !math.IsNaN(v.SI):
		return map[bool]string{true: "yes", false: "no"}[v.SI == 1]
	case v.Unit == "money": // which money it is the brief says
		return p.Quantity(v.SI, cmp.Or(c.Recommendation.Scenario.Limits.Currency, v.Unit))
	}
	return p.Quantity(v.SI, v.Unit)
}
