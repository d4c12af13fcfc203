package framelist

import (
	"bytes"
	"fmt"
)

// A Fault is one thing found wrong with a list. Start and End are bytes of its text.
type Fault struct {
	Start, End int
	Path       string // as contexts[0].canvases[1].dimensions; "" for the whole
	Summary    string // without a full stop
	Detail     string // the rule or the remedy; may be ""
	Warning    bool   // the list can be used as it stands
}

func faultAt(v *value, path, summary, detail string) Fault {
	return Fault{Start: v.start, End: v.end, Path: path, Summary: summary, Detail: detail}
}

// A Place is a piece of the text of a list, from byte Start up to End; zero for what is not
// written.
type Place struct{ Start, End int }

// Size is a width and a height.
type Size struct{ Width, Height float64 }

// Point is a place in a canvas, from its top left.
type Point struct{ X, Y float64 }

// An Area is a rectangle in a canvas: its top left, and its size, which is 0 for none.
type Area struct {
	Point
	Size
}

// Known reports whether there is such an area.
func (a Area) Known() bool { return a.Width > 0 && a.Height > 0 }

// A List is a Framing Decision List. What this package does not know of it is kept and written
// again.
type List struct {
	Creator  string
	Default  string // id of the intent that counts; "" when none is named
	Intents  []Intent
	Contexts []Context

	root *value
}

// An Intent is a ratio that somebody wants, bound to no camera.
type Intent struct {
	Label, ID  string
	Ratio      Size    // whole numbers
	Protection float64 // share of the protected area that is taken off

	At, RatioAt, ProtectionAt Place
}

// A Context is what one camera or another source gives.
type Context struct {
	Label, Creator string
	Canvases       []Canvas
}

// A Canvas is what one recording has.
type Canvas struct {
	Label, ID, Source string
	Size              Size    // whole pixels, as recorded
	Effective         Area    // the part that may be used; none for all of it
	Photosites        Size    // of the sensor; 0 when unknown
	Physical          Size    // metres on the sensor; 0 when unknown
	Squeeze           float64 // 1 for a spherical picture
	Decisions         []Decision

	At, SizeAt, PhysicalAt, SqueezeAt, EffectiveAt Place
}

// Working gives the part of a canvas that decisions are placed in.
func (c *Canvas) Working() Area {
	if c.Effective.Known() {
		return c.Effective
	}
	return Area{Size: c.Size}
}

// A Decision is an intent placed in a canvas.
type Decision struct {
	Label, ID, Intent string
	Frame             Area // what is delivered
	Protected         Area // what is kept free around it; none when it is the frame itself
	CommonTop         bool // it stands at the top that all decisions of its canvas have in common

	At Place
}

// Outer gives the protected area, or the frame where nothing is protected.
func (d *Decision) Outer() Area {
	if d.Protected.Known() {
		return d.Protected
	}
	return d.Frame
}

// commonTop is the key of ours that marks decisions with a common top edge.
const commonTop = "_common_top"

// Read reads a list. With faults that are no warnings the list is nil.
func Read(text []byte) (*List, []Fault) {
	if fault, ok := readable(text); !ok {
		return nil, []Fault{fault}
	}
	var faults []Fault
	root := parse(text, &faults)
	if root == nil {
		return nil, faults
	}
	documentShape.check(root, "", &faults)
	if stops(faults) {
		return nil, faults
	}
	l := &List{root: root}
	l.view()
	l.check(&faults)
	if stops(faults) {
		return nil, faults
	}
	return l, faults
}

func stops(faults []Fault) bool {
	for _, f := range faults {
		if !f.Warning {
			return true
		}
	}
	return false
}

// Bytes gives the text of the list: what was read stands as it was written, but for blanks
// and line breaks.
func (l *List) Bytes() []byte {
	var b bytes.Buffer
	l.root.write(&b, "")
	b.WriteByte('\n')
	return b.Bytes()
}

// UUID gives the name of the document.
func (l *List) UUID() string { return l.root.text1("uuid") }

func (v *value) place() Place {
	if v == nil {
		return Place{}
	}
	return Place{v.start, v.end}
}

// text1 gives the text of a key, "" when there is none.
func (v *value) text1(key string) string {
	if of := v.get(key); of != nil {
		return of.text
	}
	return ""
}

// number1 gives the number of a key, or another when there is none.
func (v *value) number1(key string, absent float64) float64 {
	if of := v.get(key); of != nil {
		return of.number
	}
	return absent
}

func (v *value) size(key string) Size {
	of := v.get(key)
	return Size{of.number1("width", 0), of.number1("height", 0)}
}

func (v *value) area(size, anchor string) Area {
	at := v.get(anchor)
	return Area{Point{at.number1("x", 0), at.number1("y", 0)}, v.size(size)}
}

// each calls a function for every item of the list at a key, with its path.
func (v *value) each(path, key string, do func(item *value, path string)) {
	if items := v.get(key); items != nil {
		for i, m := range items.members {
			do(m.value, fmt.Sprintf("%s[%d]", join(path, key), i))
		}
	}
}

// view fills the fields from the values.
func (l *List) view() {
	l.Creator, l.Default = l.root.text1("fdl_creator"), l.root.text1("default_framing_intent")
	l.Intents, l.Contexts = nil, nil
	l.root.each("", "framing_intents", func(v *value, _ string) {
		l.Intents = append(l.Intents, Intent{
			Label: v.text1("label"), ID: v.text1("id"), Ratio: v.size("aspect_ratio"), Protection: v.number1("protection", 0),
			At: v.place(), RatioAt: v.get("aspect_ratio").place(), ProtectionAt: v.get("protection").place(),
		})
	})
	l.root.each("", "contexts", func(v *value, path string) {
		c := Context{Label: v.text1("label"), Creator: v.text1("context_creator")}
		v.each(path, "canvases", func(v *value, path string) { c.Canvases = append(c.Canvases, canvasOf(v, path)) })
		l.Contexts = append(l.Contexts, c)
	})
}

func canvasOf(v *value, path string) Canvas {
	physical := v.size("physical_dimensions")
	c := Canvas{
		Label: v.text1("label"), ID: v.text1("id"), Source: v.text1("source_canvas_id"),
		Size: v.size("dimensions"), Effective: v.area("effective_dimensions", "effective_anchor_point"),
		Photosites: v.size("photosite_dimensions"), Physical: Size{physical.Width / 1000, physical.Height / 1000},
		Squeeze: v.number1("anamorphic_squeeze", 1),
		At:      v.place(), SizeAt: v.get("dimensions").place(), PhysicalAt: v.get("physical_dimensions").place(),
		SqueezeAt: v.get("anamorphic_squeeze").place(), EffectiveAt: v.get("effective_dimensions").place(),
	}
	v.each(path, "framing_decisions", func(v *value, _ string) {
		top := v.get(commonTop)
		c.Decisions = append(c.Decisions, Decision{
			Label: v.text1("label"), ID: v.text1("id"), Intent: v.text1("framing_intent_id"),
			Frame: v.area("dimensions", "anchor_point"), Protected: v.area("protection_dimensions", "protection_anchor_point"),
			CommonTop: top != nil && top.raw == "true", At: v.place(),
		})
	})
	return c
}

// Intent gives the intent of an id, or nil.
func (l *List) Intent(id string) *Intent {
	for i := range l.Intents {
		if l.Intents[i].ID == id {
			return &l.Intents[i]
		}
	}
	return nil
}

// Canvases gives the canvases of all contexts.
func (l *List) Canvases() []*Canvas {
	var all []*Canvas
	for i := range l.Contexts {
		for k := range l.Contexts[i].Canvases {
			all = append(all, &l.Contexts[i].Canvases[k])
		}
	}
	return all
}

// Decision gives the decision of a canvas for an intent, or nil.
func (c *Canvas) Decision(intent string) *Decision {
	for i := range c.Decisions {
		if c.Decisions[i].Intent == intent {
			return &c.Decisions[i]
		}
	}
	return nil
}
