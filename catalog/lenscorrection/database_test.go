package lenscorrection_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/catalog"
	"glassbrief/catalog/lenscorrection"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

// Two invented lenses, as a file of the database writes them.
const invented = `<lensdatabase version="1">
  <mount><name>Old bayonet</name></mount>
  <lens>
    <maker>Anvil</maker><maker lang="de">Amboss</maker>
    <model>Anvil Zoom 20-60mm f/2.8</model><model lang="en">Zoom 20-60</model>
    <mount>Old bayonet</mount><mount>New bayonet</mount>
    <cropfactor>1.5</cropfactor><aspect-ratio>4:3</aspect-ratio>
    <calibration>
      <distortion model="poly3" focal="20" k1="-0.02"/>
      <distortion model="ptlens" focal="60" a="0.001" b="-0.002" c="0.003"/>
      <distortion model="acm" focal="40" k1="1"/>
      <vignetting model="pa" focal="20" aperture="2.8" distance="10" k1="-0.3" k2="-0.2" k3="0.1"/>
      <tca model="poly3" focal="65" vr="1.0001"/>
    </calibration>
  </lens>
  <lens>
    <maker>Kiln</maker><model>Round 8mm f/3.5</model><mount>Old bayonet</mount>
    <type>equisolid</type><cropfactor>1</cropfactor>
  </lens>
</lensdatabase>`

func read(t *testing.T, files map[string]string) (*lenscorrection.Database, lang.Diagnostics) {
	t.Helper()
	tree := fstest.MapFS{}
	for name, text := range files {
		tree[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return lenscorrection.Read(nil, tree)
}

func TestFindAndDraft(t *testing.T) {
	db, ds := read(t, map[string]string{"slr.xml": invented, "timestamp.txt": "1645386247\n"})
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	for _, c := range []struct{ words, want string }{
		{"anvil 20-60", "Anvil Zoom 20-60mm f/2.8"},
		{"AMBOSS zoom", "Anvil Zoom 20-60mm f/2.8"},
		{"8mm", "Kiln Round 8mm f/3.5"},
		{"anvil 8mm", ""},
	} {
		got := ""
		for _, l := range db.Find(c.words) {
			got += l.Name()
		}
		if got != c.want {
			t.Errorf("%s: got %q, want %q", c.words, got, c.want)
		}
	}
	text, _ := catalog.Compose([]catalog.Draft{
		db.Draft(db.Find("anvil")[0], "Zoom", "Deep"),
		db.Draft(db.Find("kiln")[0], "Round", "Deep"),
		db.Amendment(db.Find("anvil")[0], "Round"),
	})
	// The settings of another focal length than the distortion's widen the range.
	want := `lens "Zoom" {
  mount     "Deep"
  focal     20mm..65mm
  projection rectilinear
  correction {
    source    "open lens-correction database of 2022-02-20, slr.xml, Anvil Zoom 20-60mm f/2.8"
    licence   "CC BY-SA 3.0"
    crop      1.5
    aspect    1.3333333333333333
    distortion 20mm poly3 -0.02
    distortion 60mm ptlens 0.001 -0.002 0.003
    shading   20mm f/2.8 10m -0.3 -0.2 0.1
  }
}

lens "Round" {
  mount     "Deep"
  focal     8mm
  projection equisolid
  correction {
    source    "open lens-correction database of 2022-02-20, slr.xml, Kiln Round 8mm f/3.5"
    licence   "CC BY-SA 3.0"
    crop      1
  }
}

amend lens "Round" {
  correction {
    source    "open lens-correction database of 2022-02-20, slr.xml, Anvil Zoom 20-60mm f/2.8"
    licence   "CC BY-SA 3.0"
    crop      1.5
    aspect    1.3333333333333333
    distortion 20mm poly3 -0.02
    distortion 60mm ptlens 0.001 -0.002 0.003
    shading   20mm f/2.8 10m -0.3 -0.2 0.1
  }
}
`
	if diff := cmp.Diff(want, text); diff != "" {
		t.Fatalf("text (-want +got):\n%s", diff)
	}
	src, _ := lang.NewSource("new.catalog", []byte(text+`mount "Deep" { flange 45mm }`))
	c, ds := catalog.Load(src)
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	zoom, _ := c.Lenses.Lookup("Zoom")
	if diff := cmp.Diff(db.Correction(db.Find("anvil")[0]).Lines(), zoom.Correction.Lines()); diff != "" {
		t.Errorf("the block does not come back as it was (-want +got):\n%s", diff)
	}
	curve, ok := zoom.Correction.DistortionCurve()
	if !ok || curve.Model(0.05).Model != "poly3" {
		t.Errorf("got %v at 50 mm, want the first model alone, poly3", curve)
	}
}

func TestReadRefuses(t *testing.T) {
	const lens = `<lens><maker>A</maker><model>B 20mm f/2</model><cropfactor>1</cropfactor>%</lens>`
	file := func(inner string) string {
		return `<lensdatabase version="1">` + strings.Replace(lens, "%", inner, 1) + `</lensdatabase>`
	}
	deep := strings.Repeat("<a>\n", 20000)
	for _, c := range []struct {
		what, text, want string
		severity         lang.Severity
	}{
		{"another version", `<lensdatabase version="2"></lensdatabase>`, "version 2", lang.Error},
		{"another file", `<svg></svg>`, "no file of the lens-correction database", lang.Error},
		{"no XML", `lens "A" {`, "the XML cannot be read", lang.Error},
		{"cut off", `<lensdatabase version="1"><lens><maker>A`, "this lens cannot be read", lang.Error},
		{"entities", `<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]>` + file("<mount>&b;</mount>"), "this lens cannot be read: invalid character entity", lang.Error},
		{"an entity of the system", `<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>` + file("<mount>&a;</mount>"), "invalid character entity", lang.Error},
		{"deep nesting", `<lensdatabase version="1"><lens>` + deep, "this lens cannot be read", lang.Error},
		{"no number", file(`<calibration><distortion model="poly3" focal="20" k1="a lot"/></calibration>`), `"a lot" is no number`, lang.Warning},
		{"no finite number", file(`<calibration><distortion model="poly3" focal="Inf" k1="1"/></calibration>`), `"Inf" is no number`, lang.Warning},
		{"no ratio", file(`<aspect-ratio>3:0</aspect-ratio>`), `"3:0" is no aspect ratio`, lang.Warning},
		{"no crop factor", strings.Replace(file(""), "<cropfactor>1</cropfactor>", "", 1), "no crop factor", lang.Warning},
	} {
		db, ds := read(t, map[string]string{"a.xml": c.text, "b.xml": invented})
		if len(ds) != 1 || !strings.Contains(ds[0].Summary, c.want) || ds[0].Severity != c.severity {
			t.Errorf("%s: got %v, want one %s with %q", c.what, ds, c.severity, c.want)
		}
		if len(db.Lenses) != 2 {
			t.Errorf("%s: got %d lenses, want the two of the other file", c.what, len(db.Lenses))
		}
	}
	if _, ds := read(t, map[string]string{"readme.txt": "nothing"}); !ds.HasErrors() || !strings.Contains(ds[0].Summary, "no XML files") {
		t.Errorf("an empty folder: got %v", ds)
	}
}

// FuzzRead feeds any text as a file of the database: nothing may panic, and what comes out
// must have a text that a catalogue takes.
func FuzzRead(f *testing.F) {
	f.Add(invented)
	f.Add(strings.Replace(invented, `aperture="`, `aperture="-0" was="`, 1))
	f.Add(strings.Replace(invented, `aperture="`, `aperture="-1" was="`, 1))
	f.Add(`<lensdatabase version="1"><lens><model>20-60/1:2</model><cropfactor>1e-300</cropfactor></lens></lensdatabase>`)
	f.Fuzz(func(t *testing.T, text string) {
		db, _ := lenscorrection.Read(nil, fstest.MapFS{"a.xml": &fstest.MapFile{Data: []byte(text)}})
		for _, l := range db.Lenses {
			composed, _ := catalog.Compose([]catalog.Draft{db.Draft(l, "A", "B")})
			src, ds := lang.NewSource("composed", []byte(composed))
			if ds.HasErrors() {
				continue // a name with a NUL, or a line that is too long
			}
			for _, d := range must(catalog.Load(src)) {
				switch d.Code {
				case lang.UnexpectedText, lang.UnclosedText, lang.UnclosedBlock, lang.InvalidCharacter, lang.BadNumber, lang.UnknownUnit:
					t.Errorf("%v in\n%s", d, composed)
				}
			}
		}
	})
}

func must(_ *catalog.Catalogue, ds lang.Diagnostics) lang.Diagnostics { return ds }
