package setup

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
)

// A Filter is one way to take light away: pieces on the lens, a filter of the camera, or both,
// turned to one strength. The first of a list is none at all.
type Filter struct {
	Stops  float64 // that it takes
	Pieces float64 // on the lens; a ring or a filter of the camera counts a quarter
	Cross  float64 // stops into the last stop of a turning filter's range, where a wide picture shows a cross
}

// A light is one choice of ISO and filter, by what it does to the exposure.
type light struct {
	taken  float64 // log2(ISO) less the stops of the filter
	worth  float64 // product of what the rules say of the choice itself
	iso    float64
	filter int
}

// Lights are the choices of ISO and filter that are worth making, for one shot and camera and
// the filters that fit one thread. They are not changed once made.
type Lights struct {
	choices []light // by what they take, each the worthiest of its kind
	// below and above hold the best worth of the choices up to and from each place.
	below, above []float64
	best         int // the worthiest of all, for what light is not known of
	all          []light
}

// NewLights works the choices out. isos and filters are all that can be set; r holds the
// facts of the shot.
func (t *Task) NewLights(shot *facts.Record, isos []float64, filters []Filter) *Lights {
	r := *shot
	var k rules.Known
	var all []light
	for i, f := range filters {
		for _, iso := range isos {
			dialLight(&r, iso, f)
			facts.Refill(&r, t.choice)
			if len(all) == 0 {
				t.parts.Look(&r, &k)
			}
			worth := t.parts.Factor(byChoice, &r, &k, 0)
			all = append(all, light{math.Log2(iso) - f.Stops, worth, iso, i})
		}
	}
	base := shot.Value[facts.BaseISO]
	better := func(a, b light) int {
		return cmp.Or(cmp.Compare(b.worth, a.worth), cmp.Compare(filters[a.filter].Pieces, filters[b.filter].Pieces),
			cmp.Compare(math.Abs(math.Log2(a.iso/base)), math.Abs(math.Log2(b.iso/base))), cmp.Compare(a.iso, b.iso))
	}
	const same = 1e-9 // stops
	slices.SortStableFunc(all, func(a, b light) int {
		if math.Abs(a.taken-b.taken) > same {
			return cmp.Compare(a.taken, b.taken)
		}
		return better(a, b)
	})
	every := slices.Clone(all)
	all = slices.CompactFunc(all, func(a, b light) bool { return math.Abs(a.taken-b.taken) <= same })
	l := &Lights{choices: all, below: make([]float64, len(all)), above: make([]float64, len(all)), all: every}
	most := 0.0
	for i := range all {
		most = max(most, all[i].worth)
		l.below[i] = most
		if better(all[i], all[l.best]) < 0 {
			l.best = i
		}
	}
	most = 0
	for i := len(all) - 1; i >= 0; i-- {
		most = max(most, all[i].worth)
		l.above[i] = most
	}
	return l
}
