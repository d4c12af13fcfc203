package cmd

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

// ranked is what programs read of rankings.
type ranked struct {
	Kit   struct{ Lenses []string }
	Shots []struct {
		Ranking []struct {
			Lens  string
			Place *int
		}
		Total int `json:"ranking_total"`
	}
}

func wholeRun(t *testing.T, args ...string) []byte {
	t.Helper()
	var out, complaints bytes.Buffer
	if code := Main(args, strings.NewReader(""), &out, &complaints); code > exitNo {
		t.Fatalf("%v: exit code %d: %s", args, code, complaints.String())
	}
	return out.Bytes()
}

// Without --all each ranking holds its first ten lenses and those of the kit, each as it stands with
// --all, and counts the rest.
func TestRankingsAreCut(t *testing.T) {
	for _, path := range []string{"../scenarios/night-ferry.scenario", "../scenarios/orchard.scenario", "../testdata/schema/uncovered.scenario"} {
		var few, all ranked
		for of, args := range map[*ranked][]string{&few: {"recommend", path, "--as", "json"}, &all: {"recommend", path, "--as", "json", "--all"}} {
			if err := json.Unmarshal(wholeRun(t, args...), of); err != nil {
				t.Fatal(err)
			}
		}
		fewRows, allRows := rowsOfRun(t, path), rowsOfRun(t, path, "--all")
		for i, shot := range all.Shots {
			if shot.Total != len(shot.Ranking) || few.Shots[i].Total != shot.Total {
				t.Errorf("%s: %d lenses of %d, and %d of the cut ranking", path, len(shot.Ranking), shot.Total, few.Shots[i].Total)
			}
			var want, got []string
			for place, j := range shot.Ranking {
				if j.Place == nil || *j.Place != place+1 {
					t.Errorf("%s: %s has another place than %d", path, j.Lens, place+1)
				}
				if place < 10 || slices.Contains(all.Kit.Lenses, j.Lens) {
					want = append(want, j.Lens)
				}
				if row := allRows[0]; row[2] != j.Lens {
					t.Errorf("%s: the row of %s is that of %s", path, j.Lens, row[2])
				}
				allRows = allRows[1:]
			}
			for _, j := range few.Shots[i].Ranking {
				if got = append(got, j.Lens); fewRows[0][2] != j.Lens {
					t.Errorf("%s: the row of %s is that of %s", path, j.Lens, fewRows[0][2])
				}
				fewRows = fewRows[1:]
			}
			if !slices.Equal(got[:min(10, len(got))], want[:min(10, len(want))]) {
				t.Errorf("%s: got %q, want %q", path, got, want)
			}
			slices.Sort(got) // places of excluded lenses of the kit are not looked for
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Errorf("%s: got %q, want %q", path, got, want)
			}
		}
		if len(fewRows)+len(allRows) > 0 {
			t.Errorf("%s: there are %d rows more", path, len(fewRows)+len(allRows))
		}
	}
}

func rowsOfRun(t *testing.T, path string, flags ...string) [][]string {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(wholeRun(t, append([]string{"recommend", path, "--as", "csv"}, flags...)...))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}
