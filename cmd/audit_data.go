package cmd

import (
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine/audit"
	"glassbrief/engine/why"
	"glassbrief/lang"
)

type auditData struct {
	travel.Header
	Scenario       string              `json:"scenario"`
	Camera         string              `json:"camera"`
	Rig            string              `json:"rig"`
	Suits          bool                `json:"suits"`
	House          auditKitData        `json:"house"`
	Limits         limitsData          `json:"limits"`
	Shots          []verdictData       `json:"shots"`
	Carry          int                 `json:"carry"` // lenses to carry for what the house can do; 0 when no more than the limit
	Specifications []specificationData `json:"specifications"`
	Mounts         []string            `json:"mounts"`                       // that go onto the camera
	Hire           *auditKitData       `json:"hire" jsonschema:"nullable"`   // null when hiring does not help, or is not allowed
	Better         *auditKitData       `json:"better" jsonschema:"nullable"` // what hired glass makes score higher
	Beyond         *auditKitData       `json:"beyond" jsonschema:"nullable"` // what would do more without the limit on rent
}

type auditKitData struct {
	Lenses    []string      `json:"lenses"`
	Hired     []offerData   `json:"hired"`
	Cost      travel.Number `json:"cost_a_day"`
	Score     travel.Number `json:"score"`
	Uncovered []string      `json:"uncovered"`
}

type offerData struct {
	Lens    string        `json:"lens"`
	DayRate travel.Number `json:"cost_a_day"`
}

type verdictData struct {
	ID          string           `json:"id"`
	Verdict     string           `json:"verdict"`                    // passes, compromise or fails
	Lens        *string          `json:"lens" jsonschema:"nullable"` // of the house kit; null when it fails
	Score       travel.Number    `json:"score"`
	Compromises []compromiseData `json:"compromises"`
	Able        []string         `json:"able"` // lenses of the house that do it and for which there is no room
	Hire        []offerData      `json:"hire"`
	Window      *windowData      `json:"window" jsonschema:"nullable"` // null unless it fails and a lens could do it
	Blocks      []string         `json:"blocks"`                       // what excludes any lens
	Changes     []liftData       `json:"changes"`
}

type compromiseData struct {
	Criterion string        `json:"criterion"`
	Score     travel.Number `json:"score"`
	Lacks     []string      `json:"lacks"`
	Reasons   []string      `json:"reasons"`
}

// windowData has null for an end that nothing bounds.
type windowData struct {
	FocalMin      travel.Number `json:"focal_min_mm"`
	FocalMax      travel.Number `json:"focal_max_mm"`
	TMin          travel.Number `json:"t_min"`
	TMax          travel.Number `json:"t_max"`
	CloseFocusMin travel.Number `json:"close_focus_min_m"`
	CloseFocusMax travel.Number `json:"close_focus_max_m"`
	MassMin       travel.Number `json:"mass_min_kg"`
	MassMax       travel.Number `json:"mass_max_kg"`
	CircleMin     travel.Number `json:"circle_min_mm"`
	CircleMax     travel.Number `json:"circle_max_mm"`
	LengthMin     travel.Number `json:"length_min_mm"`
	LengthMax     travel.Number `json:"length_max_mm"`
	Apart         bool          `json:"apart"` // the limits depend on each other
}

type specificationData struct {
	Shots  []string    `json:"shots"`
	Window windowData  `json:"window"`
	Hire   []offerData `json:"hire"`
}

type liftData struct {
	Lens string `json:"lens"`
	changeData
}

func auditDataOf(r *audit.Answer, p lang.Printer) auditData {
	d := auditData{
		Header: travel.HeaderOf("audit"), Scenario: r.Scenario.Name, Camera: r.Camera.Name.Value, Rig: r.Scenario.Rig.Name.Value,
		Suits: r.Suits, House: auditKitDataOf(&audit.Hire{Kit: r.House}), Limits: limitsDataOf(&r.Limits),
		Shots: []verdictData{}, Carry: r.Carry, Specifications: []specificationData{}, Mounts: r.Mounts(),
	}
	for i := range r.Shots {
		d.Shots = append(d.Shots, verdictDataOf(&r.Shots[i], p))
	}
	for i := range r.Specifications {
		s := &r.Specifications[i]
		data := specificationData{Window: windowDataOf(&s.Window), Hire: offersDataOf(s.Hire)}
		for _, shot := range s.Shots {
			data.Shots = append(data.Shots, r.Shots[shot].Shot.ID)
		}
		d.Specifications = append(d.Specifications, data)
	}
	if r.Hire != nil {
		d.Hire = travel.Some(auditKitDataOf(r.Hire))
	}
	if r.Better != nil {
		d.Better = travel.Some(auditKitDataOf(r.Better))
	}
	if r.Beyond != nil {
		d.Beyond = travel.Some(auditKitDataOf(r.Beyond))
	}
	return d
}

func auditKitDataOf(h *audit.Hire) auditKitData {
	return auditKitData{
		Lenses: travel.List(h.Kit.Lenses), Hired: offersDataOf(h.Lenses), Cost: travel.Number(h.Kit.Cost),
		Score: travel.Number(h.Kit.Mean), Uncovered: travel.List(h.Kit.Uncovered),
	}
}

func offersDataOf(offers []audit.Offer) []offerData {
	data := []offerData{}
	for _, offer := range offers {
		data = append(data, offerData{offer.Lens, travel.Number(offer.DayRate)})
	}
	return data
}

// verdictWords are the verdicts for programs.
var verdictWords = map[audit.Verdict]string{audit.Passes: "passes", audit.Compromise: "compromise", audit.Fails: "fails"}

func verdictDataOf(v *audit.Shot, p lang.Printer) verdictData {
	d := verdictData{
		ID: v.Shot.ID, Verdict: verdictWords[v.Verdict], Compromises: []compromiseData{}, Able: travel.List(v.Able),
		Hire: offersDataOf(v.Hire), Blocks: wording.Vetoes(v.Blocks, p), Changes: []liftData{},
	}
	if v.Use != nil {
		d.Lens, d.Score = &v.Use.Lens, travel.Number(v.Use.Score)
	}
	for i := range v.Compromises {
		f := &v.Compromises[i]
		d.Compromises = append(d.Compromises, compromiseData{f.Name, travel.Number(f.Score), travel.List(f.Unknown), wording.Reasons(f, p)})
	}
	if v.Window != nil {
		d.Window = travel.Some(windowDataOf(v.Window))
	}
	for i := range v.Changes {
		c := &v.Changes[i]
		d.Changes = append(d.Changes, liftData{c.Lens, changesDataOf([]why.Change{c.Change}, p)[0]})
	}
	return d
}

func windowDataOf(w *audit.Window) windowData {
	edges := func(axis audit.Axis, unit string) (low, high travel.Number) {
		if unit == "" {
			return travel.Number(w.Axes[axis].Low), travel.Number(w.Axes[axis].High)
		}
		return travel.In(w.Axes[axis].Low, unit), travel.In(w.Axes[axis].High, unit)
	}
	d := windowData{Apart: w.Apart}
	d.FocalMin, d.FocalMax = edges(audit.Focal, "mm")
	d.TMin, d.TMax = edges(audit.WidestT, "")
	d.CloseFocusMin, d.CloseFocusMax = edges(audit.CloseFocus, "m")
	d.MassMin, d.MassMax = edges(audit.Mass, "kg")
	d.CircleMin, d.CircleMax = edges(audit.Circle, "mm")
	d.LengthMin, d.LengthMax = edges(audit.Length, "mm")
	return d
}

// auditRow is the verdict on one shot, for a spreadsheet.
type auditRow struct {
	Shot       string        `json:"shot"`
	Verdict    string        `json:"verdict"`
	Lens       string        `json:"lens"`
	Score      travel.Number `json:"score"`
	Because    string        `json:"because"`
	FocalMin   travel.Number `json:"focal_min_mm"`
	FocalMax   travel.Number `json:"focal_max_mm"`
	TMax       travel.Number `json:"t_max"`
	CloseFocus travel.Number `json:"close_focus_max_m"`
	MassMax    travel.Number `json:"mass_max_kg"`
	CircleMin  travel.Number `json:"circle_min_mm"`
	Hire       string        `json:"hire"` // the cheapest lens for hire that does it
	Cost       travel.Number `json:"cost_a_day"`
}

func auditRowsOf(r *audit.Answer, p lang.Printer) []any {
	rows := []any{}
	for i := range r.Shots {
		v := &r.Shots[i]
		d := verdictDataOf(v, p)
		row := auditRow{Shot: d.ID, Verdict: d.Verdict, Score: d.Score, Because: wording.Verdict(r, v, p)}
		if d.Lens != nil {
			row.Lens = *d.Lens
		}
		if w := d.Window; w != nil {
			row.FocalMin, row.FocalMax, row.TMax = w.FocalMin, w.FocalMax, w.TMax
			row.CloseFocus, row.MassMax, row.CircleMin = w.CloseFocusMax, w.MassMax, w.CircleMin
		}
		if len(v.Hire) > 0 {
			row.Hire, row.Cost = v.Hire[0].Lens, travel.Number(v.Hire[0].DayRate)
		}
		rows = append(rows, row)
	}
	return rows
}
