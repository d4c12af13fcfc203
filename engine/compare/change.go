package compare

import (
	"slices"
	"strings"
)

// A Kind says what became of a part of the brief.
type Kind uint8

const (
	Changed   Kind = iota + 1 // a field says something else
	Added                     // a field or block is new
	Removed                   // a field or block is gone
	Renamed                   // a block goes by another name or title
	Reordered                 // the shots come in another order
)

// String names the kind.
func (k Kind) String() string {
	return [...]string{"invalid", "changed", "added", "removed", "renamed", "reordered"}[k]
}

// An Edit is one thing that the new brief says otherwise.
type Edit struct {
	Kind Kind
	// Block is what is changed, as the new brief names it, or the old one when it is gone:
	// `shot "4A"`, `lens "Wide 18"`, `criterion "light"`, "scenario". It is "" when the shots
	// are reordered.
	Block string
	Field string // keyword of the line; "" when the whole block is meant
	// Old and New are what stands there, as written but for layout: the values of a line,
	// the names of a block. Either is "" when there is nothing.
	Old, New string

	at    target
	means string // what New means; "" for what is gone
	apply func(*content)
}

// A target is what an edit changes: a block of the old brief, or one that is new, and the field of it.
type target struct {
	block *block // of the old brief; nil for a new one
	part  part
	id    string // of a new one
	field string // the keyword, "head" for what a block is called, "order" of the shots; "" for a whole block
}

// pairing matches the blocks of two briefs.
type pairing struct {
	old, new  *content
	partner   map[*block]*block // the old block of each new one that has one
	successor map[*block]*block // the new block of each old one that has one
}

// pair matches blocks by name; shots that are left are matched by their titles.
func pair(old, new *content) *pairing {
	p := &pairing{old: old, new: new, partner: map[*block]*block{}, successor: map[*block]*block{}}
	type name struct {
		part part
		id   string
	}
	byName := map[name]*block{}
	for _, b := range old.blocks {
		byName[name{b.part, b.id}] = b
	}
	for _, b := range new.blocks {
		if other := byName[name{b.part, b.id}]; other != nil {
			p.match(b, other)
		}
	}
	titles := map[string][]*block{} // of the old shots that are left
	for _, b := range old.blocks {
		if b.title != "" && b.isShot() && p.successor[b] == nil {
			titles[b.title] = append(titles[b.title], b)
		}
	}
	for _, b := range new.blocks {
		if left := titles[b.title]; p.partner[b] == nil && b.isShot() && len(left) == 1 && p.successor[left[0]] == nil {
			p.match(b, left[0])
		}
	}
	return p
}

func (p *pairing) match(new, old *block) { p.partner[new], p.successor[old] = old, new }

func (b *block) isShot() bool { return b.part == ofScenario && strings.HasPrefix(b.key, "shot ") }

// changes lists what the new brief says otherwise: the scenario and its shots first, then
// equipment, then rules.
func (p *pairing) changes() []Edit {
	var all []Edit
	for _, b := range p.new.blocks {
		old := p.partner[b]
		if old == nil {
			all = append(all, p.added(b))
			continue
		}
		all = append(all, between(old, b)...)
	}
	for _, b := range p.old.blocks {
		if p.successor[b] == nil {
			all = append(all, removed(b))
		}
	}
	if reordered, ok := p.order(); ok {
		all = append(all, reordered)
	}
	return all
}

// between lists what a block says otherwise.
func between(old, new *block) []Edit {
	var all []Edit
	if old.means != new.means {
		c := Edit{Kind: Renamed, Block: new.key, Old: afterWord(old.head), New: afterWord(new.head), at: target{block: old, field: "head"}, means: new.means}
		if old.bare {
			c.Kind = Changed
		}
		c.apply = func(b *content) {
			at := b.of(old)
			at.head = new.head
		}
		all = append(all, c)
	}
	keywords := make([]string, 0, len(new.fields))
	for _, f := range new.fields {
		keywords = append(keywords, f.keyword)
	}
	for _, f := range old.fields {
		if new.field(f.keyword) == nil {
			keywords = append(keywords, f.keyword)
		}
	}
	for _, keyword := range keywords {
		before, after := old.field(keyword), new.field(keyword)
		c := Edit{Block: new.key, Field: keyword, Old: before.values(), New: after.values(), at: target{block: old, field: keyword}, means: after.meaning()}
		switch {
		case before == nil:
			c.Kind = Added
		case after == nil:
			c.Kind = Removed
		case before.means != after.means:
			c.Kind = Changed
		default:
			continue
		}
		c.apply = func(b *content) { b.of(old).set(keyword, after) }
		all = append(all, c)
	}
	return all
}

// set puts a field in the place of that of its keyword, or takes it out.
func (b *block) set(keyword string, to *field) {
	at := slices.IndexFunc(b.fields, func(f field) bool { return f.keyword == keyword })
	switch {
	case to == nil:
		b.fields = slices.Delete(b.fields, at, at+1)
	case at >= 0:
		b.fields[at] = *to
	default:
		b.fields = append(b.fields, *to)
	}
}

// values gives what a field says behind its keyword, one line for each statement.
func (f *field) values() string {
	if f == nil {
		return ""
	}
	lines := strings.Split(f.text, "\n"+f.keyword)
	for i, line := range lines {
		lines[i] = strings.Join(strings.Fields(strings.TrimPrefix(line, f.keyword)), " ")
	}
	return strings.Join(lines, "; ")
}

func (f *field) meaning() string {
	if f == nil {
		return ""
	}
	return f.means
}

// afterWord gives a head behind its keyword.
func afterWord(head string) string {
	_, rest, _ := strings.Cut(strings.Join(strings.Fields(head), " "), " ")
	return rest
}

// added is a block that the old brief does not have. A shot or a fact goes in before the
// block that follows it in the new brief, since their order counts; equipment goes to the
// end.
func (p *pairing) added(b *block) Edit {
	return Edit{Kind: Added, Block: b.key, New: afterWord(b.head), at: target{part: b.part, id: b.id}, means: b.meaning(), apply: func(to *content) {
		at := len(to.blocks)
		if b.part != ofCatalogue {
			at = p.before(b, to)
		}
		to.blocks = slices.Insert(to.blocks, at, b.clone())
	}}
}

// before gives the place in a brief of the first block that follows a new one.
func (p *pairing) before(b *block, in *content) int {
	for _, next := range p.new.blocks[slices.Index(p.new.blocks, b)+1:] {
		at := slices.IndexFunc(in.blocks, func(other *block) bool { return other.origin == p.originOf(next) })
		if at >= 0 && next.part == b.part {
			return at
		}
	}
	return len(in.blocks)
}

func removed(b *block) Edit {
	return Edit{Kind: Removed, Block: b.key, Old: afterWord(b.head), at: target{block: b}, apply: func(to *content) {
		to.blocks = slices.DeleteFunc(to.blocks, func(other *block) bool { return other.origin == b })
	}}
}

// originOf gives the block by which a new block is known while changes are made: its old
// one, or itself.
func (p *pairing) originOf(b *block) *block {
	if old := p.partner[b]; old != nil {
		return old
	}
	return b
}

// order says whether the shots that both have come in another order.
func (p *pairing) order() (Edit, bool) {
	var before, after []string
	place := map[*block]int{}
	for i, b := range p.new.blocks {
		place[p.originOf(b)] = i
		if b.isShot() && p.partner[b] != nil {
			after = append(after, p.partner[b].key)
		}
	}
	for _, b := range p.old.blocks {
		if b.isShot() && p.successor[b] != nil {
			before = append(before, b.key)
		}
	}
	if slices.Equal(before, after) {
		return Edit{}, false
	}
	names := func(keys []string) string {
		return strings.ReplaceAll(strings.Join(keys, ", "), "shot ", "")
	}
	return Edit{Kind: Reordered, Field: "order", Old: names(before), New: names(after), at: target{field: "order"}, means: names(after), apply: func(to *content) { to.sortShots(place) }}, true
}

// sortShots puts the shots in the order of their places, by the blocks that they are copies of.
func (b *content) sortShots(place map[*block]int) {
	var shots []*block
	for _, block := range b.blocks {
		if block.isShot() {
			shots = append(shots, block)
		}
	}
	slices.SortStableFunc(shots, func(x, y *block) int { return place[x.origin] - place[y.origin] })
	for i, block := range b.blocks {
		if block.isShot() {
			b.blocks[i], shots = shots[0], shots[1:]
		}
	}
}

// clone copies a block; the copy remembers which one it is of.
func (b *block) clone() *block {
	copied := *b
	copied.fields = slices.Clone(b.fields)
	if copied.origin == nil {
		copied.origin = b
	}
	return &copied
}

// of gives the copy of a block in a brief that is being changed.
func (b *content) of(origin *block) *block {
	for _, block := range b.blocks {
		if block.origin == origin {
			return block
		}
	}
	return &block{} // taken out by another change
}

// with gives the brief with some changes made.
func (b *content) with(changes []Edit) *content {
	changed := &content{blocks: make([]*block, len(b.blocks)), house: b.house}
	for i, block := range b.blocks {
		changed.blocks[i] = block.clone()
	}
	for _, change := range changes {
		change.apply(changed)
	}
	return changed
}
