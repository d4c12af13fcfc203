package cmd

import (
	"glassbrief/engine/motion"
	"glassbrief/engine/optics"
	"glassbrief/lang"
)

var reckonPace = calculation{
	name:  "pace",
	short: "how fast the picture moves, and whether it will strobe",
	long: `How long a thing takes to cross the whole width of the picture: past the camera
at --distance, in a pan at --turn, or behind the subject of an --orbit. Without
--rate and --shutter they are 24fps and 180deg.`,
	example: `  glassbrief reckon pace --focal 50mm --sensor "24.89mm x 18.67mm" \
    --speed 1.4m/s --distance 3m
  glassbrief reckon pace --focal 50mm --sensor "24.89mm x 18.67mm" --turn 4deg/s
  glassbrief reckon pace --focal 24mm --sensor "36mm x 24mm" --orbit 2m \
    --speed 1m/s`,
	flags: []string{"focal", "sensor", "speed", "distance", "orbit", "turn", "rate", "shutter"},
	run:   paceOf,
}

type paceData struct {
	reckonHeader
	Crossing   number `json:"crossing_s"`
	Limit      number `json:"limit_s"`
	Blur       number `json:"blur_pct"` // of the picture's width, in one frame
	WithinRule bool   `json:"within_rule"`
	Shutter    number `json:"shutter_s"`
}

func paceOf(r *reading) reckoning {
	r.need("focal", "sensor")
	focal := r.quantity("focal", lang.Length)
	sensor := r.frame("sensor")
	distance := r.quantity("distance", lang.Length)
	r.beyondFocal(distance, focal)
	radius := r.quantity("orbit", lang.Length)
	turn := r.quantity("turn", lang.AngularSpeed)
	speed := r.quantity("speed", lang.Speed)
	shutter := r.shutter("24fps", "180deg")
	way := r.exclusive("distance", "turn", "orbit")
	switch way {
	case "":
		r.complain(usage(lang.MissingValue, "the way of moving is missing").
			because("Give one of %s.", flagList([]string{"distance", "turn", "orbit"})))
	case "turn":
		r.exclusive("turn", "speed")
	default:
		r.need("speed")
	}
	if shutter.time > 1/shutter.rate*(1+1e-9) {
		r.complain(usage(lang.Contradiction, "%q is longer than a frame", r.text("shutter")).
			because("At this frame rate a shutter is open for at most 1/%s s.", lang.Printer{}.Quantity(shutter.rate, "")).at(r.span("shutter")))
	}
	if r.failed() {
		return reckoning{}
	}

	width := sensor.Width.Value
	var crossing, pace float64
	var unit, how string
	switch way {
	case "distance":
		pace, unit, how = speed.Value, "m/s", "past what is "+r.text("distance")+" away"
		crossing = motion.LateralCrossing(optics.Field(focal.Value, width, distance.Value), pace)
	case "turn":
		pace, unit, how = turn.Value, "deg/s", "pan"
		crossing = motion.TurnCrossing(optics.AngleOfView(optics.Rectilinear, focal.Value, width, 0), pace)
	case "orbit":
		pace, unit, how = speed.Value, "m/s", "on a circle of "+r.text("orbit")
		crossing = motion.OrbitCrossing(optics.AngleOfView(optics.Rectilinear, focal.Value, width, 0), pace, radius.Value)
	}
	limit := motion.Limit(shutter.rate, shutter.angle)
	blur := motion.BlurShare(crossing, shutter.time)
	verdict, mark := "slow enough: the crossing takes no less than the rule asks", toneGood
	if crossing < limit {
		verdict, mark = "too fast for detail to stay steady: expect strobing, or follow a subject", toneWarn
	}
	return reckoning{
		title: "Pace of the picture",
		data: paceData{
			reckonHeader: reckonHeaderOf("pace"), Crossing: number(crossing), Limit: number(limit),
			Blur: in(blur, "%"), WithinRule: crossing >= limit, Shutter: number(shutter.time),
		},
		given: func(p lang.Printer) []pair {
			return append([]pair{
				{name: "focal length", value: p.Quantity(focal.Value, "mm") + " on " + sizeText(p, frameOf(sensor))},
				{name: "move", value: p.Quantity(pace, unit) + ", " + how},
			}, shutter.pairs(p)...)
		},
		result: func(p lang.Printer) []pair {
			return []pair{
				{name: "crosses the width in", value: p.Quantity(crossing, "s"), tone: toneStrong},
				{name: "rule asks for", value: p.Quantity(limit, "s")},
				{name: "verdict", value: verdict, tone: mark},
				{name: "fastest within it", value: p.Quantity(pace*crossing/limit, unit)},
				{name: "blur in a frame", value: p.Quantity(blur, "%") + " of the width"},
			}
		},
		formula: "crossing = field/speed, or angle of view/turn; limit = 7 s·(24/rate)·(180°/shutter); blur = shutter time/crossing",
		source:  "seven-second rule for 24 fps and 180°: common practice; carrying it to other rates and shutters is this project's own",
	}
}
