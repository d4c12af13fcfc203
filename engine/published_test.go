package engine_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"glassbrief/engine/balance"
	"glassbrief/engine/exposure"
	"glassbrief/engine/motion"
	"glassbrief/engine/optics"
	"glassbrief/engine/people"
	"glassbrief/engine/sun"
)

// The published values of testdata/published are what the physics must give. A row is one
// number:
//
//	id         unique over all files; the name of the subtest
//	quantity   a key of the table quantities, below
//	inputs     "name=value unit" pairs with ";" between; a value may be a fraction, a word or Inf
//	expected   a value with its unit; NaN where there is no answer
//	tolerance  a value with its unit, "n %" of the expected one, or "exact"
//	source     where the value stands
//	kind       published, computed, common-practice or from-memory
//	proves     value: the physics give what the source has, and could give something else;
//	           formula: the expected value was computed by the formula that is checked, which guards
//	           the arithmetic alone; constant: the answer is looked up; inferred: an input was worked
//	           out from the expected value. Only rows that prove a value count as checks.
//	note       what to know about it; where the source is wrong, what is right
const (
	publishedValues = "../testdata/published/*.csv"
	fewestChecks    = 100
)

var (
	kinds  = []string{"published", "computed", "common-practice", "from-memory"}
	proofs = []string{"value", "formula", "constant", "inferred"}
)

// A row is one line of a file, by the names of its columns.
type row struct{ id, quantity, inputs, expected, tolerance, source, kind, proves, note string }

func TestPublishedValues(t *testing.T) {
	files, err := filepath.Glob(publishedValues)
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	seen := map[string]bool{}
	for _, file := range files {
		for _, r := range readRows(t, file) {
			count[r.kind]++
			count[r.proves]++
			if seen[r.id] {
				t.Errorf("%s: the id %q stands twice", file, r.id)
			}
			seen[r.id] = true
			t.Run(r.id, func(t *testing.T) { checkRow(t, r) })
		}
	}
	for _, word := range slices.Concat(kinds, proofs) {
		t.Logf("%3d rows %s", count[word], word)
	}
	if count["value"] < fewestChecks {
		t.Errorf("got %d rows that prove a value, want at least %d", count["value"], fewestChecks)
	}
}

func readRows(t *testing.T, file string) []row {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	const header = "id quantity inputs expected tolerance source kind proves note"
	if len(records) == 0 || strings.Join(records[0], " ") != header {
		t.Fatalf("%s: the header is not %q", file, header)
	}
	var rows []row
	for _, r := range records[1:] {
		rows = append(rows, row{r[0], r[1], r[2], r[3], r[4], r[5], r[6], r[7], r[8]})
	}
	return rows
}

func checkRow(t *testing.T, r row) {
	if r.source == "" {
		t.Error("no source")
	}
	if !slices.Contains(kinds, r.kind) || !slices.Contains(proofs, r.proves) {
		t.Errorf("unknown kind %q, or it proves %q", r.kind, r.proves)
	}
	compute, ok := quantities[r.quantity]
	if !ok {
		t.Fatalf("unknown quantity %q", r.quantity)
	}
	in := readInputs(t, r.inputs)
	got := compute(in)
	for _, name := range in.unread() {
		t.Errorf("%q does not take the input %q", r.quantity, name)
	}
	want, unit := readValue(t, r.expected)
	tolerance := readTolerance(t, r.tolerance, want)
	if r.proves == "value" && !math.IsNaN(want) && within(got*4/3, want, tolerance) && within(got*3/4, want, tolerance) {
		t.Errorf("%s within %s: what is a third too large passes, and a quarter too small, so it proves no value", r.expected, r.tolerance)
	}
	if !within(got, want, tolerance) {
		t.Errorf("%s (%s): got %.8g, want %s within %s; %s: %s %s",
			r.quantity, r.inputs, got/unit, r.expected, r.tolerance, r.kind, r.source, r.note)
	}
}

func within(got, want, tolerance float64) bool {
	if math.IsNaN(want) || math.IsInf(want, 0) {
		return math.IsNaN(got) == math.IsNaN(want) && math.IsInf(got, 0) == math.IsInf(want, 0)
	}
	return math.Abs(got-want) <= tolerance
}

// units gives the size in SI of every unit that a row may use.
var units = map[string]float64{
	"": 1, "m": 1, "km": 1000, "cm": 0.01, "mm": 0.001, "um": 1e-6, "nm": 1e-9, "in": 0.0254, "ft": 0.3048,
	"s": 1, "fps": 1, "m/s": 1, "deg": math.Pi / 180, "deg/s": math.Pi / 180,
	"kg": 1, "lb": 0.45359237, "kgm2": 1,
	"lx": 1, "cd/m2": 1, "EV": 1, "stops": 1,
	"px": 1, "%": 0.01, "pp": 0.01, // percentage points: a tolerance on an expected percentage
}

// readValue gives a value in SI and the size of its unit.
func readValue(t *testing.T, text string) (value, unit float64) {
	t.Helper()
	number, name, _ := strings.Cut(text, " ")
	unit, ok := units[name]
	if !ok {
		t.Fatalf("unknown unit in %q", text)
	}
	over, under, isFraction := strings.Cut(number, "/")
	value, err := strconv.ParseFloat(over, 64)
	if err != nil {
		t.Fatalf("no number in %q", text)
	}
	if isFraction {
		divisor, err := strconv.ParseFloat(under, 64)
		if err != nil {
			t.Fatalf("no fraction in %q", text)
		}
		value /= divisor
	}
	return value * unit, unit
}

func readTolerance(t *testing.T, text string, want float64) float64 {
	t.Helper()
	// What is exact is exact but for the rounding of float64.
	const rounding = 1e-12
	if text == "exact" {
		return rounding * math.Abs(want)
	}
	value, _ := readValue(t, text)
	if strings.HasSuffix(text, " %") {
		value *= math.Abs(want)
	}
	return value
}

// inputs are the named values of a row; each must be read.
type inputs struct {
	t      *testing.T
	values map[string]string
	read   map[string]bool
}

func readInputs(t *testing.T, text string) *inputs {
	t.Helper()
	in := &inputs{t, map[string]string{}, map[string]bool{}}
	if text == "" {
		return in
	}
	for _, pair := range strings.Split(text, ";") {
		name, value, ok := strings.Cut(strings.TrimSpace(pair), "=")
		if _, twice := in.values[name]; !ok || twice {
			t.Fatalf("no new input in %q", pair)
		}
		in.values[name] = value
	}
	return in
}

func (in *inputs) word(name string) string {
	in.t.Helper()
	value, ok := in.values[name]
	if !ok {
		in.t.Fatalf("the input %q is missing", name)
	}
	in.read[name] = true
	return value
}

func (in *inputs) num(name string) float64 {
	in.t.Helper()
	value, _ := readValue(in.t, in.word(name))
	return value
}

func (in *inputs) unread() []string {
	var names []string
	for name := range in.values {
		if !in.read[name] {
			names = append(names, name)
		}
	}
	return names
}

func (in *inputs) frame(prefix string) optics.Frame {
	return optics.Frame{Width: in.num(prefix + "width"), Height: in.num(prefix + "height")}
}

func (in *inputs) projection() optics.Projection {
	p, ok := optics.ParseProjection(in.word("projection"))
	if !ok {
		in.t.Fatalf("unknown projection %q", in.values["projection"])
	}
	return p
}

func (in *inputs) basis() optics.Basis {
	by, ok := optics.ParseBasis(in.word("by"))
	if !ok {
		in.t.Fatalf("unknown basis %q", in.values["by"])
	}
	return by
}

func (in *inputs) limits() (near, far float64) {
	return optics.Limits(in.num("focal"), in.num("stop"), in.num("confusion"), in.num("focus"))
}

// limitsAtShare focuses a lens of next to no focal length at a share of its hyperfocal
// distance and gives the limits over the distance focused at.
func (in *inputs) limitsAtShare() (near, far float64) {
	const focal, stop, hyperfocal = 1e-9, 1, 1
	distance := in.num("share") * hyperfocal
	near, far = optics.Limits(focal, stop, focal*focal/(stop*hyperfocal), distance)
	return near / distance, far / distance
}

func (in *inputs) level() exposure.Level {
	level, ok := exposure.NamedLevel(in.word("level"))
	if !ok {
		in.t.Fatalf("unknown level %q", in.values["level"])
	}
	return level
}

func (in *inputs) time() time.Time {
	in.t.Helper()
	moment, err := time.Parse(time.RFC3339, in.word("time"))
	if err != nil {
		in.t.Fatal(err)
	}
	return moment
}

func (in *inputs) sun() (altitude, azimuth float64) {
	return sun.Position(in.time(), in.num("latitude"), in.num("longitude"))
}

func (in *inputs) sky() sun.Sky {
	sky, ok := sun.ParseSky(in.word("sky"))
	if !ok {
		in.t.Fatalf("unknown sky %q", in.values["sky"])
	}
	return sky
}

// stopForTime gives the stop that keeps the exposure when the time changes.
func (in *inputs) stopForTime() float64 {
	const iso = 100
	return exposure.Stop(exposure.Lux(in.num("stop"), iso, in.num("time")), iso, in.num("new time"))
}

func (in *inputs) subjectCrossing() float64 {
	field := optics.Field(in.num("focal"), in.num("extent"), in.num("distance"))
	return motion.LateralCrossing(field, in.num("speed"))
}

func (in *inputs) landmark() float64 {
	share, ok := people.LandmarkHeight(in.word("landmark"))
	if !ok {
		in.t.Fatalf("unknown landmark %q", in.values["landmark"])
	}
	return share
}

// quantities computes each quantity of the rows through the public functions.
var quantities = map[string]func(in *inputs) float64{
	"longest focal length": func(in *inputs) float64 {
		return optics.LongestFocal(in.num("distance"), in.frame("image "), in.frame("object "))
	},
	"object distance": func(in *inputs) float64 {
		return optics.ObjectDistance(in.num("focal"), in.num("image distance"))
	},
	"image distance": func(in *inputs) float64 { return optics.ImageDistance(in.num("focal"), in.num("distance")) },
	"distance from sensor": func(in *inputs) float64 {
		return optics.SensorDistance(in.num("focal"), in.num("distance"))
	},
	"distance from lens": func(in *inputs) float64 { return optics.FromSensor(in.num("focal"), in.num("from sensor")) },
	"distance to fill": func(in *inputs) float64 {
		return optics.DistanceFor(in.num("focal"), in.num("image"), in.num("object"))
	},
	"distance by proportion": func(in *inputs) float64 {
		return optics.DistanceFor(in.num("focal"), in.num("image"), in.num("object")) - in.num("focal")
	},
	"image size": func(in *inputs) float64 {
		return in.num("object") * optics.Magnification(in.num("focal"), in.num("distance"))
	},
	"image size by proportion": func(in *inputs) float64 {
		return in.num("object") * optics.Magnification(in.num("focal"), in.num("focal")+in.num("distance"))
	},
	"field": func(in *inputs) float64 {
		return optics.Field(in.num("focal"), in.num("extent"), in.num("distance"))
	},

	"hyperfocal distance": func(in *inputs) float64 {
		return optics.Hyperfocal(in.num("focal"), in.num("stop"), in.num("confusion"))
	},
	"near limit":     func(in *inputs) float64 { near, _ := in.limits(); return near },
	"far limit":      func(in *inputs) float64 { _, far := in.limits(); return far },
	"depth of field": func(in *inputs) float64 { near, far := in.limits(); return far - near },
	"near limit at share of hyperfocal": func(in *inputs) float64 {
		near, _ := in.limitsAtShare()
		return near
	},
	"far limit at share of hyperfocal": func(in *inputs) float64 {
		_, far := in.limitsAtShare()
		return far
	},
	"rear depth over front depth at share of hyperfocal": func(in *inputs) float64 {
		near, far := in.limitsAtShare()
		return (far - 1) / (1 - near)
	},
	"focus mark": func(in *inputs) float64 { return optics.FocusMark(in.num("near"), in.num("far")) },
	"stop for range": func(in *inputs) float64 {
		return optics.StopFor(in.num("focal"), in.num("confusion"), in.num("near"), in.num("far"))
	},

	"angle of view": func(in *inputs) float64 {
		return optics.AngleOfView(in.projection(), in.num("focal"), in.num("extent"), in.num("magnification"))
	},
	"image radius": func(in *inputs) float64 {
		return optics.Radius(in.projection(), in.num("focal"), in.num("angle"))
	},
	"angle from axis": func(in *inputs) float64 {
		return optics.Angle(in.projection(), in.num("focal"), in.num("radius"))
	},
	"radial scale": func(in *inputs) float64 { return optics.RadialScale(in.projection(), in.num("angle")) },
	"tangential scale": func(in *inputs) float64 {
		return optics.TangentialScale(in.projection(), in.num("angle"))
	},
	"radial over tangential scale": func(in *inputs) float64 {
		return 1 + optics.EdgeStretch(in.projection(), in.num("angle"))
	},
	"effective scale": func(in *inputs) float64 {
		p, theta := in.projection(), in.num("angle")
		return math.Sqrt(optics.RadialScale(p, theta) * optics.TangentialScale(p, theta))
	},
	"edge stretch": func(in *inputs) float64 { return optics.EdgeStretch(in.projection(), in.num("angle")) },

	"diagonal":     func(in *inputs) float64 { return in.frame("").Diagonal() },
	"aspect ratio": func(in *inputs) float64 { return in.frame("").Aspect() },
	"crop factor":  func(in *inputs) float64 { return optics.Crop(in.frame(""), in.basis()) },
	"matching focal length": func(in *inputs) float64 {
		return optics.Match(in.num("focal"), in.frame("from "), in.frame("to "), in.basis())
	},
	"delivered height": func(in *inputs) float64 {
		return optics.Delivered(in.frame(""), in.num("squeeze"), in.num("ratio")).Height
	},
	"circle of confusion": func(in *inputs) float64 { return optics.Confusion(in.frame(""), in.num("divisor")) },
	"adapter thickness": func(in *inputs) float64 {
		return optics.AdapterThickness(in.num("lens flange"), in.num("body flange"))
	},

	"exposure value of level": func(in *inputs) float64 { return exposure.EV(in.level().Lux) },
	"illuminance of level":    func(in *inputs) float64 { return in.level().Lux },
	"luminance of exposure value": func(in *inputs) float64 {
		return exposure.Luminance(in.num("ev"))
	},
	"illuminance of exposure value": func(in *inputs) float64 { return exposure.Illuminance(in.num("ev")) },
	"exposure value of illuminance": func(in *inputs) float64 { return exposure.EV(in.num("illuminance")) },
	"exposure value of luminance":   func(in *inputs) float64 { return exposure.EVOfLuminance(in.num("luminance")) },
	"exposure value of setting": func(in *inputs) float64 {
		return exposure.EVOfSetting(in.num("stop"), in.num("time"))
	},
	"shutter time": func(in *inputs) float64 { return exposure.ShutterTime(in.num("angle"), in.num("rate")) },
	"T-stop":       func(in *inputs) float64 { return exposure.TStop(in.num("stop"), in.num("transmittance")) },
	"exact stop":   func(in *inputs) float64 { return exposure.ThirdStop(int(in.num("thirds"))) },
	"marked stop": func(in *inputs) float64 {
		return exposure.Marked(exposure.ThirdStop(int(in.num("thirds"))))
	},
	"stop for another time":        (*inputs).stopForTime,
	"marked stop for another time": func(in *inputs) float64 { return exposure.Marked(in.stopForTime()) },
	"illuminance needed": func(in *inputs) float64 {
		return exposure.Lux(in.num("stop"), in.num("iso"), in.num("time"))
	},
	"stop for light": func(in *inputs) float64 {
		return exposure.Stop(in.num("illuminance"), in.num("iso"), in.num("time"))
	},
	"ISO for light": func(in *inputs) float64 {
		return exposure.ISO(in.num("illuminance"), in.num("stop"), in.num("time"))
	},

	"landmark height":  func(in *inputs) float64 { return in.landmark() * in.num("stature") },
	"head height":      func(in *inputs) float64 { return (1 - people.Chin.Value()) * in.num("stature") },
	"shoulder breadth": func(in *inputs) float64 { return people.ShoulderBreadth.Value() * in.num("stature") },
	"shoulder breadth of women": func(in *inputs) float64 {
		return people.ShoulderBreadthOfWomen.Value() * in.num("stature")
	},
	"hip breadth":               func(in *inputs) float64 { return people.HipBreadth.Value() * in.num("stature") },
	"forearm to forearm":        func(*inputs) float64 { return people.ElbowBreadth.Value() },
	"mean stature of men":       func(*inputs) float64 { return people.Stature.Value() },
	"mean stature of women":     func(*inputs) float64 { return people.StatureOfWomen.Value() },
	"mean head length":          func(*inputs) float64 { return people.HeadLength.Value() },
	"mean head length of women": func(*inputs) float64 { return people.HeadLengthOfWomen.Value() },

	"face stretch": func(in *inputs) float64 {
		return optics.FaceStretch(in.num("distance"), in.num("head length"), in.num("protrusion"))
	},
	"natural fall-off":  func(in *inputs) float64 { return optics.NaturalFalloff(in.num("angle")) },
	"light by fall-off": func(in *inputs) float64 { return math.Exp2(-optics.NaturalFalloff(in.num("angle"))) },
	"natural fall-off in corner": func(in *inputs) float64 {
		corner := optics.Angle(optics.Rectilinear, in.num("focal"), in.frame("").Diagonal()/2)
		return optics.NaturalFalloff(corner)
	},
	"Airy disc": func(in *inputs) float64 { return optics.Airy(in.num("wavelength"), in.num("stop")) },
	"blur disc": func(in *inputs) float64 {
		return optics.Blur(in.num("focal"), in.num("stop"), in.num("focus"), in.num("point"))
	},
	"diffraction stop": func(in *inputs) float64 {
		return optics.DiffractionStop(in.num("wavelength"), in.num("confusion"))
	},

	"shortest crossing": func(in *inputs) float64 { return motion.Limit(in.num("rate"), in.num("shutter")) },
	"fastest turn": func(in *inputs) float64 {
		return in.num("angle of view") / motion.Limit(in.num("rate"), in.num("shutter"))
	},
	"fastest turn by the scale of the centre": func(in *inputs) float64 {
		return in.num("extent") / in.num("focal") / motion.Limit(in.num("rate"), in.num("shutter"))
	},
	"time to turn": func(in *inputs) float64 {
		return in.num("turn") / in.num("angle of view") * motion.Limit(in.num("rate"), in.num("shutter"))
	},
	"travel a frame": func(in *inputs) float64 {
		return in.num("picture") * motion.BlurShare(in.num("crossing"), 1/in.num("rate"))
	},
	"blur": func(in *inputs) float64 {
		return in.num("picture") * motion.BlurShare(in.num("crossing"), in.num("time"))
	},
	"crossing time of a subject": (*inputs).subjectCrossing,
	"trail of a subject": func(in *inputs) float64 {
		return in.num("extent") * motion.BlurShare(in.subjectCrossing(), in.num("time"))
	},
	"bob":          func(in *inputs) float64 { return people.Walking.Bob(in.num("speed")).Mean },
	"bob of a run": func(*inputs) float64 { return people.Running.Bob(3).Mean },
	"sway":         func(in *inputs) float64 { return people.Walking.Sway(in.num("speed")).Mean },
	"sway of the pelvis": func(in *inputs) float64 {
		return people.Walking.Sway(in.num("speed")).Mean / people.SwayOfShoulders.Value()
	},
	"standing sway":  func(*inputs) float64 { _, high := people.SwayDepth.Range(); return high },
	"fastest walk":   func(*inputs) float64 { return people.FastestWalk.Value() },
	"hand-held time": func(in *inputs) float64 { return motion.HandheldTime(in.num("focal")) },

	"elliptic K": func(in *inputs) float64 { return balance.EllipticK(in.num("parameter")) },
	"period over small period": func(in *inputs) float64 {
		return balance.PeriodAt(1, 1, 1, in.num("amplitude")) / balance.Period(1, 1, 1)
	},
	"period at amplitude": func(in *inputs) float64 {
		return balance.PeriodAt(in.num("inertia"), in.num("mass"), in.num("offset"), in.num("amplitude"))
	},
	"period": func(in *inputs) float64 {
		return balance.Period(in.num("inertia"), in.num("mass"), in.num("offset"))
	},
	"period of a rod": func(in *inputs) float64 {
		half := in.num("length") / 2
		mass, offset, inertia := balance.Combine(balance.Load{Mass: 1, Height: -half, Inertia: half * half / 3})
		return balance.Period(inertia, mass, offset)
	},
	"drop time": func(in *inputs) float64 {
		return balance.DropTime(in.num("inertia"), in.num("mass"), in.num("offset"))
	},
	"inertia for drop": func(in *inputs) float64 {
		return balance.InertiaForDrop(in.num("drop"), in.num("mass"), in.num("offset"))
	},
	"mass for drop": func(in *inputs) float64 {
		return balance.MassForDrop(in.num("drop"), in.num("inertia"), in.num("offset"))
	},
	"offset for drop": func(in *inputs) float64 {
		return balance.OffsetForDrop(in.num("drop"), in.num("inertia"), in.num("mass"))
	},
	"tilt": func(in *inputs) float64 {
		return balance.Tilt(in.num("shifted"), in.num("across"), in.num("mass"), in.num("offset"))
	},
	"lift limit": func(in *inputs) float64 {
		return balance.LiftLimit(in.num("reach"), in.num("height"), in.num("travel"))
	},

	"guideline mass": func(in *inputs) float64 {
		zone, ok := balance.ParseZone(in.word("zone"))
		if !ok {
			in.t.Fatalf("unknown zone %q", in.values["zone"])
		}
		return balance.GuidelineMass(zone, in.word("held") == "at arm's length")
	},

	"altitude of the sun":       func(in *inputs) float64 { altitude, _ := in.sun(); return altitude },
	"azimuth of the sun":        func(in *inputs) float64 { _, azimuth := in.sun(); return azimuth },
	"Julian date":               func(in *inputs) float64 { return sun.JulianDate(in.time()) },
	"true longitude of the sun": func(in *inputs) float64 { return sun.At(in.num("julian date")).Longitude },
	"distance of the sun":       func(in *inputs) float64 { return sun.At(in.num("julian date")).Distance },
	"right ascension of the sun": func(in *inputs) float64 {
		return sun.At(in.num("julian date")).RightAscension
	},
	"declination of the sun": func(in *inputs) float64 { return sun.At(in.num("julian date")).Declination },
	"light above the air":    func(in *inputs) float64 { return sun.Extraterrestrial(int(in.num("day"))) },
	"direct light square to the rays": func(in *inputs) float64 {
		return sun.DirectNormal(in.num("light above the air"), in.num("air masses"))
	},
	"direct light on level ground": func(in *inputs) float64 {
		return sun.DirectHorizontal(in.num("light above the air"), in.num("altitude"))
	},
	"light of the sun": func(in *inputs) float64 {
		return sun.Light(in.num("altitude"), int(in.num("day")), in.sky())
	},
}
