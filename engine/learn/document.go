package learn

import (
	"fmt"
	"path"
	"reflect"
	"strings"

	"glassbrief/lang"
)

// document is what a .choices file says, as the decoder finds it. Each field's comment is its
// entry in the language reference.
type document struct {
	// The lenses that somebody took in the shots of one scenario.
	Choices []choicesBlock `lang:"choices"`
}

// Shape says how statements may stand in a file of choices.
func Shape() lang.Shape { return lang.ShapeOf(reflect.TypeFor[document]()) }

// choicesBlock is the choices in one scenario.
type choicesBlock struct {
	// The scenario, by path from the folder of this file.
	Scenario lang.Text `lang:",label"`
	// A lens that was taken in a shot, as "chose "Wide 24" in shot "4A"", out of all that can do
	// it; or as "chose "Wide 24" over "Wide 14" in shot "4A"", out of those that are named. It says
	// what somebody likes, and never overrules a veto: a lens that is out stays out.
	Chose []choseLine `lang:"chose"`
}

// choseLine is one "chose" statement.
type choseLine struct {
	Lens lang.Text
	Over []lang.Text
	Shot lang.Text
}

// DecodeArgs reads "lens [over lens…] in shot shot".
func (c *choseLine) DecodeArgs(args *lang.Args) {
	c.Lens = args.Text()
	if args.Word("in", "over").Value == "over" {
		c.Over = append(c.Over, args.Text())
		for args.Skip("or") {
			c.Over = append(c.Over, args.Text())
		}
		args.Word("in", "or")
	}
	args.Word("shot")
	c.Shot = args.Text()
}

// Said is a choice as a file states it.
type Said struct {
	Lens lang.Text
	Over []lang.Text // nil for all others
	Shot lang.Text
}

// String writes the statement as a file has it.
func (s Said) String() string { return keyword + " " + s.values() }

func (s Said) values() string { return s.Taken() + " in shot " + lang.Quote(s.Shot.Value) }

// Taken writes which lens was taken over which, as a file has it.
func (s Said) Taken() string {
	var b strings.Builder
	b.WriteString(lang.Quote(s.Lens.Value))
	for i, lens := range s.Over {
		b.WriteString([]string{" over ", " or "}[min(i, 1)] + lang.Quote(lens.Value))
	}
	return b.String()
}

// keyword begins a statement of a choice.
const keyword = "chose"

// A Group is the choices of a file in one scenario.
type Group struct {
	Scenario lang.Text // as the file has it
	Path     string    // from the folder of the file, cleaned, with slashes; "" where it is faulty
	Said     []Said
}

// Read reads a .choices file. With errors the groups are those that could be read.
func Read(src *lang.Source) ([]Group, lang.Diagnostics) {
	file, found := lang.Parse(src)
	var doc document
	found = append(found, lang.Decode(file, &doc)...)
	var groups []Group
	first := map[[2]string]lang.Span{} // of each statement, by scenario
	for _, block := range doc.Choices {
		group := Group{Scenario: block.Scenario, Path: PathOf(block.Scenario.Value)}
		if group.Path == "" && block.Scenario.Span.Known() {
			found.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.OutsideTree, Span: block.Scenario.Span,
				Summary: fmt.Sprintf("%q lies outside the folder of the choices", block.Scenario.Value),
				Detail:  "Put the file of choices beside the scenario, or in a folder above it.",
			})
		}
		for _, line := range block.Chose {
			said := Said(line)
			if !said.Shot.Span.Known() {
				continue // already reported
			}
			key := [2]string{group.Path, said.String()}
			if earlier, twice := first[key]; twice {
				found.Add(lang.Diagnostic{
					Severity: lang.Error, Code: lang.DuplicateName, Span: said.Lens.Span,
					Summary: "the same choice stands twice", Detail: "Take one of the two out: it would count twice.",
					Related: []lang.Related{{Span: earlier, Note: "it stands here first"}},
				})
				continue
			}
			first[key] = said.Lens.Span
			group.Said = append(group.Said, said)
		}
		groups = append(groups, group)
	}
	return groups, found.Sorted()
}

// PathOf cleans the path of a scenario in a file of choices. It is "" for one that leads out of the
// folder of the file.
func PathOf(scenario string) string {
	cleaned := path.Clean(strings.ReplaceAll(scenario, `\`, "/"))
	if scenario == "" || cleaned == ".." || strings.HasPrefix(cleaned, "../") || path.IsAbs(cleaned) || strings.Contains(cleaned, ":") {
		return ""
	}
	return cleaned
}

// Add gives the text of a file of choices with one more in it, at the end of the block of its scenario,
// or of the file. All else stays as it is. src is nil for a file that does not exist. It reports faults of
// the text, and added is false where the choice stands there already.
func Add(src *lang.Source, scenario string, said Said) (text string, added bool, found lang.Diagnostics) {
	line := lang.Line{Keyword: keyword, Value: said.values()}
	whole, _ := lang.Compose([]lang.Line{{Keyword: "choices", Value: lang.Quote(scenario), Block: []lang.Line{line}}})
	if src == nil || strings.TrimSpace(src.Text) == "" {
		return whole, true, nil
	}
	groups, found := Read(src)
	if found.HasErrors() {
		return src.Text, false, found
	}
	file, _ := lang.Parse(src)
	var blocks []*lang.Block
	for i, group := range groups {
		if group.Path != PathOf(scenario) {
			continue
		}
		blocks = append(blocks, file.Statements[i].Block)
		for _, other := range group.Said {
			if other.String() == said.String() {
				return src.Text, false, nil
			}
		}
	}
	edits := lang.Edits{Source: src}
	if edits.Set(blocks, nil, line, func(*lang.Statement) bool { return false }) {
		text, _ = edits.Text()
		return text, true, nil
	}
	return strings.TrimRight(src.Text, "\n") + "\n\n" + whole, true, nil
}
