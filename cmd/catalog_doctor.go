package cmd

import (
	"fmt"
	"strings"

	"glassbrief/catalog"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
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
			data := doctorDataOf(s, report, found)
			rows := []any{}
			for _, l := range data.Lenses {
				for _, g := range l.Gaps {
					rows = append(rows, doctorRow{l.Lens, g.Field, strings.Join(g.Blinds, ", "), len(g.Changes) > 0 || len(l.Together) > 0, l.Tried, g.Measure})
				}
			}
			return a.show(view{data: data, rows: rows, page: func(p lang.Printer) show.Page { return doctorPage(data, found) }})
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

type doctorData struct {
	travel.Header
	Scenario string           `json:"scenario"`
	Camera   string           `json:"camera"`
	Kit      []string         `json:"kit"`
	Lenses   []doctorLens     `json:"lenses"`
	Found    lang.Diagnostics `json:"found"`
}

type doctorLens struct {
	Lens     string         `json:"lens"`
	From     string         `json:"from"`
	Refusal  string         `json:"refusal"` // "" when it goes onto the camera
	Tried    bool           `json:"tried"`
	Gaps     []doctorGap    `json:"unknown"`
	Together []doctorChange `json:"changes_together"`
}

type doctorGap struct {
	Field   string         `json:"field"`
	Blinds  []string       `json:"blinds"`
	Trials  []string       `json:"tried"`
	Changes []doctorChange `json:"changes"`
	Measure string         `json:"measure"`
}

type doctorChange struct {
	With string   `json:"with"`
	Kit  []string `json:"kit"`
}

type doctorRow struct {
	Lens    string `json:"lens"`
	Field   string `json:"field"`
	Blinds  string `json:"blinds"`
	Could   bool   `json:"could_change_the_kit"`
	Tried   bool   `json:"tried"`
	Measure string `json:"measure"`
}

func doctorDataOf(s *brief.Scenario, r *doctor.Examination, found lang.Diagnostics) doctorData {
	d := doctorData{Header: travel.HeaderOf("catalog-doctor"), Scenario: s.Name, Camera: r.Camera, Kit: travel.List(r.Kit), Lenses: []doctorLens{}, Found: append(lang.Diagnostics{}, found...)}
	for i := range r.Lenses {
		x := &r.Lenses[i]
		l := doctorLens{Lens: x.Name.Value, From: x.Span.String(), Refusal: x.Refusal, Tried: x.Tried, Gaps: []doctorGap{}, Together: doctorChanges(x.Together)}
		for _, g := range x.Gaps {
			l.Gaps = append(l.Gaps, doctorGap{g.Keyword, travel.List(g.Blinds), travel.List(g.Trials), doctorChanges(g.Changes), g.Measure})
		}
		d.Lenses = append(d.Lenses, l)
	}
	return d
}

func doctorChanges(changes []doctor.OtherKit) []doctorChange {
	data := []doctorChange{}
	for _, c := range changes {
		data = append(data, doctorChange{c.With, travel.List(c.Kit)})
	}
	return data
}

func doctorPage(d doctorData, found lang.Diagnostics) show.Page {
	var out show.Page
	out.Heading("What to measure first")
	if len(d.Lenses) == 0 {
		out.Paragraph("Nothing is unknown of any lens.")
	} else {
		out.Paragraph(fmt.Sprintf("For %s on %s the kit is %s. A figure that could change it was tried at its most and its least favourable.",
			d.Scenario, d.Camera, strings.Join(d.Kit, " and ")))
		out.Grid(doctorGrid(d))
		out.Heading("How to measure")
		out.Pairs(measures(d))
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
func doctorGrid(d doctorData) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "lens"}, {Title: "unknown", Wraps: true}, {Title: "blinds", Wraps: true}, {Title: "could change the kit", Wraps: true}}}
	for _, l := range d.Lenses {
		name := l.Lens
		var idle []string // figures that change nothing and blind nothing
		for _, gap := range l.Gaps {
			if len(gap.Changes) == 0 && len(gap.Blinds) == 0 {
				idle = append(idle, gap.Field)
				continue
			}
			could := show.Cell{Text: "no"}
			switch {
			case len(gap.Changes) > 0:
				var with []string
				for _, c := range gap.Changes {
					with = append(with, strings.TrimPrefix(c.With, gap.Field+" ")+" gives "+strings.Join(c.Kit, " and "))
				}
				could = show.Cell{Text: "yes: " + strings.Join(with, "; "), Tone: show.Warn}
			case !l.Tried:
				could = show.Cell{Text: "not tried", Tone: show.Faint}
			case len(l.Together) > 0:
				could = show.Cell{Text: fmt.Sprintf("only with the others, %s: %s", l.Together[0].With, strings.Join(l.Together[0].Kit, " and ")), Tone: show.Warn}
			}
			g.Rows = append(g.Rows, []show.Cell{{Text: name, Tone: show.Strong}, {Text: gap.Field}, {Text: strings.Join(gap.Blinds, ", ")}, could})
			name = ""
		}
		if idle != nil {
			could := show.Cell{Text: "no"}
			switch {
			case l.Refusal != "":
				could.Text = "no, it does not go onto " + d.Camera
			case !l.Tried:
				could = show.Cell{Text: "not tried", Tone: show.Faint}
			}
			g.Rows = append(g.Rows, []show.Cell{{Text: name, Tone: show.Strong}, {Text: strings.Join(idle, ", ")}, {}, could})
		}
	}
	return g
}

// measures says once for each unknown figure how it is found out.
func measures(d doctorData) []show.Pair {
	var pairs []show.Pair
	seen := map[string]bool{}
	for _, l := range d.Lenses {
		for _, gap := range l.Gaps {
			if !seen[gap.Field] {
				seen[gap.Field] = true
				pairs = append(pairs, show.Pair{Name: gap.Field, Value: gap.Measure})
			}
		}
	}
	return pairs
}
