package brief_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"glassbrief/engine/brief"
	"glassbrief/lang"
	"glassbrief/lang/langtest"
)

// Whatever the size of a text, what is wrong with it is said within a second of computing. A
// file that is named many times is read once.
func TestSizesCostNoMoreThanASecond(t *testing.T) {
	shot := func(line string, times int) string {
		return strings.Replace(plainScenario, "distance 2m\n", "distance 2m\n"+strings.Repeat(line, times), 1)
	}
	var list strings.Builder
	list.WriteString("mount \"Own\" {\n flange 18mm\n}\n")
	for i := range 12_000 {
		fmt.Fprintf(&list, "lens \"L%d\" {\n mount \"Own\"\n focal 35mm\n aperture f/2..f/22\n mass 600g\n}\n", i)
	}
	tree := fstest.MapFS{"list.catalog": {Data: []byte(list.String())}}
	var uses strings.Builder
	for i := range 9 {
		name := fmt.Sprintf("%d.catalog", i)
		tree[name] = &fstest.MapFile{Data: []byte(strings.Repeat("//"+strings.Repeat("x", 8000)+"\n", 1000))}
		fmt.Fprintf(&uses, "use %q\n", name)
	}
	for _, c := range []struct {
		name, text string
		code       lang.Code // "" for no error
	}{
		{"one line of 16 MB", strings.Repeat("x", 16_000_000), lang.LineTooLong},
		{"8 million lines", strings.Repeat("a\n", 8_000_000), lang.TooLarge},
		{"as many lines as are read", strings.Repeat("a\n", 1<<20), lang.UnknownKeyword},
		{"100,000 needs of unknown facts", shot("  need nonsense > 3\n", 100_000), lang.UnknownName},
		{"72 MB in nine files", uses.String() + plainScenario, lang.TooLarge},
		{"400 times one catalogue", strings.Repeat("use \"list.catalog\"\n", 400) + plainScenario, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var ds lang.Diagnostics
			took := langtest.Clock(langtest.Processor).Time(func() {
				var src *lang.Source
				if src, ds = lang.NewSource("test.scenario", []byte(c.text)); !ds.HasErrors() {
					_, ds = brief.Load(src, brief.Files{Tree: tree})
				}
				var report strings.Builder
				if err := lang.Report(&report, ds, nil); err != nil {
					t.Error(err)
				}
			})
			if took > langtest.Allowed(time.Second) {
				t.Errorf("took %v, and a second is the most", took)
			}
			switch {
			case c.code == "" && ds.HasErrors():
				t.Errorf("got %v, want no error", ds[0])
			case c.code != "" && (len(ds) == 0 || ds[0].Code != c.code):
				t.Errorf("got %d findings, want %s first", len(ds), c.code)
			}
		})
	}
}

// However many warnings there are, what is behind them is read, and an error there is told.
func TestWarningsHideNothing(t *testing.T) {
	var shots strings.Builder
	for i := range 2 * lang.MaxRecorded {
		fmt.Fprintf(&shots, "shot \"%d\" {\n scene 1\n subject person 1.7m\n frame medium\n distance 2m\n light 1900klx\n}\n", i)
	}
	head := plainScenario[:strings.Index(plainScenario, "shot ")]
	for _, c := range []struct {
		name, behind string
		code         lang.Code // "" for no error
	}{{"nothing behind", "", ""}, {"an unknown line", "nonsense\n", lang.UnknownKeyword}, {"an unknown camera", "expect kit \"None\"\n", lang.UnknownName}} {
		src, ds := lang.NewSource("many.scenario", []byte(head+shots.String()+c.behind))
		if ds != nil {
			t.Fatal(ds)
		}
		s, found := brief.Load(src, brief.Files{})
		errors := slices.DeleteFunc(slices.Clone(found), func(d lang.Diagnostic) bool { return d.Severity != lang.Error })
		switch {
		case len(found) < lang.MaxRecorded:
			t.Fatalf("%s: got %d findings, want as many warnings as are kept: %v", c.name, len(found), found[:min(1, len(found))])
		case c.code == "" && (s == nil || len(s.Shots) != 2*lang.MaxRecorded):
			t.Errorf("%s: not every shot is read; errors %v", c.name, errors)
		case c.code != "" && (s != nil || len(errors) == 0 || errors[0].Code != c.code):
			t.Errorf("%s: got the errors %v, want %s", c.name, errors, c.code)
		}
	}
}
