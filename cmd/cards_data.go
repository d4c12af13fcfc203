package cmd

import (
	"math"

	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// cardsData is the JSON of cards. Distances run from the sensor plane unless a field says
// otherwise; what is unknown or without bound is null.
type cardsData struct {
	travel.Header
	Scenario string        `json:"scenario"`
	Camera   string        `json:"camera"`
	Rig      string        `json:"rig"`
	Lenses   []string      `json:"lenses"`
	DropFrom travel.Number `json:"drop_from_s"` // window that the rig is trimmed to
	DropTo   travel.Number `json:"drop_to_s"`
	Bolt     travel.Number `json:"bolt_mm"` // place of the camera over the middle of the stage, behind the lens flange
	Cards    []cardData    `json:"cards"`
	Swaps    []swapData    `json:"swaps"`
	Lacks    []lackData    `json:"lacks"`
	Closing  string        `json:"closing"`
}

type cardData struct {
	Shot     string        `json:"shot"`
	Title    string        `json:"title"`
	Scene    string        `json:"scene"`
	Setup    *cardSetup    `json:"setup,omitempty"` // absent when no lens of the kit does the shot
	Swap     *swapData     `json:"swap,omitempty"`  // from the card before; absent when nothing changes
	Notes    []string      `json:"notes"`
	Cautions []cautionData `json:"cautions"`
	Closing  string        `json:"closing"`
}

type cardSetup struct {
	Lens    string        `json:"lens"`
	Adapter string        `json:"adapter"`
	Focal   travel.Number `json:"focal_mm"`      // with the adapter
	Engrave travel.Number `json:"lens_focal_mm"` // to set on the lens
	Stop    travel.Number `json:"aperture"`      // with the adapter
	Ring    travel.Number `json:"lens_aperture"` // to set on the lens
	TStop   travel.Number `json:"t_stop"`
	Close   travel.Number `json:"close_stops"` // beyond that stop, for light
	Mode    string        `json:"sensor_mode"`
	Support string        `json:"support"` // sled, docked or legs
	cardFocus
	cardFloor
	cardExposure
	Picture cardPicture `json:"picture"`
	Rig     cardRig     `json:"rig"`
}

type cardFocus struct {
	Focus        string        `json:"focus"` // fixed, pulled or auto
	FocusAt      travel.Number `json:"focus_at_m"`
	Near         travel.Number `json:"near_m"`
	Far          travel.Number `json:"far_m"`
	FarUnbounded bool          `json:"far_unbounded,omitempty"`
	Confusion    travel.Number `json:"confusion_mm"`
}

type cardFloor struct {
	WalkNear     travel.Number `json:"walk_near_m"`
	WalkFar      travel.Number `json:"walk_far_m"`
	NearLoses    []string      `json:"walk_near_loses"`
	FarLoses     []string      `json:"walk_far_loses"`
	WalkCovers   bool          `json:"walk_covers_move"`
	Start        travel.Number `json:"start_m"`
	End          travel.Number `json:"end_m"`
	Circle       travel.Number `json:"circle_m"`
	LensCircle   travel.Number `json:"lens_circle_m"`
	LensRoom     travel.Number `json:"lens_room_m"`
	RigRoom      travel.Number `json:"rig_room_m"`
	Passage      travel.Number `json:"passage_m"`
	PassageNeeds travel.Number `json:"passage_needs_m"`
}

type cardExposure struct {
	ISO      travel.Number `json:"iso"`
	Shutter  travel.Number `json:"shutter_s"`
	Angle    travel.Number `json:"shutter_deg"`
	Rate     travel.Number `json:"rate_fps"`
	NDNeeded travel.Number `json:"nd_needed_stops"`
	ND       travel.Number `json:"nd_stops"` // of the filters
	Filters  []string      `json:"filters"`  // rings included, the lens's side first
	Left     travel.Number `json:"left_stops"`
	Short    travel.Number `json:"short_stops"`
	Light    travel.Number `json:"light_lx"`
	EV       travel.Number `json:"ev100"`
}

type cardPicture struct {
	Bob      travel.Number `json:"bob_pct"`
	Wobble   travel.Number `json:"wobble_pct"`
	Crossing travel.Number `json:"crossing_s"`
	Limit    travel.Number `json:"crossing_limit_s"`
	Blur     travel.Number `json:"blur_pct"`
	Duration travel.Number `json:"duration_s"`
	Along    []momentData  `json:"along"`
}

type momentData struct {
	Share      travel.Number `json:"share_pct"`
	Time       travel.Number `json:"time_s"`
	Distance   travel.Number `json:"distance_m"`
	Fill       travel.Number `json:"fill_pct"`
	Subject    travel.Number `json:"subject_pct_s"`
	Background travel.Number `json:"background_pct_s"`
	Blur       travel.Number `json:"blur_pct"`
}

type cardRig struct {
	Mass     travel.Number `json:"mass_kg"` // on the stage, filters left out
	Least    travel.Number `json:"payload_least_kg"`
	Most     travel.Number `json:"payload_most_kg"`
	Held     travel.Number `json:"held_kg"`
	LowMode  bool          `json:"low_mode"`
	Trimmed  bool          `json:"trimmed"`
	Plates   int           `json:"plates"`
	Post     travel.Number `json:"post_mm"`
	Shift    travel.Number `json:"shift_mm"` // of the stage, forward
	Tilt     travel.Number `json:"tilt_deg"` // left, nose down
	Drop     travel.Number `json:"drop_s"`
	Offset   travel.Number `json:"offset_mm"`
	Inertia  travel.Number `json:"inertia_kgm2"`
	Shortest travel.Number `json:"drop_shortest_s"` // within reach
	Longest  travel.Number `json:"drop_longest_s"`  // null without bound
}

type swapData struct {
	From    string        `json:"from"`
	To      string        `json:"to"`
	Known   bool          `json:"known"`
	Plates  int           `json:"plates"`
	Post    travel.Number `json:"post_mm"`
	Shift   travel.Number `json:"shift_mm"`
	Tilt    travel.Number `json:"untrimmed_tilt_deg"` // null when it tips over
	Minutes travel.Number `json:"minutes"`
}

type lackData struct {
	What string `json:"what"`
	How  string `json:"how"`
}

type cautionData struct {
	Text   string `json:"text"`
	Source string `json:"source"`
}

func cardsDataOf(r *engine.Recommendation, cards []floor.Card, sheet []floor.Swap, p lang.Printer) cardsData {
	s := r.Scenario
	d := cardsData{
		Header: travel.HeaderOf("cards"), Scenario: s.Name, Camera: r.Camera.Name.Value, Rig: s.Rig.Name.Value, Lenses: travel.List(r.Kit.Lenses),
		DropFrom: travel.Number(s.Drop.Low), DropTo: travel.Number(s.Drop.High), Bolt: travel.Number(math.NaN()),
		Cards: []cardData{}, Swaps: []swapData{}, Lacks: []lackData{}, Closing: wording.Closing,
	}
	for i := range cards {
		c := &cards[i]
		if c.Rig != nil && !math.IsNaN(c.Rig.Bolt) {
			d.Bolt = travel.In(c.Rig.Bolt, "mm")
		}
		d.Cards = append(d.Cards, cardDataOf(r, c, p))
	}
	for i := range sheet {
		d.Swaps = append(d.Swaps, *swapDataOf(&sheet[i]))
	}
	for _, lack := range lacksOf(cards) {
		d.Lacks = append(d.Lacks, lackData(lack))
	}
	return d
}

func cardDataOf(r *engine.Recommendation, c *floor.Card, p lang.Printer) cardData {
	d := cardData{
		Shot: c.Shot.ID, Title: c.Shot.Title, Scene: c.Shot.Scene,
		Notes: travel.List(c.Notes), Cautions: []cautionData{}, Closing: wording.Closing,
	}
	for _, caution := range c.Cautions {
		d.Cautions = append(d.Cautions, cautionData{wording.Caution(caution, p), caution.Source()})
	}
	if c.Use != nil {
		d.Setup = cardSetupOf(r, c)
	}
	if c.Swap != nil {
		d.Swap = swapDataOf(c.Swap)
	}
	return d
}

func cardSetupOf(r *engine.Recommendation, c *floor.Card) *cardSetup {
	j := c.Use
	setup := &cardSetup{
		Lens: j.Lens, Focal: travel.In(j.Fact(facts.FocalLength), "mm"), Engrave: travel.In(c.Focal, "mm"),
		Stop: travel.Number(j.Fact(facts.Stop)), Ring: travel.Number(c.Ring), TStop: travel.Number(j.Fact(facts.TStop)), Close: travel.Number(c.Filters.Close),
		Mode: r.Camera.Mode(c.Shot.Mode).Name.Value, Support: c.Shot.Support.String(),
		cardFocus: cardFocus{
			Focus:   map[facts.Focus]string{facts.Fixed: "fixed", facts.Pulled: "pulled", facts.Auto: "auto"}[c.Shot.Focus],
			FocusAt: travel.Number(j.Fact(facts.FocusMark)), Near: travel.Number(j.Fact(facts.NearLimit)), Far: travel.Number(j.Fact(facts.FarLimit)),
			FarUnbounded: travel.Unbounded(j.Fact(facts.FarLimit)), Confusion: travel.In(j.Fact(facts.Confusion), "mm"),
		},
		cardFloor: cardFloor{
			WalkNear: travel.Number(c.Walk.Near), WalkFar: travel.Number(c.Walk.Far), NearLoses: travel.List(c.Walk.NearBreaks), FarLoses: travel.List(c.Walk.FarBreaks),
			WalkCovers: c.Walk.Covers, Start: travel.Number(c.Plan.Start), End: travel.Number(c.Plan.End),
			Circle: travel.Number(c.Plan.Circle), LensCircle: travel.Number(c.Plan.LensCircle), LensRoom: travel.Number(c.Plan.LensRoom),
			RigRoom: travel.Number(c.Plan.RigRoom), Passage: travel.Number(c.Plan.Passage), PassageNeeds: travel.Number(c.Plan.PassageNeeds),
		},
		cardExposure: cardExposure{
			ISO: travel.Number(c.Filters.ISO), Shutter: travel.Number(j.Fact(facts.ShutterTime)), Angle: travel.In(c.Shot.Shutter, "deg"), Rate: travel.Number(c.Shot.Rate),
			NDNeeded: travel.Number(c.Filters.Needed), ND: travel.Number(c.Filters.Strength), Filters: []string{}, Left: travel.Number(c.Filters.Left),
			Short: travel.Number(j.Fact(facts.Short)), Light: travel.Number(c.Shot.Light), EV: travel.Number(j.Fact(facts.LightEV)),
		},
		Picture: cardPictureOf(c), Rig: cardRigOf(c),
	}
	if a := j.Fitting.Adapter; a != nil {
		setup.Adapter = a.Name.Value
	}
	for _, piece := range c.Filters.All() {
		setup.Filters = append(setup.Filters, piece.Name.Value)
	}
	return setup
}

func cardPictureOf(c *floor.Card) cardPicture {
	j := c.Use
	p := cardPicture{
		Bob: travel.In(j.Fact(facts.BobShare), "%"), Wobble: travel.In(j.Fact(facts.WobbleShare), "%"),
		Crossing: travel.Number(j.Fact(facts.CrossingTime)), Limit: travel.Number(j.Fact(facts.CrossingLimit)), Blur: travel.In(j.Fact(facts.BlurPerFrame), "%"),
		Duration: travel.Number(c.Plan.Path.Duration()), Along: []momentData{},
	}
	for _, m := range c.Moments {
		p.Along = append(p.Along, momentData{
			Share: travel.In(m.Share, "%"), Time: travel.Number(m.Time), Distance: travel.Number(m.Distance), Fill: travel.In(m.Fill, "%"),
			Subject: travel.In(m.Subject, "%"), Background: travel.In(m.Background, "%"), Blur: travel.In(m.Blur, "%"),
		})
	}
	return p
}

func cardRigOf(c *floor.Card) cardRig {
	r, nothing := c.Rig, travel.Number(math.NaN())
	d := cardRig{
		Mass: travel.Number(r.Mass), Least: travel.Number(c.Use.Fact(facts.PayloadLow)), Most: travel.Number(c.Use.Fact(facts.PayloadHigh)),
		Held: travel.Number(r.Held()), LowMode: r.Inverted, Trimmed: r.Trimmed,
		Post: nothing, Shift: travel.In(r.Shift, "mm"), Tilt: travel.In(r.Tilt, "deg"), Drop: nothing, Offset: nothing, Inertia: nothing,
		Shortest: travel.Number(r.Shortest), Longest: travel.Number(r.Longest),
	}
	if r.Trimmed {
		d.Plates, d.Post, d.Drop = r.Trim.Plates, travel.In(r.Trim.Post, "mm"), travel.Number(r.Trim.Drop)
		d.Offset, d.Inertia = travel.In(r.Trim.Offset, "mm"), travel.Number(r.Trim.Inertia)
	}
	return d
}

func swapDataOf(s *floor.Swap) *swapData {
	return &swapData{
		From: s.From, To: s.To, Known: s.Known, Plates: s.Plates, Post: travel.In(s.Post, "mm"), Shift: travel.In(s.Shift, "mm"),
		Tilt: travel.In(s.Tilt, "deg"), Minutes: travel.Number(s.Minutes),
	}
}

// cardRow is a card for a spreadsheet.
type cardRow struct {
	Shot     string        `json:"shot"`
	Lens     string        `json:"lens"`
	Focal    travel.Number `json:"lens_focal_mm"`
	Stop     travel.Number `json:"lens_aperture"`
	TStop    travel.Number `json:"t_stop"`
	FocusAt  travel.Number `json:"focus_at_m"`
	Near     travel.Number `json:"near_m"`
	Far      travel.Number `json:"far_m"`
	WalkNear travel.Number `json:"walk_near_m"`
	WalkFar  travel.Number `json:"walk_far_m"`
	ISO      travel.Number `json:"iso"`
	Shutter  travel.Number `json:"shutter_s"`
	ND       travel.Number `json:"nd_stops"`
	Plates   int           `json:"plates"`
	Post     travel.Number `json:"post_mm"`
	Shift    travel.Number `json:"shift_mm"`
	Drop     travel.Number `json:"drop_s"`
	Swap     travel.Number `json:"swap_min"` // from the card before
}

func cardRowsOf(r *engine.Recommendation, cards []floor.Card) []any {
	rows := []any{}
	for i := range cards {
		d := cardDataOf(r, &cards[i], lang.Printer{})
		row := cardRow{Shot: d.Shot}
		if s := d.Setup; s != nil {
			row = cardRow{
				Shot: d.Shot, Lens: s.Lens, Focal: s.Engrave, Stop: s.Ring, TStop: s.TStop, FocusAt: s.FocusAt, Near: s.Near, Far: s.Far,
				WalkNear: s.WalkNear, WalkFar: s.WalkFar, ISO: s.ISO, Shutter: s.Shutter, ND: s.ND,
				Plates: s.Rig.Plates, Post: s.Rig.Post, Shift: s.Rig.Shift, Drop: s.Rig.Drop,
			}
		}
		if d.Swap != nil {
			row.Swap = d.Swap.Minutes
		}
		rows = append(rows, row)
	}
	return rows
}
