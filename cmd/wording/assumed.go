package wording

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// TildeKey says once what a tilde means.
const TildeKey = lang.Assumed + " rests on figures that are assumed."

// Marked says something of a thing, with a tilde before each number that comes out otherwise in
// one of its worlds, and before the first other word where no number does. A world of which there
// is nothing to say does not count.
func Marked[T any](of T, w *engine.Worlds[T], say func(T) string) string {
	return MarkedAll(of, w, func(t T) []string { return []string{say(t)} })[0]
}

// MarkedAll is [Marked] for several texts; a world that has not as many does not count.
func MarkedAll[T any](of T, w *engine.Worlds[T], say func(T) []string) []string {
	texts := say(of)
	if w == nil {
		return texts
	}
	return written(marked(texts, w, say))
}

// marked reads texts, and marks them by the worlds.
func marked[T any](texts []string, w *engine.Worlds[T], say func(T) []string) []*reading {
	said := make([]*reading, len(texts))
	for i, text := range texts {
		said[i] = read(text)
	}
	for _, other := range w.All() {
		if all := say(other); len(all) == len(said) {
			for i, text := range all {
				said[i].compare(text)
			}
		}
	}
	return said
}

func written(said []*reading) []string {
	texts := make([]string, len(said))
	for i, r := range said {
		texts[i] = r.String()
	}
	return texts
}

// RangedAll is [MarkedAll], and behind the numbers of those texts for which it is wanted stands where
// they lie: "~f/4 (f/2.8 to f/5.6)". A number behind words that are others in some world has no range.
func RangedAll[T any](of T, w *engine.Worlds[T], say func(T) []string, ranged func(text int) bool) []string {
	texts := say(of)
	if w == nil {
		return texts
	}
	wanted, steady := make([]bool, len(texts)), make([]int, len(texts))
	for i := range texts {
		wanted[i] = ranged(i)
	}
	said := marked(texts, w, say)
	middle, forms := map[string]float64{}, map[string]string{} // the numbers, and how each is written
	note := func(to map[string]float64, text int, r *reading) {
		for k := range said[text].words {
			if k >= len(r.words) || !said[text].words[k].alike(r.words[k]) {
				steady[text] = min(steady[text], k)
				break
			}
			if value, ok := r.words[k].number(); ok {
				key := place(text, k)
				to[key], forms[form(key, value)] = value, r.words[k].bare()
			}
		}
	}
	for i, r := range said {
		if steady[i] = len(r.words); wanted[i] { // before any word that is another in some world
			note(middle, i, r)
		}
	}
	spans := w.Spans(func(t T) map[string]float64 {
		all := say(t)
		if len(all) != len(said) {
			return nil
		}
		numbers := maps.Clone(middle)
		for i, text := range all {
			if text != "" && text != said[i].of && wanted[i] {
				note(numbers, i, read(text))
			}
		}
		return numbers
	})
	for i, r := range said {
		for k := range r.words[:steady[i]] {
			if s, ok := spans[place(i, k)]; ok {
				key := place(i, k)
				low, high := forms[form(key, s.Low)], forms[form(key, s.High)]
				if _, unit, _ := strings.Cut(high, " "); isUnit(unit) { // once for both
					low = strings.TrimSuffix(low, " "+unit)
				}
				r.words[k].marked, r.words[k].span = true, fmt.Sprintf(" (%s to %s)", low, high)
			}
		}
	}
	return written(said)
}

func place(text, word int) string { return fmt.Sprintf("%d.%d", text, word) }

func form(place string, value float64) string { return fmt.Sprintf("%s %g", place, value) }

// A reading is a text cut into words.
type reading struct {
	of    string
	words []word
}

// A word is a word of a text, a number with its unit, with what stands before it.
type word struct {
	gap, text string
	marked    bool
	span      string // behind it, before a comma
}

func read(text string) *reading {
	r := &reading{of: text}
	join := func(text string) string { return strings.ReplaceAll(text, " ", joint) }
	for _, whole := range []func() *regexp.Regexp{taped, mixed, quoted} {
		text = whole().ReplaceAllStringFunc(text, join)
	}
	for text != "" {
		from := strings.IndexFunc(text, func(c rune) bool { return c != ' ' && c != '\n' })
		if from < 0 {
			from = len(text)
		}
		gap := text[:from]
		text = text[from:]
		to := strings.IndexAny(text, " \n")
		if to < 0 {
			to = len(text)
		}
		next := word{gap: gap, text: strings.ReplaceAll(text[:to], joint, " ")}
		text = text[to:]
		if last := len(r.words) - 1; last >= 0 && gap == " " && isUnit(next.bare()) && plainNumber().MatchString(r.words[last].text) {
			r.words[last].text += gap + next.text
			continue
		}
		r.words = append(r.words, next)
	}
	return r
}

// pattern gives an expression that is compiled when it is first wanted.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// joint stands for a blank within a length of feet and inches, a mixed number, or a name, while a text is cut.
const joint = "\x00"

// quoted finds a name with a blank in it. It is one word, and no number stands in it.
var quoted = pattern(`"[^" \n]+ [^"\n]*"`)

// taped finds such a length with a blank in it, and tape says that a word is one.
var (
	taped = pattern(`\d+ft (\d+ )?(\d+/)?\d+in|\d+ \d+/\d+in`)
	tape  = pattern(`^-?(?:(\d+)ft)? ?(?:(?:(\d+) )?(?:(\d+)/(\d+)|(\d+))in)?$`)
)

// mixed finds a number of stops with a blank in it, and thirds says that a number is one or a part of one.
var (
	mixed  = pattern(`\b\d+ [12]/[23]\b`)
	thirds = pattern(`\b(?:(\d+) )?([12])/([23])\b`)
)

// inches reads a length of feet and inches.
func inches(text string) (value float64, ok bool) {
	parts := tape().FindStringSubmatch(text)
	if parts == nil || !strings.HasSuffix(text, "ft") && !strings.HasSuffix(text, "in") {
		return 0, false
	}
	n := func(i int) float64 {
		x, _ := strconv.ParseFloat(parts[i], 64) // digits, or nothing
		return x
	}
	value = 12*n(1) + n(2) + n(5)
	if parts[4] != "" {
		value += n(3) / n(4)
	}
	if text[0] == '-' {
		value = -value
	}
	return value, true
}

var plainNumber = pattern(`^[(]?-?([0-9.]+|(\d+ )?[12]/[23])$`)

// isUnit reports whether a word stands behind a number as its unit.
func isUnit(word string) bool {
	_, ok := lang.FindUnit(word)
	return ok || word == "min"
}

func (r *reading) String() string {
	var b strings.Builder
	for i := range r.words {
		w := &r.words[i]
		b.WriteString(w.gap)
		text := w.text
		if w.marked {
			at := strings.IndexAny(text, "0123456789") // "rising(2.90"
			if quoted().MatchString(text) {
				at = 0
			}
			at = 1 + strings.LastIndexAny(text[:max(at, 0)], "([\"")
			text = text[:at] + lang.Assumed + text[at:]
		}
		if w.span != "" {
			at := len(strings.TrimRight(text, ends))
			text = text[:at] + w.span + text[at:]
		}
		b.WriteString(text)
	}
	return b.String()
}

// ends may stand behind a number and are no part of it.
const ends = ",;.:)]\""

// bare gives a word without what only stands beside it.
func (w *word) bare() string { return strings.TrimRight(strings.TrimLeft(w.text, "([\""), ends) }

var digits = pattern(`[0-9]+(\.[0-9]+)?`)

const infinity = "infinity"

// number gives the number of a word, in its own unit.
func (w *word) number() (float64, bool) {
	if quoted().MatchString(w.text) {
		return 0, false
	}
	text := w.bare()
	if text == infinity {
		return math.Inf(1), true
	}
	if length, ok := inches(text); ok {
		return length, true
	}
	run := digits().FindStringIndex(text)
	if run == nil {
		return 0, false
	}
	value, _ := strconv.ParseFloat(text[run[0]:run[1]], 64) // digits
	if parts := thirds().FindStringSubmatch(text); parts != nil && strings.HasPrefix(text[run[0]:], parts[0]) {
		n := func(i int) float64 {
			x, _ := strconv.ParseFloat(parts[i], 64) // digits, or nothing
			return x
		}
		value = n(1) + n(2)/n(3)
	}
	if at := run[0]; at > 0 && text[at-1] == '-' {
		value = -value
	}
	return value, true
}

// alike reports whether two words differ in their number alone.
func (w *word) alike(o word) bool {
	a, b := w.bare(), o.bare()
	_, ofFeet := inches(a)
	_, too := inches(b)
	return a == b || ofFeet && too || a == infinity && digits().MatchString(b) || b == infinity && digits().MatchString(a) ||
		numberless(w.text) == numberless(o.text)
}

func numberless(text string) string {
	return digits().ReplaceAllString(thirds().ReplaceAllString(text, "#"), "#")
}

// compare marks what is written otherwise in another text.
func (r *reading) compare(text string) {
	if text == r.of {
		return
	}
	other := read(text)
	if r.words == nil || other.words == nil {
		return
	}
	same := r.common(other)
	if len(r.words) != len(other.words) && !slices.Contains(same, true) { // it says something else
		r.words[0].marked = true
		return
	}
	first := -1
	for i := range r.words {
		if same[i] {
			continue
		}
		if first < 0 {
			first = i
		}
		if _, ok := r.words[i].number(); ok || quoted().MatchString(r.words[i].text) {
			r.words[i].marked = true
			first = len(r.words)
		}
	}
	if first >= 0 && first < len(r.words) {
		r.words[first].marked = true
	}
}

// common says which words another text has too: at the same place in one of as many words, or
// else in the longest order of words that both have.
func (r *reading) common(o *reading) []bool {
	same := make([]bool, len(r.words))
	if len(r.words) == len(o.words) {
		for i := range same {
			same[i] = r.words[i].text == o.words[i].text
		}
		return same
	}
	longest := make([][]int, len(r.words)+1) // of what is left of both
	for i := range longest {
		longest[i] = make([]int, len(o.words)+1)
	}
	for i := len(r.words) - 1; i >= 0; i-- {
		for k := len(o.words) - 1; k >= 0; k-- {
			if longest[i][k] = max(longest[i+1][k], longest[i][k+1]); r.words[i].text == o.words[k].text {
				longest[i][k] = 1 + longest[i+1][k+1]
			}
		}
	}
	for i, k := 0, 0; i < len(r.words) && k < len(o.words); {
		switch {
		case r.words[i].text == o.words[k].text:
			same[i] = true
			i, k = i+1, k+1
		case longest[i+1][k] >= longest[i][k+1]:
			i++
		default:
			k++
		}
	}
	return same
}

// OfLens says something of a lens in a shot with its numbers marked. Worlds in which it may not be
// brought although it may in the middle, or the other way about, do not count.
func OfLens(j *engine.Judgement, say func(*engine.Judgement) string) string {
	return Marked(j, j.Worlds(), alike(j, say))
}

func alike(j *engine.Judgement, say func(*engine.Judgement) string) func(*engine.Judgement) string {
	return func(other *engine.Judgement) string {
		if other.Standing != j.Standing {
			return ""
		}
		return say(other)
	}
}

// OfLenses is [OfLens] for what is said of two lenses.
func OfLenses(j, other *engine.Judgement, say func(j, other *engine.Judgement) string) string {
	return Marked([]*engine.Judgement{j, other}, engine.Together(j, other), func(both []*engine.Judgement) string {
		if both[0].Standing != j.Standing {
			return ""
		}
		return say(both[0], both[1])
	})
}

// ScoreSpan says where a score lies, rounded outward, and whether the lens may be out; "" where
// it rests on nothing assumed or that is not worked out.
func ScoreSpan(j *engine.Judgement) string {
	s := j.ScoreSpread()
	if !s.Moves {
		return ""
	}
	text := ""
	if s.Low <= s.High {
		text = Hundredths(s.Span)
	}
	switch {
	case s.Otherwise && j.Standing == engine.Judged:
		text += ", or out"
	case s.Otherwise:
		text = "in with " + text
	}
	return text
}

// Open says where the settings and the score of a lens lie over the values of the assumed figures;
// "" where they rest on none.
func Open(j *engine.Judgement, p lang.Printer) string {
	spans := j.Worlds().Spans(func(other *engine.Judgement) map[string]float64 {
		all := map[string]float64{}
		for _, setting := range settings {
			for _, id := range setting.reads {
				if other.Standing == j.Standing {
					all[facts.Table()[id].Name] = other.Fact(id)
				}
			}
		}
		return all
	})
	var said []string
	for _, setting := range settings {
		for k, id := range setting.reads {
			fact := facts.Table()[id]
			span, ok := spans[fact.Name]
			if low, high := p.Quantity(span.Low, fact.Unit), p.Quantity(span.High, fact.Unit); ok && low != high {
				said = append(said, strings.TrimSpace(setting.ends[k]+" "+low+" to "+high))
			}
		}
	}
	if score := ScoreSpan(j); score != "" {
		said = append(said, "score "+score)
	}
	return strings.Join(said, "; ")
}

// Hundredths writes a span of scores, rounded outward.
func Hundredths(s engine.Span) string {
	return fmt.Sprintf("%.2f to %.2f", math.Floor(100*s.Low+1e-9)/100, math.Ceil(100*s.High-1e-9)/100)
}

// KitScore writes the score of a kit, with a tilde where it rests on assumed figures.
func KitScore(r *engine.Recommendation, k *engine.Kit) string {
	return Tilde(r.KitRests(k)) + fmt.Sprintf("%.2f", k.Mean)
}

// CandidateScore is [KitScore] for the kit on a camera.
func CandidateScore(c *engine.Candidate) string {
	return Tilde(c.Rests()) + fmt.Sprintf("%.2f", c.Kit.Mean)
}

// KitMass writes the mass of the lenses of a kit, with a tilde where one is assumed.
func KitMass(r *engine.Recommendation, k *engine.Kit, p lang.Printer) string {
	s := r.MassSpan(k.Lenses)
	return Tilde(s.Low < s.High) + p.Quantity(k.Mass, "g")
}

// Tilde gives what stands before a number that rests on assumed figures.
func Tilde(rests bool) string {
	if rests {
		return lang.Assumed
	}
	return ""
}

// SetUp says the settings of a lens in a shot by their places, each with where it lies; "" for one
// that the shot leaves no choice of.
func SetUp(j *engine.Judgement, p lang.Printer) []string {
	return RangedAll(j, j.Worlds(), func(other *engine.Judgement) []string {
		if other.Standing != j.Standing {
			return nil
		}
		said := make([]string, Settings)
		for s := range Settings {
			said[s] = s.In(other, p)
		}
		return said
	}, func(int) bool { return true })
}

// ScoreWithin writes the score of a lens in a shot with where it lies.
func ScoreWithin(j *engine.Judgement) string {
	text := hundredthsOf(j)
	if span := ScoreSpan(j); span != "" {
		text += " (" + span + ")"
	}
	return text
}
