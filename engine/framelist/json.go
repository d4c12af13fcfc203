package framelist

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Limits of what is read. A list of a hundred cameras has 5000 values and nests 8 deep; the rest is room
// for what others keep in their own keys. A stack overflow cannot be recovered from.
const (
	maxDepth  = 64
	maxValues = 50_000
)

type kind uint8

const (
	object kind = iota
	list
	text
	number
	truth
	null
)

var kindNames = [...]string{object: "an object", list: "a list", text: "a text", number: "a number", truth: "true or false", null: "null"}

func (k kind) String() string { return kindNames[k] }

// A value is one value of JSON as it was written: with the order of its keys, the spelling of
// its numbers and texts, and its place.
type value struct {
	kind    kind
	raw     string // of anything but an object or a list
	text    string // what raw says, of a text
	number  float64
	members []member // of an object; those of a list have no keys
	start   int
	end     int
}

type member struct {
	raw   string // the key as it was written, with its quotes
	key   string
	value *value
}

// get gives the value of a key, or nil.
func (v *value) get(key string) *value {
	if v == nil {
		return nil
	}
	for i := range v.members {
		if v.members[i].key == key {
			return v.members[i].value
		}
	}
	return nil
}

// reader makes values of the tokens of a text.
type reader struct {
	text    []byte
	decoder *json.Decoder
	faults  *[]Fault
	values  int // read so far
}

// errStop ends the reading after a fault that is reported.
var errStop = errors.New("reading stopped")

// parse reads one value that is the whole text.
func parse(input []byte, faults *[]Fault) *value {
	r := &reader{text: input, decoder: json.NewDecoder(bytes.NewReader(input)), faults: faults}
	r.decoder.UseNumber()
	v, err := r.value(0)
	if err == nil {
		if _, err = r.decoder.Token(); err == io.EOF {
			return v
		}
		if err == nil {
			r.fault(int(r.decoder.InputOffset())-1, "something stands behind the end of the list", "A list is one JSON object and nothing else.")
			return nil
		}
	}
	var syntax *json.SyntaxError
	switch {
	case errors.Is(err, errStop):
	case errors.As(err, &syntax):
		r.fault(int(syntax.Offset)-1, "this is not JSON: "+syntax.Error(), "Export the list again, or mend the text here.")
	default:
		r.fault(len(r.text), "the text ends in the middle of the list", "Export the list again; it was cut off.")
	}
	return nil
}

func (r *reader) fault(at int, summary, detail string) {
	at = min(max(at, 0), len(r.text))
	*r.faults = append(*r.faults, Fault{Start: at, End: min(at+1, len(r.text)), Summary: summary, Detail: detail})
}

// skip gives the start of the next token behind an offset.
func (r *reader) skip(from int) int {
	for from < len(r.text) && strings.IndexByte(" \t\r\n,:", r.text[from]) >= 0 {
		from++
	}
	return from
}

func (r *reader) value(depth int) (*value, error) {
	v := &value{start: r.skip(int(r.decoder.InputOffset()))}
	if r.values++; r.values > maxValues {
		r.fault(v.start, fmt.Sprintf("the list holds more than %d values", maxValues), "Remove clips from it that this shoot does not need.")
		return nil, errStop
	}
	token, err := r.decoder.Token()
	if err != nil {
		return nil, err
	}
	v.end = int(r.decoder.InputOffset())
	v.raw = string(r.text[v.start:v.end])
	switch token := token.(type) {
	case json.Delim:
		if depth == maxDepth {
			r.fault(v.start, fmt.Sprintf("values are nested more than %d deep here", maxDepth), "A list nests 8 deep; remove what is nested here.")
			return nil, errStop
		}
		v.raw = ""
		if token == '{' {
			err = r.object(v, depth)
		} else {
			v.kind, err = list, r.list(v, depth)
		}
		if err != nil {
			return nil, err
		}
		if _, err = r.decoder.Token(); err != nil {
			return nil, err
		}
		v.end = int(r.decoder.InputOffset())
	case string:
		v.kind, v.text = text, token
	case json.Number:
		v.kind = number
		if v.number, err = strconv.ParseFloat(token.String(), 64); err != nil {
			r.fault(v.start, fmt.Sprintf("%s is beyond all numbers", token), "Write the number of pixels.")
			return nil, errStop
		}
	case bool:
		v.kind = truth
	default:
		v.kind = null
	}
	return v, nil
}

// object reads the members of an object. What is null counts as not given, but for the keys
// of others.
func (r *reader) object(v *value, depth int) error {
	for r.decoder.More() {
		start := r.skip(int(r.decoder.InputOffset()))
		token, err := r.decoder.Token()
		if err != nil {
			return err
		}
		key := token.(string) // the decoder takes nothing else here
		m := member{key: key, raw: string(r.text[start:r.decoder.InputOffset()])}
		if m.value, err = r.value(depth + 1); err != nil {
			return err
		}
		if v.get(key) != nil {
			r.fault(start, fmt.Sprintf("the key %q stands twice in one object", key), "Keep one of the two.")
			continue
		}
		if m.value.kind != null || isOwn(key) {
			v.members = append(v.members, m)
		}
	}
	return nil
}

func (r *reader) list(v *value, depth int) error {
	for r.decoder.More() {
		item, err := r.value(depth + 1)
		if err != nil {
			return err
		}
		v.members = append(v.members, member{value: item})
	}
	return nil
}

// isOwn reports whether a key is one of those that anybody may add.
func isOwn(key string) bool { return strings.HasPrefix(key, "_") }

// write adds the text of a value, indented by two blanks a level.
func (v *value) write(to *bytes.Buffer, indent string) {
	if v.kind != object && v.kind != list {
		to.WriteString(v.raw)
		return
	}
	brackets := "{}"
	if v.kind == list {
		brackets = "[]"
	}
	to.WriteByte(brackets[0])
	for i, m := range v.members {
		if i > 0 {
			to.WriteByte(',')
		}
		to.WriteString("\n" + indent + "  ")
		if v.kind == object {
			to.WriteString(m.raw + ": ")
		}
		m.value.write(to, indent+"  ")
	}
	if len(v.members) > 0 {
		to.WriteString("\n" + indent)
	}
	to.WriteByte(brackets[1])
}

// quoted writes a text as JSON does, without escapes that only HTML needs.
func quoted(s string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(s); err != nil { // a string can always be written
		panic(err)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func textValue(s string) *value { return &value{kind: text, raw: quoted(s), text: s} }

// numberValue writes a number as short as it can be read back.
func numberValue(x float64) *value {
	return &value{kind: number, raw: strconv.FormatFloat(x, 'f', -1, 64), number: x}
}

// put sets the value of a key, in its place when it is there already.
func (v *value) put(key string, to *value) {
	for i := range v.members {
		if v.members[i].key == key {
			v.members[i].value = to
			return
		}
	}
	v.members = append(v.members, member{raw: quoted(key), key: key, value: to})
}

// readable gives the fault of a text that is none, or false.
func readable(input []byte) (Fault, bool) {
	if !utf8.Valid(input) {
		return Fault{Summary: "the list is not valid UTF-8", Detail: "Save the file as UTF-8."}, false
	}
	return Fault{}, true
}
