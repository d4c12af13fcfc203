package cmd

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/catalog"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/floor"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// offerScale gives "reckon focus" the scale of a whole lens as its second face.
func (a *app) offerScale(c *cobra.Command) {
	var scale bool
	var name string
	var files []string
	c.Flags().BoolVar(&scale, "scale", false, "print the whole scale of a lens: near and far at marked distances and stops")
	c.Flags().StringVar(&name, "lens", "", "`name` of a lens of the catalogue, for its scale")
	c.Flags().StringArrayVar(&files, "catalog", nil, "read this `file` as the catalogue; may be given several times")
	one := c.RunE
	c.RunE = func(c *cobra.Command, args []string) error {
		if !scale {
			if name != "" || files != nil {
				return usage(lang.Contradiction, "\"--lens\" and \"--catalog\" are for \"--scale\"").
					because("Add --scale, or give --focal and --aperture.")
			}
			return one(c, args)
		}
		return a.focusScale(&reading{flags: c.Flags()}, name, files)
	}
}

type scaleData struct {
	travel.Header
	Kind      string        `json:"kind"`
	Lens      string        `json:"lens"`
	Focal     travel.Number `json:"focal_mm"`
	Confusion travel.Number `json:"confusion_mm"`
	Marks     []markData    `json:"marks"`
}

type markData struct {
	Distance  travel.Number `json:"focus_at_m"`
	Unbounded bool          `json:"focus_at_unbounded,omitempty"`
	Stops     []stopData    `json:"stops"`
}

type stopData struct {
	sharpData
	FarUnbounded bool `json:"far_unbounded,omitempty"`
}

type sharpData struct {
	Stop travel.Number `json:"aperture"`
	Near travel.Number `json:"near_m"`
	Far  travel.Number `json:"far_m"`
}

type scaleRow struct {
	Distance travel.Number `json:"focus_at_m"`
	sharpData
}

// A barrel is what a scale is made for.
type barrel struct {
	name                             string
	focal, closest, widest, smallest float64
}

func (a *app) focusScale(r *reading, name string, files []string) error {
	catalogue, err := a.readCatalogue(files)
	if err != nil {
		return err
	}
	b := r.barrel(catalogue, name)
	confusion := r.confusion()
	for _, flag := range []string{"distance", "range", "infinity", "aperture"} {
		if r.given(flag) {
			r.complain(usage(lang.Contradiction, "\"--scale\" and \"--%s\" cannot both hold", flag).
				because("The scale shows every marked distance and stop."))
		}
	}
	if r.failed() {
		return r.found
	}
	stops := floor.ScaleStops(b.widest, b.smallest)
	marks := floor.Scale(b.focal, confusion, b.closest, stops, a.settings.Units == "imperial")
	data := scaleData{Header: travel.HeaderOf("reckon-focus-scale"), Kind: "focus-scale", Lens: b.name, Focal: travel.In(b.focal, "mm"), Confusion: travel.In(confusion, "mm"), Marks: []markData{}}
	var rows []scaleRow
	for _, m := range marks {
		mark := markData{Distance: travel.Number(m.Distance), Unbounded: travel.Unbounded(m.Distance), Stops: []stopData{}}
		for i, stop := range stops {
			sharp := sharpData{travel.Number(stop), travel.Number(m.Near[i]), travel.Number(m.Far[i])}
			mark.Stops = append(mark.Stops, stopData{sharp, travel.Unbounded(m.Far[i])})
			rows = append(rows, scaleRow{travel.Number(m.Distance), sharp})
		}
		data.Marks = append(data.Marks, mark)
	}
	return a.show(view{data: data, rows: rowsOf(rows), page: func(p lang.Printer) show.Page { return scalePage(b, confusion, stops, marks, p) }})
}

// barrel takes the lens of a scale: one of the catalogue, at --focal when it is a zoom, or
// any lens of a focal length.
func (r *reading) barrel(catalogue *catalog.Catalogue, name string) barrel {
	focal := r.quantity("focal")
	if name == "" {
		if !focal.Known() {
			r.complain(usage(lang.MissingValue, "the lens is missing").because("Give --lens with a name of the catalogue, or --focal."))
		}
		return barrel{focal: focal.OrNaN(), closest: math.NaN(), widest: math.NaN(), smallest: math.NaN()}
	}
	lens, d := catalogue.Lenses.Resolve(lang.Text{Value: name, Span: r.span("lens")})
	if d != nil {
		d.Span = r.span("lens")
		r.found.Add(*d)
		return barrel{}
	}
	b := barrel{name, lens.Focal.Low.Value, lens.CloseFocus.OrNaN(), lens.WidestStop().OrNaN(), lens.SmallestStop().OrNaN()}
	switch {
	case focal.Known() && (focal.Value < lens.Focal.Low.Value || focal.Value > lens.Focal.High.Value):
		r.complain(usage(lang.OutOfRange, "%q is no focal length of %q", focal.Span.Text(), name).at(focal.Span).
			because("It has %s.", lens.Focal.Span.Text()))
	case focal.Known():
		b.focal = focal.Value
	case lens.IsZoom():
		r.complain(usage(lang.MissingValue, "%q is a zoom, and its focal length is missing", name).
			because("Give --focal with one of %s.", lens.Focal.Span.Text()))
	}
	return b
}

// scalePage lays a scale out with two lines a mark, near above far, as it is taped on.
func scalePage(b barrel, confusion float64, stops []float64, marks []floor.Mark, p lang.Printer) show.Page {
	var out show.Page
	out.Heading(strings.TrimSpace("Focus scale " + b.name))
	out.Pairs([]show.Pair{{Name: "focal length", Value: p.Quantity(b.focal, "mm")}, {Name: "circle of confusion", Value: p.Quantity(confusion, "mm")}})
	g := show.Grid{Columns: []show.Column{{Title: "focus at", Right: true}, {Title: ""}}}
	for i, stop := range stops {
		// The smallest openings go first where the table is too wide.
		g.Columns = append(g.Columns, show.Column{Title: p.Quantity(stop, "f/"), Right: true, Spare: len(stops) - i})
	}
	for _, m := range marks {
		near := []show.Cell{{Text: p.Quantity(m.Distance, "m"), Tone: show.Strong}, {Text: "near"}}
		far := []show.Cell{{}, {Text: "far"}}
		for i := range stops {
			near, far = append(near, show.Cell{Text: bare(m.Near[i], p)}), append(far, show.Cell{Text: bare(m.Far[i], p)})
		}
		g.Rows = append(g.Rows, near, far)
	}
	out.Grid(g)
	out.Paragraph("Distances run from the sensor plane. Depth of field follows the f-number; a lens marked in T-stops shows a little more than is sharp.")
	closest := "its closest focus is not known"
	if !math.IsNaN(b.closest) {
		closest = "its closest focus is " + p.Quantity(b.closest, "m")
	}
	out.Paragraph(fmt.Sprintf("Computed for a thin lens, and %s: check a mark or two with a chart before taping it on.", closest))
	return out
}

// bare writes metres without their unit, which the marks beside them carry, and infinity
// short.
func bare(distance float64, p lang.Printer) string {
	if travel.Unbounded(distance) {
		return "inf"
	}
	return strings.TrimSuffix(p.Quantity(distance, "m"), " m")
}
