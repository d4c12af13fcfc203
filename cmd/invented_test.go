package cmd

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// An inventor writes files of the language, most of which can be read. It takes each choice from the next
// byte; when the bytes are used up, each further choice is the first.
type inventor struct {
	bytes  []byte
	blocks map[string]inventedBlock // by file and name, as in "scenario/shot"
	names  map[string][]string      // of what the files describe, by keyword
	texts  []string                 // what stands where any text may
	all    bool                     // every field is written, not only those that are chosen
	when   bool                     // a condition is written
	dated  bool                     // there are days and places
	framed bool                     // a list of frames, or an anchor, says which frame is delivered
}

// An inventedBlock is a block of cmd/editor/blocks.json.
type inventedBlock struct {
	File, Name string
	Fields     []struct {
		Keyword                  string
		Words                    []string
		Required, Repeats, Opens bool
	}
}

func inventedBlocks(t testing.TB) map[string]inventedBlock {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("editor", "blocks.json"))
	if err != nil {
		t.Fatal(err)
	}
	var list []inventedBlock
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	blocks := map[string]inventedBlock{}
	for _, b := range list {
		blocks[b.File+"/"+b.Name] = b
	}
	return blocks
}

// inventedTexts may stand between quotes: names, mark-up, formulas, blanks, long and wide characters.
var inventedTexts = []string{
	"House", "Prime 35", "4A", "Ä ✓ 漢字 𝄞", strings.Repeat("long ", 30), hostileName, "=HYPERLINK(1)", "a\u0301\u200d\u200b", "", "  ",
	"\ufeff", "| a | b |", "</script><script>", "{stop}", "%s%d", "'; -- \\",
}

// steeringTexts hold characters that a terminal obeys. Files of the language are refused with them;
// other files and the command line may have them.
var steeringTexts = []string{"\u202egnort", "\u2066\u2069", "a\u0085b\u009b1m", "a\x1b[2Jb", "\u2028", "\u007f"}

// inventedValues says what may stand behind a keyword, by block and keyword or by keyword alone, as in
// "shot/frame" or "mass". "<1..9>" stands for a number between, "$lens" for the name of a lens,
// "$text" for any text, "$truth" and "$number" for expressions.
var inventedValues = map[string][]string{
	"scenario/script": {`"day.fountain"`}, "scenario/unit": {"carry 1 lens", "", "camera $camera"}, "shot/unit": {"$unit"}, "scenario/camera": {`$camera`, `$camera or $camera`}, "scenario/mode": {`$mode`}, "shot/mode": {`$mode`},
	"scenario/rig": {`$rig`}, "carry": {"2 lenses", "1", "3", "6"}, "deliver": {"2.39:1", "1.85", "16:9", "<0.5..3.9>"}, "also": {"1:1", "9:16", "<0.5..3.9>"},
	"protect": {"10%", "0%", "<1..50>%"}, "common": {"top"}, "anchor": {"0 x 0", "222 x 547"},
	"framing": {`"unit.fdl"`, `"unit.fdl" intent "FI_239"`, `"unit.fdl" canvas "1" intent "FI_239"`, `"unit.fdl" intent "X"`}, "scenario/squeeze": {"1", "1.33", "2"}, "lens/squeeze": {"1", "1.33", "2", "<0.3..4>"},
	"rate": {"24fps", "25fps", "<1..2000>fps"}, "shutter": {"180deg", "<1..360>deg"}, "scenario/iso": {"<25..100000>"}, "confusion": {"0.02mm", "<2..100>um"},
	"accessories": {"400g", "<10..5000>g", "350g 60mm x 120mm", "1kg <-90..-1>mm x <1..90>mm"}, "drop": {"1.5s..2s", "2s", "..3s", "<1..2>s..<2..5>s"}, "rent": {"60 EUR", "0 EUR", "<1..900>.5 EUR"},
	"bag": {"2kg", "<100..9000>g"}, "bring": {`$lens`, `$lens or $lens`}, "leave": {`$lens`}, "owned_only": {""}, "autofocus": {""}, "contacts": {""}, "marks": {""},
	"vary": {"distance 10%", "light 1 stop", "subject <1..50>%", "weight 0%"}, "rules": {`"house.rules"`},
	"scene": {"4", "4A", "$text"}, "heading": {`"INT. DECK - NIGHT"`, "$text"}, "subject": {"person 1.7m", "people <0.5..4>m x 1.8m", "object <0.01..5>m x <0.01..5>m", "place <1..9>m x <2..4>m", "object <0.01..2>m", "person <0.5..2.3>m"},
	"stop": {"f/4", "T2.8", "f/<1..22>"}, "shot/lens": {"$lens"},
	"frame":      {"medium", "<5..300>%", "close..full", "extreme-close", "extreme-wide", "<2..30>%..<30..900>%", "wide"},
	"distance":   {"2m", "<0.3..3>m..<3..30>m", "within <0.8..1.6>m..<1.8..2.5>m", "<0.05..40>m", "5ft 10in..12ft"},
	"move":       {"hold", "lead 1.2m/s", "hold <1..90>deg/s", "orbit <0.1..3>m/s", "push-in <0.1..2>m/s low mode", "follow run", "side", "stairs", "boom 0.3m/s", "pass-through 1m/s", "pull-out", "hold <-90..-1>deg/s"},
	"support":    {"sled", "docked", "legs"},
	"light":      {"320lx", "<0.01..100000>lx", "EV<1..16>", "night-street", "sun at 52.37N 4.90E on 2027-05-03 18:40 Europe/Amsterdam overcast", "<1..900>lx <1..900>lx", "bright-sun", "EV-3", "<1..500>fc"},
	"shot/focus": {"fixed", "pulled", "auto"}, "lens/focus": {"manual", "auto", "wire"}, "weight": {"1", "<0.01..100>"}, "background": {"50m", "<45..900>m"}, "offset": {"0%", "<1..100>%"},
	"passage": {"80cm", "<0.1..5>m"}, "beside": {"road", "height or water", "public"}, "need": {"$truth because $text", "$truth"}, "prefer": {"$truth because $text", "$truth"},

	"change_price": {"0.01", "0", "<0.001..0.1>"}, "crew": {"6 EUR/min", "<1..900> EUR/min"},
	"day": {"2027-05-03 from 08:00 to 18:00 break 45min at 13:00", "2027-05-04 from 16:00 to 02:00"}, "zone": {"Europe/Amsterdam"}, "place": {"", "move <1..90>min"}, "shot/at": {"$place"}, "on": {"2027-05-03"}, "between": {"09:00 and 17:00", "09:00 and 17:00 on 2027-05-03"}, "after": {"$before"}, "before": {"$behind"},
	"order": {"free in scene", "free", "free in place"}, "truck": {"3 lenses 15min", "1 lens 5min"}, "budget": {"900 EUR", "<100..9000>.5 EUR"}, "takes": {"20min", "<2..90>min"},

	"about": {"$text"}, "available": {"2027-04-28..2027-05-31", "2027-05-04.."}, "have": {"owned", "owned", "owned", "borrowed", "rent 70 EUR week 210 EUR fetch 40 EUR least 2 days", "rent", "rent <1..500> EUR", "rent about 30 EUR"}, "lens/mount": {"$mount"}, "camera/mount": {"$mount"},
	"focal":        {"35mm", "<9..200>mm", "<9..50>mm..<50..300>mm", "about <20..90>mm", "about 24mm..70mm"},
	"engraved":     {"24, 28, 35, 50mm", "<20..50>mm or <50..90>mm"},
	"aperture":     {"f/2..f/22", "f/<1..4>..f/<11..32>", "f/2.8", "about f/2..f/16", "f/<1..6>"},
	"transmission": {"T2.2", "T<1..6>"}, "close_focus": {"0.3m", "<0.05..2>m", "about 45cm"}, "magnification": {"1:4", "1:<1..9>", "1"},
	"pupil": {"<-60..-1>mm", "<1..120>mm", "10mm <20..40>mm"}, "breathing": {"0%", "<-30..-1>%", "3% -2%", "infinity 60deg 0.5m 58deg"},
	"circle": {"45mm", "<20..60>mm"}, "projection": {"rectilinear", "equidistant", "equisolid", "stereographic", "orthographic"}, "lens/scale": {"marked", "wire", "none"},
	"mass": {"500g", "<50..4000>g", "about 1kg", "<0.1..4>lb"}, "length": {"90mm", "<15..400>mm"}, "diameter": {"80mm"}, "lens/thread": {"77mm", "none", "about 77mm", "<15..150>mm"}, "filter/thread": {"77mm", "<15..150>mm"},
	"balance": {"40mm", "<-40..-1>mm", "<1..200>mm"}, "lens/distortion": {"0%", "<-14..-0.1>%", "<0.1..9>%"}, "falloff": {"1 1/3 stops", "<0.1..5>stops"}, "correction": {""},
	"source": {"$text"}, "licence": {"$text"}, "crop": {"1", "<0.5..6>"}, "aspect": {"1.5", "4:3"},
	"correction/distortion": {"<10..90>mm poly3 0.01", "35mm ptlens 0.001 -0.01 <-0.1..-0.001>", "35mm poly5 <0.001..0.2> 0.1"}, "shading": {"35mm f/2 10m -0.3 -0.2 <0.01..0.5>", "<10..90>mm f/2.8 1m 0 0 0"},
	"camera/mode": {"<10..40>mm x <8..30>mm", "36mm x 24mm 6000 x 4000", "24.9mm x 18.7mm 4528 x 3396 $text"}, "camera/iso": {"800", "400 or 3200", "<25..20000>"}, "iso_range": {"100..12800", "<25..400>..<800..100000>", "..6400"},
	"built_in_nd": {"2, 4, 6 stops", "<1..8> stops"}, "balance_height": {"<10..90>mm"}, "axis_height": {"<10..90>mm"},
	"payload": {"0.5kg..4kg", "..<1..9>kg", "<0.1..1>kg..<2..9>kg"}, "wobble": {"<0.02..3>deg"}, "isolation": {"<1..100>%"}, "stage_height": {"95mm"}, "stage_travel": {"<5..90>mm"}, "post": {"240mm..330mm", "<100..900>mm"},
	"sled_mass": {"<0.3..9>kg"}, "base_mass": {"<0.1..5>kg"}, "sled_balance": {"<1..300>mm", "<-200..-1>mm"}, "sled_inertia": {"<0.003..2>kgm2"}, "plate_mass": {"<10..500>g"}, "plates": {"14", "0"}, "plate_reach": {"<10..200>mm"},
	"flange": {"20mm", "<10..60>mm"}, "throat": {"<20..90>mm"}, "from": {`$mount to $mount`}, "thickness": {"<1..40>mm"}, "factor": {"0.71", "<0.6..2>"},
	"kind": {"nd", "polar", "diffusion", "step-up"}, "front": {"82mm", "<50..120>mm"}, "strength": {"<1..10> stops", "1stops..6stops"},

	"chose": {"$lens in shot $shot", "$lens over $lens in shot $shot"},

	"when": {"$truth"}, "veto": {"$truth because $text", "$truth"}, "limit": {"falling($number) because $text", "rising($number)"}, "score": {"0.1 + 0.9 * rising($number)", "falling($number)", "peak($number, $end)"}, "lack": {"$truth because $text"}, "reason": {"$text"},
	"given":  {"moving true", "subject_near <1..9>m", "circle_margin <-5..-1>%", "iso <100..9000>", "close_focus unknown"},
	"expect": {`veto "coverage"`, `no veto`, `limit "light" 0..1`, `score "light" 0.5..1`, `skip "pace"`, `unknown "coverage"`, `veto $criterion`},
}

// Every field of the language can be invented.
func TestEveryFieldIsInvented(t *testing.T) {
	for key, b := range inventedBlocks(t) {
		for _, f := range b.Fields {
			atTop := b.Name == "" // written by inventor.files
			if !atTop && inventedValues[b.Name+"/"+f.Keyword] == nil && inventedValues[f.Keyword] == nil {
				t.Errorf("%s: inventedValues does not say what may stand behind %q", key, f.Keyword)
			}
		}
	}
}

// pick gives one of n choices.
func (v *inventor) pick(n int) int {
	if n < 2 || len(v.bytes) == 0 {
		return 0
	}
	b := int(v.bytes[0])
	v.bytes = v.bytes[1:]
	return b % n
}

// number gives a number between two, which have the same sign, of three digits.
func (v *inventor) number(low, high float64) string {
	const steps = 200
	at := low * math.Pow(high/low, float64(v.pick(steps+1))/steps)
	return strconv.FormatFloat(at, 'f', max(0, 2-int(math.Floor(math.Log10(math.Abs(at))))), 64)
}

// text gives any text between quotes.
func (v *inventor) text() string { return lang.Quote(v.texts[v.pick(len(v.texts))]) }

// name gives the name of something that the files describe, between quotes.
func (v *inventor) name(of string) string {
	names := v.names[of]
	if len(names) == 0 {
		return v.text()
	}
	return lang.Quote(names[v.pick(len(names))])
}

// value writes one of the values that may stand behind a keyword.
func (v *inventor) value(pattern string) string {
	var b strings.Builder
	for pattern != "" {
		at := strings.IndexAny(pattern, "<$")
		if at < 0 {
			break
		}
		b.WriteString(pattern[:at])
		pattern = pattern[at:]
		if low, high, ok := inRange(pattern); ok {
			b.WriteString(v.number(low, high))
			_, pattern, _ = strings.Cut(pattern, ">")
			continue
		}
		word := pattern[1:]
		if end := strings.IndexFunc(word, func(c rune) bool { return c < 'a' || c > 'z' }); end >= 0 {
			word = word[:end]
		}
		pattern = pattern[1+len(word):]
		switch word {
		case "text":
			b.WriteString(v.text())
		case "truth":
			b.WriteString(v.truth(2))
		case "number":
			b.WriteString(v.ramp())
		case "end":
			b.WriteString(v.number(10, 1000) + "%")
		default:
			b.WriteString(v.name(word))
		}
	}
	return b.String() + pattern
}

// inRange reads "<1..9>" at the beginning of a pattern.
func inRange(pattern string) (low, high float64, ok bool) {
	inner, _, closed := strings.Cut(strings.TrimPrefix(pattern, "<"), ">")
	if !strings.HasPrefix(pattern, "<") || !closed {
		return 0, 0, false
	}
	from, to, _ := strings.Cut(inner, "..")
	low, errLow := strconv.ParseFloat(from, 64)
	high, errHigh := strconv.ParseFloat(to, 64)
	return low, high, errLow == nil && errHigh == nil
}

// quick are the facts that neither ISO nor filters change. A rule that reads those beside others reads
// across the parts of the search: it is legal, and takes thousands of times as long. A condition that
// hangs on the focal length does as well.
var quick = sync.OnceValues(func() (rules, conditions facts.Set) {
	for i := range facts.Vocabulary().Len() {
		rules = rules.Or(facts.SetOf(facts.ID(i)))
	}
	conditions = rules.And(facts.OfScope(facts.OfShot))
	slow := facts.SetOf(facts.ISO, facts.StandsOn, facts.ND, facts.Filters, facts.FilterCross, facts.ExposureGap)
	return rules.Without(slow.Or(facts.After(slow.IDs()...))), conditions
})

// fact gives a name of the vocabulary.
func (v *inventor) fact(kind expression.Kind) expression.Name {
	from, conditions := quick()
	if v.when {
		from = conditions
	}
	all := facts.Vocabulary()
	var of []expression.Name
	for i := range all.Len() {
		one := facts.SetOf(facts.ID(i))
		if n := all.Name(i); n.Kind == kind && n.Dim != lang.Money && from.Meets(&one) {
			of = append(of, n)
		}
	}
	return of[v.pick(len(of))]
}

// figure gives a value that a fact may have.
func (v *inventor) figure(n expression.Name, low, high float64) string {
	switch n.Unit {
	case "f/", "T":
		return n.Unit + v.number(low, high)
	case "EV":
		return v.number(low, high) + "stops"
	}
	return v.number(low, high) + n.Unit
}

// ramp gives what a ramp takes: a measure and two of its values.
func (v *inventor) ramp() string {
	n := v.fact(expression.Number)
	return fmt.Sprintf("%s, %s, %s", n.Name, v.figure(n, 0.01, 3), v.figure(n, 3, 1000))
}

// truth gives a condition.
func (v *inventor) truth(depth int) string {
	choices := 7
	if depth == 0 {
		choices = 4
	}
	switch v.pick(choices) {
	case 0, 1:
		n := v.fact(expression.Number)
		return fmt.Sprintf("%s %s %s", n.Name, []string{"<", ">", "<=", ">="}[v.pick(4)], v.figure(n, 0.01, 1000))
	case 2:
		return v.fact(expression.Truth).Name
	case 3:
		return fmt.Sprintf("between(%s)", v.ramp())
	case 4:
		return fmt.Sprintf("(%s and %s)", v.truth(depth-1), v.truth(depth-1))
	case 5:
		return fmt.Sprintf("(%s or %s)", v.truth(depth-1), v.truth(depth-1))
	}
	return fmt.Sprintf("not (%s)", v.truth(depth-1))
}

type inventedLine struct{ keyword, value string }

// A disagreement drops a line that cannot stand beside what another line of its block says.
type disagreement struct {
	block  string
	line   string // the keyword of what is dropped, and how its value begins if not each is
	beside string // keyword of the other line
	says   string // it is dropped where the value of the other matches this
	wants  string // and where that does not match this, or is missing
	or     string // what stands in its place; nothing if it is empty
}

var disagreements = []disagreement{
	{"lens", "engraved", "focal", "about", `\.\.`, ""}, {"lens", "pupil 10mm", "focal", "", `\.\.`, ""}, {"lens", "breathing 3%", "focal", "", `\.\.`, ""},
	{"lens", "breathing infinity", "focal", `\.\.|about`, "", ""}, {"lens", "breathing infinity", "pupil", "mm .*mm", "mm", ""},
	{"lens", "scale marked", "focus", "wire", "", ""}, {"lens", "scale none", "focus", "wire", "", ""}, {"lens", "scale wire", "focus", "manual|auto", "", ""},
	{"shot", "support docked", "move", "[a-gi-z]{3}", "", ""}, {"shot", "support legs", "move", "[a-gi-z]{3}", "", ""}, {"shot", "frame close..full", "distance", "within", `\.\.`, "frame medium"},
	{"shot", "move pu", "distance", "within", `\.\.`, ""}, {"shot", "move pass", "distance", "within", `\.\.`, ""},
	{"scenario", "common", "anchor", ".", "", ""}, {"scenario", "common", "framing", ".", "", ""}, {"scenario", "anchor", "framing", ".", "", ""},
	{"scenario", "deliver", "framing", ".", "", ""}, {"scenario", "protect", "framing", ".", "", ""}, {"scenario", "squeeze", "framing", ".", "", ""}, {"scenario", "leave", "bring", ".", "", ""},
}

func (d disagreement) drops(block string, line inventedLine, all []inventedLine) bool {
	if d.block != block || !strings.HasPrefix(line.keyword+" "+line.value+" ", d.line) {
		return false
	}
	value := ""
	if other := slices.IndexFunc(all, func(l inventedLine) bool { return l.keyword == d.beside }); other >= 0 {
		value = all[other].value
	}
	return d.says != "" && regexp.MustCompile(d.says).MatchString(value) || d.wants != "" && !regexp.MustCompile(d.wants).MatchString(value)
}

// block writes a statement with its block; head is the statement.
func (v *inventor) block(out *strings.Builder, kind, head string) {
	fmt.Fprintf(out, "%s {\n", head)
	b := v.blocks[kind]
	var lines []inventedLine
	for _, f := range b.Fields {
		times := 0
		switch {
		case !v.framed && (f.Keyword == "framing" || f.Keyword == "anchor") || v.framed && f.Keyword == "squeeze":
		case !v.dated && slices.Contains([]string{"day", "zone", "place", "order", "truck", "budget", "takes", "at", "on", "between", "after", "before", "unit"}, f.Keyword):
		case b.Name == "shot" && f.Keyword == "unit" && len(v.names["unit"]) < 2:
		case f.Keyword == "after" && len(v.names["before"]) == 0, f.Keyword == "before" && len(v.names["behind"]) == 0:
		case f.Required || v.all || f.Keyword == "payload" || f.Keyword == "score":
			times = 1
		case b.File == "catalog" && f.Keyword != "correction": // of what lacks much, ranges are tried, which takes long
			if v.pick(32) < 31 {
				times = 1
			}
		case v.pick(4) == 1:
			times = 1
		}
		if f.Repeats && times > 0 {
			times += v.pick(2)
		}
		if f.Keyword == "correction" && times > 0 {
			var inner strings.Builder
			v.block(&inner, b.File+"/"+f.Keyword, "")
			lines = append(lines, inventedLine{f.Keyword, strings.TrimSpace(inner.String())})
			continue
		}
		own := b.Name == "camera" && f.Keyword == "mode" || v.dated && b.Name == "scenario" && (f.Keyword == "place" || f.Keyword == "unit") // with a name of its own each
		if own {
			times = len(v.names[f.Keyword])
		}
		values := inventedValues[b.Name+"/"+f.Keyword]
		if values == nil {
			values = inventedValues[f.Keyword]
		}
		if v.framed && b.Name == "camera" && f.Keyword == "mode" {
			values = []string{"36mm x 24mm 6000 x 4000", "24.9mm x 16.6mm 6000 x 4000 $text"}
		}
		v.when = f.Keyword == "when"
		for i := range times {
			value := v.value(values[v.pick(len(values))])
			if own {
				value = lang.Quote(v.names[f.Keyword][i]) + " " + value
			}
			again := func(l inventedLine) bool {
				word, _, _ := strings.Cut(value, " ")
				return l.keyword == f.Keyword && (l.value == value || strings.HasPrefix(l.value, word) && slices.Contains([]string{"vary", "given", "day", "order"}, f.Keyword))
			}
			if !slices.ContainsFunc(lines, again) {
				lines = append(lines, inventedLine{f.Keyword, value})
			}
		}
	}
	for _, line := range lines {
		written := line.keyword + " " + line.value
		if i := slices.IndexFunc(disagreements, func(d disagreement) bool { return d.drops(b.Name, line, lines) }); i >= 0 {
			written = disagreements[i].or
		}
		fmt.Fprintf(out, "  %s\n", written)
	}
	out.WriteString("}\n")
}

// named makes the names of up to most things, no two alike.
func (v *inventor) named(of string, least, most int) {
	v.names[of] = nil
	count := least + v.pick(most-least+1)
	if v.all {
		count = most
	}
	for i := range count {
		name := v.texts[v.pick(len(v.texts))]
		if name == "" || of == "criterion" || slices.Contains(v.names[of], name) {
			name += fmt.Sprintf("%s %d", of, i)
		}
		v.names[of] = append(v.names[of], name)
	}
}

// frames writes a Framing Decision List.
func (v *inventor) frames() string {
	texts := append(slices.Clone(v.texts), steeringTexts...)
	text := func() string {
		quoted, _ := json.Marshal(texts[v.pick(len(texts))]) // a string always can be
		return string(quoted)
	}
	return fmt.Sprintf(`{"uuid": "00000000-0000-0000-0000-000000000001", "version": {"major": 2, "minor": 0}, "fdl_creator": %s, "default_framing_intent": "FI_239",
"framing_intents": [{"label": %s, "id": "FI_239", "aspect_ratio": {"width": %d, "height": 100}, "protection": 0.1}],
"contexts": [{"label": %s, "context_creator": %s, "canvases": [{"label": %s, "id": "1", "source_canvas_id": "1", "dimensions": {"width": 6000, "height": 4000},
"anamorphic_squeeze": 1.0, "framing_decisions": [{"label": %s, "id": "1-FI_239", "framing_intent_id": "FI_239", "dimensions": {"width": 5120, "height": 2142.25},
"anchor_point": {"x": 0.0, "y": 976.87}}]}]}]}`, text(), text(), 100+v.pick(256), text(), text(), text(), text())
}

// files writes a scenario with what it names, by their names. The other scenario is the same day later.
func (v *inventor) files() map[string]string {
	v.names = map[string][]string{}
	v.framed = v.framed || v.pick(4) == 1
	v.dated = v.all || v.pick(4) == 1
	v.named("mount", 1, 2)
	v.named("place", 1, 2)
	v.named("unit", 1, 2)
	v.named("camera", 1, 2)
	v.named("mode", 1, 2)
	v.named("rig", 1, 1)
	v.named("lens", 1, 3)
	v.named("adapter", 0, 1)
	v.named("filter", 0, 2)
	v.named("shot", 1, 2)
	v.named("criterion", 0, 2)
	v.named("case", 0, 2)

	var catalogue, head, rules strings.Builder
	for _, kind := range []string{"mount", "camera", "rig", "lens", "adapter", "filter"} {
		for _, name := range v.names[kind] {
			v.block(&catalogue, "catalog/"+kind, kind+" "+lang.Quote(name))
		}
	}
	if v.all || v.pick(4) == 1 {
		fmt.Fprintf(&catalogue, "amend lens %s {\n  mass 450g\n}\n", v.name("lens"))
	}
	if v.all || v.pick(4) == 1 {
		fmt.Fprintf(&rules, "fact spare = subject_near - close_focus because %s\n", v.text())
	}
	for _, name := range v.names["criterion"] {
		v.block(&rules, "rules/criterion", "criterion "+lang.Quote(name))
	}
	if v.all || v.pick(4) == 1 {
		fmt.Fprintf(&rules, "weight \"light\" %d\n", 1+v.pick(9))
	}
	for _, name := range v.names["case"] {
		v.block(&rules, "rules/case", "case "+lang.Quote(name))
	}
	head.WriteString("use \"kit.catalog\"\n")
	if v.pick(16) == 1 {
		head.WriteString("use demo\n")
	}
	v.block(&head, "scenario/scenario", "scenario "+v.text())
	day := func() string {
		var shots strings.Builder
		for i, name := range v.names["shot"] {
			v.names["before"], v.names["behind"] = v.names["shot"][:i], v.names["shot"][i+1:]
			v.block(&shots, "scenario/shot", "shot "+lang.Quote(name)+" "+v.text())
		}
		if v.all || v.pick(4) == 1 {
			fmt.Fprintf(&shots, "expect shot %s lens %s\nexpect kit %s\n", v.name("shot"), v.name("lens"), v.name("lens"))
		}
		return shots.String()
	}
	shots := day()
	var choices strings.Builder
	v.block(&choices, "choices/choices", `choices "day.scenario"`)
	return map[string]string{
		"day.choices": choices.String(),
		"kit.catalog": catalogue.String(), "house.rules": rules.String(), "day.scenario": head.String() + shots, "later.scenario": head.String() + day(),
		"unit.fdl": v.frames(), "day.fountain": "Title: X\n\nINT. DECK - NIGHT #4#\n\nA walks.\n\nEXT. " + strings.ReplaceAll(v.texts[v.pick(len(v.texts))], "\n", " ") + " - DAY #4A#\n",
	}
}
