package lang

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"glassbrief/lang/langtest"

	"github.com/alecthomas/participle/v2/lexer"
)

// An editor colours texts with one of the files under editors/.
type editor struct {
	name string
	// classes gives what the editor calls each kind of token.
	classes map[string]string
	// colour gives the classes at each byte of each line of a file, or skips the test.
	colour func(t *testing.T, file string) [][]string
}

var editors = []editor{
	{"TextMate", map[string]string{
		"comment": "comment.line", "text": "string.quoted", "quantity": "constant.numeric", "keyword": "keyword.other",
		"word": "constant.other.word", "operator": "keyword.operator", "brace": "punctuation.section", "because": "keyword.control",
		"expression": "meta.expression",
	}, colourTextMate},
	{"vim", map[string]string{
		"comment": "glassbriefComment", "text": "glassbriefText", "quantity": "glassbriefNumber", "keyword": "glassbriefKeyword",
		"word": "glassbriefWord", "operator": "glassbriefOperator", "brace": "glassbriefBrace", "because": "glassbriefBecause",
		"expression": "glassbriefExpression",
	}, colourVim},
}

func colourTextMate(t *testing.T, file string) [][]string {
	if os.Getenv("NODE_PATH") == "" {
		langtest.Lacking(t, "a folder in NODE_PATH with the packages vscode-textmate and vscode-oniguruma")
	}
	var tokens [][][3]any // start, end, scopes
	decode(t, exec.Command("node", "../testdata/editors/textmate.js", "editors/glassbrief.tmLanguage.json", file), &tokens)
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var lines [][]string
	for number, line := range strings.Split(string(text), "\n") {
		var units []string // the scopes of each UTF-16 unit
		for _, token := range tokens[number] {
			for len(units) < int(token[1].(float64)) {
				units = append(units, token[2].(string))
			}
		}
		var columns []string
		unit := 0
		for _, c := range line {
			for range len(string(c)) {
				columns = append(columns, units[unit])
			}
			unit += utf16.RuneLen(c)
		}
		lines = append(lines, columns)
	}
	return lines
}

func colourVim(t *testing.T, file string) [][]string {
	if _, err := exec.LookPath("nvim"); err != nil {
		langtest.Lacking(t, "Neovim")
	}
	driver := exec.Command("nvim", "--headless", "-u", "NONE", "-n", "--cmd", "set rtp^=editors/vim", "--cmd", "filetype plugin on",
		"--cmd", "syntax on", file, "-c", "luafile ../testdata/editors/vim.lua")
	var answer struct {
		Filetype string
		Lines    []json.RawMessage
	}
	decode(t, driver, &answer)
	if answer.Filetype != "glassbrief" {
		t.Fatalf("%s is taken for %q", file, answer.Filetype)
	}
	lines := make([][]string, len(answer.Lines))
	for i, line := range answer.Lines {
		if string(line) == "{}" {
			continue // an empty line
		}
		if err := json.Unmarshal(line, &lines[i]); err != nil {
			t.Fatal(err)
		}
	}
	return lines
}

func decode(t *testing.T, driver *exec.Cmd, to any) {
	t.Helper()
	output, err := driver.Output()
	if err != nil {
		t.Fatalf("%v: %v", driver.Args, err)
	}
	if err := json.Unmarshal(output, to); err != nil {
		t.Fatalf("%v: %v\n%s", driver.Args, err, output)
	}
}

// Every editor gives every token of every file the class that our own lexer gives it.
func TestEditorsColourEveryText(t *testing.T) {
	var files []string
	for _, pattern := range []string{"../scenarios/*.scenario", "../scenarios/*.catalog", "../scenarios/*.rules", "../scenarios/*.choices", "../catalog/*.catalog", "../engine/rules/*.rules", "../testdata/rules/*.rules", "../testdata/editors/*.scenario",
		"../testdata/audit/*.scenario", "../testdata/schema/*.scenario"} {
		found, err := filepath.Glob(pattern)
		if err != nil || found == nil {
			t.Fatalf("no file %s (%v)", pattern, err)
		}
		files = append(files, found...)
	}
	// The editors read these; go test must see them change.
	for _, file := range []string{"editors/glassbrief.tmLanguage.json", "editors/vim/syntax/glassbrief.vim", "editors/vim/ftdetect/glassbrief.vim",
		"../testdata/editors/textmate.js", "../testdata/editors/vim.lua"} {
		if _, err := os.ReadFile(file); err != nil {
			t.Fatal(err)
		}
	}
	for _, e := range editors {
		for _, file := range files {
			t.Run(e.name+"/"+filepath.Base(file), func(t *testing.T) { checkColours(t, e, file) })
		}
	}
}

func checkColours(t *testing.T, e editor, file string) {
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	src, ds := NewSource(file, text)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	lines := e.colour(t, file)
	wrong := 0
	check := func(span Span, kind string) {
		for _, offset := range []int{span.Start, span.End - 1} {
			line := src.Position(offset).Line
			_, start := src.Line(line)
			if got := lines[line-1][offset-start]; !strings.Contains(got, e.classes[kind]) && wrong < 20 {
				wrong++
				t.Errorf("%s:%d: %q is %q, want %s", file, line, span.Text(), got, e.classes[kind])
			}
		}
	}
	scan := &scanner{text: src.Text, fresh: true}
	for {
		fresh := scan.fresh
		token, _ := scan.Next()
		span := Span{Source: src, Start: token.Pos.Offset, End: token.Pos.Offset + len(token.Value)}
		switch token.Type {
		case lexer.EOF:
			return
		case tokenWord:
			if fresh {
				check(span, "keyword")
			} else {
				check(span, "word")
			}
		case tokenExpression:
			at := span.Start
			for line := range strings.Lines(token.Value) {
				inner := strings.TrimSpace(line)
				start := at + strings.Index(line, inner)
				check(Span{Source: src, Start: start, End: start + len(inner)}, "expression")
				at += len(line)
			}
		case tokenComment:
			check(span, "comment")
		case tokenText:
			check(span, "text")
		case tokenQuantity:
			check(span, "quantity")
		case tokenDots, tokenTimes, tokenColon, tokenAssign:
			check(span, "operator")
		case tokenOpen, tokenClose:
			check(span, "brace")
		case tokenBecause:
			check(span, "because")
		}
	}
}

// The file that the editors are tried on names every unit of the table.
func TestEditorsKnowEveryUnit(t *testing.T) {
	text, err := os.ReadFile("../testdata/editors/every.scenario")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range units {
		for _, name := range append([]string{row.unit.Name}, row.aliases...) {
			if !strings.Contains(string(text), " 3"+name+"\n") {
				t.Errorf("testdata/editors/every.scenario lacks a line that ends in 3%s", name)
			}
		}
	}
}
