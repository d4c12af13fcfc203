package cmd

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glassbrief/cmd/travel"
	"glassbrief/engine/facts"

	"github.com/invopop/jsonschema"
)

// keyTexts is what schema/keys.txt says of the keys of documents, and of the documents.
type keyTexts struct {
	of   map[string]string // by the end of the path of a key; "= name" for a document
	used map[string]bool
}

func readKeyTexts(t *testing.T) *keyTexts {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("schema", "keys.txt"))
	if err != nil {
		t.Fatal(err)
	}
	k := &keyTexts{map[string]string{}, map[string]bool{}}
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "//") {
			continue
		}
		key, about, ok := strings.Cut(line, ": ")
		if fact, isFact := strings.CutPrefix(about, "@"); isFact {
			about = meaningOf(t, fact)
		}
		if !ok || k.of[key] != "" || !strings.HasSuffix(about, ".") {
			t.Errorf("schema/keys.txt: %q is no line \"key: Sentence.\" of its own", line)
		}
		k.of[key] = about
	}
	return k
}

// meaningOf gives what the vocabulary says of a fact, as a sentence.
func meaningOf(t *testing.T, name string) string {
	t.Helper()
	for _, fact := range facts.Table() {
		if fact.Name == name {
			return strings.ToUpper(fact.Meaning[:1]) + fact.Meaning[1:] + "."
		}
	}
	t.Errorf("schema/keys.txt: there is no fact %q", name)
	return "."
}

// name gives a schema its names, and all its keys what they hold.
func (k *keyTexts) name(t *testing.T, name string, root *jsonschema.Schema) {
	t.Helper()
	k.used["= "+name] = true
	header := travel.HeaderOf(name).Schema
	root.ID = jsonschema.ID("urn:" + strings.ReplaceAll(strings.Replace(header, "/", ":schema:", 1), "/", ":"))
	root.Title = strings.TrimSuffix(k.of["= "+name], ".")
	if root.Title == "" {
		t.Errorf("schema/keys.txt does not say what the document %q is", name)
	}
	k.describe(t, []string{name}, root)
	is, _ := root.Properties.Get("schema")
	is.Const = header
}

// describe says of each key below a path what it holds.
func (k *keyTexts) describe(t *testing.T, path []string, of *jsonschema.Schema) {
	t.Helper()
	for _, inner := range slices.Concat(of.OneOf, []*jsonschema.Schema{of.Items}) {
		if inner != nil {
			k.describe(t, path, inner)
		}
	}
	for pair := of.Properties.Oldest(); pair != nil; pair = pair.Next() {
		at := append(slices.Clip(path), pair.Key)
		about := ""
		for from := 0; from < len(at) && about == ""; from++ {
			end := strings.Join(at[from:], ".")
			if about = k.of[end]; about != "" {
				k.used[end] = true
			}
		}
		if about == "" {
			t.Errorf("schema/keys.txt does not say what %q holds", strings.Join(at, "."))
		}
		one := *pair.Value // which objects may share
		if one.Description != "" {
			about += " " + one.Description
		}
		one.Description = about
		of.Properties.Set(pair.Key, &one)
		k.describe(t, at, &one)
	}
}

// unused reports lines of which no key is.
func (k *keyTexts) unused(t *testing.T) {
	t.Helper()
	for key := range k.of {
		if !k.used[key] {
			t.Errorf("schema/keys.txt: no key needs %q", key)
		}
	}
}

// unitSuffixes end the keys of quantities.
var unitSuffixes = []string{"bits", "m", "mm", "kg", "g", "s", "deg", "lx", "stops", "pct", "kgm2", "fps", "a_day", "minutes"}

// plainKeys are the numbers that have no unit, or whose name is their unit.
var plainKeys = []string{
	// shares, weights and ratios
	"score", "weight", "house", "scale", "change_price", "crop", "from_crop", "to_crop", "squeeze", "factor",
	// numbers of the trade
	"iso", "ev100", "aperture", "given_aperture", "lens_aperture", "widest_aperture", "t_stop",
	// counts and places
	"carry", "swaps", "plates", "minutes", "line", "column", "end_line", "end_column",
	"number", "ours_number", "theirs_number", "place", "ranking_total", "old_ranking_total", "new_ranking_total", "title_row", "items", "filled", "shadings", "touched",
	"changes", "adjustments", "moved", "not_done", "days", "figures_assumed",
	"foreseen", "foreseen_house", "expected", "choices",
	"briefs", "draws", "same_kit", "same_lens", "done", "figures_varied", "count", "persons",
	// differences of scores, and changes in tolerances
	"kits_total", "not_proven",
	"loss", "gap", "bound", "change_price", "tolerances", "settles", "moves", "loss_median", "loss_median_error", "loss_p95", "loss_p95_error",
	// scores of which the key says more
	"score_median", "score_median_error", "score_p05", "score_p05_error",
	// T-numbers of a window
	"t_min", "t_max",
	// numbers whose unit stands beside them
	"value", "now", "to", "taken",
	// ends of a range, whose unit is that of the number in whose name it stands
	"low", "high",
	// money, whose currency stands beside it
	"day_rate", "cost", "crew_a_minute",
}

// Every number of every output says in its key what unit it has, or is known to have none.
func TestKeysCarryTheirUnits(t *testing.T) {
	files, err := filepath.Glob("schema/*.schema.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no schemas: %v", err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var schema any
		if err := json.Unmarshal(text, &schema); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		for _, key := range numberKeys(schema) {
			suffixed := slices.ContainsFunc(unitSuffixes, func(unit string) bool { return strings.HasSuffix(key, "_"+unit) })
			if !suffixed && !slices.Contains(plainKeys, key) {
				t.Errorf("%s: the number %q has no unit in its name", file, key)
			}
		}
	}
}

// numberKeys lists the keys of a schema that hold numbers.
func numberKeys(schema any) []string {
	var keys []string
	switch node := schema.(type) {
	case []any:
		for _, child := range node {
			keys = append(keys, numberKeys(child)...)
		}
	case map[string]any:
		properties, _ := node["properties"].(map[string]any)
		for key, property := range properties {
			if isNumber(property) {
				keys = append(keys, key)
			}
		}
		for _, child := range node {
			keys = append(keys, numberKeys(child)...)
		}
	}
	return keys
}

func isNumber(schema any) bool {
	node, _ := schema.(map[string]any)
	if node["type"] == "number" || node["type"] == "integer" {
		return true
	}
	either, _ := node["oneOf"].([]any)
	return slices.ContainsFunc(either, isNumber)
}
