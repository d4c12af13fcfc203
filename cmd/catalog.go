package cmd

import (
	"fmt"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// catalog is the group of verbs on the glass itself.
func (a *app) catalog() *cobra.Command {
	c := group("catalog", "the equipment: lenses, cameras, rigs and what joins them",
		`Works on the catalogue: the files that --catalog names, or those of the
settings, or else the built-in demo catalogue.`,
		`  glassbrief catalog list
  glassbrief catalog show "Wide 18"`)
	var files []string
	c.PersistentFlags().StringArrayVar(&files, "catalog", nil, "read this `file`; may be given several times")
	c.AddCommand(a.catalogList(&files), a.catalogShow(&files), a.catalogImport(&files), a.catalogExport(&files), a.catalogDoctor(&files), a.catalogNew(&files))
	return c
}

// readCatalogue loads the catalogue that the flags and settings name.
func (a *app) readCatalogue(files []string) (*catalog.Catalogue, error) {
	if err := a.loadSettings(""); err != nil {
		return nil, err
	}
	sources, err := a.catalogueSources(files)
	if err != nil {
		return nil, err
	}
	c, found := catalog.Load(sources...)
	if found.HasErrors() {
		return nil, found
	}
	a.reportWarnings(found)
	return c, nil
}

// catalogueSources reads the files that flags or settings name, or else gives the demo.
func (a *app) catalogueSources(files []string) ([]*lang.Source, error) {
	if len(files) == 0 {
		files = a.settings.Catalogues
	}
	sources, err := a.readSources(files, lang.OfFile)
	if err == nil && len(sources) == 0 {
		sources = append(sources, catalog.Demo())
	}
	return sources, err
}

var lensListing = listing[*catalog.Lens]{
	{key: "name", Column: show.Column{Title: "lens"}, tone: show.Strong, value: func(l *catalog.Lens) any { return l.Name.Value }},
	{key: "have", value: func(l *catalog.Lens) any { return l.Have.Kind }},
	{key: "mount", value: func(l *catalog.Lens) any { return l.Mount.Value }},
	{key: "focal_low_mm", Column: show.Column{Title: "focal", Right: true}, value: func(l *catalog.Lens) any { return travel.FigureOf(l.Focal.Low.OrNaN(), "mm") },
		cell: func(l *catalog.Lens, p lang.Printer) show.Cell { return show.Cell{Text: focalRange(l.Focal, p)} }},
	{key: "focal_high_mm", value: func(l *catalog.Lens) any { return travel.FigureOf(l.Focal.High.OrNaN(), "mm") }},
	lensFigure("widest_aperture", show.Column{Title: "f", Right: true}, "f/", func(l *catalog.Lens) lang.Quantity { return l.WidestStop() }),
	lensFigure("t_stop", show.Column{Title: "T", Right: true}, "T", func(l *catalog.Lens) lang.Quantity { return l.Transmission }),
	lensFigure("close_focus_m", show.Column{Title: "closest", Right: true, Spare: 3}, "m", func(l *catalog.Lens) lang.Quantity { return l.CloseFocus }),
	lensFigure("circle_mm", show.Column{Title: "circle", Right: true, Spare: 1}, "mm", func(l *catalog.Lens) lang.Quantity { return l.Circle }),
	lensFigure("mass_g", show.Column{Title: "mass", Right: true}, "g", func(l *catalog.Lens) lang.Quantity { return l.Mass }),
	{Column: show.Column{Title: "have", Spare: 2}, cell: func(l *catalog.Lens, p lang.Printer) show.Cell { return show.Cell{Text: holding(l, p)} }},
	{key: "day_rate", value: func(l *catalog.Lens) any { return travel.FigureOf(l.Have.DayRate.OrNaN(), "") }},
	{key: "currency", value: func(l *catalog.Lens) any { return l.Have.DayRate.Unit }},
	{key: "rough", value: func(l *catalog.Lens) any { return strings.Join(catalog.Rough(l), " ") }},
	{key: "from", value: func(l *catalog.Lens) any { return l.Span.String() }},
}

// lensFigure is a figure of a lens; people read ~ before a rough one.
func lensFigure(key string, column show.Column, unit string, of func(*catalog.Lens) lang.Quantity) item[*catalog.Lens] {
	return item[*catalog.Lens]{
		key: key, Column: column, value: func(l *catalog.Lens) any { return travel.FigureOf(of(l).OrNaN(), unit) },
		cell: func(l *catalog.Lens, p lang.Printer) show.Cell {
			text := p.Quantity(of(l).OrNaN(), unit)
			if of(l).Rough {
				text = "~" + text
			}
			return show.Cell{Text: text}
		},
	}
}

// lensFile is shown beside lenses of several files.
var lensFile = item[*catalog.Lens]{
	Column: show.Column{Title: "from"}, cell: func(l *catalog.Lens, _ lang.Printer) show.Cell { return show.Cell{Text: fileOf(l.Span.String())} },
}

var cameraListing = listing[*catalog.Camera]{
	{key: "name", Column: show.Column{Title: "camera"}, tone: show.Strong, value: func(c *catalog.Camera) any { return c.Name.Value }},
	{key: "mount", Column: show.Column{Title: "mount"}, value: func(c *catalog.Camera) any { return c.Mount.Value }},
	{key: "modes", Column: show.Column{Title: "modes", Wraps: true}, value: func(c *catalog.Camera) any { return c.ModeNames() }},
	{key: "iso", Column: show.Column{Title: "ISO", Right: true}, value: func(c *catalog.Camera) any { return travel.FigureOf(c.LowestBase().OrNaN(), "") },
		cell: func(c *catalog.Camera, p lang.Printer) show.Cell { return show.Cell{Text: p.List(c.ISO)} }},
	{key: "base_isos", value: func(c *catalog.Camera) any { return travel.Numbers(c.BaseISOs()) }},
	{key: "built_in_nd_stops", value: func(c *catalog.Camera) any { return travel.Numbers(c.BuiltInNDs()) }},
	{key: "mass_g", Column: show.Column{Title: "mass", Right: true}, value: func(c *catalog.Camera) any { return travel.FigureOf(c.Mass.OrNaN(), "g") }},
	{key: "from", value: func(c *catalog.Camera) any { return c.Span.String() }},
}

var rigListing = listing[*catalog.Rig]{
	{key: "name", Column: show.Column{Title: "rig"}, tone: show.Strong, value: func(r *catalog.Rig) any { return r.Name.Value }},
	{key: "payload_low_kg", Column: show.Column{Title: "carries"}, value: func(r *catalog.Rig) any { return travel.FigureOf(r.Payload.Low.OrNaN(), "kg") },
		cell: func(r *catalog.Rig, p lang.Printer) show.Cell {
			return show.Cell{Text: p.Quantity(r.Payload.Low.OrNaN(), "kg") + " to " + p.Quantity(r.Payload.High.OrNaN(), "kg")}
		}},
	{key: "payload_high_kg", value: func(r *catalog.Rig) any { return travel.FigureOf(r.Payload.High.OrNaN(), "kg") }},
	{key: "from", value: func(r *catalog.Rig) any { return r.Span.String() }},
}

// focalRange writes "18 mm" and "24-70 mm".
func focalRange(focal lang.Interval, p lang.Printer) string {
	text := p.Quantity(focal.Low.OrNaN(), "mm")
	if focal.Low.Rough {
		text = "~" + text
	}
	if focal.High.OrNaN() > focal.Low.OrNaN() {
		text = strings.TrimSuffix(text, " mm") + "-" + p.Quantity(focal.High.Value, "mm")
	}
	return text
}

func (a *app) catalogList(files *[]string) *cobra.Command {
	return &cobra.Command{
		Use: "list", Short: "all equipment, a line each", Args: noArguments,
		Example: "  glassbrief catalog list\n  glassbrief catalog list --as csv -o lenses.csv",
		RunE: func(*cobra.Command, []string) error {
			c, err := a.readCatalogue(*files)
			if err != nil {
				return err
			}
			return a.show(view{
				data: catalogListObject(c), rows: rowsOf(lensListing.objects(c.Lenses.All())), page: func(p lang.Printer) show.Page { return catalogListPage(c, p) },
			})
		},
	}
}

func catalogListObject(c *catalog.Catalogue) travel.Object {
	return objectFor("catalog-list",
		travel.Member{Key: "lenses", Value: lensListing.objects(c.Lenses.All())},
		travel.Member{Key: "cameras", Value: cameraListing.objects(c.Cameras.All())},
		travel.Member{Key: "rigs", Value: rigListing.objects(c.Rigs.All())},
		travel.Member{Key: "mounts", Value: travel.List(c.Mounts.Names())},
		travel.Member{Key: "adapters", Value: travel.List(c.Adapters.Names())},
		travel.Member{Key: "filters", Value: travel.List(c.Filters.Names())},
	)
}

func catalogListPage(c *catalog.Catalogue, p lang.Printer) show.Page {
	lenses := lensListing
	if slices.ContainsFunc(c.Lenses.All(), func(l *catalog.Lens) bool { return fileOf(l.Span.String()) != fileOf(c.Lenses.All()[0].Span.String()) }) {
		lenses = append(slices.Clone(lenses), lensFile)
	}
	var out show.Page
	out.Heading("Lenses")
	out.Grid(lenses.grid(c.Lenses.All(), p))
	out.Heading("Cameras")
	out.Grid(cameraListing.grid(c.Cameras.All(), p))
	out.Heading("Rigs")
	out.Grid(rigListing.grid(c.Rigs.All(), p))
	for _, shelf := range []struct {
		what  string
		names []string
	}{{"Mounts", c.Mounts.Names()}, {"Adapters", c.Adapters.Names()}, {"Filters", c.Filters.Names()}} {
		if len(shelf.names) > 0 {
			out.Paragraph(shelf.what + ": " + strings.Join(shelf.names, "; ") + ".")
		}
	}
	return out
}

func holding(l *catalog.Lens, p lang.Printer) string {
	if !l.Have.Known() {
		return "unknown"
	}
	return strings.TrimSuffix(l.Have.Show(p), " a day")
}

type catalogShowData struct {
	travel.Header
	Kind   string          `json:"kind"`
	Name   string          `json:"name"`
	From   string          `json:"from"`
	Fields []itemFieldData `json:"fields"`
}

type itemFieldData struct {
	Field string `json:"field"`
	Known bool   `json:"known"`
	Value string `json:"value"`
	From  string `json:"from"`
}

func (a *app) catalogShow(files *[]string) *cobra.Command {
	return &cobra.Command{
		Use: "show NAME", Short: "one piece of equipment, every field of it",
		Long:    "Prints every field of a lens, camera, rig, mount, adapter or filter; what the\ncatalogue does not say is shown as unknown.",
		Example: "  glassbrief catalog show \"Wide 18\"\n  glassbrief catalog show \"Short sled\" --units imperial",
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usage(lang.MissingValue, "%q lacks the name", c.CommandPath()).because("Name a lens, camera, rig, mount, adapter or filter, between quotes.")
			}
			return atMostOne("name")(c, args)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			c, err := a.readCatalogue(*files)
			if err != nil {
				return err
			}
			kind, from, fields := findItem(c, args[0])
			if kind == "" {
				return usage(lang.UnknownName, "the catalogue has nothing called %q", args[0]).
					or(lang.Nearest(args[0], itemNames(c))).because("\"glassbrief catalog list\" lists what it has.")
			}
			data := catalogShowData{Header: travel.HeaderOf("catalog-show"), Kind: kind, Name: args[0], From: from, Fields: []itemFieldData{}}
			p := a.printer()
			for _, field := range fields {
				data.Fields = append(data.Fields, itemFieldData{field.Keyword, field.Known(), field.Show(p), field.Origin().String()})
			}
			return a.show(view{data: data, page: func(lang.Printer) show.Page { return catalogShowPage(data) }})
		},
	}
}

func itemNames(c *catalog.Catalogue) []string {
	var names []string
	for _, shelf := range [][]string{c.Lenses.Names(), c.Cameras.Names(), c.Rigs.Names(), c.Mounts.Names(), c.Adapters.Names(), c.Filters.Names()} {
		names = append(names, shelf...)
	}
	return names
}

// findItem looks a name up on every shelf, lenses first.
func findItem(c *catalog.Catalogue, name string) (kind, from string, fields []catalog.Field) {
	if x, ok := c.Lenses.Lookup(name); ok {
		return "lens", x.Span.String(), catalog.Fields(x)
	}
	if x, ok := c.Cameras.Lookup(name); ok {
		return "camera", x.Span.String(), catalog.Fields(x)
	}
	if x, ok := c.Rigs.Lookup(name); ok {
		return "rig", x.Span.String(), catalog.Fields(x)
	}
	if x, ok := c.Mounts.Lookup(name); ok {
		return "mount", x.Span.String(), catalog.Fields(x)
	}
	if x, ok := c.Adapters.Lookup(name); ok {
		return "adapter", x.Span.String(), catalog.Fields(x)
	}
	if x, ok := c.Filters.Lookup(name); ok {
		return "filter", x.Span.String(), catalog.Fields(x)
	}
	return "", "", nil
}

// fileOf gives the file of a place.
func fileOf(place string) string {
	for range 2 { // line and column
		place = place[:max(0, strings.LastIndexByte(place, ':'))]
	}
	return place
}

func catalogShowPage(data catalogShowData) show.Page {
	var out show.Page
	out.Heading(fmt.Sprintf("%s: %s", data.Kind, data.Name))
	var lines []show.Pair
	for _, field := range data.Fields {
		line := show.Pair{Name: field.Field, Value: field.Value}
		if !field.Known {
			line.Tone = show.Warn
		}
		if field.From != "" && fileOf(field.From) != fileOf(data.From) {
			line.Value += ", by " + field.From
		}
		lines = append(lines, line)
	}
	out.Pairs(lines)
	out.Paragraph("From " + data.From + ".")
	return out
}
