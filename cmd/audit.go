package cmd

import (
	"fmt"
	"io"
	"math"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/audit"
	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// audit is the verb that answers the producer.
func (a *app) audit() *cobra.Command {
	var q auditQuestion
	c := &cobra.Command{
		Use:   "audit SCENARIO",
		Short: "whether the house's glass suits, and what to hire or change",
		Long: `Gives each shot a verdict with the best kit of glass that need not be hired. For
what fails it says what a lens must be like, which lenses for hire do it, what
the cheapest hire costs a day, and which change of the brief would do instead.
It ends with 1 when shots fail even with what may be hired.`,
		Example: `  glassbrief audit night-ferry.scenario
  glassbrief audit night-ferry.scenario --rent "120 EUR"
  glassbrief audit night-ferry.scenario --owned-only --as json`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			s, err := a.load(args[0])
			if err != nil {
				return err
			}
			q.reading.flags = c.Flags()
			limits := q.limits(s)
			if q.reading.failed() {
				return q.reading.found
			}
			report, err := audit.Run(c.Context(), s, limits, engine.Options{Camera: q.camera})
			if err != nil {
				return err
			}
			err = a.show(view{
				data: travel.Audit(report, a.printer()),
				rows: rowsOf(travel.Verdicts(report, a.printer())),
				page: func(p lang.Printer) show.Page { return auditPage(report, p) },
				html: func(w io.Writer) error { return a.auditReport(w, report) },
			})
			if err == nil && !report.Suits {
				err = errNo
			}
			return err
		},
	}
	c.Flags().SortFlags = false
	c.Flags().BoolVar(&q.ownedOnly, "owned-only", false, "hire nothing")
	c.Flags().String("rent", "", "spend at most this `money` a day on hire, as \"120 EUR\"")
	c.Flags().StringVar(&q.camera, "camera", "", "audit this candidate `camera` of the scenario, not the first")
	return c
}

// An auditQuestion is what the flags ask.
type auditQuestion struct {
	reading   reading
	ownedOnly bool
	camera    string
}

// limits gives the limits of the scenario with what the flags say otherwise.
func (q *auditQuestion) limits(s *brief.Scenario) brief.Limits {
	limits := s.Limits
	limits.OwnedOnly = limits.OwnedOnly || q.ownedOnly
	rent := read(&q.reading, "rent", func(name, text string) (lang.Quantity, error) { return lang.ParseQuantity(name, text, lang.Money) })
	switch {
	case !rent.Known():
		return limits
	case rent.Value < 0:
		q.reading.complain(usage(lang.OutOfRange, "the rent limit is below zero").because("Write what may be spent a day, 0 for nothing.").at(rent.Span))
	case limits.Currency != "" && rent.Unit != limits.Currency:
		q.reading.complain(usage(lang.Contradiction, "%s and %s cannot be added up", rent.Unit, limits.Currency).
			because("The prices of this brief are in %s.", limits.Currency).at(rent.Span))
	}
	limits.Rent, limits.Currency = rent.Value, rent.Unit
	return limits
}

func auditPage(r *audit.Answer, p lang.Printer) show.Page {
	var out show.Page
	out.Heading(r.Scenario.Name)
	out.Paragraph(wording.Audit(r, p))
	out.Grid(verdictGrid(r, p))
	if len(r.Specifications) > 0 {
		out.Heading("What is missing")
		out.Grid(specificationGrid(r, p))
		out.Paragraph("As the lens stands on " + r.Camera.Name.Value + ", with its adapter. Mounts that fit: " + wording.List(r.Mounts(), "and") + ".")
		if text := wording.Autofocused(r); text != "" {
			out.Paragraph(text)
		}
		if needed := threadNeeded(r); needed > 0 {
			out.Paragraph("It takes ND filters as well, which the catalogue has: its thread must be " + p.Quantity(needed, "mm") + ", or smaller with a ring.")
		}
		if apart := r.Apart(); apart {
			out.Paragraph("Where a line ends in a star, the limits depend on each other: a lens at the edge of several may fail, one in the middle does not.")
		}
	}
	if len(r.Filters) > 0 {
		out.Heading("Filters that are missing")
		out.Grid(filtersGrid(r, p))
	}
	if len(r.Offers()) > 0 {
		out.Heading("For hire")
		out.Grid(offersGrid(r, p))
	}
	if r.Days != nil {
		out.Heading("Hire over the days")
		if len(r.Days.ByDate) > 0 {
			out.Grid(dayHireGrid(r, p))
		}
		out.Paragraph(wording.HireOverDays(r, p))
	}
	if g := changesOfBrief(r, p); len(g.Rows) > 0 {
		out.Heading("Or a change of the brief, any one of")
		out.Grid(g)
	}
	tildeKey(&out)
	out.Paragraph(wording.Limits)
	return out
}

var verdicts = map[audit.Verdict]show.Cell{
	audit.Passes:     {Text: "passes", Tone: show.Good},
	audit.Compromise: {Text: "passes with a compromise", Tone: show.Warn},
	audit.Fails:      {Text: "fails", Tone: show.Bad},
}

func verdictGrid(r *audit.Answer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "shot"}, {Title: "verdict", Wraps: true}, {Title: "lens"}, {Title: "because", Wraps: true}}}
	for i := range r.Shots {
		v := &r.Shots[i]
		lens := ""
		if v.Use != nil {
			lens = wording.OfLens(v.Use, func(j *engine.Judgement) string { return wording.LensAt(j, p) })
		}
		g.Rows = append(g.Rows, []show.Cell{
			{Text: v.Shot.ID}, verdicts[v.Verdict], {Text: lens}, {Text: wording.Verdict(r, v, p)},
		})
	}
	return g
}

func specificationGrid(r *audit.Answer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{
		{Title: "for"}, {Title: "focal length", Right: true}, {Title: "T", Right: true}, {Title: "focuses to", Right: true},
		{Title: "circle", Right: true}, {Title: "mass", Right: true, Wraps: true}, {Title: "length", Right: true, Spare: 1},
	}}
	for i := range r.Specifications {
		s := &r.Specifications[i]
		row := []show.Cell{{Text: strings.Join(r.IDs(s.Shots), ", ")}}
		for _, axis := range audit.Axes() {
			row = append(row, show.Cell{Text: wording.Edges(axis, s.Axes[axis], p)})
		}
		if s.Apart {
			row[len(row)-2].Text += " *"
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

// threadNeeded gives the filter thread that a missing lens must have, 0 for none.
func threadNeeded(r *audit.Answer) float64 {
	needed := 0.0
	for i := range r.Specifications {
		needed = max(needed, r.Specifications[i].Thread)
	}
	return needed
}

func filtersGrid(r *audit.Answer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "ND", Right: true}, {Title: "thread", Right: true}, {Title: "for"}, {Title: "on", Wraps: true}}}
	for i := range r.Filters {
		f := &r.Filters[i]
		g.Rows = append(g.Rows, []show.Cell{
			{Text: p.Quantity(f.Stops, "stops"), Tone: show.Strong}, {Text: p.Quantity(f.Thread, "mm")},
			{Text: strings.Join(r.IDs(f.Shots), ", ")}, {Text: wording.List(f.Lenses, "and")},
		})
	}
	return g
}

func offersGrid(r *audit.Answer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "lens"}, {Title: "a day", Right: true}, {Title: "does", Wraps: true}, {Title: ""}}}
	for _, offer := range r.Offers() {
		chosen := ""
		if r.Hire != nil && r.Hire.Holds(offer.Lens) {
			chosen = "hire this"
		}
		g.Rows = append(g.Rows, []show.Cell{
			{Text: offer.Lens, Tone: show.Strong}, {Text: price(offer.DayRate, r, p)}, {Text: wording.List(offer.Shots, "and")}, {Text: chosen, Tone: show.Good},
		})
	}
	return g
}

// dayHireGrid is what is hired on each day, by the plan of "days".
func dayHireGrid(r *audit.Answer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "day"}, {Title: "hired", Wraps: true}, {Title: "that day", Right: true}}}
	for i := range r.Days.ByDate {
		d := &r.Days.ByDate[i]
		g.Rows = append(g.Rows, []show.Cell{{Text: wording.DateSpan(d.Date, d.Date), Tone: show.Strong}, {Text: wording.List(d.Lenses, "and")}, {Text: price(d.Cost, r, p)}})
	}
	return g
}

func price(rate float64, r *audit.Answer, p lang.Printer) string {
	if math.IsNaN(rate) {
		return "unknown"
	}
	return p.Quantity(rate, r.Limits.Currency)
}

func changesOfBrief(r *audit.Answer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "shot"}, {Title: "change", Wraps: true}, {Title: "then it is done with", Wraps: true}}}
	for i := range r.Shots {
		id := r.Shots[i].Shot.ID
		changes := r.Shots[i].Changes()
		for k := range changes {
			c := &changes[k]
			g.Rows = append(g.Rows, []show.Cell{{Text: id}, {Text: wording.Change(&c.BriefChange, p)}, {Text: c.Lens}})
			id = ""
		}
	}
	if r.Carry > 0 {
		g.Rows = append(g.Rows, []show.Cell{{Text: "all"}, {Text: fmt.Sprintf("carry %d lenses", r.Carry)}, {Text: "what the house has"}})
	}
	return g
}
