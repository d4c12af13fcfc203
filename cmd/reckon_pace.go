package cmd

import (
	"math"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/motion"
	"glassbrief/engine/optics"
	"glassbrief/lang"
)

var reckonPace = calculation{
	name:  "pace",
	short: "how fast the picture moves, and whether it will strobe",
	long: `How long a thing takes to cross the whole width of the picture: past the camera
at --distance, in a pan at --turn, or behind the subject of an --orbit, where
it is far away or at --background. Without --rate and --shutter they are 24fps
and 180deg.`,
	example: `  glassbrief reckon pace --focal 50mm --sensor "24.89mm x 18.67mm" \
    --speed 1.4m/s --distance 3m
  glassbrief reckon pace --focal 50mm --sensor "24.89mm x 18.67mm" --turn 4deg/s
  glassbrief reckon pace --focal 24mm --sensor "36mm x 24mm" --orbit 2m \
    --background 6m --speed 1m/s`,
	needs: []string{"focal", "sensor"},
	takes: []string{"speed", "distance", "orbit", "background", "turn", "rate", "shutter"},
	run:   paceOf,
}

func paceOf(r *reading) reckoning {
	p, focal, sensor := r.printer, r.quantity("focal"), r.frame("sensor")
	distance := r.quantity("distance")
	r.beyondFocal(distance, focal)
	radius, turn, speed := r.quantity("orbit"), r.quantity("turn"), r.quantity("speed")
	shutter := r.shutter("24fps", "180deg")
	background := r.quantity("background")
	r.beyondFocal(background, focal)
	way := r.oneOf("the way of moving", "distance", "turn", "orbit")
	switch way {
	case "turn":
		r.exclusive("turn", "speed")
		r.exclusive("turn", "background")
	case "distance":
		r.exclusive("distance", "background")
		r.need("speed")
	case "orbit":
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
		if background.Known() {
			how += ", background " + r.text("background") + " away"
		}
		angle := optics.AngleOfView(optics.Rectilinear, focal.Value, width, 0)
		crossing = motion.CircleCrossing(angle, motion.OrbitTurn(pace, radius.Value), radius.Value, background.Or(math.Inf(1)))
	}
	limit := motion.Limit(shutter.rate, shutter.angle)
	blur := motion.BlurShare(crossing, shutter.time)
	verdict, mark := "slow enough: the crossing takes no less than the rule asks", show.Good
	if crossing < limit {
		verdict, mark = "too fast for detail to stay steady: expect strobing, or follow a subject", show.Warn
	}
	return reckoning{
		title: "Pace of the picture",
		given: []line{
			{label: "focal length", text: p.Quantity(focal.Value, "mm") + " on " + sizeText(p, frameOf(sensor))},
			{label: "move", text: p.Quantity(pace, unit) + ", " + how},
			{label: "shutter", text: shutter.text(p)},
		},
		result: []line{
			{label: "crosses the width in", tone: show.Strong, key: "crossing_s", value: travel.FigureOf(crossing, "s")},
			{label: "rule asks for", key: "limit_s", value: travel.FigureOf(limit, "s")},
			{label: "verdict", text: verdict, tone: mark},
			{label: "fastest within it", value: travel.FigureOf(pace*crossing/limit, unit)},
			{label: "blur in a frame", text: p.Quantity(blur, "%") + " of the width", key: "blur_pct", value: travel.FigureOf(blur, "%")},
			{key: "within_rule", value: crossing >= limit},
			{key: "shutter_s", value: travel.FigureOf(shutter.time, "s")},
		},
		formula: "crossing = field/speed, or angle of view/turn; around a circle r before a background at D about angle of view/(v/r - v/D); limit = 7 s·(24/rate)·(180°/shutter); blur = shutter time/crossing",
		source:  "seven-second rule for 24 fps and 180°: common practice; carrying it to other rates and shutters is this project's own",
	}
}
