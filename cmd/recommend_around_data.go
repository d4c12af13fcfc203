package cmd

import (
	"math"

	"glassbrief/cmd/travel"
	"glassbrief/engine"
	"glassbrief/engine/card"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/engine/sure"
)

// aroundData is what stands beside an answer, in JSON.
type aroundData struct {
	Neighbours bool            `json:"runners_are_neighbours"` // they differ from the kit by one lens
	Gap        travel.Number   `json:"gap"`                    // by which a kit could score higher that was not looked at; 0 when proven
	Sizes      []sizeData      `json:"sizes"`
	Second     *secondData     `json:"second" jsonschema:"nullable"` // null for a kit of one lens
	Changes    []daySwapData   `json:"changes"`                      // of lens, in shooting order
	Cameras    []candidateData `json:"cameras"`                      // empty for a brief of one camera
	Nearby     *nearbyData     `json:"nearby" jsonschema:"nullable"` // null unless asked for
}

type sizeData struct {
	Carry int     `json:"carry"`
	Kit   kitData `json:"kit"`
}

type secondData struct {
	Lens    string        `json:"lens"` // that would be missed least
	Loss    travel.Number `json:"loss"` // of the score without it
	Shots   []string      `json:"shots"`
	Decider *string       `json:"decider" jsonschema:"nullable"` // shot without which it does not come
	Instead []string      `json:"instead"`                       // the kit then
}

// daySwapData is a change of lens with the shot that it is made before.
type daySwapData floor.Change

func (d daySwapData) object() travel.Object {
	return append(travel.Object{{Key: "before", Value: d.Before.ID}}, objectOf(card.Swap, &d.Swap)...)
}

func (d daySwapData) MarshalJSON() ([]byte, error) { return d.object().MarshalJSON() }

type candidateData struct {
	Camera string        `json:"camera"`
	Best   bool          `json:"best"`
	Kit    kitData       `json:"kit"`
	Shots  []pictureData `json:"shots"`
}

// pictureData is what the picture shows in a shot at its nearest.
type pictureData struct {
	Shot   string        `json:"shot"`
	Lens   *string       `json:"lens" jsonschema:"nullable"`
	Score  travel.Number `json:"score"`
	Focal  travel.Number `json:"focal_mm"`
	Angle  travel.Number `json:"angle_width_deg"`
	Width  travel.Number `json:"width_m"`
	Height travel.Number `json:"height_m"`
}

type nearbyData struct {
	Briefs    int              `json:"briefs"`
	Same      int              `json:"same_kit"`
	Distance  travel.Number    `json:"distance_pct"`
	Light     travel.Number    `json:"light_stops"`
	Subject   travel.Number    `json:"subject_pct"`
	Weight    travel.Number    `json:"weight_pct"`
	Kits      []outcomeData    `json:"kits"`
	Shots     []nearbyShotData `json:"shots"`
	FirstFlip *flipData        `json:"first_flip" jsonschema:"nullable"` // null when no figure alone changes the kit
}

type outcomeData struct {
	Lenses []string `json:"lenses"`
	Briefs int      `json:"briefs"`
}

type nearbyShotData struct {
	Shot     string        `json:"shot"`
	Same     int           `json:"same_lens"`
	Outcomes []outcomeData `json:"outcomes"`
}

type flipData struct {
	Shot  string        `json:"shot"`
	Input string        `json:"input"`
	Share travel.Number `json:"by_pct"`   // null for light
	Stops travel.Number `json:"by_stops"` // null for all else
	Kit   []string      `json:"kit"`
}

func aroundDataOf(l *around) aroundData {
	r := l.answer
	d := aroundData{
		Neighbours: r.Neighbours, Gap: travel.Number(r.Gap),
		Sizes: []sizeData{}, Changes: []daySwapData{}, Cameras: []candidateData{},
	}
	for i := range l.sizes {
		kit := kitDataOf(r, &l.sizes[i].Kit, r.Proven)
		kit.Limits.Carry = l.sizes[i].Carry
		d.Sizes = append(d.Sizes, sizeData{l.sizes[i].Carry, kit})
	}
	if s := l.second; s != nil {
		d.Second = &secondData{Lens: s.Lens, Loss: travel.Number(s.Loss), Shots: travel.List(s.Shots), Instead: travel.List(s.Instead.Lenses)}
		if s.Decider != "" {
			d.Second.Decider = &s.Decider
		}
	}
	for _, c := range l.changes {
		d.Changes = append(d.Changes, daySwapData(c))
	}
	for i := range l.cameras {
		d.Cameras = append(d.Cameras, candidateDataOf(r, &l.cameras[i], i == l.best))
	}
	if l.nearby != nil {
		d.Nearby = nearbyDataOf(l)
	}
	return d
}

func candidateDataOf(r *engine.Recommendation, c *engine.Candidate, best bool) candidateData {
	d := candidateData{Camera: c.Camera.Name.Value, Best: best, Kit: kitDataOf(r, &c.Kit, c.Proven), Shots: []pictureData{}}
	for i, use := range c.Uses {
		none := travel.Number(math.NaN())
		picture := pictureData{Shot: r.Scenario.Shots[i].ID, Focal: none, Angle: none, Width: none, Height: none}
		if use != nil {
			width, height := pictureSize(use)
			picture.Lens, picture.Score = &use.Lens, travel.Number(use.Score)
			picture.Focal, picture.Angle = travel.In(use.Fact(facts.FocalLength), "mm"), travel.In(use.Fact(facts.AngleWidth), "deg")
			picture.Width, picture.Height = travel.Number(width), travel.Number(height)
		}
		d.Shots = append(d.Shots, picture)
	}
	return d
}

func nearbyDataOf(l *around) *nearbyData {
	t := &l.answer.Scenario.Tolerances
	d := &nearbyData{
		Briefs: l.nearby.Briefs, Same: l.nearby.Same, Distance: travel.Number(100 * t.Distance), Light: travel.Number(t.Light),
		Subject: travel.Number(100 * t.Subject), Weight: travel.Number(100 * t.Weight), Kits: outcomesDataOf(l.nearby.Kits), Shots: []nearbyShotData{},
	}
	for i := range l.nearby.Shots {
		shot := &l.nearby.Shots[i]
		d.Shots = append(d.Shots, nearbyShotData{shot.ID, shot.Same, outcomesDataOf(shot.Outcomes)})
	}
	if f := l.flip; f != nil {
		d.FirstFlip = &flipData{Shot: f.Shot, Input: f.Input.String(), Share: travel.Number(100 * f.By), Stops: travel.Number(math.NaN()), Kit: travel.List(f.Kit)}
		if f.Input == sure.Light {
			d.FirstFlip.Share, d.FirstFlip.Stops = travel.Number(math.NaN()), travel.Number(f.By)
		}
	}
	return d
}

func outcomesDataOf(outcomes []sure.Outcome) []outcomeData {
	data := []outcomeData{}
	for _, o := range outcomes {
		data = append(data, outcomeData{travel.List(o.Lenses), o.Briefs})
	}
	return data
}
