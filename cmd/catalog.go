package cmd

import (
	"fmt"
	"strings"

	"glassbrief/catalog"
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
	header
	Lenses   []lensRow   `json:"lenses"`
	Cameras  []cameraRow `json:"cameras"`
	Rigs     []rigRow    `json:"rigs"`
	Mounts   []string    `json:"mounts"`
	Adapters []string    `json:"adapters"`
	Filters  []string    `json:"filters"`
}

type lensRow struct {
	Name       string `json:"name"`
	Have       string `json:"have"`
	Mount      string `json:"mount"`
	FocalLow   number `json:"focal_low_mm"`
	FocalHigh  number `json:"focal_high_mm"`
	Widest     number `json:"widest_aperture"`
	T          number `json:"t_stop"`
	CloseFocus number `json:"close_focus_m"`
	Circle     number `json:"circle_mm"`
	Mass       number `json:"mass_g"`
	Rate       number `json:"day_rate"`
	Currency   string `json:"currency"`
	From       string `json:"from"`
}

type cameraRow struct {
	Name  string   `json:"name"`
	Mount string   `json:"mount"`
	Modes []string `json:"modes"`
	ISO   number   `json:"iso"` // the lowest base
	Bases []number `json:"base_isos"`
	NDs   []number `json:"built_in_nd_stops"`
	Mass  number   `json:"mass_g"`
	From  string   `json:"from"`
}

type rigRow struct {
	Name        string `json:"name"`
	PayloadLow  number `json:"payload_low_kg"`
	PayloadHigh number `json:"payload_high_kg"`
	From        string `json:"from"`
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
			return a.show(view{data: data, rows: rows, page: func(p lang.Printer) page { return catalogListPage(c, p) }})
		},
	}
}

func catalogListDataOf(c *catalog.Catalogue) catalogListData {
	d := catalogListData{
		header: headerOf("catalog-list"), Lenses: []lensRow{}, Cameras: []cameraRow{}, Rigs: []rigRow{},
		Mounts: list(c.Mounts.Names()), Adapters: list(c.Adapters.Names()), Filters: list(c.Filters.Names()),
	}
	for _, l := range c.Lenses.All() {
		d.Lenses = append(d.Lenses, lensRow{
			Name: l.Name.Value, Have: l.Have.Kind, Mount: l.Mount.Value,
			FocalLow: in(l.Focal.Low.OrNaN(), "mm"), FocalHigh: in(l.Focal.High.OrNaN(), "mm"),
			Widest: number(l.WidestStop().OrNaN()), T: number(l.Transmission.OrNaN()), CloseFocus: number(l.CloseFocus.OrNaN()),
			Circle: in(l.Circle.OrNaN(), "mm"), Mass: in(l.Mass.OrNaN(), "g"),
			Rate: number(l.Have.DayRate.OrNaN()), Currency: l.Have.DayRate.Unit, From: l.Span.String(),
		})
	}
	for _, x := range c.Cameras.All() {
		d.Cameras = append(d.Cameras, cameraRow{
			Name: x.Name.Value, Mount: x.Mount.Value, Modes: x.ModeNames(),
			ISO: number(x.LowestBase().OrNaN()), Bases: numbers(x.BaseISOs()), NDs: numbers(x.BuiltInNDs()), Mass: in(x.Mass.OrNaN(), "g"), From: x.Span.String(),
		})
	}
	for _, r := range c.Rigs.All() {
		d.Rigs = append(d.Rigs, rigRow{
			Name: r.Name.Value, PayloadLow: number(r.Payload.Low.OrNaN()), PayloadHigh: number(r.Payload.High.OrNaN()), From: r.Span.String(),
		})
	}
	return d
}

func catalogListPage(c *catalog.Catalogue, p lang.Printer) page {
	var out page
	out.heading("Lenses")
	lenses := grid{columns: []column{
		{title: "lens"}, {title: "focal", right: true}, {title: "f", right: true}, {title: "T", right: true},
		{title: "closest", right: true, spare: 3}, {title: "circle", right: true, spare: 1}, {title: "mass", right: true}, {title: "have", spare: 2},
	}}
	files := map[string]bool{}
	for _, l := range c.Lenses.All() {
		files[fileOf(l.Span.String())] = true
	}
	if len(files) > 1 {
		lenses.columns = append(lenses.columns, column{title: "from"})
	}
	for _, l := range c.Lenses.All() {
		focal := p.Quantity(l.Focal.Low.OrNaN(), "mm")
		if l.IsZoom() {
			focal = strings.TrimSuffix(focal, " mm") + "-" + p.Quantity(l.Focal.High.OrNaN(), "mm")
		}
		lenses.rows = append(lenses.rows, []cell{
			{text: l.Name.Value, tone: toneStrong}, {text: focal}, {text: p.Quantity(l.WidestStop().OrNaN(), "f/")},
			{text: p.Quantity(l.Transmission.OrNaN(), "T")}, {text: p.Quantity(l.CloseFocus.OrNaN(), "m")},
			{text: p.Quantity(l.Circle.OrNaN(), "mm")}, {text: p.Quantity(l.Mass.OrNaN(), "g")}, {text: holding(l, p)}, {text: fileOf(l.Span.String())},
		}[:len(lenses.columns)])
	}
	out.grid(lenses)
	out.heading("Cameras")
	cameras := grid{columns: []column{{title: "camera"}, {title: "mount"}, {title: "modes", wraps: true}, {title: "ISO", right: true}, {title: "mass", right: true}}}
	for _, x := range c.Cameras.All() {
		cameras.rows = append(cameras.rows, []cell{
			{text: x.Name.Value, tone: toneStrong}, {text: x.Mount.Value}, {text: strings.Join(x.ModeNames(), ", ")},
			{text: p.List(x.ISO)}, {text: p.Quantity(x.Mass.OrNaN(), "g")},
		})
	}
	out.grid(cameras)
	out.heading("Rigs")
	rigs := grid{columns: []column{{title: "rig"}, {title: "carries"}}}
	for _, r := range c.Rigs.All() {
		rigs.rows = append(rigs.rows, []cell{
			{text: r.Name.Value, tone: toneStrong}, {text: p.Quantity(r.Payload.Low.OrNaN(), "kg") + " to " + p.Quantity(r.Payload.High.OrNaN(), "kg")},
		})
	}
	out.grid(rigs)
	for _, shelf := range []struct {
		what  string
		names []string
	}{{"Mounts", c.Mounts.Names()}, {"Adapters", c.Adapters.Names()}, {"Filters", c.Filters.Names()}} {
		if len(shelf.names) > 0 {
			out.paragraph(shelf.what + ": " + strings.Join(shelf.names, "; ") + ".")
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
	header
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
			data := catalogShowData{header: headerOf("catalog-show"), Kind: kind, Name: args[0], From: from, Fields: []itemFieldData{}}
			p := a.printer()
			for _, field := range fields {
				data.Fields = append(data.Fields, itemFieldData{field.Keyword, field.Known(), field.Show(p), field.Origin().String()})
			}
			return a.show(view{data: data, page: func(lang.Printer) page { return catalogShowPage(data) }})
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

func catalogShowPage(data catalogShowData) page {
	var out page
	out.heading(fmt.Sprintf("%s: %s", data.Kind, data.Name))
	var lines []pair
	for _, field := range data.Fields {
		line := pair{name: field.Field, value: field.Value}
		if !field.Known {
			line.tone = toneWarn
		}
		if field.From != "" && fileOf(field.From) != fileOf(data.From) {
			line.value += ", by " + field.From
		}
		lines = append(lines, line)
	}
	out.pairs(lines)
	out.paragraph("From " + data.From + ".")
	return out
}
