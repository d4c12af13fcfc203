package editor

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

const outlined = `// one
// two
use demo

scenario "Night" { // ä
  place "Rail" move 10min
}

shot "1A" "First" {
  need  max(iso, 2) < 9 and not moving because "ä {iso} b"
}
`

func (s *session) askInto(into any, method string, params map[string]any) {
	s.t.Helper()
	params["textDocument"] = textDocument{URI: s.uri("a.scenario")}
	if err := json.Unmarshal(s.request(method, params), into); err != nil {
		s.t.Fatal(err)
	}
}

func TestOutline(t *testing.T) {
	s := beginHouse(t)
	s.open("a.scenario", outlined)
	var symbols []symbol
	s.askInto(&symbols, "textDocument/documentSymbol", map[string]any{})
	var got []string
	for _, one := range symbols {
		got = append(got, fmt.Sprintf("%s (%s) %d-%d at %d", one.Name, one.Detail, one.Range.Start.Line, one.Range.End.Line, one.SelectionRange.Start.Character))
		for _, inner := range one.Children {
			got = append(got, "- "+inner.Name)
		}
	}
	if diff := cmp.Diff([]string{"scenario Night () 4-6 at 9", "- place Rail", "shot 1A (First) 8-10 at 5"}, got); diff != "" {
		t.Errorf("symbols (-want +got):\n%s", diff)
	}

	var folds []fold
	s.askInto(&folds, "textDocument/foldingRange", map[string]any{})
	if diff := cmp.Diff([]fold{{0, 1, "comment"}, {4, 5, ""}, {8, 9, ""}}, folds); diff != "" {
		t.Errorf("folds (-want +got):\n%s", diff)
	}

	var found []placedSymbol
	s.askInto(&found, "workspace/symbol", map[string]any{"query": "OWN 2"})
	if len(found) != 1 || found[0].Name != "Own 20" || found[0].ContainerName != "lens" || found[0].Location.Range.Start.Line != 25 {
		t.Errorf("got %+v, want the lens", found)
	}
	s.askInto(&found, "workspace/symbol", map[string]any{"query": "shot 1a"})
	if len(found) != 4 { // of three scenarios of the folder, and of this one
		t.Errorf("got %+v, want four shots", found)
	}
}

func TestSelection(t *testing.T) {
	s := begin(t, nil)
	s.open("a.scenario", outlined)
	src, _ := lang.NewSource("a", []byte(outlined))
	for _, c := range []struct {
		at   string
		want []string // from the inside
	}{
		{"iso,", []string{"iso", "max(iso, 2) < 9 and not moving", "need …", "{ …", "shot …", "// one …"}},
		{"Rail", []string{"Rail", `"Rail"`, `place "Rail" move 10min`, "{ // ä …", "scenario …", "// one …"}},
		{"use", []string{"use", "use demo", "// one …"}},
	} {
		var got []*selection
		s.askInto(&got, "textDocument/selectionRange", map[string]any{"positions": []position{positionOf(src, strings.Index(outlined, c.at)+1)}})
		var texts []string
		for of := got[0]; of != nil; of = of.Parent {
			text := outlined[offsetOf(src, of.Range.Start):offsetOf(src, of.Range.End)]
			i := len(texts)
			if i < len(c.want) {
				if begins, ok := strings.CutSuffix(c.want[i], "…"); ok && strings.HasPrefix(text, strings.TrimSpace(begins)) {
					text = c.want[i]
				}
			}
			texts = append(texts, text)
		}
		if diff := cmp.Diff(c.want, texts); diff != "" {
			t.Errorf("around %q (-want +got):\n%s", c.at, diff)
		}
	}
}

func TestColours(t *testing.T) {
	s := begin(t, nil)
	s.open("a.scenario", outlined)
	var got struct{ Data []int }
	s.askInto(&got, "textDocument/semanticTokens/full", map[string]any{})
	src, _ := lang.NewSource("a", []byte(outlined))
	var texts []string
	at := position{}
	for token := range slices.Chunk(got.Data, 5) {
		if token[0] > 0 {
			at.Character = 0
		}
		at.Line += token[0]
		at.Character += token[1]
		from, to := offsetOf(src, at), offsetOf(src, position{at.Line, at.Character + token[2]})
		texts = append(texts, outlined[from:to]+" "+tokenKinds[token[3]])
	}
	want := strings.Split(`// one comment|// two comment|use keyword|demo enumMember|scenario keyword|"Night" string|// ä comment|place keyword|"Rail" string|`+
		`move enumMember|10min number|shot keyword|"1A" string|"First" string|need keyword|max function|iso variable|2 number|9 number|and keyword|not keyword|moving variable|`+
		`because enumMember|"ä { string|iso variable|} b" string`, "|")
	if diff := cmp.Diff(want, texts); diff != "" {
		t.Errorf("tokens (-want +got):\n%s", diff)
	}
}
