package cmd_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// weightless leaves the masses out of the lenses of a catalogue.
func weightless(catalogue []byte) []byte {
	return ofLenses(catalogue, func(keyword string) bool { return keyword != "mass" })
}

// says fails where no line of a text has the shape of a pattern.
func says(t *testing.T, text, pattern string) {
	t.Helper()
	if !regexp.MustCompile("(?m)" + pattern).MatchString(text) {
		t.Errorf("nothing like %q in:\n%s", pattern, text)
	}
}

// What a change of lens takes hangs on the masses of both lenses.
func TestLensChangesOfAssumedMasses(t *testing.T) {
	scenario := copied(t, "night-ferry.scenario", weightless)
	_, text := run(t, "recommend", "--full", "--width", "200", scenario)
	says(t, text, `^2B +Normal 35 to Wide 18, post out ~\d+ mm.*, stage ~\d+ mm back +~4.5 \([\d.]+ to [\d.]+\)$`)
	_, text = run(t, "recommend", "--full", "--width", "200", "../scenarios/night-ferry.scenario")
	says(t, text, `^2B +Normal 35 to Wide 18, [^~]* 4\.5$`)
	var said struct {
		Changes []struct {
			Minutes float64
			Assumed map[string]struct{ Low, High float64 }
		}
	}
	_, text = run(t, "recommend", "--as", "json", scenario)
	if err := json.Unmarshal([]byte(text), &said); err != nil {
		t.Fatal(err)
	}
	for _, c := range said.Changes {
		if s := c.Assumed["minutes"]; len(c.Assumed) < 4 || s.Low > c.Minutes || s.High < c.Minutes || s.Low == s.High {
			t.Errorf("got %+v, want ranges of minutes, plates, post and stage", c)
		}
	}
	if len(said.Changes) != 2 {
		t.Errorf("got %d changes of lens, want 2", len(said.Changes))
	}
}

// The scores of the kits of an audit, and those of every camera, rest on what is assumed of their lenses.
func TestKitsOfAssumedFigures(t *testing.T) {
	type kit struct {
		Score   float64
		Assumed map[string]struct{ Low, High float64 }
	}
	for _, test := range []struct {
		orchard, ferry string
		rests          bool
	}{
		{cutDown(t, "orchard.scenario"), cutDown(t, "night-ferry.scenario"), true},
		{"../scenarios/orchard.scenario", "../scenarios/night-ferry.scenario", false},
	} {
		tilde := "0"
		if test.rests {
			tilde = "~0"
		}
		_, text := run(t, "audit", "--width", "400", test.orchard)
		says(t, text, `with a score of `+tilde+`\.\d\d instead of `+tilde+`\.\d\d\.`)
		var said struct{ House, Better kit }
		_, text = run(t, "audit", "--as", "json", test.orchard)
		if err := json.Unmarshal([]byte(text), &said); err != nil {
			t.Fatal(err)
		}
		if house, better := said.House.Assumed != nil, said.Better.Assumed != nil; house != test.rests || better != test.rests {
			t.Errorf("%s: the kit of the house rests on assumed figures: %t, the better one: %t, want %t of both", test.orchard, house, better, test.rests)
		}
		var cameras struct {
			Cameras []struct {
				Kit   kit
				Shots []kit
			}
		}
		_, text = run(t, "recommend", "--as", "json", test.ferry)
		if err := json.Unmarshal([]byte(text), &cameras); err != nil {
			t.Fatal(err)
		}
		first := cameras.Cameras[0] // of which all is stated in the demo
		if rests := first.Kit.Assumed != nil; rests != test.rests {
			t.Errorf("%s: the kit on the first camera rests on assumed figures: %t, want %t", test.ferry, rests, test.rests)
		}
		for _, shot := range first.Shots {
			if span, ok := shot.Assumed["score"]; ok != test.rests || ok && (span.Low > shot.Score || span.High < shot.Score) {
				t.Errorf("%s: got %+v, want a range of the score: %t", test.ferry, shot, test.rests)
			}
		}
	}
}

// Both plans of a comparison are marked, and the first line of the new one says that it rests on
// what is assumed; what rests on nothing is not marked.
func TestComparisonOfAssumedFigures(t *testing.T) {
	nearer := func(scenario string) string {
		text, err := os.ReadFile(scenario)
		if err != nil {
			t.Fatal(err)
		}
		changed := filepath.Join(filepath.Dir(scenario), "nearer.scenario")
		if err := os.WriteFile(changed, bytes.Replace(text, []byte("1.8m..2.2m"), []byte("1.5m..2.2m"), 1), 0o600); err != nil {
			t.Fatal(err)
		}
		return changed
	}
	type said struct {
		New struct {
			Kit struct{ Assumed map[string]any }
		}
		Shots []struct {
			Setup   map[string]any   `json:"new_setup"`
			Ranking []map[string]any `json:"new_ranking"`
		}
	}
	compared := func(scenario string) (text, html string, data said) {
		other := nearer(scenario)
		_, text = run(t, "compare", "--width", "400", scenario, other)
		_, html = run(t, "compare", "--as", "html", scenario, other)
		_, js := run(t, "compare", "--as", "json", scenario, other)
		if err := json.Unmarshal([]byte(js), &data); err != nil {
			t.Fatal(err)
		}
		return text, html, data
	}
	text, html, data := compared(cutDown(t, "orchard.scenario"))
	says(t, text, `^The plan changes\. .*; \d+ assumed figures bear on the choice, \d+ of them pupils and breathing of lenses, and the kit is `)
	says(t, text, `^shot 1A +Small zoom 12-35 at ~21 mm, ~f/4, focus ~[\d.]+ m, ISO ~400`)
	says(t, text, `^lenses for 1A +Small zoom 12-35 ~0\.\d+, `)
	says(t, text, `^~ rests on figures`)
	says(t, html, `<span class="tilde">~</span>f/4`)
	if len(data.New.Kit.Assumed) == 0 || data.Shots[0].Setup["assumed"] == nil || data.Shots[0].Ranking[0]["assumed"] == nil {
		t.Errorf("got %+v of the kit and %+v of the first shot, want ranges", data.New.Kit, data.Shots[0])
	}
	text, _, data = compared(copied(t, "orchard.scenario", func(whole []byte) []byte { return whole }))
	says(t, text, `^shot 1A +Small zoom 12-35 at 21 mm, f/11, focus [\d.]+ m, [^~]* focus [\d.]+ m`)
	says(t, text, `^lenses for 1A +Old 28 ~0\.\d+, Small zoom 12-35 0\.\d+, `) // of which the demo states little
	if data.New.Kit.Assumed != nil || data.Shots[0].Setup["assumed"] != nil || data.Shots[0].Ranking[1]["assumed"] != nil {
		t.Errorf("got %+v of the kit and %+v of the first shot, want no ranges", data.New.Kit, data.Shots[0])
	}
}

// A spreadsheet has where each score lies, and which rows rest on assumed figures, behind the columns
// that it had.
func TestCellsOfAssumedFigures(t *testing.T) {
	scenario, whole := cutDown(t, "orchard.scenario"), "../scenarios/orchard.scenario"
	rows := func(verb, scenario string) (head []string, rows []map[string]string) {
		_, text := run(t, verb, "--as", "csv", scenario)
		all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil || len(all) < 2 {
			t.Fatalf("%s: got %q: %v", verb, text, err)
		}
		for _, cells := range all[1:] {
			row := map[string]string{}
			for i, key := range all[0] {
				row[key] = cells[i]
			}
			rows = append(rows, row)
		}
		return all[0], rows
	}
	number := func(cell string) float64 {
		value, err := strconv.ParseFloat(cell, 64)
		if err != nil {
			t.Fatal(err)
		}
		return value
	}
	for _, verb := range []string{"recommend", "audit", "cards"} {
		head, of := rows(verb, scenario)
		last := []string{"score_low", "score_high", "assumed"}
		if verb == "cards" {
			last = []string{"swap_min", "assumed"}
		}
		if got := head[len(head)-len(last):]; !slices.Equal(got, last) {
			t.Errorf("%s: the last columns are %v, want %v", verb, got, last)
		}
		ranges := 0
		for _, row := range of {
			if row["lens"] != "" && row["standing"] != "excluded" && row["assumed"] != "true" {
				t.Errorf("%s: of a lens of which half is not known: got %v, want it to be assumed", verb, row)
			}
			if row["score_low"] == "" {
				continue
			}
			ranges++
			score, low, high := number(row["score"]), number(row["score_low"]), number(row["score_high"])
			if row["standing"] != "excluded" && (score < low || score > high) {
				t.Errorf("%s: the score of %v is not in its range", verb, row)
			}
		}
		if verb != "cards" && ranges < 5 {
			t.Errorf("%s: got %d ranges of scores, want one of most rows", verb, ranges)
		}
		_, of = rows(verb, whole)
		zoom := slices.IndexFunc(of, func(row map[string]string) bool { return row["lens"] == "Small zoom 12-35" })
		if first := of[zoom]; first["assumed"] != "false" || first["score_low"] != "" || first["score_high"] != "" {
			t.Errorf("%s: of a lens of which all is known: got %v", verb, first)
		}
	}
}
