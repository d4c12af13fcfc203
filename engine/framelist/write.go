package framelist

import (
	"bytes"
	"crypto/sha1"
	"fmt"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// New makes an empty list of version 2.0; [List.Add] names it.
func New() *List {
	l := &List{root: &value{kind: object}}
	l.root.put("uuid", textValue(nameless))
	l.root.put("version", objectOf("major", numberValue(2), "minor", numberValue(0)))
	return l
}

// nameless stands for the UUID of a list that has none yet.
const nameless = "00000000-0000-0000-0000-000000000000"

// Add adds intents that are not there yet, and contexts, as the work of a creator. The first intent
// is that by default unless there is one. All else stays, the name of the list too; one
// without a name gets it from its content, so that the same content is the same bytes.
func (l *List) Add(creator string, intents []Intent, contexts []Context) {
	l.root.put("fdl_creator", textValue(creator))
	if len(intents) > 0 && l.root.get("default_framing_intent") == nil {
		l.root.put("default_framing_intent", textValue(intents[0].ID))
	}
	for _, intent := range intents {
		if l.Intent(intent.ID) == nil {
			l.root.listAt("framing_intents").add(intent.value())
		}
	}
	for _, context := range contexts {
		l.root.listAt("contexts").add(context.value(creator))
	}
	l.root.order(documentShape)
	if l.UUID() == nameless {
		l.root.put("uuid", textValue(nameFor(l.Bytes())))
	}
	l.view()
}

// listAt gives the list at a key, a new one when there is none.
func (v *value) listAt(key string) *value {
	if v.get(key) == nil {
		v.put(key, &value{kind: list})
	}
	return v.get(key)
}

func (v *value) add(item *value) { v.members = append(v.members, member{value: item}) }

// order puts the keys that are new to an object at their places, before those of others. What
// was read in another order keeps it.
func (v *value) order(of *shape) {
	place := func(m member) int {
		if i := slices.IndexFunc(of.keys, func(k key) bool { return k.name == m.key }); i >= 0 {
			return i
		}
		return len(of.keys)
	}
	if v.end == 0 { // made here
		slices.SortStableFunc(v.members, func(a, b member) int { return place(a) - place(b) })
		return
	}
	var ordered []member
	for _, m := range v.members {
		if m.value.end == 0 { // before the first that stands behind it
			at := slices.IndexFunc(ordered, func(o member) bool { return place(o) > place(m) })
			if at >= 0 {
				ordered = slices.Insert(ordered, at, m)
				continue
			}
		}
		ordered = append(ordered, m)
	}
	v.members = ordered
}

// nameFor gives the name-based UUID, version 5 in the name space of URLs, of a content.
//
// Source: RFC 9562, 5.5.
func nameFor(content []byte) string {
	space := []byte{0x6b, 0xa7, 0xb8, 0x11, 0x9d, 0xad, 0x11, 0xd1, 0x80, 0xb4, 0x00, 0xc0, 0x4f, 0xd4, 0x30, 0xc8}
	sum := sha1.Sum(bytes.Join([][]byte{space, content}, nil))
	sum[6], sum[8] = sum[6]&0x0f|0x50, sum[8]&0x3f|0x80
	return fmt.Sprintf("%x-%x-%x-%x-%x", sum[0:4], sum[4:6], sum[6:8], sum[8:10], sum[10:16])
}

// objectOf makes an object of keys and values by turns; a value of nil is left out.
func objectOf(pairs ...any) *value {
	v := &value{kind: object}
	for i := 0; i < len(pairs); i += 2 {
		if of, _ := pairs[i+1].(*value); of != nil {
			v.members = append(v.members, member{raw: quoted(pairs[i].(string)), key: pairs[i].(string), value: of})
		}
	}
	return v
}

func given[T comparable](x T, make func(T) *value) *value {
	var none T
	if x == none {
		return nil
	}
	return make(x)
}

func sizeValue(s Size) *value {
	return objectOf("width", numberValue(s.Width), "height", numberValue(s.Height))
}
func pointValue(p Point) *value { return objectOf("x", numberValue(p.X), "y", numberValue(p.Y)) }

// anchor gives the place of an area that there is.
func anchor(a Area) *value {
	if !a.Known() {
		return nil
	}
	return pointValue(a.Point)
}

func (i *Intent) value() *value {
	return objectOf("label", given(plain(i.Label), textValue), "id", textValue(i.ID), "aspect_ratio", sizeValue(i.Ratio), "protection", numberValue(i.Protection))
}

func (c *Context) value(creator string) *value {
	canvases := &value{kind: list}
	for i := range c.Canvases {
		canvases.add(c.Canvases[i].value())
	}
	return objectOf("label", given(plain(c.Label), textValue), "context_creator", textValue(creator), "canvases", canvases)
}

func (c *Canvas) value() *value {
	decisions := &value{kind: list}
	for i := range c.Decisions {
		decisions.add(c.Decisions[i].value())
	}
	millimetres := func(s Size) *value { return sizeValue(Size{tidy(s.Width * 1000), tidy(s.Height * 1000)}) }
	return objectOf("label", given(plain(c.Label), textValue), "id", textValue(c.ID), "source_canvas_id", textValue(c.Source), "dimensions", sizeValue(c.Size),
		"effective_dimensions", given(c.Effective.Size, sizeValue), "effective_anchor_point", anchor(c.Effective),
		"photosite_dimensions", given(c.Photosites, sizeValue), "physical_dimensions", given(c.Physical, millimetres),
		"anamorphic_squeeze", numberValue(c.Squeeze), "framing_decisions", decisions)
}

func (d *Decision) value() *value {
	return objectOf("label", given(plain(d.Label), textValue), "id", textValue(d.ID), "framing_intent_id", textValue(d.Intent),
		"dimensions", sizeValue(d.Frame.Size), "anchor_point", pointValue(d.Frame.Point),
		"protection_dimensions", given(d.Protected.Size, sizeValue), "protection_anchor_point", anchor(d.Protected),
		commonTop, given(d.CommonTop, func(bool) *value { return &value{kind: truth, raw: "true"} }))
}

// tidy leaves four decimals, as the specification advises for millimetres.
func tidy(x float64) float64 { return Rounding{Mode: Nearest}.Of(x*1e4) / 1e4 }

// plain gives a label without what lies beyond ASCII, which troubles other software: letters
// lose their accents, and what has none becomes "_".
func plain(label string) string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(label) {
		switch {
		case r >= 0x300 && r < 0x370: // an accent
		case r < ' ' || r > '~':
			b.WriteByte('_')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Names makes ids from labels, each once.
type Names struct{ taken seen }

// ID gives an id of at most 32 letters, digits and "_" for a label, with a number behind it where it
// is taken.
func (n *Names) ID(label string) string {
	if n.taken == nil {
		n.taken = seen{}
	}
	id := []byte(plain(label))
	for i, c := range id {
		if !isLetter(rune(c)) {
			id[i] = '_'
		}
	}
	if len(id) == 0 {
		id = []byte("_")
	}
	name := string(id[:min(len(id), 32)])
	for k := 2; n.taken.twice(name); k++ {
		suffix := fmt.Sprintf("_%d", k)
		name = string(id[:min(len(id), 32-len(suffix))]) + suffix
	}
	return name
}
