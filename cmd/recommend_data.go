package cmd

import (
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

type recommendData struct {
	travel.Header
	Scenario string    `json:"scenario"`
	Camera   string    `json:"camera"`
	Rig      string    `json:"rig"`
	Kit      kitData   `json:"kit"`
	Runners  []kitData `json:"runners"`
	aroundData
	Shots []shotData `json:"shots"`
}

type kitData struct {
	Lenses    []string      `json:"lenses"`
	Score     travel.Number `json:"score"`
	Uncovered []string      `json:"uncovered"`
	Swaps     int           `json:"swaps"`
	Mass      travel.Number `json:"mass_kg"`
	Cost      travel.Number `json:"cost_a_day"`
	Proven    bool          `json:"proven"`
	Limits    limitsData    `json:"limits"`
}

type limitsData struct {
	Carry     int            `json:"carry"`
	Rent      *travel.Number `json:"rent_a_day"` // null for no limit
	Currency  string         `json:"currency"`
	Bag       *travel.Number `json:"bag_kg"` // null for no limit
	OwnedOnly bool           `json:"owned_only"`
	Bring     []string       `json:"bring"`
	Leave     []string       `json:"leave"`
}

type shotData struct {
	ID      string          `json:"id"`
	Title   string          `json:"title"`
	Scene   string          `json:"scene"`
	Weight  travel.Number   `json:"weight"`
	Mode    string          `json:"sensor_mode"`
	Lens    *string         `json:"lens" jsonschema:"nullable"` // of the kit; null when none does it
	Ranking []judgementData `json:"ranking"`
}

type judgementData struct {
	Lens     string          `json:"lens"`
	Focal    travel.Number   `json:"focal_mm"`
	Adapter  string          `json:"adapter"`
	Score    travel.Number   `json:"score"`
	Excluded bool            `json:"excluded"`
	Standing string          `json:"standing"`
	Known    travel.Number   `json:"known_pct"`
	Missing  []string        `json:"missing"`  // fields of the lens that the catalogue does not give
	KeptOut  string          `json:"kept_out"` // the limit by which it cannot come; "" when it can
	Vetoes   []vetoData      `json:"vetoes"`
	Setup    setupData       `json:"setup"`
	Criteria []criterionData `json:"criteria"`
}

type vetoData struct {
	Code   string `json:"code"`
	Reason string `json:"reason"`
}

type setupData struct {
	Aperture     travel.Number `json:"aperture"`
	TStop        travel.Number `json:"t_stop"`
	FocusAt      travel.Number `json:"focus_at_m"`
	Near         travel.Number `json:"near_m"`
	Far          travel.Number `json:"far_m"`
	FarUnbounded bool          `json:"far_unbounded,omitempty"`
	ISO          travel.Number `json:"iso"`
	ND           travel.Number `json:"nd_stops"`
	Short        travel.Number `json:"short_stops"`
}

type criterionData struct {
	Name    string        `json:"name"`
	Weight  travel.Number `json:"weight"`
	Applies bool          `json:"applies"`
	Score   travel.Number `json:"score"` // null when unknown or when the criterion does not apply
	Unknown bool          `json:"unknown"`
	Lacks   []string      `json:"lacks"` // the facts that are not known
	Reasons []string      `json:"reasons"`
}

func recommendDataOf(r *engine.Recommendation, beside *around, p lang.Printer) recommendData {
	d := recommendData{
		Header: travel.HeaderOf("recommend"), Scenario: r.Scenario.Name, Camera: r.Camera.Name.Value,
		Rig: r.Scenario.Rig.Name.Value, Kit: kitDataOf(r, &r.Kit, r.Proven), Runners: []kitData{}, Shots: []shotData{},
		aroundData: aroundDataOf(beside),
	}
	for i := range r.Runners {
		d.Runners = append(d.Runners, kitDataOf(r, &r.Runners[i], r.Proven))
	}
	for i := range r.Shots {
		d.Shots = append(d.Shots, shotDataOf(r, &r.Shots[i], p))
	}
	return d
}

func kitDataOf(r *engine.Recommendation, k *engine.Kit, proven bool) kitData {
	return kitData{
		Lenses: travel.List(k.Lenses), Score: travel.Number(k.Mean), Uncovered: travel.List(k.Uncovered), Swaps: k.Swaps,
		Mass: travel.Number(k.Mass), Cost: travel.Number(k.Cost), Proven: proven, Limits: limitsDataOf(&r.Scenario.Limits),
	}
}

func limitsDataOf(l *brief.Limits) limitsData {
	d := limitsData{Carry: l.Carry, Currency: l.Currency, OwnedOnly: l.OwnedOnly, Bring: travel.List(l.Bring), Leave: travel.List(l.Leave)}
	if l.Rent >= 0 {
		d.Rent = travel.Some(travel.Number(l.Rent))
	}
	if l.BagMass > 0 {
		d.Bag = travel.Some(travel.Number(l.BagMass))
	}
	return d
}

func shotDataOf(r *engine.Recommendation, a *engine.ShotAnswer, p lang.Printer) shotData {
	d := shotData{ID: a.Shot.ID, Title: a.Shot.Title, Scene: a.Shot.Scene, Weight: travel.Number(a.Shot.Weight), Mode: r.Camera.Mode(a.Shot.Mode).Name.Value, Ranking: []judgementData{}}
	if a.Use != nil {
		d.Lens = &a.Use.Lens
	}
	for i := range a.Ranking {
		d.Ranking = append(d.Ranking, judgementDataOf(&a.Ranking[i], p))
	}
	return d
}

func judgementDataOf(j *engine.Judgement, p lang.Printer) judgementData {
	d := judgementData{
		Lens: j.Lens, Focal: travel.In(j.Fact(facts.FocalLength), "mm"), Score: travel.Number(j.Score),
		Excluded: j.Standing == engine.Excluded, Standing: j.Standing.String(), Known: travel.Number(j.Known * 100), Missing: travel.List(j.Missing), KeptOut: wording.KeptOut(j.KeptOut, p),
		Vetoes: []vetoData{}, Criteria: []criterionData{}, Setup: setupDataOf(j),
	}
	if j.Fitting.Adapter != nil {
		d.Adapter = j.Fitting.Adapter.Name.Value
	}
	for _, veto := range j.Vetoes() {
		d.Vetoes = append(d.Vetoes, vetoData{veto.Code, veto.In(p)})
	}
	for _, c := range j.Criteria {
		d.Criteria = append(d.Criteria, criterionData{
			Name: c.Name, Weight: travel.Number(c.Weight), Applies: c.Applies, Score: travel.Number(c.Score),
			Unknown: len(c.Unknown) > 0, Lacks: travel.List(c.Unknown), Reasons: wording.Reasons(&c, p),
		})
	}
	return d
}

func setupDataOf(j *engine.Judgement) setupData {
	far := j.Fact(facts.FarLimit)
	return setupData{
		Aperture: travel.Number(j.Fact(facts.Stop)), TStop: travel.Number(j.Fact(facts.TStop)),
		FocusAt: travel.Number(j.Fact(facts.FocusMark)), Near: travel.Number(j.Fact(facts.NearLimit)),
		Far: travel.Number(far), FarUnbounded: travel.Unbounded(far),
		ISO: travel.Number(j.Fact(facts.ISO)), ND: travel.Number(j.Fact(facts.ND)), Short: travel.Number(j.Fact(facts.Short)),
	}
}

// recommendRow is one lens in one shot, for a spreadsheet.
type recommendRow struct {
	Shot     string        `json:"shot"`
	Place    int           `json:"place"`
	Lens     string        `json:"lens"`
	InKit    bool          `json:"in_kit"`
	Focal    travel.Number `json:"focal_mm"`
	Score    travel.Number `json:"score"`
	Standing string        `json:"standing"`
	Veto     string        `json:"veto"`
	Aperture travel.Number `json:"aperture"`
	TStop    travel.Number `json:"t_stop"`
	FocusAt  travel.Number `json:"focus_at_m"`
	Near     travel.Number `json:"near_m"`
	Far      travel.Number `json:"far_m"`
	ISO      travel.Number `json:"iso"`
	ND       travel.Number `json:"nd_stops"`
	Short    travel.Number `json:"short_stops"`
}

func recommendRowsOf(r *engine.Recommendation, p lang.Printer) []any {
	rows := []any{}
	for i := range r.Shots {
		shot := &r.Shots[i]
		for k := range shot.Ranking {
			j := &shot.Ranking[k]
			setup := setupDataOf(j)
			row := recommendRow{
				Shot: shot.Shot.ID, Place: k + 1, Lens: j.Lens, InKit: j == shot.Use,
				Focal: travel.In(j.Fact(facts.FocalLength), "mm"), Score: travel.Number(j.Score), Standing: j.Standing.String(),
				Aperture: setup.Aperture, TStop: setup.TStop, FocusAt: setup.FocusAt, Near: setup.Near, Far: setup.Far,
				ISO: setup.ISO, ND: setup.ND, Short: setup.Short,
			}
			if vetoes := j.Vetoes(); len(vetoes) > 0 {
				row.Veto = vetoes[0].In(p)
			}
			rows = append(rows, row)
		}
	}
	return rows
}
