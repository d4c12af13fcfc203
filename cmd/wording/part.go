package wording

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// Doubt says what a shot lacks of being good and whole, "" for nothing.
func Doubt(shot *engine.ShotAnswer, p lang.Printer) string {
	j := shot.Use
	if j == nil {
		text := engine.Out.String() + ": no lens of the kit does it"
		if len(shot.Ranking) > 0 {
			text += ". " + nearest(&shot.Ranking[0], p)
		}
		return text
	}
	return OfLens(j, func(j *engine.Judgement) string { return DoubtOf(j, p) })
}

// DoubtOf says what a lens that may be brought lacks of doing a shot well and whole, "" for
// nothing.
func DoubtOf(j *engine.Judgement, p lang.Printer) string {
	var said []string
	parts, weakest := j.InPart(), j.Weakest()
	for i := range parts {
		said = append(said, Part(&parts[i], j, p))
		if weakest != nil && parts[i].Criterion == weakest.Name {
			weakest = nil
		}
	}
	if weakest != nil {
		said = append(said, lack(weakest, j, p))
	}
	if said == nil {
		return ""
	}
	verdict := j.Verdict().String()
	if parts != nil {
		verdict += ", in part"
	}
	return verdict + ": " + strings.Join(said, "; ")
}

// lack says what a criterion wants of a lens: what its limits leave undone, or else what the rules
// say of its score, if they have words for it.
func lack(f *rules.Finding, j *engine.Judgement, p lang.Printer) string {
	var parts []string
	for _, part := range j.InPart() {
		if part.Criterion == f.Name {
			parts = append(parts, Part(&part, j, p))
		}
	}
	if parts != nil {
		return strings.Join(parts, "; ")
	}
	if lacking := f.Lacking(); lacking != nil {
		return lacking.In(p)
	}
	return fmt.Sprintf("%s scores %s%s", f.Name, worth(f), strings.Replace(saidBy(f, p), ": ", ", ", 1))
}

// Part says what of a shot is not done whole, and where.
func Part(p *engine.Part, j *engine.Judgement, printer lang.Printer) string {
	switch p.Aspect {
	case engine.Framing:
		return "framing " + lost(p, j, floor.FramingLane, "tight", "loose", printer)
	case engine.Focus:
		return "focus " + lost(p, j, floor.FocusLane, "soft", "soft", printer)
	case engine.Light:
		if p.Near < 0 {
			return printer.Quantity(-p.Near, "stops") + " too dark"
		}
		return printer.Quantity(p.Near, "stops") + " too bright"
	case engine.Steadiness:
		return "the picture swims by " + Fact(j, facts.Swing, printer) + " of its width"
	}
	return p.In(printer)
}

// lost says over what of the way a part is lost, by words for too near and too far. What nobody
// sees is a trace.
func lost(p *engine.Part, j *engine.Judgement, lane floor.Lane, near, far string, printer lang.Printer) string {
	way := floor.WayOf(j)
	if text := lostOver(&way, lane, nil, [2]string{near, far}, printer); text != "" {
		return text
	}
	if p.Near+p.Far < 0 {
		near = far
	}
	return near + " by a trace"
}

// lostOver says over what of a way a lane fails, by words for too near and too far, and on a way that
// is none from or up to where it would hold, if that is told; "" where it does not fail.
func lostOver(way *floor.Way, lane floor.Lane, holds *floor.Stretch, words [2]string, p lang.Printer) string {
	var said []string
	for _, piece := range way.Lanes[lane] {
		if piece.Hold != floor.Fails {
			continue
		}
		word, from, until := words[1], " up to ", 0.0
		if holds != nil {
			until = holds.Far
		}
		if piece.Near {
			word, from = words[0], " from "
			if holds != nil {
				until = holds.Near
			}
		}
		if where := where(&piece, way, p); where != "" {
			word += " " + where
		} else if holds != nil && way.Length() == 0 {
			word += fmt.Sprintf(" at %s: it would hold%s%s", p.Quantity(way.Start, "m"), from, p.Quantity(until, "m"))
		}
		said = append(said, word)
	}
	text := strings.Join(said, ", ")
	if strings.Contains(text, " over the ") {
		text += " of " + length(way.Length(), p)
	}
	return text
}

// where says where on a way a piece lies, "" for everywhere.
func where(piece *floor.Piece, w *floor.Way, p lang.Printer) string {
	starts, ends := piece.From == w.Start, piece.To == w.End
	atEnds := [...]string{"at the farthest", "at the nearest"}
	if w.Directed {
		atEnds = [...]string{"at the start", "at the end"}
	}
	switch {
	case starts && ends:
		return ""
	case piece.From == piece.To && starts:
		return atEnds[0]
	case piece.From == piece.To:
		return atEnds[1]
	case w.Directed && starts:
		return "over the first " + length(math.Abs(piece.From-piece.To), p)
	case w.Directed && ends:
		return "over the last " + length(math.Abs(piece.From-piece.To), p)
	case starts:
		return "beyond " + p.Quantity(piece.To, "m")
	case ends:
		return "nearer than " + p.Quantity(piece.From, "m")
	}
	return "between " + Between(min(piece.From, piece.To), max(piece.From, piece.To), p)
}

// length writes a stretch of a way: in centimetres below a metre, as steps are measured.
func length(metres float64, p lang.Printer) string {
	if metres < 0.995 {
		return p.Quantity(metres, "cm")
	}
	return p.Quantity(metres, "m")
}

// Wholeness says how many shots are done whole and no worse than fair, and how the others are.
func Wholeness(r *engine.Recommendation) string {
	var parts, poorParts, poor []string
	asked := 0
	for i := range r.Shots {
		id, j := r.Shots[i].Shot.ID, r.Shots[i].Use
		if j == nil {
			continue
		}
		switch isPoor := j.Verdict() == engine.Poor; {
		case isPoor && j.Whole():
			poor = append(poor, id)
		case isPoor:
			poorParts = append(poorParts, id)
		case j.Whole():
			asked++
		default:
			parts = append(parts, id)
		}
	}
	var others []string
	for _, other := range []struct {
		ids []string
		how string
	}{{parts, "in part"}, {poorParts, "in part and poorly"}, {poor, "only poorly"}, {r.Kit.Uncovered, "not at all"}} {
		if other.ids != nil {
			others = append(others, shotList(other.ids)+" "+other.how)
		}
	}
	all := [...]string{1: "The shot", 2: "Both shots", 3: fmt.Sprintf("All %d shots", asked)}
	switch n := len(r.Shots); {
	case asked == n:
		return all[min(n, 3)] + " can be done as asked."
	case asked == 0:
		return "No shot can be done as asked: " + List(others, "and") + "."
	default:
		return fmt.Sprintf("%d of %d shots can be done as asked, %s.", asked, n, List(others, "and"))
	}
}
