package cmd

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode"
	"unicode/utf8"

	"glassbrief/engine/framelist"
	"glassbrief/lang"

	validator "github.com/santhosh-tekuri/jsonschema/v6"
)

// compiledSchema gives a schema of the folder schema, by its name.
var compiledSchema = func() func(t testing.TB, name string) *validator.Schema {
	var mutex sync.Mutex
	compiled := map[string]*validator.Schema{}
	return func(t testing.TB, name string) *validator.Schema {
		t.Helper()
		mutex.Lock()
		defer mutex.Unlock()
		if s := compiled[name]; s != nil {
			return s
		}
		path := filepath.Join("schema", name+".schema.json")
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		document, err := validator.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		compiler := validator.NewCompiler()
		if err := compiler.AddResource(path, document); err != nil {
			t.Fatal(err)
		}
		if compiled[name], err = compiler.Compile(path); err != nil {
			t.Fatal(err)
		}
		return compiled[name]
	}
}()

// ofItsSchema holds a document to the schema that it names.
func ofItsSchema(t testing.TB, document []byte) {
	t.Helper()
	var header struct{ Schema string }
	if err := json.Unmarshal(document, &header); err != nil {
		t.Errorf("no JSON: %v\n%s", err, document)
		return
	}
	name := strings.TrimSuffix(strings.TrimPrefix(header.Schema, "glassbrief/"), "/1")
	value, err := validator.UnmarshalJSON(bytes.NewReader(document))
	if err == nil {
		err = compiledSchema(t, name).Validate(value)
	}
	if err != nil {
		t.Errorf("not as its schema says: %v\n%s", err, document)
	}
}

// soundRun runs the command and holds what comes out to what every run promises: a code that the help
// lists and no fault of the program, findings beside a refusal, nothing that steers a terminal, and
// the form that was asked for.
func soundRun(t testing.TB, form string, args ...string) (code int, out string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	args = append(slices.Clone(args), "--as", form)
	code = Main(args, strings.NewReader(""), &stdout, &stderr)
	out, said := stdout.String(), stderr.String()
	if code != exitFine && code != exitNo && code != exitBadInput {
		t.Errorf("%q ends with %d: %s", args, code, said)
	}
	if code == exitBadInput && said == "" && out == "" {
		t.Errorf("%q refuses without a word", args)
	}
	for name, text := range map[string]string{"output": out, "complaint": said} {
		if !utf8.ValidString(text) {
			t.Errorf("%q: the %s is no UTF-8", args, name)
		}
		steers := func(c rune) bool { return lang.Steers(c) && c != '\n' }
		if form == "html" || form == "svg" {
			steers = func(c rune) bool { return unicode.IsControl(c) && c != '\n' && c != '\t' } // a page isolates what turns the writing
		}
		if form == "ics" {
			text = strings.ReplaceAll(text, "\r\n", "\n") // as its lines must end
		}
		if at := strings.IndexFunc(text, steers); at >= 0 {
			t.Errorf("%q: the %s lets a character out that steers a terminal: %q", args, name, text[max(0, at-40):min(len(text), at+40)])
		}
	}
	if form == "json" && said != "" {
		documents := json.NewDecoder(strings.NewReader(said))
		for {
			var one json.RawMessage
			if err := documents.Decode(&one); err == io.EOF {
				break
			} else if err != nil {
				t.Errorf("%q: the complaint is no JSON: %v\n%s", args, err, said)
				break
			}
			ofItsSchema(t, one)
		}
	}
	if out == "" {
		return code, out
	}
	switch form {
	case "json":
		ofItsSchema(t, stdout.Bytes())
	case "csv":
		rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
		if err != nil {
			t.Errorf("%q: no CSV: %v\n%s", args, err, out)
		}
		for _, row := range rows {
			for _, cell := range row {
				if cell != "" && strings.ContainsRune("=+@\t", rune(cell[0])) {
					t.Errorf("%q: the cell %q is a formula", args, cell)
				}
			}
		}
	case "markdown":
		for _, mark := range []string{"<b>", "](https:", "https://a", " www.a.b", "x@a.b", "<script"} {
			if strings.Contains(out, mark) {
				t.Errorf("%q: a name is mark-up: %s", args, mark)
			}
		}
	case "html", "svg":
		for _, mark := range []string{"<b>[x]", `href="http`, "</script><script>"} {
			if strings.Contains(out, mark) {
				t.Errorf("%q: a name is mark-up: %s", args, mark)
			}
		}
		if form == "svg" {
			drawing := xml.NewDecoder(strings.NewReader(out))
			for {
				if _, err := drawing.Token(); err == io.EOF {
					break
				} else if err != nil {
					t.Errorf("%q: no XML: %v\n%s", args, err, out)
					break
				}
			}
		}
	case "fdl":
		if list, faults := framelist.Read(stdout.Bytes()); list == nil {
			t.Errorf("%q: no Framing Decision List: %v\n%s", args, faults, out)
		}
	}
	return code, out
}

// fuzzedVerbs are the runs that the fuzzer chooses from, in the folder of the files.
var fuzzedVerbs = [][]string{
	{"recommend", "day.scenario"}, {"cards", "day.scenario"}, {"audit", "day.scenario"}, {"compare", "day.scenario", "later.scenario"}, {"tidy", "day.scenario"},
	{"recommend", "day.scenario", "--full", "--units", "imperial"}, {"cards", "day.scenario", "--full"}, {"audit", "day.scenario", "--owned-only"}, {"tidy", "kit.catalog"},
	{"recommend", "day.scenario", "--nearby", "5"}, {"check", "day.scenario"}, {"catalog", "doctor", "day.scenario"}, {"framing", "day.scenario"}, {"tidy", "house.rules"},
	{"why", "day.scenario", "--shot", "4A"}, {"rules", "show", "day.scenario"}, {"rules", "test", "house.rules"}, {"catalog", "list", "--catalog", "kit.catalog"}, {"tidy", "house.rules", "--diff"},
	{"catalog", "export", "--catalog", "kit.catalog"}, {"rules", "learn", "day.choices"}, {"check", "day.choices"},
	{"merge", "day.scenario", "later.scenario", "house.rules"}, {"compare", "day.scenario", "later.scenario", "day.scenario"}, {"merge", "kit.catalog", "day.scenario", "later.scenario"},
	{"compare", "day.choices", "day.choices"},
}

// FuzzRuns makes a scenario, its catalogue, its rules, its script and its list of frames from bytes,
// and runs a verb on them in a form that the bytes choose too.
func FuzzRuns(f *testing.F) {
	folder := f.TempDir()
	f.Setenv("XDG_CONFIG_HOME", filepath.Join(folder, "config"))
	blocks := inventedBlocks(f)
	random := rand.New(rand.NewPCG(17, 4))
	for run := range fuzzedVerbs {
		for form := run % 3; form < len(forms); form += 3 {
			rest := make([]byte, 100+random.IntN(500))
			for i := range rest {
				rest[i] = byte(random.IntN(256))
			}
			f.Add(append([]byte{byte(run), byte(form), 0}, rest...))
		}
	}
	f.Fuzz(func(t *testing.T, choices []byte) {
		v := &inventor{bytes: choices, blocks: blocks, texts: inventedTexts}
		args, form := slices.Clone(fuzzedVerbs[v.pick(len(fuzzedVerbs))]), forms[v.pick(len(forms))]
		damage := v.pick(8) == 7
		if v.pick(16) == 15 {
			v.texts = append(steeringTexts, inventedTexts...)
		}
		files := v.files()
		edition := [...]string{"", "", "", "glassbrief 1\n", "glassbrief 2\n"}[v.pick(5)]
		for name, text := range files {
			if slices.Contains(languageExtensions, strings.TrimPrefix(filepath.Ext(name), ".")) {
				text = edition + text
			}
			if damage && name != "unit.fdl" {
				text = v.damaged(text)
			}
			if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		for i, arg := range args {
			if filepath.Ext(arg) != "" {
				args[i] = filepath.Join(folder, arg)
			}
		}
		code, out := soundRun(t, form, args...)
		if args[0] == "tidy" && len(args) == 2 && code == exitFine && form == "text" {
			if err := os.WriteFile(args[1], []byte(out), 0o600); err != nil {
				t.Fatal(err)
			}
			if _, again := soundRun(t, form, args...); again != out {
				t.Errorf("tidied twice it is\n%s\nand once\n%s", again, out)
			}
		}
	})
}

// damaged changes a text in one place, so that it may no longer be read.
func (v *inventor) damaged(text string) string {
	at := (v.pick(256)*256 + v.pick(256)) % (len(text) + 1)
	with := []string{"", "{", "}", "\"", "0", "9999999", "-", "\n", "//", "..", "\x00", "\u202e", "because ", "x "}[v.pick(14)]
	return text[:at] + with + text[min(len(text), at+v.pick(4)):]
}
