package cmd

import (
	"fmt"
	"math"
	"os"

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
	db, found := lenscorrection.Read(a.budget, database{os.DirFS(folder), a, folder})
	if found.HasErrors() {
		return found
	}
	matches := db.Find(f.find)
	if len(matches) == 0 {
		return usage(lang.UnknownName, "no lens of the database has %q in its name", f.find).
			because("It holds %d lenses, mostly of still cameras. Give fewer words, as a focal length.", len(db.Lenses))
	}
	if f.dryRun {
		if err := a.show(matchesView(db, matches, frame)); err != nil {
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
		return a.writeText(textWriter(text))
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

// A match is a lens of the database, with its distortion at the edges of a frame at each
// focal length that was measured.
type match struct {
	*lenscorrection.Lens
	edges []measuredEdges
}

type measuredEdges struct {
	lens  string
	focal float64
	catalog.Edges
}

func measured(db *lenscorrection.Database, l *lenscorrection.Lens, frame optics.Frame) match {
	m := match{Lens: l}
	correction := db.Correction(l)
	if curve, ok := correction.DistortionCurve(); ok {
		for _, focal := range curve.Measured() {
			m.edges = append(m.edges, measuredEdges{l.Name(), focal, curve.Edges(focal, frame.Width, frame.Height)})
		}
	}
	return m
}

var edgesListing = listing[measuredEdges]{
	{key: "lens", value: func(e measuredEdges) any { return e.lens }},
	{key: "focal_mm", Column: show.Column{Title: "focal", Right: true}, value: func(e measuredEdges) any { return travel.FigureOf(e.focal, "mm") }},
	edgeItem("side", func(e measuredEdges) float64 { return e.Side }),
	edgeItem("top", func(e measuredEdges) float64 { return e.Top }),
	edgeItem("corner", func(e measuredEdges) float64 { return e.Corner }),
}

// edgeItem is the distortion at one point of the frame, in percent to the fourth digit.
func edgeItem(where string, share func(measuredEdges) float64) item[measuredEdges] {
	percent := func(e measuredEdges) travel.Number { return travel.Number(math.Round(share(e)*1e6) / 1e4) }
	return item[measuredEdges]{
		key: where + "_pct", Column: show.Column{Title: where, Right: true}, value: func(e measuredEdges) any { return percent(e) },
		cell: func(e measuredEdges, _ lang.Printer) show.Cell {
			return show.Cell{Text: fmt.Sprintf("%+.2f%%", percent(e))}
		},
	}
}

var matchListing = listing[match]{
	{key: "name", Column: show.Column{Title: "lens", Wraps: true}, tone: show.Strong, value: func(m match) any { return m.Name() }},
	{key: "mounts", value: func(m match) any { return travel.List(m.Mounts) }},
	{key: "focal_low_mm", Column: show.Column{Title: "focal", Right: true}, value: func(m match) any { return travel.FigureOf(m.FocalLow.OrNaN(), "mm") },
		cell: func(m match, p lang.Printer) show.Cell {
			return show.Cell{Text: focalRange(lang.Interval{Low: m.FocalLow, High: m.FocalHigh}, p)}
		}},
	{key: "focal_high_mm", value: func(m match) any { return travel.FigureOf(m.FocalHigh.OrNaN(), "mm") }},
	{Column: show.Column{Title: "mounts", Wraps: true}, value: func(m match) any { return m.Mounts }},
	{key: "projection", value: func(m match) any { word, _ := m.Projection(); return word }},
	{key: "crop", Column: show.Column{Title: "crop", Right: true}, value: func(m match) any { return travel.FigureOf(m.Crop, "") }},
	{key: "file", value: func(m match) any { return m.File }},
	{Column: show.Column{Title: "distortion", Right: true}, value: func(m match) any { return len(m.edges) }},
	{key: "shadings", Column: show.Column{Title: "shading", Right: true}, value: func(m match) any { return len(m.Shadings) }},
	{key: "distortion", value: func(m match) any { return edgesListing.objects(m.edges) }},
}

// matchesView shows the lenses of the database that were found.
func matchesView(db *lenscorrection.Database, found []*lenscorrection.Lens, frame optics.Frame) view {
	var matches []match
	var edges []measuredEdges
	for _, l := range found {
		m := measured(db, l, frame)
		matches, edges = append(matches, m), append(edges, m.edges...)
	}
	return view{
		data: objectFor("catalog-correction",
			travel.Member{Key: "made", Value: db.Made}, // "" when the database does not say
			travel.Member{Key: "licence", Value: lenscorrection.Licence},
			travel.Member{Key: "frame_width_mm", Value: travel.FigureOf(frame.Width, "mm")},
			travel.Member{Key: "frame_height_mm", Value: travel.FigureOf(frame.Height, "mm")},
			travel.Member{Key: "lenses", Value: matchListing.objects(matches)},
		),
		rows: rowsOf(edgesListing.objects(edges)),
		page: func(p lang.Printer) show.Page {
			var out show.Page
			out.Heading("Lenses of the lens-correction database")
			out.Grid(matchListing.grid(matches, p))
			if len(matches) == 1 {
				out.Heading("Distortion at the edges of " + sizeText(p, frame))
				out.Grid(edgesListing.grid(edges, p))
				out.Paragraph("Above zero a point lies too far out (pincushion), below zero too near (barrel); signs that differ along a line make it wavy. Measured by others on a copy of their own.")
			}
			made := ""
			if db.Made != "" {
				made = " of " + db.Made
			}
			out.Paragraph(fmt.Sprintf("Source: open lens-correction database%s, licence %s.", made, lenscorrection.Licence))
			return out
		},
	}
}
