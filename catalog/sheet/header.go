package sheet

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"glassbrief/lang"
)

// headerRows is how many rows are searched for the titles.
const headerRows = 30

// A heading is one title of a sheet and its meaning.
type heading struct {
	at     int // column of the sheet
	title  string
	column *column // nil when it is not known
	unit   string  // from the title or the row of units; "" without one
	rough  bool    // the title says that the figures are known roughly: "Weight approx. (g)"
}

// header is the row of titles, read as that of one kind.
type header struct {
	kind     *kind
	row      int
	units    bool // the next row holds units
	headings []heading
}

// known counts the different columns that are known. Typical ones count twice.
func (h *header) known() int {
	seen := map[string]bool{}
	count := 0
	for _, x := range h.headings {
		if x.column == nil || seen[x.column.keyword] {
			continue
		}
		seen[x.column.keyword] = true
		count++
		if slices.Contains(h.kind.typical, x.column.keyword) {
			count++
		}
	}
	return count
}

// score says how many titles are known, to compare separators. It looks for those of a list of
// shots where few are of equipment.
func (s *Sheet) score() int {
	most := 0
	for _, o := range []Options{{}, {Kind: ShotKind}} {
		if h := s.findHeader(o); h != nil {
			most = max(most, h.known())
		}
		if most > 2*fewestKnown {
			break
		}
	}
	return most
}

// fewestKnown is how many known titles make a row that of titles.
const fewestKnown = 2

// findHeader finds the row of titles and the kind that most titles belong to, or gives nil.
func (s *Sheet) findHeader(o Options) *header {
	var best *header
	for row := range min(len(s.rows), headerRows) {
		if len(s.filled(row)) < fewestKnown {
			continue
		}
		for _, k := range candidates(o.Kind) {
			h := s.readHeader(row, k, o)
			if known := h.known(); known >= fewestKnown && (best == nil || known > best.known() ||
				known == best.known() && best.row == row && s.Title == k.title) {
				best = h
			}
		}
	}
	if best != nil {
		s.readUnits(best)
	}
	return best
}

func (s *Sheet) readHeader(row int, k *kind, o Options) *header {
	h := &header{kind: k, row: row}
	for j, c := range s.rows[row][:min(len(s.rows[row]), maxColumns)] {
		title := normalise(c.text)
		if title == "" {
			continue
		}
		x := heading{at: j, title: title}
		if meaning, given := o.meaning(title); given {
			keyword, unit, _ := strings.Cut(meaning, " ")
			x.column, x.unit = k.byKeyword(keyword), unit
			if known, ok := unitOf(unit, x.column); ok {
				x.unit = known
			}
		} else {
			x.column, x.unit, x.rough = k.byTitle(title)
		}
		h.headings = append(h.headings, x)
	}
	return h
}

// underscored turns the spelling of a flag into that of a keyword.
func underscored(keyword string) string { return strings.ReplaceAll(keyword, "-", "_") }

// byKeyword finds a column by its keyword, or gives nil.
func (k *kind) byKeyword(keyword string) *column {
	for i := range k.columns {
		if c := &k.columns[i]; c.keyword == underscored(keyword) {
			return c
		}
	}
	return nil
}

// keywords lists the meanings that a column can be given.
func (k *kind) keywords() []string {
	var names []string
	for _, c := range k.columns {
		names = append(names, c.keyword)
	}
	return names
}

// byTitle finds the column that a title names, with the unit in it, and whether it says that
// the figures are rough: "Weight (g)", "Weight [g]", "Weight, g", "weight_g", "Weight in g" or
// "Weight approx. g".
func (k *kind) byTitle(title string) (c *column, unit string, rough bool) {
	if bare, rough := withoutRough(title); rough {
		if c, unit := k.byExactTitle(bare); c != nil {
			return c, unit, true
		}
	}
	c, unit = k.byExactTitle(title)
	return c, unit, false
}

func (k *kind) byExactTitle(title string) (*column, string) {
	if open := strings.IndexAny(title, "([{"); open > 0 {
		if end := strings.IndexAny(title[open:], ")]}"); end > 0 {
			inner := title[open+1 : open+end]
			rest := phraseOf(title[:open] + " " + title[open+end+1:])
			c := k.byWords()[rest]
			if unit, ok := unitOf(withoutIn(inner), c); ok {
				return c, unit
			}
			if c != nil {
				return c, "" // a remark and no unit: "Weight (with hood)"
			}
		}
	}
	if rest, ok := strings.CutSuffix(title, "%"); ok {
		title = rest + " %"
	} else if c := k.byWords()[phraseOf(title)]; c != nil {
		return c, ""
	}
	cut := strings.LastIndexFunc(title, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune(",;:/_-", r) })
	if cut < 0 {
		return nil, ""
	}
	words := strings.Fields(phraseOf(title[:cut]))
	if n := len(words); n > 0 && slices.Contains(wordsForIn, words[n-1]) {
		words = words[:n-1]
	}
	c := k.byWords()[strings.Join(words, " ")]
	if unit, ok := unitOf(title[cut+1:], c); ok {
		return c, unit
	}
	return nil, ""
}

// wordsForIn stand between a title and its unit: "Weight in g", "Poids en g".
var wordsForIn = []string{"in", "en"}

func withoutIn(unit string) string {
	if first, rest, ok := strings.Cut(strings.TrimSpace(unit), " "); ok && slices.Contains(wordsForIn, fold(first)) {
		return rest
	}
	return unit
}

// nearest gives a known title that an unknown one resembles, or "".
func (k *kind) nearest(title string) string {
	return lang.Nearest(phraseOf(title), slices.Sorted(maps.Keys(k.byWords())))
}

// phraseOf reduces a title to folded words with single blanks between them.
func phraseOf(title string) string {
	return strings.Join(strings.FieldsFunc(fold(title), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	}), " ")
}

// readUnits reads the row below the titles, if it holds nothing but units.
func (s *Sheet) readUnits(h *header) {
	row := h.row + 1
	if row >= len(s.rows) {
		return
	}
	units := map[int]string{}
	for _, j := range s.filled(row) {
		i := slices.IndexFunc(h.headings, func(x heading) bool { return x.at == j })
		if i < 0 {
			return
		}
		c := h.headings[i].column
		if c == nil {
			continue
		}
		text := strings.Trim(normalise(s.rows[row][j].text), "()[]{} ")
		unit, ok := unitOf(text, c)
		if !ok && !isUnknown(text) {
			return
		}
		if ok {
			units[i] = unit
		}
	}
	if len(units) == 0 {
		return
	}
	h.units = true
	for i, unit := range units {
		h.headings[i].unit = unit
	}
}

// noHeader reports a sheet without a row of titles.
func (s *Sheet) noHeader(o Options) lang.Diagnostic {
	what, example := "lenses, cameras or filters", `"Name", "Mount" and "Focal length (mm)"`
	if o.Kind == ShotKind {
		example = `"Shot", "Framing" and "Distance (m)"`
	}
	if k := kindOf(o.Kind); k != nil {
		what = strings.ToLower(k.title)
	}
	at := lang.Span{}
	for row := range s.rows {
		if len(s.filled(row)) > 0 {
			at = s.rowPlace(row)
			break
		}
	}
	return fault(lang.MissingField, at, fmt.Sprintf("no row of titles of %s is found in %q", what, s.Name),
		fmt.Sprintf("One of the first %d rows names at least %d columns, as %s. Tell what a title means with --column.", headerRows, fewestKnown, example))
}
