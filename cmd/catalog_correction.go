package cmd

import (
	"fmt"
	"math"
	"os"
	"strings"

	"glassbrief/catalog"
	"glassbrief/catalog/lenscorrection"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/optics"
	"glassbrief/lang"
)

// importCorrection takes what was measured of a lens in from a folder of the open
// lens-correction database.
func (a *app) importCorrection(folder string, f *importFlags, x *importContext, r *reading) error {
	frame, err := f.frame(r)
	if err != nil {
		return err
	}
	if f.find == "" {
		return usage(lang.MissingValue, "%q is a folder: %q is missing", folder, "--find").
			because("It gives words of the name of a lens in the lens-correction database there. To take in a spreadsheet, name the file itself.")
	}
	db, found := lenscorrection.Read(os.DirFS(folder))
	if found.HasErrors() {
		return found
	}
	matches := db.Find(f.find)
	if len(matches) == 0 {
		return usage(lang.UnknownName, "no lens of the database has %q in its name", f.find).
			because("It holds %d lenses, mostly of still cameras. Give fewer words, as a focal length.", len(db.Lenses))
	}
	if f.dryRun {
		if err := a.showMatches(db, matches, frame); err != nil {
			return err
		}
		a.reportWarnings(found)
		return nil
	}
	if len(matches) > 1 {
		var names []string
		for _, l := range matches[:min(len(matches), 8)] {
			names = append(names, l.Name())
		}
		return usage(lang.Contradiction, "%d lenses of the database have %q in their names", len(matches), f.find).
			because("Give more words, for one of %s. --dry-run lists all.", lang.Quoted(names))
	}
	lens := matches[0]
	if f.lens != "" {
		if _, ok := x.all.Lenses.Lookup(f.lens); !ok && len(x.sources()) > 0 {
			return usage(lang.UnknownName, "the catalogue has no lens %q", f.lens).or(lang.Nearest(f.lens, x.all.Lenses.Names())).
				because("Name the catalogue that has it with --catalog or --into, or leave --lens out for a new lens.")
		}
		return a.addAmendment(f, x, db.Amendment(lens, f.lens), found)
	}
	drafts, found := addMounts([]catalog.Draft{db.Draft(lens, lens.Name(), f.mountOf(lens, x.all))}, x.all, found)
	if _, ok := lens.Projection(); !ok {
		c := usage(lang.UnknownWord, "the projection %q of the lens has no word in a catalogue", lens.Type).
			because("The lens is taken for a rectilinear one. Do not use it for what its corners show.")
		c.Severity = lang.Warning
		found.Add(c.Diagnostic)
	}
	return a.addDrafts(f.into, x, drafts, found)
}

// addAmendment adds figures to a lens that the catalogue describes. Without any catalogue
// that does, the text is printed as it is.
func (a *app) addAmendment(f *importFlags, x *importContext, d catalog.Draft, found lang.Diagnostics) error {
	if f.into == "" && len(x.sources()) == 0 {
		a.reportWarnings(found)
		text, _ := catalog.Compose([]catalog.Draft{d})
		return a.write(textWriter(text))
	}
	return a.addDrafts(f.into, x, []catalog.Draft{d}, found)
}

// mountOf gives the mount of a new lens: the one that the flag names, else the first of the
// lens's own that the catalogue has, else its first.
func (f *importFlags) mountOf(l *lenscorrection.Lens, c *catalog.Catalogue) string {
	if f.mount != "" {
		return f.mount
	}
	for _, mount := range l.Mounts {
		if _, ok := c.Mounts.Lookup(mount); ok {
			return mount
		}
	}
	if len(l.Mounts) > 0 {
		return l.Mounts[0]
	}
	return "unknown"
}

// frame gives the part of the sensor that is delivered.
func (f *importFlags) frame(r *reading) (optics.Frame, error) {
	size := r.frame("sensor")
	ratio := read(r, "deliver", lang.ParseRatio)
	if r.failed() {
		return optics.Frame{}, r.found
	}
	sensor := optics.FullFrame // unless a flag names another
	if size.Known() {
		sensor = frameOf(size)
	}
	return optics.Delivered(sensor, 1, ratio.Value), nil
}

type correctionData struct {
	travel.Header
	Made    string        `json:"made"` // day of the database, "" when it does not say
	Licence string        `json:"licence"`
	Width   travel.Number `json:"frame_width_mm"`
	Height  travel.Number `json:"frame_height_mm"`
	Lenses  []matchLens   `json:"lenses"`
}

type matchLens struct {
	Name       string          `json:"name"`
	Mounts     []string        `json:"mounts"`
	FocalLow   travel.Number   `json:"focal_low_mm"`
	FocalHigh  travel.Number   `json:"focal_high_mm"`
	Projection string          `json:"projection"`
	Crop       travel.Number   `json:"crop"`
	File       string          `json:"file"`
	Shadings   int             `json:"shadings"`
	Distortion []distortionRow `json:"distortion"`
}

type distortionRow struct {
	Lens   string        `json:"lens"`
	Focal  travel.Number `json:"focal_mm"`
	Side   travel.Number `json:"side_pct"`
	Top    travel.Number `json:"top_pct"`
	Corner travel.Number `json:"corner_pct"`
}

// showMatches shows the lenses that were found, with their distortion at the edges of a
// frame at each focal length that was measured.
func (a *app) showMatches(db *lenscorrection.Database, matches []*lenscorrection.Lens, frame optics.Frame) error {
	data := correctionData{
		Header: travel.HeaderOf("catalog-correction"), Made: db.Made, Licence: lenscorrection.Licence,
		Width: travel.In(frame.Width, "mm"), Height: travel.In(frame.Height, "mm"), Lenses: []matchLens{},
	}
	rows := []any{}
	for _, l := range matches {
		projection, _ := l.Projection()
		m := matchLens{
			Name: l.Name(), Mounts: travel.List(l.Mounts), FocalLow: travel.In(l.FocalLow.OrNaN(), "mm"), FocalHigh: travel.In(l.FocalHigh.OrNaN(), "mm"),
			Projection: projection, Crop: travel.Number(l.Crop), File: l.File, Shadings: len(l.Shadings), Distortion: []distortionRow{},
		}
		correction := db.Correction(l)
		if curve, ok := correction.DistortionCurve(); ok {
			for _, focal := range curve.Measured() {
				edges := curve.Edges(focal, frame.Width, frame.Height)
				row := distortionRow{m.Name, travel.In(focal, "mm"), percent(edges.Side), percent(edges.Top), percent(edges.Corner)}
				m.Distortion = append(m.Distortion, row)
				rows = append(rows, row)
			}
		}
		data.Lenses = append(data.Lenses, m)
	}
	return a.show(view{data: data, rows: rows, page: func(p lang.Printer) show.Page { return matchesPage(data, p, frame) }})
}

func percent(share float64) travel.Number { return travel.Number(math.Round(share*1e6) / 1e4) }

func matchesPage(data correctionData, p lang.Printer, frame optics.Frame) show.Page {
	var out show.Page
	out.Heading("Lenses of the lens-correction database")
	lenses := show.Grid{Columns: []show.Column{{Title: "lens", Wraps: true}, {Title: "focal", Right: true}, {Title: "mounts", Wraps: true}, {Title: "crop", Right: true}, {Title: "distortion", Right: true}, {Title: "shading", Right: true}}}
	for _, l := range data.Lenses {
		focal := p.Quantity(float64(l.FocalLow)/1000, "mm")
		if l.FocalHigh > l.FocalLow {
			focal = strings.TrimSuffix(focal, " mm") + "-" + p.Quantity(float64(l.FocalHigh)/1000, "mm")
		}
		lenses.Rows = append(lenses.Rows, []show.Cell{
			{Text: l.Name, Tone: show.Strong}, {Text: focal}, {Text: strings.Join(l.Mounts, ", ")}, {Text: p.Quantity(float64(l.Crop), "")},
			{Text: fmt.Sprint(len(l.Distortion))}, {Text: fmt.Sprint(l.Shadings)},
		})
	}
	out.Grid(lenses)
	if len(data.Lenses) == 1 {
		out.Heading("Distortion at the edges of " + sizeText(p, frame))
		rows := show.Grid{Columns: []show.Column{{Title: "focal", Right: true}, {Title: "side", Right: true}, {Title: "top", Right: true}, {Title: "corner", Right: true}}}
		for _, row := range data.Lenses[0].Distortion {
			rows.Rows = append(rows.Rows, []show.Cell{
				{Text: p.Quantity(float64(row.Focal)/1000, "mm")}, {Text: fmt.Sprintf("%+.2f%%", row.Side)}, {Text: fmt.Sprintf("%+.2f%%", row.Top)}, {Text: fmt.Sprintf("%+.2f%%", row.Corner)},
			})
		}
		out.Grid(rows)
		out.Paragraph("Above zero a point lies too far out (pincushion), below zero too near (barrel); signs that differ along a line make it wavy. Measured by others on a copy of their own.")
	}
	made := ""
	if data.Made != "" {
		made = " of " + data.Made
	}
	out.Paragraph(fmt.Sprintf("Source: open lens-correction database%s, licence %s.", made, data.Licence))
	return out
}
