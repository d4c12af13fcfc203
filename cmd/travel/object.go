package travel

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
	"strings"
)

// An Object is JSON made from values that have their keys with them, in the order in which
// programs read them.
type Object []Member

// A Member is a value under its key: a float64 or a Figure, a string, a pointer to one that
// may be null, a bool, an int, an Object, a Nullable, Objects, or a list of strings, ints or Objects. A
// float64 is a quantity in SI units, and is written in the unit that the key ends in.
type Member struct {
	Key      string
	Value    any
	Optional bool // it is left out while its value is unknown, false or empty
}

// A Nullable is an object that may be null.
type Nullable struct{ Object }

// Of makes an object of keys with their values, in turn. A key that ends in "?" is optional.
func Of(pairs ...any) Object {
	o := make(Object, 0, len(pairs)/2)
	for i := 0; i < len(pairs); i += 2 {
		key, optional := strings.CutSuffix(pairs[i].(string), "?")
		o = append(o, Member{key, pairs[i+1], optional})
	}
	return o
}

// Each makes an object of every item of a list.
func Each[T any](list []T, of func(*T) Object) []Object {
	all := make([]Object, len(list))
	for i := range list {
		all[i] = of(&list[i])
	}
	return all
}

// Maybe makes an object of what may be nil, null for nil.
func Maybe[T any](v *T, of func(*T) Object) Nullable {
	if v == nil {
		return Nullable{}
	}
	return Nullable{of(v)}
}

// Name makes null of an empty name.
func Name(name string) *string {
	if name == "" {
		return nil
	}
	return &name
}

// Get gives the value under a key, nil when there is none.
func (o Object) Get(key string) any {
	for _, m := range o {
		if m.Key == key {
			return m.Value
		}
	}
	return nil
}

// Only gives the members of some keys, in the order of the keys.
func (o Object) Only(keys ...string) Object {
	some := make(Object, len(keys))
	for i, key := range keys {
		some[i] = Member{Key: key, Value: o.Get(key)}
	}
	return some
}

func (m Member) missing() bool {
	if !m.Optional {
		return false
	}
	switch value := m.Value.(type) {
	case Figure:
		return math.IsNaN(value.SI)
	case Object:
		return value == nil
	}
	return m.Value == false
}

// MarshalJSON writes the object.
func (o Object) MarshalJSON() ([]byte, error) { return o.write(nil) }

func (o Object) write(to []byte) (_ []byte, err error) {
	to = append(to, '{')
	for i := range o {
		if o[i].missing() {
			continue
		}
		if to[len(to)-1] != '{' {
			to = append(to, ',')
		}
		to = append(append(append(to, '"'), o[i].Key...), '"', ':')
		if to, err = o[i].write(to); err != nil {
			return nil, err
		}
	}
	return append(to, '}'), nil
}

func (m *Member) write(to []byte) ([]byte, error) {
	switch value := m.Value.(type) {
	case float64:
		return append(to, In(value, unitOf(m.Key)).text()...), nil
	case bool:
		return strconv.AppendBool(to, value), nil
	case int:
		return strconv.AppendInt(to, int64(value), 10), nil
	case string:
		return quoted(to, value)
	case *string:
		if value == nil {
			return append(to, "null"...), nil
		}
		return quoted(to, *value)
	case Object:
		return value.write(to)
	case Nullable:
		if value.Object == nil {
			return append(to, "null"...), nil
		}
		return value.write(to)
	case []Object:
		return list(to, value, func(to []byte, o Object) ([]byte, error) { return o.write(to) })
	case []string:
		return list(to, value, quoted)
	}
	return plain(to, m.Value)
}

func list[T any](to []byte, items []T, write func([]byte, T) ([]byte, error)) (_ []byte, err error) {
	to = append(to, '[')
	for i, item := range items {
		if i > 0 {
			to = append(to, ',')
		}
		if to, err = write(to, item); err != nil {
			return nil, err
		}
	}
	return append(to, ']'), nil
}

// quoted writes a text, one of plain ASCII without looking twice.
func quoted(to []byte, text string) ([]byte, error) {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
			return plain(to, text)
		}
	}
	return append(append(append(to, '"'), text...), '"'), nil
}

// plain writes any other value as encoding/json does, without escapes for HTML.
func plain(to []byte, value any) ([]byte, error) {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	err := encoder.Encode(value)
	return append(to, bytes.TrimSuffix(b.Bytes(), []byte("\n"))...), err
}

// keyUnits are the units that keys end in and that are not of the SI.
var keyUnits = []struct{ suffix, unit string }{{"_mm", "mm"}, {"_g", "g"}, {"_deg", "deg"}, {"_pct", "%"}, {"_pct_s", "%"}}

// unitOf gives the unit that a key ends in, "" for one of the SI or none.
func unitOf(key string) string {
	for _, u := range keyUnits {
		if strings.HasSuffix(key, u.suffix) {
			return u.unit
		}
	}
	return ""
}

// A Figure is a quantity in SI units, with the unit that people and programs read it in.
type Figure struct {
	SI   float64
	Unit string
}

// FigureOf gives a quantity in SI units as a figure of the unit.
func FigureOf(si float64, unit string) Figure { return Figure{si, unit} }

// MarshalJSON writes the figure in its unit.
func (f Figure) MarshalJSON() ([]byte, error) { return []byte(In(f.SI, f.Unit).text()), nil }
