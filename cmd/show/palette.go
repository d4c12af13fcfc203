package show

import (
	"os"

	"glassbrief/lang"

	"github.com/fatih/color"
	"golang.org/x/term"
)

// A Tone is what a piece of text means, of which colour is one sign: the words say it
// too, for whoever sees no colour.
type Tone uint8

const (
	NoTone Tone = iota
	Strong
	Faint
	Good
	Warn
	Bad
	PlaceTone
)

// toneColours lists the look of each tone.
var toneColours = map[Tone][]color.Attribute{
	Strong:    {color.Bold},
	Faint:     {color.Faint},
	Good:      {color.FgGreen},
	Warn:      {color.FgYellow},
	Bad:       {color.FgRed, color.Bold},
	PlaceTone: {color.FgCyan},
}

// String names the tone for a style sheet; "" for one that none needs.
func (t Tone) String() string {
	return [...]string{Strong: "strong", Good: "good", Warn: "warn", Bad: "bad", PlaceTone: ""}[t]
}

// roleTones lists the tone of each role in a report of diagnostics.
var roleTones = map[lang.Role]Tone{
	lang.ErrorRole: Bad, lang.WarningRole: Warn, lang.PlaceRole: PlaceTone,
	lang.CaretRole: Bad, lang.MarginRole: Faint,
}

// A Palette paints text for one stream: standard output and standard error may differ.
type Palette struct{ colours map[Tone]*color.Color }

// WantsColour decides as no-color.org and the CLICOLOR convention say: an explicit
// choice of the user, NO_COLOR, CLICOLOR_FORCE, CLICOLOR, and last the terminal.
func WantsColour(mode string, getenv func(string) string, terminal bool) bool {
	force := getenv("CLICOLOR_FORCE")
	switch {
	case mode == "always":
		return true
	case mode == "never", getenv("NO_COLOR") != "":
		return false
	case force != "" && force != "0":
		return true
	case getenv("CLICOLOR") == "0", getenv("TERM") == "dumb":
		return false
	}
	return terminal
}

// NewPalette gives a palette that paints if it is enabled, and else leaves text as it is.
func NewPalette(enabled bool) *Palette {
	p := &Palette{map[Tone]*color.Color{}}
	for t, attributes := range toneColours {
		c := color.New(attributes...)
		if enabled {
			c.EnableColor()
		} else {
			c.DisableColor()
		}
		p.colours[t] = c
	}
	return p
}

func (p *Palette) paint(t Tone, text string) string {
	if c := p.colours[t]; c != nil && text != "" {
		return c.Sprint(text)
	}
	return text
}

// Role paints a piece of a report of diagnostics.
func (p *Palette) Role(role lang.Role, text string) string { return p.paint(roleTones[role], text) }

// IsTerminal reports whether a stream is a file that somebody sees or types into.
func IsTerminal(stream any) bool {
	file, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(file.Fd()))
}
