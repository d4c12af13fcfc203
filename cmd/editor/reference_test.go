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
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// roots are the structs that whole files are decoded into, and where they are declared.
var roots = []struct{ file, folder, name string }{
	{"scenario", "../../engine", "document"},
	{"catalog", "../../catalog", "file"},
	{"rules", "../../engine/rules", "document"},
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
