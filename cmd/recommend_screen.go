package cmd

import (
	"fmt"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// screenParts are the parts of the first screen, in the order that a house may change.
var screenParts = []string{"lenses", "faults", "set-ups", "beside"}

// screenPage is the answer on one screen: what to bring, what is not done whole, what to set, and
// what would make it another.
func screenPage(a *answer.Answer, settings *Settings, p lang.Printer) show.Page {
	var out show.Page
	r := a.Recommendation
	out.Heading(r.Scenario.Name)
	out.Paragraph(wording.Bring(r, a.Figures))
	for _, part := range settings.Screen {
		var g show.Grid
		switch part {
		case "lenses":
			g = lensesGrid(r)
		case "faults":
			g = faultsGrid(a, p)
		case "set-ups":
			g = dialGrid(r, p)
		case "beside":
			g = besideGrid(a, p)
		}
		cut := 0
		if most := settings.ScreenRows; most > 0 && len(g.Rows) > most {
			g.Rows, cut = g.Rows[:most], len(g.Rows)-most
		}
		if len(g.Rows) > 0 {
			out.Grid(g)
		}
		if cut > 0 {
			out.Paragraph(fmt.Sprintf("And %d more: \"screen_rows\" of the settings.", cut))
		}
		if part == "set-ups" {
			out.Paragraph(dialKey(&out, p))
		}
	}
	oneDay := wording.OneDay(r.Scenario)
	if oneDay != "" {
		oneDay += " "
	}
	out.Paragraph(oneDay + "More: --full, \"glassbrief why\" with --shot, \"glassbrief cards\", --as html. " + wording.Closing)
	return out
}

// dialKey says how the table of set-ups reads.
func dialKey(out *show.Page, p lang.Printer) string {
	key := "Way, start to end: " + wording.WayKey + "."
	if p.System == lang.Metric {
		key = "Metres. " + key
	}
	if out.Says(lang.Assumed) {
		key += " " + wording.TildeKey
	}
	return key
}

// lensesGrid says of each lens which shots it takes and what it is there for.
func lensesGrid(r *engine.Recommendation) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "lens", Wraps: true}, {Title: "shots", Wraps: true}, {Title: "why", Wraps: true}}, Untitled: true}
	for _, lens := range r.Kit.Lenses {
		var shots []string
		for i, use := range r.Kit.Uses {
			if use == lens {
				shots = append(shots, r.Shots[i].Shot.ID)
			}
		}
		g.Rows = append(g.Rows, []show.Cell{{Text: lens, Tone: show.Strong}, {Text: strings.Join(shots, " ")}, {Text: wording.Purpose(r, lens)}})
	}
	return g
}

// faultsGrid says what the shots lack of being good and whole, marked where they are not whole or
// poor, and what there is to do about a shot that no lens of the house does.
func faultsGrid(a *answer.Answer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "!"}, {Title: "shot"}, {Title: "what is not done as asked", Wraps: true}}, Untitled: true}
	for i := range a.Shots {
		shot := &a.Shots[i]
		said := wording.Wanting(a, shot, p)
		if said == "" {
			continue
		}
		mark := show.Cell{Text: "!", Tone: show.Warn}
		switch j := shot.Use; {
		case j == nil:
			mark.Tone = show.Bad
		case j.Whole() && j.Verdict() < engine.Poor:
			mark = show.Cell{}
		}
		g.Rows = append(g.Rows, []show.Cell{mark, {Text: shot.Shot.ID, Tone: show.Strong}, {Text: said}})
	}
	return g
}

// wayCells is the length of the way of a shot on the screen.
const wayCells = 12

// dialGrid is what to set, shot by shot, as short as it can be said.
func dialGrid(r *engine.Recommendation, p lang.Printer) show.Grid {
	bare := func(text string) string { // the unit of a distance stands below the table
		return strings.TrimSuffix(text, " m")
	}
	type column struct {
		show.Column
		of func(j *engine.Judgement) string
	}
	fact := func(id facts.ID) func(j *engine.Judgement) string {
		return func(j *engine.Judgement) string { return bare(wording.Fact(j, id, p)) }
	}
	columns := []column{
		{show.Column{Title: "lens", Wraps: true}, func(j *engine.Judgement) string { return j.Lens }},
		{show.Column{Title: "mm", Right: true}, func(j *engine.Judgement) string {
			if j.Fact(facts.IsZoom) == 0 {
				return "" // its name says it
			}
			return strings.TrimSuffix(wording.Fact(j, facts.FocalLength, p), " mm")
		}},
		{show.Column{Title: "stop", Right: true}, fact(facts.Stop)},
		{show.Column{Title: "stand", Right: true}, func(j *engine.Judgement) string { return bare(wording.StandAt.In(j, p)) }},
		{show.Column{Title: "mark", Right: true}, fact(facts.FocusMark)},
		{show.Column{Title: "near", Right: true, Spare: 2}, fact(facts.NearLimit)},
		{show.Column{Title: "far", Right: true, Spare: 1}, func(j *engine.Judgement) string { return strings.TrimSuffix(fact(facts.FarLimit)(j), "inity") }},
		{show.Column{Title: "ISO", Right: true}, fact(facts.ISO)},
		{show.Column{Title: "ND", Right: true}, func(j *engine.Judgement) string {
			if !(j.Fact(facts.ND) > 0) {
				return "-"
			}
			return strings.TrimSuffix(strings.TrimSuffix(wording.Fact(j, facts.ND, p), " stops"), " stop")
		}},
	}
	g := show.Grid{Columns: []show.Column{{Title: "shot"}}}
	for i := range r.Shots {
		g.Rows = append(g.Rows, []show.Cell{{Text: r.Shots[i].Shot.ID, Tone: show.Strong}})
	}
	for c := range columns {
		texts, said := make([]show.Cell, len(r.Shots)), false
		for i := range r.Shots {
			if j := r.Shots[i].Use; j != nil {
				texts[i].Text = wording.OfLens(j, columns[c].of)
				said = said || texts[i].Text != ""
			}
		}
		if !said && c > 0 {
			continue
		}
		g.Columns = append(g.Columns, columns[c].Column)
		for i := range texts {
			g.Rows[i] = append(g.Rows[i], texts[i])
		}
	}
	g.Columns = append(g.Columns, show.Column{Title: "way", Spare: 3}, show.Column{Title: "verdict", Spare: 4})
	for i := range r.Shots {
		strip, cell := "", show.Cell{Text: engine.Out.String(), Tone: show.Bad}
		if j := r.Shots[i].Use; j != nil {
			way := floor.WayOf(j)
			strip = wording.Strip(&way, wayCells)
			cell = show.Cell{Text: wording.OfLens(j, func(j *engine.Judgement) string { return j.Verdict().String() }), Tone: verdictTones[j.Verdict()]}
		}
		g.Rows[i] = append(g.Rows[i], show.Cell{Text: strip}, cell)
	}
	return g
}

// besideGrid says in a line each what else there is to know of the answer.
func besideGrid(a *answer.Answer, p lang.Printer) show.Grid {
	r := a.Recommendation
	g := show.Grid{Columns: []show.Column{{Title: "about"}, {Title: "what", Wraps: true}}, Untitled: true}
	say := func(about, text string) {
		if text != "" {
			g.Rows = append(g.Rows, []show.Cell{{Text: about}, {Text: text}})
		}
	}
	say("in all", wording.InAll(r, p))
	say("changes", wording.ChangesInShort(a, p))
	if len(a.Runners) > 0 {
		k := &a.Runners[0]
		say("next", fmt.Sprintf("%s: %s; %s", wording.Lenses(k.Lenses), wording.KitScore(r, k), wording.LosesMostIn(r, k)))
	}
	for i := range a.Sizes {
		if k := &a.Sizes[i].Kit; a.Sizes[i].Carry == r.Scenario.Limits.Carry+1 && len(k.Lenses) > len(r.Kit.Lenses) {
			say("one more", fmt.Sprintf("%s: %s, %s", wording.Lenses(k.Lenses), wording.KitScore(r, k), wording.Counted(k.Swaps, "lens change")))
		}
	}
	if a.Cameras != nil && a.Cameras[a.Best].Camera != r.Camera {
		best := &a.Cameras[a.Best]
		say("camera", fmt.Sprintf("%s with %s: %s", best.Camera.Name.Value, wording.Lenses(best.Kit.Lenses), wording.CandidateScore(best)))
	}
	if a.Nearby != nil {
		say("sure", wording.Nearby(a.Nearby, r))
		say("hurts", wording.Hurts(a.Hurts, a.Nearby))
		say("nearby", wording.Drawn(a.Nearby, r.Scenario, p))
		say("same kit", wording.SameKit(a.Nearby, r)+" "+wording.Flip(a.Flip, r.Scenario, p))
	}
	if a.Tastes != nil {
		say("tastes", wording.Tastes(a.Tastes))
		say("held", wording.HeldTastes(a.Tastes))
	}
	for i, q := range wording.Questions(a.Figures) {
		about := "find out"
		if i > 0 {
			about = ""
		}
		if i < 2 {
			say(about, wording.Figure(&q)+": "+wording.Otherwise(&q, p))
		}
	}
	if n := len(r.LeftOut); n > 0 {
		say("left out", wording.Counted(n, "lens")+" for lack of data")
	}
	return g
}
