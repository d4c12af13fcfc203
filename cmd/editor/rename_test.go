package editor

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

// house is a folder in which each kind of name stands in several files. "@" marks the names that the tests
// ask about.
var house = map[string]string{
	"day.scenario": `use demo
use "own.catalog"
use "hire.catalog"

scenario "Day" {
  camera "@Own body"
  rig    "@Own sled"
  rules  "own.rules"
  place  "@Rail" move 10min
  unit   "@B" camera "Own body" mode "All"
  unit   "C"
  bring  "@Own 20"
  carry  1 lenses
  leave  "Wide 18"
}

shot "@1A" "1A" {
  subject  person 1.7m
  frame    full
  distance 2m
  at       "Rail"
  unit     "B"
  need     @twice < 9m because "twice is {twice / 2}, not {{twice}}"
}

shot "1B" {
  subject  person 1.7m
  frame    full
  distance 2m
  mode     "@All"
  after    "1A"
}

expect kit "Own 20"
expect shot "1A" lens "Own 20"
`,
	"night.scenario": `use "own.catalog"
use demo

scenario "Night" {
  camera "Own body"
  rig    "Own sled"
  mode   "@All"
}

shot "1A" {
  subject  person 1.7m
  frame    full
  distance 2m
}
`,
	"other.scenario": `use demo

scenario "Other" {
  camera "House body A"
  rig    "Short sled"
  place  "Rail" move 10min
}

shot "1A" {
  subject  person 1.7m
  frame    full
  distance 2m
  at       "Rail"
}
`,
	"own.catalog": `// Own 20
mount "@Own mount" {
  flange 18mm
  throat 50mm
}

camera "Own body" {
  mount     "Own mount"
  mode      "@All" 36mm x 24mm "the whole sensor"
  mode      "Small" 24mm x 13.5mm
  mass      1kg
  iso       800
  iso_range 200..3200
}

filter "@Own ND" {
  kind     nd
  thread   77mm
  strength 3 stops
}

rig "Own sled" {
  payload 0.5kg..9kg
}

lens "Own 20" {
  about "Own 20"
  mount "Own mount"
  focal 20mm
  aperture f/2
  mass  600g
}
`,
	"hire.catalog": `lens "Hire 28" {
  mount "Own mount"
  focal 28mm
}

amend filter "Own ND" {
  mass 25g
}

camera "Hire body" {
  mount     "Own mount"
  mode      "All" 30mm x 20mm
  mass      1kg
  iso       800
  iso_range 200..3200
}

adapter "@Thin" {
  from "Slim bayonet" to "Own mount"
}
`,
	"own.rules": `fact twice = 2 * subject_near because "{twice} is no fact here"

criterion "@twice as far" {
  score  rising(twice, 0m, 9m)
  reason "at {twice}"
}

weight "twice as far" 2

case "near" {
  given  subject_near 1m
  expect score "twice as far" 0..1
}
`,
	"day.choices": `choices "day.scenario" {
  chose "Own 20" over "Hire 28" in shot "1A"
}
choices "night.scenario" {
  chose "Wide 24" over "Own 20" in shot "1A"
}
`,
}

// bare gives a file of the house without its marks.
func bare(name string) string { return strings.ReplaceAll(house[name], "@", "") }

// marks lists the places of a file behind its marks.
func marks(name string) (all []position) {
	parts := strings.Split(house[name], "@")
	src, _ := lang.NewSource(name, []byte(bare(name)))
	at := 0
	for _, part := range parts[:len(parts)-1] {
		at += len(part)
		all = append(all, positionOf(src, at+1))
	}
	return all
}

// beginHouse starts a session on the house.
func beginHouse(t *testing.T) *session {
	t.Helper()
	files := map[string]string{}
	for name := range house {
		files[name] = bare(name)
	}
	return begin(t, files)
}

// renamed gives the files as a rename leaves them, and the error that it ends with.
func (s *session) renamed(files map[string]string, file string, at position, name string) (map[string]string, *wireError) {
	s.t.Helper()
	answer := s.call("textDocument/rename", map[string]any{"textDocument": textDocument{URI: s.uri(file)}, "position": at, "newName": name})
	if answer.Error != nil {
		return nil, answer.Error
	}
	var edit workspaceEdit
	if err := json.Unmarshal(answer.Result, &edit); err != nil {
		s.t.Fatal(err)
	}
	after := maps.Clone(files)
	for uri, edits := range edit.Changes {
		name := filepath.Base(pathOf(uri))
		after[name] = edited(files[name], edits)
	}
	return after, nil
}

// put gives the files of the session other texts, on the disk and where they are open.
func (s *session) put(files map[string]string) {
	s.t.Helper()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(s.folder, name), []byte(text), 0o644); err != nil {
			s.t.Fatal(err)
		}
		s.notify("textDocument/didOpen", map[string]any{"textDocument": textDocument{URI: s.uri(name), Text: text}})
	}
	for name := range files { // the answer comes when all are open; what was found before is not of all of them
		s.request("textDocument/formatting", map[string]any{"textDocument": textDocument{URI: s.uri(name)}})
	}
	for range 2 { // in the first round findings may come that were on their way already
		clear(s.found)
		s.notify("textDocument/didSave", map[string]any{})
		for len(s.found) < len(files) {
			s.receive()
		}
	}
}

// codes gives the findings of open files by their codes and lines.
func (s *session) codes(files map[string]string) map[string][]string {
	all := map[string][]string{}
	for name := range files {
		for _, d := range s.found[s.uri(name)] {
			all[name] = append(all[name], fmt.Sprintf("%d %s", d.Range.Start.Line, d.Code))
		}
	}
	return all
}

// scores gives all scores of the scenarios of a folder, with the names of shots and lenses by their places.
func scores(t *testing.T, files map[string]string) map[string]string {
	t.Helper()
	all := map[string]string{}
	tree := mapTree(files)
	for name, text := range files {
		if !strings.HasSuffix(name, ".scenario") {
			continue
		}
		src, _ := lang.NewSource(name, []byte(text))
		s, found := brief.Load(src, brief.Files{Tree: tree})
		if found.HasErrors() {
			t.Fatalf("%s: %v", name, found)
		}
		table, err := engine.Judge(t.Context(), s, engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		broken, err := engine.CheckExpectations(t.Context(), s)
		if err != nil || len(broken) > 0 {
			t.Errorf("%s: %v, %v", name, broken, err)
		}
		all[name] = fmt.Sprint(table.Scores())
	}
	return all
}

// Every name is renamed and back: all files read as before, no score changes on the way, and in the end the
// bytes are the same.
func TestRenameAndBack(t *testing.T) {
	s := beginHouse(t)
	before := map[string]string{}
	for name := range house {
		before[name] = bare(name)
	}
	s.put(before)
	want, found := scores(t, before), s.codes(before)
	names := map[string]int{}
	for _, file := range slices.Sorted(maps.Keys(house)) {
		for _, at := range marks(file) {
			src, _ := lang.NewSource(file, []byte(before[file]))
			d := newDocument(s.uri(file), "")
			d.set(before[file])
			m, ok := d.mentionAt(offsetOf(src, at))
			if !ok {
				t.Fatalf("%s: nothing is named at %v", file, at)
			}
			other := `Quite "another" \ näme`
			if m.kind == "fact" {
				other = "quite_another"
			}
			after, fault := s.renamed(before, file, at, other)
			if fault != nil {
				t.Errorf("%s %q: %v", m.kind, m.name, fault)
				continue
			}
			names[m.kind]++
			if diff := cmp.Diff(want, scores(t, after)); diff != "" {
				t.Errorf("%s %q: scores differ:\n%s", m.kind, m.name, diff)
			}
			s.put(after)
			if diff := cmp.Diff(found, s.codes(after)); diff != "" {
				t.Errorf("%s %q: findings differ:\n%s", m.kind, m.name, diff)
			}
			back, fault := s.renamed(after, file, at, m.name)
			if fault != nil {
				t.Errorf("%s %q: back: %v", m.kind, m.name, fault)
			} else if diff := cmp.Diff(before, back); diff != "" {
				t.Errorf("%s %q: the bytes differ:\n%s", m.kind, m.name, diff)
			}
			s.put(before)
		}
	}
	for _, kind := range []string{"lens", "camera", "rig", "mount", "adapter", "criterion", "fact", "shot", "place", "unit", "filter", "mode"} {
		if names[kind] == 0 {
			t.Errorf("no %s was renamed", kind)
		}
	}
}

// A rename that would change what something means is refused, with the reason.
func TestRenameRefused(t *testing.T) {
	s := beginHouse(t)
	files := map[string]string{}
	for name := range house {
		files[name] = bare(name)
	}
	place := func(file, piece string) position {
		src, _ := lang.NewSource(file, []byte(files[file]))
		return positionOf(src, strings.Index(files[file], piece)+1)
	}
	for _, c := range []struct{ file, piece, name, want string }{
		{"day.scenario", "Own 20\"", "Hire 28", "has the name already"},
		{"day.scenario", "Own 20\"", "Normal 35", "there is a lens \"Normal 35\" already"},
		{"day.scenario", "Wide 18", "Other", "no file of this folder describes the lens \"Wide 18\""},
		{"day.scenario", "1A", "1B", "has the name already"},
		{"day.scenario", "twice", "is_zoom", "there is a fact \"is_zoom\" already"},
		{"day.scenario", "twice", "Twice", "cannot be the name of a fact"},
		{"day.scenario", "1A", " ", "a name is wanted"},
		{"day.scenario", "1A", "a\nb", "a name stands on one line"},
		{"day.scenario", "person", "people", "nothing that can be renamed"},
		{"own.catalog", "All\"", "Small", "has the name already"},
		{"day.scenario", "All\"", "Small", "has the name already"},
		{"own.catalog", "Own ND", "Polariser, 77", "there is a filter \"Polariser, 77\" already"},
		{"own.catalog", "Own mount", "Coin screw", "there is a mount \"Coin screw\" already"},
	} {
		s.open(c.file, files[c.file])
		if _, fault := s.renamed(files, c.file, place(c.file, c.piece), c.name); fault == nil || !strings.Contains(fault.Message, c.want) {
			t.Errorf("%s to %q: got %v, want %q", c.piece, c.name, fault, c.want)
		}
	}
}

// A mode is that of its camera: of another one that has a mode of the same name nothing changes, and where a
// scenario means the modes of both, it is refused.
func TestRenameOfAMode(t *testing.T) {
	body := func(name string) string {
		return fmt.Sprintf("camera %q {\n  mount \"Deep bayonet\"\n  mode  \"All\" 36mm x 24mm\n}\n", name)
	}
	const kit = "use demo\nuse \"own.catalog\"\n"
	files := map[string]string{
		"own.catalog": body("A") + body("B") + "amend camera \"A\" {\n  mode \"All\" 36mm x 20mm\n}\n",
		"a.scenario":  kit + "scenario \"s\" {\n  mode \"All\"\n  camera \"A\"\n}\nshot \"1\" {\n  mode \"All\"\n}\n",
		"b.scenario":  kit + "scenario \"s\" {\n  camera \"B\"\n  unit \"U\" mode \"All\"\n}\nshot \"1\" {\n  mode \"All\"\n}\n",
	}
	want := maps.Clone(files)
	want["own.catalog"] = strings.NewReplacer("mode  \"All\"", "mode  \"Whole\"", "mode \"All\"", "mode \"Whole\"", body("B"), body("B")).Replace(files["own.catalog"])
	want["a.scenario"] = strings.ReplaceAll(files["a.scenario"], "All", "Whole")
	place := func(file string, at int) position {
		src, _ := lang.NewSource(file, []byte(files[file]))
		return positionOf(src, at+1)
	}
	s := begin(t, files)
	for _, from := range []string{"own.catalog", "a.scenario"} {
		s.open(from, files[from])
		got, fault := s.renamed(files, from, place(from, strings.Index(files[from], "All\"")), "Whole")
		if diff := cmp.Diff(want, got); fault != nil || diff != "" {
			t.Errorf("from %s: %v; it differs (-want +got):\n%s", from, fault, diff)
		}
	}
	for text, line := range map[string]string{
		"scenario \"s\" {\n  camera \"A\" or \"B\"\n  mode \"All\"\n}\n":                                                                "line 5",
		"scenario \"s\" {\n  camera \"A\"\n  unit \"U\" camera \"B\" mode \"All\"\n}\nshot \"1\" {\n  mode \"All\"\n}\n":                "line 8",
		"scenario \"s\" {\n  camera \"A\"\n  unit \"U\" camera \"B\"\n  unit \"V\"\n}\nshot \"1\" {\n  mode \"All\"\n  unit \"V\"\n}\n": "",
	} {
		files["both.scenario"] = kit + text
		s.put(map[string]string{"both.scenario": kit + text})
		_, fault := s.renamed(files, "own.catalog", place("own.catalog", strings.Index(files["own.catalog"], "All\"")), "Whole")
		if (fault == nil) != (line == "") || fault != nil && !(strings.Contains(fault.Message, line+" of ") && strings.Contains(fault.Message, `"A" and of "B" at once`)) {
			t.Errorf("%s: got %v, want %q", text, fault, line)
		}
	}
}

// With a file that cannot be read nobody knows whether it has the name; what a scenario has of its own is
// renamed all the same.
func TestRenameBesideUnreadableFiles(t *testing.T) {
	s := beginHouse(t)
	text := bare("day.scenario")
	if err := os.WriteFile(filepath.Join(s.folder, "broken.catalog"), []byte("lens \"\x00"), 0o644); err != nil {
		t.Fatal(err)
	}
	s.open("day.scenario", text)
	src, _ := lang.NewSource("day", []byte(text))
	for piece, want := range map[string]string{"Own 20\"": "broken.catalog cannot be read", "1A": ""} {
		_, fault := s.renamed(map[string]string{}, "day.scenario", positionOf(src, strings.Index(text, piece)+1), "Another")
		if (fault == nil) != (want == "") || fault != nil && !strings.Contains(fault.Message, want) {
			t.Errorf("%s: got %v, want %q", piece, fault, want)
		}
	}
}

// References are those of the same thing: each scenario has its own shot 1A.
func TestReferences(t *testing.T) {
	s := beginHouse(t)
	text := bare("day.scenario")
	s.open("day.scenario", text)
	src, _ := lang.NewSource("day", []byte(text))
	ask := func(method string, declared bool) (got []string) {
		t.Helper()
		var places []location
		answer := s.request("textDocument/"+method, map[string]any{
			"textDocument": textDocument{URI: s.uri("day.scenario")}, "position": positionOf(src, strings.Index(text, "\"1A\"")+2),
			"context": map[string]bool{"includeDeclaration": declared},
		})
		if method == "documentHighlight" {
			var marks []highlight
			if err := json.Unmarshal(answer, &marks); err != nil {
				t.Fatal(err)
			}
			for _, m := range marks {
				got = append(got, fmt.Sprintf("%d:%d kind %d", m.Range.Start.Line, m.Range.Start.Character, m.Kind))
			}
			return got
		}
		if err := json.Unmarshal(answer, &places); err != nil {
			t.Fatal(err)
		}
		for _, p := range places {
			got = append(got, fmt.Sprintf("%s %d:%d", filepath.Base(pathOf(p.URI)), p.Range.Start.Line, p.Range.Start.Character))
		}
		return got
	}
	want := []string{"day.scenario 16:6", "day.scenario 30:12", "day.scenario 34:13", "day.choices 1:41"}
	if diff := cmp.Diff(want, ask("references", true)); diff != "" {
		t.Errorf("references (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(want[1:], ask("references", false)); diff != "" {
		t.Errorf("without where it is described (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]string{"16:6 kind 3", "30:12 kind 2", "34:13 kind 2"}, ask("documentHighlight", true)); diff != "" {
		t.Errorf("marked (-want +got):\n%s", diff)
	}
}
