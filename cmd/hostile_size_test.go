//go:build unix

package cmd

import (
	"archive/zip"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"glassbrief/lang"
	"glassbrief/lang/langtest"
)

const briefHead = "use demo\nscenario \"Hostile\" {\n camera \"House body A\"\n rig \"Short sled\"\n"
const briefTail = "}\nshot \"1\" {\n scene 1\n subject person 1.7m\n frame medium\n distance 2m\n}\n"

// Whatever the size of what is wrong, a run says so within a second of computing and 200 MB. Each run is a
// process of its own, so that all that it holds is counted.
func TestHostileSizes(t *testing.T) {
	m := newMeter(t)
	binary := built(t)
	line16, lines8 := strings.Repeat("x", 16<<20), strings.Repeat("a\n", 8<<20)
	var lasting strings.Builder
	for i := range 12_000 {
		fmt.Fprintf(&lasting, "lens \"L%d\" {\n mount \"Own\"\n focal 35mm\n aperture f/2..f/22\n mass 600g\n}\n", i)
	}
	uses := func(n int, name string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, "use %q\n", strings.ReplaceAll(name, "#", fmt.Sprint(i)))
		}
		return b.String()
	}
	type files = map[string]string
	recommend := func(text string) files { return files{"a.scenario": text} }
	check := []string{"check", "a.scenario"}
	table, csv := []string{"catalog", "import", "a.xlsx"}, []string{"catalog", "import", "a.csv"}
	plain := briefHead + briefTail
	with := func(line string) string { return briefHead + line + briefTail }
	need := func(line string, n int) string {
		return strings.TrimSuffix(plain, "}\n") + strings.Repeat(line, n) + "}\n"
	}
	heavy := files{"a.scenario": uses(30, "#.catalog") + plain}
	for i := range 30 {
		heavy[fmt.Sprintf("%d.catalog", i)] = strings.Repeat("//"+strings.Repeat("x", 8000)+"\n", 1990)
	}
	laughs := "a: &a [x, x, x, x, x, x, x, x, x]\n"
	for c := 'b'; c <= 'k'; c++ {
		laughs += fmt.Sprintf("%c: &%c [*%c, *%c, *%c, *%c, *%c, *%c, *%c, *%c, *%c]\n", c, c, c-1, c-1, c-1, c-1, c-1, c-1, c-1, c-1, c-1)
	}
	var keys, flat strings.Builder
	for i := range 100_000 {
		fmt.Fprintf(&keys, "k%d: %d\n", i, i)
		fmt.Fprintf(&flat, "fact f%d = nonsense + 1\n", i)
	}
	script, rules, list := with(" script \"x\"\n"), with(" rules \"x\"\n"), with(" framing \"x\"\n")
	for _, c := range []struct {
		name  string
		files files
		args  []string // nil to recommend
		says  string
	}{
		{"one line of 16 MB", recommend(line16[:16_000_000]), nil, "the line holds 16000000 bytes"},
		{"one line of 50 MB", recommend(strings.Repeat("x", 50_000_000)), nil, "the file holds more than 16MB"},
		{"8 million lines", recommend(lines8[:16_000_000]), nil, "the run reads more than 2000000 lines"},
		{"2 million lines", recommend(lines8[:3_999_990]), nil, "\"a\" means nothing in this file"},
		{"blocks one after another", recommend(strings.Repeat("a {\n}\n", 500_000)), nil, "\"a\" means nothing in this file"},
		{"faulty lines", recommend(strings.Repeat("= = =\n", 1_000_000)), nil, "does not belong here"},
		{"values", recommend(strings.Repeat("use "+strings.Repeat("1m ", 5000)+"\n", 1000)), nil, "more than 800000 statements and values"},
		{"values of lists", recommend(strings.Repeat("use "+strings.Repeat("1m, ", 3000)+"1m\n", 1000)), nil, "more than 800000 statements and values"},
		{"lines of values", recommend(strings.Repeat("a 1 1 1 1 1 1 1\n", 900_000)), nil, "means nothing"},
		{"marks of merges", recommend(strings.Repeat("=======\n", 1_900_000)), nil, "a merge is unfinished"},
		{"nested blocks", recommend(strings.Repeat("a {\n", 1_000_000)), nil, "nested more than 32 deep"},
		{"UTF-16", recommend(strings.Repeat("a\x00", 8_000_000)), nil, "UTF-16"},
		{"400 times one catalogue", files{"a.scenario": uses(400, "x.catalog") + plain, "x.catalog": lasting.String()}, nil, "no mount \"Own\""},
		{"a catalogue by 400 names", files{"a.scenario": uses(400, "#/../x.catalog") + plain, "x.catalog": lasting.String()}, nil, "no mount \"Own\""},
		{"480 MB in 30 files", heavy, nil, "the run reads more than 64MB"},
		{"100,000 needs", recommend(need(" need nonsense > 3\n", 100_000)), nil, "the fact \"nonsense\" is not defined"},
		{"shots", recommend(strings.Repeat("shot \"1\" {\n scene 1\n subject person 1.7m\n frame medium\n distance 2m\n light 9000000lx\n}\n", 30_000) + plain), nil, "is not possible for \"light\""},
		{"brackets of expressions", recommend(need(" need "+strings.Repeat("(", 1000)+"\n", 10_000)), nil, "nested more than 50 deep"},
		{"a script of one line", files{"a.scenario": script, "x": line16[:16_000_000]}, check, "the line holds 16000000 bytes"},
		{"a script of headings", files{"a.scenario": script, "x": strings.Repeat("INT. A #1#\n\n", 900_000)}, check, "the script has more than 10000 scenes"},
		{"a script to begin from", files{"x": strings.Repeat("INT. A #1#\n\n", 900_000)}, []string{"begin", "--script", "x", "new"}, "the script has more than 10000 scenes"},
		{"rules of one line", files{"a.scenario": rules, "x": line16[:1_999_990]}, nil, "the line holds 1999990 bytes"},
		{"rules of facts", files{"a.scenario": rules, "x": flat.String()[:1_999_980]}, nil, "the fact \"nonsense\" is not defined"},
		{"rules of criteria", files{"a.scenario": rules, "x": strings.Repeat("criterion \"x\" {\n veto nonsense > 1\n}\n", 50_000)}, nil, "the fact \"nonsense\" is not defined"},
		{"rules of 3 MB", files{"a.scenario": rules, "x": lines8[:3_000_000]}, nil, "the file holds more than 2MB"},
		{"rules of lines", files{"a.scenario": rules, "x": lines8[:1_999_990]}, nil, "\"a\" means nothing in this file"},
		{"a list of brackets", files{"a.scenario": list, "x": strings.Repeat("[", 3_900_000)}, nil, "nested more than 64 deep"},
		{"a list of 15 MB", files{"a.scenario": list, "x": strings.Repeat("[", 15_000_000)}, nil, "the file holds more than 4MB"},
		{"a list of intents", files{"a.scenario": list, "x": "{\"framing_intents\":[" + strings.Repeat("{\"id\":1},", 400_000) + "{}]}"}, nil, "the list holds more than 50000 values"},
		{"a list of numbers", files{"a.scenario": list, "x": "[" + strings.Repeat("1,", 1_900_000) + "1]"}, nil, "the list holds more than 50000 values"},
		{"a list of keys", files{"a.scenario": list, "x": "{\"" + strings.ReplaceAll(keys.String()[:400_000], "\n", "\":1,\"") + "\":1}"}, nil, "error: "},
		{"settings of one line", files{"a.scenario": plain, "glassbrief.yaml": line16}, nil, "the file holds more than 64kB"},
		{"settings of brackets", files{"a.scenario": plain, "glassbrief.yaml": "units: " + strings.Repeat("[", 15<<10)}, nil, "the settings cannot be read"},
		{"settings of dashes", files{"a.scenario": plain, "glassbrief.yaml": strings.Repeat("- ", 7<<10)}, nil, "the settings cannot be read"},
		{"settings that laugh", files{"a.scenario": plain, "glassbrief.yaml": laughs}, nil, "the settings cannot be read"},
		{"settings of keys", files{"a.scenario": plain, "glassbrief.yaml": keys.String()[:63_000]}, nil, "the setting \"k0\" is not known"},
		{"settings of rules", files{"a.scenario": plain, "glassbrief.yaml": "rules:\n" + strings.Repeat("- x\n", 15_000)}, nil, "\"x\" cannot be read"},
		{"a workbook of cells", files{"a.xlsx": hostileBook("<row>" + strings.Repeat("<c/>", 3_900_000) + "</row>")}, table, "cells"},
		{"a workbook of rows", files{"a.xlsx": hostileBook(strings.Repeat("<row/>", 900_000))}, table, "cannot be read"},
		{"a workbook of numbers", files{"a.xlsx": hostileBook(strings.Repeat("<row><c><v>1</v></c></row>", 150_000))}, table, "error: "},
		{"a workbook of merges", files{"a.xlsx": hostileBook("<row><c><v>1</v></c></row></sheetData>" + strings.Repeat("<mergeCell ref=\"A1:A9\"/>", 400_000))}, table, "error: "},
		{"a workbook of blanks", files{"a.xlsx": hostileBook(strings.Repeat(" ", 70_000_000))}, table, "once a workbook is unpacked"},
		{"a workbook of nests", files{"a.xlsx": hostileBook(strings.Repeat("<a>", 3_900_000))}, table, "cells"},
		{"a workbook of attributes", files{"a.xlsx": hostileBook("<row" + strings.Repeat(" a=\"\"", 5_000_000) + "/>")}, table, "cells"},
		{"a list of commas", files{"a.csv": strings.Repeat(",", 15_000_000)}, csv, "cells"},
		{"a list of line ends", files{"a.csv": strings.Repeat("\n", 900_000)}, csv, "error: "},
		{"a list of quotes", files{"a.csv": strings.Repeat("\"", 15_000_000)}, csv, "error: "},
		{"a list of one cell", files{"a.csv": line16[:16_000_000]}, csv, "error: "},
		{"a list of bad rows", files{"a.csv": "Lens,Mount,FL\n" + strings.Repeat("A,B,much\n", 150_000)}, csv, "error: "},
		{"shots of bad rows", files{"a.csv": "Shot,Scene,Framing,Distance\n" + strings.Repeat("A,1,nonsense,4 parsec\n", 150_000)}, []string{"begin", "--shots", "a.csv", "new"}, "error: "},
		{"bad lenses", files{"a.scenario": uses(1, "x") + plain, "x": strings.Repeat("lens \"x\" {\n mount 3m\n}\n", 600_000)}, nil, "more than 800000 statements and values"},
		{"bad lenses within the limit", files{"a.scenario": uses(1, "x") + plain, "x": strings.Repeat("lens \"x\" {\n mount 3m\n}\n", 60_000)}, nil, "\"3m\" is"},
		{"2 million lines to tidy", files{"a.catalog": lines8[:3_999_990]}, []string{"tidy", "a.catalog"}, "\"a\" means nothing in this file"},
		{"corrections in one block", files{"db/a.xml": strings.Repeat("<lens>\n", 1_900_000)}, []string{"catalog", "import", "db", "--find", "a"}, "error: "},
	} {
		t.Run(c.name, func(t *testing.T) {
			folder := t.TempDir()
			for name, text := range c.files {
				path := filepath.Join(folder, name)
				if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			args := c.args
			if args == nil {
				args = []string{"recommend", "a.scenario"}
			}
			got := m.measure(folder, binary, args...)
			t.Logf("%v, %.0f MB", got.processor, got.megabytes)
			if got.code != exitBadInput || !strings.Contains(got.complaint, c.says) {
				t.Errorf("ended with %d: %.300s\nwant %d and %q", got.code, got.complaint, exitBadInput, c.says)
			}
			if got.processor > langtest.Allowed(time.Second) || got.megabytes > 200 {
				t.Errorf("took %v and %.0f MB, and a second and 200 MB are the most", got.processor, got.megabytes)
			}
			if n := strings.Count(got.complaint, ": error: "); n > 1 && strings.Contains(got.complaint, "raise its budget") {
				t.Errorf("%d errors are shown beside the budget: %.500s", n, got.complaint)
			} else if n > lang.MaxReported {
				t.Errorf("%d errors are shown, and %d are the most", n, lang.MaxReported)
			}
		})
	}
}

// hostileBook is a workbook of one sheet that holds the rows.
func hostileBook(rows string) string {
	var b strings.Builder
	w := zip.NewWriter(&b)
	for _, part := range [][2]string{
		{"_rels/.rels", `<Relationships><Relationship Id="1" Type="/officeDocument" Target="b.xml"/></Relationships>`},
		{"b.xml", `<workbook><sheets><sheet name="A" id="1"/></sheets></workbook>`},
		{"_rels/b.xml.rels", `<Relationships><Relationship Id="1" Type="/worksheet" Target="s.xml"/></Relationships>`},
		{"s.xml", "<worksheet><sheetData>" + rows + "</sheetData></worksheet>"},
	} {
		to, err := w.Create(part[0])
		if err != nil {
			panic(err)
		}
		if _, err := to.Write([]byte(part[1])); err != nil {
			panic(err)
		}
	}
	if err := w.Close(); err != nil {
		panic(err)
	}
	return b.String()
}
