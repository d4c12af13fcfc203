package sheet

import (
	"strings"
	"sync"

	"glassbrief/lang"
)

// A kind is a kind of item that the rows of a sheet can describe.
type kind struct {
	keyword string // of the block
	title   string // of an exported sheet
	columns []column
	// typical are the columns that tell a sheet of this kind from one of another.
	typical []string
}

// A column is one that a sheet of a kind can have.
type column struct {
	keyword string // of the statement, or one of those below for a part of a statement
	title   string // in an exported sheet
	// words are the titles that people give it, in lower case, without units, with single
	// blanks between words.
	words []string
	read  func(v *value) string
	dim   lang.Dimension
	// unit is the one that people leave out, as mm for a focal length. When it is "", a
	// number without a unit is a fault.
	unit     string
	required bool
}

// Columns for the name, and for parts of a statement.
const (
	nameColumn   = "name"
	makerColumn  = "maker"
	rateColumn   = "day_rate"
	sizeColumn   = "size"
	widthColumn  = "width"
	heightColumn = "height"
	noteColumn   = "mode_note"
)

var kinds = sync.OnceValue(func() []*kind { return []*kind{lensKind(), cameraKind(), filterKind()} })

// kindOf finds a kind by the keyword of its block, or gives nil.
func kindOf(keyword string) *kind {
	for _, k := range kinds() {
		if k.keyword == keyword {
			return k
		}
	}
	return nil
}

// KindNames lists the kinds of item that a sheet can hold, as the keywords of their blocks.
func KindNames() []string {
	var names []string
	for _, k := range kinds() {
		names = append(names, k.keyword)
	}
	return names
}

// words splits a list of titles at its commas.
func words(list string) []string {
	titles := strings.Split(list, ",")
	for i := range titles {
		titles[i] = strings.TrimSpace(titles[i])
	}
	return titles
}

func common(name string) []column {
	return []column{
		{keyword: nameColumn, title: "Name", read: readLine, required: true,
			words: words("name, model, designation, item, title, bezeichnung, modell, " + name)},
		{keyword: makerColumn, title: "Maker", read: readLine,
			words: words("maker, make, brand, manufacturer, series, set, line, hersteller, marke")},
		{keyword: "about", title: "Notes", read: readLine,
			words: words("about, notes, note, remarks, remark, comments, comment, info, description, bemerkung, bemerkungen, notizen, beschreibung")},
	}
}

func lensKind() *kind {
	return &kind{keyword: "lens", title: "Lenses", typical: []string{"focal", "aperture", "transmission", "close_focus", "circle"},
		columns: append(common("lens, lens name, lens model, glass, objective, objektiv"),
			column{keyword: "have", title: "Have", read: readHolding,
				words: words("have, status, ownership, owned or hired, own or rent, source, bestand, besitz")},
			column{keyword: rateColumn, title: "Day rate", read: readMoney, dim: lang.Money,
				words: words("day rate, daily rate, rate, price, price per day, price a day, price day, rental, rent, rent per day, hire, hire per day, per day, hire day, rent day, rental day, rate day, day price, tagespreis, miete, preis")},
			column{keyword: "mount", title: "Mount", read: readMount, required: true,
				words: words("mount, lens mount, fitting, bayonet, anschluss, bajonett, mount type")},
			column{keyword: "focal", title: "Focal length", read: readInterval, dim: lang.Length, unit: "mm", required: true,
				words: words("focal, focal length, focal lengths, focal range, fl, range, zoom range, brennweite, brennweiten")},
			column{keyword: "engraved", title: "Engraved", read: readList, dim: lang.Length, unit: "mm",
				words: words("engraved, engraved focal lengths, zoom marks, zoom ring marks, marked focal lengths")},
			column{keyword: "aperture", title: "Aperture", read: readStops, dim: lang.Aperture, unit: "f/",
				words: words("aperture, max aperture, maximum aperture, widest aperture, apertures, aperture range, f stop, f stops, fstop, f number, f no, iris, speed, max f stop, widest stop, lichtstärke, blende, öffnung")},
			column{keyword: "transmission", title: "T-stop", read: readStops, dim: lang.Aperture, unit: "T",
				words: words("transmission, t stop, tstop, t number, t no, t, max t stop, widest t stop")},
			column{keyword: "close_focus", title: "Close focus", read: readQuantity, dim: lang.Length,
				words: words("close focus, closest focus, minimum focus, min focus, min focus distance, minimum focus distance, close focus distance, mfd, mod, cf, cfd, minimum object distance, nearest focus, naheinstellgrenze, nahgrenze")},
			column{keyword: "magnification", title: "Magnification", read: readMagnification,
				words: words("magnification, max magnification, maximum magnification, reproduction ratio, mag, abbildungsmaßstab, abbildungsmassstab")},
			column{keyword: "circle", title: "Image circle", read: readQuantity, dim: lang.Length,
				words: words("circle, image circle, image circle diameter, ic, bildkreis")},
			column{keyword: "projection", title: "Projection", read: readProjection, words: words("projection, projektion")},
			column{keyword: "squeeze", title: "Squeeze", read: readSqueeze, words: words("squeeze, squeeze factor, anamorphic, anamorphic squeeze, anamorphic factor")},
			column{keyword: "focus", title: "Focus", read: readFocus, words: words("focus, focus type, focusing, focussing, af mf, autofocus, af, fokus")},
			column{keyword: "scale", title: "Focus scale", read: readScale, words: words("scale, focus scale, distance scale, focus marks, entfernungsskala")},
			column{keyword: "mass", title: "Mass", read: readQuantity, dim: lang.Mass, words: words("mass, weight, wt, gewicht")},
			column{keyword: "length", title: "Length", read: readQuantity, dim: lang.Length, words: words("length, len, l, länge, laenge, baulänge")},
			column{keyword: "diameter", title: "Diameter", read: readQuantity, dim: lang.Length,
				words: words("diameter, dia, front diameter, front dia, front, od, front od, outer diameter, max diameter, ø, front ø, ø front, durchmesser, frontdurchmesser")},
			column{keyword: "thread", title: "Filter thread", read: readThread, dim: lang.Length, unit: "mm",
				words: words("thread, filter thread, filter, filter size, filter ø, front thread, screw in filter, filtergewinde, filterdurchmesser")},
			column{keyword: "balance", title: "Balance", read: readQuantity, dim: lang.Length,
				words: words("balance, balance point, centre of gravity, center of gravity, cog, cg, centre of mass, center of mass, schwerpunkt")},
			column{keyword: "distortion", title: "Distortion", read: readQuantity, dim: lang.Plain, words: words("distortion, verzeichnung")},
			column{keyword: "falloff", title: "Fall-off", read: readQuantity, dim: lang.Stops,
				words: words("falloff, fall off, light fall off, light falloff, vignetting, shading, vignettierung, randabfall")},
			column{keyword: "correction", title: "Correction", read: readBlock, words: words("correction")},
		)}
}

func cameraKind() *kind {
	return &kind{keyword: "camera", title: "Cameras", typical: []string{sizeColumn, widthColumn, "iso", "iso_range", "mode"},
		columns: append(common("camera, camera name, camera body, body, kamera"),
			column{keyword: "mount", title: "Mount", read: readMount, required: true, words: words("mount, lens mount, bayonet, anschluss, bajonett")},
			column{keyword: "mode", title: "Mode", read: readLine, words: words("mode, sensor mode, recording mode, modus")},
			column{keyword: sizeColumn, title: "Sensor", read: readSize, dim: lang.Length, words: words("sensor, sensor size, size, frame, frame size, gate, imager, sensorgröße")},
			column{keyword: widthColumn, title: "Sensor width", read: readQuantity, dim: lang.Length, words: words("sensor width, width, sensorbreite")},
			column{keyword: heightColumn, title: "Sensor height", read: readQuantity, dim: lang.Length, words: words("sensor height, height, sensorhöhe")},
			column{keyword: noteColumn, title: "Mode note", read: readLine, words: words("mode note, mode notes")},
			column{keyword: "iso", title: "Base ISO", read: readList, dim: lang.Plain, words: words("iso, base iso, native iso, dual iso, dual native iso, ei, base ei, asa")},
			column{keyword: "iso_range", title: "ISO range", read: readInterval, dim: lang.Plain, words: words("iso range, usable iso, ei range, iso min max")},
			column{keyword: "built_in_nd", title: "Built-in ND", read: readList, dim: lang.Stops,
				words: words("built in nd, builtin nd, internal nd, nd, nds, nd filters, interner nd")},
			column{keyword: "autofocus", title: "Autofocus", read: readFlag, words: words("autofocus, af")},
			column{keyword: "mass", title: "Mass", read: readQuantity, dim: lang.Mass, words: words("mass, weight, wt, gewicht")},
			column{keyword: "length", title: "Length", read: readQuantity, dim: lang.Length, words: words("length, depth, länge, tiefe")},
			column{keyword: "balance", title: "Balance", read: readQuantity, dim: lang.Length,
				words: words("balance, balance point, centre of gravity, center of gravity, cog, centre of mass, schwerpunkt")},
			column{keyword: "balance_height", title: "Balance height", read: readQuantity, dim: lang.Length, words: words("balance height, height of centre of gravity, cog height")},
			column{keyword: "axis_height", title: "Axis height", read: readQuantity, dim: lang.Length, words: words("axis height, lens axis height, optical axis height, lens height")},
		)}
}

func filterKind() *kind {
	return &kind{keyword: "filter", title: "Filters", typical: []string{"kind", "strength"},
		columns: append(common("filter, filter name"),
			column{keyword: "kind", title: "Kind", read: readFilterKind, required: true, words: words("kind, type, filter type, filter kind, art")},
			column{keyword: "thread", title: "Thread", read: readQuantity, dim: lang.Length, unit: "mm", required: true,
				words: words("thread, filter thread, size, filter size, diameter, ø, gewinde, filtergewinde")},
			column{keyword: "front", title: "Front thread", read: readQuantity, dim: lang.Length, unit: "mm",
				words: words("front thread, front, outer thread, to")},
			column{keyword: "strength", title: "Strength", read: readStrength, dim: lang.Stops,
				words: words("strength, stops, density, nd, grade, stärke, dichte")},
			column{keyword: "mass", title: "Mass", read: readQuantity, dim: lang.Mass, words: words("mass, weight, wt, gewicht")},
		)}
}
