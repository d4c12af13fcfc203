package brief

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// A Draft is a scenario on its way into a file: what is known of it before anybody has planned
// its shots.
type Draft struct {
	Name      string
	Catalogue string // path from the scenario's own folder
	Script    string // the same; "" for none
	Camera    string
	Rig       string
	Shots     []catalog.Draft // of kind "shot"; none for one example
	About     []string        // comments at the top
}

// Example marks a figure that stands for one that nobody has given yet. A shot cannot be read
// without it, and so it is in the file as an example that is to be rewritten.
const Example = "EXAMPLE"

// asks says of each line of a shot how to find it out, in the order in which they matter, and
// what stands in its place when a shot must have it and nobody knows.
var asks = []struct{ keyword, example, how string }{
	{"subject", "person 1.7m", "what is seen, with its size: person 1.78m, people 1.2m x 1.78m, object 0.9m x 1.4m or place 3.4m x 2.5m"},
	{"frame", "medium", "a framing: extreme-close, close, medium-close, medium, medium-full, full, wide or extreme-wide; or two, the tighter first, as close..full"},
	{"distance", "within 1m..4m", "the nearest and the farthest by the tape, from the sensor plane, as 1.6m..2.8m; or within 1m..4m, the room in which the camera may stand anywhere"},
	{"light", "", "what a meter reads where the subject is, as 320lx or EV7, or a level by name, as office"},
	{"move", "", "how the camera moves and how fast, as lead 1.2m/s, hold or hold 8deg/s for a pan; without the line it stands"},
	{"focus", "", "pulled if somebody pulls focus, auto if the camera does; without the line it is set once"},
}

// ShotsOfScript gives a shot for each scene of a script, which is known by its number and
// heading and nothing else.
func ShotsOfScript(script *lang.Source) []catalog.Draft {
	taken := map[string]bool{}
	next := map[string]int{} // of the numbers behind a name that several scenes have
	var shots []catalog.Draft
	for i, scene := range lang.Scenes(script) {
		base := scene.Number
		if base == "" {
			base = fmt.Sprint(i + 1)
		}
		name := base + "A"
		if last := base[len(base)-1]; last < '0' || last > '9' {
			name = base + "-A"
		}
		d := catalog.Draft{Kind: "shot", Name: name, At: scene.Span}
		for taken[d.Name] { // two scenes have the same number
			next[name] = max(2, next[name]+1)
			d.Name = fmt.Sprintf("%s-%d", name, next[name])
		}
		taken[d.Name] = true
		if scene.Number != "" {
			d.Lines = append(d.Lines, catalog.Line{Keyword: "scene", Value: sceneValue(scene.Number), At: scene.Span})
		}
		d.Lines = append(d.Lines, catalog.Line{Keyword: "heading", Value: lang.Quote(scene.Heading), At: scene.Span})
		shots = append(shots, d)
	}
	return shots
}

// PinHeadings gives each shot that names a scene of the script the heading of that scene, unless
// it has one, and warns of scenes that the script lacks.
func PinHeadings(shots []catalog.Draft, script *lang.Source) lang.Diagnostics {
	headings := map[string]string{}
	var numbers []string
	for _, scene := range lang.Scenes(script) {
		if _, twice := headings[scene.Number]; scene.Number != "" && !twice {
			headings[scene.Number] = scene.Heading
			numbers = append(numbers, scene.Number)
		}
	}
	var found lang.Diagnostics
	for i := range shots {
		lines := shots[i].Lines
		at := slices.IndexFunc(lines, func(line catalog.Line) bool { return line.Keyword == "scene" })
		if at < 0 || numbers == nil || slices.ContainsFunc(lines, func(line catalog.Line) bool { return line.Keyword == "heading" }) {
			continue
		}
		number := lines[at].Value
		if bare, ok := lang.Unquote(number); ok {
			number = bare
		}
		if heading, ok := headings[number]; ok {
			shots[i].Lines = append(slices.Clone(lines), catalog.Line{Keyword: "heading", Value: lang.Quote(heading), At: lines[at].At})
			continue
		}
		found.Add(noScene(number, numbers, lines[at].At, lang.Warning))
	}
	return found
}

// sceneValue writes the number of a scene, in quotes if it would be read as anything but a name.
func sceneValue(number string) string {
	src, _ := lang.NewSource("", []byte("scene "+number))
	if file, ds := lang.Parse(src); ds == nil && len(file.Statements) == 1 {
		var s struct {
			Scene sceneName `lang:"scene"`
		}
		if lang.Decode(file, &s) == nil && s.Scene.Value == number {
			return number
		}
	}
	return lang.Quote(number)
}

// Compose writes the scenario as tidy text, gives the origin of each of its lines, and how many
// of them are examples.
func (d Draft) Compose() (text string, origins []lang.Span, examples int) {
	shots := slices.Clone(d.Shots)
	if len(shots) == 0 {
		shots = []catalog.Draft{{Kind: "shot", Name: "1A", Title: Example + ": the first shot"}}
	}
	lacking := map[string]int{}
	for i := range shots {
		examples += complete(&shots[i], lacking)
	}
	comment := func(format string, args ...any) lang.Line { return lang.Line{Comment: fmt.Sprintf(format, args...)} }
	var lines []lang.Line
	for _, about := range d.About {
		lines = append(lines, comment("%s", about))
	}
	if examples > 0 {
		lines = append(lines, lang.Line{}, comment("%s marks what nobody has said yet: rewrite the line, and take the mark off.", Example))
	}
	lines = append(lines, lang.Line{}, comment("Not known yet of some shots, and how to find it out:"))
	for _, ask := range asks {
		if n := lacking[ask.keyword]; n > 0 {
			lines = append(lines, comment("  %s, of %d of %d: %s", ask.keyword, n, len(shots), ask.how))
		}
	}
	lines = append(lines, lang.Line{}, lang.Line{Keyword: "use", Value: lang.Quote(d.Catalogue)}, lang.Line{}, lang.Line{Keyword: "scenario", Value: lang.Quote(d.Name), Block: d.header()})
	for _, shot := range shots {
		lines = append(lines, shot.Statement())
	}
	text, origins = lang.Compose(lines)
	return text, origins, examples
}

// header gives the lines of the scenario block. What has a usual value stands as a comment.
func (d Draft) header() []lang.Line {
	var lines []lang.Line
	if d.Script != "" {
		lines = append(lines, lang.Line{Keyword: "script", Value: lang.Quote(d.Script)})
	}
	return append(lines,
		lang.Line{Keyword: "camera", Value: lang.Quote(d.Camera)},
		lang.Line{Keyword: "rig", Value: lang.Quote(d.Rig)},
		lang.Line{Keyword: "carry", Value: fmt.Sprintf("%d lenses", defaultCarry)},
		lang.Line{Comment: "deliver 2.39:1 is the aspect ratio that is delivered; without the line, that of the sensor"},
		lang.Line{Comment: fmt.Sprintf("rate 25fps is the frame rate; without the line, %dfps", defaultRate)},
		lang.Line{Comment: "accessories 350g is what else is on the rig: monitor, battery, plate; put them on a scale"},
	)
}

// complete gives a shot the lines that it must have, as examples where it lacks them, and
// counts them. The lines come into the order of the language, and comments behind them.
func complete(shot *catalog.Draft, lacking map[string]int) (examples int) {
	keywords := Keywords("shot")
	lines := slices.Clone(shot.Lines)
	for _, ask := range asks {
		if slices.ContainsFunc(lines, func(line catalog.Line) bool { return line.Keyword == ask.keyword }) {
			continue
		}
		lacking[ask.keyword]++
		if ask.example == "" {
			continue
		}
		example := catalog.Line{Keyword: ask.keyword, Value: ask.example, Comment: Example}
		if ask.keyword == "distance" && changes(lines) {
			example.Value = exampleWay
		}
		lines = append(lines, example)
		examples++
	}
	place := func(line catalog.Line) int {
		if at := slices.Index(keywords, line.Keyword); at >= 0 {
			return at
		}
		return len(keywords)
	}
	slices.SortStableFunc(lines, func(a, b catalog.Line) int { return place(a) - place(b) })
	shot.Lines = lines
	return examples
}

// Keywords lists the keywords that a block of a scenario takes, "scenario" or "shot", in the order of
// the language; nil for any other block.
func Keywords(block string) []string {
	types := map[string]reflect.Type{"scenario": reflect.TypeFor[header](), "shot": reflect.TypeFor[shotBlock]()}
	of, ok := types[block]
	if !ok {
		return nil
	}
	keywords, _ := lang.Keywords(of)
	return keywords
}

// exampleWay is the example of a distance for a shot in which the camera cannot stand anywhere.
const exampleWay = "2m..3m"

// changes reports whether a shot goes from one distance to another: by its move, or by its
// framing.
func changes(lines []catalog.Line) bool {
	return slices.ContainsFunc(lines, func(line catalog.Line) bool {
		return line.Keyword == "move" && !strings.HasPrefix(line.Value, moves[0].Word) || line.Keyword == "frame" && strings.Contains(line.Value, "..")
	})
}

// NoScenes is the finding about a script without scene headings.
func NoScenes(span lang.Span, severity lang.Severity) lang.Diagnostic {
	return lang.Diagnostic{
		Severity: severity, Code: lang.MissingField, Span: span, Summary: "the script has no scene headings",
		Detail: "A heading stands between empty lines and begins with INT or EXT, as: INT. CAR DECK - NIGHT #4#",
	}
}
