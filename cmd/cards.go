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
	if bolt := wording.Bolt(d.Bolt, p); bolt != "" {
		out.Paragraph(bolt)
	}
	cautionBlocks(&out, d.Cautions, p)
	for i := range d.Cards {
		cardBlocks(&out, &d.Cards[i], p)
	}
	if len(d.Swaps) > 0 {
		out.Heading("Swaps")
		g := show.Grid{Columns: []show.Column{{Title: "between", Wraps: true}, {Title: "takes", Wraps: true}}}
		for i := range d.Swaps {
			between, takes := wording.SwapBetween(&d.Swaps[i], p)
			g.Rows = append(g.Rows, []show.Cell{{Text: between}, {Text: takes}})
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
	out.Paragraph(wording.Limits)
	return out
}

// cardBlocks adds one card, which stands by itself: it may be cut out and taken along.
func cardBlocks(out *show.Page, c *floor.Card, p lang.Printer) {
	out.Heading(strings.TrimSpace("Shot " + c.Shot.ID + "  " + c.Shot.Title))
	var lines []show.Pair
	for _, line := range wording.Card(c, p) {
		lines = append(lines, show.Pair{Name: line.Name, Value: line.Text, Tone: lineTones[line.Role]})
	}
	if lines != nil {
		out.Pairs(lines)
	}
	for _, note := range wording.Notes(c.Notes, p) {
		out.Paragraph(note)
	}
	cautionBlocks(out, c.Cautions, p)
	out.Paragraph(wording.Closing)
}

func cautionBlocks(out *show.Page, cautions []floor.Caution, p lang.Printer) {
	for _, caution := range cautions {
		out.Paragraph(fmt.Sprintf("Caution: %s (%s)", wording.Caution(caution, p), caution.Source()))
	}
}

var lineTones = [...]show.Tone{card.Known: show.NoTone, card.Dialled: show.Strong, card.Step: show.Warn}
