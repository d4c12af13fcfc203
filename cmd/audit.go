package cmd

import (
	"fmt"
	"io"
	"math"
	"strings"

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
		Args:              oneFile,
		ValidArgsFunction: completeScenarios,
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
			report, err := audit.Run(c.Context(), s, limits, engine.Options{Camera: q.camera, Printer: a.printer()})
			if err != nil {
				return err
			}
			err = a.show(view{
				data: auditDataOf(report, a.printer()),
				rows: auditRowsOf(report, a.printer()),
				page: func(p lang.Printer) page { return auditPage(report, p) },
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

func auditPage(r *audit.Answer, p lang.Printer) page {
	var out page
	out.heading(r.Scenario.Name)
	out.paragraph(wording.Audit(r, p))
	out.grid(verdictGrid(r, p))
	if len(r.Specifications) > 0 {
		out.heading("What is missing")
		out.grid(specificationGrid(r, p))
		out.paragraph("As the lens stands on " + r.Camera.Name.Value + ", with its adapter. Mounts that fit: " + wording.List(r.Mounts(), "and") + ".")
		if apart := r.Apart(); apart {
			out.paragraph("Where a line ends in a star, the limits depend on each other: a lens at the edge of several may fail, one in the middle does not.")
		}
	}
	if len(r.Offers()) > 0 {
		out.heading("For hire")
		out.grid(offersGrid(r, p))
	}
	if g := changesOfBrief(r, p); len(g.rows) > 0 {
		out.heading("Or a change of the brief, any one of")
		out.grid(g)
	}
	out.paragraph(wording.Limits)
	return out
}

var verdictTones = map[audit.Verdict]tone{audit.Passes: toneGood, audit.Compromise: toneWarn, audit.Fails: toneBad}

func verdictGrid(r *audit.Answer, p lang.Printer) grid {
	g := grid{columns: []column{{title: "shot"}, {title: "verdict", wraps: true}, {title: "lens"}, {title: "because", wraps: true}}}
	for i := range r.Shots {
		v := &r.Shots[i]
		lens := ""
		if v.Use != nil {
			lens = wording.LensAt(v.Use, p)
		}
		g.rows = append(g.rows, []cell{
			{text: v.Shot.ID}, {text: v.Verdict.String(), tone: verdictTones[v.Verdict]}, {text: lens}, {text: wording.Verdict(r, v, p)},
		})
	}
	return g
}

func specificationGrid(r *audit.Answer, p lang.Printer) grid {
	g := grid{columns: []column{
		{title: "for"}, {title: "focal length", right: true}, {title: "T", right: true}, {title: "focuses to", right: true},
		{title: "circle", right: true}, {title: "mass", right: true, wraps: true}, {title: "length", right: true, spare: 1},
	}}
	for i := range r.Specifications {
		s := &r.Specifications[i]
		var ids []string
		for _, shot := range s.Shots {
			ids = append(ids, r.Shots[shot].Shot.ID)
		}
		row := []cell{{text: strings.Join(ids, ", ")}}
		for _, axis := range audit.Axes() {
			row = append(row, cell{text: wording.Edges(axis, s.Axes[axis], p)})
		}
		if s.Apart {
			row[len(row)-2].text += " *"
		}
		g.rows = append(g.rows, row)
	}
	return g
}

func offersGrid(r *audit.Answer, p lang.Printer) grid {
	g := grid{columns: []column{{title: "lens"}, {title: "a day", right: true}, {title: "does", wraps: true}, {title: ""}}}
	for _, offer := range r.Offers() {
		chosen := ""
		if r.Hire != nil && r.Hire.Holds(offer.Lens) {
			chosen = "hire this"
		}
		g.rows = append(g.rows, []cell{
			{text: offer.Lens, tone: toneStrong}, {text: price(offer.DayRate, r, p)}, {text: wording.List(offer.Shots, "and")}, {text: chosen, tone: toneGood},
		})
	}
	return g
}

func price(rate float64, r *audit.Answer, p lang.Printer) string {
	if math.IsNaN(rate) {
		return "unknown"
	}
	return p.Quantity(rate, r.Limits.Currency)
}

func changesOfBrief(r *audit.Answer, p lang.Printer) grid {
	g := grid{columns: []column{{title: "shot"}, {title: "change", wraps: true}, {title: "then it is done with", wraps: true}}}
	for i := range r.Shots {
		id := r.Shots[i].Shot.ID
		for k := range r.Shots[i].Changes {
			c := &r.Shots[i].Changes[k]
			g.rows = append(g.rows, []cell{{text: id}, {text: wording.Change(&c.Change, p)}, {text: c.Lens}})
			id = ""
		}
	}
	if r.Carry > 0 {
		g.rows = append(g.rows, []cell{{text: "all"}, {text: fmt.Sprintf("carry %d lenses", r.Carry)}, {text: "what the house has"}})
	}
	return g
}
