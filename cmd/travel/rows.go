package travel

import (
	"glassbrief/engine/card"
	"glassbrief/engine/floor"
)

// Said makes an object of what rows say of a thing.
func Said[T any](rows []*card.Row[T], of *T) Object {
	var o Object
	for _, r := range rows {
		group, m := memberOf(r, of)
		if group == "" {
			o = append(o, m)
			continue
		}
		if o[len(o)-1].Key != group {
			o = append(o, Member{Key: group, Value: Object{}})
		}
		inner := &o[len(o)-1].Value
		*inner = append((*inner).(Object), m)
	}
	return o
}

// memberOf makes a member of what a row says of a thing, in the group that it names.
func memberOf[T any](r *card.Row[T], of *T) (group string, m Member) {
	group, key := r.Path()
	m = Member{Key: key, Value: r.Of(of), Optional: r.Optional}
	switch value := m.Value.(type) {
	case []floor.Moment:
		m.Value = Each(value, func(moment *floor.Moment) Object { return Said(card.Moment, moment) })
	case []floor.Stretch:
		m.Value = Each(value, func(stretch *floor.Stretch) Object { return Said(card.Stretch, stretch) })
	}
	return group, m
}
