package cmd

import (
	"fmt"
	"io"
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
			answer, err := engine.Recommend(c.Context(), s, engine.Options{Camera: camera})
			if err != nil {
				return err
			}
			deck := floor.NewDeck(answer)
			return a.show(view{
				data: travel.Cards(answer, deck, a.printer()),
				rows: travel.Deck(deck),
				page: func(p lang.Printer) show.Page { return cardsPage(answer, deck, p) },
				html: func(w io.Writer) error {
					return report.Writer{Printer: a.printer()}.Cards(w, answer, deck, pocket)
				},
			})
		},
	}
	c.Flags().StringVar(&camera, "camera", "", "set up this candidate `camera` of the scenario, not the first")
	c.Flags().BoolVar(&pocket, "pocket", false, "with --as html, print each card on a page for the pocket, not four to a sheet")
	return c
}

func cardsPage(r *engine.Recommendation, d *floor.Deck, p lang.Printer) show.Page {
	var out show.Page
	out.Heading(r.Scenario.Name)
	out.Paragraph(wording.Kit(r))
	said := wording.DeckOf(d, p)
	if said.Bolt != "" {
		out.Paragraph(said.Bolt)
	}
	cautionBlocks(&out, d.Cautions, said.Cautions)
	for i := range d.Cards {
		cardBlocks(&out, &d.Cards[i], &said.Cards[i])
	}
	if len(d.Swaps) > 0 {
		out.Heading("Swaps")
		g := show.Grid{Columns: []show.Column{{Title: "between", Wraps: true}, {Title: "takes", Wraps: true}}}
		for _, swap := range said.Swaps {
			g.Rows = append(g.Rows, []show.Cell{{Text: swap.Name}, {Text: swap.Text}})
		}
		out.Grid(g)
		out.Paragraph(wording.SwapLimits)
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
	tildeKey(&out)
	out.Paragraph(wording.Limits)
	return out
}

// cardBlocks adds one card, which stands by itself: it may be cut out and taken along.
func cardBlocks(out *show.Page, c *floor.Card, said *wording.Card) {
	out.Heading(strings.TrimSpace("Shot " + c.Shot.ID + "  " + c.Shot.Title))
	var lines []show.Pair
	for _, line := range said.Lines {
		lines = append(lines, show.Pair{Name: line.Name, Value: line.Text, Tone: lineTones[line.Role]})
	}
	if lines != nil {
		out.Pairs(lines)
	}
	for _, note := range said.Notes {
		out.Paragraph(note)
	}
	cautionBlocks(out, c.Cautions, said.Cautions)
	out.Paragraph(wording.Closing)
}

func cautionBlocks(out *show.Page, cautions []floor.Caution, said []string) {
	for i, caution := range cautions {
		out.Paragraph(fmt.Sprintf("Caution: %s (%s)", said[i], caution.Source()))
	}
}

var lineTones = [...]show.Tone{card.Known: show.NoTone, card.Dialled: show.Strong, card.Step: show.Warn}
