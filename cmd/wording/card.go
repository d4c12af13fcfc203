package wording

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// A Line is one thing to set or to know on a card: what it is, and how it is.
type Line struct{ Name, Text string }

// Card says how a shot is set up, line by line: the lens and what to set on it, the floor,
// the camera, the picture, the rig, and the swap before it. A card without a lens has none.
func Card(r *engine.Recommendation, c *floor.Card, p lang.Printer) []Line {
	if c.Use == nil {
		return nil
	}
	w := writer{r: r, c: c, j: c.Use, p: p}
	w.lens()
	w.floor()
	w.camera()
	w.exposure()
	w.picture()
	w.rig()
	if c.Swap != nil {
		w.line("swap", "%s", Swap(c.Swap, p))
	}
	return w.lines
}

type writer struct {
	r     *engine.Recommendation
	c     *floor.Card
	j     *engine.Judgement
	p     lang.Printer
	lines []Line
}

func (w *writer) line(name, format string, args ...any) {
	w.lines = append(w.lines, Line{name, fmt.Sprintf(format, args...)})
}

func (w *writer) fact(id facts.ID) string { return Fact(w.j, id, w.p) }

func (w *writer) metres(x float64) string { return w.p.Quantity(x, "m") }

func (w *writer) lens() {
	lens := LensAt(w.j, w.p)
	if w.j.Fact(facts.IsZoom) == 0 {
		lens += ", " + w.p.Quantity(w.c.Focal, "mm")
	}
	if a := w.j.Fitting.Adapter; a != nil {
		lens += " on " + a.Name.Value
	}
	if factor := w.j.Fitting.Factor; factor != 1 {
		lens += fmt.Sprintf(": set it to %s, it acts as %s", w.p.Quantity(w.c.Focal, "mm"), w.fact(facts.FocalLength))
	}
	w.line("lens", "%s", lens)
	stop := w.fact(facts.Stop)
	if w.c.Ring != w.j.Fact(facts.Stop) {
		stop = fmt.Sprintf("%s on the lens, acts as %s", w.p.Quantity(w.c.Ring, "f/"), stop)
	}
	if !math.IsNaN(w.j.Fact(facts.TStop)) {
		stop += ", " + w.fact(facts.TStop)
	}
	if w.c.Filters.Close > 0 {
		stop += fmt.Sprintf("; close %s more for light", w.p.Quantity(w.c.Filters.Close, "stops"))
	}
	w.line("stop", "%s", stop)
	how := map[facts.Focus]string{facts.Fixed: "set once at", facts.Pulled: "pulled; nearest with", facts.Auto: "automatic; nearest with"}[w.c.Shot.Focus]
	w.line("focus", "%s %s, sharp from %s to %s", how, w.fact(facts.FocusMark), w.fact(facts.NearLimit), w.fact(facts.FarLimit))
	w.line("circle of confusion", "%s", w.fact(facts.Confusion))
}

func (w *writer) floor() {
	plan, walk := &w.c.Plan, &w.c.Walk
	switch {
	case !walk.Known():
		w.line("walk", "focus and framing hold together nowhere")
	default:
		w.line("walk", "%s to %s from the sensor plane; nearer loses %s, farther %s",
			w.metres(walk.Near), w.metres(walk.Far), List(walk.NearBreaks, "and"), List(walk.FarBreaks, "and"))
	}
	if !math.IsNaN(plan.Circle) {
		text := fmt.Sprintf("%s to the sensor plane, %s to the front of the lens", w.metres(plan.Circle), w.metres(plan.LensCircle))
		if lap := plan.Path.Duration(); !math.IsInf(lap, 1) {
			text += fmt.Sprintf("; once round in %.0f s", lap)
		}
		w.line("circle", "%s", text)
	}
	if plan.Start == plan.End {
		w.line("marks", "%s", w.metres(plan.Start))
	} else {
		w.line("marks", "start %s, end %s", w.metres(plan.Start), w.metres(plan.End))
	}
	room := w.metres(plan.LensRoom) + " from the front of the lens"
	if !math.IsNaN(plan.RigRoom) {
		room += ", " + w.metres(plan.RigRoom) + " from the plates"
	}
	w.line("room at the nearest", "%s", room)
	if !math.IsNaN(plan.Passage) {
		w.line("passage", "%s wide, the move takes %s: %s to spare on each side",
			w.metres(plan.Passage), w.metres(plan.PassageNeeds), w.metres(plan.Spare()))
	}
}

// camera says what is other in this shot than in the rest of the day.
func (w *writer) camera() {
	if w.c.Shot.Mode != w.r.Scenario.Mode {
		w.line("sensor mode", "%s", w.r.Camera.Mode(w.c.Shot.Mode).Name.Value)
	}
	if w.c.Shot.Support != facts.Sled {
		w.line("support", "%s", map[facts.Support]string{facts.Docked: "the sled in its dock", facts.Legs: "on legs, off the sled"}[w.c.Shot.Support])
	}
}

func (w *writer) exposure() {
	f := &w.c.Filters
	iso := "set it by the meter"
	if !math.IsNaN(f.ISO) {
		iso = fmt.Sprintf("%.0f", f.ISO)
	}
	w.line("ISO", "%s", iso)
	w.line("shutter", "1/%.0f s: %.4g deg at %s", 1/w.j.Fact(facts.ShutterTime), w.c.Shot.Shutter*180/math.Pi, w.p.Quantity(w.c.Shot.Rate, "fps"))
	w.line("ND", "%s", filterText(f, w.p))
	if !math.IsNaN(w.c.Shot.Light) {
		w.line("light", "%s, %s at ISO 100", w.p.Quantity(w.c.Shot.Light, "lx"), w.p.Quantity(w.j.Fact(facts.LightEV), "EV"))
	}
}

func filterText(f *floor.Filters, p lang.Printer) string {
	if !(f.Needed > 0) {
		return "none"
	}
	var pieces []string
	for _, piece := range f.All() {
		pieces = append(pieces, piece.Name.Value)
	}
	text := "none on the lens"
	if pieces != nil {
		text = List(pieces, "and")
	}
	if f.Turn {
		text += ", turned to " + p.Quantity(f.Strength, "stops") + " in all"
	}
	return fmt.Sprintf("%s (%s too much at base ISO)", text, p.Quantity(f.Needed, "stops"))
}

func (w *writer) picture() {
	var parts []string
	if share := w.j.Fact(facts.BobShare); share > 0 {
		parts = append(parts, "rises and falls by "+w.fact(facts.BobShare)+" of its height")
	}
	if share := w.j.Fact(facts.WobbleShare); share > 0 {
		parts = append(parts, "swings by "+w.fact(facts.WobbleShare)+" of its width")
	}
	if crossing := w.j.Fact(facts.CrossingTime); !math.IsInf(crossing, 1) && !math.IsNaN(crossing) {
		verdict := "slow enough"
		if w.j.Fact(facts.Pace) < 1 {
			verdict = "it may strobe"
		}
		parts = append(parts, fmt.Sprintf("background crosses it in %s, rule %s, %s; trail %s a frame",
			w.fact(facts.CrossingTime), w.p.Quantity(w.j.Fact(facts.CrossingLimit), "s"), verdict, w.fact(facts.BlurPerFrame)))
	}
	if parts != nil {
		w.line("picture", "%s", strings.Join(parts, "; "))
	}
}

func (w *writer) rig() {
	r := w.c.Rig
	w.line("on the stage", "%s", w.fact(facts.RigMass)+" of "+w.fact(facts.PayloadLow)+" to "+w.fact(facts.PayloadHigh))
	switch {
	case r.Trimmed:
		w.line("trim", "%s, post %s deep%s, stage %s; drops in %s", Counted(r.Trim.Plates, "plate"), millimetres(r.Trim.Post, w.p),
			lowMode(r), shiftText(r.Shift, w.p), w.p.Quantity(r.Trim.Drop, "s"))
	case len(r.Lacks) > 0:
		w.line("trim", "not known: see below")
	case !math.IsNaN(r.Shortest):
		w.line("trim", "out of reach: drops in %s to %s", w.p.Quantity(r.Shortest, "s"), w.p.Quantity(r.Longest, "s"))
	default:
		w.line("trim", "out of reach: tips over")
	}
	if r.Tilt != 0 {
		w.line("left to hang", "%s", tiltText(r.Tilt))
	}
}

func lowMode(r *floor.Rigging) string {
	if r.Inverted {
		return ", upside down"
	}
	return ""
}

// leastShift is what a hand can set on a rig, in metres.
const leastShift = 0.0005

func shiftText(shift float64, p lang.Printer) string {
	switch {
	case math.Abs(shift) < leastShift:
		return "in its middle"
	case shift < 0:
		return millimetres(-shift, p) + " back"
	}
	return millimetres(shift, p) + " forward"
}

// millimetres writes a length as a hand sets it on a rig.
func millimetres(length float64, p lang.Printer) string {
	return p.Quantity(math.Round(length*1e3)/1e3, "mm")
}

func tiltText(tilt float64) string {
	end := "nose down"
	if tilt < 0 {
		end = "nose up"
	}
	return fmt.Sprintf("%.0f deg %s", math.Abs(tilt)*180/math.Pi, end)
}

// SwapSteps says what a change of lens takes on the rig.
func SwapSteps(s *floor.Swap, p lang.Printer) string {
	var parts []string
	if s.From != s.To {
		parts = append(parts, s.From+" to "+s.To)
	}
	switch {
	case !s.Known:
		parts = append(parts, "plates, post and stage by drop test")
	default:
		if s.Plates != 0 {
			parts = append(parts, fmt.Sprintf("%+d plates", s.Plates))
		}
		if s.Post >= leastShift {
			parts = append(parts, "post out "+millimetres(s.Post, p))
		} else if s.Post <= -leastShift {
			parts = append(parts, "post in "+millimetres(-s.Post, p))
		}
		if math.Abs(s.Shift) >= leastShift {
			parts = append(parts, "stage "+shiftText(s.Shift, p))
		}
	}
	return strings.Join(parts, ", ")
}

// Swap says what a change of lens takes on the rig, how long, and how the rig would hang
// without it.
func Swap(s *floor.Swap, p lang.Printer) string {
	text := fmt.Sprintf("%s; about %s min", SwapSteps(s, p), p.Quantity(s.Minutes, ""))
	switch {
	case !s.Known:
	case math.IsNaN(s.Tilt):
		text += "; left as it was, it tips over"
	case s.Tilt != 0:
		text += "; left as it was, it hangs " + tiltText(s.Tilt)
	}
	return text
}

// Bolt says where on the camera the middle of the stage goes, once for all cards.
func Bolt(cards []floor.Card, p lang.Printer) string {
	for _, c := range cards {
		if c.Rig != nil && !math.IsNaN(c.Rig.Bolt) {
			side := "behind"
			if c.Rig.Bolt < 0 {
				side = "ahead of"
			}
			return fmt.Sprintf("Bolt the camera so that the point %s %s its lens flange is over the middle of the stage; shifts count from there.",
				millimetres(math.Abs(c.Rig.Bolt), p), side)
		}
	}
	return ""
}

// SwapLimits says how the minutes of a swap are counted.
const SwapLimits = "Minutes are counted by steps, as common practice has them: 2 for a lens, 1 each for an adapter and for plates, " +
	"1/2 each for filters, post and stage, 3 for low mode, 1 for the drop test. Time your own."
