package cmd

import (
	"fmt"
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
		Long: `Says of each lens what is unknown, which criteria cannot be judged without it,
whether the kit could change if it were known, and how to measure it. Whether it
could is found by trying: the most and the least favourable plausible figure is
put in, and the kit chosen anew. Without a scenario a plain one of three shots
is used.

It also reports lenses that are there twice or go onto no camera, improbable
figures, adapters that do not reach infinity, and threads that no filter fits.`,
		Example: `  glassbrief catalog doctor
  glassbrief catalog doctor night-ferry.scenario
  glassbrief catalog doctor night-ferry.scenario --lens "Old 28"`,
		Args: atMostOne("scenario"), ValidArgsFunction: completeScenarios,
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
			found := append(warned, doctor.Upkeep(s.Catalogue)...).Sorted()
			return a.show(doctorView(s.Name, report, found))
		},
	}
	flags := c.Flags()
	flags.StringVar(&scope.Lens, "lens", "", "examine this `lens` alone")
	flags.StringVar(&o.Camera, "camera", "", "judge on this candidate `camera` of the scenario, not on the first")
	flags.IntVar(&scope.Most, "most", doctor.MostTried, "try figures for at most this `number` of lenses, those that could do best first")
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

var gapListing = listing[doctor.Gap]{
	{key: "field", value: func(g doctor.Gap) any { return g.Keyword }},
	{key: "blinds", value: func(g doctor.Gap) any { return travel.List(g.Blinds) }},
	{key: "tried", value: func(g doctor.Gap) any { return travel.List(g.Trials) }},
	{key: "changes", value: func(g doctor.Gap) any { return otherKitListing.objects(g.Changes) }},
	{key: "measure", value: func(g doctor.Gap) any { return wording.Measure(g.Keyword) }},
}

var gappyListing = listing[doctor.Lens]{
	{key: "lens", value: func(l doctor.Lens) any { return l.Name.Value }},
	{key: "from", value: func(l doctor.Lens) any { return l.Span.String() }},
	{key: "refusal", value: func(l doctor.Lens) any { return l.Refusal }}, // "" when it goes onto the camera
	{key: "tried", value: func(l doctor.Lens) any { return l.Tried }},
	{key: "unknown", value: func(l doctor.Lens) any { return gapListing.objects(l.Gaps) }},
	{key: "changes_together", value: func(l doctor.Lens) any { return otherKitListing.objects(l.Together) }},
}

// A lensGap is an unknown figure of a lens, for a row of CSV.
type lensGap struct {
	doctor.Lens
	doctor.Gap
}

var lensGapListing = listing[lensGap]{
	{key: "lens", value: func(g lensGap) any { return g.Name.Value }},
	{key: "field", value: func(g lensGap) any { return g.Keyword }},
	{key: "blinds", value: func(g lensGap) any { return strings.Join(g.Blinds, ", ") }},
	{key: "could_change_the_kit", value: func(g lensGap) any { return len(g.Changes) > 0 || len(g.Together) > 0 }},
	{key: "tried", value: func(g lensGap) any { return g.Tried }},
	{key: "measure", value: func(g lensGap) any { return wording.Measure(g.Keyword) }},
}

// doctorView shows an examination of a scenario's lenses, and what else was found.
func doctorView(scenario string, r *doctor.Examination, found lang.Diagnostics) view {
	var gaps []lensGap
	for _, l := range r.Lenses {
		for _, g := range l.Gaps {
			gaps = append(gaps, lensGap{l, g})
		}
	}
	return view{
		data: objectFor("catalog-doctor",
			travel.Member{Key: "scenario", Value: scenario},
			travel.Member{Key: "camera", Value: r.Camera},
			travel.Member{Key: "kit", Value: travel.List(r.Kit)},
			travel.Member{Key: "lenses", Value: gappyListing.objects(r.Lenses)},
			travel.Member{Key: "found", Value: append(lang.Diagnostics{}, found...)},
		),
		rows: rowsOf(lensGapListing.objects(gaps)),
		page: func(lang.Printer) show.Page { return doctorPage(scenario, r, gaps, found) },
	}
}

func doctorPage(scenario string, r *doctor.Examination, gaps []lensGap, found lang.Diagnostics) show.Page {
	var out show.Page
	out.Heading("What to measure first")
	if len(r.Lenses) == 0 {
		out.Paragraph("Nothing is unknown of any lens.")
	} else {
		kit := "no lens makes a kit"
		if len(r.Kit) > 0 {
			kit = "the kit is " + wording.Lenses(r.Kit)
		}
		out.Paragraph(fmt.Sprintf("For %s on %s %s. A figure that could change that was tried at its most and its least favourable.", scenario, r.Camera, kit))
		out.Grid(doctorGrid(r))
		out.Heading("How to measure")
		out.Pairs(measures(gaps))
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

// doctorGrid has a row for each lens and figure, those that matter first.
func doctorGrid(r *doctor.Examination) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "lens"}, {Title: "unknown", Wraps: true}, {Title: "blinds", Wraps: true}, {Title: "could change the kit", Wraps: true}}}
	for _, l := range r.Lenses {
		name := l.Name.Value
		var idle []string // figures that change nothing and blind nothing
		for _, gap := range l.Gaps {
			if len(gap.Changes) == 0 && len(gap.Blinds) == 0 {
				idle = append(idle, gap.Keyword)
				continue
			}
			could := show.Cell{Text: "no"}
			switch {
			case len(gap.Changes) > 0:
				var with []string
				for _, c := range gap.Changes {
					with = append(with, strings.TrimPrefix(c.With, gap.Keyword+" ")+" gives "+wording.Lenses(c.Kit))
				}
				could = show.Cell{Text: "yes: " + strings.Join(with, "; "), Tone: show.Warn}
			case !l.Tried:
				could = show.Cell{Text: "not tried", Tone: show.Faint}
			case len(l.Together) > 0:
				could = show.Cell{Text: fmt.Sprintf("only with the others, %s: %s", wording.With(l.Together[0]), wording.Lenses(l.Together[0].Kit)), Tone: show.Warn}
			}
			g.Rows = append(g.Rows, []show.Cell{{Text: name, Tone: show.Strong}, {Text: gap.Keyword}, {Text: strings.Join(gap.Blinds, ", ")}, could})
			name = ""
		}
		if idle != nil {
			could := show.Cell{Text: "no"}
			switch {
			case l.Refusal != "":
				could.Text = "no, it does not go onto " + r.Camera
			case !l.Tried:
				could = show.Cell{Text: "not tried", Tone: show.Faint}
			}
			g.Rows = append(g.Rows, []show.Cell{{Text: name, Tone: show.Strong}, {Text: strings.Join(idle, ", ")}, {}, could})
		}
	}
	return g
}

// measures says once for each unknown figure how it is found out.
func measures(gaps []lensGap) []show.Pair {
	var pairs []show.Pair
	for _, g := range gaps {
		if pair := (show.Pair{Name: g.Keyword, Value: wording.Measure(g.Keyword)}); !slices.Contains(pairs, pair) {
			pairs = append(pairs, pair)
		}
	}
	return pairs
}
