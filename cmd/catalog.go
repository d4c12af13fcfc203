package cmd

import (
	"fmt"
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
	sources, err := readSources(files)
	if err == nil && len(sources) == 0 {
		sources = append(sources, catalog.Demo())
	}
	return sources, err
}

type catalogListData struct {
	travel.Header
	Lenses   []lensRow   `json:"lenses"`
	Cameras  []cameraRow `json:"cameras"`
	Rigs     []rigRow    `json:"rigs"`
	Mounts   []string    `json:"mounts"`
	Adapters []string    `json:"adapters"`
	Filters  []string    `json:"filters"`
}

type lensRow struct {
	Name       string        `json:"name"`
	Have       string        `json:"have"`
	Mount      string        `json:"mount"`
	FocalLow   travel.Number `json:"focal_low_mm"`
	FocalHigh  travel.Number `json:"focal_high_mm"`
	Widest     travel.Number `json:"widest_aperture"`
	T          travel.Number `json:"t_stop"`
	CloseFocus travel.Number `json:"close_focus_m"`
	Circle     travel.Number `json:"circle_mm"`
	Mass       travel.Number `json:"mass_g"`
	Rate       travel.Number `json:"day_rate"`
	Currency   string        `json:"currency"`
	From       string        `json:"from"`
}

type cameraRow struct {
	Name  string          `json:"name"`
	Mount string          `json:"mount"`
	Modes []string        `json:"modes"`
	ISO   travel.Number   `json:"iso"` // the lowest base
	Bases []travel.Number `json:"base_isos"`
	NDs   []travel.Number `json:"built_in_nd_stops"`
	Mass  travel.Number   `json:"mass_g"`
	From  string          `json:"from"`
}

type rigRow struct {
	Name        string        `json:"name"`
	PayloadLow  travel.Number `json:"payload_low_kg"`
	PayloadHigh travel.Number `json:"payload_high_kg"`
	From        string        `json:"from"`
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
			data := catalogListDataOf(c)
			rows := []any{}
			for _, row := range data.Lenses {
				rows = append(rows, row)
			}
			return a.show(view{data: data, rows: rows, page: func(p lang.Printer) show.Page { return catalogListPage(c, p) }})
		},
	}
}

func catalogListDataOf(c *catalog.Catalogue) catalogListData {
	d := catalogListData{
		Header: travel.HeaderOf("catalog-list"), Lenses: []lensRow{}, Cameras: []cameraRow{}, Rigs: []rigRow{},
		Mounts: travel.List(c.Mounts.Names()), Adapters: travel.List(c.Adapters.Names()), Filters: travel.List(c.Filters.Names()),
	}
	for _, l := range c.Lenses.All() {
		d.Lenses = append(d.Lenses, lensRow{
			Name: l.Name.Value, Have: l.Have.Kind, Mount: l.Mount.Value,
			FocalLow: travel.In(l.Focal.Low.OrNaN(), "mm"), FocalHigh: travel.In(l.Focal.High.OrNaN(), "mm"),
			Widest: travel.Number(l.WidestStop().OrNaN()), T: travel.Number(l.Transmission.OrNaN()), CloseFocus: travel.Number(l.CloseFocus.OrNaN()),
			Circle: travel.In(l.Circle.OrNaN(), "mm"), Mass: travel.In(l.Mass.OrNaN(), "g"),
			Rate: travel.Number(l.Have.DayRate.OrNaN()), Currency: l.Have.DayRate.Unit, From: l.Span.String(),
		})
	}
	for _, x := range c.Cameras.All() {
		d.Cameras = append(d.Cameras, cameraRow{
			Name: x.Name.Value, Mount: x.Mount.Value, Modes: x.ModeNames(),
			ISO: travel.Number(x.LowestBase().OrNaN()), Bases: travel.Numbers(x.BaseISOs()), NDs: travel.Numbers(x.BuiltInNDs()), Mass: travel.In(x.Mass.OrNaN(), "g"), From: x.Span.String(),
		})
	}
	for _, r := range c.Rigs.All() {
		d.Rigs = append(d.Rigs, rigRow{
			Name: r.Name.Value, PayloadLow: travel.Number(r.Payload.Low.OrNaN()), PayloadHigh: travel.Number(r.Payload.High.OrNaN()), From: r.Span.String(),
		})
	}
	return d
}

func catalogListPage(c *catalog.Catalogue, p lang.Printer) show.Page {
	var out show.Page
	out.Heading("Lenses")
	lenses := show.Grid{Columns: []show.Column{
		{Title: "lens"}, {Title: "focal", Right: true}, {Title: "f", Right: true}, {Title: "T", Right: true},
		{Title: "closest", Right: true, Spare: 3}, {Title: "circle", Right: true, Spare: 1}, {Title: "mass", Right: true}, {Title: "have", Spare: 2},
	}}
	files := map[string]bool{}
	for _, l := range c.Lenses.All() {
		files[fileOf(l.Span.String())] = true
	}
	if len(files) > 1 {
		lenses.Columns = append(lenses.Columns, show.Column{Title: "from"})
	}
	for _, l := range c.Lenses.All() {
		focal := p.Quantity(l.Focal.Low.OrNaN(), "mm")
		if l.IsZoom() {
			focal = strings.TrimSuffix(focal, " mm") + "-" + p.Quantity(l.Focal.High.OrNaN(), "mm")
		}
		lenses.Rows = append(lenses.Rows, []show.Cell{
			{Text: l.Name.Value, Tone: show.Strong}, {Text: focal}, {Text: p.Quantity(l.WidestStop().OrNaN(), "f/")},
			{Text: p.Quantity(l.Transmission.OrNaN(), "T")}, {Text: p.Quantity(l.CloseFocus.OrNaN(), "m")},
			{Text: p.Quantity(l.Circle.OrNaN(), "mm")}, {Text: p.Quantity(l.Mass.OrNaN(), "g")}, {Text: holding(l, p)}, {Text: fileOf(l.Span.String())},
		}[:len(lenses.Columns)])
	}
	out.Grid(lenses)
	out.Heading("Cameras")
	cameras := show.Grid{Columns: []show.Column{{Title: "camera"}, {Title: "mount"}, {Title: "modes", Wraps: true}, {Title: "ISO", Right: true}, {Title: "mass", Right: true}}}
	for _, x := range c.Cameras.All() {
		cameras.Rows = append(cameras.Rows, []show.Cell{
			{Text: x.Name.Value, Tone: show.Strong}, {Text: x.Mount.Value}, {Text: strings.Join(x.ModeNames(), ", ")},
			{Text: p.List(x.ISO)}, {Text: p.Quantity(x.Mass.OrNaN(), "g")},
		})
	}
	out.Grid(cameras)
	out.Heading("Rigs")
	rigs := show.Grid{Columns: []show.Column{{Title: "rig"}, {Title: "carries"}}}
	for _, r := range c.Rigs.All() {
		rigs.Rows = append(rigs.Rows, []show.Cell{
			{Text: r.Name.Value, Tone: show.Strong}, {Text: p.Quantity(r.Payload.Low.OrNaN(), "kg") + " to " + p.Quantity(r.Payload.High.OrNaN(), "kg")},
		})
	}
	out.Grid(rigs)
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
	Value string `json:"value"` // as a person reads it
	From  string `json:"from"`  // where it is written; "" when it is not
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
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			c, err := a.readCatalogue(*files)
			if err != nil {
				return nil, cobra.ShellCompDirectiveError
			}
			return itemNames(c), cobra.ShellCompDirectiveNoFileComp
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
