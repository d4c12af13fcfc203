package brief

import (
	"fmt"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// stopsApart is how far a stop may be from the one that is asked for. Neighbours on the ring are 12 % apart,
// and engraved numbers are rounded by up to 3 %.
const stopsApart = 0.03

// stopNeed asks for a stop as a need of the shot does.
func stopNeed(stop lang.Quantity) lang.Expression {
	fact, unit := "stop", "f/"
	if stop.Unit == "T" {
		fact, unit = "t_stop", "T"
	}
	return need(fmt.Sprintf("between(%s, %s%.4f, %s%.4f)", fact, unit, stop.Value*(1-stopsApart), unit, stop.Value*(1+stopsApart)),
		"the brief asks for "+lang.Printer{}.Quantity(stop.Value, unit))
}

// otherNeed is what no lens meets: it puts out those other than the one that the shot asks for.
func otherNeed(asked string) lang.Expression {
	return need("subject_near < 0m", "the brief asks for "+asked)
}

// need gives an expression with its reason as a file would have it.
func need(text, reason string) lang.Expression {
	src, _ := lang.NewSource("brief", []byte(text+" "+lang.Quote(reason)))
	return lang.Expression{
		Span:    lang.Span{Source: src, End: len(text)},
		Because: lang.Text{Value: reason, Span: lang.Span{Source: src, Start: len(text) + 1, End: len(src.Text)}},
	}
}

// checkLens reports a lens that a shot asks for and that may not come.
func (l *loader) checkLens(s *Scenario, asked lang.Text, lens *catalog.Lens) {
	if s.Limits.Bars(lens) {
		by := s.Limits.Barring(lens.Name.Value)
		l.contradiction(asked.Span, fmt.Sprintf("the shot asks for %q, which %q keeps out", lens.Name.Value, by),
			"Take one of the two out.", l.doc.Scenario.Span, "the scenario is here")
	}
}
