package whatif

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/cmd/report"
	"glassbrief/cmd/travel"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/brief"
	"glassbrief/engine/floor"
	"glassbrief/engine/whatif"
	"glassbrief/engine/why"
	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

// inputOf reads a scenario of the folder of scenarios with all that it names.
func inputOf(t testing.TB, name string) whatif.Input {
	t.Helper()
	read := map[string]string{}
	files := brief.Files{Tree: os.DirFS("../../scenarios"), Heard: func(name, text string) { read[name] = text }}
	text, err := files.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	src, _ := lang.NewSource(name, []byte(text))
	if _, found := brief.Load(src, files); found.HasErrors() {
		t.Fatal(found)
	}
	return whatif.Input{Name: name, Files: read, ChangePrice: brief.UsualChangePrice}
}

func sessionOf(t testing.TB, in whatif.Input) *Session {
	t.Helper()
	plan, found := whatif.Open(in)
	if found.HasErrors() {
		t.Fatal(found)
	}
	s, err := NewSession(plan)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// drawn draws an edit: some controls at steps of their ladders, in one of ten cases with a text that
// is none.
func drawnEdit(r *rand.Rand, p *whatif.Plan) string {
	var pairs []string
	for _, i := range r.Perm(len(p.Controls))[:1+r.IntN(3)] {
		c := &p.Controls[i]
		ladder := p.Ladders[c.Ladder]
		step := func() whatif.Value { return ladder[r.IntN(len(ladder))] }
		text := ""
		switch a, b := step(), step(); {
		case r.IntN(10) == 0:
			text = []string{"", "-1m", "9999lx", "1 .. 2", "2m }", "nothing"}[r.IntN(6)]
		case c.Choice:
			text = a.Text
		case len(c.Saved) == 2:
			// Near what is saved, for elsewhere no lens does it.
			a.Value = c.Saved[0].Value * (0.7 + 0.6*r.Float64())
			b.Value = max(a.Value, c.Saved[1].Value*(0.7+0.6*r.Float64()))
			text = fmt.Sprintf("%.2f%s..%.2f%s", a.Value, c.Unit, b.Value, c.Unit)
		default:
			text = a.Text + c.Unit
		}
		pairs = append(pairs, c.Key+"="+text)
	}
	return strings.Join(pairs, "&")
}

// patched gives the files of an input with a diff put in by patch.
func patched(t *testing.T, in whatif.Input, diff string) map[string]string {
	t.Helper()
	folder := t.TempDir()
	for name, text := range in.Files {
		path := filepath.Join(folder, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if diff != "" {
		c := exec.Command("patch", "-p1", "--batch", "--no-backup-if-mismatch")
		c.Dir, c.Stdin = folder, strings.NewReader(diff)
		if out, err := c.CombinedOutput(); err != nil || strings.Contains(string(out), "fuzz") || strings.Contains(string(out), "offset") {
			t.Fatalf("patch: %v\n%s\n%s", err, out, diff)
		}
	}
	files := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		name, _ := filepath.Rel(folder, path)
		files[filepath.ToSlash(name)] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// recommended gives what the command works out for the files of an input, read anew.
func recommended(t *testing.T, in whatif.Input, files map[string]string) *answer.Answer {
	t.Helper()
	tree := fstest.MapFS{}
	for name, text := range files {
		tree[name] = &fstest.MapFile{Data: []byte(text)}
	}
	src, found := lang.NewSource(in.Name, []byte(files[in.Name]))
	if found.HasErrors() {
		t.Fatal(found)
	}
	s, found := brief.Load(src, brief.Files{Tree: tree, House: brief.House{ChangePrice: lang.NewQuantity(in.ChangePrice, lang.Plain)}})
	if found.HasErrors() {
		t.Fatal(found)
	}
	r, err := engine.Recommend(context.Background(), s, engine.Options{Runners: answer.Runners, Hold: answer.Ranked})
	if err != nil {
		t.Fatal(err)
	}
	return &answer.Answer{Recommendation: r, Changes: floor.ChangesOf(r), Rescues: make([]*why.Rescue, len(r.Shots))}
}

// partsOf draws all parts of a page by themselves.
func partsOf(t *testing.T, a *answer.Answer) map[string]string {
	t.Helper()
	sections := report.Writer{All: true}.Sections(a)
	parts := map[string]string{}
	part := func(id string, write func(io.Writer) error) {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Fatal(err)
		}
		parts[id] = b.String()
	}
	part("r0", sections.Run)
	part("a0", sections.Top)
	part("c0", sections.Cautions)
	part("m0", sections.Matrix)
	for _, i := range sections.Shots() {
		part("a"+strconv.Itoa(i+1), func(to io.Writer) error { return sections.Stands(to, i) })
		part("b"+strconv.Itoa(i+1), func(to io.Writer) error { return sections.Behind(to, i) })
	}
	return parts
}

// put puts parts in the place of those that a page has of the report. What only a page for edits has is
// left out: the report has nothing to hold it to.
func put(page map[string]string, parts []Part) {
	for _, part := range parts {
		if _, reported := page[part.ID]; reported {
			page[part.ID] = part.HTML
		}
	}
}

// withGaps takes lines out of a scenario that a shot need not have, so that figures are assumed, and
// some of the shots.
func withGaps(in whatif.Input, r *rand.Rand) whatif.Input {
	var b strings.Builder
	skipped := false
	for line := range strings.Lines(in.Files[in.Name]) {
		keyword, _, _ := strings.Cut(strings.TrimSpace(line), " ")
		switch {
		case keyword == "shot":
			skipped = r.IntN(4) == 0
		case keyword == "expect":
			continue
		case slices.Contains([]string{"light", "move", "weight", "need", "prefer", "background", "rent", "carry", "rate"}, keyword) && r.IntN(3) == 0:
			continue
		}
		if !skipped {
			b.WriteString(line)
		}
	}
	in.Files = maps.Clone(in.Files)
	in.Files[in.Name] = b.String()
	return in
}

// Whatever is moved, the page has what the command gives for the patched files, byte for byte, though
// each reply brings only what changed, and so does the JSON.
func TestAnswersAreThoseOfThePatchedFiles(t *testing.T) {
	if _, err := exec.LookPath("patch"); err != nil {
		langtest.Lacking(t, "patch")
	}
	tests := []struct {
		name  string
		in    whatif.Input
		cases int
	}{
		{"demo", inputOf(t, "night-ferry.scenario"), 100}, {"orchard", inputOf(t, "orchard.scenario"), 50}, {"salt works", inputOf(t, "salt-works.scenario"), 25},
	}
	for i := range 4 {
		tests = append(tests, struct {
			name  string
			in    whatif.Input
			cases int
		}{fmt.Sprintf("gaps %d", i), withGaps(inputOf(t, "night-ferry.scenario"), rand.New(rand.NewPCG(uint64(i), 17))), 15})
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			in, cases := test.in, test.cases
			s := sessionOf(t, in)
			s.unmarked = true
			page := partsOf(t, recommended(t, in, in.Files))
			r := rand.New(rand.NewPCG(17, 4))
			answered, faulty, kits := 0, 0, 0
			for range langtest.Cases(cases) {
				fragment := drawnEdit(r, s.Plan)
				reply := s.Answer(fragment)
				if reply.Panic != "" {
					t.Fatal(fragment, reply.Panic)
				}
				if !reply.Answered {
					if reply.Parts != nil || len(reply.Faults) == 0 {
						t.Fatalf("%s is not answered, with the reply %+v", fragment, reply)
					}
					faulty++
					continue
				}
				answered++
				if reply.Status != "" {
					kits++
				}
				put(page, reply.Parts)
				if r.IntN(3) == 0 { // as when another edit comes before the rest is asked for
					continue
				}
				put(page, s.Rest().Parts)
				files := patched(t, in, reply.Patch)
				want := recommended(t, in, files)
				if diff := cmp.Diff(partsOf(t, want), page); diff != "" {
					t.Fatalf("after %s the page differs (-file +page):\n%s", fragment, diff)
				}
				if answered%5 != 0 {
					continue
				}
				if len(reply.Faults) > 0 {
					continue
				}
				text, err := s.JSON(reply.Fragment)
				if err != nil {
					t.Fatal(err)
				}
				whole, err := answer.Around(context.Background(), want.Recommendation)
				if err != nil {
					t.Fatal(err)
				}
				var b bytes.Buffer
				if err := travel.WriteJSON(&b, travel.Recommendation(whole, false, lang.Printer{})); err != nil {
					t.Fatal(err)
				}
				if diff := cmp.Diff(b.String(), text); diff != "" {
					t.Fatalf("after %s the JSON differs (-file +page):\n%s", fragment, diff)
				}
			}
			t.Logf("%d answered, %d of them with another plan, %d faulty", answered, kits, faulty)
			if langtest.Enough(cases) && (faulty > answered || kits < answered/5) {
				t.Errorf("%d faulty and %d of another plan against %d answered test too little", faulty, kits, answered)
			}
			back := s.Answer("")
			put(page, back.Parts)
			if back.Patch != "" || back.Lines != "" || back.Status != "" || back.Controls != nil || back.Fragment != "" {
				t.Errorf("as saved is a change: %+v", back)
			}
			if diff := cmp.Diff(partsOf(t, recommended(t, in, in.Files)), maps.Clone(page)); diff != "" {
				t.Errorf("as saved differs (-file +page):\n%s", diff)
			}
		})
	}
}

// Warming is not seen: the reply behind it is the one without it.
func TestWarmingChangesNothing(t *testing.T) {
	in := inputOf(t, "night-ferry.scenario")
	const fragment = "4A.distance=1.4m..2.8m"
	want := sessionOf(t, in).Answer(fragment)
	text, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	s, err := OpenSession(string(text))
	if err != nil {
		t.Fatal(err)
	}
	for s.Warm() {
	}
	if diff := cmp.Diff(want, s.Answer(fragment)); diff != "" {
		t.Errorf("after warming the reply differs (-cold +warm):\n%s", diff)
	}
}

// Names that are mark-up stay text in every part of a reply, and in the lines for the file.
func TestHostileNamesStayText(t *testing.T) {
	const name = `<img src=x onerror=alert(1)>\"</script>&amp;`
	in := inputOf(t, "night-ferry.scenario")
	shot := strings.NewReplacer(`shot "4A" "Deckhand`, `shot "`+name+`" "`+name+`Deckhand`, `"Night ferry"`, `"`+name+`"`)
	in.Files[in.Name] = shot.Replace(in.Files[in.Name])
	s := sessionOf(t, in)
	key := ""
	for _, c := range s.Plan.Controls {
		if c.Shot == 4 && c.Name == "distance" {
			key = c.Key
		}
	}
	if strings.ContainsAny(key, "<>\"& ") {
		t.Errorf("the key %q is no part of a fragment", key)
	}
	for _, text := range []string{"1m..2.8m", "1.4m..2.8m", name, "2m<b>"} {
		reply := s.Answer(key + "=" + whatif.State{{Key: "", Text: text}}.String()[1:])
		if reply.Panic != "" || reply.Answered == strings.Contains(text, "<") {
			t.Fatalf("%s: %+v", text, reply)
		}
		for _, part := range append(reply.Parts, s.Rest().Parts...) {
			if strings.Contains(part.HTML, "<img") || strings.Contains(part.HTML, "</script") || strings.Contains(part.HTML, "<b>") && strings.Contains(text, "<b>") {
				t.Errorf("the part %s holds mark-up of a name:\n%s", part.ID, part.HTML)
			}
		}
		if reply.Answered && (!strings.Contains(reply.Lines, lang.Quote(plainName(name))) || len(reply.Parts) == 0) {
			t.Errorf("the lines name no shot:\n%s", reply.Lines)
		}
	}
}

// plainName gives a name as it is without the escapes of a file.
func plainName(quoted string) string {
	name, _ := lang.Unquote(`"` + quoted + `"`)
	return name
}

// What differs from the saved plan is marked by words and elements, and by nothing where it is the same.
func TestRepliesMarkWhatDiffers(t *testing.T) {
	s := sessionOf(t, inputOf(t, "night-ferry.scenario"))
	reply := s.Answer("4A.lens=Zoom+16-35&carry=3")
	if !reply.Answered {
		t.Fatal(reply.Faults)
	}
	parts := map[string]string{}
	for _, part := range reply.Parts {
		parts[part.ID] = part.HTML
	}
	for _, want := range []string{"<ins>", `<del class="was"><span class="said">before </span><bdi>Wide 18</bdi>`} {
		if !strings.Contains(parts["a4"], want) {
			t.Errorf("the section of the shot lacks %s:\n%s", want, parts["a4"])
		}
	}
	if want := "chose \"Zoom 16-35\" in shot \"4A\"\n"; reply.Chose != want {
		t.Errorf("the choice is %q", reply.Chose)
	}
	if !strings.HasPrefix(reply.Status, "Zoom 16-35 replaces Wide 18 in ") || !strings.HasSuffix(reply.Status, ", was 0.81.") {
		t.Errorf("the status is %q", reply.Status)
	}
	want := []Figure{
		{"carry", 0, whatif.Value{Value: 3, Text: "3", Spoken: "3 lenses"}, "2"},
		{"4A.lens", 0, whatif.Value{Text: "Zoom 16-35", Spoken: "Zoom 16-35"}, ""},
	}
	if diff := cmp.Diff(want, reply.Controls); diff != "" {
		t.Errorf("the controls differ (-want +got):\n%s", diff)
	}
	for _, part := range s.Answer("").Parts {
		if strings.Contains(part.HTML, "<ins>") || strings.Contains(part.HTML, "<del") {
			t.Errorf("as saved, the part %s marks a difference", part.ID)
		}
	}
}

// A reply begins with the shot that is moved, and the rest of the page comes once, when it is asked for.
func TestTheShotThatIsMovedComesFirst(t *testing.T) {
	s := sessionOf(t, inputOf(t, "night-ferry.scenario"))
	ids := func(parts []Part) (all []string) {
		for _, part := range parts {
			all = append(all, part.ID)
		}
		return all
	}
	s.Answer("carry=1")
	if rest := ids(s.Rest().Parts); !slices.Contains(rest, "m0") || !slices.Contains(rest, "b1") {
		t.Fatalf("one lens less changes %q, want shots and the matrix", rest)
	}
	if rest := s.Rest(); rest.Parts != nil || rest.Panic != "" {
		t.Errorf("asked again, the rest is %+v", rest)
	}
	first := ids(s.Answer("carry=2&4A.distance=1.4m..2.8m").Parts)
	if !slices.Contains(first, "a4") || !slices.Contains(first, "b4") || slices.ContainsFunc(first, func(id string) bool { return !strings.Contains("r0 a0 k0 c0 l0 a4 b4", id) }) {
		t.Errorf("the reply begins with %q, want what holds for all and the shot", first)
	}
	saved := ids(s.Answer("").Parts)
	if !slices.Contains(saved, "b4") || !slices.Contains(saved, "a0") || s.Rest().Parts != nil {
		t.Errorf("the saved plan comes as %q with a rest, want it whole", saved)
	}
}

// A fault in the engine ends in the reply, and the next edit is answered.
func TestPanicsEndInTheReply(t *testing.T) {
	s := sessionOf(t, inputOf(t, "night-ferry.scenario"))
	saved := s.saved
	s.saved = nil
	if reply := s.Answer("carry=3"); !strings.Contains(reply.Panic, "nil pointer") || reply.Answered || reply.Parts != nil {
		t.Errorf("the reply is %+v", reply)
	}
	s.saved = saved
	if reply := s.Answer("carry=3"); reply.Panic != "" || !reply.Answered || len(reply.Parts) == 0 {
		t.Errorf("after a panic the reply is %+v", reply)
	}
	s.left.of = nil
	if rest := s.Rest(); !strings.Contains(rest.Panic, "nil pointer") || rest.Parts != nil {
		t.Errorf("the rest is %+v", rest)
	}
	if reply := s.Answer("carry=1"); reply.Panic != "" || !reply.Answered || s.Rest().Parts == nil {
		t.Errorf("after a panic in the rest the reply is %+v", reply)
	}
}

// What a session holds does not grow with the edits that it answered.
func TestSessionsHoldNoMoreAfterManyEdits(t *testing.T) {
	s := sessionOf(t, inputOf(t, "night-ferry.scenario"))
	r := rand.New(rand.NewPCG(3, 9))
	edit := func(n int) uint64 {
		for range n {
			s.Answer(drawnEdit(r, s.Plan))
		}
		var m runtime.MemStats
		runtime.GC()
		runtime.GC() // the first empties pools
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	const most = 8 << 20
	early := edit(langtest.Cases(100))
	if late := edit(langtest.Cases(400)); late > early+most {
		t.Errorf("a session holds %d MB after 100 edits and %d MB after 500", early>>20, late>>20)
	}
}

// An edit that moves one shot is judged and drawn for a part of what the whole report takes.
func BenchmarkEdit(b *testing.B) {
	in := inputOf(b, "night-ferry.scenario")
	s := sessionOf(b, in)
	const edits = 10
	n := 0
	r := langtest.NewRace(langtest.Processor,
		langtest.Way{Name: "edits", Do: func() {
			for range edits {
				n++
				if reply := s.Answer(fmt.Sprintf("4A.distance=%.2fm..2.8m", 1.7+float64(n%50)/100)); !reply.Answered {
					b.Fatal(reply)
				}
			}
		}},
		langtest.Way{Name: "reports", Do: func() {
			for range edits {
				plan, _ := whatif.Open(in)
				r, err := engine.Recommend(context.Background(), plan.Scenario, engine.Options{Workers: 1, Runners: answer.Runners, Hold: answer.Ranked})
				if err != nil {
					b.Fatal(err)
				}
				a, err := answer.Around(context.Background(), r)
				if err != nil {
					b.Fatal(err)
				}
				if err := (report.Writer{All: true}).Recommendation(io.Discard, a); err != nil {
					b.Fatal(err)
				}
			}
		}},
	)
	langtest.Hold(b, r.Round, r.AtMost("edits", "reports", 0.5))
}
