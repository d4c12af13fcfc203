package catalog_test

import (
	"math"
	"strings"
	"testing"

	"glassbrief/catalog"
)

const fitText = `
mount "Mid" { flange 44mm }
mount "Twin" { flange 18mm }
mount "Odd" { about "flange distance never measured" }
camera "Short body" {
  mount "Short"
  mode "All" 36mm x 24mm
}
camera "Deep body" {
  mount "Deep"
  mode "All" 36mm x 24mm
}
camera "Odd body" {
  mount "Odd"
  mode "All" 36mm x 24mm
}
lens "Short lens" {
  mount "Short"
  focal 35mm
}
lens "Deep lens" {
  mount "Deep"
  focal 50mm
}
lens "Mid lens" {
  mount "Mid"
  focal 50mm
}
lens "Twin lens" {
  mount "Twin"
  focal 50mm
}
lens "Odd lens" {
  mount "Odd"
  focal 50mm
}
lens "Wire lens" {
  mount "Deep"
  focal 50mm
  focus wire
}
`

func TestFit(t *testing.T) {
	const (
		plain    = "adapter \"Plain\" {\n from \"Deep\" to \"Short\"\n mass 120g\n}\n"
		light    = "adapter \"Light\" {\n from \"Deep\" to \"Short\"\n mass 80g\n}\n"
		unknown  = "adapter \"Unweighed\" {\n from \"Deep\" to \"Short\"\n}\n"
		wired    = "adapter \"Wired\" {\n from \"Deep\" to \"Short\"\n mass 200g\n contacts\n}\n"
		reducer  = "adapter \"Reducer\" {\n from \"Deep\" to \"Short\"\n factor 0.71\n mass 190g\n thickness 24mm\n}\n"
		extender = "adapter \"Extender\" {\n from \"Short\" to \"Deep\"\n factor 1.4\n}\n"
		odd      = "adapter \"To odd\" {\n from \"Deep\" to \"Odd\"\n}\n"
	)
	nan := math.NaN()
	for _, c := range []struct {
		name, adapters, lens, camera string
		adapter                      string
		factor, stops, mass, thick   float64
		contacts                     bool
	}{
		{"direct", plain, "Short lens", "Short body", "", 1, 0, 0, 0, true},
		{"plain", plain, "Deep lens", "Short body", "Plain", 1, 0, 0.12, 0.027, false},
		{"plain before glass", reducer + plain, "Deep lens", "Short body", "Plain", 1, 0, 0.12, 0.027, false},
		{"lighter of two", plain + light, "Deep lens", "Short body", "Light", 1, 0, 0.08, 0.027, false},
		{"weighed before unknown", unknown + plain, "Deep lens", "Short body", "Plain", 1, 0, 0.12, 0.027, false},
		{"contacts before weight", light + wired, "Deep lens", "Short body", "Wired", 1, 0, 0.2, 0.027, true},
		// 2 log2(0.71), a stop gained.
		{"reducer", reducer, "Deep lens", "Short body", "Reducer", 0.71, -0.98822, 0.19, 0.024, false},
		// 2 log2(1.4), a stop lost; glass may bridge what a plain adapter cannot.
		{"extender", extender, "Short lens", "Deep body", "Extender", 1.4, 0.97085, nan, nan, false},
		{"unknown mass", unknown, "Deep lens", "Short body", "Unweighed", 1, 0, nan, 0.027, false},
		{"unknown flange is trusted", odd, "Deep lens", "Odd body", "To odd", 1, 0, nan, nan, false},
		{"wire with contacts", light + wired, "Wire lens", "Short body", "Wired", 1, 0, 0.2, 0.027, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			catalogue := load(t, fitText+c.adapters)
			lens, _ := catalogue.Lenses.Lookup(c.lens)
			camera, _ := catalogue.Cameras.Lookup(c.camera)
			got, err := catalogue.Fit(lens, camera)
			if err != nil {
				t.Fatalf("got %v, want a fitting", err)
			}
			adapter := ""
			if got.Adapter != nil {
				adapter = got.Adapter.Name.Value
			}
			if adapter != c.adapter || got.Contacts != c.contacts {
				t.Errorf("got adapter %q, contacts %v; want %q, %v", adapter, got.Contacts, c.adapter, c.contacts)
			}
			for _, number := range []struct {
				what      string
				got, want float64
			}{{"factor", got.Factor, c.factor}, {"stops", got.Stops(), c.stops}, {"mass", got.Mass, c.mass}, {"thickness", got.Thickness, c.thick}} {
				if math.IsNaN(number.got) != math.IsNaN(number.want) || math.Abs(number.got-number.want) > 1e-5 {
					t.Errorf("%s: got %v, want %v", number.what, number.got, number.want)
				}
			}
		})
	}
}

func TestFitSaysWhyNot(t *testing.T) {
	const toDeep = "adapter \"Step up\" {\n from \"Mid\" to \"Deep\"\n}\n"
	for _, c := range []struct {
		name, adapters, lens, camera string
		want                         []string
	}{
		{
			"no adapter, room for one", "", "Deep lens", "Short body",
			[]string{`no adapter from "Deep" to "Short"`, "27.00 mm thick"},
		},
		{
			"no adapter, no room", "", "Short lens", "Deep body",
			[]string{`no adapter from "Short" to "Deep"`, "infinity", "18.00 mm", "is shorter than", "45.00 mm"},
		},
		{
			"no adapter, same flange distance", "", "Twin lens", "Short body",
			[]string{"no longer than"},
		},
		{
			"no adapter, flange unknown", "", "Odd lens", "Short body",
			[]string{`no adapter from "Odd" to "Short"`},
		},
		// The mechanical adapter exists, and cannot reach infinity: as a screw mount of
		// 45.46 mm on a bayonet of 46.50 mm in the published tables.
		{
			"adapter that misses infinity", toDeep, "Mid lens", "Deep body",
			[]string{`with "Step up"`, "infinity", "44.00 mm", "45.00 mm"},
		},
		{
			"by wire without contacts", "adapter \"Plain\" {\n from \"Deep\" to \"Short\"\n}\n", "Wire lens", "Short body",
			[]string{`"Plain" has no contacts`, "by wire"},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			// The adapter that misses infinity is loaded with a warning, on purpose.
			catalogue, ds := catalog.Load(source(t, "ground", ground), source(t, "test", fitText+c.adapters))
			if ds.HasErrors() {
				t.Fatal(ds)
			}
			lens, _ := catalogue.Lenses.Lookup(c.lens)
			camera, _ := catalogue.Cameras.Lookup(c.camera)
			fitting, err := catalogue.Fit(lens, camera)
			if err == nil {
				t.Fatalf("got %+v, want none", fitting)
			}
			for _, part := range c.want {
				if !strings.Contains(err.Error(), part) {
					t.Errorf("got %q, want it to say %q", err, part)
				}
			}
		})
	}
}

func TestFitDoesNotDependOnOrder(t *testing.T) {
	const (
		one = "adapter \"One\" {\n from \"Deep\" to \"Short\"\n mass 100g\n}\n"
		two = "adapter \"Two\" {\n from \"Deep\" to \"Short\"\n mass 100g\n}\n"
	)
	for _, adapters := range []string{one + two, two + one} {
		catalogue := load(t, fitText+adapters)
		lens, _ := catalogue.Lenses.Lookup("Deep lens")
		camera, _ := catalogue.Cameras.Lookup("Short body")
		if got, err := catalogue.Fit(lens, camera); err != nil || got.Adapter.Name.Value != "One" {
			t.Errorf("got %v, %v; want \"One\"", got.Adapter, err)
		}
	}
}
