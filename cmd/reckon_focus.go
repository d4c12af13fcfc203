package cmd

import (
	"fmt"
	"math"

	"glassbrief/engine/exposure"
	"glassbrief/engine/optics"
	"glassbrief/lang"
)

var reckonFocus = calculation{
	name:  "focus",
	short: "what is sharp, and the stop that holds a range",
	long: `With --distance or --infinity: what is sharp when the lens is focused there.
With --range: the focus mark that splits it evenly and the widest stop that
holds all of it. With --scale: near and far at every mark and stop of a lens, to
tape on one that has none. The circle of confusion is given as --confusion, or
is the diagonal of --sensor divided by 1500.`,
	example: `  glassbrief reckon focus --focal 35mm --sensor "36mm x 24mm" --range 2m..4m
  glassbrief reckon focus --focal 50mm --aperture f/8 --confusion 0.03mm \
    --distance 3m
  glassbrief reckon focus --focal 15mm --aperture f/8 --sensor "36mm x 24mm" \
    --infinity
  glassbrief reckon focus --scale --lens "Wide 18" --sensor "24.89mm x 10.41mm"`,
	flags: []string{"focal", "aperture", "confusion", "sensor", "distance", "range", "infinity"},
	run:   focusOf,
}

type focusData struct {
	reckonHeader
	Focal          number  `json:"focal_mm"`
	Confusion      number  `json:"confusion_mm"`
	Aperture       number  `json:"aperture"` // as given; for a range, the widest that holds it
	Given          *number `json:"given_aperture,omitempty"`
	FocusAt        number  `json:"focus_at_m"`
	FocusUnbounded bool    `json:"focus_at_unbounded,omitempty"`
	Near           number  `json:"near_m"`
	Far            number  `json:"far_m"`
	FarUnbounded   bool    `json:"far_unbounded,omitempty"`
	Hyperfocal     number  `json:"hyperfocal_m"`
}

func focusOf(r *reading) reckoning {
	r.need("focal")
	focal := r.quantity("focal", lang.Length)
	stop := r.quantity("aperture", lang.Aperture)
	confusion := r.confusion()
	distance := r.quantity("distance", lang.Length)
	r.beyondFocal(distance, focal)
	near, far := r.sharpRange(focal)
	where := r.exclusive("distance", "range", "infinity")
	if where == "" {
		r.complain(usage(lang.MissingValue, "the place to focus is missing").
			because("Give one of %s.", flagList([]string{"distance", "range", "infinity"})))
	}
	if where != "range" {
		r.need("aperture")
	}
	if r.failed() {
		return reckoning{}
	}

	f, c := focal.Value, confusion
	data := focusData{reckonHeader: reckonHeaderOf("focus"), Focal: in(f, "mm"), Confusion: in(c, "mm")}
	needed, mark, used := math.NaN(), math.Inf(1), stop.Value
	switch where {
	case "distance":
		mark = distance.Value
	case "range":
		needed, mark = optics.StopFor(f, c, near, far), optics.FocusMark(near, far)
		if stop.Known() {
			data.Given = some(number(stop.Value))
		} else {
			used = needed
		}
	}
	sharpNear, sharpFar := near, far // exactly, where the stop is solved for them
	if stop.Known() {
		sharpNear, sharpFar = optics.Limits(f, used, c, mark)
	}
	hyperfocal := optics.Hyperfocal(f, used, c)
	data.Aperture = number(used)
	if where == "range" {
		data.Aperture = number(needed)
	}
	data.FocusAt, data.FocusUnbounded = number(mark), unbounded(mark)
	data.Near, data.Far, data.FarUnbounded = number(sharpNear), number(sharpFar), unbounded(sharpFar)
	data.Hyperfocal = number(hyperfocal)

	outcome := reckoning{
		title: "Depth of field",
		data:  data,
		given: func(p lang.Printer) []pair {
			given := []pair{{name: "focal length", value: p.Quantity(f, "mm")}}
			if stop.Known() {
				given = append(given, pair{name: "stop", value: p.Quantity(stop.Value, stop.Unit)})
			}
			given = append(given, pair{name: "circle of confusion", value: p.Quantity(c, "mm")})
			if where == "range" {
				given = append(given, pair{name: "to hold", value: p.Quantity(near, "m") + " to " + p.Quantity(far, "m")})
			}
			return given
		},
		result: func(p lang.Printer) []pair {
			result := []pair{{name: "focus at", value: p.Quantity(mark, "m"), tone: toneStrong}}
			if where == "range" {
				result = append(result, pair{name: "widest stop that holds it", value: markedStop(p, exposure.NextMarked(needed), needed, "f/"), tone: toneStrong})
			}
			return append(result,
				pair{name: fmt.Sprintf("sharp at f/%.3g", used), value: p.Quantity(sharpNear, "m") + " to " + p.Quantity(sharpFar, "m"), tone: toneStrong},
				pair{name: "hyperfocal distance", value: p.Quantity(hyperfocal, "m")},
			)
		},
		formula: "H = f²/(N·c) + f; near, far = s·h/(h ± (s−f)) with h = f²/(N·c); mark = 2·near·far/(near+far)",
		source:  "thin lens: Photography (Basic), NAVEDTRA 14209, with the terms in f that it leaves out",
	}
	if where == "range" && stop.Known() {
		outcome.notes = append(outcome.notes, holdsNote(stop.Value, needed))
	}
	if stop.Unit == "T" {
		outcome.notes = append(outcome.notes,
			"Depth of field follows the f-number. The T-number is used in its place: the true f-number is a little lower, and a little less is sharp.")
	}
	return outcome
}

// markedStop writes a stop as lenses have it engraved, and what it is exactly.
func markedStop(p lang.Printer, marked, exact float64, kind string) string {
	text := p.Quantity(marked, kind)
	if math.Abs(exposure.StopsBetween(marked, exact)) > 0.02 {
		text += fmt.Sprintf(" (exactly %.3g)", exact)
	}
	return text
}

// holdsNote says whether a stop holds a range that needs another.
func holdsNote(stop, needed float64) string {
	p := lang.Printer{}
	if stop >= needed*(1-1e-9) {
		return fmt.Sprintf("%s holds the whole range.", p.Quantity(stop, "f/"))
	}
	return fmt.Sprintf("%s does not hold the whole range: stop down to %s.", p.Quantity(stop, "f/"), p.Quantity(exposure.NextMarked(needed), "f/"))
}

// confusion takes the circle of confusion, or makes it from the sensor.
func (r *reading) confusion() float64 {
	given := r.quantity("confusion", lang.Length)
	sensor := r.frame("sensor")
	switch r.exclusive("confusion", "sensor") {
	case "confusion":
		return given.Value
	case "sensor":
		return optics.Confusion(frameOf(sensor), optics.ConfusionDivisor)
	}
	r.complain(usage(lang.MissingValue, "the circle of confusion is missing").
		because("Give %s.", flagList([]string{"confusion", "sensor"})))
	return math.NaN()
}

// sharpRange takes the distances that must be sharp; an open end is infinity.
func (r *reading) sharpRange(focal lang.Quantity) (near, far float64) {
	interval := read(r, "range", func(name, text string) (lang.Interval, error) {
		return lang.ParseInterval(name, text, lang.Length)
	})
	if !interval.Known() {
		return math.NaN(), math.NaN()
	}
	if !interval.Low.Known() {
		r.complain(usage(lang.BadInterval, "%q has no near end", interval.Span.Text()).
			because("Nothing is sharp right up to the lens: write the nearest distance that must be.").at(interval.Span))
	}
	if interval.High.Known() && interval.High.Value == interval.Low.Value {
		r.complain(usage(lang.BadInterval, "%q has no depth", interval.Span.Text()).
			because("Any stop holds a single distance: write two, or give it as --distance.").at(interval.Span))
	}
	r.positive(interval.Low)
	r.beyondFocal(interval.Low, focal)
	return interval.Low.OrNaN(), interval.High.Or(math.Inf(1))
}
