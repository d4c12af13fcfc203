package lang

import (
	"math"
	"slices"
	"strings"
	"sync"
	"unicode"
)

// A Scene is one scene heading of a screenplay.
type Scene struct {
	Number  string // as written between number signs, "" when the script gives none
	Heading string // without the number, notes and the period that forces a heading
	Inside  bool   // INT: the scene plays inside
	Outside bool   // EXT: the scene plays outside; both for INT./EXT.
	Time    string // the last part of the heading in lower case, as "night"; "" without one
	Span    Span   // the heading with its number
}

// Scenes reads the scene headings of a screenplay in Fountain, in order. A heading is a
// line between blank lines that begins with INT, EXT, EST, INT./EXT, INT/EXT or I/E and a
// period or a space, in any letter case, or with one period that forces it; what stands
// in /* omitted text */ and in [[notes]] of one line does not count (Fountain syntax
// 1.1). It reads any text: one without headings has no scenes.
func Scenes(src *Source) []Scene { return scenes(src, math.MaxInt) }

// scenes reads no more than so many.
func scenes(src *Source, most int) []Scene {
	var scenes []Scene
	visible := blankOut(src.Text, "/*", "*/")
	above := ""
	for at := 0; at < len(visible) && len(scenes) < most; {
		line, rest, _ := strings.Cut(visible[at:], "\n")
		below, _, _ := strings.Cut(rest, "\n")
		text := blankOut(line, "[[", "]]")
		if isBlank(above) && isBlank(blankOut(below, "[[", "]]")) {
			if scene, ok := readHeading(text); ok {
				start := at + strings.Index(text, strings.TrimSpace(text))
				scene.Span = Span{Source: src, Start: start, End: start + len(strings.TrimSpace(text))}
				scenes = append(scenes, scene)
			}
		}
		above = text
		at += len(line) + 1
	}
	return scenes
}

// blankOut puts spaces in the place of what stands between two marks, so that offsets
// and lines stay. A mark that is never closed is text.
func blankOut(text, open, end string) string {
	if !strings.Contains(text, open) {
		return text
	}
	var b strings.Builder
	for {
		start := strings.Index(text, open)
		if start < 0 {
			break
		}
		n := strings.Index(text[start+len(open):], end)
		if n < 0 {
			break
		}
		stop := start + len(open) + n + len(end)
		b.WriteString(text[:start])
		for _, c := range []byte(text[start:stop]) {
			if c != '\n' {
				c = ' '
			}
			b.WriteByte(c)
		}
		text = text[stop:]
	}
	b.WriteString(text)
	return b.String()
}

func isBlank(line string) bool { return strings.TrimSpace(line) == "" }

// SceneOf reads the heading of a scene that stands by itself, as a shot pins it.
func SceneOf(heading string) (Scene, bool) { return readHeading(heading) }

// An Hour is the light that a heading lets expect.
type Hour uint8

const (
	AnyHour Hour = iota // the heading does not say
	ByDay
	AtNight
	BetweenDayAndNight
)

// The words of a heading that tell the time of day.
var (
	nightWords = []string{"night", "midnight"}
	dayWords   = []string{"day", "morning", "noon", "midday", "afternoon"}
	edgeWords  = []string{"dawn", "dusk", "sunrise", "sunset", "twilight"}
)

// Hour tells it from the words of the heading's last part.
func (s *Scene) Hour() Hour {
	at := func(words []string) bool {
		return slices.ContainsFunc(strings.Fields(s.Time), func(word string) bool { return slices.Contains(words, word) })
	}
	switch {
	case at(edgeWords):
		return BetweenDayAndNight
	case at(nightWords):
		return AtNight
	case at(dayWords):
		return ByDay
	}
	return AnyHour
}

// readHeading reads a line as a scene heading.
func readHeading(line string) (Scene, bool) {
	text := strings.TrimSpace(line)
	var scene Scene
	if forced, ok := strings.CutPrefix(text, "."); ok {
		if forced == "" || forced[0] == '.' {
			return Scene{}, false // an ellipsis
		}
		text = strings.TrimSpace(forced)
		scene.Inside, scene.Outside, _ = setting(text)
	} else if scene.Inside, scene.Outside, ok = setting(text); !ok {
		return Scene{}, false
	}
	text, scene.Number = cutNumber(text)
	scene.Heading = strings.Join(strings.Fields(text), " ")
	scene.Time = timeOfDay(scene.Heading)
	return scene, true
}

// settings are the openings of a heading, longer ones before their beginnings.
var settings = []struct {
	opening         string
	inside, outside bool
}{
	{"INT./EXT", true, true}, {"INT/EXT", true, true}, {"I/E", true, true},
	{"INT", true, false}, {"EXT", false, true}, {"EST", false, true},
}

func setting(heading string) (inside, outside, ok bool) {
	for _, s := range settings {
		if n := len(s.opening); len(heading) > n && strings.EqualFold(heading[:n], s.opening) && (heading[n] == '.' || heading[n] == ' ') {
			return s.inside, s.outside, true
		}
	}
	return false, false, false
}

// cutNumber takes the scene number, as "#12A#", off the end of a heading. A number holds
// letters, digits, dashes, periods and closing brackets.
func cutNumber(heading string) (rest, number string) {
	inner, ok := strings.CutSuffix(heading, "#")
	start := strings.LastIndexByte(inner, '#')
	if !ok || start < 0 {
		return heading, ""
	}
	number = inner[start+1:]
	odd := func(c rune) bool {
		return !unicode.IsLetter(c) && !unicode.IsDigit(c) && !strings.ContainsRune("-.)", c)
	}
	if number == "" || strings.ContainsFunc(number, odd) {
		return heading, ""
	}
	return inner[:start], number
}

// timeOfDay gives what stands behind the last dash of a heading.
func timeOfDay(heading string) string {
	plain := plainHeading(heading)
	if at := strings.LastIndex(plain, " - "); at >= 0 {
		return plain[at+len(" - "):]
	}
	return ""
}

// plainHeading gives a heading without the differences that mean nothing: letter case,
// the number of blanks, and the kind and number of dashes.
func plainHeading(heading string) string {
	return strings.ToLower(strings.Join(strings.Fields(dashes().Replace(heading)), " "))
}

var dashes = sync.OnceValue(func() *strings.Replacer { return strings.NewReplacer("–", "-", "—", "-", "--", "-") })

// SameHeading reports whether two scene headings are the same but for letter case, blanks
// and the kind of dash.
func SameHeading(a, b string) bool { return plainHeading(a) == plainHeading(b) }
