package cmd

import (
	"fmt"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/cmd/wording"
	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// known gives the equipment so far, for answers to be checked with.
func (b *beginning) known() *importContext {
	mounts, _ := addMounts(b.house, &catalog.Catalogue{}, nil)
	text, _ := catalog.Compose(mounts)
	x := &importContext{}
	if src, ds := lang.NewSource(houseName, []byte(text)); !ds.HasErrors() {
		x.beside = []*lang.Source{src}
	}
	x.all, _ = catalog.Load(x.beside...)
	return x
}

// cameras names those of the list.
func (b *beginning) cameras() []string {
	var names []string
	for _, d := range b.house {
		if d.Kind == "camera" {
			names = append(names, d.Name)
		}
	}
	return names
}

// takeCamera takes the camera of a name from the list, or the only one for "".
func (b *beginning) takeCamera(name string) bool {
	names := b.cameras()
	for _, d := range b.house {
		if d.Kind == "camera" && (d.Name == name || name == "" && len(names) == 1) {
			b.body = d
			return true
		}
	}
	return false
}

// settleAdapters spells the mounts of adapters as the lenses have them.
func (b *beginning) settleAdapters() error {
	mounts := b.lensMounts()
	for i, given := range b.adapted {
		at := slices.IndexFunc(mounts, func(mount string) bool { return strings.EqualFold(mount, given) })
		if at < 0 {
			return usage(lang.UnknownName, "\"--adapter\": no lens of the list has the mount %q", given).
				or(lang.Nearest(given, mounts)).because("They have %s.", lang.Quoted(mounts))
		}
		if mounts[at] == b.cameraMount() {
			return usage(lang.Contradiction, "\"--adapter\": the camera itself has the mount %q", mounts[at]).because("Leave it out.")
		}
		b.adapted[i] = mounts[at]
	}
	slices.Sort(b.adapted)
	b.adapted = slices.Compact(b.adapted)
	return nil
}

// valueOf gives a text of a draft.
func valueOf(d catalog.Draft, keyword string) string {
	for _, line := range d.Lines {
		if line.Keyword == keyword {
			text, _ := lang.Unquote(line.Value)
			return text
		}
	}
	return ""
}

func (b *beginning) cameraMount() string {
	if b.body.Name != "" {
		return valueOf(b.body, "mount")
	}
	return valueOf(b.camera.draft(), "mount")
}

func (b *beginning) lensMounts() []string {
	var mounts []string
	for _, d := range b.house {
		if mount := valueOf(d, "mount"); isLens(d) && !slices.Contains(mounts, mount) {
			mounts = append(mounts, mount)
		}
	}
	return mounts
}

// described gives a draft with a comment for each question that nobody has answered.
func described(d catalog.Draft, questions []question) catalog.Draft {
	for _, q := range questions {
		known := slices.ContainsFunc(d.Lines, func(line catalog.Line) bool { return line.Keyword == q.keyword })
		if !known && !q.needed && q.keyword != "about" {
			d.Lines = append(d.Lines, catalog.Line{Comment: q.unknown()})
		}
	}
	return d
}

// equipment gives all equipment, with the mounts and adapters that it needs.
func (b *beginning) equipment() []catalog.Draft {
	all, _ := addMounts(b.house, &catalog.Catalogue{}, nil)
	mounts := len(all) - len(b.house)
	for i := range all[:mounts] {
		all[i] = described(all[i], mountQuestions)
	}
	var adapters []catalog.Draft
	camera := b.cameraMount()
	for _, mount := range b.adapted {
		adapters = append(adapters, catalog.Draft{Kind: "adapter", Name: mount + " to " + camera, Lines: []catalog.Line{
			{Keyword: "from", Value: lang.Quote(mount) + " to " + lang.Quote(camera)},
			{Comment: "mass: put it on a kitchen scale, as 110g"},
			{Comment: "factor: if it has glass, what it multiplies the focal length by, as 0.71"},
			{Comment: "contacts: a line with this word alone, if the camera drives focus and iris through it"},
		}})
	}
	return slices.Concat(all[:mounts], adapters, all[mounts:])
}

// houseText writes the catalogue, with what is not known of the lenses and how to find it out
// above them.
func (b *beginning) houseText(drafts []catalog.Draft) (string, []lang.Span) {
	lines := []lang.Line{{Comment: "The equipment. What is not known is left out, and a comment says how to find it out."}}
	if b.lenses != "" {
		path := relative(b.folder, b.lenses)
		lines = append(lines, lang.Line{Comment: "The lenses are from " + path + "; once it is amended, take it in anew with:"},
			lang.Line{Comment: "  glassbrief catalog import " + shellWord(path) + " --into " + houseName + " --update"})
	}
	lenses, lacking := 0, map[string]int{}
	for _, d := range drafts {
		if !isLens(d) {
			continue
		}
		lenses++
		for _, keyword := range wording.Measured() {
			if !slices.ContainsFunc(d.Lines, func(line catalog.Line) bool { return line.Keyword == keyword }) {
				lacking[keyword]++
			}
		}
	}
	lines = append(lines, lang.Line{}, lang.Line{Comment: "Not known yet of some lenses, and how to find it out (\"glassbrief catalog doctor\" says what matters first):"})
	for _, keyword := range wording.Measured() {
		if n := lacking[keyword]; n > 0 {
			lines = append(lines, lang.Line{Comment: fmt.Sprintf("  %s, of %d of %d: %s", keyword, n, lenses, wording.Measure(brief.OfLens, keyword))})
		}
	}
	lines = append(lines, lang.Line{})
	for _, d := range drafts {
		lines = append(lines, d.Statement())
	}
	return lang.Compose(lines)
}

// lensesNamed bounds the lenses that a warning lists.
const lensesNamed = 8

// unfit warns of lenses that there can be no answer for: they go onto the camera neither by
// themselves nor with an adapter, or their widest stop is not known.
func (b *beginning) unfit(all *catalog.Catalogue) lang.Diagnostics {
	camera, ok := all.Cameras.Lookup(b.body.Name)
	if !ok {
		return nil
	}
	var found lang.Diagnostics
	for _, mount := range b.lensMounts() {
		count := 0
		for _, lens := range all.Lenses.All() {
			if _, err := all.Fit(lens, camera); lens.Mount.Value == mount && err != nil {
				count++
			}
		}
		verb := "do"
		if count == 1 {
			verb = "does"
		}
		if count > 0 {
			found.Add(lang.Diagnostic{
				Severity: lang.Warning, Code: lang.MissingField,
				Summary: fmt.Sprintf("%s with the mount %q %s not go onto %q", countKinds(map[string]int{"lens": count}), mount, verb, b.body.Name),
				Detail:  fmt.Sprintf("If there is an adapter, begin with --adapter %s, or write its block into %s.", shellWord(mount), houseName),
			})
		}
	}
	var blind []string
	for _, lens := range all.Lenses.All() {
		if !lens.WidestStop().Known() && !lens.Transmission.Known() {
			blind = append(blind, lens.Name.Value)
		}
	}
	if blind != nil {
		which := lang.QuotedAll(blind)
		if len(blind) > lensesNamed {
			which = countKinds(map[string]int{"lens": len(blind)})
		}
		found.Add(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.MissingField,
			Summary: fmt.Sprintf("the widest stop of %s is not known", which),
			Detail:  "Without it there is no answer for a lens: read it off the front ring, and write it as \"aperture f/2.8\".",
		})
	}
	return found
}
