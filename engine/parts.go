package engine

import "glassbrief/lang"

// Parts are the texts that a scenario is made of.
type Parts struct {
	Scenario   *lang.File
	Catalogues []*lang.Source // the first on top
	Rules      []*lang.Source // the standard ones first; a later criterion replaces an earlier one
}

// PartsOf reads the texts of a scenario that [Load] has read without errors.
func PartsOf(src *lang.Source, files Files) Parts {
	file, _ := lang.Parse(src)
	l := &loader{files: files, doc: &document{}}
	lang.Decode(file, l.doc)
	return Parts{Scenario: file, Catalogues: l.catalogueSources(), Rules: append([]*lang.Source{StandardRules()}, l.ownRules()...)}
}
