package brief

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"
	"glassbrief/engine/exposure"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

// A list of shots knows the words of the language, in their order, and no others.
func TestListsOfShotsKnowTheWords(t *testing.T) {
	cell := func(keyword, text string) string {
		line, ok, found := sheet.Line(sheet.ShotKind, keyword, "cell", text, sheet.Options{Levels: exposure.LevelNames()})
		if !ok || found != nil {
			t.Errorf("%s %q: got %v, want it read", keyword, text, found)
		}
		return line.Value
	}
	framings := FramingWords()
	for i, word := range framings {
		if got := cell("frame", word); got != word {
			t.Errorf("frame %q: got %q", word, got)
		}
		if wider := framings[len(framings)-1]; i < len(framings)-1 {
			if got, want := cell("frame", wider+" to "+word), word+".."+wider; got != want {
				t.Errorf("got %q, want %q: the tighter first", got, want)
			}
		}
	}
	for _, words := range []struct {
		keyword string
		all     []string
		behind  string
	}{
		{"move", Moves(), ""}, {"light", exposure.LevelNames(), ""}, {"focus", []string{"fixed", "pulled", "auto"}, ""},
		{"support", []string{"sled", "docked", "legs"}, ""}, {"subject", SubjectKinds(), " 1m x 1.5m"},
	} {
		for _, word := range words.all {
			if got := cell(words.keyword, word+words.behind); got != word+words.behind {
				t.Errorf("%s %q: got %q", words.keyword, word, got)
			}
		}
	}
}

const draftKit = `mount "Kiln bayonet" {}
camera "Body" {
  mount "Kiln bayonet"
  mode "All" 36mm x 24mm
}
rig "Sled" { payload ..3kg }
lens "Kiln 35" {
  mount "Kiln bayonet"
  focal 35mm
  aperture f/2
}
`

// Whatever is known of shots, what is composed of it is tidy and can be read, and each line that
// is made up carries the mark.
func TestDraftsAreTidyScenarios(t *testing.T) {
	known := []catalog.Line{
		{Keyword: "subject", Value: "object 0.9m x 1.4m"}, {Keyword: "frame", Value: "close..full"}, {Keyword: "distance", Value: "1.5m..4m"},
		{Keyword: "light", Value: "320lx"}, {Keyword: "move", Value: "push-in 0.5m/s"}, {Keyword: "focus", Value: "pulled"},
		{Keyword: "weight", Value: "2"}, {Comment: "a remark"},
	}
	rapid.Check(t, func(t *rapid.T) {
		d := Draft{Name: "Kiln yard", Catalogue: "kit.catalog", Camera: "Body", Rig: "Sled"}
		if rapid.Bool().Draw(t, "script") {
			d.Script = "kiln.fountain"
		}
		given := 0
		for i := range rapid.IntRange(0, 3).Draw(t, "shots") {
			shot := catalog.Draft{Kind: "shot", Name: fmt.Sprint(i + 1)}
			for _, line := range known {
				if rapid.Bool().Draw(t, line.Keyword) {
					shot.Lines = append(shot.Lines, line)
					if line.Keyword == "subject" || line.Keyword == "frame" || line.Keyword == "distance" {
						given++
					}
				}
			}
			d.Shots = append(d.Shots, shot)
		}
		text, origins, examples := d.Compose()
		if want := 3*max(1, len(d.Shots)) - given; examples != want {
			t.Errorf("got %d examples, want %d", examples, want)
		}
		if n := strings.Count(text, "// "+Example+"\n"); n != examples {
			t.Errorf("got %d lines with the mark, want %d", n, examples)
		}
		if n := strings.Count(text, "\n"); n != len(origins) {
			t.Errorf("got %d origins of %d lines", len(origins), n)
		}
		src, _ := lang.NewSource("kiln.scenario", []byte(text))
		if tidy := lang.Tidy(src); tidy != text {
			t.Errorf("tidying changes it to\n%s", tidy)
		}
		kit := fstest.MapFS{"kit.catalog": {Data: []byte(draftKit)}}
		s, found := Load(src, Files{Tree: kit})
		if found.HasErrors() || len(s.Shots) != max(1, len(d.Shots)) {
			t.Fatalf("%v in\n%s", found, text)
		}
	})
}

// Of rows of any cells, either a scenario comes that can be read, or each fault has its cell.
func TestShotListsAreReadOrRefusedAtTheCell(t *testing.T) {
	columns := []struct {
		title string
		cells []string
	}{
		{"Shot", []string{"1", "2", "A", "4A", "", "a \"quoted\" one", "// no"}},
		{"Scene", []string{"", "1", "4A", "12.5", "INT. KILN - DAY", "{"}},
		{"Description", []string{"", "Smoke", "two\nlines", "ends with \\"}},
		{"Framing", []string{"", "CU", "close to wide", "wide - medium", "35-60%", "0%", "PM", "odd"}},
		{"Distance", []string{"", "2 m", "4 m to 1.5 m", "within 1-4 m", "-2 m", "0.1 m", "2", "ca. 6 m"}},
		{"Subject", []string{"", "man 1.78m", "2 people 1.2 x 1.78 m", "Mira", "object 0 m", "place 3 x 2 m", "child 0.2 m"}},
		{"Movement", []string{"", "static", "push in 0.5 m/s", "pan 8 deg/s", "slow orbit, low mode", "dolly", "lead, run", "follow -1 m/s"}},
		{"Light", []string{"", "320 lx", "office", "EV 7", "0 lx", "dim"}},
		{"Background", []string{"", "10 m", "1 m"}},
		{"Passage", []string{"", "80 cm", "0 m"}},
		{"Frame rate", []string{"", "50", "0"}},
		{"Weight", []string{"", "2", "0", "1e9"}},
		{"Support", []string{"", "tripod", "sled"}},
		{"Notes", []string{"", "K1", "} shot {", "a\tb"}},
	}
	rapid.Check(t, func(t *rapid.T) {
		var rows strings.Builder
		write := func(cells []string) {
			for i, cell := range cells {
				cells[i] = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
			}
			rows.WriteString(strings.Join(cells, ",") + "\n")
		}
		titles := make([]string, len(columns))
		for i, c := range columns {
			titles[i] = c.title
		}
		write(titles)
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			cells := make([]string, len(columns))
			for i, c := range columns {
				cells[i] = rapid.SampledFrom(c.cells).Draw(t, c.title)
			}
			write(cells)
		}
		table, found := sheet.ReadCSV(nil, "shots.csv", strings.NewReader(rows.String()))
		if found != nil {
			t.Fatal(found)
		}
		reading, found := sheet.Understand(table, sheet.Options{Kind: sheet.ShotKind, Levels: exposure.LevelNames()})
		if !found.HasErrors() && len(reading.Drafts) > 0 {
			text, origins, _ := Draft{Name: "Kiln", Catalogue: "kit.catalog", Camera: "Body", Rig: "Sled", Shots: reading.Drafts}.Compose()
			src, _ := lang.NewSource("kiln.scenario", []byte(text))
			if tidy := lang.Tidy(src); tidy != text {
				t.Errorf("tidying changes it to\n%s", tidy)
			}
			_, found = Load(src, Files{Tree: fstest.MapFS{"kit.catalog": {Data: []byte(draftKit)}}})
			found = catalog.Relocate(found, src, origins)
		}
		for _, d := range found {
			if d.Span.Source == nil || d.Span.Source.Name != "shots.csv" || d.Detail == "" {
				t.Errorf("%s: %s (%s), want it at a cell with a remedy", d.Span, d.Summary, d.Detail)
			}
		}
	})
}

// Each scene of a script has its shot, which "check" finds there.
func TestShotsOfScript(t *testing.T) {
	script := "INT. KILN - DAY #1#\n\nSmoke.\n\n.THE YARD #1A#\n\nEXT. GATE - DUSK #1#\n\nEXT. ROAD - NIGHT #A-2.#\n\nEXT. FIELD\n"
	src, _ := lang.NewSource("kiln.fountain", []byte(script))
	shots := ShotsOfScript(src)
	var names []string
	for _, shot := range shots {
		names = append(names, shot.Name)
	}
	if got, want := strings.Join(names, " "), "1A 1A-A 1A-2 A-2.-A 5A"; got != want {
		t.Errorf("got shots %s, want %s", got, want)
	}
	text, _, _ := Draft{Name: "Kiln", Catalogue: "kit.catalog", Script: "kiln.fountain", Camera: "Body", Rig: "Sled", Shots: shots}.Compose()
	scenario, _ := lang.NewSource("kiln.scenario", []byte(text))
	files := Files{Tree: fstest.MapFS{"kit.catalog": {Data: []byte(draftKit)}, "kiln.fountain": {Data: []byte(script)}}}
	s, found := Load(scenario, files)
	if found.HasErrors() {
		t.Fatalf("%v in\n%s", found, text)
	}
	for _, d := range CheckScript(s, files) {
		// Of two scenes with one number, the shots of both are held against the first.
		if d.Code != lang.DuplicateName && !strings.Contains(d.Summary, `is "INT. KILN - DAY" now`) {
			t.Errorf("got %v, want the shots to be found in the script", d)
		}
	}
}
