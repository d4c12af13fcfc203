package catalog

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"glassbrief/lang"
)

// A Correction is what somebody measured of a lens's picture: how it distorts and how it
// darkens towards the corners, as coefficients of models at some settings. Its figures
// hold for the copy that was measured and for others of its make about as well.
type Correction struct {
	// Where the figures come from.
	Source lang.Text `lang:"source,required"`
	// Licence under which they may be used.
	Licence lang.Text `lang:"licence" absent:""`
	// Crop factor of the camera that they were measured on, against the diagonal of
	// 36mm x 24mm.
	Crop lang.Quantity `lang:"crop,required,dim=plain,usual=0.2..10,possible=0.01..1000"`
	// Aspect ratio of the pictures that they were measured on.
	Aspect lang.Ratio `lang:"aspect,usual=1..3,possible=1:20..20" absent:"3:2"`
	// Distortion at a focal length: the model (poly3, poly5 or ptlens) and its
	// coefficients, as "distortion 16mm ptlens 0.0065 -0.0167 -0.0155".
	Distortions []Distortion `lang:"distortion,usual=2mm..2m,possible=0.1mm..20m|-1000..1000"`
	// Shading at a focal length, stop and distance: three coefficients, as
	// "shading 16mm f/2.8 10m -0.28 -1.25 0.77".
	Shadings []Shading `lang:"shading,usual=f/0.7..f/64|2mm..100km,possible=f/0.3..f/1000|0.1mm..1000km|-1000..1000"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// Known reports whether the block was given.
func (c Correction) Known() bool { return c.Span.Known() }

// Show writes the correction for people.
func (c Correction) Show(lang.Printer) string {
	var parts []string
	for _, count := range []struct {
		n    int
		what string
	}{{len(c.Distortions), "distortion"}, {len(c.Shadings), "shading"}} {
		if count.n > 0 {
			parts = append(parts, fmt.Sprintf("%s measured at %d settings", count.what, count.n))
		}
	}
	text := strings.Join(append(parts, "from "+c.Source.Value), ", ")
	if c.Licence.Value != "" {
		text += " (" + c.Licence.Value + ")"
	}
	return text
}

// Lines gives the statements of the block as a file writes them.
func (c Correction) Lines() []string {
	lines := []string{"source " + lang.Quote(c.Source.Value)}
	if c.Licence.Value != "" {
		lines = append(lines, "licence "+lang.Quote(c.Licence.Value))
	}
	lines = append(lines, "crop "+exact(c.Crop.Value))
	if c.Aspect.Known() {
		lines = append(lines, "aspect "+exact(c.Aspect.Value))
	}
	for _, d := range c.Distortions {
		lines = append(lines, "distortion "+d.Args())
	}
	for _, s := range c.Shadings {
		lines = append(lines, "shading "+s.Args())
	}
	return lines
}

// The models of distortion.
const (
	Poly3  = "poly3"
	Poly5  = "poly5"
	PTLens = "ptlens"
)

// distortionTerms is how many coefficients each model has.
var distortionTerms = map[string]int{Poly3: 1, Poly5: 2, PTLens: 3}

// A Distortion is a model of distortion at one focal length.
type Distortion struct {
	Focal lang.Quantity
	Model string
	Terms [3]float64 // those that the model lacks are zero
}

// DecodeArgs reads the values of "distortion".
func (d *Distortion) DecodeArgs(args *lang.Args) {
	d.Focal = args.Quantity(lang.Length)
	d.Model = args.Word(Poly3, Poly5, PTLens).Value
	readTerms(args, d.Terms[:distortionTerms[d.Model]])
}

// Args writes the values as a file does.
func (d Distortion) Args() string {
	return fmt.Sprintf("%s %s%s", Millimetres(d.Focal.Value), d.Model, termsText(d.Terms[:distortionTerms[d.Model]]))
}

// A Shading is the model of how a picture darkens towards the corners, at one setting.
type Shading struct {
	Focal, Stop, Distance lang.Quantity
	Terms                 [3]float64
}

// DecodeArgs reads the values of "shading".
func (s *Shading) DecodeArgs(args *lang.Args) {
	s.Focal = args.Quantity(lang.Length)
	s.Stop = args.Quantity(lang.Aperture)
	s.Distance = args.Quantity(lang.Length)
	readTerms(args, s.Terms[:])
}

// Args writes the values as a file does.
func (s Shading) Args() string {
	return fmt.Sprintf("%s f/%s %sm%s", Millimetres(s.Focal.Value), exact(s.Stop.Value), exact(s.Distance.Value), termsText(s.Terms[:]))
}

func readTerms(args *lang.Args, terms []float64) {
	for i := range terms {
		terms[i] = args.Quantity(lang.Plain).Value
	}
}

func termsText(terms []float64) string {
	var b strings.Builder
	for _, term := range terms {
		b.WriteString(" " + exact(term))
	}
	return b.String()
}

// exact writes a number with the digits needed to read the same number back. The language
// has no exponents.
func exact(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

// Millimetres takes a length in metres and writes it in millimetres, to a millionth of a
// millimetre. Smaller digits come from the conversion alone.
func Millimetres(metres float64) string { return exact(math.Round(metres*1e9)/1e6) + "mm" }
