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
			d := deckView{answer, floor.NewDeck(answer)}
			return a.show(view{
				data: d.object(a.printer()),
				rows: d.rows(),
				page: d.page,
				html: func(w io.Writer) error {
					return report.Writer{Printer: a.printer()}.Cards(w, answer, d.Deck, pocket)
				},
			})
		},
	}
	c.Flags().StringVar(&camera, "camera", "", "set up this candidate `camera` of the scenario, not the first")
	c.Flags().BoolVar(&pocket, "pocket", false, "with --as html, print each card on a page for the pocket, not four to a sheet")
	return c
}

// A deckView is a deck of cards in every form.
type deckView struct {
	r *engine.Recommendation
	*floor.Deck
}

func (d deckView) page(p lang.Printer) show.Page {
	var out show.Page
	r := d.r
	out.Heading(r.Scenario.Name)
	out.Paragraph(wording.Kit(r))
	if bolt := wording.Bolt(d.Bolt, p); bolt != "" {
		out.Paragraph(bolt)
	}
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
	for _, caution := range c.Cautions {
		out.Paragraph(fmt.Sprintf("Caution: %s (%s)", wording.Caution(caution, p), caution.Source()))
	}
	out.Paragraph(wording.Closing)
}

var lineTones = [...]show.Tone{card.Known: show.NoTone, card.Dialled: show.Strong, card.Step: show.Warn}

// object is the JSON of the cards. Distances run from the sensor plane unless a key says
// otherwise; what is unknown or without bound is null.
func (d deckView) object(p lang.Printer) travel.Object {
	s := d.r.Scenario
	cards, swaps, lacks := []travel.Object{}, []travel.Object{}, []travel.Object{}
	for i := range d.Cards {
		cards = append(cards, cardObject(&d.Cards[i], p))
	}
	for i := range d.Swaps {
		swaps = append(swaps, travel.Said(card.Swap, &d.Swaps[i]))
	}
	for _, lack := range d.Lacks {
		what, how := wording.Lack(lack)
		lacks = append(lacks, travel.Object{{Key: "what", Value: what}, {Key: "how", Value: how}})
	}
	return travel.Object{
		{Key: "schema", Value: travel.HeaderOf("cards").Schema}, {Key: "scenario", Value: s.Name},
		{Key: "camera", Value: d.r.Camera.Name.Value}, {Key: "rig", Value: s.Rig.Name.Value}, {Key: "lenses", Value: travel.List(d.r.Kit.Lenses)},
		{Key: "drop_from_s", Value: travel.FigureOf(s.Drop.Low, "s")}, {Key: "drop_to_s", Value: travel.FigureOf(s.Drop.High, "s")}, // window that the rig is trimmed to
		{Key: "bolt_mm", Value: travel.FigureOf(d.Bolt, "mm")},
		{Key: "cards", Value: cards}, {Key: "swaps", Value: swaps}, {Key: "lacks", Value: lacks}, {Key: "closing", Value: wording.Closing},
	}
}

func cardObject(c *floor.Card, p lang.Printer) travel.Object {
	var setup, swap travel.Object
	if c.Use != nil {
		setup = travel.Said(card.Setup(), c)
	}
	if c.Swap != nil {
		swap = travel.Said(card.Swap, c.Swap)
	}
	cautions := []travel.Object{}
	for _, caution := range c.Cautions {
		cautions = append(cautions, travel.Object{{Key: "text", Value: wording.Caution(caution, p)}, {Key: "source", Value: caution.Source()}})
	}
	return travel.Object{
		{Key: "shot", Value: c.Shot.ID}, {Key: "title", Value: c.Shot.Title}, {Key: "scene", Value: c.Shot.Scene},
		{Key: "setup", Value: setup, Optional: true}, // left out when no lens of the kit does the shot
		{Key: "swap", Value: swap, Optional: true},   // from the card before; left out when nothing changes
		{Key: "notes", Value: travel.List(wording.Notes(c.Notes, p))}, {Key: "cautions", Value: cautions}, {Key: "closing", Value: wording.Closing},
	}
}

// rows are the cards for a spreadsheet. What is not known of a shot that no lens does is
// left empty.
func (d deckView) rows() []any {
	rows := []any{}
	for i := range d.Cards {
		c := &d.Cards[i]
		line := travel.Object{{Key: "shot", Value: c.Shot.ID}}
		for _, r := range card.Setup() {
			if !r.Column {
				continue
			}
			m := travel.Member{}
			if _, m.Key = r.Path(); c.Use != nil {
				_, m = travel.MemberOf(r, c)
			}
			line = append(line, m)
		}
		var fromBefore travel.Figure
		if c.Swap != nil {
			fromBefore.SI = c.Swap.Minutes
		}
		rows = append(rows, append(line, travel.Member{Key: "swap_min", Value: fromBefore}))
	}
	return rows
}
