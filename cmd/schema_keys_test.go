package cmd

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

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
