package cmd

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/doctor"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// catalogDoctor is the verb that says what is missing and out of order in a catalogue.
func (a *app) catalogDoctor(files *[]string) *cobra.Command {
	var scope doctor.Scope
	var o engine.Options
	c := &cobra.Command{
		Use: "doctor [SCENARIO]", Short: "what is unknown, and what to measure first",
		Long: `Says of each shot, camera, rig, mount, adapter, filter and lens what is unknown,
what is taken in its place, which criteria it bears on, whether the kit could
change if it were known, and how to find it out: what would settle most comes
first. Whether the kit could change is found by trying: the ends of what is
plausible are put in, and the kit chosen anew. Without a scenario a plain one of
three shots is used.

It also reports lenses that are there twice or go onto no camera, improbable
figures, adapters that do not reach infinity, and threads that no filter fits.`,
		Example: `  glassbrief catalog doctor
  glassbrief catalog doctor night-ferry.scenario
  glassbrief catalog doctor night-ferry.scenario --lens "Old 28"`,
		Args: atMostOne("scenario"),
		RunE: func(c *cobra.Command, args []string) error {
			s, warned, err := a.doctorScenario(*files, args)
			if err != nil {
				return err
			}
			if _, ok := s.Catalogue.Lenses.Lookup(scope.Lens); scope.Lens != "" && !ok {
				return usage(lang.UnknownName, "the catalogue has no lens %q", scope.Lens).
					or(lang.Nearest(scope.Lens, s.Catalogue.Lenses.Names())).because("\"glassbrief catalog list\" lists what it has.")
			}
			bar := a.progress("examining lenses")
			defer bar.end()
			o.Progress = bar.step
			report, err := doctor.Examine(c.Context(), s, scope, o)
			bar.end()
			if err != nil {
				return err
			}
			found := append(warned, doctor.Upkeep(s.Stated)...).Sorted()
			return a.show(doctorView(s.Name, report, found))
		},
	}
	flags := c.Flags()
	flags.StringVar(&scope.Lens, "lens", "", "examine this `lens` alone")
	flags.StringVar(&o.Camera, "camera", "", "judge on this candidate `camera` of the scenario, not on the first")
	flags.IntVar(&scope.Most, "most", 0, fmt.Sprintf("try figures for at most this `number` of lenses, those that could do best first (default %d, fewer where shots are many)", doctor.MostTried))
	return c
}

// plainBrief is what lenses are examined for when no scenario is given: a person walking,
// standing and far off, in the light of an office.
const plainBrief = `scenario "a plain day" {
  camera    %s
  rig       %s
}
shot "near" {
  subject   person 1.75m
  frame     medium
  distance  1.5m..2m
  move      lead 1m/s
  light     office
}
shot "middle" {
  subject   person 1.75m
  frame     full
  distance  2.5m..3.5m
  move      follow 1m/s
  light     office
}
shot "wide" {
  subject   person 1.75m
  frame     wide
  distance  4m
  light     office
}
`

// doctorScenario gives the scenario that is named, or a plain one on the first camera and
// rig of the catalogue; and what loading warns of in the catalogue, which belongs to the
// result.
func (a *app) doctorScenario(files, args []string) (s *brief.Scenario, warned lang.Diagnostics, err error) {
	if len(args) == 1 {
		if len(files) > 0 {
			return nil, nil, usage(lang.Contradiction, "a scenario names its own catalogues, and %q others", "--catalog").
				because("Leave one of the two out.")
		}
		err = a.withFiles(args[0], func(src *lang.Source, f brief.Files) error {
			s, warned = brief.Load(src, f)
			return warned.Err()
		})
		return s, warned, err
	}
	if err := a.loadSettings(""); err != nil {
		return nil, nil, err
	}
	sources, err := a.catalogueSources(files)
	if err != nil {
		return nil, nil, err
	}
	c, warned := catalog.Load(sources...)
	if warned.HasErrors() {
		return nil, nil, warned
	}
	if len(c.Cameras.Names()) == 0 || len(c.Rigs.Names()) == 0 {
		return nil, nil, usage(lang.MissingField, "the catalogue has no camera or no rig to judge lenses on").
			because("Name a scenario, or more catalogues with --catalog.")
	}
	src, ds := lang.NewSource("plain.scenario", fmt.Appendf(nil, plainBrief, lang.Quote(c.Cameras.Names()[0]), lang.Quote(c.Rigs.Names()[0])))
	if ds != nil {
		return nil, nil, ds
	}
	s, warned = brief.Load(src, brief.Files{Catalogues: sources})
	return s, warned, warned.Err()
}

var otherKitListing = listing[doctor.OtherKit]{
	{key: "with", value: func(k doctor.OtherKit) any { return wording.With(k) }},
	{key: "kit", value: func(k doctor.OtherKit) any { return travel.List(k.Kit) }},
}

// gapListing is what there is to say of an unknown figure, whoever has it.
var gapListing = listing[doctor.Asked]{
	{key: "field", value: func(g doctor.Asked) any { return g.Keyword }},
	{key: "blinds", value: func(g doctor.Asked) any { return travel.List(g.Bears) }}, // the criteria that it bears on
	{key: "tried", value: func(g doctor.Asked) any { return travel.List(g.Trials) }},
	{key: "changes", value: func(g doctor.Asked) any { return otherKitListing.objects(g.Changes) }},
	{key: "measure", value: func(g doctor.Asked) any { return wording.Measure(g.Of, g.Keyword) }},
	{key: "low", value: func(g doctor.Asked) any { return assumedOf(g).low }}, // of the range, as "unit" has it; null of a question that no figure answers
	{key: "high", value: func(g doctor.Asked) any { return assumedOf(g).high }},
	{key: "taken", value: func(g doctor.Asked) any { return assumedOf(g).taken }}, // in the place of the figure
	{key: "unit", value: func(g doctor.Asked) any { return assumedOf(g).taken.Unit }},
	{key: "source", value: func(g doctor.Asked) any { return assumedOf(g).source }},
	{key: "settles", value: func(g doctor.Asked) any { return g.Settles }}, // in the mean score of the kit
	{key: "moves", value: func(g doctor.Asked) any { return g.Moves }},     // of the mean score of the kit
}

// ownerListing says whose figure it is.
var ownerListing = listing[doctor.Asked]{
	{key: "of", value: func(g doctor.Asked) any { return g.Of.String() }},
	{key: "name", value: func(g doctor.Asked) any { return g.Name }},
	{key: "from", value: func(g doctor.Asked) any { return g.At.String() }},
}

// An assumed is what is taken in the place of an unknown figure, NaN where nothing is.
type assumed struct {
	low, high, taken travel.Figure
	source           string
}

func assumedOf(g doctor.Asked) assumed {
	a := g.Assumed
	if a == nil {
		none := travel.FigureOf(math.NaN(), "")
		return assumed{none, none, none, ""}
	}
	return assumed{travel.FigureOf(a.Low, a.Unit), travel.FigureOf(a.High, a.Unit), travel.FigureOf(a.Middle, a.Unit), a.Source}
}

var gappyListing = listing[*doctor.Item]{
	{key: "lens", value: func(l *doctor.Item) any { return l.Name }},
	{key: "from", value: func(l *doctor.Item) any { return l.At.String() }},
	{key: "refusal", value: func(l *doctor.Item) any { return l.Refusal }}, // "" when it goes onto the camera
	{key: "tried", value: func(l *doctor.Item) any { return l.Tried }},
	{key: "unknown", value: func(l *doctor.Item) any { return gapListing.objects(l.Ask()) }},
	{key: "changes_together", value: func(l *doctor.Item) any { return otherKitListing.objects(l.Together) }},
}

// askedRows is an unknown figure as a row of CSV.
var askedRows = append(listing[doctor.Asked]{
	{key: "lens", value: func(g doctor.Asked) any { // "" of what is no lens
		if g.Of != brief.OfLens {
			return ""
		}
		return g.Name
	}},
	{key: "field", value: func(g doctor.Asked) any { return g.Keyword }},
	{key: "blinds", value: func(g doctor.Asked) any { return strings.Join(g.Bears, ", ") }},
	{key: "could_change_the_kit", value: func(g doctor.Asked) any { return len(g.Changes) > 0 || len(g.Together) > 0 }},
	{key: "tried", value: func(g doctor.Asked) any { return g.Tried }},
	{key: "measure", value: func(g doctor.Asked) any { return wording.Measure(g.Of, g.Keyword) }},
	{key: "of", value: func(g doctor.Asked) any { return g.Of.String() }},
	{key: "name", value: func(g doctor.Asked) any { return g.Name }},
}, gapListing[5:]...)

// doctorView shows an examination of a scenario's equipment, and what else was found.
func doctorView(scenario string, r *doctor.Examination, found lang.Diagnostics) view {
	ask := r.Ask()
	var lenses []*doctor.Item
	for i := range r.Items {
		if r.Items[i].Of == brief.OfLens {
			lenses = append(lenses, &r.Items[i])
		}
	}
	return view{
		data: objectFor("catalog-doctor",
			travel.Member{Key: "scenario", Value: scenario},
			travel.Member{Key: "camera", Value: r.Camera},
			travel.Member{Key: "kit", Value: travel.List(r.Kit)},
			travel.Member{Key: "figures", Value: append(ownerListing, gapListing...).objects(ask)}, // of all, in the order in which to ask
			travel.Member{Key: "lenses", Value: gappyListing.objects(lenses)},
			travel.Member{Key: "found", Value: append(lang.Diagnostics{}, found...)},
		),
		rows: rowsOf(askedRows.objects(ask)),
		page: func(p lang.Printer) show.Page { return doctorPage(scenario, r, ask, found, p) },
	}
}

func doctorPage(scenario string, r *doctor.Examination, ask []doctor.Asked, found lang.Diagnostics, p lang.Printer) show.Page {
	var out show.Page
	out.Heading("What to measure first")
	if len(ask) == 0 {
		out.Paragraph("Nothing is unknown.")
	} else {
		kit := "no lens makes a kit"
		if len(r.Kit) > 0 {
			kit = "the kit is " + wording.Lenses(r.Kit)
		}
		out.Paragraph(fmt.Sprintf("For %s on %s %s%s. Each figure was tried at the ends of what is plausible.",
			scenario, r.Camera, kit, wording.HowSure(r.Figures)))
		out.Grid(doctorGrid(r, ask, p))
		if pairs := measures(ask); len(pairs) > 0 {
			out.Heading("How to measure")
			out.Pairs(pairs)
		}
	}
	if len(found) > 0 {
		out.Heading("What is not in order")
		g := show.Grid{Untitled: true, Columns: []show.Column{{Title: "place", Wraps: true}, {Title: "what", Wraps: true}}}
		for _, f := range found {
			g.Rows = append(g.Rows, []show.Cell{{Text: f.Span.String(), Tone: show.PlaceTone}, {Text: f.Summary + ". " + f.Detail}})
		}
		out.Grid(g)
	}
	return out
}

// doctorGrid has a row for each figure that matters or bears on something, in the order in which
// to ask, and then one for all others of an item, or of several that lack the same.
func doctorGrid(r *doctor.Examination, ask []doctor.Asked, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "of", Wraps: true}, {Title: "unknown", Wraps: true}, {Title: "taken as", Wraps: true}, {Title: "bears on", Wraps: true}, {Title: "could change the kit", Wraps: true}}}
	for _, a := range ask {
		if a.Idle() {
			continue
		}
		could := show.Cell{Text: "no"}
		switch {
		case len(a.Changes) > 0:
			var with []string
			for _, c := range a.Changes {
				with = append(with, strings.TrimPrefix(c.With, a.Keyword+" ")+" gives "+wording.Lenses(c.Kit))
			}
			could = show.Cell{Text: "yes: " + strings.Join(with, "; "), Tone: show.Warn}
		case !a.Tried:
			could = show.Cell{Text: "not tried", Tone: show.Faint}
		case len(a.Together) > 0:
			could = show.Cell{Text: fmt.Sprintf("only with the others, %s: %s", wording.With(a.Together[0]), wording.Lenses(a.Together[0].Kit)), Tone: show.Warn}
		case a.Settles > 0:
			could = show.Cell{Text: "only with others", Tone: show.Warn}
		}
		g.Rows = append(g.Rows, []show.Cell{{Text: wording.Owner(a.Of, a.Name), Tone: show.Strong}, {Text: a.Keyword}, {Text: takenText(a, p)}, {Text: strings.Join(a.Bears, ", ")}, could})
	}
	grouped := map[[2]string]int{} // rows, by what is idle and what it could do
	for i := range r.Items {
		x := &r.Items[i]
		var idle []string
		for _, a := range x.Ask() {
			if a.Idle() {
				idle = append(idle, a.Keyword)
			}
		}
		if idle == nil {
			continue
		}
		could := show.Cell{Text: "no"}
		switch {
		case x.Refusal != "":
			could.Text = "no, it does not go onto " + r.Camera
		case !x.Tried:
			could = show.Cell{Text: "not tried", Tone: show.Faint}
		}
		name, key := wording.Owner(x.Of, x.Name), [2]string{strings.Join(idle, ", "), could.Text}
		if row, ok := grouped[key]; ok {
			g.Rows[row][0].Text += ", " + name
			continue
		}
		grouped[key] = len(g.Rows)
		g.Rows = append(g.Rows, []show.Cell{{Text: name, Tone: show.Strong}, {Text: key[0]}, {}, {}, could})
	}
	return g
}

// takenText says what stands in for an unknown figure, with its range; "" for nothing.
func takenText(a doctor.Asked, p lang.Printer) string {
	if a.Assumed == nil {
		return ""
	}
	middle, between := wording.Taken(a.Assumed, p)
	return middle + ", " + between
}

// measures says once for each figure that bears on something how it is found out.
func measures(ask []doctor.Asked) []show.Pair {
	var pairs []show.Pair
	for _, a := range ask {
		pair := show.Pair{Name: a.Keyword, Value: wording.Measure(a.Of, a.Keyword)}
		if !a.Idle() && !slices.Contains(pairs, pair) {
			pairs = append(pairs, pair)
		}
	}
	return pairs
}
