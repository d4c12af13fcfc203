package doctor

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// Upkeep finds what is not in order in a catalogue, as warnings in its order: lenses that
// are there twice, those that go onto no camera, and threads that no filter fits. What
// [catalog.Load] warns of, such as an adapter that does not reach infinity, is not repeated.
func Upkeep(c *catalog.Catalogue) lang.Diagnostics {
	u := &upkeep{catalogue: c}
	u.duplicates()
	for _, lens := range c.Lenses.All() {
		u.cameras(lens)
	}
	u.threads()
	return u.found.Sorted()
}

type upkeep struct {
	catalogue *catalog.Catalogue
	found     lang.Diagnostics
}

func (u *upkeep) warn(at lang.Span, summary, detail string, related ...lang.Related) {
	u.found.Add(lang.Diagnostic{Severity: lang.Warning, Code: lang.Upkeep, Span: at, Summary: summary, Detail: detail, Related: related})
}

// duplicates finds lenses of one name but for its spelling, and of one description under
// two names, that is of the same figures: see description.
func (u *upkeep) duplicates() {
	spelled, described := map[string]*catalog.Lens{}, map[string]*catalog.Lens{}
	for _, lens := range u.catalogue.Lenses.All() {
		for _, likeness := range []struct {
			by   map[string]*catalog.Lens
			key  string
			what string
		}{
			{spelled, spelling(lens.Name.Value), "have one name but for its spelling"},
			{described, description(lens), "are described alike"},
		} {
			if likeness.key == "" {
				continue
			}
			earlier, taken := likeness.by[likeness.key]
			if !taken {
				likeness.by[likeness.key] = lens
				continue
			}
			u.warn(lens.Name.Span, fmt.Sprintf("%q and %q %s", earlier.Name.Value, lens.Name.Value, likeness.what),
				"Take one of the two out if they are one lens. Two copies of one lens are told apart by a remark.",
				lang.Related{Span: earlier.Name.Span, Note: "the other one is here"})
			break
		}
	}
}

// spelling gives the words of a name in small letters.
func spelling(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return strings.ContainsRune(" -_./,:;()'\"", r) }), " ")
}

// description gives what a lens is known by, or "" when too little is known to tell.
func description(l *catalog.Lens) string {
	figures := []lang.Quantity{l.WidestStop(), l.Transmission, l.Mass, l.Circle}
	known := 0
	text := fmt.Sprintf("%s|%.6f|%.6f|%s", l.Mount.Value, l.Focal.Low.OrNaN(), l.Focal.High.OrNaN(), l.About.Value)
	for _, q := range figures {
		if q.Known() {
			known++
		}
		text += fmt.Sprintf("|%.4f", q.OrNaN())
	}
	if known < 2 {
		return ""
	}
	return text
}

// cameras finds a lens that goes onto none of the cameras.
func (u *upkeep) cameras(lens *catalog.Lens) {
	var reasons []string
	for _, camera := range u.catalogue.Cameras.All() {
		_, err := u.catalogue.Fit(lens, camera)
		if err == nil {
			return
		}
		if !slices.Contains(reasons, err.Error()) {
			reasons = append(reasons, err.Error())
		}
	}
	if reasons != nil {
		u.warn(lens.Mount.Span, fmt.Sprintf("%q goes onto no camera of the catalogue", lens.Name.Value), "The reason: "+strings.Join(reasons, "; ")+".")
	}
}

// threads finds the filter threads of lenses that no filter fits. In a catalogue without
// filters nothing is said.
func (u *upkeep) threads() {
	if len(u.catalogue.Filters.All()) == 0 {
		return
	}
	lenses := map[float64][]*catalog.Lens{}
	var threads []float64
	for _, lens := range u.catalogue.Lenses.All() {
		if q := lens.Thread.Diameter; q.Known() {
			thread := math.Round(q.Value*1e4) / 1e4
			if lenses[thread] == nil {
				threads = append(threads, thread)
			}
			lenses[thread] = append(lenses[thread], lens)
		}
	}
	for _, thread := range threads {
		var lacks []string
		for _, kind := range []string{catalog.FilterND, catalog.FilterPolar, catalog.FilterDiffusion} {
			if u.has(kind) && u.catalogue.FiltersFor(thread, kind) == nil {
				lacks = append(lacks, kind)
			}
		}
		if lacks == nil {
			continue
		}
		var names []string
		for _, lens := range lenses[thread] {
			names = append(names, fmt.Sprintf("%q", lens.Name.Value))
		}
		var p lang.Printer
		u.warn(lenses[thread][0].Thread.Diameter.Span,
			fmt.Sprintf("no filter %s fits the thread of %s", lang.Quoted(lacks), p.Quantity(thread, "mm")),
			fmt.Sprintf("It is that of %s. A step-up ring to a larger thread serves too.", strings.Join(names, ", ")))
	}
}

// has reports whether the catalogue has a filter of a kind for any thread.
func (u *upkeep) has(kind string) bool {
	return slices.ContainsFunc(u.catalogue.Filters.All(), func(f *catalog.Filter) bool { return f.Kind.Value == kind })
}
