package framelist

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const vectors = "../../testdata/framing/"

// A row is a row of a table by the titles of its columns.
type row map[string]string

func (r row) number(t *testing.T, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("%s: column %q: %v", r["id"], column, err)
	}
	return x
}

func (r row) size(t *testing.T, width, height string) Size {
	t.Helper()
	return Size{r.number(t, width), r.number(t, height)}
}

func (r row) area(t *testing.T, x, y, width, height string) Area {
	t.Helper()
	return Area{Point{r.number(t, x), r.number(t, y)}, r.size(t, width, height)}
}

func table(t *testing.T, name string) []row {
	t.Helper()
	file, err := os.Open(vectors + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []row
	for _, line := range lines[1:] {
		r := row{}
		for i, title := range lines[0] {
			r[title] = line[i]
		}
		rows = append(rows, r)
	}
	if len(rows) == 0 {
		t.Fatalf("%s has no rows", name)
	}
	return rows
}

var modes = map[string]Mode{"up": Up, "down": Down, "round": Nearest}

func TestRounding(t *testing.T) {
	for _, r := range table(t, "rounding.csv") {
		for word, mode := range modes {
			for _, parity := range []string{"whole", "even"} {
				column := word + "_" + parity
				if got, want := (Rounding{Even: parity == "even", Mode: mode}).Of(r.number(t, "value")), r.number(t, column); got != want {
					t.Errorf("%s of %s: got %v, want %v", column, r["value"], got, want)
				}
			}
		}
	}
}

// near reports whether two areas agree to 1e-9 of a pixel, for what stays a fraction.
func near(a, b Area) bool {
	for _, d := range []float64{a.X - b.X, a.Y - b.Y, a.Width - b.Width, a.Height - b.Height} {
		if !(math.Abs(d) <= 1e-9) {
			return false
		}
	}
	return true
}

func TestDecideByPublishedCases(t *testing.T) {
	decided := 0
	for _, name := range []string{"intent.csv", "intent-squeezed.csv", "specification-examples.csv", "decision-unrounded.csv"} {
		for _, r := range table(t, name) {
			working := Area{Size: r.size(t, "canvas_w", "canvas_h")}
			switch {
			case r["working_x"] != "":
				working = r.area(t, "working_x", "working_y", "working_w", "working_h")
			case r["working_w"] != "":
				working.Size = r.size(t, "working_w", "working_h")
			}
			rounding, protection := Usual, 0.0
			if r["mode"] != "" {
				rounding = Rounding{Even: r["even"] == "even", Mode: modes[r["mode"]]}
			}
			if name == "decision-unrounded.csv" {
				rounding = Rounding{}
			} else {
				protection = r.number(t, "protection")
			}
			frame, protected := Decide(working, r.number(t, "squeeze"), r.size(t, "ratio_w", "ratio_h"), protection, rounding)
			want, wantProtected := r.area(t, "x", "y", "w", "h"), Area{}
			if r["protection_w"] != "" {
				wantProtected = r.area(t, "protection_x", "protection_y", "protection_w", "protection_h")
			}
			agrees := frame == want && protected == wantProtected
			if rounding.Mode == Unrounded {
				agrees = near(frame, want)
			}
			if published := !strings.HasPrefix(r["even_up"], "disagrees"); agrees != published {
				t.Errorf("%s %s: got %v in %v, want %v in %v", name, r["id"], frame, protected, want, wantProtected)
			}
			decided++
		}
	}
	if decided != 7+5+4+6 {
		t.Errorf("%d cases, want all 22", decided)
	}
}

func (r row) layers(t *testing.T, prefix string) Layers {
	t.Helper()
	l := Layers{Canvas: r.size(t, prefix+"cw", prefix+"ch")}
	for i, of := range []string{"e", "p", "f"} {
		l.Inner[i] = r.area(t, prefix+of+"ax", prefix+of+"ay", prefix+of+"w", prefix+of+"h")
	}
	return l
}

func (r row) places(t *testing.T) (places [layers]Point) {
	t.Helper()
	for i, of := range []string{"e", "p", "f"} {
		places[i] = Point{r.number(t, "unclamped_"+of+"ax"), r.number(t, "unclamped_"+of+"ay")}
	}
	return places
}

func sameLayers(a, b Layers) bool {
	same := near(Area{Size: a.Canvas}, Area{Size: b.Canvas})
	for i := range a.Inner {
		same = same && near(a.Inner[i], b.Inner[i])
	}
	return same
}

func TestGeometryByPublishedCases(t *testing.T) {
	steps := map[string]func(r row, l Layers) Layers{
		"geometry-fill.csv": func(r row, l Layers) Layers {
			return l.Fill(Point{r.number(t, "offset_x"), r.number(t, "offset_y")})
		},
		"geometry-scale.csv": func(r row, l Layers) Layers {
			return l.Scale(r.number(t, "source_squeeze"), r.number(t, "scale"), r.number(t, "target_squeeze"))
		},
		"geometry-round.csv": func(r row, l Layers) Layers {
			return l.Round(Rounding{Even: r["even"] == "even", Mode: modes[r["mode"]]})
		},
		"geometry-offset.csv": func(r row, l Layers) Layers {
			shifted, places := l.Shift(Point{r.number(t, "offset_x"), r.number(t, "offset_y")})
			if want := r.places(t); places != want {
				t.Errorf("offset %s: got places %v, want %v", r["id"], places, want)
			}
			return shifted
		},
		"geometry-crop.csv": func(r row, l Layers) Layers { return l.Crop(r.places(t)) },
	}
	for name, step := range steps {
		for _, r := range table(t, name) {
			if got, want := step(r, r.layers(t, "")), r.layers(t, "want_"); !sameLayers(got, want) {
				t.Errorf("%s %s: got %v, want %v", name, r["id"], got, want)
			}
		}
	}
	for _, r := range table(t, "geometry-path.csv") {
		got, ok := r.layers(t, "").Pick(r["path"])
		if want := r.area(t, "want_x", "want_y", "want_w", "want_h"); !ok || got != want {
			t.Errorf("%s: got %v, want %v", r["path"], got, want)
		}
	}
}

// A documentCase is a whole list, and whether it is faulty.
type documentCase struct {
	ID       string
	Document json.RawMessage
	Errors   int
	Error    string
}

func documentCases(t *testing.T, name string) []documentCase {
	t.Helper()
	text, err := os.ReadFile(vectors + name)
	if err != nil {
		t.Fatal(err)
	}
	var cases []documentCase
	if err := json.Unmarshal(text, &cases); err != nil || len(cases) == 0 {
		t.Fatalf("%s: %d cases, %v", name, len(cases), err)
	}
	return cases
}

func TestPublishedDocuments(t *testing.T) {
	for _, name := range []string{"schema-cases.json", "semantic-cases.json"} {
		for _, c := range documentCases(t, name) {
			list, faults := Read(c.Document)
			if (list == nil) != (c.Errors > 0) || len(faults) < c.Errors || list != nil && len(faults) > 0 {
				t.Errorf("%s: %d errors wanted, got %v", c.ID, c.Errors, faults)
			}
			if c.Error != "" && !strings.Contains(c.Error, "(schema)") && faults[0].Summary != c.Error {
				t.Errorf("%s: got %q, want %q", c.ID, faults[0].Summary, c.Error)
			}
		}
	}
}

func publishedFiles(t testing.TB) map[string][]byte {
	t.Helper()
	names, err := filepath.Glob(vectors + "files/*.fdl")
	if err != nil || len(names) == 0 {
		t.Fatalf("%d files, %v", len(names), err)
	}
	files := map[string][]byte{}
	for _, name := range names {
		if files[filepath.Base(name)], err = os.ReadFile(name); err != nil {
			t.Fatal(err)
		}
	}
	return files
}

func TestReadingAndWritingAgainIsIdentity(t *testing.T) {
	for name, text := range publishedFiles(t) {
		list, faults := Read(text)
		if list == nil {
			t.Errorf("%s: %v", name, faults)
			continue
		}
		if got := string(list.Bytes()); got != string(text) {
			t.Errorf("%s changes:\n%s", name, got)
		}
	}
}
