package lang

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

// scenesOf reads a text and gives each scene on one line: number, heading, setting, time.
func scenesOf(t *testing.T, text string) []string {
	t.Helper()
	src, ds := NewSource("script", []byte(text))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	var got []string
	for _, s := range Scenes(src) {
		setting := map[[2]bool]string{{true, false}: "in", {false, true}: "out", {true, true}: "both"}[[2]bool{s.Inside, s.Outside}]
		got = append(got, fmt.Sprintf("%s|%s|%s|%s", s.Number, s.Heading, setting, s.Time))
	}
	return got
}

func TestScenes(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"empty", "", nil},
		{"the whole file", "INT. DECK", []string{"|INT. DECK|in|"}},
		{"number", "\nINT. CAR DECK - NIGHT #4A#\n\nx", []string{"4A|INT. CAR DECK - NIGHT|in|night"}},
		{"numbers of every kind", "INT. A #1#\n\nINT. B #110-A#\n\nINT. C #7.1#\n\nINT. D #2)#\n", []string{"1|INT. A|in|", "110-A|INT. B|in|", "7.1|INT. C|in|", "2)|INT. D|in|"}},
		{"no number", "INT. A # 4 #\n\nINT. B ##\n\nINT. C #4\n\nINT. D 4#", []string{"|INT. A # 4 #|in|", "|INT. B ##|in|", "|INT. C #4|in|", "|INT. D 4#|in|"}},
		{"openings", "int. a\n\nExt b\n\nEST. c\n\nINT./EXT. d\n\nINT/EXT e\n\nI/E. f\n", []string{"|int. a|in|", "|Ext b|out|", "|EST. c|out|", "|INT./EXT. d|both|", "|INT/EXT e|both|", "|I/E. f|both|"}},
		{"no headings", "ESTABLISHING\n\nINTERIOR. X\n\nINT\n\nEXTRA - DAY\n\nINT: x\n", nil},
		{"no empty line behind", "INT. A - DAY\nHe waits.\n", nil},
		{"no empty line before", "He waits.\nINT. A - DAY\n\n", nil},
		{"forced", ".ABOVE THE FERRY - DAWN #9#\n\n..and so on\n\n.\n\n...\n", []string{"9|ABOVE THE FERRY - DAWN||dawn"}},
		{"forced with a setting", ".EXT. DECK\n", []string{"|EXT. DECK|out|"}},
		{"omitted", "/* INT. A\n\nINT. B\n\n*/\n\nINT. C\n", []string{"|INT. C|in|"}},
		{"omitted within a heading", "INT. A /* old */ - DAY /* x */ #1#\n", []string{"1|INT. A - DAY|in|day"}},
		{"omitted to no end", "INT. A\n\n/* INT. B\n\nINT. C\n", []string{"|INT. A|in|", "|INT. C|in|"}},
		{"notes", "[[one]]\nINT. A [[two]] #1#\n[[three]]\n\nINT. B [[four\n", []string{"1|INT. A|in|", "|INT. B [[four|in|"}},
		{"title page", "Title: X\nCredit: INT. Y\n\nINT. A\n\n", []string{"|INT. A|in|"}},
		{"sections and synopses", "# INT. A\n\n= INT. B\n\n===\n\n> INT. C\n\n", nil},
		{"dashes", "INT. A — NIGHT\n\nINT. B -- LATER – DAWN\n\nINT. C-D\n", []string{"|INT. A — NIGHT|in|night", "|INT. B -- LATER – DAWN|in|dawn", "|INT. C-D|in|"}},
		{"carriage returns", "INT. A #1#\r\n\r\ntext\r\n\r\nEXT. B #2#\r\n", []string{"1|INT. A|in|", "2|EXT. B|out|"}},
		{"byte-order mark", "\xef\xbb\xbfINT. A #1#\n\n", []string{"1|INT. A|in|"}},
		{"blanks", "  \n\tINT.   A   -  DAY  \n  \n", []string{"|INT. A - DAY|in|day"}},
		{"other letters", "INT. MÜHLE – NACHT #Ä1#\n", []string{"Ä1|INT. MÜHLE – NACHT|in|nacht"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, scenesOf(t, c.text)); diff != "" {
				t.Errorf("scenes differ (-want +got):\n%s", diff)
			}
		})
	}
}

func TestSceneSpans(t *testing.T) {
	src, _ := NewSource("script", []byte("x\n\n  EXT. ÖST [[n]] - DAY #2#  \n\n.FORCED\n"))
	var got []string
	for _, s := range Scenes(src) {
		got = append(got, fmt.Sprintf("%d:%s", s.Span.Position().Line, s.Span.Text()))
	}
	want := []string{"3:EXT. ÖST [[n]] - DAY #2#", "5:.FORCED"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("places differ (-want +got):\n%s", diff)
	}
}

// Five megabytes of marks that open and never close, or close at once, take no longer
// than their length asks for.
func TestLongScripts(t *testing.T) {
	const size = 5 << 20
	for _, c := range []struct {
		name, piece string
		scenes      int
	}{
		{"scenes", "EXT. DECK - DAY #1#\n\nShe walks.\n\n", size / 33},
		{"open omissions", "/*\n\n", 0},
		{"omissions", "/**/\n", 0},
		{"open notes", "[[\n", 0},
		{"notes in one line", strings.Repeat("[[]]", 1000) + "\n", 0},
		{"number signs", "INT. #" + strings.Repeat("#", 1000) + "\n\n", size / 1008},
	} {
		t.Run(c.name, func(t *testing.T) {
			src, ds := NewBudget(2*DefaultBudget).Source("script", strings.Repeat(c.piece, size/len(c.piece)), OfFile)
			if ds.HasErrors() {
				t.Fatal(ds)
			}
			var scenes []Scene
			took := langtest.Clock(langtest.Processor).Time(func() { scenes = Scenes(src) })
			if took > langtest.Allowed(2*time.Second) {
				t.Errorf("took %v, and two seconds are the most", took)
			}
			if len(scenes) != c.scenes {
				t.Errorf("got %d scenes, want %d", len(scenes), c.scenes)
			}
		})
	}
}

func TestSameHeading(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"INT. CAR DECK - NIGHT", "Int.  car deck — night", true},
		{"INT. CAR DECK - NIGHT", "INT. CAR DECK - DAY", false},
		{"INT. DECK", "EXT. DECK", false},
	} {
		if got := SameHeading(c.a, c.b); got != c.want {
			t.Errorf("SameHeading(%q, %q) = %v, want %v", c.a, c.b, got, c.want)
		}
	}
}

func FuzzScenes(f *testing.F) {
	f.Add("Title: X\n\nINT. A - DAY #1#\n\n/* x */ [[y]]\n\n.B #2-A#\r\n\r\n..no\n")
	f.Add("\xef\xbb\xbfEXT. B\n\n/* [[ */ ]]\n")
	f.Fuzz(func(t *testing.T, text string) {
		src, ds := NewSource("fuzz", []byte(text))
		if ds.HasErrors() {
			return
		}
		line := 0
		for _, scene := range Scenes(src) {
			at := scene.Span.Position().Line
			if at <= line {
				t.Errorf("line %d follows line %d", at, line)
			}
			line = at
			if shown := scene.Span.Text(); shown != strings.TrimSpace(shown) || strings.Contains(shown, "\n") {
				t.Errorf("the heading is marked as %q", shown)
			}
			if strings.ContainsAny(scene.Number, "# \t\n") {
				t.Errorf("the number is %q", scene.Number)
			}
		}
	})
}
