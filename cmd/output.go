package cmd

import (
	"bytes"
	"encoding/json"
	"io"
	"iter"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// A view is what a verb has to say, in every form in which it can be said. A form that
// is nil is one that the verb does not have.
type view struct {
	data any                            // the object of JSON; a struct that begins with a header
	rows iter.Seq[any]                  // the rows of CSV: flat structs of one type
	page func(p lang.Printer) show.Page // text and Markdown, in the user's system of units
	html func(w io.Writer) error        // a file to look at

	list    func(w io.Writer) error // a Framing Decision List
	drawing func(w io.Writer) error // an SVG

	calendar func(w io.Writer) error // an iCalendar
}

// formOfEnding gives the form that the end of a file's name stands for, or "".
func formOfEnding(name string) string {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".txt":
		return "text"
	case ".json":
		return "json"
	case ".md", ".markdown":
		return "markdown"
	case ".csv":
		return "csv"
	case ".html", ".htm":
		return "html"
	case ".fdl":
		return "fdl"
	case ".svg":
		return "svg"
	case ".ics":
		return "ics"
	}
	return ""
}

// takeForm takes the form that --as asks for from arguments of which a flag before it is at fault, so that a
// program that asks for JSON gets the complaint in JSON.
func (a *app) takeForm() {
	for i, arg := range a.args {
		word, ok := strings.CutPrefix(arg, "--as=")
		if arg == "--as" && i+1 < len(a.args) {
			word, ok = a.args[i+1], true
		}
		if ok {
			_ = a.form.Set(word) // another word is no form, and the flag at fault is said first
		}
	}
}

// settleForm takes the form of the result from the name of the file that -o names, unless --as
// gives one; two that differ are a fault.
func (a *app) settleForm(c *cobra.Command) error {
	form := formOfEnding(a.output)
	if form == "" {
		return nil
	}
	if asked := c.Flags().Lookup("as"); asked.Changed && a.form.value != form {
		return usage(lang.Contradiction, "%q is the name of a file of form %q, and \"--as\" asks for %q", a.output, form, a.form.value).
			because("Leave --as out, or give the file a name with another ending.")
	}
	a.form.value = form
	return nil
}

// noForm is the complaint about a form that a verb does not have.
func (a *app) noForm() error {
	return usage(lang.NotAllowed, "this verb has no form %q", a.form.value).because("Choose another with --as, or another ending of the file that -o names.")
}

// writeText writes a result that is text in every case, as a catalogue or a script: it has no other form.
func (a *app) writeText(fill func(io.Writer) error) error {
	if err := a.spareInput(); err != nil {
		return err
	}
	if a.form.value != "text" {
		return a.noForm()
	}
	return a.write(fill)
}

// show writes a view to the output in the form that --as asks for. The settings must
// have been loaded.
func (a *app) show(v view) error {
	var b bytes.Buffer
	var err error
	object, isObject := v.data.(travel.Object)
	switch form := a.form.value; {
	case form == "json" && isObject:
		return a.write(func(w io.Writer) error { return travel.WriteJSON(w, object) })
	case form == "csv" && v.rows != nil:
		return a.write(func(w io.Writer) error { return travel.WriteCSV(w, v.rows) })
	case form == "json" && v.data != nil:
		encoder := json.NewEncoder(&b)
		encoder.SetEscapeHTML(false)
		encoder.SetIndent("", "  ")
		err = encoder.Encode(v.data)
	case form == "text" && v.page != nil:
		out, colours := a.outputStream()
		p := v.page(a.printer())
		err = p.Text(&b, colours, a.textWidth(out))
	case form == "markdown" && v.page != nil:
		p := v.page(a.printer())
		err = p.Markdown(&b)
	case form == "html" && v.html != nil:
		err = v.html(&b)
	case form == "fdl" && v.list != nil:
		err = v.list(&b)
	case form == "svg" && v.drawing != nil:
		err = v.drawing(&b)
	case form == "ics" && v.calendar != nil:
		err = v.calendar(&b)
	default:
		return a.noForm()
	}
	if err != nil {
		return err
	}
	out := b.Bytes()
	switch a.form.value { // what is written while it is made is clean, and so are text and Markdown
	case "json", "fdl":
		out = travel.CleanJSON(out)
	case "html", "svg":
		out = cleanMarkup(out)
	}
	return a.write(func(w io.Writer) error {
		_, err := w.Write(out)
		return err
	})
}

// cleanMarkup replaces the control characters of a page that would steer a terminal on which it is
// shown. What turns the writing is isolated by the page.
func cleanMarkup(page []byte) []byte {
	return bytes.Map(func(c rune) rune {
		if unicode.IsControl(c) && c != '\n' && c != '\t' {
			return unicode.ReplacementChar
		}
		return c
	}, page)
}

// outputStream gives the stream that the result goes to, and its palette: a file that
// -o names is no terminal.
func (a *app) outputStream() (io.Writer, *show.Palette) {
	if a.output == "" || a.output == "-" {
		return a.stdout, a.palette(a.stdout)
	}
	return io.Discard, a.palette(io.Discard)
}

// printer writes quantities in the system of units of the settings.
func (a *app) printer() lang.Printer {
	if a.settings.Units == "imperial" {
		return lang.Printer{System: lang.Imperial}
	}
	return lang.Printer{}
}

// palette gives the palette of a stream: by --color or its setting when that decides,
// then by the environment, then by whether the stream is a terminal.
func (a *app) palette(stream io.Writer) *show.Palette {
	mode := a.color.value
	if a.settings != nil {
		mode = a.settings.Color
	}
	return show.NewPalette(show.WantsColour(mode, os.Getenv, show.IsTerminal(stream)))
}

// textWidth gives the cells that text may take on a stream.
func (a *app) textWidth(stream io.Writer) int {
	if a.settings != nil && a.settings.Width > 0 {
		return a.settings.Width
	}
	return show.WidthOf(stream)
}
