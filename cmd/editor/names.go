package editor

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// look reads a document as far as it can be read. For a catalogue it is a scenario of all
// its cameras, and for rules one that has nothing else.
func (s *server) look(d *document) *brief.Scenario {
	switch d.kind {
	case "catalog":
		c, _ := catalog.Load(d.source)
		return &brief.Scenario{Catalogue: c, Cameras: c.Cameras.All(), Rig: &catalog.Rig{}, Rules: rules.Standard()}
	case "rules":
		set, _ := rules.Standard().Extend(d.source)
		return &brief.Scenario{Catalogue: &catalog.Catalogue{}, Rules: set}
	}
	var scenario *brief.Scenario
	if err := s.files(d, func(files brief.Files) { scenario = brief.Look(d.source, files) }); err != nil {
		// The settings are at fault, which is among the findings.
		return brief.Look(d.source, brief.Files{})
	}
	return scenario
}

// nameKind says what a quoted text at a place names: "lens", "camera", "rig", "mount",
// "adapter", "filter", "criterion", "shot", "mode" or "file"; "" when it is free text.
func (d *document) nameKind(place lang.Place) string {
	word := "" // the last one before the place
	for _, value := range slices.Backward(place.Values) {
		if text := value.Text(); text[0] != '"' {
			word = text
			break
		}
	}
	switch keyword := place.Keyword.Value; {
	case place.Block() == "case":
		return "criterion"
	case keyword == "expect" && word == "kit":
		return "lens"
	case keyword == "expect" || keyword == "amend":
		return word
	case place.Block() == "" && keyword == "use", place.Block() == "scenario" && (keyword == "script" || keyword == "rules"):
		return "file"
	case place.Block() == "scenario" && (keyword == "bring" || keyword == "leave"):
		return "lens"
	case place.Block() == "scenario", d.kind == "catalog" && (place.Block() == "" || keyword == "mount"):
		return keyword // camera, rig, mode; in a catalogue, what it describes
	case place.Block() == "adapter" && keyword == "from":
		return "mount"
	}
	return ""
}

// An item is a piece of equipment as an editor shows it.
type item struct {
	span lang.Span // where it is described
	text string    // Markdown
}

// find gives the piece of equipment of a kind and name.
func find(s *brief.Scenario, kind, name string, p lang.Printer) (item, bool) {
	c := s.Catalogue
	switch kind {
	case "lens":
		if lens, ok := c.Lenses.Lookup(name); ok {
			text := describe(kind, name, catalog.Fields(lens), p)
			for _, camera := range s.Cameras {
				text += fieldOn(s, lens, camera, p)
			}
			return item{lens.Span, text}, true
		}
	case "camera":
		return lookUp(&c.Cameras, kind, name, p, func(x *catalog.Camera) lang.Span { return x.Span })
	case "rig":
		return lookUp(&c.Rigs, kind, name, p, func(x *catalog.Rig) lang.Span { return x.Span })
	case "mount":
		return lookUp(&c.Mounts, kind, name, p, func(x *catalog.Mount) lang.Span { return x.Span })
	case "adapter":
		return lookUp(&c.Adapters, kind, name, p, func(x *catalog.Adapter) lang.Span { return x.Span })
	case "criterion":
		for _, criterion := range s.Rules.Criteria() {
			if criterion.Name == name {
				return item{criterion.Span, fmt.Sprintf("**%s** criterion, weight %g\n\n%s", name, criterion.Weight, criterion.About)}, true
			}
		}
	case "filter":
		return lookUp(&c.Filters, kind, name, p, func(x *catalog.Filter) lang.Span { return x.Span })
	}
	return item{}, false
}

func lookUp[T catalog.Camera | catalog.Rig | catalog.Mount | catalog.Adapter | catalog.Filter](
	shelf *catalog.Shelf[T], kind, name string, p lang.Printer, span func(*T) lang.Span,
) (item, bool) {
	found, ok := shelf.Lookup(name)
	if !ok {
		return item{}, false
	}
	return item{span(found), describe(kind, name, catalog.Fields(found), p)}, true
}

// names lists the pieces of equipment of a kind.
func names(s *brief.Scenario, kind string) []string {
	c := s.Catalogue
	switch kind {
	case "lens":
		return c.Lenses.Names()
	case "camera":
		return c.Cameras.Names()
	case "rig":
		return c.Rigs.Names()
	case "mount":
		return c.Mounts.Names()
	case "adapter":
		return c.Adapters.Names()
	case "filter":
		return c.Filters.Names()
	case "criterion":
		var criteria []string
		for _, criterion := range s.Rules.Criteria() {
			criteria = append(criteria, criterion.Name)
		}
		return criteria
	case "shot":
		var ids []string
		for _, shot := range s.Shots {
			ids = append(ids, shot.ID)
		}
		return ids
	case "mode":
		var modes []string
		for _, camera := range s.Cameras {
			for _, mode := range camera.ModeNames() {
				if !slices.Contains(modes, mode) {
					modes = append(modes, mode)
				}
			}
		}
		return modes
	}
	return nil
}

// describe lists what a catalogue says of an item, and what it does not.
func describe(kind, name string, fields []catalog.Field, p lang.Printer) string {
	var b strings.Builder
	fmt.Fprintf(&b, "**%s** %s\n\n", name, kind)
	var unknown []string
	for _, field := range fields {
		switch {
		case !field.Known():
			unknown = append(unknown, field.Keyword)
		case field.Show(p) != "":
			fmt.Fprintf(&b, "- %s: %s\n", field.Keyword, field.Show(p))
		}
	}
	if len(unknown) > 0 {
		fmt.Fprintf(&b, "- not known: %s\n", strings.Join(unknown, ", "))
	}
	return b.String()
}

// fieldOn says what a lens sees on the sensor of a camera, in the scenario's mode and
// delivered part of it.
func fieldOn(s *brief.Scenario, lens *catalog.Lens, camera *catalog.Camera, p lang.Printer) string {
	text := ""
	focals := []float64{lens.Focal.Low.OrNaN()}
	if lens.IsZoom() {
		focals = append(focals, lens.Focal.High.OrNaN())
	}
	for _, focal := range focals {
		r, ok := engine.LensFacts(s, lens, camera, focal)
		width, height := r.Value[facts.AngleWidth], r.Value[facts.AngleHeight]
		if !ok || math.IsNaN(width) {
			continue
		}
		if mounts, _ := r.Get(facts.Mounts); mounts != 1 {
			return fmt.Sprintf("\nIt does not go on %s.\n", camera.Name.Value)
		}
		text += fmt.Sprintf("\nOn %s at %s: %s across, %s up and down; at %s the field is %s wide and %s high.\n",
			camera.Name.Value, p.Quantity(r.Value[facts.FocalLength], "mm"), p.Quantity(width, "deg"), p.Quantity(height, "deg"),
			p.Quantity(fieldDistance, "m"), p.Quantity(r.Value[facts.SpreadWidth]*fieldDistance, "m"), p.Quantity(r.Value[facts.SpreadHeight]*fieldDistance, "m"))
	}
	return text
}

// fieldDistance is the distance for which a field is shown: about that of a walk with a
// subject.
const fieldDistance = 2.0

// aboutName says what a quoted text names, or "".
func (s *server) aboutName(d *document, place lang.Place) string {
	kind, name := d.nameKind(place), textOf(place.Span)
	scenario := s.look(d)
	if kind == "shot" {
		for _, shot := range scenario.Shots {
			if shot.ID == name {
				return fmt.Sprintf("**shot %s** %s", shot.ID, shot.Title)
			}
		}
	}
	found, _ := find(scenario, kind, name, s.Printer)
	return found.text
}

// textOf gives what a quoted text says, closed or not.
func textOf(span lang.Span) string {
	text := strings.TrimSuffix(strings.TrimPrefix(span.Text(), `"`), `"`)
	return strings.NewReplacer(`\"`, `"`, `\\`, `\`).Replace(text)
}
