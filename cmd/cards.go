package cmd

import (
	"fmt"
	"io"
	"strings"

	"glassbrief/cmd/report"
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
				page: func(p lang.Printer) page { return cardsPage(answer, cards, sheet, p) },
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

func cardsPage(r *engine.Recommendation, cards []floor.Card, sheet []floor.Swap, p lang.Printer) page {
	var out page
	out.heading(r.Scenario.Name)
	out.paragraph(fmt.Sprintf("On %s with %s: %s.", r.Camera.Name.Value, r.Scenario.Rig.Name.Value, wording.List(r.Kit.Lenses, "and")))
	if bolt := wording.Bolt(cards, p); bolt != "" {
		out.paragraph(bolt)
	}
	for i := range cards {
		cardBlocks(&out, r, &cards[i], p)
	}
	if len(sheet) > 0 {
		out.heading("Swaps")
		out.grid(sheetGrid(sheet, p))
		out.paragraph(wording.SwapLimits)
	}
	if lacks := lacksOf(cards); len(lacks) > 0 {
		out.heading("To find out")
		g := grid{columns: []column{{title: "not known", wraps: true}, {title: "how", wraps: true}}}
		for _, lack := range lacks {
			g.rows = append(g.rows, []cell{{text: lack.What}, {text: lack.How}})
		}
		out.grid(g)
	}
	out.paragraph(wording.Limits)
	return out
}

// cardBlocks adds one card, which stands by itself: it may be cut out and taken along.
func cardBlocks(out *page, r *engine.Recommendation, c *floor.Card, p lang.Printer) {
	out.heading(strings.TrimSpace("Shot " + c.Shot.ID + "  " + c.Shot.Title))
	var lines []pair
	for _, line := range wording.Card(r, c, p) {
		lines = append(lines, pair{name: line.Name, value: line.Text, tone: cardTones[line.Name]})
	}
	if lines != nil {
		out.pairs(lines)
	}
	for _, note := range c.Notes {
		out.paragraph(note)
	}
	for _, caution := range c.Cautions {
		out.paragraph(fmt.Sprintf("Caution: %s (%s)", wording.Caution(caution, p), caution.Source()))
	}
	out.paragraph(wording.Closing)
}

// cardTones lifts what is dialled in.
var cardTones = map[string]tone{
	"lens": toneStrong, "stop": toneStrong, "focus": toneStrong, "walk": toneStrong, "circle": toneStrong,
	"ISO": toneStrong, "shutter": toneStrong, "ND": toneStrong, "swap": toneWarn,
}

func sheetGrid(sheet []floor.Swap, p lang.Printer) grid {
	g := grid{columns: []column{{title: "between", wraps: true}, {title: "takes", wraps: true}}}
	for i := range sheet {
		swap := sheet[i]
		from, to := swap.From, swap.To
		swap.From, swap.To = "", "" // they stand in a column of their own
		g.rows = append(g.rows, []cell{{text: from + " to " + to}, {text: wording.Swap(&swap, p)}})
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
