package compare

import (
	"slices"
	"strings"

	"glassbrief/engine/brief"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// A content is everything that a plan is made from, as blocks: the scenario, its shots, the
// equipment and the rules. The files that they stand in do not count, so that a lens that
// moves from one catalogue to another is no change.
type content struct {
	blocks []*block
	house  brief.House
}

// A block is a statement with a block, or one without as a block of no fields.
type block struct {
	part   part
	key    string // what it is called: `lens "Wide 18"`
	id     string // by which it is found in the other version
	title  string // of a shot
	head   string // up to its brace, as written
	means  string // the meaning of the head
	fields []field
	bare   bool   // it has no braces
	weight *field // of a statement "weight": what it would be in the block of its criterion
	origin *block // what a copy was made from
}

// A field is all statements of one keyword in a block, as several lines may be one list.
type field struct {
	keyword string
	text    string // as written, one statement on a line
	means   string
}

// A part says which text a block belongs to.
type part uint8

const (
	ofScenario part = iota
	ofCatalogue
	ofRules
)

// dropped are statements that say where things are and not what they are, or that say
// nothing of the plan.
var dropped = map[part][]string{ofScenario: {"use", "expect"}, ofRules: {"case"}}

func contentOf(parts brief.Parts) *content {
	b := &content{house: parts.House}
	b.add(ofScenario, parts.Scenario, (*content).append)
	for _, src := range parts.Catalogues {
		b.add(ofCatalogue, parse(src), (*content).under)
	}
	for _, src := range parts.Rules {
		b.add(ofRules, parse(src), (*content).over)
	}
	return b
}

func parse(src *lang.Source) *lang.File {
	file, _ := lang.Parse(src)
	return file
}

// add takes the statements of a file in, each block as put says.
func (b *content) add(of part, file *lang.File, put func(b *content, earlier map[string]*block, new *block)) {
	earlier := make(map[string]*block, len(b.blocks))
	for _, block := range b.blocks {
		if block.part == of {
			earlier[block.id] = block
		}
	}
	for _, statement := range file.Statements {
		if !slices.Contains(dropped[of], statement.Keyword.Value) {
			put(b, earlier, newBlock(of, statement))
		}
	}
}

func (b *content) append(_ map[string]*block, new *block) { b.blocks = append(b.blocks, new) }

// under lays an item under those of upper catalogues, which hold. What an "amend" block
// says is laid under line by line.
func (b *content) under(earlier map[string]*block, new *block) {
	upper := earlier[new.id]
	switch {
	case upper == nil:
		b.blocks = append(b.blocks, new)
	case strings.HasPrefix(new.key, "amend "):
		for _, f := range new.fields {
			if upper.field(f.keyword) == nil {
				upper.fields = append(upper.fields, f)
			}
		}
	}
}

// over puts a criterion in the place of an earlier one of its name. A weight that a line of its own
// states is that of the block of its criterion, since the standard rules are among the files.
func (b *content) over(earlier map[string]*block, new *block) {
	if new.weight != nil {
		if at := slices.IndexFunc(b.blocks, func(of *block) bool { return of.part == ofRules && of.id == new.id }); at >= 0 {
			b.blocks[at].set(new.weight.keyword, new.weight)
			return
		}
	}
	if old := earlier[new.id]; old != nil {
		*old = *new
		return
	}
	b.blocks = append(b.blocks, new)
}

func newBlock(of part, s *lang.Statement) *block {
	b := &block{part: of, bare: s.Block == nil}
	head := s.Keyword.Span
	bare := *s
	bare.Block = nil
	b.means = bare.Meaning()
	b.key = s.Keyword.Value
	for i, value := range s.Values {
		head = head.To(value.Span)
		if i == 0 || s.Keyword.Value == "amend" {
			b.key += " " + value.Span.Text()
		}
		if i == 1 {
			b.title = value.Span.Text()
		}
	}
	b.head = head.Text()
	if s.Keyword.Value == "scenario" {
		b.key = "scenario"
	}
	b.id = b.key
	if s.Keyword.Value == "criterion" {
		b.id = rules.Slug(b.key)
	}
	if s.Block == nil {
		b.head = s.Span.Text()
		if s.Keyword.Value == "fact" {
			b.key, _, _ = strings.Cut(b.head, "=")
			b.key = strings.TrimSpace(b.key)
			b.id = b.key
		}
		if of == ofRules && s.Keyword.Value == "weight" && len(s.Values) > 1 {
			b.id = "criterion-" + rules.Slug(s.Values[0].Span.Text())
			bare.Values = s.Values[1:]
			b.weight = &field{"weight", "weight " + s.Values[1].Span.Text(), bare.Meaning()}
		}
		return b
	}
	for _, inner := range s.Block.Statements {
		b.addField(inner)
	}
	return b
}

func (b *block) addField(s *lang.Statement) {
	keyword, text := s.Keyword.Value, s.Span.Text()
	if b.part == ofScenario && b.key == "scenario" && keyword == "rules" {
		return // what they hold counts
	}
	if f := b.field(keyword); f != nil {
		f.text += "\n" + text
		f.means += "\n" + s.Meaning()
		return
	}
	b.fields = append(b.fields, field{keyword, text, s.Meaning()})
}

func (b *block) field(keyword string) *field {
	for i := range b.fields {
		if b.fields[i].keyword == keyword {
			return &b.fields[i]
		}
	}
	return nil
}

// meaning gives a text that is equal for blocks that say the same.
func (b *block) meaning() string {
	text := b.means
	for _, f := range b.fields {
		text += "\n" + f.means
	}
	return text
}

// write gives the text of a block.
func (b *block) write(to *strings.Builder) {
	to.WriteString(b.head)
	if !b.bare {
		to.WriteString(" {\n")
		for _, f := range b.fields {
			to.WriteString(f.text + "\n")
		}
		to.WriteString("}")
	}
	to.WriteString("\n")
}

// load gives the scenario of a brief, or nil when it cannot be read, and what is found then. Its
// text is put together, so the places of findings say nothing.
func (b *content) load() (*brief.Scenario, lang.Diagnostics) {
	var texts [ofRules + 1]strings.Builder
	for _, block := range b.blocks {
		block.write(&texts[block.part])
	}
	var sources [len(texts)]*lang.Source
	for i := range texts {
		src, found := lang.NewSource("", []byte(texts[i].String()))
		if found.HasErrors() {
			return nil, found
		}
		sources[i] = src
	}
	return brief.Load(sources[ofScenario], brief.Files{
		Catalogues: sources[ofCatalogue : ofCatalogue+1], Rules: sources[ofRules : ofRules+1], House: b.house,
	})
}
