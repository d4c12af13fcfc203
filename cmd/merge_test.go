package cmd

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glassbrief/engine/merge"
	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

// A written is a statement of a tidy text, or a remark, with what stands around it. Edits of it are what
// merges are held to: it knows nothing of how a merge is made.
type written struct {
	id                      int
	gap, lead, line, behind string // lines, but for what stands behind the statement on its line
	opens                   bool
	inner                   []*written
}

// drawnText makes a random file of a kind and puts comments and empty lines into it.
func drawnText(t *testing.T, random *rand.Rand, blocks map[string]inventedBlock, file string) *written {
	t.Helper()
	choices := make([]byte, 600)
	for i := range choices {
		choices[i] = byte(random.IntN(256))
	}
	v := &inventor{bytes: choices, blocks: blocks, texts: inventedTexts, all: random.IntN(4) == 0}
	src, found := lang.NewSource(file, []byte(v.files()[file]))
	if found.HasErrors() {
		t.Fatal(found)
	}
	top := &written{opens: true}
	text := lang.Tidy(src)
	if file == "day.scenario" && random.IntN(2) == 0 { // enough of them to move some
		for i := range 12 {
			text += fmt.Sprintf("shot \"further %d\" {\n  scene     %d\n}\n", i, i)
		}
	}
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if lines[0] == "" {
		lines = nil
	}
	n := 0
	top.read(&lines, "", func(w *written, indent string) {
		n++
		w.id = n
		comment := fmt.Sprintf("// comment %d\n", n)
		switch random.IntN(6) {
		case 0:
			w.lead = indent + comment
		case 1:
			w.lead = indent + comment + indent + "//\n" + indent + "// and more \"{\n"
		case 2:
			w.gap = "\n"
		}
		if random.IntN(6) == 0 {
			w.behind = "  // behind " + fmt.Sprint(n)
		}
	})
	for i := len(top.inner) - 1; i > 0; i-- {
		if w := top.inner[i]; random.IntN(8) == 0 {
			n++
			w.gap = "\n"
			top.inner = slices.Insert(top.inner, i, &written{id: n, gap: "\n", line: fmt.Sprintf("// remark %d\n// of two lines", n)})
		}
	}
	return top
}

// read takes lines up to the end of a block.
func (w *written) read(lines *[]string, indent string, each func(*written, string)) {
	for len(*lines) > 0 {
		line := (*lines)[0]
		*lines = (*lines)[1:]
		if line == "" {
			continue
		}
		if strings.TrimSpace(line) == "}" {
			return
		}
		next := &written{line: line, opens: strings.HasSuffix(line, " {")}
		w.inner = append(w.inner, next)
		each(next, indent)
		if next.opens {
			next.read(lines, indent+"  ", each)
		}
	}
}

func (w *written) text() string {
	var b strings.Builder
	for _, inner := range w.inner {
		inner.write(&b, "")
	}
	return b.String()
}

func (w *written) write(b *strings.Builder, indent string) {
	b.WriteString(w.gap + w.lead + w.line + w.behind + "\n")
	for _, inner := range w.inner {
		inner.write(b, indent+"  ")
	}
	if w.opens {
		b.WriteString(indent + "}\n")
	}
}

func (w *written) isRemark() bool { return strings.HasPrefix(w.line, "//") }

// find gives what has an id, with the block that it is in.
func (w *written) find(id int) (is, in *written) {
	for _, inner := range w.inner {
		if inner.id == id {
			return inner, w
		}
		if is, in := inner.find(id); is != nil {
			return is, in
		}
	}
	return nil, nil
}

// all lists what is in a block, and what is in that.
func (w *written) all() (list []*written) {
	for _, inner := range w.inner {
		list = append(append(list, inner), inner.all()...)
	}
	return list
}

func (w *written) clone() *written {
	copied := *w
	copied.inner = make([]*written, len(w.inner))
	for i, inner := range w.inner {
		copied.inner[i] = inner.clone()
	}
	return &copied
}

// An editing is one change that a person makes to a text.
type editing struct {
	kind  string
	at    int    // id of what is changed, or behind which something is put; 0 is the beginning of a block
	in    int    // id of the block in which something is put at its beginning
	to    int    // id of that behind which a block is moved
	words string // what is new, by which it is found in the text
}

var editings = []string{"change", "behind", "above", "gap", "remove", "add", "move"}

// changed gives a line that says something else.
func changed(line, words string) string {
	if value, opens := strings.CutSuffix(line, " {"); opens {
		keyword, _, _ := strings.Cut(value, " ")
		return fmt.Sprintf("%s %q {", keyword, words)
	}
	head, _, _ := strings.Cut(line, ` because "`)
	keyword, _, _ := strings.Cut(strings.TrimSpace(line), " ")
	if slices.Contains([]string{"need", "prefer", "veto", "limit", "lack", "score", "fact", "when"}, keyword) {
		return fmt.Sprintf("%s because %q", head, words)
	}
	return fmt.Sprintf("%s %q", line, words)
}

func (e editing) apply(top *written) {
	is, in := top.find(e.at)
	if e.kind == "add" && e.at == 0 {
		if in, _ = top.find(e.in); in == nil {
			in = top
		}
	}
	if in == nil {
		return // taken out by the other
	}
	place := slices.Index(in.inner, is)
	indent := ""
	if is != nil {
		indent = is.line[:len(is.line)-len(strings.TrimLeft(is.line, " "))]
	} else if in != top {
		indent = "  " + in.line[:len(in.line)-len(strings.TrimLeft(in.line, " "))]
	}
	switch e.kind {
	case "change":
		if is.isRemark() {
			is.line += " " + e.words
		} else {
			is.line = changed(is.line, e.words)
		}
	case "behind":
		is.behind = "  // " + e.words
	case "above":
		is.lead += indent + "// " + e.words + "\n"
	case "gap":
		is.gap += "\n"
	case "remove":
		in.inner = slices.Delete(in.inner, place, place+1)
	case "add":
		added := &written{id: -1, line: fmt.Sprintf("%sextra%s 1 %q", indent, strings.ReplaceAll(e.words, " ", ""), e.words)}
		if in == top {
			added = &written{id: -1, gap: "\n", line: fmt.Sprintf("shot %q {", e.words), opens: true, inner: []*written{{id: -1, line: "  scene     7"}}}
		}
		in.inner = slices.Insert(in.inner, place+1, added)
	case "move":
		in.inner = slices.Delete(in.inner, place, place+1)
		to, _ := top.find(e.to)
		in.inner = slices.Insert(in.inner, slices.Index(in.inner, to)+1, is)
	}
}

// drawEditing draws a change of a kind; ok is false where what is drawn cannot be changed so.
func drawEditing(random *rand.Rand, top *written, kind, words string) (e editing, ok bool) {
	all := top.all()
	if len(all) == 0 {
		return e, false
	}
	e = editing{kind: kind, words: words}
	if e.kind == "move" || random.IntN(3) == 0 {
		all = top.inner
	}
	is := all[random.IntN(len(all))]
	_, in := top.find(is.id)
	place := slices.Index(in.inner, is)
	e.at = is.id
	// What stands behind a remark keeps the line between them.
	follows := place > 0 && in.inner[place-1].isRemark()
	switch {
	case e.kind == "change" && is.opens && is.line == "  correction {", is.isRemark() && (e.kind == "behind" || e.kind == "above"):
		return e, false
	case is.isRemark() && e.kind == "add", e.kind == "remove" && (follows || is.isRemark()):
		return e, false
	case e.kind == "add" && random.IntN(3) == 0:
		e.at, e.in = 0, in.id
		return e, len(in.inner) == 0 || !in.inner[0].isRemark()
	case e.kind == "move":
		to := min(max(place+random.IntN(9)-4, 0), len(in.inner)-1)
		e.to = in.inner[to].id
		far := to-place >= 2 || place-to > 2
		return e, in == top && is.opens && !is.isRemark() && !follows && far && !in.inner[to].isRemark()
	}
	return e, true
}

// touches lists what a change needs to be left alone: parts of statements, and places among blocks.
func (e editing) touches(top *written) map[string]bool {
	parts := map[string]bool{}
	is, in := top.find(e.at)
	switch e.kind {
	case "add":
		if e.at == 0 {
			parts[fmt.Sprint("whole ", e.in)] = e.in != 0
			return parts
		}
		for in != nil && in.id != 0 {
			parts[fmt.Sprint("whole ", in.id)] = true
			_, in = top.find(in.id)
		}
		parts[fmt.Sprint("place ", e.at)] = true
		return parts
	case "remove":
		for _, w := range append(is.all(), is) {
			for _, part := range []string{"line", "behind", "above", "gap", "whole"} {
				parts[fmt.Sprint(part, " ", w.id)] = true
			}
		}
		parts[fmt.Sprint("place ", e.at)] = true
	case "move":
		from, to := slices.Index(in.inner, is), 0
		target, _ := top.find(e.to)
		to = slices.Index(in.inner, target)
		for i := max(0, min(from, to)-1); i <= min(max(from, to)+1, len(in.inner)-1); i++ {
			parts[fmt.Sprint("place ", in.inner[i].id)] = true
		}
		parts[fmt.Sprint("gap ", e.at)] = true
	case "change":
		parts[fmt.Sprint("line ", e.at)] = true
	default:
		parts[fmt.Sprint(e.kind, " ", e.at)] = true
	}
	for in != nil && in.id != 0 {
		parts[fmt.Sprint("inside ", in.id)] = true
		_, in = top.find(in.id)
	}
	return parts
}

// apart reports whether two changes are of different statements, so that both can be made.
func apart(top *written, a, b editing) bool {
	partsA, partsB := a.touches(top), b.touches(top)
	for part := range partsA {
		if partsB[part] && !strings.HasPrefix(part, "inside") && !(a.kind == "add" && b.kind == "add") {
			return false
		}
	}
	removes := func(e, other map[string]bool) bool {
		for part := range e {
			if id, ok := strings.CutPrefix(part, "whole "); ok && (other["inside "+id] || other["whole "+id]) {
				return true
			}
		}
		return false
	}
	return a.kind != "remove" && b.kind != "remove" || a.kind == "remove" && !removes(partsA, partsB) && (b.kind != "remove" || !removes(partsB, partsA)) ||
		b.kind == "remove" && a.kind != "remove" && !removes(partsB, partsA)
}

func mergedTexts(base, ours, theirs string) merge.Result {
	return merge.Merge(merge.Version{Name: "base", Text: base}, merge.Version{Name: "ours", Text: ours}, merge.Version{Name: "theirs", Text: theirs},
		merge.Options{Shape: shapeOfAll(), Ours: "ours", Theirs: "theirs"})
}

var mergedFiles = []string{"day.scenario", "kit.catalog", "house.rules"}

// Changes of different statements merge to the text with both of them.
func TestMergeMakesBothChanges(t *testing.T) {
	random, blocks := rand.New(rand.NewPCG(18, 4)), inventedBlocks(t)
	var top *written
	for made, tries := 0, 0; made < langtest.Cases(500); tries++ {
		if tries%20 == 0 {
			top = drawnText(t, random, blocks, mergedFiles[random.IntN(len(mergedFiles))])
		}
		a, okA := drawEditing(random, top, editings[made%len(editings)], "by us")
		b, okB := drawEditing(random, top, editings[made/len(editings)%len(editings)], "by them")
		if !okA || !okB || !apart(top, a, b) {
			continue
		}
		made++
		sides := [3]*written{top.clone(), top.clone(), top.clone()}
		a.apply(sides[0])
		b.apply(sides[1])
		// The order in which both are made matters for what comes to one place: moves are first, and
		// behind what stands still our side comes before theirs.
		both := []editing{b, a}
		slices.SortStableFunc(both, func(x, y editing) int {
			rank := map[string]int{"move": -2, "add": -1}
			return rank[x.kind] - rank[y.kind]
		})
		for _, e := range both {
			e.apply(sides[2])
		}
		base, ours, theirs, want := top.text(), sides[0].text(), sides[1].text(), sides[2].text()
		r := mergedTexts(base, ours, theirs)
		if r.Unread != nil || len(r.Conflicts) > 0 || r.Text != want {
			t.Fatalf("%+v and %+v: %v, %v (-want +got):\n%s", a, b, r.Unread, r.Conflicts, cmp.Diff(want, r.Text))
		}
		src, _ := lang.NewSource("merged", []byte(r.Text))
		if _, found := lang.Parse(src); found.HasErrors() {
			t.Fatalf("the merged text cannot be read: %v\n%s", found, r.Text)
		}
		// With other ends of lines it comes to the same.
		if made%5 == 0 {
			carriage := func(text string) string { return strings.ReplaceAll(text, "\n", "\r\n") }
			if r := mergedTexts(carriage(base), carriage(ours), carriage(theirs)); r.Text != carriage(want) {
				t.Fatalf("%+v and %+v with carriage returns (-want +got):\n%s", a, b, cmp.Diff(carriage(want), r.Text))
			}
		}
	}
}

// Where both sides change the same, a merge says so, and loses what neither of them says.
func TestMergeSaysWhereSidesContradict(t *testing.T) {
	random, blocks := rand.New(rand.NewPCG(18, 5)), inventedBlocks(t)
	kinds := []string{"change", "behind", "above", "change removed", "block removed", "move", "add"}
	var top *written
	for made, tries := 0, 0; made < langtest.Cases(500); tries++ {
		if tries%20 == 0 {
			top = drawnText(t, random, blocks, mergedFiles[random.IntN(len(mergedFiles))])
		}
		kind := kinds[made%len(kinds)]
		drawn, _, _ := strings.Cut(kind, " ")
		if kind == "block removed" {
			drawn = "change"
		}
		a, okA := drawEditing(random, top, drawn, "by us")
		if !okA {
			continue
		}
		b := a
		b.words = "by them"
		is, in := top.find(a.at)
		ours, theirs := a, b
		switch kind {
		case "change removed":
			if place := slices.Index(in.inner, is); is.isRemark() || place > 0 && in.inner[place-1].isRemark() {
				continue // else a remark would come to belong to what follows
			}
			ours.kind, ours.words = "remove", ""
		case "block removed":
			place := slices.Index(top.inner, in)
			if place < 0 || place > 0 && top.inner[place-1].isRemark() { // as above
				continue
			}
			ours = editing{kind: "remove", at: in.id}
		case "move":
			place, first := slices.Index(top.inner, is), slices.IndexFunc(top.inner, func(w *written) bool { return w.id == a.to })
			to := random.IntN(len(top.inner))
			far := func(x, y int) bool { return x-y > 1 || y-x > 1 }
			if theirs.to = top.inner[to].id; !strings.HasPrefix(is.line, "shot ") || !far(to, place) || !far(to+1, place) || !far(to, first) || top.inner[to].isRemark() {
				continue
			}
		case "add": // one statement that may stand once, in two ways
			if in == top || is == nil {
				continue
			}
		}
		if random.IntN(2) == 0 {
			ours, theirs = theirs, ours
		}
		sides := [2]*written{top.clone(), top.clone()}
		for i, e := range []editing{ours, theirs} {
			if kind == "add" {
				block, _ := sides[i].find(in.id)
				block.inner = append(block.inner, &written{id: -1, line: fmt.Sprintf("  solitary  %q", e.words)})
				continue
			}
			e.apply(sides[i])
		}
		made++
		base := top.text()
		texts := [2]string{sides[0].text(), sides[1].text()}
		r := mergedTexts(base, texts[0], texts[1])
		if r.Unread != nil || len(r.Conflicts) == 0 {
			t.Fatalf("%s, %+v and %+v: %v, no conflict in\n%s\nof\n%s", kind, ours, theirs, r.Unread, r.Text, base)
		}
		for i, side := range []editing{ours, theirs} {
			if side.kind == "move" {
				continue
			}
			if !strings.Contains(r.Text, side.words) {
				t.Fatalf("%s, %+v and %+v: what side %d says is lost\n%s", kind, ours, theirs, i, r.Text)
			}
		}
		src, _ := lang.NewSource("merged", []byte(r.Text))
		_, found := lang.Parse(src)
		if !slices.ContainsFunc(found, func(d lang.Diagnostic) bool { return d.Code == lang.UnfinishedMerge }) {
			t.Fatalf("reading it does not say that it is unfinished: %v", found)
		}
		// With the lines of one side between each pair of marks, it is the text of that side where the
		// other changed nothing else.
		for i, text := range texts {
			if got := chosen(r.Text, i); got != text {
				t.Fatalf("%s, %+v and %+v: the lines of side %d (-want +got):\n%s", kind, ours, theirs, i, cmp.Diff(text, got))
			}
		}
	}
}

// chosen keeps the lines of one side of each conflict.
func chosen(text string, side int) string {
	var b strings.Builder
	in := -1 // the side that a line is of; -1 is both
	for line := range strings.Lines(text) {
		switch {
		case strings.HasPrefix(line, "<<<<<<<"):
			in = 0
		case strings.HasPrefix(line, "======="):
			in = 1
		case strings.HasPrefix(line, ">>>>>>>"):
			in = -1
		case in < 0 || in == side:
			b.WriteString(line)
		}
	}
	return b.String()
}

// What is merged without a conflict can be read whenever both sides can: where they clash, the verb says so.
func TestMergedTextsAreRead(t *testing.T) {
	random, blocks := rand.New(rand.NewPCG(18, 6)), inventedBlocks(t)
	folder := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(folder, "config"))
	write := func(name, text string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	reads := func(path string) bool {
		var out, complaint strings.Builder
		return Main([]string{"check", path}, strings.NewReader(""), &out, &complaint) <= exitNo
	}
	merged := 0
	for made := 0; made < langtest.Cases(30); {
		choices := make([]byte, 900)
		for i := range choices {
			choices[i] = byte(random.IntN(256))
		}
		v := &inventor{bytes: choices, blocks: blocks, texts: []string{"House", "Prime 35", "4A", "Ä ✓"}}
		for name, text := range v.files() {
			write(name, text)
		}
		src, err := os.ReadFile(filepath.Join(folder, "day.scenario"))
		if err != nil {
			t.Fatal(err)
		}
		text, _ := lang.NewSource("", src)
		lines := strings.Split(lang.Tidy(text), "\n")
		side := func() string {
			edited := slices.Clone(lines)
			for range 1 + random.IntN(4) {
				revalue(random, v, edited)
			}
			return strings.Join(edited, "\n")
		}
		ours, theirs := write("ours.scenario", side()), write("theirs.scenario", side())
		if !reads(ours) || !reads(theirs) {
			continue
		}
		made++
		var out, complaint strings.Builder
		code := Main([]string{"merge", write("base.scenario", strings.Join(lines, "\n")), ours, theirs, "--path", ours}, strings.NewReader(""), &out, &complaint)
		isRead := reads(write("merged.scenario", out.String()))
		switch {
		case code == exitFine && !isRead:
			t.Fatalf("it is merged, and cannot be read:\n%s", out.String())
		case code == exitFine:
			merged++
		case strings.Contains(complaint.String(), "the sides do not go together"):
			if isRead {
				t.Fatalf("it is said not to go together, and can be read:\n%s\n%s", complaint.String(), out.String())
			}
		case code != exitNo || !strings.Contains(out.String(), "<<<<<<<"):
			t.Fatalf("it ends with %d:\n%s", code, complaint.String())
		}
	}
	if merged == 0 {
		t.Error("nothing was merged without a conflict")
	}
}

// Sides that are sound apart and not together meet in no statement, and yet the verb says so.
func TestMergeNamesWhatDoesNotGoTogether(t *testing.T) {
	const base = "use demo\nscenario \"Night\" {\n  camera \"House body A\"\n  rig \"Short sled\"\n}\nshot \"1\" {\n  subject person 1.7m\n  frame medium\n  distance 2m\n}\n" +
		"shot \"2\" {\n  subject person 1.7m\n  frame medium\n  distance 2m\n}\n"
	const lens = "lens \"A\" {\n  mount \"M\"\n  focal 20mm\n  aperture f/2..f/16\n}\n"
	const glass = "mount \"M\" {\n  flange 20mm\n}\n" + lens
	for _, test := range []struct {
		name, file, base string
		ours, theirs     [2]string // what each replaces, and by what
		want             string
	}{
		{"a shot renamed and named", "a.scenario", base, [2]string{`shot "1"`, `shot "3"`}, [2]string{`shot "2" {`, "shot \"2\" {\n  after \"1\""}, `there is no shot "1"`},
		{"two shots of one name", "a.scenario", base, [2]string{`shot "1"`, `shot "3"`}, [2]string{`shot "2"`, `shot "3"`}, `"3"`},
		{"two places of a frame", "a.scenario", base, [2]string{"  rig", "  common top\n  rig"}, [2]string{"  rig", "  deliver 2.39:1\n  anchor 0 x 0\n  rig"}, "anchor"},
		{"a mount renamed and named", "a.catalog", glass, [2]string{glass, strings.ReplaceAll(glass, `"M"`, `"N"`)}, [2]string{lens, lens + strings.Replace(lens, `"A"`, `"B"`, 1)}, `"M"`},
		{"a fact renamed and named", "a.rules", "fact aa = 1\n", [2]string{"aa", "ab"}, [2]string{"fact aa = 1\n", "fact aa = 1\ncriterion \"C\" {\n  score 0.5 + aa / 10\n}\n"}, "aa"},
	} {
		t.Run(test.name, func(t *testing.T) {
			folder := t.TempDir()
			t.Setenv("XDG_CONFIG_HOME", folder)
			var args []string
			for i, text := range []string{test.base, strings.Replace(test.base, test.ours[0], test.ours[1], 1), strings.Replace(test.base, test.theirs[0], test.theirs[1], 1)} {
				path := filepath.Join(folder, fmt.Sprint(i)+test.file)
				if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
					t.Fatal(err)
				}
				args = append(args, path)
			}
			var out, complaint strings.Builder
			if code := Main(append([]string{"merge"}, args...), strings.NewReader(""), &out, &complaint); code != exitNo || strings.Contains(out.String(), "<<<<<<<") {
				t.Fatalf("it ends with %d:\n%s\n%s", code, out.String(), complaint.String())
			}
			for _, want := range []string{test.want, "the sides do not go together"} {
				if !strings.Contains(complaint.String(), want) {
					t.Errorf("it says\n%s\nwant %q", complaint.String(), want)
				}
			}
		})
	}
}

// revalue gives one statement of a scenario another value that it may have, takes it out, or renames a shot.
func revalue(random *rand.Rand, v *inventor, lines []string) {
	at := random.IntN(len(lines))
	block := ""
	for _, line := range lines[:at] {
		if strings.HasSuffix(line, " {") {
			block, _, _ = strings.Cut(line, " ")
		}
	}
	keyword, _, _ := strings.Cut(strings.TrimSpace(lines[at]), " ")
	if keyword == "shot" {
		lines[at] = fmt.Sprintf("shot \"renamed %d\" {", random.IntN(2))
		return
	}
	values := inventedValues[block+"/"+keyword]
	if values == nil {
		values = inventedValues[keyword]
	}
	if values == nil || block == "" || strings.HasSuffix(lines[at], "{") {
		return
	}
	v.bytes = []byte{byte(random.IntN(256)), byte(random.IntN(256)), byte(random.IntN(256)), byte(random.IntN(256))}
	if random.IntN(4) == 0 {
		lines[at] = ""
		return
	}
	lines[at] = "  " + keyword + " " + v.value(values[random.IntN(len(values))])
}
