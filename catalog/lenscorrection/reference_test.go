package lenscorrection_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/catalog/lenscorrection"
	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// The C library computes with single precision, in pixels.
const (
	pixels = 0.01
	light  = 1e-4
	single = 1e-5 // of coefficients, relative to 1
)

// A reference is one line of the C program's output: a lens, or what the library makes of
// it at a setting and on a picture.
type reference struct {
	Lens       string       `json:"lens"`
	File       string       `json:"file"`
	Maker      string       `json:"maker"`
	Name       string       `json:"name"`
	Crop       float64      `json:"crop"`
	Aspect     float64      `json:"aspect"`
	Model      string       `json:"model"`
	Distortion [][4]float64 `json:"distortion"`
	Shading    [][6]float64 `json:"shading"`
	FocalLow   float64      `json:"focal_low"`
	FocalHigh  float64      `json:"focal_high"`

	Of         string       `json:"of"`
	Focal      float64      `json:"focal"`
	Aperture   float64      `json:"aperture"`
	Distance   float64      `json:"distance"`
	Terms      [3]float64   `json:"terms"`
	Width      float64      `json:"width"`
	Height     float64      `json:"height"`
	Distorted  [][2]float64 `json:"distorted"`
	Brightness [][2]float64 `json:"brightness"`
}

func readReferences(t *testing.T, text []byte) []reference {
	t.Helper()
	var all []reference
	scanner := bufio.NewScanner(bytes.NewReader(text))
	for scanner.Scan() {
		var r reference
		if err := json.Unmarshal(scanner.Bytes(), &r); err != nil {
			t.Fatalf("%v in %s", err, scanner.Text())
		}
		all = append(all, r)
	}
	if len(all) == 0 || scanner.Err() != nil {
		t.Fatalf("got %d references, %v", len(all), scanner.Err())
	}
	return all
}

func mm(value float64) lang.Quantity { return lang.NewQuantity(value/1000, lang.Length) }

// lens makes a catalogue's lens of an invented one.
func (r reference) lens() *catalog.Lens {
	l := &catalog.Lens{Correction: catalog.Correction{
		Crop: lang.NewQuantity(r.Crop, lang.Plain), Aspect: lang.Ratio{Value: r.Aspect},
	}}
	low, high := math.Inf(1), 0.0
	for _, d := range r.Distortion {
		l.Correction.Distortions = append(l.Correction.Distortions,
			catalog.Distortion{Focal: mm(d[0]), Model: r.Model, Terms: [3]float64(d[1:])})
		low, high = min(low, d[0]), max(high, d[0])
	}
	for _, s := range r.Shading {
		l.Correction.Shadings = append(l.Correction.Shadings, catalog.Shading{
			Focal: mm(s[0]), Stop: lang.NewQuantity(s[1], lang.Aperture), Distance: lang.NewQuantity(s[2], lang.Length),
			Terms: [3]float64(s[3:]),
		})
		low, high = min(low, s[0]), max(high, s[0])
	}
	l.Focal = lang.Interval{Low: mm(low), High: mm(high)}
	return l
}

// middle gives the scale in the middle of the picture, by the library's documentation of
// its models.
func (r reference) middle() float64 {
	switch r.Model {
	case "poly3":
		return 1 - r.Terms[0]
	case "ptlens":
		return 1 - r.Terms[0] - r.Terms[1] - r.Terms[2]
	}
	return 1
}

// compare checks one line of the C library's results against ours.
func (r reference) compare(lens *catalog.Lens) error {
	half := math.Hypot(36e-3, 24e-3) / r.Crop / 2
	pixel := 2 * half / math.Hypot(r.Width-1, r.Height-1)
	if r.Distorted != nil {
		curve, ok := lens.Correction.DistortionCurve()
		if !ok {
			return fmt.Errorf("distortion was not read")
		}
		model := curve.Model(r.Focal / 1000)
		if model.Model != r.Model {
			return fmt.Errorf("model: got %s, want %s", model.Model, r.Model)
		}
		for i := range r.Terms {
			if math.Abs(model.Terms[i]-r.Terms[i]) > single {
				return fmt.Errorf("coefficients at %g mm: got %v, want %v", r.Focal, model.Terms, r.Terms)
			}
		}
		for _, point := range r.Distorted {
			if got := curve.Moved(r.Focal/1000, point[0]*pixel) / pixel; math.Abs(got-point[1]) > pixels {
				return fmt.Errorf("at %g mm, %g px on crop %g: got %.4f px, want %.4f", r.Focal, point[0], r.Crop, got, point[1])
			}
			want := point[1]/point[0]/r.middle() - 1
			if got := curve.Share(r.Focal/1000, point[0]*pixel); math.Abs(got-want) > 2*pixels/point[0] {
				return fmt.Errorf("share at %g mm, %g px on crop %g: got %.5f, want %.5f", r.Focal, point[0], r.Crop, got, want)
			}
		}
	}
	for _, point := range r.Brightness {
		got := lens.Correction.Brightness(lens, r.Focal/1000, r.Aperture, r.Distance, point[0]*pixel)
		if point[1] == 0 && math.IsNaN(got) {
			continue // the model has no light left
		}
		if !(math.Abs(got-point[1]) <= light) {
			return fmt.Errorf("light at %g mm, f/%g, %g m, %g px on crop %g: got %.5f, want %.5f",
				r.Focal, r.Aperture, r.Distance, point[0], r.Crop, got, point[1])
		}
	}
	return nil
}

const folder = "../../testdata/lenscorrection/"

// Values that the C library computed for invented lenses.
func TestAgreesWithTheCLibrary(t *testing.T) {
	text, err := os.ReadFile(folder + "reference.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	lenses := map[string]*catalog.Lens{}
	compared := 0
	for _, r := range readReferences(t, text) {
		if r.Lens != "" {
			lenses[r.Lens] = r.lens()
			continue
		}
		if err := r.compare(lenses[r.Of]); err != nil {
			t.Errorf("%s: %v", r.Of, err)
		}
		compared += len(r.Distorted) + len(r.Brightness)
	}
	if compared < 100 {
		t.Errorf("compared %d points, want at least 100", compared)
	}
}

// buildReference compiles the C program against the installed library.
func buildReference(t *testing.T) string {
	t.Helper()
	for _, header := range []string{"/usr/include/lensfun/lensfun.h", "/usr/local/include/lensfun/lensfun.h"} {
		if _, err := os.Stat(header); err == nil {
			program := filepath.Join(t.TempDir(), "reference")
			out, err := exec.Command("cc", "-O1", "-Wall", "-Werror", "-o", program, folder+"reference.c", "-llensfun", "-lm").CombinedOutput()
			if err != nil {
				t.Fatalf("%v\n%s", err, out)
			}
			return program
		}
	}
	langtest.Lacking(t, "the C library of the lens-correction database (package liblensfun-dev)")
	return ""
}

func runReference(t *testing.T, program string, files ...string) []byte {
	t.Helper()
	c := exec.Command(program, files...)
	c.Env = append(os.Environ(), "LC_ALL=C")
	out, err := c.Output()
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestReferenceIsUpToDate(t *testing.T) {
	got := runReference(t, buildReference(t))
	want, err := os.ReadFile(folder + "reference.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	// Another processor may round the last digit in another way.
	if diff := cmp.Diff(readReferences(t, want), readReferences(t, got), cmpopts.EquateApprox(1e-6, 0)); diff != "" {
		t.Errorf("testdata/lenscorrection/reference.jsonl is not what the C program prints (-file +program):\n%s", diff)
	}
}

// installed is where packages of the database put it.
const installed = "/usr/share/lensfun/version_1"

// Every lens of the installed database, as we and as the C library read and compute it.
func TestAgreesOnTheWholeDatabase(t *testing.T) {
	if testing.Short() {
		t.Skip("short")
	}
	if _, err := os.Stat(installed); err != nil {
		langtest.Lacking(t, "the lens-correction database (package liblensfun-data-v1)")
	}
	program := buildReference(t)
	tree := os.DirFS(installed)
	db, ds := lenscorrection.Read(nil, tree)
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	names, err := fs.Glob(tree, "*.xml")
	if err != nil {
		t.Fatal(err)
	}
	var files []string
	for _, name := range names {
		files = append(files, filepath.Join(installed, name))
	}
	// The C library sorts the lenses, so they are found by name; of two of one name, those
	// that the library reads in the same way are meant.
	type key struct{ file, maker, model string }
	named := map[key][]*catalog.Lens{}
	for _, l := range db.Lenses {
		k := key{l.File, l.Maker, l.Model}
		named[k] = append(named[k], &catalog.Lens{
			Name: lang.Text{Value: l.Name()}, Correction: db.Correction(l), Focal: lang.Interval{Low: l.FocalLow, High: l.FocalHigh},
		})
	}
	seen, compared := 0, 0
	candidates := map[string][]*catalog.Lens{}
	for _, r := range readReferences(t, runReference(t, program, files...)) {
		if r.Lens != "" {
			seen++
			candidates[r.Lens] = slices.DeleteFunc(slices.Clone(named[key{r.File, r.Maker, strings.TrimSpace(r.Name)}]), func(l *catalog.Lens) bool {
				return !near(l.Correction.Crop.Value, r.Crop) || !near(l.Focal.Low.Value*1000, r.FocalLow) || !near(l.Focal.High.Value*1000, r.FocalHigh)
			})
			if len(candidates[r.Lens]) == 0 {
				t.Errorf("%s %s %s: no lens read with crop %g and %g to %g mm", r.Lens, r.Maker, r.Name, r.Crop, r.FocalLow, r.FocalHigh)
			}
			continue
		}
		compared++
		var faults []string
		for _, lens := range candidates[r.Of] {
			if err := r.compare(lens); err != nil {
				faults = append(faults, fmt.Sprintf("%s: %v", lens.Name.Value, err))
			}
		}
		if len(faults) > 0 && len(faults) == len(candidates[r.Of]) {
			t.Errorf("%s: %s", r.Of, strings.Join(faults, "; "))
		}
	}
	// The C library keeps one of two lenses that differ in nothing.
	if seen < len(named) || seen > len(db.Lenses) || compared < 2*seen {
		t.Errorf("compared %d results of %d lenses, and the database holds %d with %d names", compared, seen, len(db.Lenses), len(named))
	}
}

// near allows for single precision.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-6*math.Abs(b) }
