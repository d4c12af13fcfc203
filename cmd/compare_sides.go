package cmd

import (
	"cmp"
	"context"
	"fmt"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/compare"
	"glassbrief/lang"
)

// review compares two versions that come from a third.
func (a *app) review(ctx context.Context, names []string, o engine.Options) error {
	var sides []compare.Side
	var r *compare.Review
	var read func() error
	read = func() error {
		if len(sides) < len(names) {
			return a.withVersion(ctx, names[len(sides)], func(text *lang.Source, files brief.Files) error {
				sides = append(sides, compare.Side{Source: text, Files: files})
				return read()
			})
		}
		var err error
		r, err = compare.ReviewSides(ctx, sides[0], sides[1], sides[2], o)
		return err
	}
	if err := read(); err != nil {
		return err
	}
	a.reportWarnings(r.Warnings)
	if err := a.show(view{
		data: travel.Review(r, names),
		page: func(p lang.Printer) show.Page { return reviewPage(r, names, p) },
	}); err != nil {
		return err
	}
	if r.Contradicted() || r.Merged == nil || !r.LikeOurs() && !r.LikeTheirs() {
		return errNo
	}
	return nil
}

func reviewPage(r *compare.Review, names []string, p lang.Printer) (out show.Page) {
	defer tildeKey(&out)
	out.Heading(fmt.Sprintf("%s: %s and %s, which come from %s", r.Base.Scenario.Name, names[1], names[2], names[0]))
	out.Paragraph(reviewVerdict(r, p))
	if len(r.ByOurs)+len(r.ByTheirs) > 0 {
		out.Heading("What each changes")
		out.Grid(sidesChangesGrid(r))
	}
	if len(r.Meetings) > 0 {
		out.Heading("What both change")
		out.Grid(meetingsGrid(r))
	}
	out.Heading("What each recommends, and what both together do")
	out.Grid(sidesGrid(r, p))
	return out
}

// reviewVerdict says first what the two come to together.
func reviewVerdict(r *compare.Review, p lang.Printer) string {
	text := ""
	contradictions := 0
	for _, m := range r.Meetings {
		if m.Outcome == compare.Contradiction {
			contradictions++
		}
	}
	if contradictions > 0 {
		text = fmt.Sprintf("They contradict each other in %s; the plan of both keeps what stood there before. ", wording.Counted(contradictions, "place"))
	}
	if r.Merged == nil {
		text += "They do not go together: the brief with the changes of both cannot be read."
		for _, d := range r.Faults {
			if d.Severity == lang.Error {
				text += fmt.Sprintf(" What is wrong with it: %s.", d.Summary)
				break
			}
		}
		return text
	}
	switch ours, theirs := r.LikeOurs(), r.LikeTheirs(); {
	case ours && theirs:
		text += "With the changes of both, the plan is the one that each makes."
	case ours:
		text += "With the changes of both, the plan is the one that ours makes."
	case theirs:
		text += "With the changes of both, the plan is the one that theirs makes."
	default:
		text += "With the changes of both, the plan is neither the one that ours makes nor that of theirs."
	}
	return text + " " + wording.Bring(r.Merged, nil) + " " + wording.InAll(r.Merged, p)
}

func sidesChangesGrid(r *compare.Review) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "by"}, {Title: "what", Wraps: true}, {Title: "before", Wraps: true}, {Title: "now", Wraps: true}}}
	add := func(by string, e *compare.Edit) {
		g.Rows = append(g.Rows, append([]show.Cell{{Text: by}}, changeCells(e)...))
	}
	alike := map[int]bool{}
	inBoth := map[int]bool{}
	for _, m := range r.Meetings {
		if m.Outcome == compare.Alike {
			inBoth[m.Ours], alike[m.Theirs] = true, true
		}
	}
	for i := range r.ByOurs {
		by := "ours"
		if inBoth[i] {
			by = "both"
		}
		add(by, &r.ByOurs[i])
	}
	for i := range r.ByTheirs {
		if !alike[i] {
			add("theirs", &r.ByTheirs[i])
		}
	}
	return g
}

func meetingsGrid(r *compare.Review) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "what", Wraps: true}, {Title: "ours", Wraps: true}, {Title: "theirs", Wraps: true}, {Title: "together", Wraps: true}}}
	for _, m := range r.Meetings {
		ours, theirs := &r.ByOurs[m.Ours], &r.ByTheirs[m.Theirs]
		what, words := changeName(ours), map[compare.Outcome]string{compare.Alike: "the same", compare.Joined: "both hold", compare.Contradiction: "a contradiction"}
		if ours.Kind == compare.Removed && ours.Field == "" {
			what = changeName(theirs)
		}
		g.Rows = append(g.Rows, []show.Cell{{Text: what, Tone: show.Strong}, {Text: shorten(sideText(ours))}, {Text: shorten(sideText(theirs))}, {Text: words[m.Outcome]}})
	}
	return g
}

// sideText says what a change makes of something.
func sideText(e *compare.Edit) string {
	if e.Kind == compare.Removed {
		return "taken out"
	}
	return absent(e.New)
}

// sidesGrid sets beside each other what the versions recommend, where it is not one thing.
func sidesGrid(r *compare.Review, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "what", Wraps: true}, {Title: "before", Wraps: true}, {Title: "ours", Wraps: true}, {Title: "theirs", Wraps: true}, {Title: "both", Wraps: true}}}
	sides := [...]*engine.Recommendation{r.Base, r.Ours, r.Theirs, r.Merged}
	add := func(what string, of func(side int) string, always bool) {
		cells := []show.Cell{{Text: what, Tone: show.Strong}}
		same := true
		for i, side := range sides {
			text := "–"
			if side != nil {
				text = of(i)
			}
			cells = append(cells, show.Cell{Text: text})
			same = same && (side == nil || text == cells[1].Text)
		}
		if always || !same {
			g.Rows = append(g.Rows, cells)
		}
	}
	add("camera", func(i int) string { return sides[i].Camera.Name.Value }, false)
	add("kit", func(i int) string { return kitText(sides[i]) }, true)
	for _, s := range r.Shots {
		answers := [...]*engine.ShotAnswer{s.Base, s.Ours, s.Theirs, s.Merged}
		add("shot "+cmp.Or(s.Merged, s.Ours, s.Theirs, s.Base).Shot.ID, func(i int) string {
			if answers[i] == nil {
				return "–"
			}
			return setupText(answers[i].Use, p)
		}, false)
	}
	return g
}
