package cmd

import (
	"strings"

	"glassbrief/cmd/travel"
	"glassbrief/engine/card"
	"glassbrief/engine/floor"
)

// objectOf makes an object of what rows say of a thing.
func objectOf[T any](rows []*card.Row[T], of *T) travel.Object {
	var o travel.Object
	for _, r := range rows {
		group, m := memberOf(r, of)
		if group == "" {
			o = append(o, m)
			continue
		}
		if o[len(o)-1].Key != group {
			o = append(o, travel.Member{Key: group, Value: travel.Object{}})
		}
		inner := &o[len(o)-1].Value
		*inner = append((*inner).(travel.Object), m)
	}
	return o
}

// keyUnits are the units, of those that keys end in, that are not of the SI.
var keyUnits = []struct{ suffix, unit string }{{"_mm", "mm"}, {"_deg", "deg"}, {"_pct", "%"}, {"_pct_s", "%"}}

// memberOf makes a member of what a row says of a thing, in the group that it names.
func memberOf[T any](r *card.Row[T], of *T) (group string, m travel.Member) {
	group, key := r.Path()
	m = travel.Member{Key: key, Value: r.Of(of), Optional: r.Optional}
	switch value := m.Value.(type) {
	case float64:
		f := travel.Figure{SI: value}
		for _, u := range keyUnits {
			if strings.HasSuffix(key, u.suffix) {
				f.Unit = u.unit
			}
		}
		m.Value = f
	case []string:
		m.Value = travel.List(value)
	case []floor.Moment:
		along := []travel.Object{}
		for i := range value {
			along = append(along, objectOf(card.Moment, &value[i]))
		}
		m.Value = along
	}
	return group, m
}
