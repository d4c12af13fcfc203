package catalog_test

import (
	"fmt"
	"log"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// A catalogue is read from text, asked for an item by its name, and for the way that a lens
// goes onto a camera. What the text does not say is unknown, and not zero.
func Example() {
	src, ds := lang.NewSource("shelf.catalog", []byte(`
mount "Slim" { flange 18mm }
mount "Deep" { flange 45mm }
adapter "Deep to slim" {
  from "Deep" to "Slim"
  mass 95g
}
camera "Body" {
  mount "Slim"
  mode  "Whole sensor" 24mm x 16mm
}
lens "Old 40" {
  mount "Deep"
  focal 40mm
  aperture f/2..f/16
}
`))
	if ds.HasErrors() {
		log.Fatal(ds)
	}
	c, ds := catalog.Load(src)
	if ds.HasErrors() {
		log.Fatal(ds)
	}
	lens, _ := c.Lenses.Lookup("Old 40")
	camera, _ := c.Cameras.Lookup("Body")
	fitting, err := c.Fit(lens, camera)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%s: %.0f mm thick, %.0f g\n", fitting.Adapter.Name.Value, fitting.Thickness*1000, fitting.Mass*1000)
	fmt.Println("mass known:", lens.Mass.Known(), "in kg:", lens.Mass.OrNaN())
	// Output:
	// Deep to slim: 27 mm thick, 95 g
	// mass known: false in kg: NaN
}

// Fields shows an item as a program that knows nothing of lenses would.
func ExampleFields() {
	src, ds := lang.NewSource("shelf.catalog", []byte(`
mount "Deep" {
  about  "made for a mirror"
  flange 45mm
}
`))
	if ds.HasErrors() {
		log.Fatal(ds)
	}
	c, ds := catalog.Load(src)
	if ds.HasErrors() {
		log.Fatal(ds)
	}
	for _, f := range catalog.Fields(c.Mounts.All()[0]) {
		fmt.Printf("%s: %s\n", f.Keyword, f.Show(lang.Printer{}))
	}
	// Output:
	// about: made for a mirror
	// flange: 45 mm
	// throat: unknown
}
