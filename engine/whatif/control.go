package whatif

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/engine/motion"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// A Control is a figure of a brief that may be moved.
type Control struct {
	Key    string  `json:"key"`    // in a fragment, as it stands there: "4A.distance", "carry"
	Shot   int     `json:"shot"`   // place of its shot in the brief, from 1; 0 for what holds for all shots
	Name   string  `json:"name"`   // what it is, as "distance": the keyword of the file where there is one
	Label  string  `json:"label"`  // the same for people
	Choice bool    `json:"choice"` // it is one of the texts of its ladder; otherwise a figure
	Saved  []Value `json:"saved"`  // one, or the near and the far end
	Ladder string  `json:"ladder"` // its steps, in [Plan.Ladders]
	Unit   string  `json:"unit"`   // of its figures; a bare number of a fragment is not in it, for the file wants units
	May    bool    `json:"may"`    // it may be left to the engine, by an empty text

	set       *setter
	was       string // what the file says, "" where it does not
	at        shotText
	criterion *rules.Criterion // of a weight
}

// A Value is a figure in the unit of its control. Text is as the file writes it, without the unit where
// that is the control's; Spoken is for people.
type Value struct {
	Value  float64 `json:"value"` // 0 for a choice, and for what is left to the engine
	Text   string  `json:"text"`
	Spoken string  `json:"spoken"`
}

// A setter is a kind of control: how its text is checked and written.
type setter struct {
	name, label string
	dim         lang.Dimension
	unit        string
	most        int // values that it takes in the file
	may         bool
}

var (
	distance = &setter{name: "distance", label: "distance", dim: lang.Length, unit: "m", most: 2}
	light    = &setter{name: "light", label: "light", dim: lang.Illuminance, unit: "lx", most: 10}
	speed    = &setter{name: "speed", label: "speed", dim: lang.Speed, unit: "m/s", most: 1}
	pan      = &setter{name: "speed", label: "speed of the pan", dim: lang.AngularSpeed, unit: "deg/s", most: 1}
	carry    = &setter{name: "carry", label: "number of lenses", dim: lang.Plain, most: 1}
	camera   = &setter{name: "camera", label: "camera", most: 1}
	weight   = &setter{name: "weight", label: "weight", dim: lang.Plain, most: 1}
	stop     = &setter{name: "stop", label: "stop", dim: lang.Aperture, most: 1, may: true}
	lens     = &setter{name: "lens", label: "lens", most: 1, may: true}
)

// shotText is the text of a shot in the file.
type shotText struct {
	block *lang.Block
	move  *lang.Statement
}

// tape holds the steps of a slider of distances: each step, and the distance up to which it goes, in metres.
var tape = []struct{ step, to float64 }{{0.05, 2}, {0.1, 5}, {0.5, 20}, {1, 50}, {5, 200}}

// ladder makes the steps of a figure.
func ladder(p lang.Printer, of *setter, values []float64) []Value {
	steps := make([]Value, len(values))
	for i, v := range values {
		steps[i] = valueOf(p, of, v)
	}
	return steps
}

// valueOf writes a figure in the unit of its control.
func valueOf(p lang.Printer, of *setter, value float64) Value {
	return Value{Value: value, Text: number(value), Spoken: spoken(p, of, value)}
}

func spoken(p lang.Printer, of *setter, value float64) string {
	unit, _ := lang.FindUnit(of.unit)
	switch of {
	case distance:
		other := lang.Printer{System: lang.Imperial}
		if p.System == lang.Imperial {
			other.System = lang.Metric
		}
		return p.Quantity(value, "m") + ", " + other.Quantity(value, "m")
	case carry:
		return counted(value)
	case light, speed, pan:
		return p.Quantity(value*unit.Factor, of.unit)
	}
	return number(value)
}

func counted(lenses float64) string {
	if lenses == 1 {
		return "1 lens"
	}
	return number(lenses) + " lenses"
}

// number writes a figure of a step, which has few digits, without the rounding of its sum.
func number(value float64) string {
	return strconv.FormatFloat(math.Round(value*1e6)/1e6, 'f', -1, 64)
}

func distances() (all []float64) {
	from := 0.3
	for _, t := range tape {
		for n := math.Round(from / t.step); n*t.step < t.to-1e-9; n++ {
			all = append(all, n*t.step)
		}
		from = t.to
	}
	return append(all, from)
}

// lights are thirds of a stop, from the darkest night to the sun on snow, to two digits.
func lights() (all []float64) {
	for third := -20; third <= 50; third++ {
		lux := 2.5 * math.Exp2(float64(third)/3)
		unit := math.Pow(10, math.Floor(math.Log10(lux))-1)
		all = append(all, math.Round(lux/unit)*unit)
	}
	return slices.Compact(all)
}

func evenly(from, step, to float64) (all []float64) {
	for n := 0.0; from+n*step <= to+1e-9; n++ {
		all = append(all, from+n*step)
	}
	return all
}

// mostCarried is the most lenses that the language lets a scenario carry.
const mostCarried = 6

// controls lists what may be moved of a scenario, in the order of the file.
func (p *Plan) controls(printer lang.Printer) {
	p.Ladders = map[string][]Value{
		"distance": ladder(printer, distance, distances()),
		"light":    ladder(printer, light, lights()),
		"speed":    ladder(printer, speed, append(evenly(0.1, 0.1, 2), evenly(2.2, 0.2, 6)...)),
		"pan":      ladder(printer, pan, append(evenly(-60, 5, -5), evenly(5, 5, 60)...)),
		"carry":    ladder(printer, carry, evenly(1, 1, mostCarried)),
		"weight":   ladder(printer, weight, append(append([]float64{0.01, 0.1}, evenly(0.25, 0.25, 2)...), evenly(2.5, 0.5, 12)...)),
	}
	free := Value{Spoken: "the best"}
	stops := []Value{free}
	for _, n := range exposure.StopsWithin(0.7, 32) {
		text := printer.Quantity(n, "f/")
		stops = append(stops, Value{n, text, text})
	}
	lenses := []Value{free}
	for _, of := range p.Scenario.Catalogue.Lenses.All() {
		if name := of.Name.Value; !p.Scenario.Limits.Bars(of) {
			lenses = append(lenses, Value{Text: name, Spoken: name})
		}
	}
	p.Ladders["stop"], p.Ladders["lens"] = stops, lenses
	head := p.block("scenario", "")
	if cameras := p.Scenario.Cameras; len(cameras) > 1 {
		var steps []Value
		for _, c := range cameras {
			steps = append(steps, Value{Text: c.Name.Value, Spoken: c.Name.Value})
		}
		p.Ladders["camera"] = steps
		p.add(Control{Key: "camera", Choice: true, Saved: steps[:1], Ladder: "camera", set: camera, was: lang.Quote(steps[0].Text), at: shotText{block: head}})
	}
	most := float64(p.Scenario.Limits.Carry)
	p.add(Control{Key: "carry", Saved: []Value{valueOf(printer, carry, most)}, Ladder: "carry", set: carry, was: saying(head, "carry"), at: shotText{block: head}})
	criteria := p.Scenario.Rules.Criteria()
	for i := range criteria {
		if c := criteria[i]; len(c.Scores) > 0 {
			saved := valueOf(printer, weight, c.Weight)
			p.add(Control{Key: weightKey + "." + escape(c.Name), Label: "weight of " + c.Name, Saved: []Value{saved}, Ladder: "weight", set: weight, was: saved.Text, criterion: c})
		}
	}
	for i, shot := range p.Scenario.Shots {
		p.shot(i, shot, printer)
	}
}

// shot adds the controls of a shot.
func (p *Plan) shot(i int, shot *brief.Shot, printer lang.Printer) {
	at := shotText{block: p.block("shot", shot.ID)}
	for _, s := range at.block.Statements {
		if s.Keyword.Value == "move" {
			at.move = s
		}
	}
	add := func(c Control) {
		c.Key, c.Shot, c.at = escapeShot(shot.ID)+"."+c.set.name, i+1, at
		p.add(c)
	}
	near, far := shot.Near, shot.Far
	if shot.Room != nil {
		near, far = shot.Room.Near, shot.Room.Far
	}
	add(Control{Saved: valuesOf(printer, distance, saying(at.block, "distance"), near, far), Ladder: "distance", set: distance, was: saying(at.block, "distance")})
	add(Control{Saved: valuesOf(printer, light, saying(at.block, "light"), shot.Light), Ladder: "light", set: light, was: saying(at.block, "light")})
	switch {
	case at.move == nil:
	case shot.Move.Way != motion.Standing:
		add(Control{Saved: valuesOf(printer, speed, shot.Move.Speed.Span.Text(), shot.Move.Pace()), Ladder: "speed", set: speed, was: shot.Move.Speed.Span.Text()})
	case shot.Move.Turn.Known():
		add(Control{Saved: valuesOf(printer, pan, shot.Move.Turn.Span.Text(), shot.Move.Turn.Value), Ladder: "pan", set: pan, was: shot.Move.Turn.Span.Text()})
	}
	for _, of := range []*setter{stop, lens} {
		was := saying(at.block, of.name)
		c := Control{Choice: true, Ladder: of.name, set: of, was: was}
		c.Saved = []Value{c.chosen(was)}
		add(c)
	}
}

// valuesOf gives figures in the unit of their control, with the text of the file where that is in another
// unit or no number.
func valuesOf(p lang.Printer, of *setter, text string, values ...float64) []Value {
	unit := lang.Unit{Factor: 1}
	if of.unit != "" {
		unit, _ = lang.FindUnit(of.unit)
	}
	interval, err := lang.ParseInterval(of.name, strings.TrimPrefix(text, "within "), of.dim)
	all := make([]Value, len(values))
	for i, v := range values {
		all[i] = Value{Value: v / unit.Factor, Spoken: spoken(p, of, v/unit.Factor)}
		all[i].Text = number(all[i].Value)
		q := interval.Low
		if i > 0 {
			q = interval.High
		}
		switch {
		case err != nil: // a name, or the sun
			all[i].Text = text
		case q.Unit != of.unit:
			all[i].Text = q.Span.Text()
		default:
			all[i].Text = strings.TrimSpace(strings.TrimSuffix(q.Span.Text(), of.unit))
		}
	}
	return all
}

func (p *Plan) add(c Control) {
	c.Name, c.Label, c.Unit, c.May = c.set.name, cmp.Or(c.Label, c.set.label), c.set.unit, c.set.may
	p.Controls = append(p.Controls, c)
}

// block gives the block of the file with a keyword, and of shots the one that is called so.
func (p *Plan) block(keyword, id string) *lang.Block {
	for _, s := range p.file.Statements {
		if s.Keyword.Value == keyword && s.Block != nil && (id == "" || s.Values[0].Parts[0].Text == id) {
			return s.Block
		}
	}
	panic(fmt.Sprintf("no block %s %q in a file that was read", keyword, id)) // a scenario that loads has it
}

// saying gives the values of the first statement of a keyword as they are written, "" for none.
func saying(block *lang.Block, keyword string) string {
	for _, s := range block.Statements {
		if s.Keyword.Value == keyword && len(s.Values) > 0 {
			return s.Values[0].Span.To(s.Values[len(s.Values)-1].Span).Text()
		}
	}
	return ""
}

// chosen gives what a text of a choice says.
func (c *Control) chosen(text string) Value {
	if name, ok := lang.Unquote(text); ok {
		text = name
	}
	if text == "" {
		return Value{Spoken: "the best"}
	}
	return Value{Text: text, Spoken: text}
}

// frames reports whether the control moves what all shots are judged in.
func (c *Control) frames() bool { return c.set == camera || c.set == weight }

// Values gives the figures of a text of the control: one, or both ends. A text that is no figure is
// shown as it stands.
func (c *Control) Values(text string, p lang.Printer) []Value {
	if c.Choice {
		return []Value{c.chosen(text)}
	}
	bare := strings.TrimPrefix(text, "within ")
	interval, err := lang.ParseInterval(c.Name, bare, c.set.dim)
	if err != nil {
		return []Value{{Text: text, Spoken: text}}
	}
	values := []float64{interval.Low.OrNaN(), interval.High.OrNaN()}[:len(c.Saved)]
	return valuesOf(p, c.set, bare, values...)
}
