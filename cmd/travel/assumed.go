package travel

import (
	"fmt"
	"math"

	"glassbrief/engine"
)

// Assumed is the key of what is said of the numbers beside it.
const Assumed = "assumed"

// Ranged makes an object of a thing and puts beside its numbers where they lie over its worlds:
// each object that has such numbers gets the key "assumed", with the low and the high end of each
// by its key. An end that is null is without bound.
func Ranged[T any](of T, w *engine.Worlds[T], object func(T) Object) Object {
	spans := w.Spans(func(t T) map[string]float64 {
		all := numbers{}
		all.of("", object(t))
		return all
	})
	return spanned("", object(of), spans)
}

// numbers are the numbers of an object by their paths.
type numbers map[string]float64

func (n numbers) of(path string, o Object) {
	for i := range o {
		m := &o[i]
		at := path + "." + m.Key
		switch value := m.Value.(type) {
		case float64:
			n[at] = value
		case Figure:
			n[at] = value.SI
		case int:
			n[at] = float64(value)
		case Object:
			n.of(at, value)
		case Nullable:
			n.of(at, value.Object)
		case []Object:
			for k := range value {
				n.of(at+item(value[k], k), value[k])
			}
		}
	}
}

// item tells an object of a list from the others: by what names it, or else its place.
func item(o Object, place int) string {
	for _, key := range []string{"name", "code", "holds", "lens"} {
		if name, ok := o.Get(key).(string); ok && name != "" {
			return "[" + name + "]"
		}
	}
	return fmt.Sprintf("[%d]", place)
}

// spanned gives an object with the spans of its numbers in it.
func spanned(path string, o Object, spans map[string]engine.Span) Object {
	var assumed Object
	counts := false // it has numbers
	all := make(Object, len(o), len(o)+1)
	for i, m := range o {
		at := path + "." + m.Key
		switch value := m.Value.(type) {
		case Object:
			if value != nil {
				m.Value = spanned(at, value, spans)
			}
		case Nullable:
			if value.Object != nil {
				m.Value = Nullable{spanned(at, value.Object, spans)}
			}
		case []Object:
			list := make([]Object, len(value))
			for k := range value {
				list[k] = spanned(at+item(value[k], k), value[k], spans)
			}
			m.Value = list
		case float64, Figure, int:
			counts = true
			if s, ok := spans[at]; ok {
				assumed = append(assumed, Member{Key: m.Key, Value: span(s, m)})
			}
		}
		all[i] = m
	}
	if !counts {
		return all
	}
	return append(all, Member{Key: Assumed, Value: assumed, Optional: true})
}

// span writes a span in the unit of its number.
func span(s engine.Span, of Member) Object {
	unit := unitOf(of.Key)
	if figure, ok := of.Value.(Figure); ok {
		unit = figure.Unit
	}
	return Of("low", FigureOf(s.Low, unit), "high", FigureOf(s.High, unit))
}

// withScore says of the object of a judgement where its score lies. Nothing stands under the key of a judgement that rests on assumed figures and of
// which no ranges are worked out.
func withScore(o Object, j *engine.Judgement) Object {
	assumed, _ := o.Get(Assumed).(Object)
	switch s := j.ScoreSpread(); {
	case j.Rests && !s.Known:
		assumed = Object{}
	case s.Moves && s.Low <= s.High:
		assumed = append(Of("score", outward(s.Span)), assumed.without("score")...)
	}
	return append(o.without(Assumed), Member{Key: Assumed, Value: assumed, Optional: true})
}

// resting says beside a number of which no range is worked out whether it rests on assumed figures.
func resting(rests bool) Member {
	var assumed Object
	if rests {
		assumed = Object{}
	}
	return Member{Key: Assumed, Value: assumed, Optional: true}
}

// marks are the last columns of a row with a score: where that lies, empty where it rests on nothing
// or no range is worked out, and whether any number of the row rests on assumed figures.
func marks(of Object) Object {
	assumed, _ := of.Get(Assumed).(Object)
	score, _ := assumed.Get("score").(Object)
	return Of("score_low", score.Get("low"), "score_high", score.Get("high"), Assumed, assumed != nil)
}

// outward writes a span of scores, rounded outward to hundredths.
func outward(s engine.Span) Object {
	return Of("low", math.Floor(100*s.Low+1e-9)/100, "high", math.Ceil(100*s.High-1e-9)/100)
}

// without gives the object without a key.
func (o Object) without(key string) Object {
	var all Object
	for _, m := range o {
		if m.Key != key {
			all = append(all, m)
		}
	}
	return all
}
