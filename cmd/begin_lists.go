package cmd

import (
	"slices"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"
	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/lang"
)

// readLists reads the script and the lists that the flags name.
func (b *beginning) readLists() {
	for _, list := range []struct {
		path string
		read func(path string) error
	}{{b.script, b.readScript}, {b.shots, b.readShots}, {b.lenses, b.readLenses}} {
		if list.path != "" {
			if err := list.read(list.path); err != nil {
				b.found = append(b.found, diagnosticsOf(err)...)
			}
		}
	}
}

func (b *beginning) readScript(path string) error {
	src, err := b.app.readSource(path)
	if err != nil {
		return err
	}
	if _, found := b.app.budget.Scenes(src); found != nil {
		return found
	}
	shots := brief.ShotsOfScript(src)
	if len(shots) == 0 {
		return lang.Diagnostics{brief.NoScenes(lang.Span{Source: src}, lang.Error)}
	}
	b.script, b.scenes = path, src
	if b.plan == nil {
		b.plan = shots
	}
	return nil
}

func (b *beginning) readShots(path string) error {
	shots, err := b.readTable(path, sheet.Options{Kind: sheet.ShotKind, Levels: exposure.LevelNames()})
	if err == nil {
		b.plan, b.shots = shots, path
	}
	return err
}

func (b *beginning) readLenses(path string) error {
	house, err := b.readTable(path, sheet.Options{})
	if err == nil && !slices.ContainsFunc(house, isLens) {
		err = usage(lang.MissingValue, "%q holds no lens", path).because("Name the list of your lenses.")
	}
	if err == nil {
		b.house, b.lenses = house, path
	}
	return err
}

func isLens(d catalog.Draft) bool { return d.Kind == "lens" }

// readTable reads the rows of a list. Warnings are kept for the end.
func (b *beginning) readTable(path string, o sheet.Options) ([]catalog.Draft, error) {
	sheets, err := b.app.openTable(path)
	if err != nil {
		return nil, err
	}
	given, err := b.table.tableOptions(&catalog.Catalogue{})
	if err != nil {
		return nil, err
	}
	o.Decimal, o.Currency, o.Columns = given.Decimal, given.Currency, given.Columns
	if o.Kind == "" {
		o.Defaults = given.Defaults
	}
	readings, found := understand(sheets, "", o)
	var drafts []catalog.Draft
	for _, r := range readings {
		drafts = append(drafts, r.Drafts...)
	}
	if found.HasErrors() {
		return nil, found
	}
	if len(drafts) == 0 {
		return nil, usage(lang.MissingValue, "%q holds nothing to take in", path).because("It has titles, and no rows that name anything.")
	}
	b.found = append(b.found, found...)
	return drafts, nil
}
