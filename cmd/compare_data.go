package cmd

import (
	"glassbrief/cmd/travel"
	"glassbrief/engine"
	"glassbrief/engine/compare"
	"glassbrief/engine/facts"
)

type compareData struct {
	travel.Header
	Scenario string            `json:"scenario"`
	Old      sideData          `json:"old"`
	New      sideData          `json:"new"`
	SamePlan bool              `json:"same_plan"`
	Changes  []briefChangeData `json:"changes"`
	Effects  []effectData      `json:"effects"`
	Shots    []pairData        `json:"shots"`
}

type sideData struct {
	Version string  `json:"version"` // as the command was given it
	Camera  string  `json:"camera"`
	Kit     kitData `json:"kit"`
}

type briefChangeData struct {
	Number int    `json:"number"`
	Kind   string `json:"kind"` // changed, added, removed, renamed or reordered
	Block  string `json:"block"`
	Field  string `json:"field"` // "" for a whole block
	Old    string `json:"old"`
	New    string `json:"new"`
	Idle   bool   `json:"idle"` // it has a part in no effect
}

type effectData struct {
	On      string `json:"on"`      // camera, kit, setup or ranking
	Shot    string `json:"shot"`    // its new name; "" for camera and kit
	Because []int  `json:"because"` // numbers of changes; empty when no set was found
}

// pairData is a shot in both versions; what is of one that it is not in is null.
type pairData struct {
	OldID      *string            `json:"old_id" jsonschema:"nullable"`
	NewID      *string            `json:"new_id" jsonschema:"nullable"`
	OldSetup   *versionSetupData  `json:"old_setup" jsonschema:"nullable"`
	NewSetup   *versionSetupData  `json:"new_setup" jsonschema:"nullable"`
	OldRanking []versionScoreData `json:"old_ranking"`
	NewRanking []versionScoreData `json:"new_ranking"`
}

type versionSetupData struct {
	Lens  string        `json:"lens"`
	Focal travel.Number `json:"focal_mm"`
	setupData
}

type versionScoreData struct {
	Lens     string        `json:"lens"`
	Score    travel.Number `json:"score"`
	Standing string        `json:"standing"`
}

func compareDataOf(r *compare.Comparison, names []string) compareData {
	d := compareData{
		Header: travel.HeaderOf("compare"), Scenario: r.New.Scenario.Name, SamePlan: r.SamePlan(),
		Old: sideDataOf(r.Old, names[0]), New: sideDataOf(r.New, names[1]),
		Changes: []briefChangeData{}, Effects: []effectData{}, Shots: []pairData{},
	}
	for i, c := range r.Changes {
		d.Changes = append(d.Changes, briefChangeData{Number: i + 1, Kind: c.Kind.String(), Block: c.Block, Field: c.Field, Old: c.Old, New: c.New})
	}
	for _, at := range r.Idle() {
		d.Changes[at].Idle = true
	}
	for _, e := range r.Effects {
		effect := effectData{On: e.Of.String(), Because: []int{}}
		if e.Shot >= 0 {
			effect.Shot = r.Shots[e.Shot].New.Shot.ID
		}
		for _, at := range e.Because {
			effect.Because = append(effect.Because, at+1)
		}
		d.Effects = append(d.Effects, effect)
	}
	for _, shot := range r.Shots {
		var pair pairData
		pair.OldID, pair.OldSetup, pair.OldRanking = versionDataOf(shot.Old)
		pair.NewID, pair.NewSetup, pair.NewRanking = versionDataOf(shot.New)
		d.Shots = append(d.Shots, pair)
	}
	return d
}

func sideDataOf(r *engine.Recommendation, version string) sideData {
	return sideData{Version: version, Camera: r.Camera.Name.Value, Kit: kitDataOf(r, &r.Kit, r.Proven)}
}

func versionDataOf(a *engine.ShotAnswer) (id *string, setup *versionSetupData, ranking []versionScoreData) {
	ranking = []versionScoreData{}
	if a == nil {
		return nil, nil, ranking
	}
	if a.Use != nil {
		setup = &versionSetupData{Lens: a.Use.Lens, Focal: travel.In(a.Use.Fact(facts.FocalLength), "mm"), setupData: setupDataOf(a.Use)}
	}
	for i := range a.Ranking {
		j := &a.Ranking[i]
		ranking = append(ranking, versionScoreData{Lens: j.Lens, Score: travel.Number(j.Score), Standing: j.Standing.String()})
	}
	return &a.Shot.ID, setup, ranking
}
