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

// The elements of a file. Others are skipped.
type (
	lensElement struct {
		Makers      []nameElement `xml:"maker"`
		Models      []nameElement `xml:"model"`
		Mounts      []string      `xml:"mount"`
		Focal       setting       `xml:"focal"`
		Type        string        `xml:"type"`
		Crop        string        `xml:"cropfactor"`
		Aspect      string        `xml:"aspect-ratio"`
		Calibration struct {
			Settings []setting `xml:",any"`
		} `xml:"calibration"`
	}
	nameElement struct {
		Language string `xml:"lang,attr"`
		Text     string `xml:",chardata"`
	}
	// A setting is a measurement of something at a focal length, or the range of the lens.
	setting struct {
		XMLName xml.Name
		Attrs   []xml.Attr `xml:",any,attr"`
	}
)

func (s *setting) text(name string) string {
	for _, a := range s.Attrs {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// numbers parses the numbers of one lens, and keeps the first error.
type numbers struct{ err error }

// number parses a finite number; an empty text is zero.
func (n *numbers) number(text string) float64 {
	text = strings.TrimSpace(text)
	if text == "" {
		return 0
	}
	value, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(value) || math.IsInf(value, 0) {
		n.err = cmp.Or(n.err, fmt.Errorf("%q is no number", text))
	}
	return value + 0 // -0 becomes 0, which the language can say
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

// of parses attributes of a setting; missing ones are zero.
func (n *numbers) of(s *setting, names ...string) (values [3]float64) {
	for i, name := range names {
		values[i] = n.number(s.text(name))
	}
	return values
}

// millimetres reads the focal length of a setting.
func (n *numbers) millimetres(s *setting) lang.Quantity {
	return lang.NewQuantity(n.number(s.text("focal"))/1000, lang.Length)
}

// aperture reads the f-number of a setting; a missing one is zero.
func (n *numbers) aperture(s *setting) lang.Quantity {
	value := n.number(s.text("aperture"))
	if value < 0 {
		n.err = cmp.Or(n.err, errors.New("it has a negative aperture"))
	}
	return lang.NewQuantity(value, lang.Aperture)
}

// newestVersion is the version of the files of release 0.3. Later versions use another unit
// of length for their coefficients.
const newestVersion = 1

// readFile gives the lenses of one file. A lens that cannot be read is reported and left out.
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

// reason gives the message of an XML error without its line number.
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
	for i := range e.Calibration.Settings {
		at := &e.Calibration.Settings[i]
		names, known := modelTerms[at.XMLName.Local][at.text("model")]
		switch {
		case !known:
		case at.XMLName.Local == "distortion":
			l.Distortions = append(l.Distortions, catalog.Distortion{Focal: n.millimetres(at), Model: at.text("model"), Terms: n.of(at, names...)})
		default:
			l.Shadings = append(l.Shadings, catalog.Shading{
				Focal: n.millimetres(at), Stop: n.aperture(at), Distance: lang.NewQuantity(n.number(at.text("distance")), lang.Length),
				Terms: n.of(at, names...),
			})
		}
	}
	l.FocalLow, l.FocalHigh = e.focalRange(l, n)
	if l.Crop <= 0 && n.err == nil {
		n.err = errors.New("it has no crop factor")
	}
	return l, n.err
}

// canonical gives the last name that has no language, else the first name.
func canonical(names []nameElement) string {
	chosen := ""
	for i, name := range names {
		if name.Language == "" || i == 0 {
			chosen = name.Text
		}
	}
	return oneLine(chosen)
}

// oneLine replaces all white space by single blanks.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// modelTerms lists the models that a catalogue can hold, with the attributes of their
// coefficients.
var modelTerms = map[string]map[string][]string{
	"distortion": {catalog.Poly3: {"k1"}, catalog.Poly5: {"k1", "k2"}, catalog.PTLens: {"a", "b", "c"}},
	"vignetting": {"pa": {"k1", "k2", "k3"}},
}

// focalRange gives the range of focal lengths. If the file does not say it, the range spans
// the focal lengths in the name and those that were measured.
func (e *lensElement) focalRange(l *Lens, n *numbers) (low, high lang.Quantity) {
	given := n.of(&e.Focal, "min", "max", "value")
	least, most := given[0], given[1]
	if fixed := given[2]; fixed > 0 {
		least, most = fixed, fixed
	}
	guessLow, guessHigh := math.Inf(1), 0.0
	if !combined().MatchString(l.Model) {
		guessLow, guessHigh = focalOfName(l.Model)
	}
	for i := range e.Calibration.Settings {
		focal := n.number(e.Calibration.Settings[i].text("focal"))
		guessLow, guessHigh = min(guessLow, focal), max(guessHigh, focal)
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

// nameForms match focal length and stop in names of lenses. Each has the groups of the two
// ends of the focal length.
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

// combined matches names of a lens with an adapter or converter, whose focal length is not
// the one in the name.
var combined = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)adapter|reducer|booster|extender|converter`)
})

type nameForm struct {
	form      *regexp.Regexp
	low, high int
}

// focalOfName gives the focal lengths in a name, in millimetres. Without any, low is infinite
// and high is zero.
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
