package cmd

import (
	"math"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// cardsData is the JSON of cards. Distances run from the sensor plane unless a field says
// otherwise; what is unknown or without bound is null.
type cardsData struct {
	header
	Scenario string     `json:"scenario"`
	Camera   string     `json:"camera"`
	Rig      string     `json:"rig"`
	Lenses   []string   `json:"lenses"`
	DropFrom number     `json:"drop_from_s"` // window that the rig is trimmed to
	DropTo   number     `json:"drop_to_s"`
	Bolt     number     `json:"bolt_mm"` // place of the camera over the middle of the stage, behind the lens flange
	Cards    []cardData `json:"cards"`
	Swaps    []swapData `json:"swaps"`
	Lacks    []lackData `json:"lacks"`
	Closing  string     `json:"closing"`
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
	Lens    string `json:"lens"`
	Adapter string `json:"adapter"`
	Focal   number `json:"focal_mm"`      // with the adapter
	Engrave number `json:"lens_focal_mm"` // to set on the lens
	Stop    number `json:"aperture"`      // with the adapter
	Ring    number `json:"lens_aperture"` // to set on the lens
	TStop   number `json:"t_stop"`
	Close   number `json:"close_stops"` // beyond that stop, for light
	Mode    string `json:"sensor_mode"`
	Support string `json:"support"` // sled, docked or legs
	cardFocus
	cardFloor
	cardExposure
	Picture cardPicture `json:"picture"`
	Rig     cardRig     `json:"rig"`
}

type cardFocus struct {
	Focus        string `json:"focus"` // fixed, pulled or auto
	FocusAt      number `json:"focus_at_m"`
	Near         number `json:"near_m"`
	Far          number `json:"far_m"`
	FarUnbounded bool   `json:"far_unbounded,omitempty"`
	Confusion    number `json:"confusion_mm"`
}

type cardFloor struct {
	WalkNear     number   `json:"walk_near_m"`
	WalkFar      number   `json:"walk_far_m"`
	NearLoses    []string `json:"walk_near_loses"`
	FarLoses     []string `json:"walk_far_loses"`
	WalkCovers   bool     `json:"walk_covers_move"`
	Start        number   `json:"start_m"`
	End          number   `json:"end_m"`
	Circle       number   `json:"circle_m"`
	LensCircle   number   `json:"lens_circle_m"`
	LensRoom     number   `json:"lens_room_m"`
	RigRoom      number   `json:"rig_room_m"`
	Passage      number   `json:"passage_m"`
	PassageNeeds number   `json:"passage_needs_m"`
}

type cardExposure struct {
	ISO      number   `json:"iso"`
	Shutter  number   `json:"shutter_s"`
	Angle    number   `json:"shutter_deg"`
	Rate     number   `json:"rate_fps"`
	NDNeeded number   `json:"nd_needed_stops"`
	ND       number   `json:"nd_stops"` // of the filters
	Filters  []string `json:"filters"`  // rings included, the lens's side first
	Left     number   `json:"left_stops"`
	Short    number   `json:"short_stops"`
	Light    number   `json:"light_lx"`
	EV       number   `json:"ev100"`
}

type cardPicture struct {
	Bob      number       `json:"bob_pct"`
	Wobble   number       `json:"wobble_pct"`
	Crossing number       `json:"crossing_s"`
	Limit    number       `json:"crossing_limit_s"`
	Blur     number       `json:"blur_pct"`
	Duration number       `json:"duration_s"`
	Along    []momentData `json:"along"`
}

type momentData struct {
	Share      number `json:"share_pct"`
	Time       number `json:"time_s"`
	Distance   number `json:"distance_m"`
	Fill       number `json:"fill_pct"`
	Subject    number `json:"subject_pct_s"`
	Background number `json:"background_pct_s"`
	Blur       number `json:"blur_pct"`
}

type cardRig struct {
	Mass     number `json:"mass_kg"` // on the stage, filters left out
	Least    number `json:"payload_least_kg"`
	Most     number `json:"payload_most_kg"`
	Held     number `json:"held_kg"`
	LowMode  bool   `json:"low_mode"`
	Trimmed  bool   `json:"trimmed"`
	Plates   int    `json:"plates"`
	Post     number `json:"post_mm"`
	Shift    number `json:"shift_mm"` // of the stage, forward
	Tilt     number `json:"tilt_deg"` // left, nose down
	Drop     number `json:"drop_s"`
	Offset   number `json:"offset_mm"`
	Inertia  number `json:"inertia_kgm2"`
	Shortest number `json:"drop_shortest_s"` // within reach
	Longest  number `json:"drop_longest_s"`  // null without bound
}

type swapData struct {
	From    string `json:"from"`
	To      string `json:"to"`
	Known   bool   `json:"known"`
	Plates  int    `json:"plates"`
	Post    number `json:"post_mm"`
	Shift   number `json:"shift_mm"`
	Tilt    number `json:"untrimmed_tilt_deg"` // null when it tips over
	Minutes number `json:"minutes"`
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
		header: headerOf("cards"), Scenario: s.Name, Camera: r.Camera.Name.Value, Rig: s.Rig.Name.Value, Lenses: list(r.Kit.Lenses),
		DropFrom: number(s.Drop.Low), DropTo: number(s.Drop.High), Bolt: number(math.NaN()),
		Cards: []cardData{}, Swaps: []swapData{}, Lacks: []lackData{}, Closing: wording.Closing,
	}
	for i := range cards {
		c := &cards[i]
		if c.Rig != nil && !math.IsNaN(c.Rig.Bolt) {
			d.Bolt = in(c.Rig.Bolt, "mm")
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
		Notes: list(c.Notes), Cautions: []cautionData{}, Closing: wording.Closing,
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
		Lens: j.Lens, Focal: in(j.Fact(facts.FocalLength), "mm"), Engrave: in(c.Focal, "mm"),
		Stop: number(j.Fact(facts.Stop)), Ring: number(c.Ring), TStop: number(j.Fact(facts.TStop)), Close: number(c.Filters.Close),
		Mode: r.Camera.Mode(c.Shot.Mode).Name.Value, Support: c.Shot.Support.String(),
		cardFocus: cardFocus{
			Focus:   map[facts.Focus]string{facts.Fixed: "fixed", facts.Pulled: "pulled", facts.Auto: "auto"}[c.Shot.Focus],
			FocusAt: number(j.Fact(facts.FocusMark)), Near: number(j.Fact(facts.NearLimit)), Far: number(j.Fact(facts.FarLimit)),
			FarUnbounded: unbounded(j.Fact(facts.FarLimit)), Confusion: in(j.Fact(facts.Confusion), "mm"),
		},
		cardFloor: cardFloor{
			WalkNear: number(c.Walk.Near), WalkFar: number(c.Walk.Far), NearLoses: list(c.Walk.NearBreaks), FarLoses: list(c.Walk.FarBreaks),
			WalkCovers: c.Walk.Covers, Start: number(c.Plan.Start), End: number(c.Plan.End),
			Circle: number(c.Plan.Circle), LensCircle: number(c.Plan.LensCircle), LensRoom: number(c.Plan.LensRoom),
			RigRoom: number(c.Plan.RigRoom), Passage: number(c.Plan.Passage), PassageNeeds: number(c.Plan.PassageNeeds),
		},
		cardExposure: cardExposure{
			ISO: number(c.Filters.ISO), Shutter: number(j.Fact(facts.ShutterTime)), Angle: in(c.Shot.Shutter, "deg"), Rate: number(c.Shot.Rate),
			NDNeeded: number(c.Filters.Needed), ND: number(c.Filters.Strength), Filters: []string{}, Left: number(c.Filters.Left),
			Short: number(j.Fact(facts.Short)), Light: number(c.Shot.Light), EV: number(j.Fact(facts.LightEV)),
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
		Bob: in(j.Fact(facts.BobShare), "%"), Wobble: in(j.Fact(facts.WobbleShare), "%"),
		Crossing: number(j.Fact(facts.CrossingTime)), Limit: number(j.Fact(facts.CrossingLimit)), Blur: in(j.Fact(facts.BlurPerFrame), "%"),
		Duration: number(c.Plan.Path.Duration()), Along: []momentData{},
	}
	for _, m := range c.Moments {
		p.Along = append(p.Along, momentData{
			Share: in(m.Share, "%"), Time: number(m.Time), Distance: number(m.Distance), Fill: in(m.Fill, "%"),
			Subject: in(m.Subject, "%"), Background: in(m.Background, "%"), Blur: in(m.Blur, "%"),
		})
	}
	return p
}

func cardRigOf(c *floor.Card) cardRig {
	r, nothing := c.Rig, number(math.NaN())
	d := cardRig{
		Mass: number(r.Mass), Least: number(c.Use.Fact(facts.PayloadLow)), Most: number(c.Use.Fact(facts.PayloadHigh)),
		Held: number(r.Held()), LowMode: r.Inverted, Trimmed: r.Trimmed,
		Post: nothing, Shift: in(r.Shift, "mm"), Tilt: in(r.Tilt, "deg"), Drop: nothing, Offset: nothing, Inertia: nothing,
		Shortest: number(r.Shortest), Longest: number(r.Longest),
	}
	if r.Trimmed {
		d.Plates, d.Post, d.Drop = r.Trim.Plates, in(r.Trim.Post, "mm"), number(r.Trim.Drop)
		d.Offset, d.Inertia = in(r.Trim.Offset, "mm"), number(r.Trim.Inertia)
	}
	return d
}

func swapDataOf(s *floor.Swap) *swapData {
	return &swapData{
		From: s.From, To: s.To, Known: s.Known, Plates: s.Plates, Post: in(s.Post, "mm"), Shift: in(s.Shift, "mm"),
		Tilt: in(s.Tilt, "deg"), Minutes: number(s.Minutes),
	}
}

// cardRow is a card for a spreadsheet.
type cardRow struct {
	Shot     string `json:"shot"`
	Lens     string `json:"lens"`
	Focal    number `json:"lens_focal_mm"`
	Stop     number `json:"lens_aperture"`
	TStop    number `json:"t_stop"`
	FocusAt  number `json:"focus_at_m"`
	Near     number `json:"near_m"`
	Far      number `json:"far_m"`
	WalkNear number `json:"walk_near_m"`
	WalkFar  number `json:"walk_far_m"`
	ISO      number `json:"iso"`
	Shutter  number `json:"shutter_s"`
	ND       number `json:"nd_stops"`
	Plates   int    `json:"plates"`
	Post     number `json:"post_mm"`
	Shift    number `json:"shift_mm"`
	Drop     number `json:"drop_s"`
	Swap     number `json:"swap_min"` // from the card before
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
