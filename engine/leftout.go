package engine

import "slices"

// A LeftOut is a lens that stays out because too little is known of it.
type LeftOut struct {
	Lens string
	// Lacks are the fields that the catalogue lacks and that nothing stands in for, or the unknown
	// facts that rules of the brief read, or what a limit asks for.
	Lacks   []string
	AskedBy string // the limit; "" for what judging needs
}

// leftOut lists the lenses that go on the camera and stay out of some shot because too little is
// known of them, or of the bag because what a limit asks for is not, in the order of the catalogue.
func (t *Table) leftOut() []LeftOut {
	var all []LeftOut
	for j, g := range t.glass {
		out := LeftOut{Lens: g.lens.Name.Value, Lacks: g.lacks}
		if g.refusal != "" {
			continue
		}
		if bar := t.KeptOut(j); bar.Lacks != "" {
			out.Lacks, out.AskedBy = []string{bar.Lacks}, bar.By
			all = append(all, out)
			continue
		}
		i := slices.IndexFunc(t.outcomes, func(row []Outcome) bool { return row[j].Standing == Undecided })
		if i < 0 {
			continue
		}
		if out.Lacks == nil {
			explained := t.Explain(i, j)
			out.Lacks = explained.Unjudged()
		}
		all = append(all, out)
	}
	return all
}

// Unjudged says what keeps criteria of an explained judgement from being judged: the fields that
// nothing stands in for, or else the unknown facts.
func (j *Judgement) Unjudged() []string {
	if len(j.Missing) > 0 {
		return j.Missing
	}
	var lacks []string
	for i := range j.Criteria {
		for _, fact := range j.Criteria[i].Unknown {
			if !slices.Contains(lacks, fact) {
				lacks = append(lacks, fact)
			}
		}
	}
	return lacks
}
