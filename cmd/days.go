package cmd

import (
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"os/signal"
	"time"

	"glassbrief/cmd/report"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/days"
	"glassbrief/engine/schedule"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// mostPatience bounds the time that a plan may take.
const mostPatience = 24 * time.Hour

// days is the verb that plans a shoot.
func (a *app) days() *cobra.Command {
	var patience time.Duration
	c := &cobra.Command{
		Use:   "days SCENARIO",
		Short: "what to shoot when, with which lens, and what to hire for it",
		Long: `Plans the days of a scenario: what each unit brings, the order of its shots with
the lens that is on, what changes and moves take, and what is hired from when to
when. The order is as written unless "order" frees it. Beside the plan stands
what the order as written would take, and the scene of which freeing would save
most. A plan that is not proven says how many minutes a better one could save;
Ctrl-C ends the search and gives the best so far. It ends with 1 when a shot is
not done.`,
		Example: `  glassbrief days salt-works.scenario
  glassbrief days salt-works.scenario --within 5s
  glassbrief days salt-works.scenario -o plan.html
  glassbrief days salt-works.scenario -o plan.ics`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			if patience <= 0 || patience > mostPatience {
				return usage(lang.OutOfRange, "a plan cannot be found within %v", patience).because("Write a time up to %v, as \"20s\".", mostPatience)
			}
			s, err := a.load(args[0])
			if err != nil {
				return err
			}
			answer, err := a.planDays(c.Context(), s, patience)
			if err != nil {
				return err
			}
			if err := a.show(view{
				data: travel.Days(answer),
				rows: rowsOf(travel.DayRows(answer)),
				page: func(p lang.Printer) show.Page { return daysPage(answer, p) },
				html: func(w io.Writer) error {
					return report.Writer{Printer: a.printer()}.Days(w, daysPage(answer, a.printer()), answer)
				},
				calendar: func(w io.Writer) error { return travel.Calendar(w, answer, today()) },
			}); err != nil {
				return err
			}
			if len(answer.Left) > 0 {
				return errNo
			}
			return nil
		},
	}
	c.Flags().DurationVar(&patience, "within", 30*time.Second, "give the best plan that is found within this `time`")
	return c
}

// planDays makes the plan, and within half as long what stands beside it, and shows how far the
// search is. The first Ctrl-C ends the search with what it has.
func (a *app) planDays(ctx context.Context, s *brief.Scenario, patience time.Duration) (*schedule.Answer, error) {
	ctx, stop := signal.NotifyContext(ctx, os.Interrupt)
	defer stop()
	judging := a.progress("judging %d lenses", len(s.Catalogue.Lenses.Names()))
	shoot, err := schedule.New(ctx, s, engine.Options{Progress: judging.step})
	judging.end()
	if err != nil {
		return nil, err
	}
	searching, cancel := context.WithTimeout(ctx, patience)
	defer cancel()
	began, bar := time.Now(), a.progress("planning %d shots", len(shoot.Scenario.Shots))
	defer bar.end()
	plan, err := shoot.Plan(searching, schedule.Variant{}, days.Solver{Progress: func(days.Progress) {
		bar.step(int(time.Since(began)/time.Millisecond), int(patience/time.Millisecond))
	}})
	if err != nil {
		return nil, err
	}
	bar.end()
	around, cancelToo := context.WithTimeout(ctx, patience/2)
	defer cancelToo()
	beside := a.progress("what would save most")
	defer beside.end()
	return shoot.Around(around, plan, beside.step)
}

// daysPage is the plan on one screen.
func daysPage(a *schedule.Answer, p lang.Printer) show.Page {
	var out show.Page
	s := a.Scenario
	title := s.Name
	if dates := wording.Dates(s); dates != "" {
		title += ", " + dates
	}
	out.Heading(title)
	out.Paragraph(wording.BringDays(a, p) + " " + wording.CountedDays(a, p))
	out.Paragraph(wording.ProvenDays(a, p))
	if len(a.Left) > 0 {
		out.Grid(leftGrid(a))
	}
	for i := range a.Days {
		day := &a.Days[i]
		if day.Of != nil {
			ends := 0.0
			for _, run := range day.Runs {
				ends = max(ends, run.Stops[len(run.Stops)-1].End)
			}
			hours := wording.Hours(s, brief.Window{From: day.Of.Open, To: day.Of.Shut})
			out.Heading(fmt.Sprintf("%s, %s, ends %s", wording.DayName(day.Of), hours, wording.ClockAt(s, ends)))
		}
		for r := range day.Runs {
			run := &day.Runs[r]
			if len(a.Units) > 1 {
				out.Paragraph("Unit " + a.Units[run.Unit].Name)
			}
			out.Grid(runGrid(a, day, run, p))
		}
	}
	if len(a.Hire) > 0 {
		out.Heading("Hire")
		out.Grid(hireGrid(a, p))
	}
	for _, said := range []string{wording.SavingDays(a, p), wording.FreeDays(a)} {
		if said != "" {
			out.Paragraph(said)
		}
	}
	out.Paragraph(wording.HoursAsGiven(s))
	return out
}

func leftGrid(a *schedule.Answer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "!"}, {Title: "shot"}, {Title: "why it is not done", Wraps: true}}, Untitled: true}
	for i := range a.Left {
		l := &a.Left[i]
		g.Rows = append(g.Rows, []show.Cell{
			{Text: "!", Tone: show.Bad}, {Text: a.Scenario.Shots[l.Shot].ID, Tone: show.Strong}, {Text: "not done: " + wording.LeftDays(l)},
		})
	}
	return g
}

// runGrid is what a unit does on a day. A column that says nothing is left out.
func runGrid(a *schedule.Answer, day *schedule.Day, run *schedule.Run, p lang.Printer) show.Grid {
	s := a.Scenario
	at := a.DayOf(day)
	type column struct {
		show.Column
		of func(*schedule.Stop) show.Cell
	}
	plain := func(of func(*schedule.Stop) string) func(*schedule.Stop) show.Cell {
		return func(stop *schedule.Stop) show.Cell { return show.Cell{Text: of(stop)} }
	}
	where := ""
	columns := []column{
		{show.Column{Title: "start"}, plain(func(stop *schedule.Stop) string { return wording.ClockAt(s, stop.Start) })},
		{show.Column{Title: "shot"}, func(stop *schedule.Stop) show.Cell { return show.Cell{Text: s.Shots[stop.Shot].ID, Tone: show.Strong} }},
		{show.Column{Title: "lens", Wraps: true}, plain(func(stop *schedule.Stop) string {
			if s.Shots[stop.Shot].Move.Low {
				return stop.Lens + ", low"
			}
			return stop.Lens
		})},
		{show.Column{Title: "takes", Right: true}, plain(func(stop *schedule.Stop) string {
			if takes := s.Shots[stop.Shot].Takes; !math.IsNaN(takes) {
				return wording.InMinutes(takes)
			}
			return ""
		})},
		{show.Column{Title: "before it", Wraps: true}, plain(wording.Before)},
		{show.Column{Title: "place", Wraps: true, Spare: 2}, plain(func(stop *schedule.Stop) string {
			place := ""
			if w := s.Shots[stop.Shot].Where; w >= 0 {
				place = s.Places[w].Name
			}
			if place == where {
				return ""
			}
			where = place
			return place
		})},
		{show.Column{Title: "hours", Wraps: true}, plain(func(stop *schedule.Stop) string { return wording.HoursOf(s, stop, at) })},
		{show.Column{Title: "score", Right: true, Spare: 1}, plain(func(stop *schedule.Stop) string { return fmt.Sprintf("%.2f", stop.Outcome.Score) })},
	}
	g := show.Grid{Rows: make([][]show.Cell, len(run.Stops))}
	for _, c := range columns {
		cells, said := make([]show.Cell, len(run.Stops)), false
		for i := range run.Stops {
			cells[i] = c.of(&run.Stops[i])
			said = said || cells[i].Text != ""
		}
		if !said {
			continue
		}
		g.Columns = append(g.Columns, c.Column)
		for i := range cells {
			g.Rows[i] = append(g.Rows[i], cells[i])
		}
	}
	return g
}

func hireGrid(a *schedule.Answer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "lens", Wraps: true}, {Title: "when", Wraps: true}, {Title: "days", Right: true}, {Title: "cost", Right: true}}}
	for i := range a.Hire {
		h := &a.Hire[i]
		when, n := "", ""
		if !h.From.IsZero() {
			when, n = wording.DateSpan(h.From, h.To), fmt.Sprint(h.Days)
		}
		g.Rows = append(g.Rows, []show.Cell{{Text: h.Lens, Tone: show.Strong}, {Text: when}, {Text: n}, {Text: p.Quantity(h.Cost, a.Scenario.Limits.Currency)}})
	}
	return g
}
