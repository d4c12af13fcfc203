package cmd

import (
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
)

type recommendData struct {
	header
	Scenario string    `json:"scenario"`
	Camera   string    `json:"camera"`
	Rig      string    `json:"rig"`
	Kit      kitData   `json:"kit"`
	Runners  []kitData `json:"runners"`
	aroundData
	Shots []shotData `json:"shots"`
}

type kitData struct {
	Lenses    []string   `json:"lenses"`
	Score     number     `json:"score"`
	Uncovered []string   `json:"uncovered"`
	Swaps     int        `json:"swaps"`
	Mass      number     `json:"mass_kg"`
	Cost      number     `json:"cost_a_day"`
	Proven    bool       `json:"proven"`
	Limits    limitsData `json:"limits"`
}

type limitsData struct {
	Carry     int      `json:"carry"`
	Rent      *number  `json:"rent_a_day"` // null for no limit
	Currency  string   `json:"currency"`
	Bag       *number  `json:"bag_kg"` // null for no limit
	OwnedOnly bool     `json:"owned_only"`
	Bring     []string `json:"bring"`
	Leave     []string `json:"leave"`
}

type shotData struct {
	ID      string          `json:"id"`
	Title   string          `json:"title"`
	Scene   string          `json:"scene"`
	Weight  number          `json:"weight"`
	Mode    string          `json:"sensor_mode"`
	Lens    *string         `json:"lens" jsonschema:"nullable"` // of the kit; null when none does it
	Ranking []judgementData `json:"ranking"`
}

type judgementData struct {
	Lens     string          `json:"lens"`
	Focal    number          `json:"focal_mm"`
	Adapter  string          `json:"adapter"`
	Score    number          `json:"score"`
	Excluded bool            `json:"excluded"`
	Standing string          `json:"standing"`
	Known    number          `json:"known_pct"`
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
	Aperture     number `json:"aperture"`
	TStop        number `json:"t_stop"`
	FocusAt      number `json:"focus_at_m"`
	Near         number `json:"near_m"`
	Far          number `json:"far_m"`
	FarUnbounded bool   `json:"far_unbounded,omitempty"`
	ISO          number `json:"iso"`
	ND           number `json:"nd_stops"`
	Short        number `json:"short_stops"`
}

type criterionData struct {
	Name    string   `json:"name"`
	Weight  number   `json:"weight"`
	Applies bool     `json:"applies"`
	Score   number   `json:"score"` // null when unknown or when the criterion does not apply
	Unknown bool     `json:"unknown"`
	Lacks   []string `json:"lacks"` // the facts that are not known
	Reasons []string `json:"reasons"`
}

func recommendDataOf(r *engine.Recommendation, beside *around) recommendData {
	d := recommendData{
		header: headerOf("recommend"), Scenario: r.Scenario.Name, Camera: r.Camera.Name.Value,
		Rig: r.Scenario.Rig.Name.Value, Kit: kitDataOf(r, &r.Kit, r.Proven), Runners: []kitData{}, Shots: []shotData{},
		aroundData: aroundDataOf(beside),
	}
	for i := range r.Runners {
		d.Runners = append(d.Runners, kitDataOf(r, &r.Runners[i], r.Proven))
	}
	for i := range r.Shots {
		d.Shots = append(d.Shots, shotDataOf(r, &r.Shots[i]))
	}
	return d
}

func kitDataOf(r *engine.Recommendation, k *engine.Kit, proven bool) kitData {
	return kitData{
		Lenses: list(k.Lenses), Score: number(k.Mean), Uncovered: list(k.Uncovered), Swaps: k.Swaps,
		Mass: number(k.Mass), Cost: number(k.Cost), Proven: proven, Limits: limitsDataOf(&r.Scenario.Limits),
	}
}

func limitsDataOf(l *brief.Limits) limitsData {
	d := limitsData{Carry: l.Carry, Currency: l.Currency, OwnedOnly: l.OwnedOnly, Bring: list(l.Bring), Leave: list(l.Leave)}
	if l.Rent >= 0 {
		d.Rent = some(number(l.Rent))
	}
	if l.BagMass > 0 {
		d.Bag = some(number(l.BagMass))
	}
	return d
}

// list makes an empty list of none, for JSON tells them apart.
func list(names []string) []string {
	if names == nil {
		return []string{}
	}
	return names
}

func shotDataOf(r *engine.Recommendation, a *engine.ShotAnswer) shotData {
	d := shotData{ID: a.Shot.ID, Title: a.Shot.Title, Scene: a.Shot.Scene, Weight: number(a.Shot.Weight), Mode: r.Camera.Mode(a.Shot.Mode).Name.Value, Ranking: []judgementData{}}
	if a.Use != nil {
		d.Lens = &a.Use.Lens
	}
	for i := range a.Ranking {
		d.Ranking = append(d.Ranking, judgementDataOf(&a.Ranking[i]))
	}
	return d
}

func judgementDataOf(j *engine.Judgement) judgementData {
	d := judgementData{
		Lens: j.Lens, Focal: in(j.Fact(facts.FocalLength), "mm"), Score: number(j.Score),
		Excluded: j.Standing == engine.Excluded, Standing: j.Standing.String(), Known: number(j.Known * 100), Missing: list(j.Missing), KeptOut: j.KeptOut,
		Vetoes: []vetoData{}, Criteria: []criterionData{}, Setup: setupDataOf(j),
	}
	if j.Fitting.Adapter != nil {
		d.Adapter = j.Fitting.Adapter.Name.Value
	}
	for _, veto := range j.Vetoes() {
		d.Vetoes = append(d.Vetoes, vetoData{veto.Code, veto.Reason})
	}
	for _, c := range j.Criteria {
		d.Criteria = append(d.Criteria, criterionData{
			Name: c.Name, Weight: number(c.Weight), Applies: c.Applies, Score: number(c.Score),
			Unknown: len(c.Unknown) > 0, Lacks: list(c.Unknown), Reasons: list(c.Said),
		})
	}
	return d
}

func setupDataOf(j *engine.Judgement) setupData {
	far := j.Fact(facts.FarLimit)
	return setupData{
		Aperture: number(j.Fact(facts.Stop)), TStop: number(j.Fact(facts.TStop)),
		FocusAt: number(j.Fact(facts.FocusMark)), Near: number(j.Fact(facts.NearLimit)),
		Far: number(far), FarUnbounded: unbounded(far),
		ISO: number(j.Fact(facts.ISO)), ND: number(j.Fact(facts.ND)), Short: number(j.Fact(facts.Short)),
	}
}

// recommendRow is one lens in one shot, for a spreadsheet.
type recommendRow struct {
	Shot     string `json:"shot"`
	Place    int    `json:"place"`
	Lens     string `json:"lens"`
	InKit    bool   `json:"in_kit"`
	Focal    number `json:"focal_mm"`
	Score    number `json:"score"`
	Standing string `json:"standing"`
	Veto     string `json:"veto"`
	Aperture number `json:"aperture"`
	TStop    number `json:"t_stop"`
	FocusAt  number `json:"focus_at_m"`
	Near     number `json:"near_m"`
	Far      number `json:"far_m"`
	ISO      number `json:"iso"`
	ND       number `json:"nd_stops"`
	Short    number `json:"short_stops"`
}

func recommendRowsOf(r *engine.Recommendation) []any {
	rows := []any{}
	for i := range r.Shots {
		shot := &r.Shots[i]
		for k := range shot.Ranking {
			j := &shot.Ranking[k]
			setup := setupDataOf(j)
			row := recommendRow{
				Shot: shot.Shot.ID, Place: k + 1, Lens: j.Lens, InKit: j == shot.Use,
				Focal: in(j.Fact(facts.FocalLength), "mm"), Score: number(j.Score), Standing: j.Standing.String(),
				Aperture: setup.Aperture, TStop: setup.TStop, FocusAt: setup.FocusAt, Near: setup.Near, Far: setup.Far,
				ISO: setup.ISO, ND: setup.ND, Short: setup.Short,
			}
			if vetoes := j.Vetoes(); len(vetoes) > 0 {
				row.Veto = vetoes[0].Reason
			}
			rows = append(rows, row)
		}
	}
	return rows
}
