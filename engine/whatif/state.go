package whatif

import (
	"fmt"
	"net/url"
	"slices"
	"strings"

	"glassbrief/lang"
)

// A State says which controls are moved, and to what; a control that is as saved is not in it. It is in
// the order of the controls.
type State []Setting

// A Setting is a control with its text: the values of a statement as the file would write them, or the
// bare name that is chosen. An empty text leaves the figure to the engine.
type Setting struct {
	Key, Text string
	control   *Control
}

// Control gives the control that is set.
func (s *Setting) Control() *Control { return s.control }

// A Fault is what is wrong with a control of a state.
type Fault struct {
	Key  string `json:"key"`  // of the control, or what stands in its place in the fragment; "" for the whole
	Says string `json:"says"` // in sentences
}

// Read reads the state of a fragment, as "4A.distance=1.4m..2.8m&carry=3", with or without "#". A key
// that no control has is a fault, and the rest is read all the same. What is as saved is left out.
func (p *Plan) Read(fragment string) (State, []Fault) {
	var s State
	var faults []Fault
	for pair := range strings.SplitSeq(strings.TrimPrefix(fragment, "#"), "&") {
		if pair == "" {
			continue
		}
		key, text, given := strings.Cut(pair, "=")
		key = sameKey(key)
		plain := plainText(text)
		i := slices.IndexFunc(p.Controls, func(c Control) bool { return c.Key == key })
		switch {
		case i < 0:
			faults = append(faults, Fault{plainText(key), p.noControl(key)})
		case !given:
			faults = append(faults, Fault{key, fmt.Sprintf("%q has no value. Write it behind a \"=\".", plainText(key))})
		case slices.ContainsFunc(s, func(one Setting) bool { return one.Key == key }):
			faults = append(faults, Fault{key, fmt.Sprintf("%q stands twice. Take one of the two out.", plainText(key))})
		case !p.Controls[i].isSaved(plain):
			s = append(s, Setting{key, plain, &p.Controls[i]})
		}
	}
	slices.SortStableFunc(s, func(a, b Setting) int { return p.place(a.Key) - p.place(b.Key) })
	return s, faults
}

func (p *Plan) place(key string) int {
	return slices.IndexFunc(p.Controls, func(c Control) bool { return c.Key == key })
}

func (p *Plan) noControl(key string) string {
	keys := make([]string, len(p.Controls))
	for i := range p.Controls {
		keys[i] = plainText(p.Controls[i].Key)
	}
	says := fmt.Sprintf("%q is nothing that can be moved here.", plainText(key))
	if near := lang.Nearest(plainText(key), keys); near != "" {
		says += fmt.Sprintf(" Did you mean %q?", near)
	}
	return says
}

// String writes the state as a fragment, without "#".
func (s State) String() string {
	pairs := make([]string, len(s))
	for i, one := range s {
		pairs[i] = one.Key + "=" + escape(one.Text)
	}
	return strings.Join(pairs, "&")
}

// kept are the characters that a fragment keeps as they are, beside letters and digits.
const kept = "-._~/:,;@()*'!$"

// escape writes a text for a fragment: a space as "+", and by its bytes what would part it.
func escape(text string) string {
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c >= '0' && c <= '9', c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', strings.IndexByte(kept, c) >= 0:
			b.WriteByte(c)
		case c == ' ':
			b.WriteByte('+')
		default:
			fmt.Fprintf(&b, "%%%02X", c)
		}
	}
	return b.String()
}

// weightKey begins the key of a rule's weight.
const weightKey = "weight"

// escapeShot is escape of the name of a shot before a point. The word of the rules' weights is
// escaped too, so that no key of a shot is one of those.
func escapeShot(id string) string {
	key := strings.ReplaceAll(escape(id), ".", "%2E")
	if key == weightKey {
		return "%77eight"
	}
	return key
}

// sameKey spells a key as [Control.Key] does, however it was escaped.
func sameKey(key string) string {
	shot, name, ok := strings.Cut(key, ".")
	switch {
	case !ok:
		return escape(plainText(key))
	case shot == weightKey:
		return weightKey + "." + escape(plainText(name))
	}
	return escapeShot(plainText(shot)) + "." + escape(plainText(name))
}

// plainText is the inverse of escape, and takes what is escaped more or less than it does.
func plainText(text string) string {
	plain, err := url.QueryUnescape(text)
	if err != nil { // a "%" that escapes nothing stands for itself
		return strings.ReplaceAll(text, "+", " ")
	}
	return plain
}
