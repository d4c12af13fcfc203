package catalog_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

// draft makes a draft of lines as a file writes them.
func draft(kind, name string, lines ...string) catalog.Draft {
	d := catalog.Draft{Kind: kind, Name: name}
	for _, line := range lines {
		keyword, value, _ := strings.Cut(line, " ")
		d.Lines = append(d.Lines, catalog.Line{Keyword: strings.TrimPrefix(keyword, "+"), Value: value, Adds: strings.HasPrefix(keyword, "+")})
	}
	return d
}

func sourceOf(t *testing.T, name, text string) *lang.Source {
	t.Helper()
	src, ds := lang.NewSource(name, []byte(text))
	if ds != nil {
		t.Fatal(ds)
	}
	return src
}

func TestRevise(t *testing.T) {
	const house = `mount "Short" {}
lens "Far" { mount "Short"
focal 200mm }
`
	for _, c := range []struct {
		what, text string
		draft      catalog.Draft
		want       string
		changes    string
		isNew      bool
	}{
		{
			"a value, with its comment and its place",
			"lens \"A\" { // old\n  mass    470g // weighed\n  mount \"Short\"\n\n  focal 18mm\n}\n", draft("lens", "A", "mass about 480g"),
			"lens \"A\" { // old\n  mass    about 480g // weighed\n  mount \"Short\"\n\n  focal 18mm\n}\n", "mass: 470 g -> about 480 g", false,
		},
		{
			"the same in another unit",
			"lens \"A\" {\n  mount \"Short\"\n  focal 18mm\n  mass 0.47kg\n}\n", draft("lens", "A", "mass 470g", "focal 18mm"),
			"lens \"A\" {\n  mount \"Short\"\n  focal 18mm\n  mass 0.47kg\n}\n", "", false,
		},
		{
			"a line where the language has it",
			"lens \"A\" {\n  mount \"Short\" // c\n  focal 18mm\n  mass 1kg\n}\n", draft("lens", "A", "aperture f/2", "about \"x\""),
			"lens \"A\" {\n  about     \"x\"\n  mount \"Short\" // c\n  focal 18mm\n  aperture  f/2\n  mass 1kg\n}\n",
			"aperture: unknown -> f/2; about:  -> x", false,
		},
		{
			"a block on one line",
			"lens \"A\" { mount \"Short\"\nfocal 18mm }\n", draft("lens", "A", "mass 1kg", "length 9cm"),
			"lens \"A\" { mount \"Short\"\nfocal 18mm \n  mass      1kg\n  length    9cm\n}\n", "mass: unknown -> 1 kg; length: unknown -> 9 cm", false,
		},
		{
			"an amendment in the file holds, and is changed",
			"amend lens \"A\" {\n  mass 500g\n}\nlens \"A\" {\n  mount \"Short\"\n  focal 18mm\n  mass 470g\n}\n", draft("lens", "A", "mass 510g", "length 9cm"),
			"amend lens \"A\" {\n  mass 510g\n}\nlens \"A\" {\n  mount \"Short\"\n  focal 18mm\n  mass 470g\n  length    9cm\n}\n",
			"mass: 500 g -> 510 g; length: unknown -> 9 cm", false,
		},
		{
			"a remark beside those that are there",
			"lens \"A\" {\n  about \"sharp; soft\"\n  mount \"Short\"\n  focal 18mm\n}\n", draft("lens", "A", "+about \"soft; mass: with hood\""),
			"lens \"A\" {\n  about \"sharp; soft; mass: with hood\"\n  mount \"Short\"\n  focal 18mm\n}\n", "about: sharp; soft -> sharp; soft; mass: with hood", false,
		},
		{
			"a mode of its name, and a further one",
			"camera \"A\" {\n  mount \"Short\"\n  mode \"Full\" 36mm x 24mm\n  mode \"Crop\" 24mm x 13mm // c\n}\n",
			draft("camera", "A", "mode \"Crop\" 25mm x 14mm", "mode \"Tall\" 20mm x 24mm"),
			"camera \"A\" {\n  mount \"Short\"\n  mode \"Full\" 36mm x 24mm\n  mode \"Crop\" 25mm x 14mm // c\n  mode      \"Tall\" 20mm x 24mm\n}\n",
			"mode: Crop, 24 mm x 13 mm -> Crop, 25 mm x 14 mm; mode: unknown -> Tall, 20 mm x 24 mm", false,
		},
		{
			"an item of another file", "// nothing yet\n", draft("lens", "Far", "mount \"Short\"", "mass 1kg"),
			"// nothing yet\n", "mass: unknown -> 1 kg", true,
		},
		{"a new item", "// nothing yet\n", draft("lens", "New", "mount \"Short\"", "focal 1mm"), "// nothing yet\n", "", true},
	} {
		src := sourceOf(t, "mine", c.text)
		all, _ := catalog.Load(src, sourceOf(t, "house", house))
		r, ds := all.Revise(src, []catalog.Draft{c.draft})
		if ds != nil {
			t.Errorf("%s: %v", c.what, ds)
		}
		if diff := cmp.Diff(c.want, r.Text); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.what, diff)
		}
		var changes []string
		for _, change := range r.Changes {
			changes = append(changes, change.After.Keyword+": "+change.Before.Show(lang.Printer{})+" -> "+change.After.Show(lang.Printer{}))
		}
		if got := strings.Join(changes, "; "); got != c.changes {
			t.Errorf("%s: says %s, want %s", c.what, got, c.changes)
		}
		if got := len(r.New) == 1; got != c.isNew {
			t.Errorf("%s: %+v is new", c.what, r.New)
		}
		if strings.Count(r.Text, "\n")+1 != len(r.Origins) {
			t.Errorf("%s: %d origins for\n%s", c.what, len(r.Origins), r.Text)
		}
	}
}

// Of an item of another file, what differs is amended.
func TestReviseAmendsOtherFiles(t *testing.T) {
	mine, house := sourceOf(t, "mine", ""), sourceOf(t, "house", "mount \"Short\" {}\nlens \"Far\" {\n  mount \"Short\"\n  focal 200mm\n}\n")
	all, _ := catalog.Load(mine, house)
	r, _ := all.Revise(mine, []catalog.Draft{draft("lens", "Far", "mount \"Short\"", "mass 1kg")})
	text, _ := catalog.Compose(r.New)
	if want := "amend lens \"Far\" {\n  mass      1kg\n}\n"; text != want {
		t.Errorf("got %s, want %s", text, want)
	}
}

// What another file amends cannot be changed here, and an item that stands twice in a list is a
// fault.
func TestReviseRefuses(t *testing.T) {
	mine := sourceOf(t, "mine", "mount \"Short\" {}\nlens \"A\" {\n  mount \"Short\"\n  focal 18mm\n  mass 470g\n}\n")
	house := sourceOf(t, "house", "amend lens \"A\" {\n  mass 500g\n}\n")
	all, _ := catalog.Load(mine, house)
	r, ds := all.Revise(mine, []catalog.Draft{draft("lens", "A", "mass 510g")})
	if ds != nil {
		t.Fatal(ds)
	}
	after, _ := catalog.Load(sourceOf(t, "mine", r.Text), house)
	if ds := after.Unmet(r.Changes); len(ds) != 1 || ds[0].Code != lang.Contradiction || ds[0].Related[0].Span.String() != "house:2:8" {
		t.Errorf("got %v, want the amendment of the house", ds)
	}
	_, ds = all.Revise(mine, []catalog.Draft{draft("lens", "A", "mass 1kg"), draft("lens", "A", "mass 2kg")})
	if len(ds) != 1 || ds[0].Code != lang.DuplicateName {
		t.Errorf("got %v, want a duplicate", ds)
	}
}

// FuzzRevise puts lines into any layout: what could be read before can be read after, the change
// is made, and a second time there is nothing to change.
func FuzzRevise(f *testing.F) {
	f.Add("lens \"A\" { // c\n  mount \"S\" // d\r\n\r\n  mass 1kg // e\n focal 18mm }")
	f.Add("amend lens \"A\" { length 9cm }\nlens \"A\" {\n\n// only a comment }\n}\n")
	f.Add("lens \"A\" {}")
	f.Add("camera\"C\"{mode\"A\"1m x2mm\nmode\"B\"2mm x3mm}\nlens\"A\"{correction{\ncrop 1 } }")
	f.Add("camera \"C\" { mode \"A\" 1mm x 2mm\nmode \"B\" 2mm x 3mm }\nlens \"A\" {\n correction {\n crop 1 } }")
	for _, block := range langtest.Blocks(f, os.DirFS(".."), ".catalog") {
		f.Add(block)
	}
	drafts := []catalog.Draft{
		draft("lens", "A", "about \"x // y\"", "mount \"S\"", "mass about 480g", "length 9cm"),
		draft("camera", "C", "mode \"B\" 9mm x 3mm", "mode \"New\" 1mm x 1mm", "mass 1kg"),
	}
	f.Fuzz(func(t *testing.T, text string) {
		src, ds := lang.NewSource("fuzz", []byte(text))
		if ds.HasErrors() {
			return
		}
		before, ds := catalog.Load(src)
		if slices.ContainsFunc(ds, func(d lang.Diagnostic) bool {
			return d.Severity == lang.Error && d.Code != lang.MissingField && d.Code != lang.UnknownName
		}) {
			return
		}
		r, ds := before.Revise(src, drafts)
		if ds.HasErrors() {
			t.Fatalf("%v", ds)
		}
		revised, ds := lang.NewSource("fuzz", []byte(r.Text))
		if ds.HasErrors() {
			return // too long a line
		}
		after, ds := catalog.Load(revised)
		for _, d := range ds {
			if d.Severity == lang.Error && d.Code != lang.MissingField && d.Code != lang.UnknownName {
				t.Errorf("%v in\n%s\nmade of\n%s", d, r.Text, text)
			}
		}
		if ds := after.Unmet(r.Changes); len(r.New) == 0 && ds != nil {
			t.Errorf("%v in\n%s", ds, r.Text)
		}
		again, ds := after.Revise(revised, drafts)
		if ds.HasErrors() || again.Text != r.Text {
			t.Errorf("a second time, with %v, it gives\n%s\nof\n%s", ds, again.Text, r.Text)
		}
	})
}
