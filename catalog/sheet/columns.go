package sheet

import (
	"slices"
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
	byWords func() map[string]*column // by title, folded
}

// A column is one that a sheet of a kind can have.
type column struct {
	keyword string // of the statement, or one of those below for a part of a statement
	title   string // in an exported sheet
	words   titles
	read    func(v *value) string
	dim     lang.Dimension
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
	termsColumn  = "hire_terms"
	sizeColumn   = "size"
	widthColumn  = "width"
	heightColumn = "height"
	pixelsColumn = "mode_pixels"
	noteColumn   = "mode_note"
)

// kinds are those that a list of equipment can be of.
var kinds = sync.OnceValue(func() []*kind { return indexed(lensKind(), cameraKind(), filterKind()) })

// others are a list of shots, which is only read when asked for, and what single answers are
// read of and no lists: a house has a rig or two.
var others = sync.OnceValue(func() []*kind { return indexed(shotKind(), rigKind(), mountKind()) })

func indexed(all ...*kind) []*kind {
	for _, k := range all {
		k.byWords = sync.OnceValue(k.index) // of the kinds that are listed, few are read
	}
	return all
}

// index gives the columns by the words of their titles.
func (k *kind) index() map[string]*column {
	index := map[string]*column{}
	for i := range k.columns {
		for _, list := range k.columns[i].words {
			for _, title := range words(list) {
				index[title] = &k.columns[i]
			}
		}
	}
	return index
}

// kindOf finds a kind by the keyword of its block, or gives nil.
func kindOf(keyword string) *kind {
	for _, k := range slices.Concat(kinds(), others()) {
		if k.keyword == keyword {
			return k
		}
	}
	return nil
}

// candidates are the kinds that a list can be of, by what the caller knows of it.
func candidates(keyword string) []*kind {
	if k := kindOf(keyword); k != nil {
		return []*kind{k}
	}
	return kinds()
}

// KindNames lists the kinds of item that a sheet can hold, as the keywords of their blocks.
func KindNames() []string {
	var names []string
	for _, k := range kinds() {
		names = append(names, k.keyword)
	}
	return names
}

// words splits a list of titles or spellings at its commas and folds them. One with an umlaut
// comes in its spelling with an e too.
func words(list string) []string {
	var folded []string
	for _, word := range strings.Split(list, ",") {
		if word = strings.TrimSpace(word); word == "" {
			continue
		}
		folded = append(folded, fold(word))
		if plain := umlauts.Replace(word); plain != word {
			folded = append(folded, fold(plain))
		}
	}
	return folded
}

var umlauts = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue")

// common gives the columns that every kind has; the names of the kind itself are titles of its
// name too.
func common(name titles) []column {
	for i, titles := range nameTitles {
		name[i] += ", " + titles
	}
	return []column{
		{keyword: nameColumn, title: "Name", read: readLine, words: name, required: true},
		{keyword: makerColumn, title: "Maker", read: readLine, words: makerTitles},
		{keyword: "about", title: "Notes", read: readLine, words: notesTitles},
	}
}

func lensKind() *kind {
	return &kind{keyword: "lens", title: "Lenses", typical: []string{"focal", "aperture", "transmission", "close_focus", "circle"},
		columns: append(common(lensTitles),
			column{keyword: "have", title: "Have", read: readHolding, words: ownerTitles},
			column{keyword: rateColumn, title: "Day rate", read: readMoney, words: rateTitles, dim: lang.Money},
			column{keyword: termsColumn, title: "Hire terms", read: readTerms, words: termsTitles},
			column{keyword: "available", title: "Available", read: readDates, words: availableTitles},
			column{keyword: "mount", title: "Mount", read: readMount, words: mountTitles, required: true},
			column{keyword: "focal", title: "Focal length", read: readInterval, words: focalTitles, dim: lang.Length, unit: "mm", required: true},
			column{keyword: "engraved", title: "Engraved", read: readList, words: engravedTitles, dim: lang.Length, unit: "mm"},
			column{keyword: "aperture", title: "Aperture", read: readStops, words: apertureTitles, dim: lang.Aperture, unit: "f/"},
			column{keyword: "transmission", title: "T-stop", read: readStops, words: tStopTitles, dim: lang.Aperture, unit: "T"},
			column{keyword: "close_focus", title: "Close focus", read: readQuantity, words: closeFocusTitles, dim: lang.Length},
			column{keyword: "magnification", title: "Magnification", read: readMagnification, words: magnificationTitles},
			column{keyword: "pupil", title: "Entrance pupil", read: readEnds, words: pupilTitles, dim: lang.Length, unit: "mm"},
			column{keyword: "breathing", title: "Breathing", read: readEnds, words: breathingTitles, dim: lang.Plain},
			column{keyword: "circle", title: "Image circle", read: readQuantity, words: circleTitles, dim: lang.Length},
			column{keyword: "projection", title: "Projection", read: readProjection, words: projectionTitles},
			column{keyword: "squeeze", title: "Squeeze", read: readSqueeze, words: squeezeTitles},
			column{keyword: "focus", title: "Focus", read: readFocus, words: focusTitles},
			column{keyword: "scale", title: "Focus scale", read: readScale, words: scaleTitles},
			column{keyword: "mass", title: "Mass", read: readQuantity, words: massTitles, dim: lang.Mass},
			column{keyword: "length", title: "Length", read: readQuantity, words: lengthTitles, dim: lang.Length},
			column{keyword: "diameter", title: "Diameter", read: readQuantity, words: diameterTitles, dim: lang.Length},
			column{keyword: "thread", title: "Filter thread", read: readThread, words: threadTitles, dim: lang.Length, unit: "mm"},
			column{keyword: "balance", title: "Balance", read: readQuantity, words: balanceTitles, dim: lang.Length},
			column{keyword: "distortion", title: "Distortion", read: readQuantity, words: distortionTitles, dim: lang.Plain},
			column{keyword: "falloff", title: "Fall-off", read: readQuantity, words: falloffTitles, dim: lang.Stops},
			column{keyword: "correction", title: "Correction", read: readBlock, words: titles{"correction"}},
		)}
}

func cameraKind() *kind {
	return &kind{keyword: "camera", title: "Cameras", typical: []string{sizeColumn, widthColumn, "iso", "iso_range", "mode"},
		columns: append(common(cameraTitles),
			column{keyword: "mount", title: "Mount", read: readMount, words: mountTitles, required: true},
			column{keyword: "mode", title: "Mode", read: readLine, words: modeTitles},
			column{keyword: sizeColumn, title: "Sensor", read: readSize, words: sensorTitles, dim: lang.Length},
			column{keyword: widthColumn, title: "Sensor width", read: readQuantity, words: sensorWidthTitles, dim: lang.Length},
			column{keyword: heightColumn, title: "Sensor height", read: readQuantity, words: sensorHeightTitles, dim: lang.Length},
			column{keyword: pixelsColumn, title: "Mode pixels", read: readPixels, words: pixelsTitles},
			column{keyword: noteColumn, title: "Mode note", read: readLine, words: titles{"mode note, mode notes"}},
			column{keyword: "iso", title: "Base ISO", read: readList, words: isoTitles, dim: lang.Plain},
			column{keyword: "iso_range", title: "ISO range", read: readInterval, words: isoRangeTitles, dim: lang.Plain},
			column{keyword: "built_in_nd", title: "Built-in ND", read: readList, words: builtInNDTitles, dim: lang.Stops},
			column{keyword: "autofocus", title: "Autofocus", read: readFlag, words: autofocusTitles},
			column{keyword: "mass", title: "Mass", read: readQuantity, words: massTitles, dim: lang.Mass},
			column{keyword: "length", title: "Length", read: readQuantity, words: cameraLengthTitles, dim: lang.Length},
			column{keyword: "balance", title: "Balance", read: readQuantity, words: balanceTitles, dim: lang.Length},
			column{keyword: "balance_height", title: "Balance height", read: readQuantity, words: balanceHeightTitles, dim: lang.Length},
			column{keyword: "axis_height", title: "Axis height", read: readQuantity, words: axisHeightTitles, dim: lang.Length},
		)}
}

func filterKind() *kind {
	return &kind{keyword: "filter", title: "Filters", typical: []string{"kind", "strength"},
		columns: append(common(filterTitles),
			column{keyword: "kind", title: "Kind", read: readFilterKind, words: filterKindTitles, required: true},
			column{keyword: "thread", title: "Thread", read: readThreadSize, words: filterThreadTitles, dim: lang.Length, unit: "mm", required: true},
			column{keyword: "front", title: "Front thread", read: readThreadSize, words: frontThreadTitles, dim: lang.Length, unit: "mm"},
			column{keyword: "strength", title: "Strength", read: readStrength, words: strengthTitles, dim: lang.Stops},
			column{keyword: "mass", title: "Mass", read: readQuantity, words: massTitles, dim: lang.Mass},
		)}
}

func rigKind() *kind {
	return &kind{keyword: "rig", title: "Rigs", columns: append(common(titles{}),
		column{keyword: "payload", title: "Payload", read: readInterval, dim: lang.Mass},
		column{keyword: "wobble", title: "Wobble", read: readQuantity, dim: lang.Angle},
		column{keyword: "isolation", title: "Isolation", read: readQuantity, dim: lang.Plain},
		column{keyword: "stage_height", title: "Stage height", read: readQuantity, dim: lang.Length},
		column{keyword: "stage_travel", title: "Stage travel", read: readQuantity, dim: lang.Length},
		column{keyword: "post", title: "Post", read: readInterval, dim: lang.Length},
		column{keyword: "sled_mass", title: "Sled mass", read: readQuantity, dim: lang.Mass},
		column{keyword: "base_mass", title: "Base mass", read: readQuantity, dim: lang.Mass},
		column{keyword: "sled_balance", title: "Sled balance", read: readQuantity, dim: lang.Length},
		column{keyword: "sled_inertia", title: "Sled inertia", read: readQuantity, dim: lang.Inertia},
		column{keyword: "plate_mass", title: "Plate mass", read: readQuantity, dim: lang.Mass},
		column{keyword: "plates", title: "Plates", read: readQuantity, dim: lang.Plain},
		column{keyword: "plate_reach", title: "Plate reach", read: readQuantity, dim: lang.Length},
	)}
}

func mountKind() *kind {
	return &kind{keyword: "mount", title: "Mounts", columns: append(common(titles{}),
		column{keyword: "flange", title: "Flange distance", read: readQuantity, dim: lang.Length, unit: "mm"},
		column{keyword: "throat", title: "Throat", read: readQuantity, dim: lang.Length, unit: "mm"},
	)}
}
