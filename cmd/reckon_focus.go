package cmd

import (
	"fmt"
	"math"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
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
	needs:  []string{"focal"},
	takes:  []string{"aperture", "confusion", "sensor", "distance", "range", "infinity"},
	run:    focusOf,
	extend: (*app).offerScale,
}

func focusOf(r *reading) reckoning {
	p, focal, stop := r.printer, r.quantity("focal"), r.quantity("aperture")
	confusion := r.confusion()
	distance := r.quantity("distance")
	r.beyondFocal(distance, focal)
	near, far := r.sharpRange(focal)
	where := r.oneOf("the place to focus", "distance", "range", "infinity")
	if where != "range" {
		r.need("aperture")
	}
	if r.failed() {
		return reckoning{}
	}

	f, c := focal.Value, confusion
	mark, used, given := math.Inf(1), stop.Value, math.NaN()
	switch where {
	case "distance":
		mark = distance.Value
	case "range":
		mark, used, given = optics.FocusMark(near, far), optics.StopFor(f, c, near, far), stop.OrNaN()
	}
	answer := used
	sharpNear, sharpFar := near, far // exactly, where the stop is solved for them
	if stop.Known() {
		used = stop.Value
		sharpNear, sharpFar = optics.Limits(f, used, c, mark)
	}
	outcome := reckoning{
		title: "Depth of field",
		given: []line{{label: "focal length", key: "focal_mm", value: travel.FigureOf(f, "mm")}},
		result: []line{
			{key: "aperture", value: travel.FigureOf(answer, "")}, // as given; for a range, the widest that holds it
			{key: "given_aperture", value: travel.FigureOf(given, ""), optional: true},
			{label: "focus at", tone: show.Strong, key: "focus_at_m", value: travel.FigureOf(mark, "m")},
			{key: "focus_at_unbounded", value: travel.Unbounded(mark), optional: true},
		},
		formula: "H = f²/(N·c) + f; near, far = s·h/(h ± (s−f)) with h = f²/(N·c); mark = 2·near·far/(near+far)",
		source:  "thin lens: Photography (Basic), NAVEDTRA 14209, with the terms in f that it leaves out",
	}
	if stop.Known() {
		outcome.given = append(outcome.given, line{label: "stop", value: travel.FigureOf(stop.Value, stop.Unit)})
	}
	outcome.given = append(outcome.given, line{label: "circle of confusion", key: "confusion_mm", value: travel.FigureOf(c, "mm")})
	if where == "range" {
		outcome.given = append(outcome.given, line{label: "to hold", text: p.Quantity(near, "m") + " to " + p.Quantity(far, "m")})
		outcome.result = append(outcome.result, line{label: "widest stop that holds it", text: markedStop(p, exposure.NextMarked(answer), answer, "f/"), tone: show.Strong})
	}
	outcome.result = append(outcome.result,
		line{label: fmt.Sprintf("sharp at f/%.3g", used), text: wording.Between(sharpNear, sharpFar, p), tone: show.Strong,
			key: "near_m", value: travel.FigureOf(sharpNear, "m")},
		line{key: "far_m", value: travel.FigureOf(sharpFar, "m")},
		line{key: "far_unbounded", value: travel.Unbounded(sharpFar), optional: true},
		line{label: "hyperfocal distance", key: "hyperfocal_m", value: travel.FigureOf(optics.Hyperfocal(f, used, c), "m")},
	)
	if where == "range" && stop.Known() {
		outcome.notes = append(outcome.notes, holdsNote(stop.Value, answer))
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
	given := r.quantity("confusion")
	sensor := r.frame("sensor")
	if r.oneOf("the circle of confusion", "confusion", "sensor") == "sensor" {
		return optics.Confusion(frameOf(sensor), optics.ConfusionDivisor)
	}
	return given.OrNaN()
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
