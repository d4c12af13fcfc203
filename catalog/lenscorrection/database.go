// Package lenscorrection reads the open lens-correction database: XML files in which
// people publish what they measured of the distortion and shading of still lenses.
//
// [Read] reads a folder of it, [Database.Find] finds lenses by words, and [Database.Draft]
// turns one into a draft for a catalogue. The database is read where the user has it, and
// none of it is part of this program. Its data have a licence of their own, [Licence],
// which is copied into the catalogue with the figures.
//
// The database has no mass, closest focus, T-stop or thread, and hardly any cine lenses.
package lenscorrection

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// Licence is that of the database's data, as its authors publish it.
const Licence = "CC BY-SA 3.0"

// stampFile holds the time at which the database was made, in seconds since 1970.
const stampFile = "timestamp.txt"

// A Database is the lenses of a folder of XML files.
type Database struct {
	Lenses []*Lens // in the order of files, and within each
	Made   string  // the day, as 2022-02-20, or ""
}

// A Lens is one lens of the database.
type Lens struct {
	Maker, Model        string
	Mounts              []string
	FocalLow, FocalHigh lang.Quantity // equal for a prime
	Type                string        // of projection; "" for rectilinear
	Crop                float64       // crop factor of the camera that it was measured on
	Aspect              float64       // of the pictures it was measured on; 0 for 3:2
	Distortions         []catalog.Distortion
	Shadings            []catalog.Shading
	File                string
	search              string // names in every language, in small letters
}

// Read reads every XML file of a folder, without those below it. After errors the database
// holds what could be read. What they cost is spent of a budget.
func Read(budget *lang.Budget, folder fs.FS) (*Database, lang.Diagnostics) {
	budget = budget.Or()
	var found lang.Diagnostics
	db := &Database{Made: stamp(folder)}
	names, err := fs.Glob(folder, "*.xml")
	if err == nil && len(names) == 0 {
		_, err = fs.Stat(folder, ".")
		err = errors.Join(err, errors.New("it holds no XML files"))
	}
	if err != nil {
		return db, lang.Diagnostics{{
			Severity: lang.Error, Code: lang.UnreadableFile,
			Summary: fmt.Sprintf("the folder is no lens-correction database: %s", err),
			Detail:  "Name the folder with the XML files, as the package of the database installs it.",
		}}
	}
	for _, name := range names {
		src, ds := open(budget, folder, name)
		if !ds.HasErrors() {
			var lenses []*Lens
			lenses, ds = readFile(src)
			db.Lenses = append(db.Lenses, lenses...)
		}
		found = append(found, ds...)
	}
	return db, found
}

func open(budget *lang.Budget, folder fs.FS, name string) (*lang.Source, lang.Diagnostics) {
	file, err := folder.Open(name)
	if err != nil {
		return nil, unreadable(name, err)
	}
	defer file.Close()
	text, err := budget.Read(file)
	if err != nil {
		return nil, unreadable(name, err)
	}
	return budget.Source(name, text, lang.OfFile)
}

func unreadable(name string, err error) lang.Diagnostics {
	var of *fs.PathError
	if errors.As(err, &of) {
		err = of.Err
	}
	return lang.Diagnostics{{
		Severity: lang.Error, Code: lang.UnreadableFile,
		Summary: fmt.Sprintf("%q cannot be read: %s", name, err), Detail: "Check the folder and who may read it.",
	}}
}

// stamp gives the day on which the database was made.
func stamp(folder fs.FS) string {
	file, err := folder.Open(stampFile)
	if err != nil {
		return ""
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, 64))
	if err != nil {
		return ""
	}
	seconds, err := strconv.ParseInt(strings.TrimSpace(string(text)), 10, 64)
	if err != nil {
		return ""
	}
	return time.Unix(seconds, 0).UTC().Format(time.DateOnly)
}

// Find gives the lenses in whose maker or model every word occurs, letter case apart.
func (db *Database) Find(words string) []*Lens {
	var matches []*Lens
	wanted := strings.Fields(strings.ToLower(words))
	for _, lens := range db.Lenses {
		if !slices.ContainsFunc(wanted, func(word string) bool { return !strings.Contains(lens.search, word) }) {
			matches = append(matches, lens)
		}
	}
	return matches
}

// Name gives maker and model.
func (l *Lens) Name() string { return catalog.FullName(l.Maker, l.Model) }

// projections maps types of the database to the words of a catalogue.
var projections = map[string]string{
	"": "rectilinear", "rectilinear": "rectilinear", "fisheye": "equidistant",
	"equisolid": "equisolid", "stereographic": "stereographic", "orthographic": "orthographic",
}

// Projection gives the projection of the lens as a word of a catalogue. It is false if a
// catalogue has no word for it.
func (l *Lens) Projection() (word string, ok bool) {
	word, ok = projections[l.Type]
	return word, ok
}

// Correction gives the measurements of the lens.
func (db *Database) Correction(l *Lens) catalog.Correction {
	c := catalog.Correction{
		Source:      lang.Text{Value: db.source(l)},
		Licence:     lang.Text{Value: Licence},
		Crop:        lang.NewQuantity(l.Crop, lang.Plain),
		Distortions: l.Distortions, Shadings: l.Shadings,
	}
	if l.Aspect > 0 {
		c.Aspect.Value = l.Aspect
	}
	return c
}

func (db *Database) source(l *Lens) string {
	text := "open lens-correction database"
	if db.Made != "" {
		text += " of " + db.Made
	}
	return fmt.Sprintf("%s, %s, %s", text, path.Base(l.File), l.Name())
}

// Draft describes the lens for a catalogue, with the given name and mount.
func (db *Database) Draft(l *Lens, name, mount string) catalog.Draft {
	lines := []catalog.Line{{Keyword: "mount", Value: lang.Quote(mount)}}
	if l.FocalLow.Known() {
		focal := catalog.Millimetres(l.FocalLow.Value)
		if l.FocalHigh.Value > l.FocalLow.Value {
			focal += ".." + catalog.Millimetres(l.FocalHigh.Value)
		}
		lines = append(lines, catalog.Line{Keyword: "focal", Value: focal})
	}
	if word, ok := l.Projection(); ok {
		lines = append(lines, catalog.Line{Keyword: "projection", Value: word})
	}
	return catalog.Draft{Kind: "lens", Name: name, Lines: append(lines, db.correctionLine(l))}
}

// Amendment adds the measurements of the lens to one that a catalogue already has.
func (db *Database) Amendment(l *Lens, name string) catalog.Draft {
	return catalog.Draft{Kind: "lens", Name: name, Amends: true, Lines: []catalog.Line{db.correctionLine(l)}}
}

func (db *Database) correctionLine(l *Lens) catalog.Line {
	line := catalog.Line{Keyword: "correction"}
	for _, statement := range db.Correction(l).Lines() {
		keyword, value, _ := strings.Cut(statement, " ")
		line.Block = append(line.Block, catalog.Line{Keyword: keyword, Value: value})
	}
	return line
}
