package brief_test

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// The files of testdata/errors hold faulty texts, cut into chunks at lines of
// "//======". A comment names what must be found on its line, and nothing else may be:
//
//	light 320  //! missing-unit /has no unit/
//
// The regular expression is held against the summary, with its correction, and the
// detail. "//! code /…/ code /…/" asks for two findings. A chunk of a .rules or .catalog file
// is read as the rules, or as a catalogue, of a scenario without faults.
const (
	errorFiles   = "../../testdata/errors"
	chunkDivider = "//======"
)

const plainScenario = `use demo
scenario "Plain" {
  camera "House body A"
  rig    "Short sled"
}
shot "1A" {
  subject  person 1.7m
  frame    medium
  distance 2m
}
`

// codesElsewhere are the codes that no text of a file brings about by itself, or that
// would need one too long to read, with the test that does.
var codesElsewhere = map[lang.Code]string{
	lang.TooLarge:          "a text of 16 MB: TestHostileText in lang, TestHostileFiles in cmd",
	lang.NotText:           "bytes that are no text: TestHostileText in lang, TestHostileFiles in cmd",
	lang.LineTooLong:       "a line of 16 KB: TestHostileText in lang, TestHostileFiles in cmd",
	lang.ExpressionTooLong: "an expression of 4 KB: TestCheckLimits in lang/expression",
	lang.FramingList:       "a list beside the scenario: listing_test.go",
	lang.Upkeep:            "is looked for on demand: engine/doctor",
	lang.ExpectationBroken: "comes behind reading: testdata/script/check.txtar",
	lang.InternalFault:     "a state that is never met: TestFaultShowsItsPlaceWhenAsked in cmd",
}

var (
	expectedComment = regexp.MustCompile(`//! (.*)$`)
	expectedFinding = regexp.MustCompile(`^([a-z-]+) /((?:\\.|[^/])*)/ *`)
)

type expected struct {
	code lang.Code
	text *regexp.Regexp
	line int
}

func TestErrors(t *testing.T) {
	seen := map[lang.Code]bool{}
	eachChunk(t, func(t *testing.T, name, chunk string, above int) {
		for _, code := range checkChunk(t, name, chunk, above) {
			seen[code] = true
		}
	})
	for _, row := range lang.Codes() {
		if where, ok := codesElsewhere[row.Code]; seen[row.Code] == ok {
			t.Errorf("the code %q has a case here: %v; tested elsewhere: %q; want one of the two", row.Code, seen[row.Code], where)
		}
	}
}

// eachChunk runs a test on each faulty text; above are the lines of its file before it.
func eachChunk(t *testing.T, test func(t *testing.T, name, chunk string, above int)) {
	t.Helper()
	entries, err := os.ReadDir(errorFiles)
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range entries {
		text, err := os.ReadFile(filepath.Join(errorFiles, entry.Name()))
		if err != nil {
			t.Fatal(err)
		}
		above := 0
		for chunk := range strings.SplitSeq(string(text), chunkDivider+"\n") {
			t.Run(fmt.Sprintf("%s:%d", entry.Name(), above+1), func(t *testing.T) { test(t, entry.Name(), chunk, above) })
			above += strings.Count(chunk, "\n") + 1
		}
	}
}

// checkChunk holds the findings of a chunk against its comments and gives their codes.
func checkChunk(t *testing.T, name, chunk string, above int) []lang.Code {
	t.Helper()
	wanted := expectations(t, chunk)
	found := loadChunk(t, name, chunk)
	var codes []lang.Code
	for _, d := range found {
		codes = append(codes, d.Code)
		checkWording(t, d)
		i := slices.IndexFunc(wanted, func(e expected) bool {
			return e.code == d.Code && d.Span.Known() && e.line == d.Span.Position().Line && e.text.MatchString(said(d))
		})
		if i < 0 {
			t.Errorf("line %d: unexpected %s: %s", above+d.Span.Position().Line, d.Code, said(d))
			continue
		}
		wanted = slices.Delete(wanted, i, i+1)
	}
	for _, e := range wanted {
		t.Errorf("line %d: nothing found, want %s /%s/", above+e.line, e.code, e.text)
	}
	return codes
}

// said is what the patterns of the comments are held against.
func said(d lang.Diagnostic) string {
	text := d.Summary
	if d.Instead != "" {
		text += fmt.Sprintf("; did you mean %q?", d.Instead)
	}
	return text + " " + d.Detail
}

func expectations(t *testing.T, chunk string) []expected {
	t.Helper()
	var wanted []expected
	for i, line := range strings.Split(chunk, "\n") {
		comment := expectedComment.FindStringSubmatch(line)
		if comment == nil {
			continue
		}
		rest := comment[1]
		for rest != "" {
			finding := expectedFinding.FindStringSubmatch(rest)
			if finding == nil {
				t.Fatalf("%q is not like: code /pattern/", rest)
			}
			wanted = append(wanted, expected{lang.Code(finding[1]), regexp.MustCompile(finding[2]), i + 1})
			rest = rest[len(finding[0]):]
		}
	}
	return wanted
}

func loadChunk(t *testing.T, name, chunk string) lang.Diagnostics {
	t.Helper()
	files := brief.Files{Tree: fstest.MapFS{
		"folder": {Mode: fs.ModeDir},
	}}
	text := chunk
	own := ""
	switch filepath.Ext(name) {
	case ".rules":
		own, text = "chunk.rules", strings.Replace(plainScenario, "camera", "rules \"chunk.rules\"\n  camera", 1)
	case ".catalog":
		own, text = "chunk.catalog", "use \"chunk.catalog\"\n"+plainScenario
	}
	if own != "" {
		files.Tree.(fstest.MapFS)[own] = &fstest.MapFile{Data: []byte(chunk)}
	}
	src, found := lang.NewSource(name, []byte(text))
	if found.HasErrors() {
		return found
	}
	scenario, found := brief.Load(src, files)
	if (scenario == nil) != found.HasErrors() {
		t.Errorf("got a scenario: %v; errors: %v; want one of the two", scenario != nil, found.HasErrors())
	}
	return found
}

// checkWording holds a finding to the house style: a summary is a phrase, a detail is
// made of sentences, and neither shows how the program is made.
func checkWording(t *testing.T, d lang.Diagnostic) {
	t.Helper()
	first := []rune(d.Summary)
	if len(first) < 2 || unicode.IsUpper(first[0]) && unicode.IsLower(first[1]) || strings.HasSuffix(d.Summary, ".") {
		t.Errorf("%s: the summary %q is no phrase", d.Code, d.Summary)
	}
	if !strings.HasSuffix(d.Detail, ".") {
		t.Errorf("%s: the detail %q is no sentence", d.Code, d.Detail)
	}
	if inside := regexp.MustCompile(`float64|lang\.|ast\.|Token|<nil>|%!`).FindString(said(d)); inside != "" {
		t.Errorf("%s: %q shows %q, which is of the program", d.Code, said(d), inside)
	}
}
