package brief

import (
	"fmt"

	"glassbrief/lang"
)

// Tolerances say how far the figures of a brief may turn out otherwise on the day, either
// way: shares of distances, sizes of subjects and weights, and stops of light.
type Tolerances struct {
	Distance, Subject, Weight float64
	Light                     float64
}

// UsualTolerances hold where a scenario does not say otherwise. They are this project's
// judgement: a distance paced out is good to a tenth, light guessed on a recce to a stop,
// a person's height taken from a casting sheet to a twentieth, and how much a shot counts
// to a quarter.
var UsualTolerances = Tolerances{Distance: 0.10, Subject: 0.05, Weight: 0.25, Light: 1}

// variation is a "vary" statement, as "vary distance 10%" or "vary light 1 stop".
type variation struct {
	Input lang.Word
	By    lang.Quantity
}

// DecodeArgs reads the values of "vary".
func (v *variation) DecodeArgs(args *lang.Args) {
	v.Input = args.Word("distance", "light", "subject", "weight")
	dim := lang.Plain
	if v.Input.Value == "light" {
		dim = lang.Stops
	}
	v.By = args.Quantity(dim)
}

// tolerances gives the usual tolerances with what the scenario says otherwise.
func (l *loader) tolerances(variations []variation) Tolerances {
	t := UsualTolerances
	fields := map[string]*float64{"distance": &t.Distance, "light": &t.Light, "subject": &t.Subject, "weight": &t.Weight}
	first := map[string]lang.Span{}
	for _, v := range variations {
		if earlier, twice := first[v.Input.Value]; twice {
			l.report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.DuplicateField, Span: v.Input.Span,
				Summary: fmt.Sprintf("the tolerance of the %s is given twice", v.Input.Value), Detail: "Keep one of the two.",
				Related: []lang.Related{{Span: earlier, Note: "it is given here first"}},
			})
		}
		first[v.Input.Value] = v.Input.Span
		*fields[v.Input.Value] = v.By.Value
	}
	return t
}
