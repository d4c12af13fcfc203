package cmd

import (
	"fmt"
	"math"

	"glassbrief/engine/exposure"
	"glassbrief/lang"
)

// A shutter is an exposure time, with the angle and the frame rate that belong to it.
type shutter struct{ time, angle, rate float64 }

// shutter takes --shutter as an angle with --rate, or as a time. What is not given is
// rate and angle, each a text like "24fps", or is missed when that is "".
func (r *reading) shutter(rate, angle string) shutter {
	for flag, standard := range map[string]string{"rate": rate, "shutter": angle} {
		if !r.given(flag) && standard != "" {
			r.preset(flag, standard)
		}
	}
	r.need("shutter")
	s := shutter{rate: r.quantity("rate").OrNaN()}
	if time, err := lang.ParseQuantity("--shutter", r.text("shutter"), lang.Time); err == nil {
		r.positive(time)
		s.time, s.angle = time.Value, 2*math.Pi*time.Value*s.rate
		return s
	}
	opening := r.quantity("shutter")
	if opening.Known() && opening.Value > 2*math.Pi*(1+1e-9) {
		r.complain(usage(lang.OutOfRange, "%q is more than a whole turn", opening.Span.Text()).
			because("A shutter is open for at most 360deg of its turn.").at(opening.Span))
	}
	r.need("rate")
	s.angle, s.time = opening.OrNaN(), exposure.ShutterTime(opening.OrNaN(), s.rate)
	return s
}

func (s shutter) text(p lang.Printer) string {
	value := p.Quantity(s.time, "s")
	if s.time < 1 {
		value = "1/" + p.Quantity(1/s.time, "") + " s"
	}
	if !math.IsNaN(s.angle) {
		value += ", " + fmt.Sprintf("%.4g deg at ", s.angle*180/math.Pi) + p.Quantity(s.rate, "fps")
	}
	return value
}
