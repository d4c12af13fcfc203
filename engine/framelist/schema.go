package framelist

import (
	"encoding/hex"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// A shape is what a value must be: the published schema, in the form in which it is checked and
// in the order in which keys are written.
type shape struct {
	kind  kind
	keys  []key // of an object
	item  *shape
	wrong func(v *value) string // what is wrong with the value alone; "" for nothing
}

type key struct {
	name     string
	shape    *shape
	required bool
	with     string // a key that must stand beside this one
}

func needed(name string, of *shape) key   { return key{name: name, shape: of, required: true} }
func optional(name string, of *shape) key { return key{name: name, shape: of} }
func listOf(item *shape) *shape           { return &shape{kind: list, item: item} }

// matching gives the shape of texts of a form, whose rule is what a fault says that they are not.
func matching(is func(text string) bool, rule string) *shape {
	return &shape{kind: text, wrong: func(v *value) string {
		if !is(v.text) {
			return fmt.Sprintf("%s is no %s", v.raw, rule)
		}
		return ""
	}}
}

func isID(text string) bool { return len(text) <= 32 && isWord(text) }

// isWord reports whether a text is one or more of what an id may hold.
func isWord(text string) bool {
	return text != "" && strings.IndexFunc(text, func(r rune) bool { return !isLetter(r) }) < 0
}

// isLetter reports whether an id may hold a character.
func isLetter(r rune) bool {
	return 'A' <= r && r <= 'Z' || 'a' <= r && r <= 'z' || '0' <= r && r <= '9' || r == '_'
}

func isDecisionID(text string) bool {
	canvas, intent, both := strings.Cut(text, "-")
	return both && len(text) <= 65 && isWord(canvas) && isWord(intent)
}

func isUUID(text string) bool {
	parts := strings.Split(text, "-")
	for i, part := range parts {
		if _, err := hex.DecodeString(part); err != nil || i > 4 || len(part) != [...]int{8, 4, 4, 4, 12}[i] {
			return false
		}
	}
	return len(parts) == 5
}

func oneOf(words ...string) *shape {
	return &shape{kind: text, wrong: func(v *value) string {
		if !slices.Contains(words, v.text) {
			return fmt.Sprintf("%s is none of %s", v.raw, strings.Join(words, ", "))
		}
		return ""
	}}
}

// numbers gives the shape of numbers from a least value on, which itself counts or not.
func numbers(whole bool, least float64, itself bool) *shape {
	return &shape{kind: number, wrong: func(v *value) string {
		switch {
		case whole && v.number != math.Trunc(v.number):
			return v.raw + " is no whole number"
		case v.number < least:
			return fmt.Sprintf("%s is below %v", v.raw, least)
		case v.number == least && !itself:
			return fmt.Sprintf("%s is not above %v", v.raw, least)
		}
		return ""
	}}
}

func pairOf(first, second string, of *shape) *shape {
	return &shape{kind: object, keys: []key{needed(first, of), needed(second, of)}}
}

var (
	anyText    = &shape{kind: text}
	anyTruth   = &shape{kind: truth}
	idShape    = matching(isID, "id: 1 to 32 of the letters A to Z and a to z, digits and \"_\"")
	uuidShape  = matching(isUUID, "UUID")
	aboveZero  = numbers(false, 0, false)
	fromZero   = numbers(false, 0, true)
	wholeSize  = pairOf("width", "height", numbers(true, 0, false))
	freeSize   = pairOf("width", "height", aboveZero)
	targetSize = pairOf("width", "height", numbers(true, 0, true))
	point      = pairOf("x", "y", fromZero)
	index      = numbers(true, 0, true)
	anyWhole   = numbers(true, math.Inf(-1), true)
	layerName  = oneOf("framing_decision.dimensions", "framing_decision.protection_dimensions", "canvas.dimensions", "canvas.effective_dimensions")
)

var documentShape = &shape{kind: object, keys: []key{
	needed("uuid", uuidShape),
	needed("version", &shape{kind: object, keys: []key{needed("major", anyWhole), needed("minor", anyWhole)}, wrong: wrongVersion}),
	optional("fdl_creator", anyText),
	optional("default_framing_intent", idShape),
	optional("framing_intents", listOf(intentShape)),
	optional("contexts", listOf(contextShape)),
	optional("canvas_templates", listOf(templateShape)),
}}

var intentShape = &shape{kind: object, keys: []key{
	optional("label", anyText), needed("id", idShape), needed("aspect_ratio", wholeSize), optional("protection", fromZero),
}}

var contextShape = &shape{kind: object, keys: []key{
	optional("label", anyText), optional("context_creator", anyText),
	optional("clip_id", &shape{kind: object, keys: []key{
		needed("clip_name", anyText), optional("file", anyText),
		optional("sequence", &shape{kind: object, keys: []key{
			needed("value", anyText), needed("idx", matching(func(text string) bool { return utf8.RuneCountInString(text) == 1 }, "single character")), needed("min", index), needed("max", index),
		}}),
	}, wrong: wrongClip}),
	optional("canvases", listOf(canvasShape)),
}}

var canvasShape = &shape{kind: object, keys: []key{
	optional("label", anyText), needed("id", idShape), needed("source_canvas_id", idShape), needed("dimensions", wholeSize),
	{name: "effective_dimensions", shape: wholeSize, with: "effective_anchor_point"}, optional("effective_anchor_point", point),
	optional("photosite_dimensions", wholeSize), optional("physical_dimensions", freeSize), optional("anamorphic_squeeze", aboveZero),
	optional("framing_decisions", listOf(decisionShape)),
}}

var decisionShape = &shape{kind: object, keys: []key{
	optional("label", anyText),
	needed("id", matching(isDecisionID, "id of a decision: those of its canvas and its intent with one hyphen between")),
	needed("framing_intent_id", idShape), needed("dimensions", freeSize), needed("anchor_point", point),
	{name: "protection_dimensions", shape: freeSize, with: "protection_anchor_point"}, optional("protection_anchor_point", point),
}}

var templateShape = &shape{kind: object, keys: []key{
	optional("label", anyText), needed("id", idShape), needed("target_dimensions", targetSize), needed("target_anamorphic_squeeze", fromZero),
	needed("fit_source", layerName), needed("fit_method", oneOf("width", "height", "fit_all", "fill")),
	optional("alignment_method_vertical", oneOf("top", "center", "bottom")), optional("alignment_method_horizontal", oneOf("left", "center", "right")),
	optional("preserve_from_source_canvas", layerName), optional("maximum_dimensions", wholeSize), optional("pad_to_maximum", anyTruth),
	optional("round", &shape{kind: object, keys: []key{needed("even", oneOf("whole", "even")), needed("mode", oneOf("up", "down", "round"))}}),
}}

// wrongVersion takes lists of version 2.0, whose texts 2.0 and 2.0.1 both write so, and those
// of version 1, which say the same but for the protection.
func wrongVersion(v *value) string {
	major, minor := v.get("major"), v.get("minor")
	if major == nil || minor == nil || major.number == 2 && minor.number == 0 || major.number == 1 {
		return ""
	}
	return fmt.Sprintf("the list is of version %s.%s, and this program reads 2.0 and 1", major.raw, minor.raw)
}

func wrongClip(v *value) string {
	if v.get("file") != nil && v.get("sequence") != nil {
		return "a clip is a file or a sequence, not both"
	}
	return ""
}

// check reports what the schema does not allow in a value at a path.
func (s *shape) check(v *value, path string, faults *[]Fault) {
	if v.kind != s.kind {
		*faults = append(*faults, faultAt(v, path, fmt.Sprintf("%s is %s, and must be %s", named(path), v.kind, s.kind), ""))
		return
	}
	for i, m := range v.members {
		if s.kind == list {
			s.item.check(m.value, fmt.Sprintf("%s[%d]", path, i), faults)
			continue
		}
		switch k := s.key(m.key); {
		case k != nil:
			k.shape.check(m.value, join(path, m.key), faults)
			if k.with != "" && v.get(k.with) == nil {
				*faults = append(*faults, faultAt(m.value, path, fmt.Sprintf("%s has no %q, which %q asks for", named(path), k.with, m.key), ""))
			}
		case !isOwn(m.key):
			*faults = append(*faults, faultAt(m.value, path, fmt.Sprintf("%s has no key %q", named(path), m.key),
				"A key that the standard does not know begins with \"_\"."))
		}
	}
	for _, k := range s.keys {
		if k.required && v.get(k.name) == nil {
			*faults = append(*faults, faultAt(v, path, fmt.Sprintf("%s lacks %q", named(path), k.name), ""))
		}
	}
	if s.wrong != nil {
		if wrong := s.wrong(v); wrong != "" {
			if path != "" && s.kind != object {
				wrong = path + ": " + wrong
			}
			*faults = append(*faults, faultAt(v, path, wrong, ""))
		}
	}
}

func (s *shape) key(name string) *key {
	for i := range s.keys {
		if s.keys[i].name == name {
			return &s.keys[i]
		}
	}
	return nil
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

func named(path string) string {
	if path == "" {
		return "the list"
	}
	return path
}
