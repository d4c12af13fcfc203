package cmd

import (
	"fmt"
	"io"
	"strings"

	"glassbrief/cmd/report"
	"glassbrief/cmd/show"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/floor"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// cards is the verb for whoever sets the rig up.
func (a *app) cards() *cobra.Command {
	var camera string
	var pocket bool
	c := &cobra.Command{
		Use:   "cards SCENARIO",
		Short: "how each shot is set up on the floor",
		Long: `Prints a card for each shot: lens, stop, focus mark and limits, how near and how
far the camera may walk, ISO, shutter and ND, how the rig is trimmed, what the
swap before it takes, and cautions. At the end stands the sheet of swaps.`,
		Example: `  glassbrief cards night-ferry.scenario
  glassbrief cards night-ferry.scenario --units imperial
  glassbrief cards night-ferry.scenario --as markdown -o cards.md
  glassbrief cards night-ferry.scenario --as html --pocket -o cards.html`,
		Args:              oneFile,
		ValidArgsFunction: completeScenarios,
		RunE: func(c *cobra.Command, args []string) error {
			s, err := a.load(args[0])
			if err != nil {
				return err
			}
			answer, err := engine.Recommend(c.Context(), s, engine.Options{Camera: camera, Printer: a.printer()})
			if err != nil {
				return err
			}
			cards, sheet := floor.Cards(answer, a.printer()), floor.Sheet(answer, a.printer())
			return a.show(view{
				data: cardsDataOf(answer, cards, sheet, a.printer()),
				rows: cardRowsOf(answer, cards),
				page: func(p lang.Printer) show.Page { return cardsPage(answer, cards, sheet, p) },
				html: func(w io.Writer) error {
					deck := report.Deck{Cards: cards, Swaps: sheet, Lacks: lacksOf(cards)}
					return report.Writer{Printer: a.printer()}.Cards(w, answer, deck, pocket)
				},
			})
		},
	}
	c.Flags().StringVar(&camera, "camera", "", "set up this candidate `camera` of the scenario, not the first")
	c.Flags().BoolVar(&pocket, "pocket", false, "with --as html, print each card on a page for the pocket, not four to a sheet")
	return c
}

func cardsPage(r *engine.Recommendation, cards []floor.Card, sheet []floor.Swap, p lang.Printer) show.Page {
	var out show.Page
	out.Heading(r.Scenario.Name)
	out.Paragraph(fmt.Sprintf("On %s with %s: %s.", r.Camera.Name.Value, r.Scenario.Rig.Name.Value, wording.List(r.Kit.Lenses, "and")))
	if bolt := wording.Bolt(cards, p); bolt != "" {
		out.Paragraph(bolt)
	}
	for i := range cards {
		cardBlocks(&out, r, &cards[i], p)
	}
	if len(sheet) > 0 {
		out.Heading("Swaps")
		out.Grid(sheetGrid(sheet, p))
		out.Paragraph(wording.SwapLimits)
	}
	if lacks := lacksOf(cards); len(lacks) > 0 {
		out.Heading("To find out")
		g := show.Grid{Columns: []show.Column{{Title: "not known", Wraps: true}, {Title: "how", Wraps: true}}}
		for _, lack := range lacks {
			g.Rows = append(g.Rows, []show.Cell{{Text: lack.What}, {Text: lack.How}})
		}
		out.Grid(g)
	}
	out.Paragraph(wording.Limits)
	return out
}

// cardBlocks adds one card, which stands by itself: it may be cut out and taken along.
func cardBlocks(out *show.Page, r *engine.Recommendation, c *floor.Card, p lang.Printer) {
	out.Heading(strings.TrimSpace("Shot " + c.Shot.ID + "  " + c.Shot.Title))
	var lines []show.Pair
	for _, line := range wording.Card(r, c, p) {
		lines = append(lines, show.Pair{Name: line.Name, Value: line.Text, Tone: cardTones[line.Name]})
	}
	if lines != nil {
		out.Pairs(lines)
	}
	for _, note := range c.Notes {
		out.Paragraph(note)
	}
	for _, caution := range c.Cautions {
		out.Paragraph(fmt.Sprintf("Caution: %s (%s)", wording.Caution(caution, p), caution.Source()))
	}
	out.Paragraph(wording.Closing)
}

// cardTones lifts what is dialled in.
var cardTones = map[string]show.Tone{
	"lens": show.Strong, "stop": show.Strong, "focus": show.Strong, "walk": show.Strong, "circle": show.Strong,
	"ISO": show.Strong, "shutter": show.Strong, "ND": show.Strong, "swap": show.Warn,
}

func sheetGrid(sheet []floor.Swap, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "between", Wraps: true}, {Title: "takes", Wraps: true}}}
	for i := range sheet {
		swap := sheet[i]
		from, to := swap.From, swap.To
		swap.From, swap.To = "", "" // they stand in a column of their own
		g.Rows = append(g.Rows, []show.Cell{{Text: from + " to " + to}, {Text: wording.Swap(&swap, p)}})
	}
	return g
}

// lacksOf lists what is not known on any card, once.
func lacksOf(cards []floor.Card) []floor.Lack {
	var all []floor.Lack
	seen := map[floor.Lack]bool{}
	for _, c := range cards {
		if c.Rig == nil {
			continue
		}
		for _, lack := range c.Rig.Lacks {
			if !seen[lack] {
				seen[lack] = true
				all = append(all, lack)
			}
		}
	}
	return all
}
