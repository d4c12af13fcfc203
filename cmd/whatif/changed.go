package whatif

import (
	_ "embed"
	"html/template"
	"io"
	"strings"
	"sync"

	"glassbrief/engine/whatif"
)

//go:embed page/parts.html
var partsText string

var parts = sync.OnceValue(func() *template.Template { return template.Must(template.New("parts").Parse(partsText)) })

// A changedLine is a control that is moved, with its text before and now.
type changedLine struct{ Shot, Label, Was, Now string }

// writeChanged lists what a state moves, for a screen and for paper.
func writeChanged(to io.Writer, p *whatif.Plan, state whatif.State) error {
	var all []changedLine
	for _, one := range state {
		c := one.Control()
		line := changedLine{Label: c.Label, Now: one.Text}
		if c.Shot > 0 {
			line.Shot = p.Scenario.Shots[c.Shot-1].ID
		}
		var was []string
		for _, v := range c.Saved {
			was = append(was, v.Spoken)
		}
		line.Was = strings.Join(was, " to ")
		all = append(all, line)
	}
	return parts().ExecuteTemplate(to, "changed", all)
}
