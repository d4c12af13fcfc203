package brief

import (
	"fmt"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/framelist"
	"glassbrief/lang"
)

// A FramingList is a scenario's frame as a Framing Decision List.
type FramingList struct {
	List   *framelist.List
	Intent string // the id of the one that is judged

	canvases map[inMode]string // their ids
}

// Canvas gives the canvas of a camera in a mode, or nil.
func (f *FramingList) Canvas(camera *catalog.Camera, mode *catalog.Mode) *framelist.Canvas {
	id, ok := f.canvases[inMode{camera.Name.Value, mode.Name.Value}]
	if !ok {
		return nil
	}
	all := f.List.Canvases()
	return all[slices.IndexFunc(all, func(c *framelist.Canvas) bool { return c.ID == id })]
}

// FramingList gives the list of a scenario: the one that it names, with what that lacks of the
// cameras and modes in use, or a new one. A camera whose pixels are not known is left out with
// a warning; without those of the plan there is no list.
func (s *Scenario) FramingList(creator string) (*FramingList, lang.Diagnostics) {
	var found lang.Diagnostics
	f := &FramingList{List: framelist.New(), canvases: map[inMode]string{}}
	wants, names := s.wants(), &framelist.Names{}
	if g := s.Delivery.Listing; g != nil {
		f.List = g.List
		for _, canvas := range f.List.Canvases() {
			names.ID(canvas.ID)
		}
	}
	f.Intent = wants[0].intent.ID
	var contexts []framelist.Context
	for i, camera := range s.Cameras {
		context := framelist.Context{Label: camera.Name.Value}
		for k, mode := range s.modesOf(camera) {
			key := inMode{camera.Name.Value, mode.Name.Value}
			if c := s.Delivery.Listing.at(camera, mode); c != nil {
				f.canvases[key] = c.canvas.ID
				continue
			}
			if !mode.Pixels.Known() {
				d := lang.Diagnostic{
					Severity: lang.Warning, Code: lang.MissingValue, Span: mode.Name.Span,
					Summary: fmt.Sprintf("the mode %q of %q does not say how many pixels it has, and is left out of the list", mode.Name.Value, camera.Name.Value),
					Detail:  "Write them behind its size, as \"mode \\\"Open gate\\\" 36.7mm x 25.54mm 4448 x 3096\".",
				}
				if i == 0 && k == 0 {
					d.Severity, d.Summary = lang.Error, fmt.Sprintf("the mode %q of %q does not say how many pixels it has", mode.Name.Value, camera.Name.Value)
				}
				found.Add(d)
				continue
			}
			canvas := s.canvas(names.ID(camera.Name.Value+" "+mode.Name.Value), mode, wants)
			f.canvases[key] = canvas.ID
			context.Canvases = append(context.Canvases, canvas)
		}
		if len(context.Canvases) > 0 {
			contexts = append(contexts, context)
		}
	}
	if found.HasErrors() {
		return nil, found
	}
	if len(contexts) > 0 {
		intents := make([]framelist.Intent, len(wants))
		for i, w := range wants {
			intents[i] = w.intent
		}
		f.List.Add(creator, intents, contexts)
	}
	return f, found
}

// modesOf gives the modes of a camera that the scenario and its shots use, that of the scenario
// first.
func (s *Scenario) modesOf(camera *catalog.Camera) (modes []*catalog.Mode) {
	names := []string{s.Mode}
	for _, shot := range s.Shots {
		names = append(names, shot.Mode)
	}
	for _, name := range names {
		if mode := camera.Mode(name); mode != nil && !slices.Contains(modes, mode) {
			modes = append(modes, mode)
		}
	}
	return modes
}

// A want is an intent, and how it is placed.
type want struct {
	intent   framelist.Intent
	delivery *Delivery
}

// wants gives the intents of a scenario, the one that is judged first.
func (s *Scenario) wants() []want {
	d := s.Delivery
	if g := d.Listing; g != nil {
		top := slices.ContainsFunc(g.List.Canvases(), func(c *framelist.Canvas) bool {
			return slices.ContainsFunc(c.Decisions, func(d framelist.Decision) bool { return d.CommonTop })
		})
		var all []framelist.Size
		for _, intent := range g.List.Intents {
			all = append(all, intent.Ratio)
		}
		var wants []want
		for _, intent := range g.List.Intents {
			w := want{intent, &Delivery{Ratio: intent.Ratio, Also: all, Protection: intent.Protection, CommonTop: top}}
			if intent.ID == g.Intent.ID {
				wants = slices.Insert(wants, 0, w)
			} else {
				wants = append(wants, w)
			}
		}
		return wants
	}
	var names framelist.Names
	of := func(d *Delivery) want {
		ratio := d.Ratio
		if ratio == (framelist.Size{}) && len(s.Cameras) > 0 {
			if mode := s.Cameras[0].Mode(s.Mode); mode != nil {
				ratio = framelist.WholeRatio(mode.Pixels.Width*s.canvasSqueeze(), mode.Pixels.Height)
			}
		}
		id := names.ID(fmt.Sprintf("FI_%.0f", 100*ratio.Width/ratio.Height))
		return want{framelist.Intent{Label: ShownRatio(ratio), ID: id, Ratio: ratio, Protection: d.Protection}, d}
	}
	wants := []want{of(&d)}
	for i := range d.Also {
		wants = append(wants, of(d.Of(i)))
	}
	return wants
}

// canvasSqueeze gives the squeeze of what is recorded: that of all glass where the scenario says it.
func (s *Scenario) canvasSqueeze() float64 {
	if s.Squeeze > 0 {
		return s.Squeeze
	}
	return 1
}

// canvas gives a mode as a canvas with the decisions for intents.
func (s *Scenario) canvas(id string, mode *catalog.Mode, wants []want) framelist.Canvas {
	c := framelist.Canvas{
		Label: mode.Name.Value, ID: id, Source: id, Squeeze: s.canvasSqueeze(),
		Size:     framelist.Size{Width: mode.Pixels.Width, Height: mode.Pixels.Height},
		Physical: framelist.Size{Width: mode.Size.Width.Value, Height: mode.Size.Height.Value},
	}
	for _, w := range wants {
		d := framelist.Decision{Label: w.intent.Label, ID: id + "-" + w.intent.ID, Intent: w.intent.ID, CommonTop: w.delivery.CommonTop}
		d.Frame, d.Protected = w.delivery.Place(c.Working(), c.Squeeze, framelist.Point{X: 1, Y: 1}, framelist.Usual)
		if w.intent.Protection == 0 {
			d.Protected = framelist.Area{}
		}
		c.Decisions = append(c.Decisions, d)
	}
	return c
}

// ShownRatio writes a ratio as people say it where a list does: 239 to 100 is 2.39:1.
func ShownRatio(r framelist.Size) string {
	if math.Mod(r.Width, r.Height) == 0 || r.Height == 10 || r.Height == 100 || r.Height == 1000 {
		return fmt.Sprintf("%v:1", r.Width/r.Height)
	}
	if r.Height > 1000 {
		return fmt.Sprintf("%.4g:1", r.Width/r.Height)
	}
	return fmt.Sprintf("%v:%v", r.Width, r.Height)
}
