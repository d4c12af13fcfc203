package editor

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/engine/facts"
	"glassbrief/engine/learn"
	"glassbrief/engine/rules"
	"glassbrief/lang"
	"glassbrief/lang/expression"

	"github.com/google/go-cmp/cmp"
)

// roots are the structs that whole files are decoded into, and where they are declared.
var roots = []struct{ file, folder, name string }{
	{"scenario", "../../engine/brief", "document"},
	{"catalog", "../../catalog", "file"},
	{"rules", "../../engine/rules", "document"},
	{"choices", "../../engine/learn", "document"},
}

// structs gives every type of a package's source by name, with its documentation.
func structs(t *testing.T, folder string) map[string]*ast.TypeSpec {
	t.Helper()
	all := map[string]*ast.TypeSpec{}
	entries, err := fs.Glob(os.DirFS(folder), "*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range entries {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), folder+"/"+name, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, decl := range file.Decls {
			general, ok := decl.(*ast.GenDecl)
			if !ok {
				continue
			}
			for _, spec := range general.Specs {
				if of, ok := spec.(*ast.TypeSpec); ok {
					all[of.Name.Name] = of
				}
			}
		}
	}
	return all
}

type reader struct {
	t     *testing.T
	file  string
	types map[string]*ast.TypeSpec
	found []block
}

// block reads a struct and, behind it, those of its fields that are blocks too.
func (r *reader) block(name, typeName string) {
	b := block{File: r.file, Name: name}
	var inner []func()
	for _, member := range r.types[typeName].Type.(*ast.StructType).Fields.List {
		if member.Tag == nil {
			continue
		}
		text, err := strconv.Unquote(member.Tag.Value)
		if err != nil {
			r.t.Fatal(err)
		}
		tag, ok := reflect.StructTag(text).Lookup("lang")
		if !ok || strings.HasSuffix(tag, ",span") {
			continue
		}
		f, composite := r.field(member, tag)
		if values := lang.FieldRange(tag); values != "" {
			f.Takes = strings.TrimPrefix(f.Takes+"; "+values, "; ")
		}
		if f.About == "" {
			r.t.Errorf("%s.%s has no doc comment, which is its entry in the reference", typeName, member.Names[0].Name)
		}
		if strings.Contains(tag, ",label") {
			b.Labels = append(b.Labels, f)
			continue
		}
		b.Fields = append(b.Fields, f)
		if composite != "" {
			inner = append(inner, func() { r.block(f.Keyword, composite) })
		}
	}
	r.found = append(r.found, b)
	for _, read := range inner {
		read()
	}
}

// field reads one member; composite is its type when that is a block.
func (r *reader) field(member *ast.Field, tag string) (f field, composite string) {
	options := strings.Split(tag, ",")
	f.Keyword = options[0]
	f.About = strings.Join(strings.Fields(member.Doc.Text()), " ")
	dim := ""
	for _, option := range options[1:] {
		name, argument, _ := strings.Cut(option, "=")
		switch name {
		case "required":
			f.Required = true
		case "words":
			f.Words = strings.Split(argument, "|")
		case "dim":
			dim = argument
		}
	}
	of := member.Type
	if slice, ok := of.(*ast.ArrayType); ok {
		f.Repeats, of = true, slice.Elt
	}
	var name string
	switch of := of.(type) {
	case *ast.SelectorExpr:
		f.Takes = takes(of.Sel.Name, dim, f.Words)
		return f, ""
	case *ast.Ident:
		name = of.Name
	}
	if of, ok := r.types[name].Type.(*ast.StructType); ok && hasTags(of) {
		f.Opens = true
		return f, name
	}
	return f, ""
}

// TestKindsOfFile holds what tells a file of one kind from another to what each takes.
func TestKindsOfFile(t *testing.T) {
	want := map[string][]string{}
	want["scenario"], want["catalog"], want["rules"], want["choices"] = lang.TopKeywords()
	for _, b := range readBlocks(t) {
		if b.Name != "" {
			continue
		}
		var keywords []string
		for _, f := range b.Fields[1:] { // the first says the edition, of every kind
			keywords = append(keywords, f.Keyword)
		}
		if diff := cmp.Diff(want[b.File], keywords); diff != "" {
			t.Errorf("%s: %s", b.File, diff)
		}
	}
}

// takes says what a type of package lang reads.
func takes(typeName, dim string, words []string) string {
	quantity := map[string]string{
		"plain": "a number or share", "length": "a length", "mass": "a mass", "time": "a time", "angle": "an angle",
		"illuminance": "an amount of light", "stops": "a number of stops", "aperture": "an f-number or T-number",
		"money": "an amount of money", "speed": "a speed", "angular-speed": "a speed of turning", "rate": "a rate",
		"inertia": "a moment of inertia", "moment": "a moment of mass",
	}[dim]
	switch typeName {
	case "Text":
		return "a quoted text"
	case "Word":
		if len(words) > 0 {
			return strings.Join(words, ", ")
		}
		return "a word"
	case "Quantity":
		return quantity
	case "Interval":
		return quantity + ", or an interval"
	case "Size":
		return "a size, width x height"
	case "Ratio":
		return "a ratio, as 2.39:1"
	case "List":
		return quantity + ", or several with commas or \"or\" between"
	case "Flag":
		return "nothing"
	case "Expression":
		return "an expression, and because with a reason if it needs one"
	}
	panic("no type " + typeName)
}

func hasTags(of *ast.StructType) bool {
	for _, member := range of.Fields.List {
		if member.Tag != nil && strings.Contains(member.Tag.Value, "lang:") {
			return true
		}
	}
	return false
}

// readBlocks reads every block of the language from the source of its structs.
func readBlocks(t *testing.T) []block {
	t.Helper()
	var all []block
	for _, root := range roots {
		r := &reader{t: t, file: root.file, types: structs(t, root.folder)}
		r.block("", root.name)
		top := &r.found[0]
		top.Fields = slices.Insert(top.Fields, 0, field{Keyword: lang.EditionKeyword, Takes: "a whole number", About: lang.EditionMeaning})
		all = append(all, r.found...)
	}
	return all
}

// committed compares a committed file with what it must be. With GLASSBRIEF_UPDATE=1 it
// is rewritten.
func committed(t *testing.T, path string, want []byte) {
	t.Helper()
	if os.Getenv("GLASSBRIEF_UPDATE") != "" {
		if err := os.WriteFile(path, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s is not current; GLASSBRIEF_UPDATE=1 go test ./cmd/editor makes it so (-want +got):\n%s", path, diff)
	}
}

func TestBlocksAreCurrent(t *testing.T) {
	var text bytes.Buffer
	fmt.Fprint(&text, "[")
	for i, b := range readBlocks(t) {
		line, err := json.MarshalIndent(b, "  ", "  ")
		if err != nil {
			t.Fatal(err)
		}
		if i > 0 {
			fmt.Fprint(&text, ",")
		}
		fmt.Fprintf(&text, "\n  %s", line)
	}
	fmt.Fprint(&text, "\n]\n")
	committed(t, "blocks.json", text.Bytes())
}

const referencePath = "../../lang/README.md"

var (
	generatedPart = regexp.MustCompile(`(?s)(<!-- generated: ([a-z ]+) -->\n).*?(<!-- end -->)`)
	examplePart   = regexp.MustCompile("(?s)```(scenario|catalog|rules|choices|fountain)\n(.*?)```")
)

func TestReferenceIsCurrent(t *testing.T) {
	text, err := os.ReadFile(referencePath)
	if err != nil {
		t.Fatal(err)
	}
	parts := 0
	want := generatedPart.ReplaceAllFunc(text, func(part []byte) []byte {
		parts++
		match := generatedPart.FindSubmatch(part)
		return fmt.Appendf(nil, "%s\n%s\n%s", match[1], referencePiece(t, string(match[2])), match[3])
	})
	if parts != 11 {
		t.Errorf("the reference has %d generated parts, want 11", parts)
	}
	committed(t, referencePath, want)
}

// referencePiece writes one generated part.
func referencePiece(t *testing.T, name string) string {
	t.Helper()
	if file, ok := strings.CutPrefix(name, "fields "); ok {
		return fieldTables(t, file)
	}
	if name == "moves" {
		return "`" + strings.Join(brief.Moves(), "`, `") + "`\n"
	}
	g := map[string]func() [][]string{
		"units": unitRows, "framing": framingRows, "levels": levelRows,
		"functions": functionRows, "facts": factRows, "codes": codeRows,
	}[name]
	if g == nil {
		t.Fatalf("there is no generated part %q", name)
	}
	return markdownTable(g())
}

// markdownTable writes rows, the first of which holds the titles.
func markdownTable(rows [][]string) string {
	var b strings.Builder
	for i, row := range rows {
		for j := range row {
			row[j] = strings.ReplaceAll(row[j], "|", `\|`)
		}
		fmt.Fprintf(&b, "| %s |\n", strings.Join(row, " | "))
		if i == 0 {
			fmt.Fprintf(&b, "|%s\n", strings.Repeat(" --- |", len(row)))
		}
	}
	return b.String()
}

func fieldTables(t *testing.T, file string) string {
	var b strings.Builder
	for _, block := range readBlocks(t) {
		if block.File != file {
			continue
		}
		title := "At the top"
		if block.Name != "" {
			title = fmt.Sprintf("In `%s`", block.Name)
			for i, label := range block.Labels {
				title += map[bool]string{true: ", behind which stands ", false: ", then "}[i == 0]
				title += fmt.Sprintf("%s (%s)", label.Takes, strings.ToLower(label.About[:1])+strings.TrimSuffix(label.About[1:], "."))
			}
		}
		if len(block.Fields) == 0 {
			b.WriteString(title + ".\n\n")
			continue
		}
		b.WriteString(title + ":\n\n")
		rows := [][]string{{"keyword", "takes", "meaning"}}
		for _, f := range block.Fields {
			about := f.About
			if f.Required {
				about += " Required."
			}
			if f.Repeats {
				about += " May be repeated."
			}
			takes := f.Takes
			if f.Opens {
				takes = "a block"
			}
			rows = append(rows, []string{"`" + f.Keyword + "`", takes, about})
		}
		b.WriteString(markdownTable(rows) + "\n")
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func unitRows() [][]string {
	rows := [][]string{{"measures", "units"}}
	for _, dim := range lang.Dimensions() {
		rows = append(rows, []string{dim.String(), "`" + strings.Join(lang.UnitNames(dim), "` `") + "`"})
	}
	return rows
}

func framingRows() [][]string {
	rows := [][]string{{"word", "the subject is, against the height of the frame"}}
	for _, word := range brief.FramingWords() {
		band, _ := brief.FramingBand(word)
		rows = append(rows, []string{"`" + word + "`", fmt.Sprintf("%.0f%% to %.0f%%", band.Low*100, band.High*100)})
	}
	return rows
}

func levelRows() [][]string {
	rows := [][]string{{"word", "light", "source"}}
	for _, name := range exposure.LevelNames() {
		level, _ := exposure.NamedLevel(name)
		rows = append(rows, []string{"`" + name + "`", lang.Printer{}.Quantity(level.Lux, "lx"), level.Source})
	}
	return rows
}

func functionRows() [][]string {
	rows := [][]string{{"call", "gives"}}
	for _, function := range expression.Functions() {
		rows = append(rows, []string{"`" + function.Signature() + "`", function.Meaning})
	}
	return rows
}

func factRows() [][]string {
	rows := [][]string{{"fact", "kind", "meaning", "formula"}}
	for _, fact := range facts.Table() {
		kind := "yes or no"
		if !fact.Truth {
			kind = fact.Dim.String()
		}
		formula := ""
		if fact.Formula != "" {
			formula = "`" + fact.Formula + "`"
		}
		rows = append(rows, []string{"`" + fact.Name + "`", kind, fact.Meaning, formula})
	}
	return rows
}

func codeRows() [][]string {
	rows := [][]string{{"code", "meaning"}}
	for _, code := range lang.Codes() {
		rows = append(rows, []string{"`" + string(code.Code) + "`", code.Meaning})
	}
	return rows
}

// The examples of the reference are right: they are tidy, and can be read as what they
// are an example of.
func TestExamplesOfTheReference(t *testing.T) {
	text, err := os.ReadFile(referencePath)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, match := range examplePart.FindAllStringSubmatch(string(text), -1) {
		kind, example := match[1], match[2]
		seen[kind] = true
		src, found := lang.NewSource(kind, []byte(example))
		if found.HasErrors() {
			t.Fatal(found)
		}
		switch kind {
		case "scenario":
			_, found = brief.Load(src, brief.Files{})
		case "catalog":
			_, found = catalog.Load(src)
		case "rules":
			var set *rules.Set
			set, found = rules.Load(facts.Vocabulary(), rules.StandardSource(), src)
			for _, c := range set.Cases() {
				found = append(found, set.Test(&c)...)
			}
		case "choices":
			_, found = learn.Read(src)
		case "fountain":
			if len(lang.Scenes(src)) == 0 {
				t.Errorf("the example has no scene:\n%s", example)
			}
			continue
		}
		for _, d := range found {
			t.Errorf("an example of %s: %v", kind, d)
		}
		if tidy, _ := lang.TidyChecked(src); squeezed(tidy) != squeezed(example) {
			t.Errorf("an example of %s is not tidy; it would be:\n%s", kind, tidy)
		}
	}
	for _, kind := range []string{"scenario", "catalog", "rules", "choices", "fountain"} {
		if !seen[kind] {
			t.Errorf("there is no example of %s", kind)
		}
	}
}

// squeezed takes out what the examples may have otherwise: comments in a column.
func squeezed(text string) string {
	return regexp.MustCompile(` +//`).ReplaceAllString(text, "  //")
}
