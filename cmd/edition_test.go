package cmd

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"

	"github.com/google/go-cmp/cmp"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// What edition 1 promises is written down in testdata/edition-1: files that must read, mean and be laid
// out as they are for ever, with what they give in answers.txt; and in promised.txt every word that files
// and programs rely on. With GLASSBRIEF_UPDATE=1 both grow by what is new. Nothing takes anything away or
// changes it: that breaks the promise of lang/README.md.
const editionFolder = "../testdata/edition-1"

// editionFiles lists the frozen files of the language, by their paths in the folder.
func editionFiles(t *testing.T) (paths []string) {
	t.Helper()
	err := fs.WalkDir(os.DirFS(editionFolder), ".", func(path string, _ fs.DirEntry, err error) error {
		if slices.Contains(languageExtensions, strings.TrimPrefix(filepath.Ext(path), ".")) {
			paths = append(paths, path)
		}
		return err
	})
	if err != nil || len(paths) < 12 {
		t.Fatalf("got %d frozen files: %v", len(paths), err)
	}
	return paths
}

// frozen reads a file of the folder; it may be missing while the record is begun.
func frozen(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(editionFolder, path))
	if err != nil && (os.Getenv("GLASSBRIEF_UPDATE") == "" || !os.IsNotExist(err)) {
		t.Fatal(err)
	}
	return string(text)
}

func TestEditionStaysTidy(t *testing.T) {
	for _, path := range editionFiles(t) {
		text := frozen(t, path)
		src, found := lang.NewSource(path, []byte(text))
		if found == nil {
			tidy, faults := lang.TidyChecked(src)
			if found = faults; tidy != text {
				t.Errorf("%s of edition 1 is laid out otherwise than it was (-frozen +now):\n%s", path, cmp.Diff(text, tidy))
			}
		}
		if found.HasErrors() {
			t.Errorf("%s of edition 1 is read no more: %v", path, found)
		}
	}
}

// The frozen files give what they gave, and nothing is found in them that was not found before.
func TestEditionGivesTheSameAnswers(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	recorded := map[string]string{}
	order := []string{}
	for part := range strings.SplitSeq(frozen(t, "answers.txt"), "== ") {
		if path, answer, ok := strings.Cut(part, "\n"); ok {
			order, recorded[path] = append(order, path), answer
		}
	}
	files := editionFiles(t)
	for _, path := range files {
		if filepath.Ext(path) == ".scenario" {
			files = append(files, path+ofFacts)
		}
	}
	t.Chdir(editionFolder)
	grown := false
	for _, path := range files {
		answer := editionAnswer(t, path)
		want, ok := recorded[path]
		if !ok {
			order, recorded[path], grown = append(order, path), answer, true
			if os.Getenv("GLASSBRIEF_UPDATE") == "" {
				t.Errorf("what %s gives is not recorded; GLASSBRIEF_UPDATE=1 records it for ever", path)
			}
			continue
		}
		isFinding := func(line string) bool { return strings.HasPrefix(line, "found ") }
		gone := slices.DeleteFunc(strings.Split(want, "\n"), func(line string) bool { return isFinding(line) && !strings.Contains(answer, line+"\n") })
		if diff := cmp.Diff(strings.Join(gone, "\n"), answer); diff != "" {
			t.Errorf("%s gives another answer than edition 1 promises. Make the change so that frozen files keep their answers; "+
				"lang/README.md says what may change (-frozen +now):\n%s", path, diff)
		}
	}
	for path := range recorded {
		if !slices.Contains(files, path) {
			t.Errorf("%s of edition 1 is gone", path)
		}
	}
	if grown && os.Getenv("GLASSBRIEF_UPDATE") != "" {
		var text strings.Builder
		for _, path := range order {
			fmt.Fprintf(&text, "== %s\n%s", path, recorded[path])
		}
		if err := os.WriteFile("answers.txt", []byte(text.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// editionAnswer gives what a file of the working folder is promised to give: findings, kits, set-ups and scores with the digits
// that are shown, days, and which cases hold.
func editionAnswer(t *testing.T, path string) string {
	t.Helper()
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	var found struct {
		Diagnostics []struct {
			Severity, Code, File string
			Line, Column         int
		}
	}
	if scenario, ok := strings.CutSuffix(path, ofFacts); ok {
		sayFacts(t, say, scenario)
	}
	switch filepath.Ext(path) {
	case ".scenario":
		answerOf(t, &found, "check", path)
		for _, d := range found.Diagnostics {
			say("found %s %s %s:%d:%d", d.Severity, d.Code, d.File, d.Line, d.Column)
		}
		sayKit(t, say, path)
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(text), "\n  day ") {
			sayDays(t, say, path)
		}
	case ".choices":
		answerOf(t, &found, "check", path)
		for _, d := range found.Diagnostics {
			say("found %s %s %s:%d:%d", d.Severity, d.Code, d.File, d.Line, d.Column)
		}
	case ".rules":
		var got struct {
			Cases []struct {
				Name  string
				Holds bool
			}
		}
		answerOf(t, &got, "rules", "test", path)
		for _, c := range got.Cases {
			say("case %q holds: %v", c.Name, c.Holds)
		}
	}
	return b.String()
}

// ofFacts follows the name of a scenario whose facts are meant.
const ofFacts = " facts"

// sayFacts says the value of every fact of the first shot of a scenario, with the lens that is asked about
// unless another is named.
func sayFacts(t *testing.T, say func(string, ...any), path string) {
	t.Helper()
	var plan struct{ Shots []struct{ ID string } }
	answerOf(t, &plan, "recommend", path)
	var got struct {
		Lens  struct{ Lens string }
		Facts []struct {
			Name, Scope string
			Known       bool
			Value       *float64
		}
	}
	answerOf(t, &got, "why", path, "--shot", plan.Shots[0].ID)
	say("shot %q with %q", plan.Shots[0].ID, got.Lens.Lens)
	for _, fact := range got.Facts {
		switch {
		case fact.Scope == "rules": // of the files themselves
		case fact.Value != nil:
			say("  %s %.4g", fact.Name, *fact.Value)
		case fact.Known:
			say("  %s without bound", fact.Name)
		default:
			say("  %s unknown", fact.Name)
		}
	}
}

// answerOf reads the document that a run gives.
func answerOf(t *testing.T, into any, args ...string) {
	t.Helper()
	var out, complaint strings.Builder
	if code := Main(append(args, "--as", "json"), nil, &out, &complaint); code > exitNo {
		t.Errorf("%q ends with %d: %s", args, code, complaint.String())
		return
	}
	if err := json.Unmarshal([]byte(out.String()), into); err != nil {
		t.Errorf("%q: %v", args, err)
	}
}

// sayKit says the kit of a scenario, and the set-up and score of each lens that a shot ranks.
func sayKit(t *testing.T, say func(string, ...any), path string) {
	t.Helper()
	var got struct {
		Kit struct {
			Lenses, Uncovered []string
			Score             float64
		}
		Shots []struct {
			ID, Lens, Verdict string
			Ranking           []struct {
				Lens, Adapter string
				Score         float64
				Excluded      bool
				Focal         float64 `json:"focal_mm"`
				Setup         *struct {
					Aperture  float64
					ISO       int
					Focus     *float64 `json:"focus_at_m"`
					ND        float64  `json:"nd_stops"`
					BuiltIn   float64  `json:"built_in_nd_stops"`
					Filters   []string
					Following bool
				}
			}
		}
	}
	answerOf(t, &got, "recommend", path)
	say("kit %q without %q, score %.2f", got.Kit.Lenses, got.Kit.Uncovered, got.Kit.Score)
	for _, shot := range got.Shots {
		say("shot %q by %q, %s", shot.ID, shot.Lens, shot.Verdict)
		for _, j := range shot.Ranking {
			switch {
			case j.Excluded: // of which as many are listed as there is room for
			case j.Setup == nil:
				say("  %q %.2f", j.Lens, j.Score)
			default:
				s, focus := j.Setup, "unknown"
				if s.Focus != nil {
					focus = fmt.Sprintf("%.3gm", *s.Focus)
				}
				say("  %q %.2f at %.3gmm f/%.2g, focus %s, following %v, ISO %d, ND %.2g and %.2g by %q", j.Lens, j.Score, j.Focal, s.Aperture, focus, s.Following, s.ISO, s.ND, s.BuiltIn, s.Filters)
			}
		}
	}
}

// sayDays says the plan of days of a scenario.
func sayDays(t *testing.T, say func(string, ...any), path string) {
	t.Helper()
	var got struct {
		Score float64
		Units []struct {
			Unit   string
			Lenses []string
		}
		Days []struct {
			Order []struct{ Shot, Unit, Lens, Start, End string }
		}
		Left []struct{ Shot string }
	}
	answerOf(t, &got, "days", path)
	say("days, score %.2f, left %v", got.Score, got.Left)
	for _, unit := range got.Units {
		say("  unit %q brings %q", unit.Unit, unit.Lenses)
	}
	for _, day := range got.Days {
		for _, one := range day.Order {
			say("  %s to %s %q by unit %q with %q", one.Start, one.End, one.Shot, one.Unit, one.Lens)
		}
	}
}

// Every word that files, expressions, programs and scripts rely on is written down, and none is gone.
func TestEditionKeepsItsWords(t *testing.T) {
	now := editionWords(t)
	text := frozen(t, "promised.txt")
	promised := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	for _, line := range promised {
		if !now[line] && line != "" {
			t.Errorf("edition 1 promises %q, and it is gone or changed: files and programs that rely on it would break. "+
				"Keep it, whatever comes beside it; lang/README.md says what may change", line)
		}
		delete(now, line)
	}
	if len(now) == 0 {
		return
	}
	fresh := slices.Sorted(maps.Keys(now))
	if os.Getenv("GLASSBRIEF_UPDATE") == "" {
		t.Fatalf("these words are new; GLASSBRIEF_UPDATE=1 promises them for ever:\n%s", strings.Join(fresh, "\n"))
	}
	all := slices.Sorted(slices.Values(append(promised, fresh...)))
	if err := os.WriteFile(filepath.Join(editionFolder, "promised.txt"), []byte(strings.TrimPrefix(strings.Join(all, "\n")+"\n", "\n")), 0o644); err != nil {
		t.Fatal(err)
	}
}

// editionWords gives what edition 1 promises, a line for each.
func editionWords(t *testing.T) map[string]bool {
	t.Helper()
	words := map[string]bool{}
	say := func(format string, args ...any) { words[fmt.Sprintf(format, args...)] = true }
	for key, b := range inventedBlocks(t) {
		for _, f := range b.Fields {
			say("keyword %s/%s", key, f.Keyword)
			if !f.Required {
				say("keyword %s/%s may be left out", key, f.Keyword)
			}
			if f.Repeats {
				say("keyword %s/%s may be repeated", key, f.Keyword)
			}
			for _, word := range f.Words {
				say("word %s/%s %s", key, f.Keyword, word)
			}
		}
	}
	for _, move := range brief.Moves() {
		say("word scenario/shot/move %s", move)
	}
	for _, word := range brief.FramingWords() {
		band, _ := brief.FramingBand(word)
		say("word scenario/shot/frame %s, %.3g to %.3g of the height", word, band.Low, band.High)
	}
	for _, name := range exposure.LevelNames() {
		level, _ := exposure.NamedLevel(name)
		say("word scenario/shot/light %s, %g lx", name, level.Lux)
	}
	for _, dim := range lang.Dimensions() {
		for _, name := range lang.UnitNames(dim) {
			if unit, ok := lang.FindUnit(name); ok && dim != lang.Money && dim != lang.Wage {
				say("unit %s, %s of %.12g in SI", name, dim, unit.Factor)
			} else {
				say("unit %s, %s", name, dim)
			}
		}
	}
	for _, fact := range facts.Table() {
		if fact.Truth {
			say("fact %s, yes or no", fact.Name)
		} else {
			say("fact %s, %s in %q", fact.Name, fact.Dim, fact.Unit)
		}
	}
	for _, function := range expression.Functions() {
		say("function %s", function.Signature())
	}
	for _, row := range lang.Codes() {
		say("code %s", row.Code)
	}
	for code, row := range exitCodes {
		say("exit code %d, %s", code, row.means)
	}
	for _, name := range settingNames {
		say("setting %s", name)
	}
	eachVerb(Root(), func(c *cobra.Command) {
		say("verb %s", c.CommandPath())
		c.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) { say("flag %s --%s", c.CommandPath(), f.Name) })
		c.PersistentFlags().VisitAll(func(f *pflag.Flag) { say("flag %s --%s", c.CommandPath(), f.Name) })
	})
	schemas, err := filepath.Glob("schema/*.schema.json")
	if err != nil || schemas == nil {
		t.Fatal("no schemas", err)
	}
	for _, path := range schemas {
		var schema jsonNode
		text, err := os.ReadFile(path)
		if err == nil {
			err = json.Unmarshal(text, &schema)
		}
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		name, _, _ := strings.Cut(filepath.Base(path), ".")
		say("json document %s", schema.Properties["schema"].Const)
		schema.keys("json "+name+" ", say)
	}
	return words
}

// A jsonNode is what a schema says of a value.
type jsonNode struct {
	Type       string
	Const      string
	Enum       []string
	Required   []string
	Properties map[string]jsonNode
	Items      *jsonNode
	OneOf      []jsonNode
	// Each is what the values of an object are whose keys are not fixed; false where they are.
	Each json.RawMessage `json:"additionalProperties"`
}

// is names the types that a value may have.
func (n *jsonNode) is() string {
	if n.OneOf != nil {
		var types []string
		for i := range n.OneOf {
			types = append(types, n.OneOf[i].is())
		}
		return strings.Join(types, " or ")
	}
	if n.Enum != nil {
		return strings.Join(n.Enum, " or ")
	}
	return n.Type
}

// keys says of each key below a value what it holds, and which are always there.
func (n *jsonNode) keys(path string, say func(string, ...any)) {
	for key, of := range n.Properties {
		say("%s%s: %s", path, key, of.is())
		of.keys(path+key+".", say)
	}
	for _, key := range n.Required {
		say("%s%s always", path, key)
	}
	if n.Items != nil {
		say("%s[]: %s", strings.TrimSuffix(path, "."), n.Items.is())
		n.Items.keys(strings.TrimSuffix(path, ".")+"[].", say)
	}
	for i := range n.OneOf {
		n.OneOf[i].keys(path, say)
	}
	var each jsonNode
	if json.Unmarshal(n.Each, &each) == nil {
		say("%s*: %s", path, each.is())
		each.keys(path+"*.", say)
	}
}

// The frozen files use every keyword of the language, every word that a keyword takes of a list, and every
// function, and every fact is known in one of them.
func TestEditionFilesUseEveryWord(t *testing.T) {
	used := map[string]bool{}
	var texts strings.Builder
	for _, path := range editionFiles(t) {
		text := frozen(t, path)
		texts.WriteString(text)
		src, found := lang.NewSource(path, []byte(text))
		if found != nil {
			t.Fatal(found)
		}
		kind := strings.TrimPrefix(filepath.Ext(path), ".")
		for place := range src.Tokens() {
			block := place.Block()
			if block == "amend" {
				block = place.Blocks[len(place.Blocks)-1].Values[0].Text()
			}
			switch place.Kind {
			case lang.AtKeyword:
				used["keyword "+kind+"/"+block+"/"+place.Span.Text()] = true
			case lang.AtWord:
				used["word "+kind+"/"+block+"/"+place.Keyword.Value+" "+place.Span.Text()] = true
			}
		}
	}
	for word := range editionWords(t) {
		kind, _, _ := strings.Cut(word, " ")
		switch of, _, _ := strings.Cut(word, ","); {
		case strings.HasPrefix(word, "word scenario/shot/light "), strings.Contains(word, " may be "): // a level is one word of many alike
		case kind == "keyword", kind == "word":
			if !used[of] {
				t.Errorf("no file of %s uses %q: add a file that does", editionFolder, of)
			}
		}
	}
	answers := frozen(t, "answers.txt")
	for _, fact := range facts.Table() {
		if !regexp.MustCompile(`\n  ` + fact.Name + ` [^u]`).MatchString(answers) {
			t.Errorf("no file of %s has a value for the fact %q: add a file that does", editionFolder, fact.Name)
		}
	}
	for _, function := range expression.Functions() {
		if !regexp.MustCompile(`\b` + function.Name + `\(`).MatchString(texts.String()) {
			t.Errorf("no file of %s calls %q: add a file that does", editionFolder, function.Name)
		}
	}
}
