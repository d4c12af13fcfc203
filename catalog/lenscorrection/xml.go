package lenscorrection

import (
	"cmp"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// The elements of a file. What is not named here is passed over.
type (
	lensElement struct {
		Makers      []nameElement      `xml:"maker"`
		Models      []nameElement      `xml:"model"`
		Mounts      []string           `xml:"mount"`
		Focal       focalElement       `xml:"focal"`
		Type        string             `xml:"type"`
		Crop        string             `xml:"cropfactor"`
		Aspect      string             `xml:"aspect-ratio"`
		Calibration calibrationElement `xml:"calibration"`
	}
	nameElement struct {
		Language string `xml:"lang,attr"`
		Text     string `xml:",chardata"`
	}
	focalElement struct {
		Value string `xml:"value,attr"`
		Min   string `xml:"min,attr"`
		Max   string `xml:"max,attr"`
	}
	calibrationElement struct {
		Distortions []distortionElement `xml:"distortion"`
		Shadings    []shadingElement    `xml:"vignetting"`
		Others      []otherElement      `xml:",any"`
	}
	distortionElement struct {
		Model string `xml:"model,attr"`
		Focal string `xml:"focal,attr"`
		K1    string `xml:"k1,attr"`
		K2    string `xml:"k2,attr"`
		A     string `xml:"a,attr"`
		B     string `xml:"b,attr"`
		C     string `xml:"c,attr"`
	}
	shadingElement struct {
		Model    string `xml:"model,attr"`
		Focal    string `xml:"focal,attr"`
		Aperture string `xml:"aperture,attr"`
		Distance string `xml:"distance,attr"`
		K1       string `xml:"k1,attr"`
		K2       string `xml:"k2,attr"`
		K3       string `xml:"k3,attr"`
	}
	// otherElement is a measurement of something else, of which the focal length tells
	// what range the lens has.
	otherElement struct {
		Focal string `xml:"focal,attr"`
	}
)

// numbers turns the texts of one lens into numbers, and keeps the first that is none.
type numbers struct{ err error }

// number reads a finite number; one that is not given is zero.
func (n *numbers) number(text string) float64 {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0
	}
	value, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(value) || math.IsInf(value, 0) {
		n.err = cmp.Or(n.err, fmt.Errorf("%q is no number", text))
	}
	return value
}

// ratio reads "3:2" or "1.5".
func (n *numbers) ratio(text string) float64 {
	long, short, both := strings.Cut(text, ":")
	value := n.number(long)
	if both {
		value /= n.number(short)
	}
	if text != "" && !(value > 0 && value < 100) {
		n.err = cmp.Or(n.err, fmt.Errorf("%q is no aspect ratio", text))
	}
	return value
}

// millimetres reads a length.
func (n *numbers) millimetres(text string) lang.Quantity {
	return lang.NewQuantity(n.number(text)/1000, lang.Length)
}

// newestVersion is that of the files of release 0.3. Later ones count their coefficients
// from another unit.
const newestVersion = 1

// readFile gives the lenses of one file in their order. A lens that cannot be read is
// reported and left out.
func readFile(src *lang.Source) ([]*Lens, lang.Diagnostics) {
	var lenses []*Lens
	var found lang.Diagnostics
	decoder := xml.NewDecoder(strings.NewReader(src.Text))
	report := func(severity lang.Severity, at int64, summary, detail string) {
		start := min(int(at), len(src.Text))
		found.Add(lang.Diagnostic{
			Severity: severity, Code: lang.UnexpectedText, Span: lang.Span{Source: src, Start: start, End: start},
			Summary: summary, Detail: detail,
		})
	}
	const remedy = "Name a folder of the open lens-correction database, as its packages install it."
	begun := false
	for depth := 0; ; {
		before := decoder.InputOffset()
		token, err := decoder.Token()
		if err == io.EOF && begun {
			return lenses, found
		}
		if err != nil {
			report(lang.Error, decoder.InputOffset(), "the XML cannot be read: "+reason(err), remedy)
			return lenses, found
		}
		switch element := token.(type) {
		case xml.EndElement:
			depth--
		case xml.StartElement:
			switch {
			case depth == 0 && element.Name.Local != "lensdatabase":
				report(lang.Error, before, fmt.Sprintf("%q is no file of the lens-correction database: it begins with %q", src.Name, element.Name.Local), remedy)
				return nil, found
			case depth == 0 && versionOf(element) > newestVersion:
				report(lang.Error, before, fmt.Sprintf("%q is of version %d of the database, and %d is the newest that can be read", src.Name, versionOf(element), newestVersion),
					"Later versions count their coefficients from another unit. Name the folder of an earlier one.")
				return nil, found
			case depth == 1 && element.Name.Local == "lens":
				var e lensElement
				if err := decoder.DecodeElement(&e, &element); err != nil {
					report(lang.Error, before, "this lens cannot be read: "+reason(err), remedy)
					return lenses, found
				}
				lens, err := e.lens()
				if err != nil {
					report(lang.Warning, before, fmt.Sprintf("the lens %q is left out: %s", lens.Name(), err), "Correct the file, or take another lens.")
					continue
				}
				lens.File = src.Name
				lenses = append(lenses, lens)
				continue
			}
			depth++
			begun = true
		}
	}
}

func versionOf(element xml.StartElement) int {
	for _, attribute := range element.Attr {
		if attribute.Name.Local == "version" {
			version, err := strconv.Atoi(attribute.Value)
			if err != nil {
				return newestVersion + 1
			}
			return version
		}
	}
	return 0
}

// reason gives the plain reason of a fault of XML.
func reason(err error) string {
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		return syntax.Msg
	}
	return err.Error()
}

func (e *lensElement) lens() (*Lens, error) {
	n := &numbers{}
	l := &Lens{
		Maker: canonical(e.Makers), Model: canonical(e.Models), Type: strings.ToLower(strings.TrimSpace(e.Type)), Crop: n.number(e.Crop), Aspect: n.ratio(e.Aspect),
	}
	for _, mount := range e.Mounts {
		l.Mounts = append(l.Mounts, oneLine(mount))
	}
	for _, name := range append(e.Makers, e.Models...) {
		l.search += " " + strings.ToLower(name.Text)
	}
	for i := range e.Calibration.Distortions {
		if d, ok := e.Calibration.Distortions[i].distortion(n); ok {
			l.Distortions = append(l.Distortions, d)
		}
	}
	for i := range e.Calibration.Shadings {
		if s := &e.Calibration.Shadings[i]; s.Model == "pa" {
			l.Shadings = append(l.Shadings, s.shading(n))
		}
	}
	l.FocalLow, l.FocalHigh = e.focalRange(l, n)
	if l.Crop <= 0 && n.err == nil {
		n.err = errors.New("it has no crop factor")
	}
	return l, n.err
}

// canonical gives the last name without a language, or else the first.
func canonical(names []nameElement) string {
	chosen := ""
	for i, name := range names {
		if name.Language == "" || i == 0 {
			chosen = name.Text
		}
	}
	return oneLine(chosen)
}

// oneLine gives a text with single blanks in the place of white space.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

func (d *distortionElement) distortion(n *numbers) (catalog.Distortion, bool) {
	out := catalog.Distortion{Focal: n.millimetres(d.Focal), Model: d.Model}
	switch d.Model {
	case catalog.Poly3:
		out.Terms = [3]float64{n.number(d.K1)}
	case catalog.Poly5:
		out.Terms = [3]float64{n.number(d.K1), n.number(d.K2)}
	case catalog.PTLens:
		out.Terms = [3]float64{n.number(d.A), n.number(d.B), n.number(d.C)}
	default:
		return out, false
	}
	return out, true
}

func (s *shadingElement) shading(n *numbers) catalog.Shading {
	return catalog.Shading{
		Focal:    n.millimetres(s.Focal),
		Stop:     lang.NewQuantity(n.number(s.Aperture), lang.Aperture),
		Distance: lang.NewQuantity(n.number(s.Distance), lang.Length),
		Terms:    [3]float64{n.number(s.K1), n.number(s.K2), n.number(s.K3)},
	}
}

// focalRange gives the ends of the range of focal lengths: as the file gives them, else as
// the name of the lens does together with the settings that were measured.
func (e *lensElement) focalRange(l *Lens, n *numbers) (low, high lang.Quantity) {
	least, most := n.number(e.Focal.Min), n.number(e.Focal.Max)
	if fixed := n.number(e.Focal.Value); fixed > 0 {
		least, most = fixed, fixed
	}
	guessLow, guessHigh := math.Inf(1), 0.0
	if !combined().MatchString(l.Model) {
		guessLow, guessHigh = focalOfName(l.Model)
	}
	measured := func(focal float64) {
		guessLow, guessHigh = min(guessLow, focal), max(guessHigh, focal)
	}
	for _, d := range e.Calibration.Distortions {
		measured(n.number(d.Focal))
	}
	for _, s := range e.Calibration.Shadings {
		measured(n.number(s.Focal))
	}
	for _, o := range e.Calibration.Others {
		measured(n.number(o.Focal))
	}
	if least == 0 && guessLow > 0 && !math.IsInf(guessLow, 0) {
		least = guessLow
	}
	if most == 0 {
		most = max(least, guessHigh)
	}
	if least == 0 {
		return lang.Quantity{}, lang.Quantity{}
	}
	return lang.NewQuantity(least/1000, lang.Length), lang.NewQuantity(most/1000, lang.Length)
}

// nameForms are the ways in which names of lenses give focal length and stop, each with the
// groups of the two ends of the focal length.
var nameForms = sync.OnceValue(func() []nameForm {
	return []nameForm{
		// 24-70mm f/2.8, 50 1.8
		{regexp.MustCompile(`(?:\s+|^)(\d[\d.]*)(?:-(\d[\d.]*))?(?:mm)?\s+(?:f/|f|1/|1:)?[\d.]+(?:-[\d.]+)?`), 1, 2},
		// 1:2.8 24-70mm
		{regexp.MustCompile(`\s+1:[\d.]+(?:-[\d.]+)?\s+([\d.]+)(?:-([\d.]+))?(?:mm)?`), 1, 2},
		// 2.8-4/24-70
		{regexp.MustCompile(`[\d.]+(?:-[\d.]+)?\s*/\s*([\d.]+)(?:-([\d.]+))?`), 1, 2},
	}
})

// combined finds the names of a lens with something behind it, which has another focal
// length than that in its name.
var combined = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)adapter|reducer|booster|extender|converter`)
})

type nameForm struct {
	form      *regexp.Regexp
	low, high int
}

// focalOfName gives the focal lengths in a name, in millimetres; with none the least is
// infinite and the most zero.
func focalOfName(name string) (low, high float64) {
	for _, f := range nameForms() {
		match := f.form.FindStringSubmatch(name)
		if match == nil {
			continue
		}
		n := &numbers{}
		low, high = n.number(match[f.low]), n.number(match[f.high])
		if n.err == nil && low > 0 {
			return low, max(low, high)
		}
	}
	return math.Inf(1), 0
}
