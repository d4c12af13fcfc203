package cmd

import (
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
	"glassbrief/engine/why"
	"glassbrief/lang"
)

type whyData struct {
	travel.Header
	Scenario string             `json:"scenario"`
	Camera   string             `json:"camera"`
	Rig      string             `json:"rig"`
	Shot     string             `json:"shot"`
	Lens     judgementData      `json:"lens"`
	Against  *judgementData     `json:"against" jsonschema:"nullable"` // null when there is no other lens
	Turns    []turnData         `json:"turns"`
	Criteria []criterionWhyData `json:"criteria"`
	Facts    []factWhyData      `json:"facts"`
}

type turnData struct {
	What    string       `json:"what"`
	Lens    string       `json:"lens"` // that gains by it
	Changes []changeData `json:"changes"`
}

// changeData is a change of one figure. Of the distance it is how far the whole move lies
// farther off.
type changeData struct {
	Figure     string        `json:"figure"`
	Now        travel.Number `json:"now"`
	To         travel.Number `json:"to"`
	Unit       string        `json:"unit"`
	Tolerances travel.Number `json:"tolerances"` // null when the figure has none
	Text       string        `json:"text"`
}

type criterionWhyData struct {
	Name    string        `json:"name"`
	About   string        `json:"about"`
	Weight  travel.Number `json:"weight"`
	Share   travel.Number `json:"share_pct"`
	Applies bool          `json:"applies"`
	Score   travel.Number `json:"score"`
	When    *lineData     `json:"when" jsonschema:"nullable"` // null when it always applies
	Vetoes  []lineData    `json:"vetoes"`
	Scores  []lineData    `json:"scores"`
	Reasons []string      `json:"reasons"`
}

type lineData struct {
	Code   string        `json:"code"` // of a veto
	Text   string        `json:"text"`
	Values string        `json:"values"`
	Known  bool          `json:"known"`
	Holds  bool          `json:"holds"` // of a veto: it excludes the lens
	Value  travel.Number `json:"value"` // of a score
}

type factWhyData struct {
	Name    string        `json:"name"`
	Known   bool          `json:"known"`
	Value   travel.Number `json:"value"` // in the unit; null when unknown or without bound
	Unit    string        `json:"unit"`
	Text    string        `json:"text"`
	Scope   string        `json:"scope"`
	Meaning string        `json:"meaning"`
	Formula string        `json:"formula"`
	Source  string        `json:"source"`
}

func whyDataOf(w *reasons, p lang.Printer) whyData {
	r := w.recommendation
	d := whyData{
		Header: travel.HeaderOf("why"), Scenario: r.Scenario.Name, Camera: r.Camera.Name.Value, Rig: r.Scenario.Rig.Name.Value,
		Shot: w.shot.Shot.ID, Lens: judgementDataOf(w.lens, p), Turns: []turnData{}, Criteria: []criterionWhyData{},
		Facts: factsWhyDataOf(w, p),
	}
	if w.against != nil {
		d.Against = travel.Some(judgementDataOf(w.against, p))
	}
	for _, turn := range w.turns {
		d.Turns = append(d.Turns, turnData{turn.to, turn.lenses[0].Name.Value, changesDataOf(turn.changes, p)})
	}
	for i := range w.trace {
		d.Criteria = append(d.Criteria, criterionWhyDataOf(&w.trace[i], p))
	}
	return d
}

func changesDataOf(changes []why.Change, p lang.Printer) []changeData {
	data := []changeData{}
	for i := range changes {
		c := &changes[i]
		unit := [...]string{why.Distance: "m", why.Light: "lx", why.ISO: "", why.Speed: "m/s", why.Mass: "kg"}[c.Figure]
		d := changeData{
			Figure: c.Figure.String(), Now: travel.Number(c.Now), To: travel.Number(c.To), Unit: unit,
			Tolerances: travel.Number(c.Size), Text: wording.Change(c, p),
		}
		if c.Figure == why.Speed && c.Shot.Move.Pace() == 0 {
			d.Now, d.To, d.Unit = travel.In(c.Now, "deg/s"), travel.In(c.To, "deg/s"), "deg/s"
		}
		data = append(data, d)
	}
	return data
}

func criterionWhyDataOf(t *rules.Trace, p lang.Printer) criterionWhyData {
	d := criterionWhyData{
		Name: t.Name, About: t.About, Weight: travel.Number(t.Weight), Share: travel.Number(100 * t.Share), Applies: t.Applies,
		Score: travel.Number(t.Score), Vetoes: []lineData{}, Scores: []lineData{}, Reasons: wording.Said(&t.Finding, p),
	}
	if t.When != nil {
		d.When = travel.Some(lineDataOf(t.When, p))
	}
	for i := range t.Vetoes {
		d.Vetoes = append(d.Vetoes, lineDataOf(&t.Vetoes[i], p))
	}
	for i := range t.Scores {
		d.Scores = append(d.Scores, lineDataOf(&t.Scores[i], p))
	}
	return d
}

func lineDataOf(l *rules.Line, p lang.Printer) lineData {
	return lineData{l.Code, l.Text, l.Values.In(p), l.Known, l.Holds, travel.Number(l.Value)}
}

func factsWhyDataOf(w *reasons, p lang.Printer) []factWhyData {
	data := []factWhyData{}
	add := func(name string, id facts.ID, unit string, truth bool, rest factWhyData) {
		_, known := w.lens.Facts.Get(id)
		rest.Name, rest.Known, rest.Unit = name, known, unit
		rest.Value = travel.Number(w.lens.Fact(id))
		if row, ok := lang.FindUnit(unit); ok {
			rest.Value = travel.Number(w.lens.Fact(id) / row.Factor)
		}
		rest.Text = factText(w, id, unit, truth, p)
		data = append(data, rest)
	}
	for id, fact := range facts.Table() {
		add(fact.Name, facts.ID(id), fact.Unit, fact.Truth, factWhyData{
			Scope: fact.Scope.String(), Meaning: fact.Meaning, Formula: fact.Formula, Source: fact.Source,
		})
	}
	names := w.shot.Shot.Rules.Names()
	for _, fact := range w.shot.Shot.Rules.Facts() {
		id, unit := definedFact(w, fact.Name)
		add(fact.Name, id, unit, false, factWhyData{
			Scope: "rules", Meaning: names.Name(int(id)).Meaning, Formula: fact.Text(), Source: fact.Span.String(),
		})
	}
	return data
}
