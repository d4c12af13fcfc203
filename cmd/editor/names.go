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
// its cameras, for rules one that has nothing else, and for choices one that has nothing.
func (s *server) look(d *document) *brief.Scenario {
	switch d.kind {
	case "catalog":
		c, _ := catalog.Load(d.source)
		return &brief.Scenario{Catalogue: c, Cameras: c.Cameras.All(), Rig: &catalog.Rig{}, Rules: rules.Standard()}
	case "choices":
		return &brief.Scenario{Catalogue: &catalog.Catalogue{}, Rig: &catalog.Rig{}, Rules: rules.Standard()}
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
// "adapter", "filter", "criterion", "shot", "mode", "place", "unit" or "file"; "" when it is free text.
func (d *document) nameKind(place lang.Place) string {
	word := "" // the last one before the place
	for _, value := range slices.Backward(place.Values) {
		if text := value.Text(); text[0] != '"' {
			word = text
			break
		}
	}
	switch keyword := place.Keyword.Value; {
	case keyword == "chose":
		if word == "" && len(place.Values) > 0 {
			return "" // "over" or "in shot" comes first
		}
		return map[string]string{"": "lens", "over": "lens", "or": "lens", "shot": "shot"}[word]
	case keyword == "choices":
		return "file"
	case place.Block() == "case", d.kind == "rules" && place.Block() == "" && keyword == "weight":
		return "criterion"
	case keyword == "expect" && word == "kit":
		return "lens"
	case keyword == "expect" || keyword == "amend":
		return word
	case place.Block() == "" && keyword == "use", place.Block() == "scenario" && (keyword == "script" || keyword == "rules"):
		return "file"
	case place.Block() == "shot" && keyword == "mode":
		return "mode"
	case place.Block() == "scenario" && (keyword == "bring" || keyword == "leave"):
		return "lens"
	case place.Block() == "scenario" && (keyword == "unit" || keyword == "order"):
		return map[string]string{"camera": "camera", "mode": "mode", "rig": "rig", "place": "place"}[word]
	case place.Block() == "scenario" && keyword == "place":
		return ""
	case place.Block() == "shot" && keyword == "at":
		return "place"
	case place.Block() == "shot" && (keyword == "after" || keyword == "before"):
		return "shot"
	case place.Block() == "shot" && keyword == "unit":
		return "unit"
	case place.Block() == "scenario", d.kind == "catalog" && (place.Block() == "" || keyword == "mount"):
		return keyword // camera, rig, mode; in a catalogue, what it describes
	case place.Block() == "adapter" && keyword == "from":
		return "mount"
	}
	return ""
}

// An item is what a name stands for, as an editor shows it.
type item struct {
	span lang.Span // where it is described
	text string    // Markdown
}

// A shelf is what can be named of one kind.
type shelf struct {
	names func(*brief.Scenario) []string
	find  func(s *brief.Scenario, kind, name string, p lang.Printer) item // empty when there is none
}

// shelves lists the kinds that [document.nameKind] gives, but for files.
var shelves = map[string]shelf{
	"lens": equipment(func(c *catalog.Catalogue) *catalog.Shelf[catalog.Lens] { return &c.Lenses },
		func(s *brief.Scenario, lens *catalog.Lens, p lang.Printer) (lang.Span, string) {
			text := ""
			for _, camera := range s.Cameras {
				text += fieldOn(s, lens, camera, p)
			}
			return lens.Span, text
		}),
	"camera": equipment(func(c *catalog.Catalogue) *catalog.Shelf[catalog.Camera] { return &c.Cameras },
		func(_ *brief.Scenario, x *catalog.Camera, _ lang.Printer) (lang.Span, string) { return x.Span, "" }),
	"rig": equipment(func(c *catalog.Catalogue) *catalog.Shelf[catalog.Rig] { return &c.Rigs },
		func(_ *brief.Scenario, x *catalog.Rig, _ lang.Printer) (lang.Span, string) { return x.Span, "" }),
	"mount": equipment(func(c *catalog.Catalogue) *catalog.Shelf[catalog.Mount] { return &c.Mounts },
		func(_ *brief.Scenario, x *catalog.Mount, _ lang.Printer) (lang.Span, string) { return x.Span, "" }),
	"adapter": equipment(func(c *catalog.Catalogue) *catalog.Shelf[catalog.Adapter] { return &c.Adapters },
		func(_ *brief.Scenario, x *catalog.Adapter, _ lang.Printer) (lang.Span, string) { return x.Span, "" }),
	"filter": equipment(func(c *catalog.Catalogue) *catalog.Shelf[catalog.Filter] { return &c.Filters },
		func(_ *brief.Scenario, x *catalog.Filter, _ lang.Printer) (lang.Span, string) { return x.Span, "" }),
	"criterion": listed(func(s *brief.Scenario) []*rules.Criterion { return s.Rules.Criteria() }, func(c *rules.Criterion) (string, item) {
		return c.Name, item{c.Span, fmt.Sprintf("**%s** criterion, weight %g\n\n%s", c.Name, c.Weight, c.About)}
	}),
	"shot": listed(func(s *brief.Scenario) []*brief.Shot { return s.Shots }, func(shot *brief.Shot) (string, item) {
		return shot.ID, item{shot.Span, fmt.Sprintf("**shot %s** %s", shot.ID, shot.Title)}
	}),
	"place": listed(func(s *brief.Scenario) []brief.Place { return s.Places }, func(p brief.Place) (string, item) {
		return p.Name, item{p.Span, fmt.Sprintf("**%s** place, %g min to move there", p.Name, p.Move)}
	}),
	"unit": listed(func(s *brief.Scenario) []brief.Unit { return s.Units }, func(u brief.Unit) (string, item) {
		return u.Name, item{u.Span, fmt.Sprintf("**%s** unit: %s on %s, carries %d", u.Name, u.Camera, u.Rig, u.Carry)}
	}),
	"mode": listed(modesOf, func(mode string) (string, item) { return mode, item{} }),
}

// equipment is the shelf of one kind of the catalogue; more gives where an item stands, and
// what to say of it behind its figures.
func equipment[T catalog.Lens | catalog.Camera | catalog.Rig | catalog.Mount | catalog.Adapter | catalog.Filter](
	of func(*catalog.Catalogue) *catalog.Shelf[T], more func(*brief.Scenario, *T, lang.Printer) (lang.Span, string),
) shelf {
	return shelf{
		names: func(s *brief.Scenario) []string { return of(s.Catalogue).Names() },
		find: func(s *brief.Scenario, kind, name string, p lang.Printer) item {
			found, ok := of(s.Catalogue).Lookup(name)
			if !ok {
				return item{}
			}
			span, text := more(s, found, p)
			return item{span, describe(kind, name, catalog.Fields(found), p) + text}
		},
	}
}

// listed is the shelf of what is found by going through a list.
func listed[T any](all func(*brief.Scenario) []T, one func(T) (name string, of item)) shelf {
	return shelf{
		names: func(s *brief.Scenario) []string {
			var names []string
			for _, x := range all(s) {
				name, _ := one(x)
				names = append(names, name)
			}
			return names
		},
		find: func(s *brief.Scenario, _, wanted string, _ lang.Printer) item {
			for _, x := range all(s) {
				if name, of := one(x); name == wanted {
					return of
				}
			}
			return item{}
		},
	}
}

// modesOf lists the sensor modes of the cameras, each once.
func modesOf(s *brief.Scenario) []string {
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

// find gives what a name of a kind is, empty when there is nothing of that name.
func find(s *brief.Scenario, kind, name string, p lang.Printer) item {
	if of, ok := shelves[kind]; ok {
		return of.find(s, kind, name, p)
	}
	return item{}
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
	return find(s.lookAt(d, place), kind, name, s.Printer).text
}

// textOf gives what a quoted text says, closed or not.
func textOf(span lang.Span) string {
	text := strings.TrimSuffix(strings.TrimPrefix(span.Text(), `"`), `"`)
	return strings.NewReplacer(`\"`, `"`, `\\`, `\`).Replace(text)
}
