package lang_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"testing"

	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// at gives the span of the first occurrence of piece in the source.
func at(t *testing.T, src *lang.Source, piece string) lang.Span {
	t.Helper()
	start := strings.Index(src.Text, piece)
	if start < 0 {
		t.Fatalf("the source has no %q", piece)
	}
	return lang.Span{Source: src, Start: start, End: start + len(piece)}
}

func source(t testing.TB, text string) *lang.Source {
	t.Helper()
	src, ds := lang.NewSource("ferry.scenario", []byte(text))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	return src
}

func report(t *testing.T, ds lang.Diagnostics, paint lang.Paint) string {
	t.Helper()
	var b strings.Builder
	if err := lang.Report(&b, ds, paint); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestReportMarksTheSpan(t *testing.T) {
	long := strings.Repeat("a", 50) + " 1.6 " + strings.Repeat("b", 50)
	tests := []struct {
		name, text, piece string
		start, end        int // used when piece is empty
		want              string
	}{
		{name: "plain", text: "carry 2\ndistance 1.6\n", piece: "1.6", want: `
ferry.scenario:2:10: error: wrong
  2 | distance 1.6
    |          ^^^
`},
		{name: "tabs before and inside", text: "\tdistance\t1.6\t2.8m", piece: "1.6\t2.8m", want: `
ferry.scenario:1:11: error: wrong
  1 |     distance    1.6 2.8m
    |                 ^^^^^^^^
`},
		{name: "wide runes", text: `shot "夜の船" 1.6`, piece: "1.6", want: `
ferry.scenario:1:12: error: wrong
  1 | shot "夜の船" 1.6
    |               ^^^
`},
		{name: "wide runes inside the span", text: `shot "夜の船"`, piece: `夜の船`, want: `
ferry.scenario:1:7: error: wrong
  1 | shot "夜の船"
    |       ^^^^^^
`},
		{name: "mark that joins the letter before it", text: "shot e\u0301 1.6", piece: "1.6", want: `
ferry.scenario:1:9: error: wrong
  1 | shot e` + "\u0301" + ` 1.6
    |        ^^^
`},
		{name: "empty span", text: "distance\nlight", start: 8, end: 8, want: `
ferry.scenario:1:9: error: wrong
  1 | distance
    |         ^
`},
		{name: "end of file", text: "shot {", start: 6, end: 6, want: `
ferry.scenario:1:7: error: wrong
  1 | shot {
    |       ^
`},
		{name: "end of file behind a line end", text: "shot {\n", start: 7, end: 7, want: `
ferry.scenario:2:1: error: wrong
  2 |
    | ^
`},
		{name: "empty file", text: "", start: 0, end: 0, want: `
ferry.scenario:1:1: error: wrong
`},
		{name: "line ends of two characters", text: "carry 2\r\ndistance 1.6\r\nlight 3lx\r\n", piece: "1.6", want: `
ferry.scenario:2:10: error: wrong
  2 | distance 1.6
    |          ^^^
`},
		{name: "span over several lines", text: "need a <\n  b\n", piece: "a <\n  b", want: `
ferry.scenario:1:6: error: wrong
  1 | need a <
    |      ^^^
`},
		{name: "long line cut on both sides", text: long, piece: "1.6", want: `
ferry.scenario:1:52: error: wrong
  1 | …aaaaaaaaaaaaaaaaaaaaaa 1.6 bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb…
    |                         ^^^
`},
		{name: "long line cut behind", text: "1.6 " + strings.Repeat("b", 90), piece: "1.6", want: `
ferry.scenario:1:1: error: wrong
  1 | 1.6 bbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbbb…
    | ^^^
`},
		{name: "characters that steer a terminal", text: "shot \x1b[2J\u202e 1.6", piece: "1.6", want: `
ferry.scenario:1:12: error: wrong
  1 | shot �[2J� 1.6
    |            ^^^
`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			src, found := lang.NewBudget(lang.DefaultBudget).Data("ferry.scenario", test.text, lang.OfFile) // which lets steering characters in
			if found.HasErrors() {
				t.Fatal(found)
			}
			span := lang.Span{Source: src, Start: test.start, End: test.end}
			if test.piece != "" {
				span = at(t, src, test.piece)
			}
			got := report(t, lang.Diagnostics{{Severity: lang.Error, Summary: "wrong", Span: span}}, nil)
			if diff := cmp.Diff(strings.TrimPrefix(test.want, "\n"), got); diff != "" {
				t.Errorf("report differs (-want +got):\n%s", diff)
			}
		})
	}
}

func TestReportSaysAll(t *testing.T) {
	src := source(t, "shot \"4A\" {\n}\nshot \"4A\" {\n  distence 1m\n}\n")
	second := at(t, src, "\"4A\" {\n  d")
	ds := lang.Diagnostics{
		{
			Severity: lang.Error, Code: lang.UnknownKeyword, Span: at(t, src, "distence"),
			Summary: `"distence" has no meaning in a shot`, Instead: "distance",
		},
		{
			Severity: lang.Error, Code: lang.DuplicateName, Span: second.Sub(0, 4),
			Summary: `the shot "4A" is given twice`, Detail: "Rename one of them.",
			Related: []lang.Related{{Span: at(t, src, `"4A"`), Note: "first given here"}},
		},
		{Severity: lang.Warning, Code: lang.Improbable, Summary: "a lens of 40 kg"},
	}
	want := `warning: a lens of 40 kg

ferry.scenario:3:6: error: the shot "4A" is given twice
  3 | shot "4A" {
    |      ^^^^
  Rename one of them.
ferry.scenario:1:6: first given here
  1 | shot "4A" {
    |      ^^^^

ferry.scenario:4:3: error: "distence" has no meaning in a shot
  4 |   distence 1m
    |   ^^^^^^^^
  Did you mean "distance"?
`
	if diff := cmp.Diff(want, report(t, ds, nil)); diff != "" {
		t.Errorf("report differs (-want +got):\n%s", diff)
	}
}

func TestReportBreaksLongDetails(t *testing.T) {
	got := report(t, lang.Diagnostics{{
		Severity: lang.Error, Summary: "wrong", Detail: strings.Repeat("twelve cells ", 8) + "夜の船夜の船夜の船夜の船",
	}}, nil)
	want := `error: wrong
  twelve cells twelve cells twelve cells twelve cells twelve cells twelve cells
  twelve cells twelve cells 夜の船夜の船夜の船夜の船
`
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("report differs (-want +got):\n%s", diff)
	}
}

func TestReportPaintsEachRole(t *testing.T) {
	src := source(t, "carry 2\n")
	ds := lang.Diagnostics{
		{Severity: lang.Error, Summary: "first", Span: at(t, src, "carry")},
		{Severity: lang.Warning, Summary: "second", Span: at(t, src, "2")},
	}
	got := report(t, ds, func(role lang.Role, text string) string {
		return fmt.Sprintf("<%d>%s</>", role, text)
	})
	want := "<3>ferry.scenario:1:1:</> <1>error:</> first\n" +
		"<5>  1 | </>carry 2\n<5>    | </><4>^^^^^</>\n\n" +
		"<3>ferry.scenario:1:7:</> <2>warning:</> second\n" +
		"<5>  1 | </>carry 2\n<5>    | </>      <4>^</>\n"
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("report differs (-want +got):\n%s", diff)
	}
}

func TestReportCountsTheRest(t *testing.T) {
	src := source(t, strings.Repeat("x\n", 60))
	var ds lang.Diagnostics
	for i := range 25 {
		ds = append(ds, lang.Diagnostic{Severity: lang.Warning, Summary: fmt.Sprintf("w%d", i), Span: lang.Span{Source: src, Start: 2 * i, End: 2*i + 1}})
	}
	for i := 25; i < 43; i++ {
		ds = append(ds, lang.Diagnostic{Severity: lang.Error, Summary: fmt.Sprintf("e%d", i), Span: lang.Span{Source: src, Start: 2 * i, End: 2*i + 1}})
	}
	got := report(t, ds, nil)
	if errs, warnings := strings.Count(got, "error: "), strings.Count(got, "warning: "); errs != 18 || warnings != 2 {
		t.Errorf("got %d errors and %d warnings printed, want 18 and 2", errs, warnings)
	}
	if want := "\nand 23 warnings more\n"; !strings.HasSuffix(got, want) {
		t.Errorf("got the end %q, want %q", got[len(got)-40:], want)
	}
	if got, want := lang.Count(ds), "18 errors, 25 warnings"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, errors.New("pipe closed") }

func TestReportGivesTheErrorOfTheWriter(t *testing.T) {
	err := lang.Report(brokenWriter{}, lang.Diagnostics{{Severity: lang.Error, Summary: "wrong"}}, nil)
	if err == nil || err.Error() != "pipe closed" {
		t.Errorf("got %v, want the writer's error", err)
	}
}

// Whatever the line and the span, the carets stand inside what is shown, and the line
// fits a terminal.
func TestReportFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[ab 夜\t"\n\r\x{301}\x{1b}]{1,200}`).Draw(t, "text")
		src, _ := lang.NewSource("f", []byte(text))
		start := rapid.IntRange(0, len(text)).Draw(t, "start")
		end := rapid.IntRange(start, len(text)).Draw(t, "end")
		var b strings.Builder
		if err := lang.Report(&b, lang.Diagnostics{{Severity: lang.Error, Summary: "s", Span: lang.Span{Source: src, Start: start, End: end}}}, nil); err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
		if len(lines) != 3 {
			t.Fatalf("got %d lines, want 3:\n%s", len(lines), b.String())
		}
		if n := len(lines[2]); n > 80 || !strings.HasSuffix(lines[2], "^") {
			t.Errorf("the caret line is wrong:\n%s", b.String())
		}
	})
}

func TestDiagnosticJSON(t *testing.T) {
	src := source(t, "carry 2\ndistance 夜\n")
	tests := []struct {
		name string
		d    lang.Diagnostic
		want string
	}{
		{"all", lang.Diagnostic{
			Severity: lang.Error, Code: lang.MissingUnit, Summary: "s", Detail: "D.", Instead: "i", Span: at(t, src, "夜"),
			Related: []lang.Related{{Span: at(t, src, "2"), Note: "n"}},
		}, `{"severity":"error","code":"missing-unit","summary":"s","detail":"D.","instead":"i",` +
			`"file":"ferry.scenario","line":2,"column":10,"end_line":2,"end_column":11,` +
			`"correction":{"file":"ferry.scenario","line":2,"column":10,"end_line":2,"end_column":11,"text":"i","safe":false},` +
			`"related":[{"file":"ferry.scenario","line":1,"column":7,"end_line":1,"end_column":8,"note":"n"}]}`},
		{"no place", lang.Diagnostic{Severity: lang.Warning, Code: lang.Improbable, Summary: "s"},
			`{"severity":"warning","code":"improbable","summary":"s"}`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, err := json.Marshal(test.d)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(test.want, string(got)); diff != "" {
				t.Errorf("JSON differs (-want +got):\n%s", diff)
			}
		})
	}
}
