package travel

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
)

// An Object is JSON made from values that have their keys with them, in the order in which
// programs read them.
type Object []Member

// A Member is a value under its key: a Figure, a string, a bool, an int, an Object, or a
// list of strings, of Numbers or of Objects.
type Member struct {
	Key      string
	Value    any
	Optional bool // it is left out while its value is unknown, false or empty
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

func (o Object) MarshalJSON() ([]byte, error) {
	var fields [][]byte
	for _, m := range o {
		if m.missing() {
			continue
		}
		var value bytes.Buffer
		encoder := json.NewEncoder(&value)
		encoder.SetEscapeHTML(false) // "&" stays as it is, for what is read is no page
		if err := encoder.Encode(m.Value); err != nil {
			return nil, err
		}
		fields = append(fields, slices.Concat([]byte(`"`+m.Key+`":`), value.Bytes()))
	}
	return slices.Concat([]byte("{"), bytes.Join(fields, []byte(",")), []byte("}")), nil
}

// A Figure is a quantity in SI units, with the unit that people and programs read it in.
type Figure struct {
	SI   float64
	Unit string
}

// FigureOf gives a quantity in SI units as a figure of the unit.
func FigureOf(si float64, unit string) Figure { return Figure{si, unit} }

func (f Figure) MarshalJSON() ([]byte, error) {
	switch f.Unit {
	case "", "f/", "T", "EV": // numbers of the trade, which have no factor
		return json.Marshal(Number(f.SI))
	}
	return json.Marshal(In(f.SI, f.Unit))
}
