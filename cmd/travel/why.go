package travel

import (
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/rules"
	"glassbrief/engine/taste"
	"glassbrief/engine/why"
	"glassbrief/lang"
)

// Why is the document of all that is behind one judgement. Texts are in the printer's units.
func Why(c *why.Case, p lang.Printer) Object {
	judged := func(j *engine.Judgement) Object { return judgement(j, p) }
	o := append(head("why", c.Recommendation), Of(
		"shot", c.Shot.Shot.ID, "lens", judged(c.Lens), "against", Maybe(c.Against, judged),
		"weightings", Maybe(c.Duel, func(d *taste.Duel) Object {
			return Of("wins_pct", d.Wins, "loses_pct", d.Loses, "exact", d.Exact) // the lens scores more, or less, than the other; not exact where they were drawn
		}),
		"nearest", Maybe(c.Rescue, func(r *why.Rescue) Object { return rescue(r, p) }),
		"turns", Each(c.Turns, func(t *why.Turn) Object {
			return Of(
				"what", wording.Turn(t), "lens", t.Lens.Name.Value,
				"filter", Maybe(t.Filter, filterWant),
				"changes", Each(t.Changes, func(c *why.BriefChange) Object { return change(c, p) }),
			)
		}),
	)...)
	return append(o, Ranged(c.Lens, c.Lens.Worlds(), func(j *engine.Judgement) Object {
		switch {
		case j == c.Lens:
			return behind(c, p)
		case j.Standing != c.Lens.Standing:
			return nil
		}
		return behind(c.With(j, c.Against), p)
	})...)
}

// behind is what one judgement is made of.
func behind(c *why.Case, p lang.Printer) Object {
	line := func(l *rules.Line) Object {
		return Of(
			"code", l.Code, "text", l.Text, "values", l.Values.In(p), "known", l.Known,
			"holds", l.Holds, "value", l.Value,
		)
	}
	return Of(
		"criteria", Each(c.Trace, func(t *rules.Trace) Object {
			return Of(
				"name", t.Name, "about", t.About, "weight", t.Weight, "share_pct", t.Share, "applies", t.Applies, "score", t.Score,
				"when", Maybe(t.When, line),
				"vetoes", Each(t.Vetoes, line),
				"limits", Each(t.Limits, line),
				"scores", Each(t.Scores, line), "reasons", wording.Said(&t.Finding, p),
			)
		}),
		"facts", Each(c.Values(), func(v *why.Value) Object {
			value := Figure{SI: v.SI}
			if _, ok := lang.FindUnit(v.Unit); ok {
				value.Unit = v.Unit
			}
			return Of(
				"name", v.Name, "known", v.Known, "value", value, "unit", v.Unit,
				"text", wording.Value(c, v, p), "scope", v.Scope, "meaning", v.Meaning, "formula", v.Formula, "source", v.Source,
			)
		}),
	)
}
