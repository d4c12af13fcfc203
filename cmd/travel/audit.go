package travel

import (
	"math"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/audit"
	"glassbrief/engine/rules"
	"glassbrief/engine/why"
	"glassbrief/lang"
)

// Audit is the document of an audit. Reasons are in the printer's units.
func Audit(r *audit.Answer, p lang.Printer) Object {
	hired := func(h *audit.Hire) Object { return append(hire(h), resting(r.KitRests(&h.Kit))) }
	return Of(
		"schema", HeaderOf("audit").Schema, "scenario", r.Scenario.Name, "camera", r.Camera.Name.Value, "rig", r.Scenario.Rig.Name.Value,
		"suits", r.Suits, "house", hired(&audit.Hire{Kit: r.House}), "limits", limits(r.Limits),
		"shots", Each(r.Shots, func(s *audit.ShotVerdict) Object { return verdict(s, p) }),
		"carry", r.Carry,
		"specifications", Each(r.Specifications, func(s *audit.Specification) Object {
			return Of("shots", r.IDs(s.Shots), "window", window(&s.Window), "hire", Each(s.Hire, offer))
		}),
		"filters", Each(r.Filters, func(f *audit.FilterSpec) Object {
			return Of("thread_mm", f.Thread, "nd_stops", f.Stops, "shots", r.IDs(f.Shots), "lenses", f.Lenses)
		}),
		"too_bright", r.TooBright,
		"mounts", r.Mounts(),
		"hire", Maybe(r.Hire, hired),
		"better", Maybe(r.Better, hired),
		"beyond", Maybe(r.Beyond, hired),
		"days", Maybe(r.Days, func(d *audit.Days) Object {
			return Of(
				"hire", hires(d.Plan), "cost", d.Plan.Cost, "proven", d.Plan.Proven,
				"by_date", Each(d.ByDate, func(h *audit.DayHire) Object { return Of("date", dateText(h.Date), "lenses", h.Lenses, "cost", h.Cost) }),
			)
		}),
	)
}

func hire(h *audit.Hire) Object {
	return Of("lenses", h.Kit.Lenses, "hired", Each(h.Lenses, offer), "cost_a_day", h.Kit.Cost, "score", h.Kit.Mean, "uncovered", h.Kit.Uncovered)
}

func offer(o *audit.Offer) Object { return Of("lens", o.Lens, "cost_a_day", o.DayRate) }

func verdict(s *audit.ShotVerdict, p lang.Printer) Object {
	o := Ranged(s.Use, s.Use.Worlds(), func(use *engine.Judgement) Object {
		switch {
		case use == s.Use:
			return verdictOn(s, p)
		case use.Standing != s.Use.Standing:
			return nil
		}
		return verdictOn(s.With(use), p)
	})
	if s.Use == nil {
		return o
	}
	return withScore(o, s.Use)
}

func verdictOn(s *audit.ShotVerdict, p lang.Printer) Object {
	score := 0.0
	if s.Use != nil {
		score = s.Use.Score
	}
	return Of(
		"may_be_out?", s.Use != nil && s.Use.Turns(),
		"id", s.Shot.ID, "verdict", s.Verdict.String(), "lens", lensOf(s.Use), "score", score,
		"compromises", Each(s.Compromises, func(f *rules.Finding) Object {
			return Of("criterion", f.Name, "score", f.Score, "lacks", f.Unknown, "reasons", wording.Reasons(f, p))
		}),
		"filter", Maybe(s.Filter, filterWant),
		"able", s.Able,
		"hire", Each(s.Hire, offer),
		"window", Maybe(s.Window, window),
		"blocks", wording.Vetoes(s.Blocks, p),
		"changes", Each(s.Changes(), func(l *why.Lift) Object { return lift(l, p) }),
		"nearest", Maybe(s.Rescue, func(r *why.Rescue) Object { return nearest(r, p) }),
	)
}

// filterWant is the filter that a lens lacks, with the weakest and the strongest that would do.
func filterWant(f *why.FilterWant) Object {
	return Of("lens", f.Lens, "thread_mm", f.Thread, "nd_stops", f.Stops, "least_stops", f.Least, "most_stops", f.Most, "over_stops", f.Over)
}

// window has null for an end that nothing bounds.
func window(w *audit.Window) Object {
	var o Object
	for _, axis := range []struct {
		audit.Axis
		name, unit string
	}{
		{audit.Focal, "focal", "_mm"}, {audit.WidestT, "t", ""}, {audit.CloseFocus, "close_focus", "_m"},
		{audit.Mass, "mass", "_kg"}, {audit.Circle, "circle", "_mm"}, {audit.Length, "length", "_mm"},
	} {
		edges := w.Axes[axis.Axis]
		o = append(o, Of(axis.name+"_min"+axis.unit, edges.Low, axis.name+"_max"+axis.unit, edges.High)...)
	}
	thread := w.Thread
	if thread == 0 {
		thread = math.NaN()
	}
	return append(o, Of("apart", w.Apart, "thread_mm", thread)...) // the limits depend on each other; of a lens that needs a filter
}

// Verdicts are the verdicts on the shots, for a spreadsheet.
func Verdicts(r *audit.Answer, p lang.Printer) []Object {
	var rows []Object
	for i := range r.Shots {
		s := &r.Shots[i]
		v := verdict(s, p)
		row := append(Of("shot", s.Shot.ID), v.Only("verdict", "lens", "score")...)
		row = append(row, Of("because", wording.Verdict(r, s, p))...)
		row = append(row, Maybe(s.Window, window).Only("focal_min_mm", "focal_max_mm", "t_max", "close_focus_max_m", "mass_max_kg", "circle_min_mm")...)
		cheapest := Object(nil)
		if len(s.Hire) > 0 {
			cheapest = offer(&s.Hire[0])
		}
		row = append(row, Of("hire", cheapest.Get("lens"), "cost_a_day", cheapest.Get("cost_a_day"))...)
		filter := Maybe(s.Filter, filterWant)
		row = append(row, Of("filter_nd_stops", filter.Get("nd_stops"), "filter_thread_mm", filter.Get("thread_mm"), "filter_lens", filter.Get("lens"))...)
		rows = append(rows, append(row, marks(v)...))
	}
	return rows
}

// rescue is what there is to do about a shot that no lens of the house does.
func rescue(r *why.Rescue, p lang.Printer) Object {
	return append(nearest(r, p), Of("filter", Maybe(r.Filter, filterWant), "changes", Each(r.Changes, func(l *why.Lift) Object { return lift(l, p) }),
		"untried", append([]string{}, r.Untried...))...)
}

// nearest is the lens of the house that comes nearest; null when none goes on the camera.
func nearest(r *why.Rescue, p lang.Printer) Object {
	reasons := []string{}
	if r.Nearest != nil {
		reasons = wording.WhyOut(r.Nearest, p)
	}
	return Of("lens", lensOf(r.Nearest), "reasons", reasons)
}

func lift(l *why.Lift, p lang.Printer) Object {
	return append(Of("lens", l.Lens), change(&l.BriefChange, p)...)
}

// change is a change of one figure: the smallest that makes the difference, and in its text one
// that is rounded away from what is now. Of the distance it is how far the whole move lies farther
// off.
func change(c *why.BriefChange, p lang.Printer) Object {
	unit := [...]string{why.Distance: "m", why.Light: "lx", why.Framing: "%", why.ISO: "", why.Speed: "m/s", why.Mass: "kg"}[c.Figure]
	if c.Figure == why.Speed && c.Shot.Move.Pace() == 0 {
		unit = "deg/s"
	}
	return Of(
		"figure", c.Figure.String(), "now", FigureOf(c.Now, unit), "to", FigureOf(c.To, unit), "unit", unit,
		"tolerances", c.Size,
		"text", wording.Change(c, p),
	)
}
