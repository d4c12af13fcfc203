package cmd

import (
	"io"
	"slices"
	"strings"

	"glassbrief/cmd/report"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/card"
	"glassbrief/engine/floor"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// cards is the verb for whoever sets the rig up.
func (a *app) cards() *cobra.Command {
	var camera string
	var pocket, full bool
	c := &cobra.Command{
		Use:   "cards SCENARIO",
		Short: "how each shot is set up on the floor",
		Long: `Prints a card for each shot behind one of the day: lens, stop, focus mark and
limits, ISO and ND first, then what fails, what can hurt someone, where to walk,
and what the change before it takes. With --full it adds how the rig is trimmed,
light and physics, the sheet of swaps, and where the cautions stand.`,
		Example: `  glassbrief cards night-ferry.scenario
  glassbrief cards night-ferry.scenario --full
  glassbrief cards night-ferry.scenario --units imperial
  glassbrief cards night-ferry.scenario --as markdown -o cards.md
  glassbrief cards night-ferry.scenario --as html --pocket -o cards.html`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			s, err := a.load(args[0])
			if err != nil {
				return err
			}
			answer, err := engine.Recommend(c.Context(), s, engine.Options{Camera: camera, Hold: engine.KitAlone})
			if err != nil {
				return err
			}
			deck := floor.NewDeck(answer)
			return a.show(view{
				data: travel.Cards(answer, deck, a.printer()),
				rows: rowsOf(travel.Deck(deck)),
				page: func(p lang.Printer) show.Page { return cardsPage(answer, deck, full, p) },
				html: func(w io.Writer) error {
					return report.Writer{Printer: a.printer()}.Cards(w, answer, deck, imprint(answer), pocket)
				},
			})
		},
	}
	c.Flags().StringVar(&camera, "camera", "", "set up this candidate `camera` of the scenario, not the first")
	c.Flags().BoolVar(&full, "full", false, "all there is to say, in text and Markdown")
	c.Flags().BoolVar(&pocket, "pocket", false, "with --as html, print each card on a page for the pocket, not four to a sheet")
	return c
}

// cardsPage begins with the day, and has a card for each shot, which stands by itself: it may be cut
// out and taken along. With full, it says what is folded otherwise, and where the cautions stand.
func cardsPage(r *engine.Recommendation, d *floor.Deck, full bool, p lang.Printer) show.Page {
	var out show.Page
	said := wording.DeckOf(d, p)
	foot := strings.Join(imprint(r), ", ")
	out.Heading(r.Scenario.Name)
	out.Paragraph(strings.TrimSpace(wording.Kit(r) + " " + wording.OneDay(r.Scenario)))
	out.Grid(dayGrid(d, p))
	if said.Bolt != "" {
		out.Paragraph(said.Bolt)
	}
	for _, text := range cautionTexts(d.Cautions, said.Short, said.Cautions, full) {
		out.Paragraph("! " + text)
	}
	out.Paragraph(wording.Closing)
	for i := range d.Cards {
		cardBlocks(&out, &d.Cards[i], &said.Cards[i], full, p)
		out.Paragraph(foot)
	}
	if full {
		swapBlocks(&out, d, &said)
	}
	if len(d.Lacks) > 0 {
		out.Heading("To find out")
		g := show.Grid{Columns: []show.Column{{Title: "not known", Wraps: true}, {Title: "how", Wraps: true}}}
		for _, lack := range d.Lacks {
			what, how := wording.Lack(lack)
			g.Rows = append(g.Rows, []show.Cell{{Text: what}, {Text: how}})
		}
		out.Grid(g)
	}
	if slices.ContainsFunc(d.Cards, func(c floor.Card) bool { return c.Use != nil }) {
		out.Paragraph(show.RingKey)
	}
	tildeKey(&out)
	if !full {
		out.Paragraph("Distances run from the sensor plane. More: --full has trim, light and physics of each shot, the swaps, and where the cautions stand.")
	}
	out.Paragraph(wording.Limits)
	return out
}

// dayGrid lists the shots with their lenses, and what each change before one takes.
func dayGrid(d *floor.Deck, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "shot"}, {Title: "lens", Wraps: true}, {Title: "what", Wraps: true}, {Title: "minutes before", Right: true}}}
	minutes := wording.Minutes(d, p)
	for i := range d.Cards {
		c := &d.Cards[i]
		row := []show.Cell{{Text: c.Shot.ID, Tone: show.Strong}, {Text: "none does it", Tone: show.Bad}, {Text: c.Shot.Title}, {Text: minutes[i]}}
		if c.Use != nil {
			row[1] = show.Cell{Text: c.Use.Lens}
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

// ringOnCard is the length of the ring of a card.
const ringOnCard = 24

// cardBlocks adds one card: what is dialled, the ring, what fails, and what can hurt someone.
func cardBlocks(out *show.Page, c *floor.Card, said *wording.Card, full bool, p lang.Printer) {
	lens := ""
	if c.Use != nil {
		lens = wording.OfLens(c.Use, func(j *engine.Judgement) string { return wording.LensAt(j, p) })
	}
	out.Heading(strings.Join(slices.DeleteFunc([]string{c.Shot.ID, lens, c.Shot.Title}, func(s string) bool { return s == "" }), "  "))
	if said.Dials != nil {
		g := show.Grid{Rows: make([][]show.Cell, 2)}
		for _, dial := range said.Dials {
			g.Columns = append(g.Columns, show.Column{Title: dial.Label, Wraps: true})
			g.Rows[0] = append(g.Rows[0], show.Cell{Text: dial.Figure, Tone: show.Strong})
			g.Rows[1] = append(g.Rows[1], show.Cell{Text: dial.Small})
		}
		out.Grid(g)
		ring := show.Grid{Columns: []show.Column{{Title: "near", Right: true}, {Title: "focus"}, {Title: "far", Spare: 1}}, Untitled: true}
		if row := show.RingCells(c.Use, ringOnCard, p); row[1].Text != "" {
			ring.Rows = append(ring.Rows, row)
			out.Grid(ring)
		}
	}
	lines := show.Grid{Columns: []show.Column{{Title: "what"}, {Title: "how", Wraps: true}}, Untitled: true}
	notes := c.Notes()
	for i, note := range said.Notes {
		mark := show.Cell{Text: "!", Tone: show.Bad}
		if !floor.IsFault(notes[i]) {
			mark = show.Cell{}
		}
		lines.Rows = append(lines.Rows, []show.Cell{mark, {Text: note}})
	}
	for _, text := range cautionTexts(c.Cautions, said.Short, said.Cautions, full) {
		lines.Rows = append(lines.Rows, []show.Cell{{Text: "!", Tone: show.Warn}, {Text: text}})
	}
	for _, line := range said.Lines {
		if line.Role == card.Walked || line.Role == card.Step || full {
			lines.Rows = append(lines.Rows, []show.Cell{{Text: line.Name}, {Text: line.Text, Tone: lineTones[line.Role]}})
		}
	}
	if lines.Rows != nil {
		out.Grid(lines)
	}
}

// cautionTexts gives cautions in short, or with full in full, with where each stands.
func cautionTexts(cautions []floor.Caution, short, said []string, full bool) []string {
	if !full {
		return short
	}
	texts := slices.Clone(said)
	for i := range texts {
		texts[i] += " (" + cautions[i].Source() + ")"
	}
	return texts
}

// swapBlocks lists what each swap between two lenses of the kit takes.
func swapBlocks(out *show.Page, d *floor.Deck, said *wording.Deck) {
	if len(d.Swaps()) == 0 {
		return
	}
	out.Heading("Swaps")
	g := show.Grid{Columns: []show.Column{{Title: "between", Wraps: true}, {Title: "takes", Wraps: true}}}
	for _, swap := range said.Swaps {
		g.Rows = append(g.Rows, []show.Cell{{Text: swap.Name}, {Text: swap.Text}})
	}
	out.Grid(g)
	out.Paragraph(wording.SwapLimits())
}

var lineTones = [...]show.Tone{card.Known: show.NoTone, card.Dialled: show.Strong, card.Walked: show.NoTone, card.Step: show.Warn}
