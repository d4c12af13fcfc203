package card

import (
	"math"

	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
)

// A Line is a line of a card, with one value or several that belong together. Cards show
// lines in this order.
type Line uint8

const (
	LensLine Line = iota
	StopLine
	FocusLine
	ConfusionLine
	WalkLine
	CircleLine
	MarksLine
	RoomLine
	PassageLine
	ModeLine
	SupportLine
	ISOLine
	ShutterLine
	NDLine
	LightLine
	PictureLine
	PayloadLine
	TrimLine
	HangLine
	SwapLine

	Lines // how many there are
)

// A Role is what a line is for.
type Role uint8

const (
	Known   Role = iota // good to know
	Dialled             // to set on the gear: these come first
	Walked              // where to walk and to stand, and on what
	Step                // to do on the rig before the shot
)

var roles = [Lines]Role{
	LensLine: Dialled, StopLine: Dialled, FocusLine: Dialled, ISOLine: Dialled, ShutterLine: Dialled, NDLine: Dialled,
	WalkLine: Walked, CircleLine: Walked, MarksLine: Walked, ModeLine: Walked, SupportLine: Walked, SwapLine: Step,
}

// Role gives what the line is for.
func (l Line) Role() Role { return roles[l] }

// Setup lists the values of a card that has a lens, in the order of the JSON.
func Setup() []*Row[floor.Card] { return setup }

// setup is filled by the rows below, in the order in which they stand.
var setup []*Row[floor.Card]

type on = *floor.Card

func say[V any](line Line, key string, of func(on) V) *Row[floor.Card] {
	r := row(key, of)
	r.Line = line
	setup = append(setup, r)
	return r
}

func quantity(line Line, key, unit string, of func(on) float64) *Row[floor.Card] {
	r := say(line, key, of)
	r.Unit = func() string { return unit }
	return r
}

// fact makes a row of a fact, in the fact's own unit.
func fact(line Line, key string, id facts.ID) *Row[floor.Card] {
	r := say(line, key, func(c on) float64 { return c.Use.Fact(id) })
	r.Unit = func() string { return facts.Table()[id].Unit } // the table is not made before it is wanted
	return r
}

// share makes a row of an end of the range of a share of the picture: as much of it as that end is
// of the way that makes it.
func share(line Line, key string, of, way, end facts.ID) *Row[floor.Card] {
	return quantity(line, key, "%", func(c on) float64 {
		if c.Use.Fact(way) == 0 {
			return 0
		}
		return c.Use.Fact(of) * c.Use.Fact(end) / c.Use.Fact(way)
	})
}

// Distances run from the sensor plane unless a comment says otherwise. Unknown is NaN.
var (
	_         = say(LensLine, "lens", func(c on) string { return c.Use.Lens }).column()
	Adapter   = say(LensLine, "adapter", adapter)
	Focal     = fact(LensLine, "focal_mm", facts.FocalLength) // with the adapter
	LensFocal = quantity(LensLine, "lens_focal_mm", "mm", func(c on) float64 { return Focal.Number(c) / c.Use.Fitting.Factor }).column()
	Stop      = fact(StopLine, "aperture", facts.Stop) // with the adapter
	LensStop  = quantity(StopLine, "lens_aperture", "f/", func(c on) float64 { return Stop.Number(c) / c.Use.Fitting.Factor }).column()
	TStop     = fact(StopLine, "t_stop", facts.TStop).column()
	_         = quantity(StopLine, "close_stops", "stops", func(c on) float64 { return 0 }) // nothing beyond that stop: it is the one to set
	Mode      = say(ModeLine, "sensor_mode", func(c on) string { return c.Of.Camera.Mode(c.Shot.Mode).Name.Value })
	_         = say(SupportLine, "support", func(c on) string { return c.Shot.Support.String() })

	_       = say(FocusLine, "focus", func(c on) string { return c.Shot.Focus.String() })
	FocusAt = fact(FocusLine, "focus_at_m", facts.FocusMark).column()
	Near    = fact(FocusLine, "near_m", facts.NearLimit).column().off(limitOff)
	Far     = fact(FocusLine, "far_m", facts.FarLimit).column().off(limitOff)
	_       = say(FocusLine, "far_unbounded", func(c on) bool { return math.IsInf(Far.Number(c), 0) }).optional()
	_       = fact(ConfusionLine, "confusion_mm", facts.Confusion)

	WalkNear  = quantity(WalkLine, "walk_near_m", "m", func(c on) float64 { return c.Walk.Near }).column().off(walkOff(func(c on) []floor.Aspect { return c.Walk.NearLoses }))
	WalkFar   = quantity(WalkLine, "walk_far_m", "m", func(c on) float64 { return c.Walk.Far }).column().off(walkOff(func(c on) []floor.Aspect { return c.Walk.FarLoses }))
	NearLoses = say(WalkLine, "walk_near_loses", func(c on) []string { return names(c.Walk.NearLoses) })
	FarLoses  = say(WalkLine, "walk_far_loses", func(c on) []string { return names(c.Walk.FarLoses) })
	_         = say(WalkLine, "walk_covers_move", func(c on) bool { return c.Walk.Covers })
	_         = say(WalkLine, "walk", func(c on) []floor.Stretch { return c.Walk.Stretches })

	Start        = quantity(MarksLine, "start_m", "m", func(c on) float64 { return c.Plan.Start })
	End          = quantity(MarksLine, "end_m", "m", func(c on) float64 { return c.Plan.End })
	Circle       = quantity(CircleLine, "circle_m", "m", func(c on) float64 { return c.Plan.Circle })
	LensCircle   = quantity(CircleLine, "lens_circle_m", "m", func(c on) float64 { return c.Plan.LensCircle })
	LensRoom     = quantity(RoomLine, "lens_room_m", "m", func(c on) float64 { return c.Plan.LensRoom }).off(constant(roomSlack))
	RigRoom      = quantity(RoomLine, "rig_room_m", "m", func(c on) float64 { return c.Plan.RigRoom }).off(constant(roomSlack))
	Passage      = quantity(PassageLine, "passage_m", "m", func(c on) float64 { return c.Shot.Passage })
	PassageNeeds = quantity(PassageLine, "passage_needs_m", "m", func(c on) float64 { return c.Plan.PassageNeeds }).off(constant(bodySlack))

	ISO     = fact(ISOLine, "iso", facts.ISO).column()
	Shutter = fact(ShutterLine, "shutter_s", facts.ShutterTime).column()
	Angle   = quantity(ShutterLine, "shutter_deg", "deg", func(c on) float64 { return c.Shot.Shutter })
	Rate    = quantity(ShutterLine, "rate_fps", "fps", func(c on) float64 { return c.Shot.Rate })
	_       = quantity(NDLine, "nd_needed_stops", "stops", func(c on) float64 { return floor.NeededND(c.Use) })
	ND      = fact(NDLine, "nd_stops", facts.ND).column() // of the filters, and of that in the camera
	_       = quantity(NDLine, "built_in_nd_stops", "stops", func(c on) float64 { return c.Use.Filtering.BuiltIn })
	_       = say(NDLine, "filters", pieces)
	_       = fact(NDLine, "left_stops", facts.Over)
	_       = fact(NDLine, "short_stops", facts.Short)
	Light   = fact(LightLine, "light_lx", facts.Light).off(ofSky(partly(skySlack)))
	LightEV = fact(LightLine, "ev100", facts.LightEV).off(ofSky(constant(1)))

	Bob      = fact(PictureLine, "picture.bob_pct", facts.BobShare).off(between(facts.BobLow, facts.Bob, facts.BobHigh))
	BobLow   = share(PictureLine, "picture.bob_low_pct", facts.BobShare, facts.Bob, facts.BobLow).off(between(facts.BobLow, facts.Bob, facts.BobHigh))
	BobHigh  = share(PictureLine, "picture.bob_high_pct", facts.BobShare, facts.Bob, facts.BobHigh).off(between(facts.BobLow, facts.Bob, facts.BobHigh))
	Sway     = fact(PictureLine, "picture.sway_pct", facts.SwayShare).off(between(facts.SwayLow, facts.Sway, facts.SwayHigh))
	SwayLow  = share(PictureLine, "picture.sway_low_pct", facts.SwayShare, facts.Sway, facts.SwayLow).off(between(facts.SwayLow, facts.Sway, facts.SwayHigh))
	SwayHigh = share(PictureLine, "picture.sway_high_pct", facts.SwayShare, facts.Sway, facts.SwayHigh).off(between(facts.SwayLow, facts.Sway, facts.SwayHigh))
	Wobble   = fact(PictureLine, "picture.wobble_pct", facts.Swing).off(partly(rigSlack))
	Crossing = fact(PictureLine, "picture.crossing_s", facts.CrossingTime).off(asDistance)
	Limit    = fact(PictureLine, "picture.crossing_limit_s", facts.CrossingLimit).off(constant(ruleSlack))
	Blur     = fact(PictureLine, "picture.blur_pct", facts.BlurPerFrame).off(asDistance)
	Duration = quantity(PictureLine, "picture.duration_s", "s", func(c on) float64 { return c.Plan.Path.Duration() })
	_        = say(PictureLine, "picture.along", func(c on) []floor.Moment { return c.Moments })

	Mass     = fact(PayloadLine, "rig.mass_kg", facts.RigMass).off(constant(scaleSlack)) // on the stage, filters left out
	Least    = fact(PayloadLine, "rig.payload_least_kg", facts.PayloadLow)
	Most     = fact(PayloadLine, "rig.payload_most_kg", facts.PayloadHigh)
	_        = quantity(PayloadLine, "rig.held_kg", "kg", func(c on) float64 { return c.Rig.Held() })
	_        = say(TrimLine, "rig.low_mode", func(c on) bool { return c.Rig.Inverted })
	_        = say(TrimLine, "rig.trimmed", func(c on) bool { return c.Rig.Trimmed })
	_        = say(TrimLine, "rig.plates", func(c on) int { return c.Rig.Trim.Plates }).column()
	Post     = quantity(TrimLine, "rig.post_mm", "mm", func(c on) float64 { return c.Rig.Trim.Post }).column()
	Shift    = quantity(TrimLine, "rig.shift_mm", "mm", func(c on) float64 { return c.Rig.Shift }).column()               // of the stage, forward
	Tilt     = quantity(HangLine, "rig.tilt_deg", "deg", func(c on) float64 { return c.Rig.Tilt }).off(partly(tiltSlack)) // that is left, nose down
	Drop     = quantity(TrimLine, "rig.drop_s", "s", func(c on) float64 { return c.Rig.Trim.Drop }).column().off(dropOff)
	Quickest = quantity(TrimLine, "rig.drop_low_s", "s", func(c on) float64 { return c.Rig.Quickest }).off(dropOff) // with the post off by post_setting_mm
	Slowest  = quantity(TrimLine, "rig.drop_high_s", "s", func(c on) float64 { return c.Rig.Slowest }).off(dropOff)
	_        = say(TrimLine, "rig.drop_unbounded", func(c on) bool { return math.IsInf(c.Rig.Slowest, 1) }).optional() // it may tip over then
	Setting  = quantity(TrimLine, "rig.post_setting_mm", "mm", func(c on) float64 { return floor.PostSetting })
	_        = quantity(TrimLine, "rig.offset_mm", "mm", func(c on) float64 { return c.Rig.Trim.Offset })
	_        = quantity(TrimLine, "rig.inertia_kgm2", "kgm2", func(c on) float64 { return c.Rig.Trim.Inertia })
	Shortest = quantity(TrimLine, "rig.drop_shortest_s", "s", func(c on) float64 { return c.Rig.Shortest }) // within reach
	Longest  = quantity(TrimLine, "rig.drop_longest_s", "s", func(c on) float64 { return c.Rig.Longest })
)

func adapter(c on) string {
	if a := c.Use.Fitting.Adapter; a != nil {
		return a.Name.Value
	}
	return ""
}

func names(list []floor.Aspect) []string {
	said := make([]string, len(list))
	for i, a := range list {
		said[i] = a.String()
	}
	return said
}

// pieces names the filters with the rings they go on, the lens's side first.
func pieces(c on) []string {
	var names []string
	for _, piece := range c.Use.Filtering.All() {
		names = append(names, piece.Name.Value)
	}
	return names
}

// What a swap says in the digits that are known.
var (
	SwapTilt    = row("untrimmed_tilt_deg", func(s *floor.Swap) float64 { return s.Tilt }).off(func(_ *floor.Swap, tilt float64) float64 { return tiltSlack * math.Abs(tilt) })
	SwapMinutes = row("minutes", func(s *floor.Swap) float64 { return s.Minutes.Value() }).off(func(*floor.Swap, float64) float64 { return minutesSlack })
)

// Swap lists what is said of a swap.
var Swap = []*Row[floor.Swap]{
	row("from", func(s *floor.Swap) string { return s.From }),
	row("to", func(s *floor.Swap) string { return s.To }),
	row("known", func(s *floor.Swap) bool { return s.Known }),
	row("plates", func(s *floor.Swap) int { return s.Plates }),
	row("post_mm", func(s *floor.Swap) float64 { return s.Post }),
	row("shift_mm", func(s *floor.Swap) float64 { return s.Shift }),
	SwapTilt,
	SwapMinutes,
}

// Stretch lists what is said of a stretch of the walk: each of its ends loses what it holds.
var Stretch = []*Row[floor.Stretch]{
	row("holds", func(s *floor.Stretch) string { return s.Holds.String() }),
	row("near_m", func(s *floor.Stretch) float64 { return s.Near }),
	row("far_m", func(s *floor.Stretch) float64 { return s.Far }),
}

// Moment lists what is said of a moment of a move.
var Moment = []*Row[floor.Moment]{
	row("share_pct", func(m *floor.Moment) float64 { return m.Share }),
	row("time_s", func(m *floor.Moment) float64 { return m.Time }),
	row("distance_m", func(m *floor.Moment) float64 { return m.Distance }),
	row("fill_pct", func(m *floor.Moment) float64 { return m.Fill }),
	row("subject_pct_s", func(m *floor.Moment) float64 { return m.Subject }),
	row("background_pct_s", func(m *floor.Moment) float64 { return m.Background }),
	row("blur_pct", func(m *floor.Moment) float64 { return m.Blur }),
}
