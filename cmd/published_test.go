package cmd_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The rows of testdata/published/verbs are published values that the verbs must give, from a
// catalogue and a brief made for each. A row is one value:
//
//	id         unique; the name of the subtest
//	source     where the value stands
//	published  what stands there
//	catalogue  statements with ";" between, which take the place of those of the same keyword in
//	           publishedBlocks: "lens focal 35mm", "camera mode …", "mount N flange …"; "no" before a
//	           keyword leaves it out, and "focal 28mm|35mm" makes a lens of each
//	scenario   the same for "shot", and what stands without a block is a line of the scenario
//	verb       why, recommend or cards, read as JSON
//	key        facts.NAME, or the path of the value in the document
//	expected   a number with the unit of the fact, or the names of a list
//	tolerance  in the same unit
//	kind       published; computed, by the formula of the source; derived, by one step from another
//	           row; or look-up, of a constant or an echo of the files, which proves nothing
//
// A lens of one stop is written as "aperture f/8..f/8.0008", since a single f-number is the widest of
// a lens whose smallest is not known. Distances of the rows run from the sensor, and a source that measures from the lens has the image
// distance of a thin lens added.
const (
	publishedRows = "../testdata/published/verbs/rows.csv"
	fewestChecks  = 104
)

var publishedColumns = []string{"id", "source", "published", "catalogue", "scenario", "verb", "key", "expected", "tolerance", "kind"}

// publishedBlocks is what the files of a row say where the row says nothing else. The image circle is
// so large that no lens is left out for it. A lens focuses as near as a thin lens can, at four focal
// lengths.
var publishedBlocks = map[string][]string{
	"mount M":  {"flange 20mm"},
	"camera":   {`mount "M"`, `mode "all" 36mm x 24mm`, "iso 100", "iso_range 100..25600", "mass 1kg", "autofocus"},
	"rig":      {"payload 0.1kg..20kg", "wobble 0.25deg", "isolation 70%"},
	"lens":     {`mount "M"`, "focal 50mm", "pupil thin", "aperture f/2..f/22", "circle 300mm", "mass 500g", "length 60mm", "distortion 0%", "falloff 0 stops", "focus auto"},
	"scenario": {`camera "C"`, `rig "R"`, "carry 1 lenses"},
	"shot":     {"subject object 0.5m x 1m", "frame 1%..99%", "distance 10m", "light 500lx", "move hold", "background 60m"},
}

func TestPublishedValuesThroughVerbs(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	file, err := os.Open(publishedRows)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(rows[0], publishedColumns) {
		t.Fatalf("the columns are %q, want %q", rows[0], publishedColumns)
	}
	count, seen := map[string]int{}, map[string]bool{}
	for _, values := range rows[1:] {
		row := map[string]string{}
		for i, name := range publishedColumns {
			row[name] = values[i]
		}
		if seen[row["id"]] || row["source"] == "" || row["published"] == "" {
			t.Errorf("%s: it stands twice, or does not say what is published where", row["id"])
		}
		seen[row["id"]] = true
		count[row["kind"]]++
		t.Run(row["id"], func(t *testing.T) { checkPublished(t, row) })
	}
	checks := 0
	for _, kind := range []string{"published", "computed", "derived", "look-up"} {
		t.Logf("%3d rows %s", count[kind], kind)
		if kind != "look-up" {
			checks += count[kind]
		}
	}
	if checks+count["look-up"] != len(rows)-1 {
		t.Errorf("a row is of an unknown kind: %v", count)
	}
	if checks < fewestChecks {
		t.Errorf("got %d rows that check something, want at least %d", checks, fewestChecks)
	}
}

func checkPublished(t *testing.T, row map[string]string) {
	scenario, lens := writePublished(t, row["catalogue"], row["scenario"])
	args := []string{row["verb"], scenario, "--as", "json"}
	if row["verb"] == "why" {
		args = append(args, "--shot", "1", "--lens", lens)
	}
	var document map[string]any
	readJSON(t, &document, args...)
	number, unit, _ := strings.Cut(row["expected"], " ")
	want, err := strconv.ParseFloat(number, 64)
	var got any
	if name, ok := strings.CutPrefix(row["key"], "facts."); ok {
		fact := factOf(t, document, name)
		if got = fact["value"]; fact["unit"] != unit && (fact["unit"] != "f/" || unit != "") {
			t.Errorf("the unit of %s is %q, and the row has %q", name, fact["unit"], unit)
		}
	} else {
		got = along(document, row["key"])
	}
	if names, ok := got.([]any); ok {
		if len(names) != 1 || names[0] != row["expected"] {
			t.Errorf("got %v, want %s: %s", names, row["expected"], row["published"])
		}
		return
	}
	tolerance, bad := strconv.ParseFloat(row["tolerance"], 64)
	if err != nil || bad != nil {
		t.Fatalf("no number in %q or in the tolerance %q", row["expected"], row["tolerance"])
	}
	if off := math.Abs(asNumber(got) - want); !(off <= tolerance) {
		t.Errorf("%s is %v, want %g within %g: %s (%s)", row["key"], got, want, tolerance, row["published"], row["source"])
	}
}

// writePublished writes the files of a row, and gives the scenario and the name of its first lens.
func writePublished(t *testing.T, catalogue, scenario string) (path, lens string) {
	blocks := map[string][]string{}
	for name, statements := range publishedBlocks {
		blocks[name] = slices.Clone(statements)
	}
	for _, said := range append(statementsOf(catalogue), statementsOf(scenario)...) {
		name, statement, _ := strings.Cut(said, " ")
		if name == "mount" {
			letter, rest, _ := strings.Cut(statement, " ")
			name, statement = "mount "+letter, rest
		} else if _, known := blocks[name]; !known {
			name, statement = "scenario", said
		}
		if size, ok := strings.CutPrefix(statement, "mode "); ok {
			statement = `mode "all" ` + size
		}
		statement, none := strings.CutPrefix(statement, "no ")
		keyword, _, _ := strings.Cut(statement, " ")
		same := func(other string) bool { return strings.HasPrefix(other+" ", keyword+" ") }
		if i := slices.IndexFunc(blocks[name], same); none {
			blocks[name] = slices.DeleteFunc(blocks[name], same)
		} else if i >= 0 {
			blocks[name][i] = statement
		} else {
			blocks[name] = append(blocks[name], statement)
		}
	}
	var text strings.Builder
	put := func(head string, statements []string) {
		text.WriteString(head + " {\n  " + strings.Join(statements, "\n  ") + "\n}\n")
	}
	folder := t.TempDir()
	flush := func(name string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text.String()), 0o600); err != nil {
			t.Fatal(err)
		}
		text.Reset()
		return path
	}
	put(`mount "M"`, blocks["mount M"])
	if other := blocks["mount N"]; other != nil {
		put(`mount "N"`, other)
		put(`adapter "A"`, []string{`from "N" to "M"`, "mass 100g"})
	}
	put(`camera "C"`, blocks["camera"])
	put(`rig "R"`, blocks["rig"])
	focal := slices.IndexFunc(blocks["lens"], func(statement string) bool { return strings.HasPrefix(statement, "focal ") })
	lengths := strings.Split(strings.TrimPrefix(blocks["lens"][focal], "focal "), "|")
	for _, length := range lengths {
		millimetres, err := strconv.ParseFloat(strings.TrimSuffix(length, "mm"), 64)
		if err != nil {
			t.Fatalf("no focal length in %q", length)
		}
		blocks["lens"][focal] = "focal " + length
		put(`lens "`+length+`"`, append(blocks["lens"], fmt.Sprintf("close_focus %gmm", 4*millimetres)))
	}
	flush("row.catalog")
	text.WriteString("use \"row.catalog\"\n")
	put(`scenario "Row"`, blocks["scenario"])
	put(`shot "1"`, blocks["shot"])
	return flush("row.scenario"), lengths[0]
}

func statementsOf(cell string) []string {
	if cell == "" {
		return nil
	}
	return strings.Split(cell, "; ")
}

// factOf finds a fact of why by its name.
func factOf(t *testing.T, document map[string]any, name string) map[string]any {
	t.Helper()
	for _, fact := range document["facts"].([]any) {
		if fact := fact.(map[string]any); fact["name"] == name {
			return fact
		}
	}
	t.Fatalf("there is no fact %q", name)
	return nil
}

// along gives what lies at the end of a path such as "cards[0].setup.near_m".
func along(v any, path string) any {
	for _, step := range strings.Split(path, ".") {
		key, place, listed := strings.Cut(step, "[")
		if v = at(v, key); listed {
			n, _ := strconv.Atoi(strings.TrimSuffix(place, "]"))
			v = v.([]any)[n]
		}
	}
	return v
}
