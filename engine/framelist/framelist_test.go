package framelist

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/big"
	"os"
	"slices"
	"strings"
	"testing"

	validator "github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"
)

// schema compiles the published schema.
func schema(t testing.TB) *validator.Schema {
	t.Helper()
	text, err := os.ReadFile(vectors + "framing-list-2.0.1.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	document, err := validator.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	compiler := validator.NewCompiler()
	compiler.AssertFormat()
	if err := compiler.AddResource("framing.json", document); err != nil {
		t.Fatal(err)
	}
	compiled, err := compiler.Compile("framing.json")
	if err != nil {
		t.Fatal(err)
	}
	return compiled
}

func valid(t fataler, s *validator.Schema, text []byte) bool {
	t.Helper()
	document, err := validator.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	return s.Validate(document) == nil
}

// fataler is what tests of both kinds have.
type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// The checks by hand and the published schema refuse the same documents, for random changes of
// documents that the schema takes.
func TestChecksAgreeWithSchema(t *testing.T) {
	published := schema(t)
	var seeds []string
	for _, c := range documentCases(t, "schema-cases.json") {
		if c.Errors == 0 {
			seeds = append(seeds, string(c.Document))
		}
	}
	for _, text := range publishedFiles(t) {
		seeds = append(seeds, string(text))
	}
	slices.Sort(seeds)
	values := []any{1.0, 2.0, 0.0, -1.0, 0.5, "x", "A_1", "A-1", "way_too_long_for_an_id_of_a_framing_list", true, []any{}, map[string]any{}, "fill", "even", ""}
	keys := []string{"id", "label", "_note", "note", "protection", "dimensions", "effective_dimensions", "file", "sequence", "round", "x", "minor"}
	refused := 0
	rapid.Check(t, func(t *rapid.T) {
		var document any
		if err := json.Unmarshal([]byte(rapid.SampledFrom(seeds).Draw(t, "document")), &document); err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 2).Draw(t, "changes") {
			objects := objectsOf(document)
			o := objects[rapid.IntRange(0, len(objects)-1).Draw(t, "object")]
			present := make([]string, 0, len(o))
			for key := range o {
				present = append(present, key)
			}
			slices.Sort(present)
			add := rapid.SampledFrom(keys).Draw(t, "added key")
			to := rapid.SampledFrom(values).Draw(t, "value")
			switch {
			case len(present) == 0 || rapid.Bool().Draw(t, "add"):
				o[add] = to
			case rapid.Bool().Draw(t, "take out"):
				delete(o, rapid.SampledFrom(present).Draw(t, "key"))
			default:
				o[rapid.SampledFrom(present).Draw(t, "key")] = to
			}
		}
		text, err := json.Marshal(document)
		if err != nil {
			t.Fatal(err)
		}
		var faults []Fault
		root := parse(text, &faults)
		documentShape.check(root, "", &faults)
		want := valid(t, published, text)
		if !want {
			refused++
		}
		if got := len(faults) == 0; got != want && !ours(root) {
			t.Errorf("taken: %t, by the schema %t: %v\n%s", got, want, faults, text)
		}
	})
	if refused == 0 {
		t.Error("no document was refused")
	}
}

// ours reports whether a document has what is taken and refused here otherwise than by the
// schema: version 1 and a target squeeze of 0 are read, and a size that is no object is refused.
func ours(v *value) bool {
	for _, m := range v.members {
		size := strings.HasSuffix(m.key, "dimensions") || m.key == "aspect_ratio" || strings.HasSuffix(m.key, "anchor_point")
		if m.key == "version" && m.value.number1("major", 0) == 1 || m.key == "target_anamorphic_squeeze" && m.value.number == 0 ||
			size && m.value.kind != object || ours(m.value) {
			return true
		}
	}
	return false
}

func objectsOf(v any) []map[string]any {
	var all []map[string]any
	switch v := v.(type) {
	case map[string]any:
		all = append(all, v)
		var keys []string
		for key := range v {
			keys = append(keys, key)
		}
		slices.Sort(keys)
		for _, key := range keys {
			all = append(all, objectsOf(v[key])...)
		}
	case []any:
		for _, item := range v {
			all = append(all, objectsOf(item)...)
		}
	}
	return all
}

func drawIntent(t *rapid.T, n int) Intent {
	return Intent{
		Label: rapid.String().Draw(t, "label"), ID: fmt.Sprintf("FI_%d", n),
		Ratio:      WholeRatio(float64(rapid.IntRange(90, 300).Draw(t, "ratio"))/100, 1),
		Protection: rapid.SampledFrom([]float64{0, 0.05, 0.1, 0.125, 1. / 3}).Draw(t, "protection"),
	}
}

func drawCanvas(t *rapid.T, id string, intents []Intent) Canvas {
	side := rapid.IntRange(320, 9000)
	c := Canvas{
		Label: rapid.String().Draw(t, "canvas label"), ID: id, Source: id,
		Size:     Size{float64(side.Draw(t, "width")), float64(side.Draw(t, "height"))},
		Physical: Size{rapid.Float64Range(0.004, 0.07).Draw(t, "mm"), rapid.Float64Range(0.004, 0.07).Draw(t, "mm")},
		Squeeze:  rapid.SampledFrom([]float64{1, 1.33, 1.5, 1.8, 2}).Draw(t, "squeeze"),
	}
	for _, i := range intents {
		d := Decision{Label: i.Label, ID: id + "-" + i.ID, Intent: i.ID}
		d.Frame, d.Protected = Decide(c.Working(), c.Squeeze, i.Ratio, i.Protection, Usual)
		c.Decisions = append(c.Decisions, d)
	}
	return c
}

func TestWrittenListsAreValid(t *testing.T) {
	published := schema(t)
	rapid.Check(t, func(t *rapid.T) {
		var intents []Intent
		for n := range rapid.IntRange(1, 3).Draw(t, "intents") {
			intents = append(intents, drawIntent(t, n))
		}
		contexts := []Context{{Label: "Camera \u00c5", Canvases: []Canvas{drawCanvas(t, "CV_1", intents), drawCanvas(t, "CV_2", intents)}}}
		write := func() []byte {
			l := New()
			l.Add("tool 1.0", intents, contexts)
			return l.Bytes()
		}
		text := write()
		if !valid(t, published, text) {
			t.Fatalf("the schema refuses\n%s", text)
		}
		if again := write(); !bytes.Equal(again, text) {
			t.Fatalf("the same content gives\n%s\nand\n%s", text, again)
		}
		list, faults := Read(text)
		if list == nil || len(faults) > 0 {
			t.Fatalf("%v in\n%s", faults, text)
		}
		for i, c := range list.Canvases() {
			if want := contexts[0].Canvases[i]; c.Size != want.Size || !slices.EqualFunc(c.Decisions, want.Decisions, func(a, b Decision) bool {
				return a.Frame == b.Frame && a.Protected == b.Protected && a.Intent == b.Intent
			}) {
				t.Fatalf("canvas %v comes back as %v", want, c)
			}
		}
		// The name follows from the content.
		changed := contexts[0]
		changed.Label += "!"
		other := New()
		other.Add("tool 1.0", intents, []Context{changed})
		if other.UUID() == list.UUID() || list.UUID() == nameless {
			t.Fatalf("two contents have the names %s and %s", list.UUID(), other.UUID())
		}
	})
}

// The rule by exact fractions: what fits in the working area has the ratio, one side is that of
// the area, and each side is the next even number.
func TestDecideByFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.IntRange(100, 9000)
		w, h := side.Draw(t, "width"), side.Draw(t, "height")
		over, under := rapid.IntRange(90, 300).Draw(t, "over"), 100
		squeeze, percent := rapid.SampledFrom([]int{100, 133, 150, 180, 200}).Draw(t, "squeeze %"), rapid.IntRange(0, 30).Draw(t, "protection %")
		working := Area{Point{float64(rapid.IntRange(0, 50).Draw(t, "x")), 0}, Size{float64(w), float64(h)}}
		frame, protected := Decide(working, float64(squeeze)/100, Size{float64(over), float64(under)}, float64(percent)/100, Usual)

		even := func(x *big.Rat, limit int) *big.Rat {
			n := new(big.Int).Add(x.Num(), new(big.Int).Sub(x.Denom(), big.NewInt(1)))
			whole := n.Div(n, x.Denom()).Int64()
			whole += whole % 2
			if whole > int64(limit) {
				whole = int64(limit - limit%2)
			}
			return big.NewRat(whole, 1)
		}
		width, height := big.NewRat(int64(w), 1), big.NewRat(int64(w*squeeze*under), int64(100*over))
		if height.Cmp(big.NewRat(int64(h), 1)) > 0 {
			width, height = big.NewRat(int64(h*over*100), int64(under*squeeze)), big.NewRat(int64(h), 1)
		}
		outerW, outerH := even(width, w), even(height, h)
		share := big.NewRat(int64(100-percent), 100)
		innerW, _ := even(new(big.Rat).Mul(outerW, share), w).Float64()
		innerH, _ := even(new(big.Rat).Mul(outerH, share), h).Float64()
		if frame.Size != (Size{innerW, innerH}) {
			t.Errorf("got %v, want %v x %v", frame, innerW, innerH)
		}
		if percent == 0 && protected.Known() {
			t.Errorf("got the protection %v without one", protected)
		}
		if !frame.in(working) || frame.X+frame.Width/2 != working.X+working.Width/2 {
			t.Errorf("%v does not stand in the middle of %v", frame, working)
		}
	})
}

func TestMoveStaysInTheWorkingArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := drawIntent(t, 0)
		c := drawCanvas(t, "CV", []Intent{i})
		d := &c.Decisions[0]
		quarters := rapid.IntRange(-400, 36000)
		to := Point{float64(quarters.Draw(t, "x")) / 4, float64(quarters.Draw(t, "y")) / 4}
		frame, protected := Move(c.Working(), d.Frame, d.Protected, to)
		outer := frame
		if protected.Known() {
			outer = protected
			// They move by the same, but for the rounding of a place that is no half.
			if got, want := frame.X-protected.X, d.Frame.X-d.Protected.X; math.Abs(got-want) > 1e-9 {
				t.Errorf("the margin goes from %v to %v", want, got)
			}
		}
		if !outer.in(c.Working()) || frame.Size != d.Frame.Size {
			t.Errorf("%v of %v leaves %v", outer, frame, c.Size)
		}
		if room := (Point{to.X - (d.Frame.X - d.Outer().X), to.Y - (d.Frame.Y - d.Outer().Y)}); (Area{room, outer.Size}).in(c.Working()) &&
			(math.Abs(frame.X-to.X) > 1e-9 || math.Abs(frame.Y-to.Y) > 1e-9) {
			t.Errorf("there is room at %v, and the frame goes to %v", to, frame)
		}
	})
}

func TestNames(t *testing.T) {
	var n Names
	for _, c := range []struct{ label, want string }{
		{"2.39:1", "2_39_1"},
		{"2.39:1", "2_39_1_2"},
		{"Caf\u00e9", "Cafe"},
		{"\u5b57", "_"},
		{"", "__2"},
		{"a camera of a very long name indeed", "a_camera_of_a_very_long_name_ind"},
		{"a camera of a very long name indeed!", "a_camera_of_a_very_long_name_i_2"},
	} {
		if got := n.ID(c.label); got != c.want {
			t.Errorf("%q: got %q, want %q", c.label, got, c.want)
		}
	}
}

func TestWholeRatio(t *testing.T) {
	for _, c := range []struct {
		over, under float64
		want        Size
	}{{2.39, 1, Size{239, 100}}, {1.85, 1, Size{185, 100}}, {16, 9, Size{16, 9}}, {2, 1, Size{2, 1}}, {4448 * 1.33, 3096, Size{591584, 309600}}} {
		if got := WholeRatio(c.over, c.under); got != c.want {
			t.Errorf("%v to %v: got %v, want %v", c.over, c.under, got, c.want)
		}
	}
	if !(Size{239, 100}).SameAs(Size{478, 200}) || (Size{239, 100}).SameAs(Size{240, 100}) {
		t.Error("239:100 is 478:200, and not 240:100")
	}
}

// Adding to a list of others leaves what is theirs, their keys and the name of the document.
func TestAddKeepsWhatOthersWrote(t *testing.T) {
	text := string(publishedFiles(t)["custom_keys.fdl"])
	list, _ := Read([]byte(text))
	// An intent that is there already stays as it is.
	intents := []Intent{{ID: "FI_01", Ratio: Size{16, 9}}, {ID: "FI_02", Ratio: Size{16, 9}}}
	canvas := Canvas{ID: "CV_9", Source: "CV_9", Size: Size{100, 100}, Squeeze: 1}
	list.Add("tool 1.0", intents, []Context{{Label: "ours", Canvases: []Canvas{canvas}}})
	got := string(list.Bytes())
	ours := `,
    {
      "label": "ours",
      "context_creator": "tool 1.0",
      "canvases": [
        {
          "id": "CV_9",
          "source_canvas_id": "CV_9",
          "dimensions": {
            "width": 100,
            "height": 100
          },
          "anamorphic_squeeze": 1,
          "framing_decisions": []
        }
      ]
    }`
	second := `,
    {
      "id": "FI_02",
      "aspect_ratio": {
        "width": 16,
        "height": 9
      },
      "protection": 0
    }`
	for _, added := range []string{ours, second} {
		if !strings.Contains(got, added) {
			t.Errorf("no %s in\n%s", added, got)
		}
		got = strings.Replace(got, added, "", 1)
	}
	if got = strings.Replace(got, "tool 1.0", "custom-attr-test", 1); got != text {
		t.Errorf("beside what is added, it is now\n%s", got)
	}
}

func TestFaultsHavePlaces(t *testing.T) {
	document := func(change ...string) string {
		text := string(publishedFiles(t)["fit_effective_dimensions.fdl"])
		for i := 0; i < len(change); i += 2 {
			if !strings.Contains(text, change[i]) {
				t.Fatalf("no %q to change", change[i])
			}
			text = strings.Replace(text, change[i], change[i+1], 1)
		}
		return text
	}
	for _, c := range []struct {
		name, text string
		at         string // what the place shows
		summary    string // part of it
		warning    bool
	}{
		{"no JSON", `{"uuid": 1,,}`, ",", "not JSON", false},
		{"cut off", `{"uuid": "a`, "", "ends in the middle", false},
		{"nothing", "", "", "ends in the middle", false},
		{"two documents", `{} {}`, "{", "behind the end", false},
		{"a list", `[]`, "[]", "the list is a list, and must be an object", false},
		{"too deep", strings.Repeat(`{"_a":`, 100), "{", "64 deep", false},
		{"a key twice", document(`"minor": 0`, `"minor": 0, "minor": 0`), `"`, "stands twice", false},
		{"beyond numbers", document(`"height": 9`, `"height": 1e999`), "1", "beyond all numbers", false},
		{"version 3", document(`"major": 2`, `"major": 3`), "{\n    \"major\": 3,\n    \"minor\": 0\n  }", "version 3.0", false},
		{"no frame left", document(`"protection": 0`, `"protection": 1`), "1", "leaves no frame", false},
		{"fraction of a pixel", document(`"height": 4096`, `"height": 4096.5`), "4096.5", "whole number", false},
		{"wrong decision id", document(`"id": "effective_dims_fit_canvas-`, `"id": "other-`), `"other-effective_dims_fit_intent"`, "not that of its canvas", false},
		{"beyond the effective area", document("\"x\": 512.0,\n                \"y\": 608.0", "\"x\": 600.0,\n                \"y\": 608.0"), "", "leaves the effective area", true},
		{"beyond the canvas", document("\"x\": 512.0,\n                \"y\": 608.0", "\"x\": 1200.0,\n                \"y\": 608.0"), "", "leaves canvas", true},
		{"outside the canvas", document("\"x\": 512.0,\n                \"y\": 608.0", "\"x\": 6144,\n                \"y\": 608.0"), "", "stands outside canvas", false},
		{"version 1", document(`"major": 2`, `"major": 1`, `"protection": 0`, `"protection": 0.1`), "0.1", "outwards", true},
	} {
		list, faults := Read([]byte(c.text))
		i := slices.IndexFunc(faults, func(f Fault) bool { return strings.Contains(f.Summary, c.summary) })
		if i < 0 {
			t.Errorf("%s: got %v, want one of %q", c.name, faults, c.summary)
			continue
		}
		f := faults[i]
		if at := c.text[f.Start:f.End]; c.at != "" && at != c.at {
			t.Errorf("%s: got the place %q, want %q", c.name, at, c.at)
		}
		if f.Warning != c.warning || (list != nil) != c.warning {
			t.Errorf("%s: got warning %t and a list %t, want %t", c.name, f.Warning, list != nil, c.warning)
		}
	}
	if list, faults := Read([]byte("{\"_\xff\": 1}")); list != nil || len(faults) != 1 {
		t.Errorf("no UTF-8: got %v", faults)
	}
}

// What is null counts as not given, but in the keys of others.
func TestNullIsNotGiven(t *testing.T) {
	list, faults := Read([]byte(`{"uuid": "00000000-0000-0000-0000-000000000001", "version": {"major": 2, "minor": 0}, "fdl_creator": null, "_ours": null}`))
	if list == nil {
		t.Fatal(faults)
	}
	if got := string(list.Bytes()); strings.Contains(got, "fdl_creator") || !strings.Contains(got, `"_ours": null`) {
		t.Errorf("got %s", got)
	}
}

func FuzzRead(f *testing.F) {
	for _, text := range publishedFiles(f) {
		f.Add(text)
	}
	f.Add([]byte(`{"uuid": "00000000-0000-0000-0000-000000000001", "version": {"major": 2.0, "minor": 0}, "_x": [null, "\u00e9", 1E2]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		list, faults := Read(text)
		for _, fault := range faults {
			if fault.Start < 0 || fault.End < fault.Start || fault.End > len(text) || fault.Summary == "" {
				t.Fatalf("%+v in %d bytes", fault, len(text))
			}
		}
		if list == nil {
			if !stops(faults) {
				t.Fatal("refused without a fault")
			}
			return
		}
		once := list.Bytes()
		again, faults := Read(once)
		if again == nil {
			t.Fatalf("%v in what was written:\n%s", faults, once)
		}
		if twice := again.Bytes(); !bytes.Equal(once, twice) {
			t.Fatalf("%s\nbecomes\n%s", once, twice)
		}
	})
}
