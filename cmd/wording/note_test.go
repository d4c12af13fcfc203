package wording

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	_ "time/tzdata"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/card"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/floor"
	"glassbrief/engine/rig"
	"glassbrief/lang"
)

const (
	shortSled = "camera \"House body A\"\nrig \"Short sled\""
	usualShot = "subject person 1.78m\nframe full\ndistance 3m..4m\nmove follow 1.2m/s\nlight 320lx\n"
)

// onlyCard gives the card of a scenario of one shot on demo equipment.
func onlyCard(t *testing.T, scenario, shot string) floor.Card {
	t.Helper()
	text := fmt.Sprintf("use demo\nscenario \"Trial\" {\ndeliver 2.39:1\nrate 25fps\n%s\n}\nshot \"1\" {\n%s\n}\n", scenario, shot)
	r := enginetest.Recommend(t, enginetest.Read(t, text, brief.Files{}), engine.Options{})
	return floor.Cards(r)[0]
}

// says reports whether one of the texts holds all of the words.
func says(texts []string, words ...string) bool {
	return slices.ContainsFunc(texts, func(text string) bool {
		return !slices.ContainsFunc(words, func(word string) bool { return !strings.Contains(text, word) })
	})
}

func TestNotesNameARemedy(t *testing.T) {
	for _, c := range []struct {
		name, scenario, shot string
		words                []string // all in one note
	}{
		{
			"a rig too strong for its camera", "camera \"House body C\"\nrig \"Long sled\"\naccessories 300g", usualShot,
			[]string{`"Long sled" is too strong`, "Fix ", "to the stage", `fly "Short sled"`},
		},
		{
			"a rig that is overloaded", shortSled + "\naccessories 2.2kg 60mm x 100mm", usualShot,
			[]string{`"Short sled" is overloaded`, "Take ", ` off, or fly "Long sled"`},
		},
		{
			"light below what any ISO reaches", shortSled, strings.Replace(usualShot, "320lx", "0.1lx", 1),
			[]string{"Too dark by", "even at ISO 12800", "bring the light up to"},
		},
		{
			"no light given", shortSled, strings.Replace(usualShot, "light 320lx\n", "", 1),
			[]string{"meter it on the day"},
		},
		{
			"several places", shortSled, strings.Replace(usualShot, "320lx", "320lx 90lx office", 1),
			[]string{"Of 3 readings the darkest governs, 90lx", "2.2 stops"},
		},
		{
			"light of the sun", shortSled, strings.Replace(usualShot, "320lx", "sun at 52.37N 4.90E on 2027-05-03 18:40 Europe/Amsterdam overcast", 1),
			[]string{"21 deg high", "estimate, good to about one stop"},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			card := onlyCard(t, c.scenario, c.shot)
			if notes := Notes(card.Notes(), lang.Printer{}); !says(notes, c.words...) {
				t.Errorf("got the notes %q, want one with %q", notes, c.words)
			}
		})
	}
}

func TestNotesOnTheRig(t *testing.T) {
	window := brief.DropWindow{Low: 1.5, High: 2}
	for _, c := range []struct {
		note floor.Note
		want []string
	}{
		{floor.Untrimmed{Window: window, Shortest: 1, Longest: 1.2, Ballast: 0.2}, []string{"drops in 1.2 s at the slowest", "1.5 s to 2 s is wanted", "Put 200 g on the stage"}},
		{floor.Untrimmed{Window: window, Shortest: 2.5, Longest: 3}, []string{"drops in 2.5 s at the quickest", "more mass at the base"}},
		{floor.Untrimmed{Window: window, Shortest: 1.2, Longest: 3}, []string{"in 1.2 s or in 3 s, but not in 1.5 s to 2 s"}},
		{floor.Untrimmed{Window: window, Shortest: math.NaN()}, []string{"still top-heavy"}},
		{floor.Untrimmed{Window: window, Shortest: math.NaN(), Inverted: true}, []string{"In low mode it tips over"}},
		{floor.StageTooShort{Wanted: -0.04, Travel: 0.03}, []string{"shift 40 mm and goes 30 mm", "bolt the camera 10 mm farther back"}},
		{floor.StageTooShort{Wanted: 0.04, Travel: 0.03}, []string{"farther forward"}},
	} {
		if got := Notes([]floor.Note{c.note}, lang.Printer{}); !says(got, c.want...) {
			t.Errorf("%+v: got %q, want %q", c.note, got, c.want)
		}
	}
}

// What is left of the light is said with what to bring for the lens and which shutter would
// do, if one would.
func TestNotesOnTooMuchLight(t *testing.T) {
	const matteBox = "matte box" // no hand-held sled takes one
	lens := func(thread string) *catalog.Lens {
		l := &catalog.Lens{}
		l.Name.Value = "Trial 30"
		switch thread {
		case "none":
			l.Thread.None = true
		case "67mm":
			l.Thread.Diameter = lang.NewQuantity(0.067, lang.Length)
		}
		return l
	}
	for _, c := range []struct {
		note    floor.TooBright
		want    []string
		without string
	}{
		{floor.TooBright{Lens: lens("67mm"), Left: 1, Bring: 6, Angle: math.Pi / 2, Time: 1. / 100},
			[]string{"by 1 stop", "no ND filter of the catalogue fits its 67 mm thread", "bring or hire ND of 6 stops, 67 mm", "or narrow the shutter to 90deg (1/100 s)"}, matteBox},
		{floor.TooBright{Lens: lens("67mm"), Left: 3, Bring: 6, On: true}, []string{"take no more", "bring or hire ND of 6 stops"}, "shutter"},
		{floor.TooBright{Lens: lens("none"), Left: 3, Bring: 6}, []string{"takes no screwed filter", "another lens, or a camera with ND of 6 stops built in"}, matteBox},
		{floor.TooBright{Lens: lens(""), Left: 3, Bring: 6}, []string{"thread is not known", "measure its thread"}, matteBox},
	} {
		if got := Notes([]floor.Note{c.note}, lang.Printer{}); !says(got, c.want...) || strings.Contains(got[0], c.without) {
			t.Errorf("got %q, want %q and no %q", got, c.want, c.without)
		}
	}
}

func TestNotesOnTheMove(t *testing.T) {
	lost := func(lane floor.Lane, start, end float64, directed bool, near, far float64, pieces ...floor.Piece) floor.Lost {
		n := floor.Lost{Lane: lane, Way: floor.Way{Start: start, End: end, Directed: directed}, Stretch: floor.Stretch{Near: near, Far: far}}
		n.Lanes[lane] = pieces
		return n
	}
	fails := func(from, to float64, near bool) floor.Piece {
		return floor.Piece{Hold: floor.Fails, From: from, To: to, Near: near}
	}
	holds := func(from, to float64) floor.Piece { return floor.Piece{From: from, To: to} }
	for _, c := range []struct {
		note floor.Note
		want string
	}{
		{lost(floor.FramingLane, 2, 1, true, 1.25, 9, holds(2, 1.25), fails(1.25, 1, true)), "Framing tight over the last 25 cm of 1.00 m."},
		{lost(floor.FramingLane, 2, 1, true, 0.5, 1.75, fails(2, 1.75, false), holds(1.75, 1)), "Framing loose over the first 25 cm of 1.00 m."},
		{lost(floor.FocusLane, 1, 2, true, 1.25, 9, fails(1, 1.25, true), holds(1.25, 2)), "Focus soft over the first 25 cm of 1.00 m."},
		{lost(floor.FocusLane, 2, 1, false, 1.25, 1.75, fails(2, 1.75, false), holds(1.75, 1.25), fails(1.25, 1, true)), "Focus soft beyond 1.75 m, soft nearer than 1.25 m."},
		{lost(floor.FramingLane, 2, 1, true, 3, 4, fails(2, 1, true)), "Framing tight."},
		{lost(floor.FramingLane, 2, 2, false, 3, 4, fails(2, 2, true)), "Framing tight at 2.00 m: it would hold from 3.00 m."},
		{lost(floor.FramingLane, 2, 2, false, 1, 1.5, fails(2, 2, false)), "Framing loose at 2.00 m: it would hold up to 1.50 m."},
		{lost(floor.FramingLane, 2.8, 0.7, true, 0.6, 2.8, holds(2.8, 0.7), fails(0.7, 0.7, false)), "Framing loose at the end."},
		{floor.PullerHelps{Stop: 13, ISO: 5000}, "One mark for the whole move takes f/13 and ISO 5000: with somebody on focus the iris could open and the ISO come down."},
	} {
		if got := note(c.note, lang.Printer{}); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

// What a tape shows as one distance is no interval.
func TestSharpOverNothing(t *testing.T) {
	for _, c := range []struct {
		near, far float64
		want      string
	}{
		{0.65, 0.76, "sharp from 0.65 m to 0.76 m"},
		{0.2896, 0.2904, "sharp over 0.8 mm at 0.29 m"},
		{2, math.Inf(1), "sharp from 2.00 m to infinity"},
		{math.NaN(), math.NaN(), "how deep it is sharp is not known"},
	} {
		if got := sharp(c.near, c.far, lang.Printer{}); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

// A note type without a sentence would only panic when a shot has it.
func TestEveryNoteHasWords(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "../../engine/floor/note.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	words, err := os.ReadFile("note.go")
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	ast.Inspect(file, func(node ast.Node) bool {
		if spec, ok := node.(*ast.TypeSpec); ok && ast.IsExported(spec.Name.Name) && spec.Name.Name != "Note" {
			found++
			if !strings.Contains(string(words), "case floor."+spec.Name.Name+":") {
				t.Errorf("no words for floor.%s", spec.Name.Name)
			}
		}
		return true
	})
	if found < 10 {
		t.Errorf("got %d types of notes, want at least 10", found)
	}
}

func TestEveryLineHasAName(t *testing.T) {
	for line := card.Line(0); line < card.Lines; line++ {
		if lines[line].name == "" {
			t.Errorf("line %d has no name", line)
		}
	}
}

func TestEveryUnknownHasWords(t *testing.T) {
	for unknown := rig.Unknown(0); unknown < rig.Unknowns; unknown++ {
		what, how := Lack(rig.Lack{Unknown: unknown, Of: "Barn sled"})
		if what == "" || strings.Contains(what, "ITEM") || !strings.HasSuffix(how, "\".") {
			t.Errorf("unknown %d: got %q, %q", unknown, what, how)
		}
	}
}
