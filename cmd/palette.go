package cmd

import (
	"io"
	"os"

	"glassbrief/lang"

	"github.com/fatih/color"
	"golang.org/x/term"
)

// A tone is what a piece of text means, of which colour is one sign: the words say it
// too, for whoever sees no colour.
type tone uint8

const (
	toneNone tone = iota
	toneStrong
	toneFaint
	toneGood
	toneWarn
	toneBad
	tonePlace
)

// toneColours lists the look of each tone.
var toneColours = map[tone][]color.Attribute{
	toneStrong: {color.Bold},
	toneFaint:  {color.Faint},
	toneGood:   {color.FgGreen},
	toneWarn:   {color.FgYellow},
	toneBad:    {color.FgRed, color.Bold},
	tonePlace:  {color.FgCyan},
}

// roleTones lists the tone of each role in a report of diagnostics.
var roleTones = map[lang.Role]tone{
	lang.ErrorRole: toneBad, lang.WarningRole: toneWarn, lang.PlaceRole: tonePlace,
	lang.CaretRole: toneBad, lang.MarginRole: toneFaint,
}

// A palette paints text for one stream: standard output and standard error may differ.
type palette struct{ colours map[tone]*color.Color }

// palette gives the palette of a stream: by --color or its setting when that decides,
// then by the environment, then by whether the stream is a terminal.
func (a *app) palette(stream io.Writer) *palette {
	mode := a.color.value
	if a.settings != nil {
		mode = a.settings.Color
	}
	return newPalette(wantsColour(mode, os.Getenv, isTerminal(stream)))
}

// wantsColour decides as no-color.org and the CLICOLOR convention say: an explicit
// choice of the user, NO_COLOR, CLICOLOR_FORCE, CLICOLOR, and last the terminal.
func wantsColour(mode string, getenv func(string) string, terminal bool) bool {
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

func newPalette(enabled bool) *palette {
	p := &palette{map[tone]*color.Color{}}
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

func (p *palette) paint(t tone, text string) string {
	if c := p.colours[t]; c != nil && text != "" {
		return c.Sprint(text)
	}
	return text
}

// role paints a piece of a report of diagnostics.
func (p *palette) role(role lang.Role, text string) string { return p.paint(roleTones[role], text) }

func isTerminal(stream any) bool {
	file, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(file.Fd()))
}
