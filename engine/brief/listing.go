package brief

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/engine/framelist"
	"glassbrief/engine/optics"
	"glassbrief/lang"
)

// framingUse is a Framing Decision List, by path, and what is taken of it.
type framingUse struct {
	Path, Intent, Canvas lang.Text
}

// DecodeArgs reads the values of "framing".
func (f *framingUse) DecodeArgs(args *lang.Args) {
	f.Path = args.Text()
	for args.More() && !args.Failed() {
		if args.Word("intent", "canvas").Value == "intent" {
			f.Intent = args.Text()
		} else {
			f.Canvas = args.Text()
		}
	}
}

// A Listing is a Framing Decision List that says which frame is delivered.
type Listing struct {
	List   *framelist.List
	Intent *framelist.Intent

	source *lang.Source
	placed map[inMode]*placed
}

// inMode names a camera in one of its modes.
type inMode struct{ camera, mode string }

// placed is what a list decides for a camera in a mode.
type placed struct {
	canvas *framelist.Canvas
	judged areas
	also   []areas
}

// areas are a frame in a canvas, and what is kept free around it, which is the same without
// protection.
type areas struct{ frame, outer framelist.Area }

// Canvas gives the canvas of the list for a camera in a mode, or nil.
func (g *Listing) Canvas(camera *catalog.Camera, mode *catalog.Mode) *framelist.Canvas {
	if p := g.at(camera, mode); p != nil {
		return p.canvas
	}
	return nil
}

func (g *Listing) at(camera *catalog.Camera, mode *catalog.Mode) *placed {
	if g == nil {
		return nil
	}
	return g.placed[inMode{camera.Name.Value, mode.Name.Value}]
}

// windows gives areas of the canvas on the sensor.
func (p *placed) windows(a areas, mode *catalog.Mode) Windows {
	size := p.canvas.Physical
	if size == (framelist.Size{}) {
		size = framelist.Size{Width: mode.Size.Width.Value, Height: mode.Size.Height.Value}
	}
	across, down := size.Width/p.canvas.Size.Width, size.Height/p.canvas.Size.Height
	window := func(a framelist.Area) optics.Window {
		return windowOf(framelist.Area{
			Point: framelist.Point{X: a.X * across, Y: a.Y * down},
			Size:  framelist.Size{Width: a.Width * across, Height: a.Height * down},
		}, size)
	}
	return Windows{window(a.frame), window(a.outer)}
}

// listing reads the list that the scenario names, takes the frame from it, and reports where the two
// disagree.
func (l *loader) listing(s *Scenario) {
	use := l.doc.Scenario.Framing
	if !use.Path.Span.Known() {
		return
	}
	src := l.openAs(use.Path, l.files.Budget.Data, lang.OfListing)
	if src == nil {
		return
	}
	list, faults := framelist.Read([]byte(src.Text))
	for _, f := range faults {
		d := lang.Diagnostic{
			Severity: lang.Error, Code: lang.FramingList, Summary: f.Summary, Detail: f.Detail,
			Span: lang.Span{Source: src, Start: f.Start, End: f.End},
		}
		if f.Warning {
			d.Severity = lang.Warning
		}
		l.report(d)
	}
	if list == nil {
		return
	}
	g := &Listing{List: list, source: src, placed: map[inMode]*placed{}}
	if g.Intent = l.intentOf(use, list); g.Intent == nil {
		return
	}
	s.Delivery = Delivery{Ratio: g.Intent.Ratio, Protection: g.Intent.Protection, Listing: g}
	l.compareIntent(g)
	if len(s.Cameras) > 0 {
		l.placeAll(g, s)
	}
}

func (g *Listing) span(p framelist.Place) lang.Span {
	if p == (framelist.Place{}) {
		return lang.Span{}
	}
	return lang.Span{Source: g.source, Start: p.Start, End: p.End}
}

// intentOf chooses the intent that is judged.
func (l *loader) intentOf(use framingUse, list *framelist.List) *framelist.Intent {
	ids := make([]string, len(list.Intents))
	for i, intent := range list.Intents {
		ids[i] = intent.ID
	}
	asked, at := use.Intent.Value, use.Intent.Span
	if !at.Known() {
		asked, at = list.Default, use.Path.Span
		if asked == "" && len(ids) == 1 {
			asked = ids[0]
		}
	}
	if intent := list.Intent(asked); intent != nil {
		return intent
	}
	d := lang.Diagnostic{Severity: lang.Error, Code: lang.UnknownName, Span: at, Detail: fmt.Sprintf("Its intents are %s.", lang.Quoted(ids))}
	switch {
	case len(ids) == 0:
		d.Summary, d.Detail = fmt.Sprintf("%q has no framing intent", use.Path.Value), "Name a list that has one, or state \"deliver\" and \"protect\" instead."
	case use.Intent.Span.Known():
		d.Summary, d.Instead = fmt.Sprintf("%q has no framing intent %q", use.Path.Value, asked), lang.Nearest(asked, ids)
	default:
		d.Summary = fmt.Sprintf("%q has several framing intents and none by default", use.Path.Value)
		d.Detail += fmt.Sprintf(" Name one, as: framing %q intent %q", use.Path.Value, ids[0])
	}
	l.report(d)
	return nil
}

// compareIntent reports what the scenario says otherwise of the frame than the list.
func (l *loader) compareIntent(g *Listing) {
	h, intent := &l.doc.Scenario, g.Intent
	both := "The two must agree: change one of them, or leave the line out of the scenario."
	if h.Deliver.Known() && !wholeRatio(h.Deliver).SameAs(intent.Ratio) {
		detail := both
		for _, other := range g.List.Intents {
			if other.Ratio.SameAs(wholeRatio(h.Deliver)) {
				detail = fmt.Sprintf("The list has this ratio as another intent: write intent %q behind its name.", other.ID)
			}
		}
		l.contradiction(h.Deliver.Span, fmt.Sprintf("%q is not the ratio of intent %s, which is %s", h.Deliver.Span.Text(), intent.ID, ShownRatio(intent.Ratio)),
			detail, g.span(intent.RatioAt), "the list has it here")
	}
	if h.Protect.Known() && math.Abs(h.Protect.Value-intent.Protection) > 1e-9 {
		at := g.span(intent.ProtectionAt)
		if !at.Known() {
			at = g.span(intent.At)
		}
		l.contradiction(h.Protect.Span, fmt.Sprintf("%q is not the protection of intent %s, which is %s", h.Protect.Span.Text(), intent.ID, percent(intent.Protection)),
			both, at, "the list has it here")
	}
	for _, other := range []struct {
		span lang.Span
		word string
	}{{h.Common.Span, "common"}, {h.Anchor.Span, "anchor"}} {
		if other.span.Known() {
			l.contradiction(other.span, fmt.Sprintf("%q says where the frame stands, and so does the list", other.word),
				"Leave the line out: a decision of the list stands where it says.", h.Framing.Path.Span, "the list is named here")
		}
	}
	for _, also := range h.Also {
		if !slices.ContainsFunc(g.List.Intents, func(i framelist.Intent) bool { return i.Ratio.SameAs(wholeRatio(also)) }) {
			l.differs(also.Span, fmt.Sprintf("no intent of the list has the ratio %q", also.Span.Text()), "It is not drawn: what a list names is drawn by its decisions.",
				h.Framing.Path.Span, "the list is named here")
		}
	}
	if id := g.List.Default; id != "" && id != intent.ID {
		l.differs(h.Framing.Intent.Span, fmt.Sprintf("intent %s (%s) is judged, and the list has %s (%s) by default", intent.ID, ShownRatio(intent.Ratio), id, ShownRatio(g.List.Intent(id).Ratio)),
			"Check which of the two is delivered.", g.span(g.List.Intent(id).At), "the default is here")
	}
}

func percent(share float64) string { return fmt.Sprintf("%.6g%%", 100*share) }

// differs warns of a line that the list has otherwise.
func (l *loader) differs(span lang.Span, summary, detail string, other lang.Span, note string) {
	l.report(lang.Diagnostic{
		Severity: lang.Warning, Code: lang.FramingList, Span: span, Summary: summary, Detail: detail,
		Related: []lang.Related{{Span: other, Note: note}},
	})
}

// placeAll finds the canvas of every camera in every mode in use. The plan must have one.
func (l *loader) placeAll(g *Listing, s *Scenario) {
	modes := []string{l.doc.Scenario.Mode.Value}
	for _, shot := range l.doc.Shots {
		if shot.Mode.Span.Known() && !slices.Contains(modes, shot.Mode.Value) {
			modes = append(modes, shot.Mode.Value)
		}
	}
	for i, camera := range s.Cameras {
		for k, name := range modes {
			if mode := camera.Mode(name); mode != nil {
				l.place(g, camera, mode, i == 0 && k == 0)
			}
		}
	}
	plan := s.Cameras[0]
	if mode := plan.Mode(modes[0]); mode != nil {
		if canvas := g.Canvas(plan, mode); canvas != nil {
			l.compareSqueeze(g, s, canvas)
		}
	}
}

// place takes the decision for a camera in a mode.
func (l *loader) place(g *Listing, camera *catalog.Camera, mode *catalog.Mode, plan bool) {
	use := l.doc.Scenario.Framing
	canvas := l.canvasOf(g, camera, mode, plan)
	if canvas == nil {
		return
	}
	l.compareMode(g, mode, canvas)
	p := &placed{canvas: canvas}
	decided := canvas.Decision(g.Intent.ID)
	frame, outer := g.derived(canvas, decided, framelist.Usual)
	if decided == nil {
		l.differs(use.Path.Span, fmt.Sprintf("canvas %s has no decision for intent %s", canvas.ID, g.Intent.ID),
			"The frame is placed by the rule of the list: in the middle, as large as fits.", g.span(canvas.At), "the canvas is here")
	} else {
		exact, _ := g.derived(canvas, decided, framelist.Rounding{})
		if apart(decided.Frame, frame) > 1 && apart(decided.Frame, exact) > 1 {
			l.differs(use.Path.Span, fmt.Sprintf("decision %s is %v, and its intent gives %v", decided.ID, decided.Frame, frame),
				"It is taken as decided, and not as derived.", g.span(decided.At), "the decision is here")
		}
		frame, outer = decided.Frame, decided.Outer()
	}
	if !outer.Known() {
		outer = frame
	}
	p.judged = areas{frame, outer}
	for i := range canvas.Decisions {
		if other := &canvas.Decisions[i]; other != decided {
			p.also = append(p.also, areas{other.Frame, other.Outer()})
		}
	}
	g.placed[inMode{camera.Name.Value, mode.Name.Value}] = p
}

// derived gives what the rule of the list makes of the intent in a canvas, with the top that a decision
// has in common with the others where it says so.
func (g *Listing) derived(canvas *framelist.Canvas, decided *framelist.Decision, r framelist.Rounding) (frame, protected framelist.Area) {
	decide := func(intent *framelist.Intent) (frame, protected framelist.Area) {
		return framelist.Decide(canvas.Working(), canvas.Squeeze, intent.Ratio, intent.Protection, r)
	}
	frame, protected = decide(g.Intent)
	if decided == nil || !decided.CommonTop {
		return frame, protected
	}
	top := frame.Y
	for _, other := range canvas.Decisions {
		area, _ := decide(g.List.Intent(other.Intent))
		top = min(top, area.Y)
	}
	return framelist.Move(canvas.Working(), frame, protected, framelist.Point{X: frame.X, Y: top})
}

// apart gives by how many pixels two areas differ at most.
func apart(a, b framelist.Area) float64 {
	return max(math.Abs(a.X-b.X), math.Abs(a.Y-b.Y), math.Abs(a.Width-b.Width), math.Abs(a.Height-b.Height))
}

// sameMillimetres is how far the sizes of a canvas and of a mode may differ and still be the
// same, as a share: data sheets round to a hundredth of a millimetre.
const sameMillimetres = 0.005

func fits(canvas *framelist.Canvas, mode *catalog.Mode) bool {
	off := func(a, b float64) bool { return math.Abs(a/b-1) > sameMillimetres }
	return canvas.Physical != (framelist.Size{}) && !off(canvas.Physical.Width, mode.Size.Width.Value) && !off(canvas.Physical.Height, mode.Size.Height.Value)
}

// canvasOf finds the canvas of a mode: the one that is named for the plan, else the only one that
// has its pixels or, where none does, its millimetres. What is derived from another canvas does
// not count.
func (l *loader) canvasOf(g *Listing, camera *catalog.Camera, mode *catalog.Mode, plan bool) *framelist.Canvas {
	use, all := l.doc.Scenario.Framing, g.List.Canvases()
	var found []*framelist.Canvas
	find := func(is func(c *framelist.Canvas) bool) {
		for _, c := range all {
			if is(c) {
				found = append(found, c)
			}
		}
	}
	named := plan && use.Canvas.Span.Known()
	switch {
	case named:
		find(func(c *framelist.Canvas) bool { return c.ID == use.Canvas.Value })
		if len(found) == 0 {
			find(func(c *framelist.Canvas) bool { return c.Label == use.Canvas.Value })
		}
	default:
		find(func(c *framelist.Canvas) bool {
			return c.Source == c.ID && c.Size == framelist.Size{Width: mode.Pixels.Width, Height: mode.Pixels.Height}
		})
		if len(found) == 0 {
			find(func(c *framelist.Canvas) bool { return c.Source == c.ID && fits(c, mode) })
		}
	}
	if len(found) == 1 {
		return found[0]
	}
	listed := make([]string, len(all))
	for i, c := range all {
		listed[i] = fmt.Sprintf("%q (%v)", c.ID, c.Size)
	}
	d := lang.Diagnostic{Severity: lang.Error, Code: lang.UnknownName, Span: use.Path.Span, Detail: "The list has no canvas."}
	if len(all) > 0 {
		d.Detail = fmt.Sprintf("Its canvases are %s. Name one, as: framing %q canvas %q", strings.Join(listed, ", "), use.Path.Value, all[0].ID)
	}
	d.Related = []lang.Related{{Span: mode.Name.Span, Note: "the mode is here"}}
	switch {
	case named:
		d.Span, d.Related = use.Canvas.Span, nil
		d.Summary = fmt.Sprintf("%q has %s canvas %q", use.Path.Value, noneOrSeveral(found), use.Canvas.Value)
	case len(found) > 1:
		d.Summary = fmt.Sprintf("%q has several canvases for the mode %q of %q", use.Path.Value, mode.Name.Value, camera.Name.Value)
	default:
		d.Summary = fmt.Sprintf("%q has no canvas for the mode %q of %q, by its pixels or by its size", use.Path.Value, mode.Name.Value, camera.Name.Value)
	}
	if !plan {
		d.Severity = lang.Warning
		d.Detail = "There the frame is placed by the intent alone: in the middle, as large as fits."
	}
	l.report(d)
	return nil
}

func noneOrSeveral(found []*framelist.Canvas) string {
	if len(found) == 0 {
		return "no"
	}
	return "more than one"
}

// compareMode reports where a canvas and the mode of the catalogue disagree.
func (l *loader) compareMode(g *Listing, mode *catalog.Mode, canvas *framelist.Canvas) {
	at := l.doc.Scenario.Framing.Path.Span
	if p := mode.Pixels; p.Known() && canvas.Size != (framelist.Size{Width: p.Width, Height: p.Height}) {
		l.report(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.FramingList, Span: at,
			Summary: fmt.Sprintf("canvas %s has %v pixels, and the mode %q has %v", canvas.ID, canvas.Size, mode.Name.Value, p),
			Detail:  "The list is taken for the frame. Check whether the canvas is of this mode.",
			Related: []lang.Related{{Span: g.span(canvas.SizeAt), Note: "the canvas is here"}, {Span: p.Span, Note: "the mode is here"}},
		})
	}
	if canvas.Physical != (framelist.Size{}) && !fits(canvas, mode) {
		l.report(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.FramingList, Span: at,
			Summary: fmt.Sprintf("canvas %s is %.2f mm x %.2f mm, and the mode %q is %s", canvas.ID, canvas.Physical.Width*1000, canvas.Physical.Height*1000, mode.Name.Value, mode.Size.Span.Text()),
			Detail:  "The list is taken for the frame, and the catalogue for all else. Check which is right.",
			Related: []lang.Related{{Span: g.span(canvas.PhysicalAt), Note: "the canvas is here"}, {Span: mode.Size.Span, Note: "the mode is here"}},
		})
	}
	if e := canvas.Effective; e.Known() && e.Size != canvas.Size {
		l.differs(at, fmt.Sprintf("of canvas %s only %v may be used, and the mode %q records all %v pixels", canvas.ID, e, mode.Name.Value, canvas.Size),
			"What lies outside may be dark or cut off; the frame is taken as the list has it.", g.span(canvas.EffectiveAt), "the effective area is here")
	}
}

// compareSqueeze takes the squeeze of all glass from the canvas of the plan. A lens of another squeeze
// would show the frame wider or narrower than it is decided.
func (l *loader) compareSqueeze(g *Listing, s *Scenario, canvas *framelist.Canvas) {
	h, at := &l.doc.Scenario, g.span(canvas.SqueezeAt)
	if !at.Known() {
		at = g.span(canvas.At)
	}
	same := func(squeeze float64) bool { return math.Abs(squeeze-canvas.Squeeze) <= 0.01 }
	if h.Squeeze.Known() && !same(h.Squeeze.Value) {
		l.contradiction(h.Squeeze.Span, fmt.Sprintf("%q is not the squeeze of canvas %s, which is %v", h.Squeeze.Span.Text(), canvas.ID, canvas.Squeeze),
			"The two must agree: change one of them, or leave the line out of the scenario.", at, "the list has it here")
		return
	}
	s.Squeeze = canvas.Squeeze
	for _, name := range h.Bring {
		if lens, ok := s.Catalogue.Lenses.Lookup(name.Value); ok && !same(lens.SqueezeFactor()) {
			l.contradiction(name.Span, fmt.Sprintf("%q %s, and canvas %s is squeezed %v times", name.Value, squeezes(lens), canvas.ID, canvas.Squeeze),
				"Bring a lens of the squeeze of the canvas, or take another canvas.", at, "the list has it here")
		}
	}
	if !slices.ContainsFunc(s.Catalogue.Lenses.All(), func(lens *catalog.Lens) bool { return same(lens.SqueezeFactor()) }) {
		l.contradiction(h.Framing.Path.Span, fmt.Sprintf("canvas %s is squeezed %v times, and no lens of the catalogue squeezes so", canvas.ID, canvas.Squeeze),
			"Add such a lens to the catalogue, or take another canvas: a lens of another squeeze would show the frame wider or narrower than it is decided.", at, "the list has it here")
	}
}

func squeezes(lens *catalog.Lens) string {
	if squeeze := lens.SqueezeFactor(); squeeze != 1 {
		return fmt.Sprintf("squeezes %v times", squeeze)
	}
	return "is spherical"
}
